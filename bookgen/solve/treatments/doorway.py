"""A door's choices and the wall it stands in, in; its rough opening checked, its jamb and leaves as parts, out.

The wall is a plane of the run's frame: `along` it, `across` it from face to face of its studs.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Literal

from bookgen.model.assembly import Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, Point, box
from bookgen.model.problem import Problem
from bookgen.model.records.treatments import Door
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.level import near
from bookgen.solve.site import Site, height_above_slab
from bookgen.solve.studwork import FramedOpening, Header, StudWall, overlap
from bookgen.solve.treatments.assembled import ends, middle, path_to

JAMB = Fraction(3, 4)  # thickness of a jamb; common practice
UNDER_LEAF = Fraction(1, 2)  # leaf over the finished floor; common practice is 1/2 to 3/4
OVER_LEAF = Fraction(1, 8)  # leaf under the head of its jamb; common practice
SHIMS = Fraction(2)  # a rough opening is at most so much larger than jamb and leaf; common practice is 1/2 to 1
LEAF = Fraction(11, 8)  # thickness of an interior leaf; common practice
LOW_SIDES = frozenset({"west", "south"})


@dataclass(frozen=True, slots=True)
class Doorway:
    """A door in a wall: the opening it is framed in, its leaves along, the face it swings out of, its hinge sides."""

    opening: FramedOpening
    leaves: tuple[Stretch, ...]
    hinges: tuple[Literal["low", "high"], ...]
    foot: Fraction
    top: Fraction
    swings: int  # +1 or -1: the way across the wall that the leaves swing
    across: Stretch  # finished faces of the wall

    def clear(self) -> Stretch:
        """Return what is free between leaves that stand open at a right angle; they swing on the inside of the jamb."""
        low = self.leaves[0][0] + (LEAF if self.hinges[0] == "low" else 0)
        high = self.leaves[-1][1] - (LEAF if self.hinges[-1] == "high" else 0)
        return low, high


def doorway(site: Site, door: Door, wall: StudWall, swings: int, field: str = "door") -> Doorway | tuple[Problem, ...]:
    """Return the door worked out in its wall, or what makes it impossible.

    *swings* is the way across the wall, +1 or -1, that the leaves swing. Problems: `unknown-stock`,
    `leaves-not-one-or-two`, `hinge-side-wrong`, `door-wider-than-opening`, `door-taller-than-opening`,
    `door-smaller-than-opening`, `opening-past-wall`, `header-above-plate`, `header-thicker-than-wall`.
    """
    size = true_size(door.header)
    if size is None:
        path, rule = path_to(site, field, "header"), "no lumber of that size is sold"
        return (site.problem("unknown-stock", path, door.header, rule, near(door.header)),)
    header = Header(door.header, 2, door.header_laid == "flat")
    head = height_above_slab(door.head, site.level)
    opening = FramedOpening("door", ends(door.rough_opening), (wall.up[0], head), header)
    problems = (
        *_leaf_problems(site, door, opening, field),
        *_opening_problems(site, door, wall, opening, field),
    )
    if problems:
        return problems
    wide, centre = door.leaf.wide.inches, middle(opening.along)
    start = centre - door.leaves * wide / 2
    leaves = tuple((start + index * wide, start + (index + 1) * wide) for index in range(door.leaves))
    foot = site.level.floor + UNDER_LEAF
    faces = wall.across[0] - site.level.wall_board, wall.across[1] + site.level.wall_board
    return Doorway(opening, leaves, _hinges(door), foot, foot + door.leaf.high.inches, swings, faces)


def _hinges(door: Door) -> tuple[Literal["low", "high"], ...]:
    if door.leaves == 2:
        return "low", "high"
    return ("low",) if door.hinges in LOW_SIDES else ("high",)


def _leaf_problems(site: Site, door: Door, opening: FramedOpening, field: str) -> Iterator[Problem]:
    if door.leaves not in {1, 2}:
        yield site.problem(
            "leaves-not-one-or-two", path_to(site, field, "leaves"), str(door.leaves), "a door has one leaf or two",
            "write 1 or 2",
        )  # fmt: skip
    allowed = {"west", "east"} if site.frame.along == "x" else {"south", "north"}
    if (door.hinges == "both sides") != (door.leaves == 2) or (door.leaves == 1 and door.hinges not in allowed):
        words = "both sides" if door.leaves == 2 else " or ".join(sorted(allowed))
        rule = "the hinges are on a side of the opening, and a pair has them on both"
        yield site.problem("hinge-side-wrong", path_to(site, field, "hinges"), door.hinges, rule, f"write {words}")
    yield from _leaf_fits(site, door, opening, field)


def _leaf_fits(site: Site, door: Door, opening: FramedOpening, field: str) -> Iterator[Problem]:
    room = opening.along[1] - opening.along[0] - 2 * JAMB
    if door.leaves * door.leaf.wide.inches > room:
        yield site.problem(
            "door-wider-than-opening", path_to(site, field, "leaf"), site.tape.short(door.leaf.wide),
            f"the rough opening leaves {site.tape.short(room)} between its jambs",
            "write a wider rough opening, or a narrower leaf",
        )  # fmt: skip
    elif door.leaves in {1, 2} and room - door.leaves * door.leaf.wide.inches > SHIMS:
        yield site.problem(
            "door-smaller-than-opening", path_to(site, field, "leaf"), site.tape.short(door.leaf.wide),
            f"the rough opening leaves {site.tape.short(room)} between its jambs, and shims fill "
            f"{site.tape.short(SHIMS)} at most",
            "write a narrower rough opening, or a wider leaf",
        )  # fmt: skip
    needed = site.level.floor + UNDER_LEAF + door.leaf.high.inches + OVER_LEAF + JAMB
    if needed > opening.up[1]:
        yield site.problem(
            "door-taller-than-opening", path_to(site, field, "leaf"), site.tape.short(door.leaf.high),
            f"with floor, gaps and jamb it needs {site.tape.short(needed)} above the slab, the head is at "
            f"{site.tape.short(opening.up[1])}",
            "write a higher head, or a lower leaf",
        )  # fmt: skip


def _opening_problems(site: Site, door: Door, wall: StudWall, opening: FramedOpening, field: str) -> Iterator[Problem]:
    low, high = opening.along
    beside = 2 * wall.thickness()
    if low - beside < wall.run[0] or high + beside > wall.run[1]:
        words = " to ".join(site.tape.short(end) for end in (low, high))
        wall_words = " to ".join(site.tape.short(end) for end in wall.run)
        yield site.problem(
            "opening-past-wall", path_to(site, field, "rough opening"), words,
            f"two studs stand at each side of it, and its wall goes from {wall_words}",
            "look for a slip in the opening or in the wall",
        )  # fmt: skip
    top = opening.up[1] + opening.header.depth()
    if top > wall.inner()[1]:
        yield site.problem(
            "header-above-plate", path_to(site, field, "head"), site.tape.short(opening.up[1]),
            f"its header would end at {site.tape.short(top)}, the top plate starts at "
            f"{site.tape.short(wall.inner()[1])}",
            "write a lower head, or a header laid flat",
        )  # fmt: skip
    if opening.header.through() > wall.across[1] - wall.across[0]:
        yield site.problem(
            "header-thicker-than-wall", path_to(site, field, "header"), door.header,
            f"the wall is {site.tape.short(wall.across[1] - wall.across[0])} thick",
            "write a header that fits in it",
        )  # fmt: skip


def door_parts(way: Doorway, along: Axis) -> tuple[Part, ...]:
    """Return the jamb and the leaves, shut, in a wall whose plates run on *along*."""
    across: Axis = "y" if along == "x" else "x"
    (low, high), head = (way.leaves[0][0], way.leaves[-1][1]), way.top + OVER_LEAF
    at = (way.across[1] - LEAF, way.across[1]) if way.swings > 0 else (way.across[0], way.across[0] + LEAF)
    pieces: list[tuple[str, str, Stretch, Stretch, Stretch, Axis]] = [
        ("low side jamb", "jamb", (low - JAMB, low), way.across, (Fraction(0), head), "z"),
        ("high side jamb", "jamb", (high, high + JAMB), way.across, (Fraction(0), head), "z"),
        ("head jamb", "jamb", (low - JAMB, high + JAMB), way.across, (head, head + JAMB), along),
    ]
    for number, leaf in enumerate(way.leaves, 1):
        name = "door leaf" if len(way.leaves) == 1 else f"door leaf {number}"
        pieces.append((name, "door", leaf, at, (way.foot, way.top), "z"))
    parts = []
    for name, role, u, v, z, grain in pieces:
        spans: dict[Axis, Stretch] = {along: u, across: v, "z": z}
        parts.append(Part(name, role, box(spans["x"], spans["y"], spans["z"], grain), Material.FINISH, ""))
    return tuple(parts)


def door_anchors(way: Doorway, along: Axis) -> dict[str, Point]:
    """Return the opening's edges, what is clear between open leaves, and each leaf's hinge, shut and open edge."""
    face = way.across[1] if way.swings > 0 else way.across[0]
    level = (way.foot + way.top) / 2

    def point(u: Fraction, v: Fraction, z: Fraction = level) -> Point:
        return Point(u, v, z) if along == "x" else Point(v, u, z)

    clear = way.clear()
    found = {
        "low side of the rough opening": point(way.opening.along[0], face),
        "high side of the rough opening": point(way.opening.along[1], face),
        "foot of the rough opening": point(middle(way.opening.along), face, way.opening.up[0]),
        "head of the rough opening": point(middle(way.opening.along), face, way.opening.up[1]),
        "low edge of the clear opening": point(clear[0], face),
        "high edge of the clear opening": point(clear[1], face),
        "foot of the door": point(middle(way.opening.along), face, way.foot),
        "top of the door": point(middle(way.opening.along), face, way.top),
    }
    for number, (leaf, side) in enumerate(zip(way.leaves, way.hinges, strict=True), 1):
        name = "door" if len(way.leaves) == 1 else f"door {number}"
        hinge, edge = leaf if side == "low" else leaf[::-1]
        found[f"{name} hinge"] = point(hinge, face)
        found[f"{name} edge, shut"] = point(edge, face)
        found[f"{name} edge, open"] = point(hinge, face + way.swings * abs(edge - hinge))
    return found


def given_way(site: Site, wall: StudWall, layer: Stretch) -> Iterator[Rectangle]:
    """Yield what a treatment gives way to in a layer of one of its walls, in the plane of that wall."""
    for taken in site.taken:
        box = taken.room.finished
        if overlap((box.low.on(wall.off()), box.high.on(wall.off())), layer):
            yield Rectangle((box.low.on(wall.along), box.high.on(wall.along)), (box.low.z, box.high.z))


def crossed(site: Site, way: Doorway, wall: StudWall) -> Iterator[Problem]:
    """Yield a `doorway-crossed` Problem where what a wall stands under comes down into its door or the header."""
    opening = way.opening
    room = Rectangle(opening.along, (opening.up[0], opening.up[1] + opening.header.depth()))
    for taken in site.taken:
        low = taken.room.finished.low.z
        if any(patch.meets(room) and patch.v[0] == low for patch in given_way(site, wall, wall.across)):
            header = site.tape.short(opening.header.depth())
            rule = (
                f"{taken.what} comes down to {site.tape.long(low)} above the slab, and a header of {header} lies "
                "over the door"
            )
            repair = "write a lower head, or end it before the doorway"
            value = site.tape.long(opening.up[1])
            yield site.problem("doorway-crossed", path_to(site, "door", "head"), value, rule, repair)

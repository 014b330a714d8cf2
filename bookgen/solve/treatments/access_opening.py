"""An opening's choices and its site in; trimmers and blocking round it, its cover and its sizes out.

In a wall the opening stands in the studs of the lining or of a partition, which give way to it. In a ceiling it lies
between the joists, or flat beside the strips under them. In a face of a soffit or a chase that frames it.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import Face, HiddenThing, Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import AXES, Axis, Point, box
from bookgen.model.length import Length
from bookgen.model.problem import Problem
from bookgen.model.records.treatments import AccessOpening
from bookgen.model.records.values import Height, Span
from bookgen.solve.board import rectangle
from bookgen.solve.compass import looks
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch, stick, true_size
from bookgen.solve.positions import Ground, locate
from bookgen.solve.site import Site, Worked, height_above_slab
from bookgen.solve.soffit_words import clash_problems, sizes
from bookgen.solve.studwork import overlap
from bookgen.solve.treatments.assembled import Work, assembled, ends, middle, path_to
from bookgen.solve.treatments.ceiling_opening import in_ceiling
from bookgen.solve.treatments.cover_in_face import cover_parts
from bookgen.solve.treatments.hosted_opening import in_host
from bookgen.solve.treatments.opening_size import NAME, SIZES, cover_of, opening_stretches, size_remarks
from bookgen.solve.walls_met import stud_face

BLOCK = "2x4"  # blocking through a wall, and the flat frame of an opening in a ceiling; common practice
THIN_BLOCK = "2x2"  # where something passes behind, flush with the front of the studs
CLOSED = frozenset({"closet", "post wrap"})  # no opening is framed in the faces of these; who asks for one is told so
OVERHEAD = Fraction(6)  # inches under the joists: a flat place so near them is in the ceiling
NEAR = Fraction(1)  # inches by which the place may miss the face of the wall it stands in


@dataclass(frozen=True, slots=True)
class _Wall:
    """An opening in a wall: its stretch along and up, the studs' faces, the cover's side, the wall's run and doors."""

    along: Stretch
    up: Stretch
    across: Stretch
    stud: str
    toward: int
    run: Stretch
    doors: tuple[Rectangle, ...]

    def face(self, board: Fraction) -> Fraction:
        """Return the finished face that the cover is in."""
        return self.across[1] + board if self.toward > 0 else self.across[0] - board


def solve(site: Site, choices: AccessOpening) -> Worked:
    """Return the framed opening and its cover, or the Problems that stand in its way.

    They are `unknown-passing`, `opening-unsized`, `opening-size-disagrees`, `opening-past-plates`, `opening-past-wall`,
    `openings-meet`, `opening-cuts-joist`, `no-wall-there`, `part-meets-obstacle`, `section-outside` and those of its
    place.
    """
    path = path_to(site, "at")
    spot = locate(choices.at, Ground(site.project, site.file, site.level, site.frame), path)
    if isinstance(spot, Problem):
        return None, (spot,)
    spans = _in_frame(site, (spot.x, spot.y, spot.z))
    if site.host is not None and site.host.treatment in CLOSED:
        rule = f"that is a face of {site.host.what}, which is framed without openings"
        repair = (
            "reach it through the door of a closet, or set the opening in a lining, a partition, a soffit or a chase"
        )
        return None, (site.problem("no-wall-there", path, "", rule, repair),)
    if site.host is not None:
        return in_host(site, choices, spans, site.host)
    if spans["z"][0] < spans["z"][1] or site.level.joists - spans["z"][1] > OVERHEAD:
        return _in_wall(site, choices, spans)
    return in_ceiling(site, choices, spans)


def _in_frame(site: Site, level: tuple[Stretch, Stretch, Stretch]) -> dict[Axis, Stretch]:
    low, high = (site.frame.from_level(Point(*(span[end] for span in level))) for end in (0, 1))
    found: dict[Axis, Stretch] = {}
    for axis in AXES:
        first, second = sorted((low.on(axis), high.on(axis)))
        found[axis] = (first, second)
    return found


def _in_wall(site: Site, choices: AccessOpening, spans: dict[Axis, Stretch]) -> Worked:
    sized = opening_stretches(site, choices, (spans["x"], spans["z"]))
    if not isinstance(sized, Rectangle):
        return None, sized
    wall = _standing_in(site, sized.u, sized.v, spans["y"])
    if wall is None:
        value = site.tape.short(spans["y"][0])
        rule, repair = "no lining and no partition has its face there", "write where the finished wall is"
        return None, (site.problem("no-wall-there", path_to(site, "at"), value, rule, repair),)
    problems = (*_past_plates(site, wall), *_past_wall(site, wall))
    if problems:
        return None, problems
    face, board = wall.face(site.level.wall_board), site.level.wall_board
    cover = cover_of(site, sized)
    parts = (
        *_trimmers(site, wall),
        *_blocks(site, wall),
        *cover_parts(cover, "y", face, wall.toward, board, fills=True),
    )
    problems = clash_problems(
        site, parts, lambda _: path_to(site, "at"), lambda _: "move the opening, or what is in its way"
    )
    if problems:
        return None, problems
    anchors = _anchors(site, wall)
    outline = rectangle("y", x=wall.along, z=wall.up)
    way = looks(site.frame, "y", wall.toward)
    seen = Face(f"cover, looking {way}", "y", face, wall.toward, outline, site.file.record.room)
    remarks = (*size_remarks(site, choices), *_remarks(site, wall, parts))
    return assembled(site, NAME, Work(parts, (seen,), anchors, sizes(anchors, SIZES), middle(sized.u), remarks))


def _standing_in(site: Site, along: Stretch, up: Stretch, off: Stretch) -> _Wall | None:
    """Return the wall whose face, studs or board hold the opening's place."""
    record, board = site.project.record, site.level.wall_board
    if site.frame.name not in {"east", "north"}:
        size = true_size(record.level.wall_lining.stud)
        front = stud_face(site)
        if size and off[1] >= front - size[1] - NEAR and off[0] <= front + board + NEAR:
            length = site.level.east_west if site.frame.along == "x" else site.level.north_south
            run = front - size[1], length - front + size[1]
            holes = tuple(
                _hole(site, window.along, window.sill, window.head)
                for window in record.windows.values()
                if window.wall == site.frame.name
            )
            return _Wall(along, up, (front - size[1], front), record.level.wall_lining.stud, 1, run, holes)
    for partition in record.partitions.values():
        if (partition.runs == "east") != (site.frame.along == "x"):
            continue
        sides = (partition.thick.low.inches, partition.thick.high.inches)
        low, high = sorted(site.frame.off * (side - site.frame.zero) for side in sides)
        if off[1] >= low - board - NEAR and off[0] <= high + board + NEAR:
            toward = 1 if middle(off) > middle((low, high)) else -1
            run, floor = ends(partition.along), Height(Length(Fraction(0)), "slab")
            holes = tuple(_hole(site, door.along, floor, door.head) for door in partition.openings)
            return _Wall(along, up, (low, high), partition.stud, toward, run, holes)
    return None


def _hole(site: Site, along: Span, foot: Height, head: Height) -> Rectangle:
    return Rectangle(ends(along), (height_above_slab(foot, site.level), height_above_slab(head, site.level)))


def _past_wall(site: Site, wall: _Wall) -> Iterator[Problem]:
    """Yield a Problem for an opening, with a trimmer at each side, past the end of its wall or in a doorway of it."""
    thick = (true_size(wall.stud) or (Fraction(0), Fraction(0)))[0]
    low, high = wall.along[0] - thick, wall.along[1] + thick
    value = " to ".join(site.tape.short(end) for end in wall.along)
    if low < wall.run[0] or high > wall.run[1]:
        rule = f"its wall goes from {' to '.join(site.tape.long(end) for end in wall.run)}"
        repair = "look for a slip in its place"
        yield site.problem("opening-past-wall", path_to(site, "at"), value, rule, repair)
    if any(hole.meets(Rectangle((low, high), wall.up)) for hole in wall.doors):
        rule, repair = "a doorway or a window of that wall is in its place", "move it beside the doorway or the window"
        yield site.problem("openings-meet", path_to(site, "at"), value, rule, repair)


def _past_plates(site: Site, wall: _Wall) -> Iterator[Problem]:
    plate = (true_size(wall.stud) or (Fraction(0), Fraction(0)))[0]
    low, high = 2 * plate, site.level.joists - 2 * plate
    if wall.up[0] < low or wall.up[1] > high:
        words = f"{site.tape.short(low)} to {site.tape.short(high)}"
        yield site.problem(
            "opening-past-plates",
            path_to(site, "at"),
            " to ".join(site.tape.short(end) for end in wall.up),
            f"a plate and a block fit under and over it, so it lies between {words} above the slab",
            "write a place between them",
        )


def _trimmers(site: Site, wall: _Wall) -> Iterator[Part]:
    thick = (true_size(wall.stud) or (Fraction(0), Fraction(0)))[0]
    up = thick, site.level.joists - thick
    for name, x in (("low", wall.along[0] - thick), ("high", wall.along[1])):
        yield stick(f"{name} trimmer", "stud", wall.stud, "z", up, (x, wall.across[0]), "y")


def _blocks(site: Site, wall: _Wall) -> Iterator[Part]:
    """Yield the block under and the one over the opening; thin ones in front where something passes behind."""
    thick = (true_size(BLOCK) or (Fraction(0), Fraction(0)))[0]
    for name, z in (("lower", wall.up[0] - thick), ("upper", wall.up[1])):
        room = Rectangle(wall.along, (z, z + thick))
        if not any(_passes(thing, room, wall.across) for thing in (*site.hidden, *site.others)):
            yield _block(f"{name} block", wall.stud, wall.along, wall.across, (z, z + thick))
            continue
        near = (wall.across[1] - thick, wall.across[1]) if wall.toward > 0 else (wall.across[0], wall.across[0] + thick)
        yield _block(f"{name} block, thin", THIN_BLOCK, wall.along, near, (z, z + thick))


def _block(name: str, stock: str, x: Stretch, y: Stretch, z: Stretch) -> Part:
    return Part(name, "block", box(x, y, z, "x"), Material.BLOCKING, stock)


def _passes(thing: HiddenThing, room: Rectangle, across: Stretch) -> bool:
    boxes = [solid.bounds().grown(thing.clearance) for solid in thing.solids]
    return thing.material is not Material.CABLE and any(
        overlap((b.low.x, b.high.x), room.u)
        and overlap((b.low.z, b.high.z), room.v)
        and overlap((b.low.y, b.high.y), across)
        for b in boxes
    )


def _anchors(site: Site, wall: _Wall) -> dict[str, Point]:
    x, z, face = middle(wall.along), middle(wall.up), wall.face(site.level.wall_board)
    return {
        "low edge of the opening": Point(wall.along[0], face, z),
        "high edge of the opening": Point(wall.along[1], face, z),
        "bottom of the opening": Point(x, face, wall.up[0]),
        "top of the opening": Point(x, face, wall.up[1]),
        "finished floor": Point(x, face, site.level.floor),
        "finished face": Point(x, face, z),
        "block": Point(x, Fraction(0), z),
    }


def _remarks(site: Site, wall: _Wall, parts: tuple[Part, ...]) -> Iterator[str]:
    if any(part.stock == THIN_BLOCK for part in parts):
        yield site.say(
            "Where a block can't go through the wall, because something passes there, a 2x2 lies in front of it."
        )
    for thing in site.hidden:
        boxes = [solid.bounds() for solid in thing.solids]
        if all(b.high.z <= wall.up[0] or b.low.z >= wall.up[1] for b in boxes):
            yield site.say("{what} is not behind this cover.", what=thing.what)

"""Hidden things and the other treatments in, the rectangles that they take out of a wall and of its board out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import reduce

from bookgen.model.assembly import SOFFITS, Assembly, HiddenThing, Material
from bookgen.model.frame import Frame
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box, Point, box_round
from bookgen.solve.crowd import Crowd, crowd
from bookgen.solve.cutout import Rectangle, over_stretches
from bookgen.solve.framing import Stretch
from bookgen.solve.studwork import StudWall, around_both, overlap

FRAMED_BY_ITSELF = frozenset({"access opening", "utility room", "stair opening"})
FAR = Fraction(10000)  # inches: past the end of every level
POST = Fraction(12)  # inches: a wider piece of the structure is a beam, and no part of a post


@dataclass(frozen=True, slots=True)
class Around:
    """What else there is on the level, on the level's axes: hidden things and the other treatments."""

    things: tuple[tuple[HiddenThing, Box], ...]  # a row for each solid, with its clearance
    boxes: Crowd  # the same boxes
    others: tuple[tuple[str, Box, tuple[Box, ...]], ...]  # name of the treatment, the box round it all, and each part


def around(things: Iterable[HiddenThing], others: Iterable[Assembly]) -> Around:
    """Return hidden things on the level's axes, and assemblies each in its own frame, as boxes on the level."""
    rows = tuple((thing, solid.bounds().grown(thing.clearance)) for thing in things for solid in thing.solids)
    framed = tuple((o.treatment, box_round(o.boxes()), o.boxes()) for o in others if o.parts)
    return Around(rows, crowd(box for _, box in rows), framed)


def _reaching(frame: Frame, standing: Around, layer: Stretch) -> list[tuple[HiddenThing, list[Box]]]:
    """Return the things that reach into a layer of a wall, with those of their boxes that do, in the wall's frame."""
    slab = frame.box_to_level(Box(Point(-FAR, layer[0], -FAR), Point(FAR, layer[1], FAR)))
    found: list[tuple[HiddenThing, list[Box]]] = []
    for thing, box in (standing.things[number] for number in standing.boxes.near(slab)):
        own = frame.box_from_level(box)
        if not overlap((own.low.y, own.high.y), layer):
            continue
        if found and found[-1][0] is thing:
            found[-1][1].append(own)
        else:
            found.append((thing, [own]))
    return found


def patch_of(box: Box) -> Rectangle:
    """Return a box in a wall's frame as a rectangle in the plane of the wall."""
    return Rectangle((box.low.x, box.high.x), (box.low.z, box.high.z))


def in_studs(frame: Frame, wall: StudWall, standing: Around) -> tuple[tuple[Rectangle, HiddenThing], ...]:
    """Return what stands in the studs of a wall; cables go through bored holes and are left out.

    A post with its plates comes as one rectangle, so that plates of the wall stop clear of all of it.
    """
    found: list[tuple[Rectangle, HiddenThing]] = []
    for thing, boxes in _reaching(frame, standing, wall.across):
        patches = [patch_of(box) for box in boxes]
        if thing.system == "structure":
            patches = [reduce(around_both, patches)]
        whole = Rectangle(wall.run, wall.up)
        if thing.material is not Material.CABLE:
            found += [(patch, thing) for patch in patches if patch.meets(whole)]
    return _posts_joined(found)


def _posts_joined(found: list[tuple[Rectangle, HiddenThing]]) -> tuple[tuple[Rectangle, HiddenThing], ...]:
    """Join the pieces of structure that stand on one another."""
    rows: list[tuple[Rectangle, HiddenThing]] = []
    posts: list[int] = []  # their places among the rows: only what is slim can stand on something slim
    for patch, thing in sorted(found, key=lambda row: (row[0].v, row[0].u)):
        slim = _is_slim(patch, thing)
        under = next((number for number in posts if slim and _stacked(rows[number][0], patch)), None)
        if under is not None:
            whole, what = around_both(rows[under][0], patch), rows[under][1]
            rows[under] = whole, what
            if not _is_slim(whole, what):
                posts.remove(under)
            continue
        if slim:
            posts.append(len(rows))
        rows.append((patch, thing))
    return tuple(rows)


def _is_slim(patch: Rectangle, thing: HiddenThing) -> bool:
    return thing.system == "structure" and patch.u[1] - patch.u[0] <= POST


def _stacked(one: Rectangle, other: Rectangle) -> bool:
    return one.v[1] >= other.v[0] and other.v[1] >= one.v[0] and overlap(one.u, other.u)


def lowered(wall: StudWall, found: Iterable[tuple[Rectangle, HiddenThing]]) -> tuple[Fraction, tuple[HiddenThing, ...]]:
    """Return the top of a wall: under what lies along more than half of it up at the joists, and what that is."""
    half = (wall.run[1] - wall.run[0]) / 2
    over = [
        (patch.v[0], thing)
        for patch, thing in found
        if patch.v[1] >= wall.inner()[1]
        and patch.v[0] > wall.inner()[0]
        and min(patch.u[1], wall.run[1]) - max(patch.u[0], wall.run[0]) > half
    ]
    if not over:
        return wall.up[1], ()
    return min(height for height, _ in over), tuple(thing for _, thing in over)


def others_in(frame: Frame, wall: StudWall, standing: Around, layer: Stretch) -> Iterator[tuple[Rectangle, bool]]:
    """Yield, for each treatment in a layer of a wall, the rectangle it takes, and whether it is framed."""
    whole = Rectangle(wall.run, wall.up)
    for treatment, round_all, boxes in standing.others:
        near = frame.box_from_level(round_all)
        if not (overlap((near.low.y, near.high.y), layer) and patch_of(near).meets(whole)):
            continue
        inside = [b for b in (frame.box_from_level(box) for box in boxes) if overlap((b.low.y, b.high.y), layer)]
        patches = [patch for patch in map(patch_of, inside) if patch.meets(whole)]
        for patch in _steps(patches) if treatment in SOFFITS else [reduce(around_both, patches)] if patches else []:
            yield patch, treatment in FRAMED_BY_ITSELF


def _steps(patches: list[Rectangle]) -> Iterator[Rectangle]:
    """Yield the room of a soffit's pieces in a layer, step by step: each down to its own underside, up to one top."""
    top = max((patch.v[1] for patch in patches), default=Fraction(0))
    found: list[Rectangle] = []
    edges = sorted({edge for patch in patches for edge in patch.u})
    for stretch, beside in over_stretches(edges, [(patch.u, patch.v) for patch in patches]):
        foot = min((v[0] for v in beside), default=top)
        last = found[-1] if found else None
        if last is not None and last.u[1] == stretch[0] and last.v[0] == foot:
            found[-1] = Rectangle((last.u[0], stretch[1]), last.v)
        elif foot < top:
            found.append(Rectangle(stretch, (foot, top)))
    yield from found


def through(frame: Frame, standing: Around, layer: Stretch) -> Iterator[Rectangle]:
    """Yield the holes that hidden things make in a layer of board: what goes through it, and pipes that reach into it.

    Structure that reaches into it ends the board below, as `poking_in` says.
    """
    for thing, boxes in _reaching(frame, standing, layer):
        for box in boxes if thing.material is not Material.CABLE else ():
            if thing.system != "structure" or (box.low.y < layer[0] and box.high.y > layer[1]):
                yield patch_of(box)


def poking_in(frame: Frame, wall: StudWall, standing: Around, layer: Stretch) -> Fraction:
    """Return how high a board can go before a beam's plates poke into its back; the top of the wall where none does."""
    top = wall.up[1]
    for thing, boxes in _reaching(frame, standing, layer):
        for box in boxes if thing.system == "structure" else ():
            part = not (box.low.y < layer[0] and box.high.y > layer[1])
            near = wall.up[1] - POST < box.low.z < top and overlap((box.low.x, box.high.x), wall.run)
            if part and near:
                top = box.low.z
    return top

"""What must hold of every level worked out, whatever its records: each rule yields a sentence for each breach of it.

Written to be used from any test: `assert not [*doubled(solved), *crowded(solved)]`, or `breaches(solved)` for all. The
plane geometry is shapely's, so that the solver's own is not asked about itself. `tests/test_invariants.py` breaks each
rule on purpose and sees it told.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from fractions import Fraction
from hashlib import sha256
from itertools import pairwise

from shapely import Polygon as Flat
from shapely import box as flat_box
from shapely import unary_union
from shapely.geometry.base import BaseGeometry

from bookgen.model.assembly import Assembly, HiddenThing, Material, Part
from bookgen.model.geometry import ACROSS, AXES, Axis, Box, Point, Prism, Rod, Solid
from bookgen.model.meeting import meet
from bookgen.model.solved import Solved
from bookgen.solve.clash import grown
from bookgen.solve.shell import stair_wells
from tests.sight_lines import seen, unclad
from tests.worked import HAIR, WOOD, Piece, across, built, flat, hidden, pieces, pieces_of

__all__ = [
    "adrift", "breaches", "built", "crowded", "doubled", "fingerprint", "hidden", "miscounted", "mismeasured", "pieces",
    "pieces_of", "seen", "structure", "unclad", "unheld",
]  # fmt: skip

SHEETS = frozenset({Material.BOARD, Material.PANEL})
SPACING = Fraction(16)  # inches: members behind 1/2 in board where no record says otherwise
EDGE = 1.5  # inches: wood this near the edge of a board carries the edge


def breaches(solved: Solved) -> list[str]:
    """Return every breach of every rule that a solved level can be asked about."""
    every = pieces(solved)
    return [
        *doubled(every),
        *crowded(every, hidden(solved)),
        *seen(solved, every),
        *unclad(solved, every),
        *unheld(every, carried=structure(solved)),
        *miscounted(solved),
        *(said for one in built(solved) for said in (*mismeasured(one), *adrift(one, solved))),
    ]


def doubled(every: Iterable[Piece]) -> Iterator[str]:
    """No part shares volume with another: tell of each two that do."""
    row = sorted(every, key=lambda piece: piece.box.low.x)
    for index, one in enumerate(row):
        for other in row[index + 1 :]:
            if other.box.low.x >= one.box.high.x:
                break
            if meet(one.part.solid, other.part.solid):
                yield f"{one} and {other} share volume"


def crowded(every: Iterable[Piece], things: Iterable[HiddenThing]) -> Iterator[str]:
    """No part stands in a hidden thing or in the free space round it; a cable bends out of the way."""
    rooms = [
        (thing, solid, grown(solid, thing.clearance))
        for thing in things
        if thing.material is not Material.CABLE
        for solid in thing.solids
    ]
    for piece in every:
        for thing, solid, room in rooms:
            if meet(piece.part.solid, room) and (thing.clearance or not _leaning(solid, piece.box)):
                yield f"{piece} stands in {thing.what} or its clearance"


LEANING = 0.125  # inches that the slanting end of a sloping pipe reaches past the end of its axis, unfelt


def _leaning(solid: Solid, box: Box) -> bool:
    """Tell whether a sloping pipe ends before a box, which only its slanting end reaches into."""
    if not isinstance(solid, Rod) or solid.runs() is not None:
        return False
    axis = max(AXES, key=lambda a: abs(solid.end.on(a) - solid.start.on(a)))
    low, high = sorted((solid.start.on(axis), solid.end.on(axis)))
    room = solid.bounds()
    after = box.low.on(axis) >= high and room.high.on(axis) - box.low.on(axis) < LEANING
    return after or (box.high.on(axis) <= low and box.high.on(axis) - room.low.on(axis) < LEANING)


# ---- every edge of board on wood


def structure(solved: Solved) -> tuple[Box, ...]:
    """Return what carries board besides our own framing: beams and headers, and the trimmers at a stair's well.

    Board is screwed to a beam's flange, to the header over a well and to the trimmers that the header bears on. No
    record says where these stand, so that the well itself stands for them.
    """
    found = [s.bounds() for thing in hidden(solved) if thing.system == "structure" for s in thing.solids]
    joists = solved.level.joists
    for x, y in stair_wells(solved.project, solved.level):
        found.append(Box(Point(x[0], y[0], joists), Point(x[1], y[1], joists + solved.level.joist_depth)))
    return tuple(found)


def unheld(
    every: Iterable[Piece], spacing: Fraction = SPACING, *, floating: bool = True, carried: Iterable[Box] = ()
) -> Iterator[str]:
    """Every edge of board lies on wood, with no more than *spacing* free between two places that hold it.

    Board in one plane of one treatment is one sheet here, however many rectangles it was built of. With *floating* an
    edge that butts against the board of another wall or treatment counts as held by it: floating interior angles,
    GA-216, paraphrase from memory. *carried* are the boxes of what else holds board, such as `structure`.
    """
    every = tuple(every)
    wood = [*(piece.box for piece in every if piece.part.material in WOOD), *carried]
    planes: dict[tuple[str, Axis, Fraction, Fraction], list[Piece]] = {}
    for piece in every:
        solid = piece.part.solid
        if piece.part.material is Material.BOARD and isinstance(solid, Prism):
            planes.setdefault((piece.owner, solid.axis, solid.start, solid.end), []).append(piece)
    for (owner, axis, low, high), boards in planes.items():
        holding = [box for box in wood if box.high.on(axis) == low or box.low.on(axis) == high]
        if floating:
            holding += [
                piece.box
                for piece in every
                if piece.part.material is Material.BOARD
                and piece.owner != owner
                and piece.box.low.on(axis) <= high
                and low <= piece.box.high.on(axis)
            ]
        held = unary_union([across(box, axis) for box in holding])
        sheet = unary_union([flat(piece.part.solid.seen(axis)).buffer(HAIR, join_style="mitre") for piece in boards])
        for whole in getattr(sheet, "geoms", [sheet]):
            for gap, (u, v) in _free_edges(whole, held):
                if gap > float(spacing):
                    where = ", ".join(f"{a} {at:.1f}" for a, at in zip(ACROSS[axis], (u, v), strict=True))
                    yield f"{boards[0].part.name} of {owner}: {gap:.1f} in of an edge are free near {where}"


def _free_edges(sheet: Flat, held: BaseGeometry) -> Iterator[tuple[float, tuple[float, float]]]:
    """Yield the longest free stretch of each edge with its middle."""
    for ring in (sheet.exterior, *sheet.interiors):
        corners = list(ring.coords)
        for (u1, v1), (u2, v2) in pairwise(corners):
            strip = flat_box(min(u1, u2) - EDGE, min(v1, v2) - EDGE, max(u1, u2) + EDGE, max(v1, v2) + EDGE)
            near = strip.intersection(held)
            upright = abs(u1 - u2) < abs(v1 - v2)
            ends = sorted((v1, v2) if upright else (u1, u2))
            rows = sorted(
                (part.bounds[1], part.bounds[3]) if upright else (part.bounds[0], part.bounds[2])
                for part in getattr(near, "geoms", [near])
                if not part.is_empty
            )
            at = ends[0]
            for low, high in [*rows, (ends[1], ends[1])]:
                middle = (at + low) / 2
                yield low - at, ((u1, middle) if upright else (middle, v1))
                at = max(at, high)


# ---- lengths cut = lengths of parts; printed = in the model; same in, same out


def miscounted(solved: Solved) -> Iterator[str]:
    """The pieces of the takeoff are the parts of the model, one for one, and as long."""
    parts = Counter(
        (one.key, part.role, part.stock, _longest(part)) for one in built(solved) for part in one.parts if part.stock
    )
    counted: Counter[tuple[str, str, str, Fraction]] = Counter()
    for piece in solved.takeoff.pieces:
        counted[piece.obstacle, piece.role, piece.stock, piece.length.inches] += piece.count
    for row in sorted({*parts, *counted}):
        if parts[row] != counted[row]:
            what = f"{row[1]} of {row[2]}, {float(row[3])} in, for {row[0]}"
            yield f"{what}: {parts[row]} in the model, {counted[row]} cut"


def _longest(part: Part) -> Fraction:
    """Return how long a part is by its corners: along its grain, a sheet along its longer side, a slope along it."""
    if part.material in SHEETS:
        return max(part.solid.bounds().size(axis) for axis in AXES)
    return part.length().inches


def mismeasured(assembly: Assembly) -> Iterator[str]:
    """A size that gets printed is the distance in the model between the two anchors it names."""
    for measure in assembly.measures:
        start, end = assembly.anchors[measure.start].on(measure.axis), assembly.anchors[measure.end].on(measure.axis)
        if abs(end - start) != measure.value.inches:
            yield f"{measure.name} of {assembly.key} says {measure.value.inches}, in the model it is {abs(end - start)}"


UNSEEN = frozenset({"clear opening"})  # sizes between spots that are worked out from a door that stands open
UNBUILT = frozenset({"stair opening"})  # the stair stands already, and is no part of the work


def adrift(assembly: Assembly, solved: Solved) -> Iterator[str]:
    """The anchors of a printed size stand at something: an end or the middle of a part, face, hidden thing or level."""
    if assembly.treatment in UNBUILT:
        return
    spots = {axis: _spots(assembly, axis, solved) for axis in AXES}
    for measure in assembly.measures:
        for name in (measure.start, measure.end) if measure.name not in UNSEEN else ():
            at = assembly.anchors[name].on(measure.axis)
            if at not in spots[measure.axis]:
                yield f"{measure.name} of {assembly.key}: nothing stands at its {name} ({measure.axis} = {float(at)})"


def _spots(assembly: Assembly, axis: Axis, solved: Solved) -> set[Fraction]:
    """Return where along an axis of the run's frame something begins, ends or has its middle."""
    back = assembly.frame.solid_from_level
    level = solved.level
    solids = [part.solid for part in assembly.parts]
    solids += [Prism(face.outline, face.axis, face.at, face.at) for face in assembly.faces]
    solids += [back(solid) for thing in hidden(solved) for solid in thing.solids]
    solids += [back(part.solid) for part in level.shell]
    solids += [back(wall.frame.solid_to_level(part.solid)) for wall in level.linings for part in wall.parts]
    found = {Fraction(0), level.wall_face}
    if axis == "z":
        found |= {level.floor, level.joists, level.joists - level.ceiling_board}
    for solid in solids:
        box = solid.bounds()
        found |= {box.low.on(axis), box.high.on(axis), (box.low.on(axis) + box.high.on(axis)) / 2}
        if isinstance(solid, Rod):
            found |= {solid.start.on(axis), solid.end.on(axis)}
        elif axis != solid.axis:
            found |= {corner[ACROSS[solid.axis].index(axis)] for corner in solid.profile.corners}
    return found


def fingerprint(solved: Solved) -> str:
    """Return a digest of everything that was worked out: the same records give the same one, in every process."""
    told = (solved.level, solved.rooms, solved.obstacles, solved.findings, solved.takeoff)
    return sha256(repr(told).encode()).hexdigest()

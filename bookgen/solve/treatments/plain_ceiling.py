"""Rooms, joists and what hangs in them in; the board straight on the joists, as an assembly for each room, out.

It gives way to everything else: strips, soffits, chases, closets and the stair's well have the ceiling over them as
their own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import reduce
from itertools import combinations, pairwise

from bookgen.model.assembly import Assembly, Face, HiddenThing, Part
from bookgen.model.frame import LEVEL
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box, Point, Polygon
from bookgen.model.project import PROJECT_FILE, Project
from bookgen.model.records.inside import Known
from bookgen.model.records.project import Room
from bookgen.model.solved import SolvedLevel
from bookgen.solve.board import rectangle
from bookgen.solve.cutout import NARROW, Rectangle, cut_out
from bookgen.solve.framing import Stretch, measured
from bookgen.solve.sheathing import disjoint
from bookgen.solve.shell import stair_wells
from bookgen.solve.site import height_above_slab
from bookgen.solve.soffits import sheets, through
from bookgen.solve.speech import say_of
from bookgen.solve.studwork import around_both
from bookgen.solve.treatments.ceiling_fill import filling_remarks, joist_batts, vapour_layers

NAME = "plain ceiling"
PIECEWISE = frozenset({"furring"})  # treatments of several rooms: each face covers its own part of the level
HOLE = Fraction(12)  # inches: what is shorter is no ceiling of its own, and the board is cut round it


@dataclass(frozen=True, slots=True)
class _Plan:
    """One room's ceiling: where its board lies, its underside, and whether the joists carry it."""

    key: str
    room: Room
    pieces: tuple[Rectangle, ...]
    holes: tuple[Rectangle, ...]
    under: Fraction
    on_joists: bool


def plain_ceilings(
    project: Project, level: SolvedLevel, things: Iterable[HiddenThing] = (), others: Iterable[Assembly] = ()
) -> tuple[Assembly, ...]:
    """Return the plain ceiling of each boarded room, on the level's axes; none where other ceilings cover all of it.

    *things* are the hidden things on the level's axes, *others* the treatments' assemblies.
    """
    things, others = tuple(things), tuple(others)
    found = []
    for key, room in project.record.rooms.items():
        if room.ceiling is None:
            continue
        plan = _planned(project, level, key, room, others)
        if plan.pieces:
            found.append(_built(project, level, plan, things))
    return tuple(found)


def _planned(project: Project, level: SolvedLevel, key: str, room: Room, others: tuple[Assembly, ...]) -> _Plan:
    on_joists = level.joists - level.ceiling_board
    height = on_joists if room.ceiling is None else height_above_slab(room.ceiling, level)
    if any(face.axis == "z" and face.room == key for other in others for face in other.faces):
        height = on_joists  # the height written is that of the strips; beside them the board is on the joists
    layer = height, height + level.ceiling_board
    taken = [*(patch for other in others for patch in _over(other, layer))]
    taken += [Rectangle(x, y) for x, y in stair_wells(project, level)]
    large = [patch for patch in taken if _long(patch) >= HOLE]
    pieces = [piece for whole in disjoint(_grown(room, level.wall_board)) for piece in cut_out(whole, large)]
    kept = tuple(_kept(_joined(pieces)))
    holes = tuple(patch for patch in taken if _long(patch) < HOLE)
    return _Plan(key, room, kept, holes, height, height == on_joists)


def _kept(pieces: tuple[Rectangle, ...]) -> Iterator[Rectangle]:
    """Yield the pieces less the narrow strips beside another ceiling, which that one's own board fills.

    One that goes on in other pieces on both its long sides is no such strip: it was only cut so.
    """
    for piece in pieces:
        if piece.narrow() >= NARROW or _sides_touched(piece, pieces) == {-1, 1}:
            yield piece


def _sides_touched(strip: Rectangle, pieces: Iterable[Rectangle]) -> set[int]:
    """Return on which of its long sides others touch a strip: -1 the low one, 1 the high one."""
    lies = strip.u[1] - strip.u[0] > strip.v[1] - strip.v[0]
    own, row = (strip.turned(), [one.turned() for one in pieces]) if lies else (strip, pieces)
    beside = [one for one in row if own.v[0] < one.v[1] and one.v[0] < own.v[1]]
    return {way for way, at, end in ((-1, own.u[0], 1), (1, own.u[1], 0)) for one in beside if one.u[end] == at}


def _long(patch: Rectangle) -> Fraction:
    return max(patch.u[1] - patch.u[0], patch.v[1] - patch.v[0])


def _joined(pieces: list[Rectangle]) -> tuple[Rectangle, ...]:
    """Return rectangles with each two put together that have a whole side in common."""
    found = sorted(pieces)
    while pair := next((pair for pair in combinations(found, 2) if _share_a_side(*pair)), None):
        found = sorted([one for one in found if one not in pair] + [around_both(*pair)])
    return tuple(found)


def _share_a_side(one: Rectangle, other: Rectangle) -> bool:
    beside = one.v == other.v and (one.u[1] == other.u[0] or other.u[1] == one.u[0])
    return beside or (one.u == other.u and (one.v[1] == other.v[0] or other.v[1] == one.v[0]))


def _grown(room: Room, board: Fraction) -> Iterator[Rectangle]:
    """Yield the rectangles of a room's outline, out to the studs behind the board of its walls."""
    corners = tuple((east.inches, north.inches) for east, north in room.outline)
    (west, south), (east, north) = Polygon(corners).bounds()
    columns = sorted({x for x, _ in corners})
    edges = tuple(zip(corners, corners[1:] + corners[:1], strict=True))
    for low, high in pairwise(columns):
        crossing = sorted(y1 for (x1, y1), (x2, y2) in edges if y1 == y2 and min(x1, x2) <= low < max(x1, x2))
        for first, last in zip(crossing[::2], crossing[1::2], strict=True):
            yield Rectangle(
                (low - (board if low == west else 0), high + (board if high == east else 0)),
                (first - (board if first == south else 0), last + (board if last == north else 0)),
            )


def _over(other: Assembly, layer: Stretch) -> Iterator[Rectangle]:
    """Yield where a treatment stands in the layer of the board, or has a ceiling of its own."""
    inside = [box for box in other.boxes() if box.low.z < layer[1] and layer[0] < box.high.z]
    if inside and other.treatment not in PIECEWISE:
        inside = [reduce(Box.joined, inside)]
    yield from (Rectangle((box.low.x, box.high.x), (box.low.y, box.high.y)) for box in inside)
    for face in other.faces:
        if face.axis == "z" and face.toward < 0:
            low, high = face.outline.bounds()
            ends = [other.frame.to_level(Point(u, v, face.at)) for u, v in (low, high)]
            (x1, x2), (y1, y2) = sorted(p.x for p in ends), sorted(p.y for p in ends)
            yield Rectangle((x1, x2), (y1, y2))


def _built(project: Project, level: SolvedLevel, plan: _Plan, things: tuple[HiddenThing, ...]) -> Assembly:
    parts: list[Part] = []
    faces: list[Face] = []
    layer = plan.under, plan.under + level.ceiling_board
    holes = (*plan.holes, *through(things, "z", layer))
    for number, piece in enumerate(plan.pieces, 1):
        name = f"ceiling of the {plan.room.name}" + (f", part {number}" if len(plan.pieces) > 1 else "")
        parts += sheets(f"{name}, board", "z", layer[1], -1, piece, holes, level.ceiling_board)
        faces.append(Face(name, "z", plan.under, -1, rectangle("z", x=piece.u, y=piece.v), plan.key))
    layers = vapour_layers(project, level, parts) if plan.on_joists else ()
    parts += joist_batts(project, level, plan.pieces, things)
    middle = plan.pieces[0]
    x, y = sum(middle.u) / Fraction(2), sum(middle.v) / Fraction(2)
    anchors = {
        "finished floor": Point(x, y, level.floor),
        "finished ceiling": Point(x, y, plan.under),
        "joists": Point(x, y, level.joists),
    }
    run = min(piece.u[0] for piece in plan.pieces), max(piece.u[1] for piece in plan.pieces)
    return Assembly(
        key=f"ceiling-{plan.key}",
        treatment=NAME,
        title=f"Ceiling of the {plan.room.name}",
        frame=LEVEL,
        run=run,
        section_at=x,
        parts=tuple(parts),
        faces=tuple(faces),
        anchors=anchors,
        measures=(measured("headroom", "headroom", anchors, "finished floor", "finished ceiling", "z"),),
        known=_known(project, plan),
        place=project.places.of(PROJECT_FILE, "rooms", plan.key, "ceiling"),
        remarks=(*_remarks(project, level, plan), *filling_remarks(project, parts, layers)),
        layers=layers,
    )


def _known(project: Project, plan: _Plan) -> Known:
    """Return how the places of the joists behind the board are known: as the record of the joists says."""
    joists = project.record.level.joists.known
    return joists if plan.on_joists and joists is not None else Known(how="planned")


def _remarks(project: Project, level: SolvedLevel, plan: _Plan) -> Iterator[str]:
    if not plan.on_joists:
        gap = project.tape.short(level.joists - plan.under - level.ceiling_board)
        yield say_of(project)("The board hangs {gap} under the joists, and what carries it is in no record.", gap=gap)

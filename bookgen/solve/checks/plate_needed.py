"""plate-needed: a cable or pipe runs where a board's screw may reach it beside the wood; a steel plate guards it.

    PASS   a cable 2 in sideways from the strip that the ceiling is screwed to
    FAIL   the same cable 1/2 in beside the strip

The edge is that of every stud, rung, strip or the like right behind a finished board. A thing is too near when it is
both less than the limit behind that edge and less than the limit beside it. What goes straight out through the board is
left out. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.geometry import ACROSS, AXES, Box
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import judged, length_of, unheld
from bookgen.solve.checks.sight import SeenFace, SeenPart, SeenThing, Sight
from bookgen.solve.crowd import MARGIN, Crowd, crowd, row

CODE = "plate-needed"
EDGES = frozenset(
    {"stud", "king stud", "jack stud", "cripple", "rung", "crosser", "strip", "upright", "tie", "trimmer", "block"}
    | {"top plate", "bottom plate", "top rail", "bottom rail", "end rail", "cleat", "header", "sill", "flat"}
)  # what board is screwed to
BOARDS = Fraction(1)  # inches: an edge this near behind a face carries its board
REACH = Fraction(16)  # inches behind a face that a thing is looked for in
# The later editions may ask 1-1/4 in of a pipe, where the older 1-1/2 in was seen (IRC P2603.2.1, from memory).
PIPE_FOR_SURE = Fraction(5, 4)
STEEL_PIPE = frozenset({"steel", "cast iron"})


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each cable and pipe that runs behind a finished face, with its nearest edge."""
    nearest: dict[str, tuple[Fraction, SeenFace]] = {}
    for face in sight.faces:
        if face.face.room:
            for seen, distance in _distances(sight, face):
                if seen.thing.key not in nearest or distance < nearest[seen.thing.key][0]:
                    nearest[seen.thing.key] = (distance, face)
    for seen in sight.things:
        if seen.thing.key in nearest:
            yield _judged(sight, seen, *nearest[seen.thing.key])


def _distances(sight: Sight, face: SeenFace) -> Iterator[tuple[SeenThing, Fraction]]:
    """Yield how far each box of a cable or pipe behind a face is from the nearest wood right behind its board."""
    near = [sight.standers[number] for number in sight.standing.near(face.behind(REACH))]
    running = [
        (one, box)
        for one, box in near
        if isinstance(one, SeenThing) and (one.record.cable or one.record.pipe) and _beside(face, box, REACH)
    ]
    if not running:
        return
    edges = crowd(box for one, box in near if _carries(one, face) and _beside(face, box, BOARDS))
    for thing, box in running:
        distance = _nearest(box, face, edges)
        if distance is not None:
            yield thing, distance


def _carries(one: SeenPart | SeenThing, face: SeenFace) -> bool:
    return isinstance(one, SeenPart) and one.part.role in EDGES and one.assembly is face.assembly


def _depth(face: SeenFace, box: Box) -> Fraction:
    """Return how far behind a face the near side of a box lies."""
    return face.at - box.high.on(face.axis) if face.toward > 0 else box.low.on(face.axis) - face.at


def _near_side(face: SeenFace, box: Box) -> Fraction:
    return box.high.on(face.axis) if face.toward > 0 else box.low.on(face.axis)


def _beside(face: SeenFace, box: Box, deepest: Fraction) -> bool:
    first, second = ACROSS[face.axis]
    return (
        0 <= _depth(face, box) <= deepest
        and box.low.on(first) < face.first[1]
        and face.first[0] < box.high.on(first)
        and box.low.on(second) < face.second[1]
        and face.second[0] < box.high.on(second)
    )


def _nearest(box: Box, face: SeenFace, edges: Crowd) -> Fraction | None:
    """Return how far a box is from the nearest edge behind a face: the larger of depth and sideways."""
    deep, nearest, done = _depth(face, box), None, None
    for edge in (edges.boxes[number] for number in _maybe_nearest(box, face, edges)):
        side = _near_side(face, edge)
        if side == done:  # equally deep as one that is already no further off than it is deep
            continue
        behind = deep - (face.at - side) * face.toward
        if behind >= 0 and (nearest is None or behind < nearest):
            distance = max(behind, _sideways(face, box, edge))
            nearest = distance if nearest is None else min(nearest, distance)
            done = side if distance == behind else done
    return nearest


def _maybe_nearest(box: Box, face: SeenFace, edges: Crowd) -> list[int]:
    """Return the numbers of the edges that may be the nearest one, by their rounded bounds."""
    own, axis, (one, two) = row(box), AXES.index(face.axis), (AXES.index(other) for other in ACROSS[face.axis])
    far: list[tuple[float, int]] = []
    for number, edge in enumerate(edges.bounds):
        deeper = edge[axis + 3] - own[axis + 3] if face.toward > 0 else own[axis] - edge[axis]
        if deeper >= -MARGIN:
            aside = (
                own[one] - edge[one + 3],
                edge[one] - own[one + 3],
                own[two] - edge[two + 3],
                edge[two] - own[two + 3],
            )
            far.append((max(deeper, *aside), number))
    if not far:
        return []
    nearest = max(min(far)[0], 0) + MARGIN
    return [number for distance, number in far if distance <= nearest]


def _sideways(face: SeenFace, box: Box, edge: Box) -> Fraction:
    """Return the gap between two boxes as seen on the face; 0 where one is before the other."""
    gaps = [
        max(box.low.on(axis) - edge.high.on(axis), edge.low.on(axis) - box.high.on(axis), Fraction(0))
        for axis in ACROSS[face.axis]
    ]
    return max(gaps)


def _judged(sight: Sight, seen: SeenThing, distance: Fraction, face: SeenFace) -> Finding:
    codes = sight.project.record.codes
    cable = seen.record.cable is not None
    limit = sight.governing("cable-along-framing-from-edge" if cable else "pipe-from-wood-edge")
    length = sight.tape.short(distance)
    said = sight.said(
        CODE,
        seen.thing.place,
        seen.thing.what,
        sight.say(
            "it runs {length} from the nearest wood behind the board of the {face}{doubt}",
            length=length,
            face=sight.tongue.name(face.face.name),
            doubt=_doubt(sight, seen),
        ),
        length,
        sight.say("move it, or put a steel plate over it before the board goes up"),
    )
    if limit is None:
        return unheld(said, codes.electrical if cable else codes.plumbing or codes.building, codes.authority)
    return judged(said, limit, distance >= length_of(limit).inches, _softer(seen, distance))


def _doubt(sight: Sight, seen: SeenThing) -> str:
    match seen.thing.known.how:
        case "photo":
            return sight.say("; its place is read off a photo, not measured")
        case "assumed":
            return sight.say("; its place is assumed, not measured")
        case "planned":
            return sight.say("; its place is only planned, not measured")
    return ""


def _softer(seen: SeenThing, distance: Fraction) -> Severity | None:
    """Return ask where a stop would say more than is known: of the place, of the figure, or of what it is for."""
    unsure = seen.thing.known.how != "measured" or seen.thing.system == "data"
    pipe = seen.record.pipe is not None
    steel = pipe and any(word in (seen.record.pipe or "").lower() for word in (*STEEL_PIPE, "black", "galvani"))
    return Severity.ASK if unsure or steel or (pipe and distance >= PIPE_FOR_SURE) else None

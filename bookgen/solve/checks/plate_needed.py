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

from bookgen.model.geometry import ACROSS, Box
from bookgen.model.length import Length, show_inches
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import Said, judged, length_of, unheld
from bookgen.solve.checks.sight import SeenFace, SeenThing, Sight

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
    edges = tuple(_edges(sight))
    for seen in sight.things:
        if not (seen.record.cable or seen.record.pipe):
            continue
        near = [found for face, boxes in edges if (found := _nearest(seen, face, boxes)) is not None]
        if near:
            distance, face = min(near, key=lambda pair: pair[0])
            yield _judged(sight, seen, distance, face)


def _edges(sight: Sight) -> Iterator[tuple[SeenFace, tuple[Box, ...]]]:
    """Yield each face that looks into a room with the boxes of the wood right behind its board."""
    framing = [seen for seen in sight.parts if seen.part.role in EDGES and seen.assembly is not None]
    for face in sight.faces:
        if face.face.room:
            boxes = tuple(
                seen.box for seen in framing if seen.assembly is face.assembly and _beside(face, seen.box, BOARDS)
            )
            yield face, boxes


def _depth(face: SeenFace, box: Box) -> Fraction:
    """Return how far behind a face the near side of a box lies."""
    near = box.high.on(face.axis) if face.toward > 0 else box.low.on(face.axis)
    return (face.at - near) * face.toward


def _beside(face: SeenFace, box: Box, deepest: Fraction) -> bool:
    first, second = ACROSS[face.axis]
    return (
        0 <= _depth(face, box) <= deepest
        and box.low.on(first) < face.first[1]
        and face.first[0] < box.high.on(first)
        and box.low.on(second) < face.second[1]
        and face.second[0] < box.high.on(second)
    )


def _nearest(seen: SeenThing, face: SeenFace, edges: tuple[Box, ...]) -> tuple[Fraction, SeenFace] | None:
    """Return how far a thing is from the nearest edge behind a face: the larger of depth and sideways."""
    found = [
        max(_depth(face, box) - _depth(face, edge), _sideways(face, box, edge))
        for box in seen.boxes
        if _beside(face, box, REACH)
        for edge in edges
        if _depth(face, box) >= _depth(face, edge)
    ]
    return (min(found), face) if found else None


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
    length = show_inches(Length(distance))
    said = Said(
        CODE,
        seen.thing.place,
        seen.thing.what,
        f"it runs {length} from the nearest wood behind the board of the {face.face.name}{_doubt(seen)}",
        length,
        "move it, or put a steel plate over it before the board goes up",
    )
    if limit is None:
        return unheld(said, codes.electrical if cable else codes.plumbing or codes.building, codes.authority)
    return judged(said, limit, distance >= length_of(limit).inches, _softer(seen, distance))


def _doubt(seen: SeenThing) -> str:
    words = {"photo": "read off a photo", "assumed": "assumed", "planned": "only planned"}
    known = words.get(seen.thing.known.how)
    return "" if known is None else f"; its place is {known}, not measured"


def _softer(seen: SeenThing, distance: Fraction) -> Severity | None:
    """Return ask where a stop would say more than is known: of the place, of the figure, or of what it is for."""
    unsure = seen.thing.known.how != "measured" or seen.thing.system == "data"
    pipe = seen.record.pipe is not None
    steel = pipe and any(word in (seen.record.pipe or "").lower() for word in (*STEEL_PIPE, "black", "galvani"))
    return Severity.ASK if unsure or steel or (pipe and distance >= PIPE_FOR_SURE) else None

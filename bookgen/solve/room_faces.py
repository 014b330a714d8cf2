"""A soffit and the rooms of the level in, the soffit with each of its faces as the rooms that it passes through see it.

A soffit goes through a partition or over a doorway in one piece: its board passes over the wall, which is framed up to
it. What is seen of a face ends at the wall on both sides, and each room has its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import SOFFITS, Assembly, Face
from bookgen.model.frame import Frame
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Corner, Point, Polygon
from bookgen.model.solved import SolvedRoom
from bookgen.solve.framing import Stretch
from bookgen.trade.tongue import Say

WALL = Fraction(12)  # inches: what is no further apart has a wall between; a wider gap is a space without a room
BEFORE = Fraction(1)  # inches before a face that somebody who sees it may stand


@dataclass(frozen=True, slots=True)
class _Seen:
    """A stretch of the run and the room that sees it."""

    along: Stretch
    room: SolvedRoom


def by_room(assembly: Assembly, rooms: Iterable[SolvedRoom], say: Say) -> Assembly:
    """Return a soffit with its faces split where it leaves a room; any other treatment as it is."""
    if assembly.treatment not in SOFFITS:
        return assembly
    rooms = tuple(rooms)
    faces = tuple(piece for face in assembly.faces for piece in _pieces(face, assembly.frame, rooms))
    names = {room.key: room.name for room in rooms}
    through = list(dict.fromkeys(names[face.room] for face in faces if face.axis == "z" and face.room in names))
    if len(through) < 2:
        return replace(assembly, faces=faces)
    passed = through[0]
    for room in through[1:]:
        passed = say("{before} into the {after}", before=passed, after=room)
    words = say("It passes from the {rooms}; the walls between are framed up to its board.", rooms=passed)
    return replace(assembly, faces=faces, remarks=(*assembly.remarks, words))


def _pieces(face: Face, frame: Frame, rooms: tuple[SolvedRoom, ...]) -> Iterator[Face]:
    """Yield what each room sees of a face: below a bottom, before a side or an end; as it is where no room is."""
    (low, _), (high, _) = face.outline.bounds()
    if face.axis == "x":
        before, row = face.at + face.toward * BEFORE, _rooms_along(frame, (low + high) / 2, rooms)
        found = [one.room.key for one in row if one.along[0] <= before <= one.along[1]]
        yield replace(face, room=found[0]) if found else face
        return
    off = _middle(face.outline) if face.axis == "z" else face.at + face.toward * BEFORE
    row = list(_walled(_rooms_along(frame, off, rooms), (low, high)))
    if len(row) < 2:
        yield replace(face, room=row[0].room.key) if row else face
        return
    for number, one in enumerate(row):
        again = sum(1 for other in row[: number + 1] if other.room is one.room)
        name = f"{face.name}, in the {one.room.name}" + (f", stretch {again}" if again > 1 else "")
        yield replace(face, name=name, outline=_clipped(face.outline, one.along), room=one.room.key)


def _middle(outline: Polygon) -> Fraction:
    (_, low), (_, high) = outline.bounds()
    return (low + high) / 2


def _rooms_along(frame: Frame, off: Fraction, rooms: tuple[SolvedRoom, ...]) -> list[_Seen]:
    """Return the stretches of the run that rooms take up on the line *off* it, in the order of the run."""
    spot = frame.to_level(Point(Fraction(0), off, Fraction(0)))
    index, at = (1, spot.y) if frame.along == "x" else (0, spot.x)
    found = [_Seen(span, room) for room in rooms for span in room.outline.spans(index, at)]
    return sorted(found, key=lambda one: (one.along, one.room.key))


def _walled(row: list[_Seen], whole: Stretch) -> Iterator[_Seen]:
    """Yield the stretches within *whole*, joined where one room goes on, and out over its ends and what is no room."""
    kept: list[_Seen] = []
    for one in row:
        if one.along[1] <= whole[0] or whole[1] <= one.along[0]:
            continue
        if kept and kept[-1].room is one.room:
            kept[-1] = replace(one, along=(kept[-1].along[0], one.along[1]))
        else:
            kept.append(one)
    for number, one in enumerate(kept):
        low, high = one.along
        after = kept[number + 1].along[0] if number + 1 < len(kept) else whole[1]
        if number + 1 == len(kept) or after - high > WALL:
            high = after
        yield replace(one, along=(whole[0] if number == 0 else low, high))


def _clipped(outline: Polygon, along: Stretch) -> Polygon:
    """Return what of an outline lies in a stretch of its first coordinate."""
    corners = list(outline.corners)
    for edge, inside in ((along[0], 1), (along[1], -1)):
        kept: list[Corner] = []
        for here, after in zip(corners, corners[1:] + corners[:1], strict=True):
            if inside * here[0] >= inside * edge:
                kept.append(here)
            if (here[0] - edge) * (after[0] - edge) < 0:
                share = (edge - here[0]) / (after[0] - here[0])
                kept.append((edge, here[1] + share * (after[1] - here[1])))
        corners = kept
    return Polygon(tuple(corners))

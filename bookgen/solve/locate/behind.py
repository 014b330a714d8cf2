"""Faces and hidden things in, what is behind each face out: where along, how high, how deep, how it is known."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from bookgen.model.assembly import Assembly, Face, HiddenThing, Part
from bookgen.model.geometry import ACROSS, AXES, Axis, Box, Point, Prism
from bookgen.model.solved import Behind, FaceBehind
from bookgen.solve.crowd import Crowd, crowd

DEEPEST = Fraction(16)  # inches behind a face that still matter to somebody who hangs or drills
FRAMING_ROLES = frozenset(
    {
        "joist",
        "stud",
        "king stud",
        "jack stud",
        "cripple",
        "rung",
        "crosser",
        "strip",
        "upright",
        "tie",
        "flat",
        "trimmer",
    }
)
FRAMING_DEPTH = Fraction(1)  # a member this near behind the board carries it


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """What may be behind any face, on the level's axes: things, a row for each solid, and the house's own framing."""

    things: tuple[HiddenThing, ...]
    solids: Crowd
    framing: Crowd


def standing(things: Iterable[HiddenThing], shell: Iterable[Part]) -> Standing:
    """Return hidden things and the house's framing, which carries board as well, ready for many faces to ask."""
    rows = [(thing, solid.bounds()) for thing in things for solid in thing.solids]
    framing = crowd(part.solid.bounds() for part in shell if part.role in FRAMING_ROLES)
    return Standing(tuple(thing for thing, _ in rows), crowd(box for _, box in rows), framing)


def behind_faces(assembly: Assembly, key: str, around: Standing) -> Iterator[FaceBehind]:
    """Yield what is behind every face of *assembly* that looks into a room."""
    pairs = zip(assembly.parts, assembly.boxes(), strict=True)
    own = (box for part, box in pairs if part.role in FRAMING_ROLES)
    framing = crowd(own)
    for face in assembly.faces:
        if not face.room:
            continue
        placed = _placed(assembly, face)
        layer = placed.behind(FRAMING_DEPTH)
        near = [c.boxes[number] for c in (framing, around.framing) for number in c.near(layer)]
        members, lying = _members(near, placed)
        yield FaceBehind(
            name=face.name,
            room=face.room,
            obstacle=key,
            overhead=placed.axis == "z",
            along_way="north" if placed.axis == "x" else "east",
            along=placed.along,
            up=placed.up,
            members=members,
            members_lie=lying,
            members_known=assembly.known,
            things=tuple(sorted(_things(placed, around), key=lambda b: (b.along, b.up, b.what))),
        )


@dataclass(frozen=True, slots=True)
class _Placed:
    """A face on the level's axes."""

    axis: Axis
    at: Fraction
    toward: int
    along: tuple[Fraction, Fraction]
    up: tuple[Fraction, Fraction]

    def behind(self, deep: Fraction) -> Box:
        """Return the box from the face to so many inches behind it."""
        first, second = ACROSS[self.axis]
        through = sorted((self.at, self.at - self.toward * deep))
        spans = {self.axis: (through[0], through[1]), first: self.along, second: self.up}
        return Box(Point(*(spans[axis][0] for axis in AXES)), Point(*(spans[axis][1] for axis in AXES)))


def _placed(assembly: Assembly, face: Face) -> _Placed:
    thin = Prism(face.outline, face.axis, face.at, face.at)
    frame = assembly.frame
    solid = frame.solid_to_level(thin)
    axis: Axis = solid.axis if isinstance(solid, Prism) else face.axis
    toward = face.toward * (frame.off if face.axis == "y" else 1)
    box, (first, second) = solid.bounds(), ACROSS[axis]
    along, up = ((box.low.on(a), box.high.on(a)) for a in (first, second))
    return _Placed(axis, box.low.on(axis), toward, along, up)


def _things(face: _Placed, around: Standing) -> Iterator[Behind]:
    """Yield each thing behind a face once for every stretch of it; pieces that touch are one stretch."""
    pieces: dict[str, list[Behind]] = {}
    first, second = ACROSS[face.axis]
    for number in around.solids.near(face.behind(DEEPEST)):
        thing, box = around.things[number], around.solids.boxes[number]
        near = box.high.on(face.axis) if face.toward > 0 else box.low.on(face.axis)
        depth = (face.at - near) * face.toward
        if 0 <= depth <= DEEPEST:
            along = _overlap(face.along, (box.low.on(first), box.high.on(first)))
            up = _overlap(face.up, (box.low.on(second), box.high.on(second)))
            if along and up:
                pieces.setdefault(thing.key, []).append(Behind(thing.what, thing.trade, along, up, depth, thing.known))
    for found in pieces.values():
        yield from _joined(found)


def _joined(pieces: list[Behind]) -> list[Behind]:
    """Return the pieces of one thing with those that touch put together; the nearest depth stands for both."""
    joined: list[Behind] = []
    for piece in pieces:
        whole = piece
        for other in [other for other in joined if _touch(whole, other)]:
            joined.remove(other)
            along = (min(whole.along[0], other.along[0]), max(whole.along[1], other.along[1]))
            up = (min(whole.up[0], other.up[0]), max(whole.up[1], other.up[1]))
            whole = replace(whole, along=along, up=up, depth=min(whole.depth, other.depth))
        joined.append(whole)
    return joined


def _touch(one: Behind, other: Behind) -> bool:
    pairs = ((one.along, other.along), (one.up, other.up))
    return all(a[0] <= b[1] and b[0] <= a[1] for a, b in pairs)


def _members(framing: Iterable[Box], face: _Placed) -> tuple[tuple[Fraction, ...], bool]:
    """Return the middles of the members that the face's board is screwed to, and whether they are counted up the face.

    Members that stand across the face are counted along it. Only where there are none, those that lie along it count:
    a tie or a strip has no middle along the face that would tell anybody where the wood is.
    """
    first, second = ACROSS[face.axis]
    carrying = [box for box in framing if _carries(box, face)]
    standing = [box for box in carrying if box.size(second) >= box.size(first)]
    axis, boxes = (first, standing) if standing else (second, carrying)
    middles = {(box.low.on(axis) + box.high.on(axis)) / 2 for box in boxes}
    return tuple(sorted(middles)), bool(carrying) and not standing


def _carries(box: Box, face: _Placed) -> bool:
    near = box.high.on(face.axis) if face.toward > 0 else box.low.on(face.axis)
    if not 0 <= (face.at - near) * face.toward <= FRAMING_DEPTH:
        return False
    first, second = ACROSS[face.axis]
    along = _overlap(face.along, (box.low.on(first), box.high.on(first)))
    return bool(along and _overlap(face.up, (box.low.on(second), box.high.on(second))))


def _overlap(one: tuple[Fraction, Fraction], other: tuple[Fraction, Fraction]) -> tuple[Fraction, Fraction] | None:
    low, high = max(one[0], other[0]), min(one[1], other[1])
    return (low, high) if low < high else None

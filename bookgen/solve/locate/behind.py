"""Faces and hidden things in, what is behind each face out: where along, how high, how deep, how it is known."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import Assembly, Face, HiddenThing, Material, Part
from bookgen.model.behind import Behind, FaceBehind, Framed, Looking, Piece, Stretch, is_sure
from bookgen.model.frame import LEVEL, Frame
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import ACROSS, AXES, Axis, Box, Point, Polygon, Prism, Solid
from bookgen.solve.crowd import Crowd, crowd
from bookgen.solve.locate.drilling import ROUND, drilling

DEEPEST = Fraction(16)  # inches behind a face that still matter to somebody who hangs or drills
IN_FRONT = Fraction(4)  # inches before a face that something assumed may stand and still turn out to be behind it
WOOD = frozenset({Material.LUMBER, Material.TREATED, Material.BLOCKING})
CARRIES_NOTHING = frozenset({"fireblock"})  # a leftover, cut to fill a gap
FRAMING_DEPTH = Fraction(1)  # a member this near behind the board carries it
# Which way does somebody look who stands before a face across this axis, seen from its low or high side?
LOOKING: dict[tuple[Axis, bool], Looking] = {
    ("x", True): "west", ("x", False): "east", ("y", True): "south", ("y", False): "north", ("z", False): "up",
}  # fmt: skip

Boarded = tuple[Part, Frame, Box]  # a part, the frame that it is in, and its box on the level


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """What may be behind any face, on the level's axes: things, a row for each solid, and the house's own framing."""

    things: tuple[tuple[HiddenThing, Solid], ...]
    solids: Crowd
    joists: tuple[Part, ...]
    framing: Crowd


def standing(things: Iterable[HiddenThing], shell: Iterable[Part]) -> Standing:
    """Return hidden things and the house's framing, which carries board as well, ready for many faces to ask."""
    rows = tuple((thing, solid) for thing in things for solid in thing.solids)
    joists = tuple(part for part in shell if part.role == "joist")
    boxes = crowd(solid.bounds() for _, solid in rows)
    return Standing(rows, boxes, joists, crowd(part.solid.bounds() for part in joists))


def behind_faces(assembly: Assembly, key: str, around: Standing, step: Fraction) -> Iterator[FaceBehind]:
    """Yield what is behind every face of *assembly* that looks into a room; screws in whole steps of *step* inches."""
    own = crowd(assembly.boxes())
    for face in assembly.faces:
        if not face.room:
            continue
        placed = _placed(assembly, face)
        parts = tuple(_near(placed, assembly, own, around))
        found = tuple(sorted(_things(placed, around), key=lambda b: (b.along, b.up, b.what)))
        allowed = drilling(
            (placed.along, placed.up), assembly.known, _board(placed, parts), found, _unsure(placed, around), step
        )
        yield FaceBehind(
            name=face.name,
            room=face.room,
            obstacle=key,
            overhead=placed.axis == "z",
            along_way="north" if placed.axis == "x" else "east",
            looking=LOOKING.get((placed.axis, placed.toward > 0), "up"),
            at=placed.at,
            along=placed.along,
            up=placed.up,
            outline=placed.outline,
            framing=tuple(_framing(placed, parts)),
            framing_known=assembly.known,
            things=found,
            barred=allowed.barred,
            screw=allowed.screw,
            no_screw=allowed.no_screw,
            unsure=allowed.unsure,
        )


@dataclass(frozen=True, slots=True)
class _Placed:
    """A face on the level's axes."""

    axis: Axis
    at: Fraction
    toward: int
    along: Stretch
    up: Stretch
    outline: Polygon

    def depth(self, box: Box) -> Fraction:
        """Return how far behind the face the near side of a box lies; less than 0 before it."""
        return self.at - box.high.on(self.axis) if self.toward > 0 else box.low.on(self.axis) - self.at

    def takes(self, box: Box, grown: Fraction = Fraction(0)) -> tuple[Stretch, Stretch] | None:
        """Return what a box, with *grown* inches more round it, takes of the face; None where that is nothing."""
        room, (first, second) = box.grown(grown), ACROSS[self.axis]
        along = _overlap(self.along, (room.low.on(first), room.high.on(first)))
        up = _overlap(self.up, (room.low.on(second), room.high.on(second))) if along else None
        return (along, up) if along and up else None

    def piece(self, solid: Solid, frame: Frame, box: Box) -> Piece | None:
        """Return what a solid of a frame and the box round it take of the face; None where that is nothing."""
        taken = self.takes(box)
        return Piece(*taken, self.depth(box), frame.solid_to_level(solid).seen(self.axis)) if taken else None

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
    outline = solid.profile if isinstance(solid, Prism) else face.outline
    toward = face.toward * (frame.off if face.axis == "y" else 1)
    box, (first, second) = solid.bounds(), ACROSS[axis]
    along, up = ((box.low.on(a), box.high.on(a)) for a in (first, second))
    return _Placed(axis, box.low.on(axis), toward, along, up, outline)


def _near(face: _Placed, assembly: Assembly, own: Crowd, around: Standing) -> Iterator[Boarded]:
    """Yield the pieces of the assembly and the joists that are right behind a face or its board itself."""
    layer = face.behind(FRAMING_DEPTH)
    for number in own.near(layer):
        yield assembly.parts[number], assembly.frame, own.boxes[number]
    for number in around.framing.near(layer):
        yield around.joists[number], LEVEL, around.framing.boxes[number]


def _things(face: _Placed, around: Standing) -> Iterator[Behind]:
    """Yield each thing behind a face once for every stretch of it; pieces that touch are one stretch."""
    pieces: dict[str, list[Behind]] = {}
    for number in around.solids.near(face.behind(DEEPEST)):
        (thing, solid), box = around.things[number], around.solids.boxes[number]
        piece = face.piece(solid, LEVEL, box) if 0 <= face.depth(box) <= DEEPEST else None
        if piece is not None:
            one = Behind(
                thing.what, thing.trade, piece.along, piece.up, piece.depth, thing.known, thing.material, (piece,)
            )
            pieces.setdefault(thing.key, []).append(one)
    for found in pieces.values():
        yield from _joined(found)


def _unsure(face: _Placed, around: Standing) -> Iterator[str]:
    """Yield what is planned or assumed so near to a face that it may turn out to be behind it."""
    for number in around.solids.near(face.behind(DEEPEST).grown(max(ROUND.values()))):
        (thing, _), box = around.things[number], around.solids.boxes[number]
        if is_sure(thing.known):
            continue
        if -IN_FRONT <= face.depth(box) <= DEEPEST and face.takes(box, ROUND[thing.known.how]):
            yield thing.what


def _joined(pieces: list[Behind]) -> list[Behind]:
    """Return the pieces of one thing with those that touch put together; the nearest depth stands for both."""
    joined: list[Behind] = []
    for piece in pieces:
        whole = piece
        for other in [other for other in joined if _touch(whole, other)]:
            joined.remove(other)
            along = (min(whole.along[0], other.along[0]), max(whole.along[1], other.along[1]))
            up = (min(whole.up[0], other.up[0]), max(whole.up[1], other.up[1]))
            both = (*other.pieces, *whole.pieces)
            whole = replace(whole, along=along, up=up, depth=min(whole.depth, other.depth), pieces=both)
        joined.append(whole)
    return [replace(one, pieces=tuple(dict.fromkeys(one.pieces))) if len(one.pieces) > 1 else one for one in joined]


def _touch(one: Behind, other: Behind) -> bool:
    pairs = ((one.along, other.along), (one.up, other.up))
    return all(a[0] <= b[1] and b[0] <= a[1] for a, b in pairs)


def _framing(face: _Placed, parts: Iterable[Boarded]) -> Iterator[Framed]:
    """Yield the wood that the face's board is screwed to."""
    found = dict.fromkeys(
        Framed(part.role, piece)
        for part, frame, box in parts
        if part.material in WOOD and part.role not in CARRIES_NOTHING and 0 <= face.depth(box) <= FRAMING_DEPTH
        for piece in [face.piece(part.solid, frame, box)]
        if piece is not None
    )
    yield from sorted(found, key=lambda one: (one.piece.along, one.piece.up, one.role))


def _board(face: _Placed, parts: Iterable[Boarded]) -> Fraction | None:
    """Return how thick the thinnest board of a face is; None where it has none."""
    return min(
        (box.size(face.axis) for part, _, box in parts
         if part.material is Material.BOARD and face.depth(box) == 0 and face.takes(box)),
        default=None,
    )  # fmt: skip


def _overlap(one: Stretch, other: Stretch) -> Stretch | None:
    low, high = max(one[0], other[0]), min(one[1], other[1])
    return (low, high) if low < high else None

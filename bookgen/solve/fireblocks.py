"""Treatments and what stands round them in, the same treatments with fire blocks cut to the space inside them out.

A soffit is divided across its inside at least every 10 ft, closed at an end that is open to the studs of a wall, and
cut off from studs behind it that no board covers; a chase or a wrapped post is closed where it meets a soffit or the
joists (IRC R302.11, a paraphrase). Blocks are 2 in lumber (IRC R302.11.1, quoted), in pieces round whatever is in the
way; what is left open beside a pipe is packed. Near a pipe for burnt gas no wood is put at all. Every piece is inside
the framing, so no piece meets board, framing or hidden thing.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import replace
from enum import Enum
from math import ceil, floor

from bookgen.model.assembly import SOFFITS, Assembly, HiddenThing, Material, Part
from bookgen.model.exact import Fraction
from bookgen.model.frame import Frame
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import ACROSS, AXES, Axis, Box, Point, Prism, box, box_round
from bookgen.solve.crowd import Crowd, crowd
from bookgen.solve.fireblock_pieces import pieces, rectangles, span, spanned, stock
from bookgen.solve.framing import Stretch

UPRIGHT = frozenset({"chase", "post wrap"})
STUDDED = frozenset({"stud wall", "closet", "utility room", "access opening"})
ROLE = "fireblock"
OPENS = frozenset({"cover", "door", "light", "register"})  # no block behind these: a hand or a lamp goes in there
SKIN = frozenset({"board", "nailer"}) | OPENS  # what bounds no hidden space; nailers go on between the joists beside it
SHEETS = frozenset({Material.BOARD, Material.PANEL})
WOOD = frozenset({Material.LUMBER, Material.TREATED})
THICK = Fraction(3, 2)  # inches: 2 in lumber
CUT_ROUND = Fraction(1, 4)  # inches left round what goes through, to be packed; common practice
FROM_FLUE = Fraction(12)  # inches round a flue that no wood is put into; twice what is asked of a single wall
MARK = Fraction(1, 8)  # inches: room round a pipe is taken out to the next whole mark, so that a cut can be read
NARROW = Fraction(1)  # inches: board this near the end or the back of a soffit closes it
EDGE = Fraction(5, 2)  # inches: the soffit's own board and lowest rail or cleat close that much of the wall
BEHIND = Fraction(8)  # inches behind a soffit where the studs of its wall are looked for


class Where(Enum):
    """What a row of blocks closes; the words begin the names of its pieces."""

    ACROSS = "fire block across its inside"
    END = "fire block at an end"
    WALL = "fire block in the wall behind"
    TOP = "fire block at its top"


@dataclass(frozen=True, slots=True)
class Around:
    """What stands round the treatments: walls, the house, hidden things, which of these are flues, and two figures.

    *joists* is the height of their underside, *apart* how far apart blocks across a soffit may be; inches.
    """

    linings: Sequence[Assembly]
    shell: Sequence[Part]
    things: Sequence[HiddenThing]
    flues: Sequence[HiddenThing]
    joists: Fraction
    apart: Fraction


@dataclass(frozen=True, slots=True, eq=False)
class _Level:
    """The same, ready to be asked: what is taken, where flues want no wood, sheets, studs, framing of soffits."""

    taken: Crowd
    flues: Crowd
    sheets: Crowd
    studs: Crowd
    soffits: tuple[Box, ...]
    joists: Fraction
    apart: Fraction


@dataclass(frozen=True, slots=True)
class _Row:
    """A slab of hidden space to be filled, and the axis it lies across."""

    where: Where
    slab: Box
    axis: Axis


def fireblocked(assemblies: Sequence[Assembly], around: Around) -> tuple[Assembly, ...]:
    """Return the assemblies, the soffits, chases and post wraps among them with their fire blocks."""
    level = _level(assemblies, around)
    return tuple(_with(one, level) for one in assemblies)


def blocks(assembly: Assembly) -> dict[Where, tuple[Box, ...]]:
    """Return the boxes, on the level's axes, of the pieces that close each sort of place that the assembly has."""
    found: dict[Where, tuple[Box, ...]] = {}
    for part, own in zip(assembly.parts, assembly.boxes(), strict=True):
        for where in Where:
            if part.role == ROLE and part.name.startswith(where.value):
                found[where] = (*found.get(where, ()), own)
    return found


def _level(assemblies: Sequence[Assembly], around: Around) -> _Level:
    every = (*assemblies, *around.linings)
    walls = [(part, own) for one in every if one.treatment in STUDDED for part, own in _placed(one)]
    sheets = [own for one in every for part, own in _placed(one) if part.material in SHEETS]
    soffits = tuple(framing for one in assemblies if one.treatment in SOFFITS for framing in [_framing(one)])
    studs = (own for part, own in walls if part.material in WOOD)
    taken = crowd(_taken(every, around))
    flues = crowd(solid.bounds().grown(FROM_FLUE) for thing in around.flues for solid in thing.solids)
    return _Level(taken, flues, crowd(sheets), crowd(studs), soffits, around.joists, around.apart)


def _taken(every: Sequence[Assembly], around: Around) -> Iterator[Box]:
    """Yield what blocks leave free: every part, room kept free for people, and hidden things with room round them."""
    for one in every:
        yield from one.boxes()
        yield from (one.frame.box_to_level(space.solid.bounds()) for space in one.spaces)
    yield from (part.solid.bounds() for part in around.shell)
    for thing in around.things:
        room = max(thing.clearance, CUT_ROUND)
        yield from (_out_to_marks(solid.bounds().grown(room)) for solid in thing.solids)


def _out_to_marks(own: Box) -> Box:
    low = Point(*(floor(own.low.on(axis) / MARK) * MARK for axis in AXES))
    return Box(low, Point(*(ceil(own.high.on(axis) / MARK) * MARK for axis in AXES)))


def _with(one: Assembly, level: _Level) -> Assembly:
    named = [
        (f"{row.where.value}, piece", piece, row.axis)
        for row in _rows(one, level)
        if not level.flues.meeting(row.slab)
        for piece in pieces(row.slab, row.axis, level.taken)
    ]
    blocks = tuple(_part(one.frame, f"{name} {n}", piece, axis) for n, (name, piece, axis) in enumerate(named, 1))
    return replace(one, parts=(*one.parts, *blocks)) if blocks else one


def _rows(one: Assembly, level: _Level) -> Iterator[_Row]:
    if one.treatment in SOFFITS:
        yield from _across(one, level)
        yield from _ends(one, level)
        if one.treatment == "wall soffit":
            yield from _behind(one, level)
    elif one.treatment in UPRIGHT:
        space = _framing(one)
        top = min((*(soffit.low.z for soffit in level.soffits if _over(soffit, space)), space.high.z, level.joists))
        if top - THICK > space.low.z:
            yield _Row(Where.TOP, _cut(space, "z", (top - THICK, top)), "z")


def _across(one: Assembly, level: _Level) -> Iterator[_Row]:
    """Yield a row for each place where a long soffit is divided: hard by a rung, never behind what opens."""
    axis = one.frame.along
    low, high = span(_framing(one), axis)
    opened = [span(own.grown(THICK), axis) for part, own in _placed(one) if part.role in OPENS]
    ends = sorted({own.high.on(axis) for part, own in _placed(one) if part.role == "rung"})
    starts = [at for at in ends if not any(at < other[1] and other[0] < at + THICK for other in opened)]
    while high - low > level.apart:
        target = low + (high - low) / ceil((high - low) / level.apart)
        near = [at for at in starts if low < at <= low + level.apart and at + THICK < high]
        if not near:
            return
        start = min(near, key=lambda at: (abs(at - target), at))
        low = start + THICK
        yield _Row(Where.ACROSS, _section(one, axis, (start, low)), axis)


def _ends(one: Assembly, level: _Level) -> Iterator[_Row]:
    """Yield a row at each end that no board closes and that a wall's studs stand against."""
    axis = one.frame.along
    low, high = span(_framing(one), axis)
    for at, inward in ((low, 1), (high, -1)):
        slab = _section(one, axis, _ordered(at, at + inward * THICK))
        closing = [own for own in _found(level.sheets, _cut(slab, axis, (at - NARROW, at + NARROW))) if
                   own.size(axis) <= NARROW]  # fmt: skip
        first, second = ACROSS[axis]
        bare = rectangles((span(slab, first), span(slab, second)), [(span(o, first), span(o, second)) for o in closing])
        beyond = _ordered(at, at - inward * NARROW)
        if any(level.studs.meeting(spanned({axis: beyond, first: u, second: v})) for u, v in bare):
            yield _Row(Where.END, slab, axis)


def _behind(one: Assembly, level: _Level) -> Iterator[_Row]:
    """Yield a row between the studs behind a soffit wherever no board runs up behind it."""
    space, axis = _framing(one), one.frame.along
    off: Axis = "y" if axis == "x" else "x"
    wall = space.high.on(off) if one.frame.off < 0 else space.low.on(off)
    near = [own for own in _found(level.sheets, space.grown(NARROW)) if own.size(off) <= NARROW]
    closing = sorted(
        span(own, axis) for own in near if own.low.z <= space.low.z + EDGE and own.high.z >= space.high.z - NARROW
    )
    reached = space.low.on(axis)
    for low, high in (*closing, (space.high.on(axis), space.high.on(axis))):
        if low - reached >= NARROW:
            gap = _cut(_cut(space, axis, (reached, low)), off, _ordered(wall, wall - one.frame.off * BEHIND))
            upright = [own for own in _found(level.studs, gap) if own.size("z") > own.size(axis)]
            yield from _bays(one, gap, upright, (axis, off))
        reached = max(reached, high)


def _bays(one: Assembly, gap: Box, studs: list[Box], axes: tuple[Axis, Axis]) -> Iterator[_Row]:
    """Yield a row in each bay between the studs of a gap, at the underside of the soffit there; it may step."""
    axis, off = axes
    if not studs:
        return
    deep = (min(own.low.on(off) for own in studs), max(own.high.on(off) for own in studs))
    sides = sorted(span(own, axis) for own in studs)
    low, high = span(gap, axis)
    for start, end in itertools.pairwise([low, *(side for stud in sides for side in stud if low < side < high), high]):
        stretch = (start, end)
        if not any(side[0] <= start and end <= side[1] for side in sides):
            bottom = _section(one, axis, stretch).low.z
            yield _Row(Where.WALL, _cut(_cut(_cut(gap, axis, stretch), off, deep), "z", (bottom, bottom + THICK)), "z")


def _placed(one: Assembly) -> Iterator[tuple[Part, Box]]:
    return zip(one.parts, one.boxes(), strict=True)


def _framing(one: Assembly) -> Box:
    return box_round(own for part, own in _placed(one) if part.role not in SKIN)


def _section(one: Assembly, axis: Axis, stretch: Stretch) -> Box:
    """Return the inside of a soffit over a stretch of its run: its framing may step along it."""
    low, high = stretch
    there = [
        own
        for part, own in _placed(one)
        if part.role not in SKIN and own.low.on(axis) < high and low < own.high.on(axis)
    ]
    return _cut(box_round(there) if there else _framing(one), axis, stretch)


def _over(soffit: Box, chase: Box) -> bool:
    plan: tuple[Axis, Axis] = ("x", "y")
    return all(soffit.low.on(axis) < chase.high.on(axis) and chase.low.on(axis) < soffit.high.on(axis) for axis in plan)


def _found(row: Crowd, own: Box) -> list[Box]:
    return [row.boxes[number] for number in row.meeting(own)]


def _ordered(one: Fraction, other: Fraction) -> Stretch:
    return min(one, other), max(one, other)


def _cut(space: Box, axis: Axis, stretch: Stretch) -> Box:
    """Return a box with another stretch of one axis."""
    return spanned({one: stretch if one == axis else span(space, one) for one in AXES})


def _part(frame: Frame, name: str, piece: Box, across: Axis) -> Part:
    """Return a block: its grain along its longer side, of the narrowest stock that covers the other one."""
    first, second = ACROSS[across]
    grain, side = (first, second) if piece.size(first) >= piece.size(second) else (second, first)
    solid = frame.solid_from_level(box(span(piece, "x"), span(piece, "y"), span(piece, "z"), grain))
    assert isinstance(solid, Prism)  # noqa: S101  (a box stays one)
    return Part(name, ROLE, solid, Material.BLOCKING, stock(piece.size(side)))

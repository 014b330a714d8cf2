"""Treatments and what is hidden in, the same treatments with fire blocks cut to the space left inside them out.

A soffit is divided across its inside at least every 10 ft (IRC R302.11, a paraphrase), each block hard by a rung that
it is nailed to; a chase is closed where its space meets that of a soffit or the joists. Blocks are 2 in lumber (IRC
R302.11.1, quoted), in pieces round whatever is in the way; what is left open beside a pipe is packed. Every piece is
inside the framing, so no piece meets board, framing or hidden thing.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil

from bookgen.model.assembly import Assembly, HiddenThing, Material, Part
from bookgen.model.geometry import ACROSS, AXES, Axis, Box, Point, Prism, box
from bookgen.solve.crowd import Crowd, crowd
from bookgen.solve.framing import Stretch, true_size
from bookgen.trade.limits import limits

LEVEL = frozenset({"wall soffit", "hung soffit", "beam soffit"})
ROLE = "fireblock"
OUTSIDE = frozenset({"board", "cover", "door", "light", "register"})  # what is no framing of a soffit or chase
THICK = Fraction(3, 2)  # inches: 2 in lumber
LEAST = Fraction(1)  # inches: a narrower gap is packed, not blocked
STOCKS = ("2x4", "2x6", "2x8", "2x10", "2x12")
CUT_ROUND = Fraction(1, 4)  # inches left round what goes through, to be packed; common practice
Cell = tuple[Stretch, Stretch]


def fireblocked(
    assemblies: Sequence[Assembly], things: Iterable[HiddenThing], joists: Fraction
) -> tuple[Assembly, ...]:
    """Return the assemblies, the soffits and chases among them with their fire blocks."""
    spacing = _spacing()
    taken = _taken(assemblies, things)
    soffits = [(_framing(one), one) for one in assemblies if one.treatment in LEVEL]
    return tuple(
        _with(one, taken, list(_slabs(one, spacing, [space for space, _ in soffits], joists))) for one in assemblies
    )


def _spacing() -> Fraction:
    row = limits().editions("fireblock-spacing")[0]
    assert row.length is not None  # noqa: S101  (the table gives it in feet)
    return row.length.inches


def _taken(assemblies: Iterable[Assembly], things: Iterable[HiddenThing]) -> Crowd:
    """Return what a block has to leave free: every part of every treatment, and hidden things with room round them."""
    parts = (one.frame.solid_to_level(part.solid).bounds() for one in assemblies for part in one.parts)
    rooms = (s.bounds().grown(max(CUT_ROUND, thing.clearance)) for thing in things for s in thing.solids)
    return crowd((*parts, *rooms))


def _with(one: Assembly, taken: Crowd, slabs: list[tuple[Box, Axis]]) -> Assembly:
    pieces = [piece for slab, axis in slabs for piece in _pieces(slab, axis, taken)]
    blocks = tuple(_part(one, number, piece, axis) for number, (piece, axis) in enumerate(pieces, 1))
    return replace(one, parts=(*one.parts, *blocks)) if blocks else one


def _slabs(one: Assembly, spacing: Fraction, soffits: list[Box], joists: Fraction) -> Iterator[tuple[Box, Axis]]:
    """Yield the space that each row of blocks fills, on the level's axes, and the axis it lies across."""
    if one.treatment in LEVEL:
        yield from _across(one, spacing)
    elif one.treatment == "chase":
        space = _framing(one)
        tops = [soffit.low.z for soffit in soffits if _over(soffit, space)]
        top = min((*tops, space.high.z, joists))
        if top - THICK > space.low.z:
            yield _cut(space, "z", (top - THICK, top)), "z"


def _across(one: Assembly, spacing: Fraction) -> Iterator[tuple[Box, Axis]]:
    """Yield a slab for each place where a long soffit is divided: hard by the rung nearest to it."""
    space, axis = _framing(one), one.frame.along
    low, high = space.low.on(axis), space.high.on(axis)
    bays = ceil((high - low) / spacing)
    rungs = sorted({_stretch(one, part, axis) for part in one.parts if part.role == "rung"})
    for number in range(1, bays):
        target = low + (high - low) * number / bays
        after = [rung[1] for rung in rungs if rung[1] + THICK < high]
        if after:
            start = min(after, key=lambda at: (abs(at - target), at))
            yield _cut(space, axis, (start, start + THICK)), axis


def _stretch(one: Assembly, part: Part, axis: Axis) -> Stretch:
    own = one.frame.solid_to_level(part.solid).bounds()
    return own.low.on(axis), own.high.on(axis)


def _framing(one: Assembly) -> Box:
    boxes = [one.frame.solid_to_level(part.solid).bounds() for part in one.parts if part.role not in OUTSIDE]
    whole = boxes[0]
    for own in boxes[1:]:
        whole = whole.joined(own)
    return whole


def _over(soffit: Box, chase: Box) -> bool:
    plan: tuple[Axis, Axis] = ("x", "y")
    return all(soffit.low.on(axis) < chase.high.on(axis) and chase.low.on(axis) < soffit.high.on(axis) for axis in plan)


def _cut(space: Box, axis: Axis, stretch: Stretch) -> Box:
    """Return the part of a space that lies in a stretch of an axis."""
    low = {one: stretch[0] if one == axis else space.low.on(one) for one in AXES}
    high = {one: stretch[1] if one == axis else space.high.on(one) for one in AXES}
    return Box(Point(*(low[one] for one in AXES)), Point(*(high[one] for one in AXES)))


def _pieces(slab: Box, axis: Axis, taken: Crowd) -> Iterator[tuple[Box, Axis]]:
    """Yield the boxes that fill what is free of a slab, none wider than the widest stock."""
    first, second = ACROSS[axis]
    inside = [taken.boxes[number] for number in taken.meeting(slab)]
    cells = _free((_span(slab, first), _span(slab, second)), [(_span(b, first), _span(b, second)) for b in inside])
    for cell in cells:
        for u, v in _narrowed(cell):
            spans = {axis: _span(slab, axis), first: u, second: v}
            low, high = (Point(*(spans[one][end] for one in AXES)) for end in (0, 1))
            yield Box(low, high), axis


def _span(own: Box, axis: Axis) -> Stretch:
    return own.low.on(axis), own.high.on(axis)


def _free(whole: Cell, taken: list[Cell]) -> list[Cell]:
    """Return rectangles that fill what is left of a rectangle, each as tall as it can be; slivers are left out."""
    (u1, u2), (v1, v2) = whole
    us = sorted({u1, u2, *(end for (us, _) in taken for end in us if u1 < end < u2)})
    vs = sorted({v1, v2, *(end for (_, vs_) in taken for end in vs_ if v1 < end < v2)})
    open_: list[Cell] = []
    for low, high in itertools.pairwise(us):
        start: Fraction | None = None
        for bottom, top in itertools.pairwise(vs):
            hit = any(a[0] < high and low < a[1] and b[0] < top and bottom < b[1] for a, b in taken)
            if hit and start is not None:
                open_.append(((low, high), (start, bottom)))
            start = None if hit else bottom if start is None else start
        if start is not None:
            open_.append(((low, high), (start, v2)))
    joined: list[Cell] = []
    for cell in open_:
        if joined and joined[-1][1] == cell[1] and joined[-1][0][1] == cell[0][0]:
            joined[-1] = ((joined[-1][0][0], cell[0][1]), cell[1])
        else:
            joined.append(cell)
    return [cell for cell in joined if all(end - start >= LEAST for start, end in cell)]


def _narrowed(cell: Cell) -> Iterator[Cell]:
    """Yield a rectangle whole, or in equal strips that the widest stock covers."""
    (u1, u2), (v1, v2) = cell
    widest = (true_size(STOCKS[-1]) or (Fraction(0), Fraction(1)))[1]
    if min(u2 - u1, v2 - v1) <= widest:
        yield cell
        return
    strips = ceil((u2 - u1) / widest)
    for number in range(strips):
        yield (u1 + (u2 - u1) * number / strips, u1 + (u2 - u1) * (number + 1) / strips), (v1, v2)


def _part(one: Assembly, number: int, piece: Box, across: Axis) -> Part:
    """Return a block: its grain along its longer side, of the narrowest stock that covers the other one."""
    first, second = ACROSS[across]
    grain, side = (first, second) if piece.size(first) >= piece.size(second) else (second, first)
    stock = next(name for name in STOCKS if (true_size(name) or (0, Fraction(0)))[1] >= piece.size(side))
    solid = box(_span(piece, "x"), _span(piece, "y"), _span(piece, "z"), grain)
    own = one.frame.solid_from_level(solid)
    assert isinstance(own, Prism)  # noqa: S101  (a box stays one)
    return Part(f"fire block {number}", ROLE, own, Material.BLOCKING, stock)

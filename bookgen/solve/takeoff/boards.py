"""Faces to be boarded and the sheets a yard sells in, joints, cuts and sheets to buy out, with a bound by area.

The plan is a good one, found by trying: shorter board makes more joints and less waste, longer board the other way
round. Gypsum board is scored and snapped, so cuts take nothing off.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import ceil

from bookgen.model.cutting import Aim
from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.model.sheets import BoardFace, BoardPlan, BoughtSheet, FaceLayout, Patch, SheetCut, SheetSize
from bookgen.solve.takeoff.layouts import lay_out
from bookgen.solve.takeoff.nesting import Laid, Nested, Size, Way, nest, ways
from bookgen.solve.takeoff.ticks import common

Layouts = tuple[FaceLayout, ...]
FINALISTS = 2  # layouts that are tried in every way


def plan_boards(faces: Iterable[BoardFace], sheets: Iterable[SheetSize]) -> BoardPlan:
    """Return the layouts, cuts and sheets of all faces of one board.

    It goes by cost, or by area where not every size has a price; of equals the one with the fewest joints is kept.
    """
    listed, sold = tuple(faces), tuple(dict.fromkeys(sheets))
    priced = bool(sold) and all(sheet.price is not None for sheet in sold)
    aim = Aim.COST if priced else Aim.AREA
    if not listed or not sold:
        why = tuple(f"{face.name}: no sheet is on sale" for face in listed)
        return BoardPlan((), (), aim, Fraction(0), Fraction(0), why)
    prices = {sheet: sheet.price if priced and sheet.price is not None else sheet.area() for sheet in sold}
    order = tuple(sorted(sold, key=lambda sheet: (prices[sheet], sheet.long, sheet.wide)))
    candidates = [_layouts(listed, wide, longest) for wide, longest in _boards(sold)]
    yard = _Yard(order, tuple(prices[sheet] for sheet in order), _tick(order, candidates))
    layouts, nested = yard.best(candidates)
    return BoardPlan(layouts, yard.diagrams(layouts, nested), aim, yard.cost(nested), yard.bound(layouts), ())


def _boards(sold: Iterable[SheetSize]) -> list[tuple[Length, Length]]:
    """Return the boards that faces may be laid out in: each width with each length sold of it, the longest first."""
    return sorted({(sheet.wide, sheet.long) for sheet in sold}, key=lambda board: (board[1], board[0]), reverse=True)


def _layouts(faces: Iterable[BoardFace], wide: Length, longest: Length) -> Layouts:
    return tuple(lay_out(face, wide, longest) for face in faces)


@dataclass(frozen=True, slots=True)
class _Yard:
    """The sheets on sale, the cheapest first, their prices, and the length that goes into every side a whole time."""

    sheets: tuple[SheetSize, ...]
    prices: tuple[Fraction, ...]
    tick: Fraction

    def best(self, candidates: Sequence[Layouts]) -> tuple[Layouts, list[Nested]]:
        """Return the layouts that come out cheapest, and their sheets; a quick try picks those worth every way."""
        every = ways(len(self.sheets))
        quick = every[:: 2 * len(self.sheets)]  # one of each order
        scores = [(self._score(layouts, self._nest(layouts, quick)), n) for n, layouts in enumerate(candidates)]
        finalists = [candidates[number] for _, number in sorted(scores)[:FINALISTS]]
        return min(
            ((layouts, self._nest(layouts, every)) for layouts in finalists), key=lambda found: self._score(*found)
        )

    def cost(self, nested: Iterable[Nested]) -> Fraction:
        """Return what some sheets cost."""
        return sum((self.prices[row.sheet] for row in nested), Fraction(0))

    def bound(self, layouts: Layouts) -> Fraction:
        """Return what the bare area would take of the sheet with the best price for its area, in whole steps."""
        area = sum((piece.area() for _, piece in _pieces(layouts)), Fraction(0))
        rate = min(price / sheet.area() for sheet, price in zip(self.sheets, self.prices, strict=True))
        step = common(self.prices)
        return ceil(area * rate / step) * step

    def diagrams(self, layouts: Layouts, nested: Iterable[Nested]) -> tuple[BoughtSheet, ...]:
        """Return the sheets, those cut alike together, the largest first."""
        names = [name for name, _ in _pieces(layouts)]
        alike: dict[tuple[int, tuple[Patch, ...]], list[list[str]]] = {}
        for row in nested:
            cuts = sorted(row.laid, key=lambda laid: (laid.corner, laid.size))
            key = (row.sheet, tuple(map(self._patch, cuts)))
            alike.setdefault(key, []).append([names[laid.piece] for laid in cuts])
        order = sorted(alike, key=lambda key: (-key[0], [(p.left, p.foot, p.right, p.top) for p in key[1]]))
        return tuple(
            BoughtSheet(
                self.sheets[sheet],
                len(alike[sheet, patches]),
                tuple(map(SheetCut, patches, zip(*alike[sheet, patches], strict=True))),
            )
            for sheet, patches in order
        )

    def _score(self, layouts: Layouts, nested: Iterable[Nested]) -> tuple[int, Fraction, int]:
        unbacked = sum(len(layout.unbacked) for layout in layouts)
        return unbacked, self.cost(nested), sum(len(layout.joints) for layout in layouts)

    def _nest(self, layouts: Layouts, tried: Iterable[Way]) -> list[Nested]:
        sizes = [self._size(piece.wide(), piece.high()) for _, piece in _pieces(layouts)]
        step = common(self.prices)
        costs = [int(price / step) for price in self.prices]
        return nest(sizes, [self._size(sheet.long, sheet.wide) for sheet in self.sheets], costs, tried)

    def _size(self, along: Length, across: Length) -> Size:
        return int(along.inches / self.tick), int(across.inches / self.tick)

    def _patch(self, laid: Laid) -> Patch:
        (x, y), (along, across) = laid.corner, laid.size
        return Patch(*(Length(ticks * self.tick) for ticks in (x, x + along, y, y + across)))


def _tick(sheets: Iterable[SheetSize], candidates: Iterable[Layouts]) -> Fraction:
    sides = [side.inches for sheet in sheets for side in (sheet.long, sheet.wide)]
    for layouts in candidates:
        for _, piece in _pieces(layouts):
            sides += [piece.wide().inches, piece.high().inches]
    return common(sides)


def _pieces(layouts: Layouts) -> list[tuple[str, Patch]]:
    """Return every piece with its name: that of its face, and its number there where the face has more than one."""
    return [
        (layout.face.name if len(layout.pieces) == 1 else f"{layout.face.name}, board {number}", piece)
        for layout in layouts
        for number, piece in enumerate(layout.pieces, 1)
    ]

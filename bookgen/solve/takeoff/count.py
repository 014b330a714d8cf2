"""Assemblies in, the number of equal pieces and the total of each stock out; nothing is bought whole here.

Sticks count by length, board by area. What is not cut from stock (a light, a register) is not counted.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from fractions import Fraction

from bookgen.model.assembly import Assembly, Material, Part
from bookgen.model.geometry import Prism
from bookgen.model.length import Length
from bookgen.model.solved import PieceCount, StockTotal, Takeoff

SHEETS = frozenset({Material.BOARD, Material.PANEL})


def count(assemblies: Iterable[Assembly]) -> Takeoff:
    """Return pieces by obstacle, role, stock and length, the longest first, and totals by stock."""
    pieces: Counter[tuple[str, str, str, Length]] = Counter()
    numbers: Counter[str] = Counter()
    lengths: dict[str, Fraction] = {}
    areas: dict[str, Fraction] = {}
    for assembly in assemblies:
        for part in assembly.parts:
            if not part.stock:
                continue
            pieces[assembly.key, part.role, part.stock, cut_length(part)] += 1
            numbers[part.stock] += 1
            if part.material in SHEETS:
                areas[part.stock] = areas.get(part.stock, Fraction(0)) + area(part)
            else:
                lengths[part.stock] = lengths.get(part.stock, Fraction(0)) + part.length().inches
    order = sorted(pieces, key=lambda row: (row[0], row[2], row[1], -row[3].inches))
    return Takeoff(
        tuple(PieceCount(*row, pieces[row]) for row in order),
        tuple(
            StockTotal(stock, numbers[stock], Length(lengths[stock]) if stock in lengths else None, areas.get(stock))
            for stock in sorted(numbers)
        ),
    )


def cut_length(part: Part) -> Length:
    """Return the length that a piece is listed by: along the grain, or of a sheet its longer side."""
    if part.material in SHEETS and isinstance(part.solid, Prism):
        (u1, v1), (u2, v2) = part.solid.profile.bounds()
        return Length(max(u2 - u1, v2 - v1))
    return part.length()


def area(part: Part) -> Fraction:
    """Return the area of a sheet in square inches."""
    return part.solid.profile.area() if isinstance(part.solid, Prism) else Fraction(0)

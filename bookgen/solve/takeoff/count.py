"""Assemblies in, the number of equal pieces and the total of each stock out; nothing is bought whole here.

Sticks count by length, board by area. What is not cut from stock (a light, a register) is not counted.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from fractions import Fraction

from bookgen.model.assembly import Assembly, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Prism
from bookgen.model.joinery import Joinery
from bookgen.model.length import Length
from bookgen.model.solved import PieceCount, StockTotal, Takeoff
from bookgen.solve.takeoff.joinery import SHEETS, joinery


@dataclass(frozen=True, slots=True)
class _Alike:
    """What pieces have in common that are counted together."""

    obstacle: str
    stock: str
    role: str
    length: Length
    wide: Length | None
    joinery: Joinery
    lengthwise: bool


def count(assemblies: Iterable[Assembly]) -> Takeoff:
    """Return pieces by obstacle, role, stock and length, the longest first, and totals by stock."""
    pieces: dict[_Alike, list[Length]] = {}
    numbers: Counter[str] = Counter()
    lengths: dict[str, Fraction] = {}
    areas: dict[str, Fraction] = {}
    for assembly in assemblies:
        for part in assembly.parts:
            if not part.stock:
                continue
            alike, station = _alike(assembly, part)
            pieces.setdefault(alike, []).append(station)
            numbers[part.stock] += 1
            if part.material in SHEETS:
                areas[part.stock] = areas.get(part.stock, Fraction(0)) + area(part)
            else:
                lengths[part.stock] = lengths.get(part.stock, Fraction(0)) + alike.length.inches
    return Takeoff(
        tuple(_piece(alike, pieces[alike]) for alike in sorted(pieces, key=_order)),
        tuple(
            StockTotal(stock, numbers[stock], Length(lengths[stock]) if stock in lengths else None, areas.get(stock))
            for stock in sorted(numbers)
        ),
    )


def _alike(assembly: Assembly, part: Part) -> tuple[_Alike, Length]:
    """Return what a part is counted with, and its station along the run."""
    box = part.solid.bounds()
    lengthwise = box.size("x") >= max(box.size("y"), box.size("z"))
    station = Length(box.low.x if lengthwise else (box.low.x + box.high.x) / 2)
    length, wide = cut_length(part), _wide(part)
    return _Alike(assembly.key, part.stock, part.role, length, wide, joinery(part), lengthwise), station


def _piece(alike: _Alike, stations: list[Length]) -> PieceCount:
    return PieceCount(
        alike.obstacle,
        alike.role,
        alike.stock,
        alike.length,
        len(stations),
        alike.wide,
        alike.joinery,
        tuple(sorted(stations)),
        alike.lengthwise,
    )


def _order(alike: _Alike) -> tuple[object, ...]:
    wide = alike.wide.inches if alike.wide else Fraction(0)
    ripped = alike.joinery.ripped or ()
    how = (alike.joinery.ends, alike.joinery.notches, ripped, alike.lengthwise)
    return (alike.obstacle, alike.stock, alike.role, -alike.length.inches, -wide, how)


def cut_length(part: Part) -> Length:
    """Return the length that a piece is listed by: along the grain, or of a sheet its longer side."""
    if part.material in SHEETS and isinstance(part.solid, Prism):
        return Length(max(_sides(part.solid)))
    return part.length()


def _wide(part: Part) -> Length | None:
    return Length(min(_sides(part.solid))) if part.material in SHEETS and isinstance(part.solid, Prism) else None


def _sides(solid: Prism) -> tuple[Fraction, Fraction]:
    (u1, v1), (u2, v2) = solid.profile.bounds()
    return u2 - u1, v2 - v1


def area(part: Part) -> Fraction:
    """Return the area of a sheet in square inches."""
    return part.solid.profile.area() if isinstance(part.solid, Prism) else Fraction(0)

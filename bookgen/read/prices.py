"""The values of the price list in; stock that no table knows, and prices without the size they are for, out."""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.problem import Problem
from bookgen.model.project import Plain
from bookgen.read.near import listed
from bookgen.read.source import Path, Source
from bookgen.trade.stock import Unit, near, sold_as

SIZED = {Unit.STICK: ("length", "8 ft"), Unit.SHEET: ("sheet", "48 x 96 in")}


def price_problems(source: Source | None) -> Iterator[Problem]:
    """Yield a Problem for each stock that the table does not hold, and for each price of it that says too little."""
    stock = source.at(("stock",)) if source else None
    if source is None or not isinstance(stock, dict):
        return
    for name, sold in stock.items():
        path: Path = ("stock", name)
        items = sold_as(name)
        if not items:
            close = " or ".join(near(name))
            repair = f"did you mean {close}?" if close else "write it such as 2x4, 1/2 in gypsum board or corner bead"
            yield source.key_problem("unknown-stock", path, "the stock table holds nothing of this name", repair)
        elif isinstance(sold, tuple):
            yield from _unsized(source, path, sold, items[0].unit, one=len(items) == len(items[0].lengths) == 1)


def _unsized(source: Source, path: Path, sold: tuple[Plain, ...], unit: Unit, *, one: bool) -> Iterator[Problem]:
    """Yield a Problem where a stick has no length, a sheet no size, or another thing has either.

    *one* is true for what comes in a single size, which need not be said again.
    """
    wanted, example = SIZED.get(unit, ("", ""))
    for number, row in enumerate(sold):
        if not isinstance(row, dict):
            continue
        here = (*path, number)
        if wanted and wanted not in row and not one:
            yield source.problem(
                "price-size", here, f"a {unit} has a price for each size", f"add {wanted}: such as {wanted}: {example}"
            )
        other = [key for key in ("length", "sheet") if key in row and key != wanted]
        if other:
            what = f"a {unit}" if wanted else f"this is sold by the {unit}, not by its size"
            rule = f"{what} has no {other[0]}" if wanted else what
            repair = f"write {wanted}: instead" if wanted else f"leave {listed(other)} out"
            yield source.problem("price-size", (*here, other[0]), rule, repair)

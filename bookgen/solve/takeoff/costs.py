"""Everything to buy and the price list in, the bill out: line by line, in all, and what each obstacle takes of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

from bookgen.model.buying import Buying, CostRow, Costs, Sheets, Sticks
from bookgen.solve.takeoff.faces import Covered
from bookgen.solve.takeoff.yard import Yard

Weights = dict[str, Fraction]


def costs(buying: Buying, faces: Iterable[Covered], yard: Yard) -> Costs | None:
    """Return the bill; None without a price list.

    An obstacle's share of a stock is its share of the lengths or areas cut from it, so that the shares make the sum.
    """
    prices = yard.prices
    if prices is None:
        return None
    listed = tuple(faces)
    rows: list[CostRow] = []
    unpriced: list[str] = []
    shares: Weights = {}
    for stock, found, weights in _bills(buying, listed, yard):
        if not found:
            unpriced.append(stock)
            continue
        rows += found
        _share(shares, weights, sum((row.amount() for row in found), Fraction(0)))
    return Costs(
        prices.yard,
        prices.on,
        prices.money,
        tuple(rows),
        tuple(sorted(shares.items())),
        tuple(dict.fromkeys(unpriced)),
    )


def _bills(
    buying: Buying, faces: tuple[Covered, ...], yard: Yard
) -> Iterator[tuple[str, list[CostRow], Mapping[str, Fraction]]]:
    """Yield each stock with its lines, none where it has no price, and what each obstacle takes of it."""
    for sticks in buying.sticks:
        bought = sticks.plan.buying()
        if bought:
            rows = [CostRow(sticks.stock, s.length, None, count, s.price) for s, count in bought if s.price is not None]
            yield sticks.stock, rows if len(rows) == len(bought) else [], _lengths(sticks)
    for sheets in buying.sheets:
        sold = sheets.plan.buying()
        if sold:
            rows = [CostRow(sheets.stock, s.long, s.wide, n, s.price) for s, n in sold if s.price is not None]
            yield sheets.stock, rows if len(rows) == len(sold) else [], _areas(sheets, faces)
    for one in buying.finishing:
        if one.most:
            each = yard.price(one.stock)
            rows = [CostRow(one.stock, None, None, one.most, each)] if each is not None else []
            yield one.stock, rows, _gypsum(faces)


def _lengths(sticks: Sticks) -> Weights:
    found: Weights = {}
    for row in sticks.plan.sticks:
        for cut in row.cuts:
            for share in cut.shares:
                key = share.label.split(" ", 1)[0]
                found[key] = found.get(key, Fraction(0)) + share.count * cut.length.inches
    return found


def _areas(sheets: Sheets, faces: Iterable[Covered]) -> Weights:
    return _summed((face.obstacle, face.area) for face in faces if face.stock == sheets.stock)


def _gypsum(faces: Iterable[Covered]) -> Weights:
    return _summed((face.obstacle, face.area) for face in faces if face.gypsum)


def _summed(pairs: Iterable[tuple[str, Fraction]]) -> Weights:
    found: Weights = {}
    for key, value in pairs:
        found[key] = found.get(key, Fraction(0)) + value
    return found


def _share(shares: Weights, weights: Mapping[str, Fraction], amount: Fraction) -> None:
    whole = sum(weights.values(), Fraction(0))
    for key, weight in weights.items():
        shares[key] = shares.get(key, Fraction(0)) + amount * weight / whole

"""The takeoff in, what the material is made up of by weight, by cost and by count out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from math import floor

from bookgen.compose.show import Show, sentence_case
from bookgen.compose.takeoff import money
from bookgen.model.chart import Chart, Share, Shares
from bookgen.model.solved import Solved
from bookgen.trade.weight import pounds

KILOGRAMS_PER_POUND = Fraction("0.45359237")  # exact, by the international agreement of 1959
ROUGHLY = 10  # pounds or kilograms; densities differ more than that


def share_charts(solved: Solved, show: Show, *ways: str) -> tuple[Chart, ...]:
    """Return a chart for each of the *ways* that can be told here: weight, cost, count.

    None of cost where no price may be told, none at all where there is no takeoff.
    """
    tellers = {"weight": _weight, "cost": _cost, "count": _count}
    return tuple(chart for way in ways for chart in tellers[way](solved, show))


def _weight(solved: Solved, show: Show) -> Iterator[Chart]:
    parts: dict[str, tuple[Fraction, str]] = {}
    left_out = []
    for total in solved.takeoff.totals:
        weight = pounds(total.stock, total.length, total.area)
        if weight is None:
            left_out.append(total.stock)
        else:
            parts[total.stock] = weight, _heavy(weight, show)
    yield from _chart("weight", parts, left_out, show)


def _heavy(weight: Fraction, show: Show) -> str:
    forms = ((show.terms["share pounds"], weight), (show.terms["share kilograms"], weight * KILOGRAMS_PER_POUND))
    return show.tape.either(*(form.format(amount=show.number(_roughly(value))) for form, value in forms))


def _roughly(value: Fraction) -> int:
    return max(floor(value / ROUGHLY + Fraction(1, 2)), 1) * ROUGHLY


def _count(solved: Solved, show: Show) -> Iterator[Chart]:
    parts = {}
    for one in solved.takeoff.totals:
        form = show.terms["share piece" if one.pieces == 1 else "share pieces"]
        parts[one.stock] = Fraction(one.pieces), form.format(count=show.number(one.pieces))
    yield from _chart("count", parts, (), show)


def _cost(solved: Solved, show: Show) -> Iterator[Chart]:
    costs = solved.takeoff.buying.costs if solved.takeoff.buying else None
    if costs is None:
        return
    amounts: dict[str, Fraction] = {}
    for row in costs.rows:
        amounts[row.stock] = amounts.get(row.stock, Fraction(0)) + row.amount()
    parts = {stock: (one, money(one, costs)) for stock, one in amounts.items()}
    yield from _chart("cost", parts, costs.unpriced, show)


def _chart(way: str, parts: Mapping[str, tuple[Fraction, str]], left_out: Iterable[str], show: Show) -> Iterator[Chart]:
    """Yield the chart of some amounts by stock, each with its words; nothing where there are none."""
    whole = sum((amount for amount, _ in parts.values()), Fraction(0))
    if not whole:
        return
    terms = show.terms
    rows = tuple(
        Share(
            sentence_case(show.stock(stock)),
            float(amount / whole),
            _percent(amount / whole, words, show),
        )
        for stock, (amount, words) in sorted(parts.items(), key=lambda one: (-one[1][0], one[0]))
    )
    caption = terms[f"share {way} says"]
    if out := ", ".join(left_out):
        caption = f"{caption} {terms['share leaves out'].format(stocks=out)}"
    desc = "; ".join(f"{row.what}: {row.words}" for row in rows)
    yield Chart(f"share-{way}", terms[f"share {way}"], f"{desc}.", caption, Shares(rows))


def _percent(part: Fraction, words: str, show: Show) -> str:
    percent = floor(100 * part + Fraction(1, 2))
    return show.terms["share of" if percent else "share below"].format(percent=percent or 1, amount=words)

"""No price gets out of the contractor's hands unless somebody asks: a canary in the price list, sought everywhere."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from fractions import Fraction

import pytest

from bookgen.compose import compose, for_edition
from bookgen.model.book import Edition
from bookgen.model.records import Prices
from bookgen.model.solved import Solved
from bookgen.solve import solve
from bookgen.solve.takeoff.buy import buy
from tests.solve.house import project

CANARY = Fraction("7717.13")
LIST = {
    "yard": "Canary Yard",
    "on": "2026-03-02",
    "money": "₡",
    "stock": {
        "2x4": ({"length": "16 ft", "price": "7717.13"}, {"length": "8 ft", "price": "7717.13"}),
        "1/2 in gypsum board": ({"sheet": "48 x 96 in", "price": "7717.13"},),
        "joint compound": ({"price": "7717.13"},),
    },
}


@pytest.fixture(scope="module")
def level() -> Solved:
    """Return a small level with a price list of canaries, everything to buy worked out."""
    found, problems = solve(replace(project(), prices=Prices.model_validate(LIST)))
    assert found is not None, problems
    return buy(found)


def told(value: object) -> Iterator[object]:
    """Yield every plain value that is inside a value, however deep."""
    if is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            yield from told(getattr(value, field.name))
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from (*told(key), *told(inner))
    elif isinstance(value, (tuple, list, frozenset, set)):
        for inner in value:
            yield from told(inner)
    elif hasattr(value, "model_dump"):
        yield from told(dict(value))  # type: ignore[call-overload]
    else:
        yield value.value if isinstance(value, Enum) else value


def multiples(level: Solved) -> set[Fraction]:
    """Return every sum of money that the bill of this level holds."""
    costs = level.takeoff.buying.costs if level.takeoff.buying else None
    assert costs is not None
    return {CANARY, costs.total(), *(row.amount() for row in costs.rows), *(amount for _, amount in costs.by_obstacle)}


def leaks(level: Solved, edition: Edition, *, prices: bool) -> list[object]:
    """Return what an edition still knows of the price list, in its data and in its words."""
    known = for_edition(level, edition, prices=prices)
    book = compose(known, {}, None, edition)
    money = multiples(level)
    return [
        value
        for value in (*told(known), *told(book))
        if (isinstance(value, Fraction) and value in money)
        or (isinstance(value, str) and any(word in value for word in ("7717", "7,717", "₡", "Canary Yard")))
    ]


def test_the_canary_sings_where_prices_are_asked_for(level: Solved) -> None:
    """The trade edition with prices holds yard, sign and sums: or the next test would show nothing."""
    found = leaks(level, Edition.TRADE, prices=True)

    assert any(isinstance(value, Fraction) for value in found)
    assert any(isinstance(value, str) and "Canary Yard" in value for value in found)
    assert any(isinstance(value, str) and "₡7,717.13" in value for value in found)


@pytest.mark.parametrize(
    ("edition", "prices"),
    [
        (Edition.OWNER, False),
        (Edition.OWNER, True),
        (Edition.SAMPLE, False),
        (Edition.SAMPLE, True),
        (Edition.TRADE, False),
    ],
)
def test_no_price_reaches_anybody_else(level: Solved, edition: Edition, prices: bool) -> None:
    """Neither a price nor a sum, nor the yard's name, nor the sign of its money is in the data or in a word."""
    assert leaks(level, edition, prices=prices) == []


def test_without_prices_the_same_is_bought(level: Solved) -> None:
    """The list stays as it was planned by cost: the same sticks, cut in the same way, the same share saved."""
    whole, bare = level.takeoff.buying, for_edition(level, Edition.TRADE).takeoff.buying
    assert whole is not None
    assert bare is not None

    for one, other in zip(whole.sticks, bare.sticks, strict=True):
        assert [(s.length, n) for s, n in one.plan.buying()] == [(s.length, n) for s, n in other.plan.buying()]
        assert [row.cuts for row in one.plan.sticks] == [row.cuts for row in other.plan.sticks]
        assert one.saving.share() == other.saving.share()
        assert one.plan.gap() == other.plan.gap()


def test_owner_and_sample_have_no_buying_list(level: Solved) -> None:
    """What to buy is the contractor's business; the owner's chapter sums the material up in words."""
    assert for_edition(level, Edition.OWNER).takeoff.buying is None
    assert for_edition(level, Edition.SAMPLE).takeoff.buying is None

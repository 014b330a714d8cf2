"""Lengths, dates and evidence read as people write them."""

from __future__ import annotations

import datetime
from fractions import Fraction
from typing import Literal

import pytest

from bookgen.compose.show import Show
from bookgen.compose.terms import terms
from bookgen.model.length import Length, inches
from bookgen.model.records.inside import Known
from bookgen.model.records.values import Interval, Size

IMPERIAL = Show("imperial", terms("en"))
METRIC = Show("metric", terms("en"))
BOTH = Show("both", terms("en"))


@pytest.mark.parametrize(
    ("value", "imperial", "metric"),
    [
        ("12.5", "12\u200a1⁄2″", "318\u00a0mm"),
        ("35.9375", "35\u200a15⁄16″", "913\u00a0mm"),
        ("36", "3′\u00a00″", "914\u00a0mm"),
        ("36.25", "3′\u00a00\u200a1⁄4″", "921\u00a0mm"),
        ("76.1875", "6′\u00a04\u200a3⁄16″", "1935\u00a0mm"),
        ("-0.5", "−1⁄2″", "−13\u00a0mm"),
    ],
)
def test_lengths(value: str, imperial: str, metric: str) -> None:
    """Feet stand even with 0 inches (drafting practice, common practice, no source); 1 in is 25.4 mm exactly."""
    assert IMPERIAL.length(inches(value)) == imperial
    assert METRIC.length(inches(value)) == metric


def test_a_half_goes_up_both_ways() -> None:
    """1/32 in over a mark goes to the next mark; so does half a millimetre."""
    assert IMPERIAL.length(Length(Fraction(1, 32))) == "1⁄16″"
    assert METRIC.length(Length(Fraction(5, 254))) == "1\u00a0mm"


def test_size_is_width_by_height() -> None:
    """A cover reads width first."""
    assert IMPERIAL.size(Size(inches(12), inches(14))) == "12″\u00a0×\u00a014″"
    assert METRIC.size(Size(inches(12), inches(14))) == "305\u00a0×\u00a0356\u00a0mm"

    assert BOTH.size(Size(inches(12), inches(14))) == "12″\u00a0×\u00a014″ (305\u00a0×\u00a0356\u00a0mm)"


def test_each_unit_is_rounded_by_itself() -> None:
    """14.6 in are 370.84 mm: to find by tape 14 1/2 in and 370 mm, as a guess 15 in and 375 mm."""
    assert BOTH.about(Fraction("14.6")) == "14\u200a1⁄2″ (370\u00a0mm)"
    assert BOTH.of(Known(how="assumed")).about(Fraction("14.6")) == "about 15″ (375\u00a0mm)"


@pytest.mark.parametrize(
    ("value", "places", "words"),
    [("1234.55", 1, "1,234.6"), ("1234.5", 0, "1,235"), ("3.04", 1, "3"), ("-0.25", 2, "−0.25"), ("-0.4", 0, "0")],
)
def test_numbers(value: str, places: int, words: str) -> None:
    """Thousands and decimals have the signs of the language (CLDR, en); a half goes up, zeros at the end go."""
    assert IMPERIAL.number(Fraction(value), places) == words


@pytest.mark.parametrize(
    ("months", "words"),
    [(1, "every month"), (3, "every 3 months"), (12, "every year"), (18, "every 18 months"), (120, "every 10 years")],
)
def test_intervals(months: int, words: str) -> None:
    """Whole years read as years."""
    assert IMPERIAL.every(Interval(months)) == words


def test_evidence_carries_its_day() -> None:
    """A measured fact says when; an assumed one says that it is."""
    measured = Known.model_construct(how="measured", on=datetime.date(2026, 3, 30), by=None)
    assumed = Known.model_construct(how="assumed", on=None, by=None)
    assert IMPERIAL.known(measured) == "measured March\u00a030, 2026"
    assert IMPERIAL.known(assumed) == "assumed"


@pytest.mark.parametrize("how", ["assumed", "planned"])
def test_a_guess_is_never_as_exact_as_a_measure(how: Literal["assumed", "planned"]) -> None:
    """To the nearest inch and said to be about that; what was measured or seen is given as a tape reads it."""
    show = Show("imperial", terms("en"))
    seen = Known.model_construct(how="measured", on=datetime.date(2026, 3, 10), by=None)

    assert show.of(Known(how=how)).about(Fraction("14.6")) == "about 15″"
    assert show.of(Known(how=how)).size_of(inches("14.6")) == "about 15″"
    assert show.of(seen).about(Fraction("14.5")) == "14\u200a1\u20442″"


def test_a_metric_guess_is_to_25_millimetres() -> None:
    """371 mm are about 375."""
    show = Show("metric", terms("en")).of(Known(how="assumed"))

    assert show.about(Fraction(371) / Fraction(254, 10)) == "about 375\u00a0mm"

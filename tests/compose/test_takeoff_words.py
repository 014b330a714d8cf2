"""Stations, cuts, sums of money and the owner's summary, in finished words."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookgen.compose.cutting import joinery
from bookgen.compose.show import Show
from bookgen.compose.stations import stations
from bookgen.compose.takeoff import whole_cents
from bookgen.compose.terms import terms
from bookgen.model.book import Edition
from bookgen.model.joinery import EndCut, Joinery, Notch
from bookgen.model.length import inches
from tests.sample_books import sample_project_book

SHOW = Show("imperial", terms("en"))


def said(*where: str | int, lengthwise: bool = False) -> str:
    """Return stations in words with plain signs."""
    words = stations([inches(one) for one in where], SHOW, lengthwise=lengthwise)
    return words.replace("\u2033", '"').replace("\u2032\u00a0", "'").replace("\u200a", " ").replace("\u2044", "/")


@pytest.mark.parametrize(
    ("where", "words"),
    [
        ((40,), "at 3'4\""),
        ((40, 40), "2 at 3'4\""),
        ((10, 12, 20), 'at 10", 12", 20"'),
        ((0, 16, 32, 48, 64), "every"),
    ],
)
def test_stations_in_words(where: tuple[int, ...], words: str) -> None:
    """One, two at one, some; from four at one spacing on they are told as a row."""
    assert words in said(*where)


def test_a_row_names_its_spacing_and_both_ends() -> None:
    """The first rung stands off the row, the last two as well: they are named by themselves."""
    assert said(5, 20, 36, 52, 68, 84, 87) == 'at 5", every 16" from 20" to 7\'0", 7\'3"'


def test_a_piece_along_the_run_is_told_from_its_start() -> None:
    """A rail lies from a station on; it is not at one."""
    assert said(48, lengthwise=True) == "from 4'0\""


@given(st.lists(st.integers(0, 400), min_size=1, max_size=30))
def test_every_station_is_named_or_in_a_row(where: list[int]) -> None:
    """Reading the words again gives every station as often as it was there."""
    words = stations([inches(one) for one in where], Show("metric", terms("en")), lengthwise=False)
    read: list[int] = []
    for part in words.split("; "):
        count = 1
        head, _, rest = part.partition("at ")
        if head.strip():
            count = int(head.split()[0])
        tokens = rest.replace("\u00a0mm", "").split(", ")
        for token in tokens:
            if token.startswith("every "):
                _, spacing, _, low, _, high = token.split()
                first, last = round(int(low) / 25.4), round(int(high) / 25.4)
                step = (last - first) // max(1, round((last - first) / (int(spacing) / 25.4)))
                read += list(range(first, last + 1, step)) * count
            else:
                read += [round(int(token) / 25.4)] * count
    assert sorted(read) == sorted(where)


def test_cuts_in_words() -> None:
    """Ends, notches and rips read as a carpenter says them."""
    both = (EndCut("low", "bevel", 75, 1), EndCut("high", "bevel", 75, 1))
    how = Joinery(both, (Notch(inches("3.5"), inches("1.5")),), (inches("1.5"), inches("2.5")))

    assert joinery(how, SHOW).replace("\u200a", " ").replace("\u2044", "/").replace("\u2033", '"') == (
        'ripped to 1 1/2" × 2 1/2"; both ends bevelled 37 1/2°, parallel; notch 3 1/2" long, 1 1/2" deep'
    )
    assert joinery(Joinery((EndCut("high", "mitre", 90, -1),)), SHOW) == "high end mitred 45°"


@given(st.lists(st.fractions(0, 500), min_size=1, max_size=12))
def test_shares_in_whole_cents_make_the_sum(amounts: list[Fraction]) -> None:
    """Every share is a whole number of cents, none more than a cent off, and they add up to the sum to the cent."""
    shares = [(f"{number:02d}", amount) for number, amount in enumerate(amounts)]
    cents = dict(whole_cents(shares))

    assert all((value * 100).denominator == 1 for value in cents.values())
    assert all(abs(cents[key] - amount) < Fraction(1, 100) for key, amount in shares)
    assert abs(sum(cents.values()) - sum(amounts)) <= Fraction(1, 200)


def test_the_owner_reads_areas_of_board_and_no_wrong_plural() -> None:
    """Board is told by its surface, a single stick as 1 piece, and nothing of cutting plans."""
    book = sample_project_book(Edition.OWNER)
    lines = [line for chapter in book.chapters for line in chapter.summary]

    assert any("sq ft" in line and "gypsum board" in line for line in lines)
    assert not any("gypsum board" in line and "pieces" in line for line in lines)
    assert not any(": 1 pieces" in line for line in lines)
    assert book.takeoff == ()


def test_the_trade_edition_lists_and_draws_everything() -> None:
    """To buy, the cut list of each stock, its diagrams, board, finishing, hardware and what is saved; no costs."""
    book = sample_project_book(Edition.TRADE)
    keys = [part.key for part in book.takeoff]

    assert keys[0] == "buy"
    assert {"cut-2x4", "sticks-2x4", "finishing", "hardware", "saved"} <= set(keys)
    assert "cost" not in keys
    drawn = {part.key: part.sketches for part in book.takeoff if part.sketches}
    assert {"sticks-2x2", "sticks-2x4", "sheets-1-2-in-gypsum-board", "faces-1-2-in-gypsum-board"} <= set(drawn)
    for part in book.takeoff:
        if part.table is not None:
            assert {len(row) for row in part.table.rows} == {len(part.table.columns)}
    names = [sketch.key for sketches in drawn.values() for sketch in sketches]
    assert len(names) == len(set(names))

"""The takeoff as a table and as comma-separated text, of a small level counted by hand."""

from __future__ import annotations

import csv
import io
from fractions import Fraction

import pytest

from bookgen.model.length import Length, inches, parse_length
from bookgen.model.solved import PieceCount, Solved, StockTotal, Takeoff
from bookgen.render.takeoff import as_csv, as_table
from tests.solve.house import level, project

PIECES = (
    PieceCount("02-drain", "rail", "2x2", inches(96), 3),
    PieceCount("02-drain", "rung", "2x2", inches("8.625"), 14),
    PieceCount("05-beam", "board", "1/2 in gypsum", inches("47.5"), 2),
)
TOTALS = (
    StockTotal("1/2 in gypsum", 2, None, Fraction(2 * 48 * 96 + 72)),
    StockTotal("2x2", 17, inches("408.75"), None),
    StockTotal("screws", 1, None, None),
)


def solved(pieces: tuple[PieceCount, ...] = PIECES, units: str = "imperial") -> Solved:
    """Return a level with this takeoff and nothing else."""
    whole = project(units=units)
    return Solved(whole, level(whole), (), (), (), Takeoff(pieces, TOTALS))


def one(length: Length) -> Solved:
    """Return a level that takes a single rail of this length."""
    return solved((PieceCount("a", "rail", "2x4", length, 1),))


def rows(text: str) -> list[list[str]]:
    """Return comma-separated text as rows of cells."""
    return list(csv.reader(io.StringIO(text)))


def test_table_lists_pieces_and_totals_in_columns() -> None:
    """Every cell stands where its heading does; feet and inches with plain fractions; areas in square feet.

    Two sheets of 4 by 8 ft and half a square foot are 64.5 sq ft; 408 3/4 in are 34 ft 3/4 in: counted by hand.
    """
    assert as_table(solved()).replace("\u2032", "'").replace("\u2033", '"').splitlines() == [
        "obstacle  part   stock          length      pieces",
        "02-drain  rail   2x2            8' 0\"       3",
        '02-drain  rung   2x2            8 5/8"      14',
        "05-beam   board  1/2 in gypsum  3' 11 1/2\"  2",
        "",
        "stock          pieces  in all",
        "1/2 in gypsum  2       64.5 sq ft",
        "2x2            17      34' 0 3/4\"",
        "screws         1",
    ]


def test_metric_project_reads_in_metric() -> None:
    """96 in are 2438 mm, 8 5/8 in 219 mm, 9288 square inches 6.0 m² (25.4 mm to the inch, exactly)."""
    text = as_table(solved(units="metric"))
    assert "2438 mm" in text
    assert "219 mm" in text
    assert "6.0 m²" in text
    assert "sq ft" not in text
    assert "\u2032" not in text


def test_csv_reads_back_cell_for_cell() -> None:
    """A heading, then a line for each kind of piece, its length also as a plain number of inches."""
    head, *lines = rows(as_csv(solved()))
    assert head == ["obstacle", "part", "stock", "length", "pieces", "length in inches"]
    assert [line[:3] + line[4:] for line in lines] == [
        ["02-drain", "rail", "2x2", "3", "96"],
        ["02-drain", "rung", "2x2", "14", "8.625"],
        ["05-beam", "board", "1/2 in gypsum", "2", "47.5"],
    ]


@pytest.mark.parametrize("length", ["96", "8.625", "0.015625", "47.5", "1234.578125", "10000.984375", "100000"])
def test_csv_lengths_are_exact_to_a_64th(length: str) -> None:
    """No digit of a 64th is lost, whatever stands before it, and none is written as a power of ten."""
    (_, (*_, cell)) = rows(as_csv(one(inches(length))))
    assert Fraction(cell) == Fraction(length)


def test_shown_length_and_number_agree() -> None:
    """The length for reading, read again, is the number beside it, to the 16th that a tape shows."""
    for sixteenths in (1, 16, 17, 191, 192, 193, 1000, 1537):
        (_, (_, _, _, shown, _, number)) = rows(as_csv(one(Length(Fraction(sixteenths, 16)))))
        assert parse_length(shown).inches == Fraction(number) == Fraction(sixteenths, 16)


def test_odd_names_stay_in_their_cell() -> None:
    """Commas, quotes and line ends in a name don't break the table of a spreadsheet."""
    odd = 'beam, "north"\nwall'
    (_, line) = rows(as_csv(solved((PieceCount(odd, "rail", "2x4", inches(12), 1),))))
    assert line[0] == odd
    assert len(line) == 6


def test_nothing_to_cut_leaves_the_headings() -> None:
    """A level without framing gives a heading and no line."""
    assert rows(as_csv(solved(()))) == [["obstacle", "part", "stock", "length", "pieces", "length in inches"]]
    assert as_table(solved(())).startswith("obstacle  part  stock  length  pieces\n\nstock")


def test_same_level_same_text() -> None:
    """Nothing but the level gets in; lines end as on every machine."""
    assert as_csv(solved()) == as_csv(solved())
    assert as_table(solved()) == as_table(solved())
    assert "\r" not in as_csv(solved())

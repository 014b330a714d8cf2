"""The takeoff in columns and as comma-separated text, of a small level counted by hand."""

from __future__ import annotations

import csv
import io
from fractions import Fraction

import pytest

from bookgen.model.buying import Buying, Hardware, Packs, Sticks, Trade
from bookgen.model.cutting import Piece, SawRules, Stick
from bookgen.model.length import inches
from bookgen.model.listing import Column, Listing, Table
from bookgen.model.sheets import Quantity
from bookgen.model.solved import PieceCount, Solved, StockTotal, Takeoff
from bookgen.render.takeoff import WIDTH, as_csv, as_text, table_lines
from bookgen.solve.takeoff.compare import saved_on_sticks
from bookgen.solve.takeoff.cutting import plan_cuts
from tests.solve.house import level, project

PIECES = (
    PieceCount("02-drain", "rail", "2x2", inches(96), 3, stations=(inches(40), inches(40), inches(136))),
    PieceCount("02-drain", "rung", "2x2", inches("8.625"), 14),
    PieceCount("05-beam", "board", "1/2 in gypsum board", inches("47.5"), 2, inches("9.5")),
)
TOTALS = (StockTotal("2x2", 17, inches("408.75"), None),)
HEAD = ["list", "record", "part", "stock", "length in inches", "width in inches", "least", "most", "where and how"]


def solved(pieces: tuple[PieceCount, ...] = PIECES, buying: Buying | None = None) -> Solved:
    """Return a level with this takeoff and nothing else."""
    whole = project()
    return Solved(whole, level(whole), (), (), (), Takeoff(pieces, TOTALS, buying))


def bought() -> Buying:
    """Return what 17 pieces of 2x2, a bucket of compound and a door need."""
    pieces = [Piece(inches(96), 3, "02-drain rail"), Piece(inches("8.625"), 14, "02-drain rung")]
    sticks, rules = (Stick(inches(96)),), SawRules()
    plan = plan_cuts(pieces, sticks, rules)
    compound = Quantity("joint-compound", "gal", Fraction(3), Fraction(3), Fraction(6), "a handbook", "memory")
    return Buying(
        (Sticks("2x2", plan, saved_on_sticks(pieces, sticks, rules, plan)),),
        (),
        (Packs(compound, "joint compound", "bucket", "4.5 gal", Fraction(9, 2), 1, 2),),
        (Hardware(Trade.DOORS, "hinges", 3, 3, "01-panel", "one for every 30 in"),),
    )


def rows(text: str) -> list[list[str]]:
    """Return comma-separated text as rows of cells."""
    return list(csv.reader(io.StringIO(text)))


def test_table_stands_in_columns() -> None:
    """Words flush left, figures flush right, each under its head; fractions plain, blanks plain."""
    columns = (Column("Count", figures=True), Column("What"), Column("Size", figures=True))
    table = Table(
        columns, (("3", "2x2", "8\u2032\u00a00\u2033"), ("12 to 14", "board", "3\u2032\u00a011\u200a1\u20442\u2033"))
    )

    assert list(table_lines(table)) == [
        "   Count  What         Size",
        "--------  -----  ----------",
        "       3  2x2         8\u2032 0\u2033",
        "12 to 14  board  3\u2032 11 1/2\u2033",
    ]


def test_no_line_is_wider_than_a_terminal_and_no_word_is_broken() -> None:
    """Long cells are wrapped at their blanks, the narrow columns keep their width, and nothing of a cell is lost."""
    long = "at 4\u2032\u00a010\u2033, 6\u2032\u00a02\u2033, every 16\u2033 from 16\u2032\u00a010\u2033; " * 6
    table = Table((Column("Record"), Column("Where")), (("lining-north-wall", long.strip()),))
    part = Listing(
        "cut",
        "Cut list",
        says=("A sentence that says a good deal more than one line of it can hold, " * 2,),
        table=table,
    )

    lines = as_text([part]).splitlines()

    assert max(map(len, lines)) <= WIDTH
    assert any("lining-north-wall" in line for line in lines)
    cell = " ".join(line[len("lining-north-wall") :].strip() for line in lines if line.startswith(("lining", " ")))
    assert cell == long.strip().replace("\u00a0", " ")


def test_a_title_is_ruled_by_its_level() -> None:
    """A part of its own has a double rule, one under it a single one, as long as its title."""
    assert as_text([Listing("a", "To buy"), Listing("b", "How to cut it", 3)]).splitlines() == [
        "To buy",
        "======",
        "",
        "How to cut it",
        "-------------",
    ]


def test_csv_reads_back_cell_for_cell() -> None:
    """A heading, a line for each kind of piece, then what to buy: lengths as plain numbers of inches."""
    head, *lines = rows(as_csv(solved(buying=bought())))

    assert head == HEAD
    assert lines == [
        ["cut", "02-drain", "rail", "2x2", "96", "", "3", "3", "40 40 136"],
        ["cut", "02-drain", "rung", "2x2", "8.625", "", "14", "14", ""],
        ["cut", "05-beam", "board", "1/2 in gypsum board", "47.5", "9.5", "2", "2", ""],
        ["buy", "", "", "2x2", "96", "", "5", "5", ""],
        ["buy", "", "joint-compound", "joint compound", "", "", "1", "2", "4.5 gal"],
        ["hardware", "01-panel", "hinges", "", "", "", "3", "3", "one for every 30 in"],
    ]


@pytest.mark.parametrize("length", ["96", "8.625", "0.015625", "47.5", "1234.578125", "10000.984375", "100000"])
def test_csv_lengths_are_exact_to_a_64th(length: str) -> None:
    """No digit of a 64th is lost, whatever stands before it, and none is written as a power of ten."""
    (_, line) = rows(as_csv(solved((PieceCount("a", "rail", "2x4", inches(length), 1),))))

    assert Fraction(line[4]) == Fraction(length)


def test_odd_names_stay_in_their_cell() -> None:
    """Commas, quotes and line ends in a name don't break the table of a spreadsheet."""
    odd = 'beam, "north"\nwall'
    (_, line) = rows(as_csv(solved((PieceCount(odd, "rail", "2x4", inches(12), 1),))))

    assert line[1] == odd
    assert len(line) == len(HEAD)


def test_nothing_to_cut_leaves_the_headings() -> None:
    """A level without framing gives a heading and no line."""
    assert rows(as_csv(solved(()))) == [HEAD]


def test_same_level_same_text() -> None:
    """Nothing but the level gets in; lines end as on every machine."""
    assert as_csv(solved(buying=bought())) == as_csv(solved(buying=bought()))
    assert "\r" not in as_csv(solved())

"""The workbook read back: its formulas, worked out again here, give the plan's figures and follow what is changed."""

from __future__ import annotations

import math
import re
import time
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from bookgen.render.workbook import write_workbook
from tests.render.test_takeoff_files import PIECES, bought, solved

SUM = re.compile(r"SUM\(([A-Z]+)(\d+):([A-Z]+)(\d+)\)")
CELL = re.compile(r"(?<![A-Za-z\"'_])([A-Z]{1,2})(\d+)(?![\w(])")
NAMES = ("units", "spare_lumber", "spare_board", "spare_finishing", "tax", "money")


class Book:
    """A workbook whose formulas are worked out by this test: the few functions that ours use, and no other."""

    def __init__(self, path: Path) -> None:
        self.book = openpyxl.load_workbook(path)

    def __getitem__(self, name: str) -> Any:
        return self.book[name]

    def value(self, sheet: str, cell: str) -> Any:
        """Return what a cell shows."""
        raw = self.book[sheet][cell].value
        if not isinstance(raw, str) or not raw.startswith("="):
            return "" if raw is None else raw
        text = SUM.sub(lambda m: repr(self._sum(sheet, m)), raw[1:])
        text = CELL.sub(lambda m: repr(self.value(sheet, m[0])), text)
        text = re.sub(r"(?<![<>=])=(?!=)", "==", text)
        scope = {
            "IF": lambda test, yes, no: yes() if test else no(),
            "OR": lambda *tests: any(tests),
            "ROUND": lambda number, digits: math.floor(number * 10**digits + 0.5) / 10**digits,
            "ROUNDUP": lambda number, digits: math.ceil(round(number * 10**digits, 9)) / 10**digits,
            **{name: self.named(name) for name in NAMES},
        }
        return eval(lazy(text), {"__builtins__": {}, **scope})  # noqa: S307 (formulas of our own)

    def named(self, name: str) -> Any:
        """Return the value of a setting."""
        place = self.book.defined_names[name].attr_text.split("!")[1].replace("$", "")
        return self.book["Settings"][place].value

    def _sum(self, sheet: str, match: re.Match[str]) -> float:
        values = [self.value(sheet, f"{match[1]}{row}") for row in range(int(match[2]), int(match[4]) + 1)]
        return sum(value for value in values if isinstance(value, (int, float)))


def lazy(text: str) -> str:
    """Return a formula as Python whose branches of IF are worked out only when taken."""
    start = text.find("IF(")
    if start < 0:
        return text
    depth, parts, last = 0, [], start + 3
    for at in range(start + 2, len(text)):
        depth += (text[at] == "(") - (text[at] == ")")
        if (text[at] == "," and depth == 1) or depth == 0:
            parts.append(text[last:at])
            last = at + 1
            if depth == 0:
                break
    test, yes, no = (lazy(part) for part in parts)
    return f"{text[:start]}IF({test},lambda:({yes}),lambda:({no})){lazy(text[last:])}"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Return the workbook of a small takeoff."""
    target = tmp_path / "list.xlsx"
    write_workbook(solved(buying=bought()), (), target)
    return target


def test_sheets_are_what_a_contractor_looks_for(path: Path) -> None:
    """Settings first, then what to buy and how to cut it; every sheet has a frozen head."""
    book = openpyxl.load_workbook(path)

    assert book.sheetnames[:3] == ["Settings", "To buy", "Finishing"]
    assert {"Cut list", "How to cut sticks", "How to cut sheets", "Hardware"} <= set(book.sheetnames)
    assert all(book[name].freeze_panes == "A2" for name in book.sheetnames[1:])


def test_counts_and_lengths_are_the_plan(path: Path) -> None:
    """Five sticks of 8 ft (3 rails of 8 ft whole; 14 rungs of 8-5/8 in, 10 to a stick): 96 in, or 8 ft of 25.4 mm."""
    book = Book(path)

    assert [book["To buy"][cell].value for cell in ("A2", "B2", "F2")] == ["2x2", 96, 5]
    assert book.value("To buy", "D2") == 96
    assert book.value("To buy", "G2") == 5
    book["Settings"]["B2"].value = "mm"
    assert book.value("To buy", "D2") == 2438


def test_waste_and_price_change_the_sums(path: Path) -> None:
    """Five sticks and a tenth more are six; at 2.75 each 16.50, and with 8 % tax 17.82."""
    book = Book(path)
    book["Settings"]["B3"].value = 0.1
    book["To buy"]["H2"].value = 2.75
    assert book.value("To buy", "G2") == 6
    assert book.value("To buy", "I2") == 16.5
    book["Settings"]["B6"].value = 0.08
    assert book.value("To buy", f"I{book['To buy'].max_row}") == pytest.approx(17.82)


def test_packs_follow_the_amount_that_is_taken(path: Path) -> None:
    """6 gal in buckets of 4-1/2 gal are two buckets; whoever takes 3 gal needs one."""
    book = Book(path)
    assert book.value("Finishing", "H2") == 2
    book["Finishing"]["F2"].value = 3
    assert book.value("Finishing", "H2") == 1


def test_the_cut_list_adds_up(path: Path) -> None:
    """3 pieces of 96 in are 24 ft; two boards of 47-1/2 by 9-1/2 in are 6.27 sq ft; 19 pieces in all."""
    book = Book(path)
    sheet = book["Cut list"]
    rows = {(sheet[f"I{n}"].value, sheet[f"J{n}"].value): n for n in range(2, len(PIECES) + 2)}

    assert book.value("Cut list", f"G{rows['02-drain', 'rail']}") == 24
    assert book.value("Cut list", f"G{rows['05-beam', 'board']}") == pytest.approx(2 * 47.5 * 9.5 / 144)
    assert book.value("Cut list", f"B{sheet.max_row}") == 19


def test_every_formula_can_be_worked_out(path: Path) -> None:
    """None of them refers to a cell that is not there or to words where a number belongs."""
    book = Book(path)
    for sheet in book.book.sheetnames:
        for row in book[sheet].iter_rows():
            for cell in row:
                book.value(sheet, cell.coordinate)


def test_same_takeoff_same_bytes(tmp_path: Path) -> None:
    """No clock gets in: a workbook written two seconds later is the same file."""
    first, second = tmp_path / "a.xlsx", tmp_path / "b.xlsx"
    write_workbook(solved(buying=bought()), (), first)
    time.sleep(1.1)
    write_workbook(solved(buying=bought()), (), second)

    assert first.read_bytes() == second.read_bytes()


def test_a_name_that_looks_like_a_formula_stays_a_text(tmp_path: Path) -> None:
    """A record called =1+1 is a name, in the cell as in the records."""
    odd = tuple(type(piece)(**{**fields_of(piece), "role": "=1+1"}) for piece in PIECES)
    target = tmp_path / "odd.xlsx"
    write_workbook(solved(odd, bought()), (), target)

    cell = openpyxl.load_workbook(target)["Cut list"]["J2"]
    assert cell.data_type == "s"
    assert cell.value.endswith("=1+1")


def fields_of(piece: Any) -> dict[str, Any]:
    """Return the fields of a slotted value."""
    return {name: getattr(piece, name) for name in type(piece).__dataclass_fields__}

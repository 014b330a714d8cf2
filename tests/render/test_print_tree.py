"""The trade edition's print book as a screen reader walks it: headings, tables, lists, figures, links, bookmarks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from tests.render.book_fixture import trade_book
from tests.render.test_print import WORDS, bookmarks, pages, printed

TRADE = replace(trade_book(), terms=WORDS)
# What each element may stand in: ISO 32000-1, tables 336 and 337; a row may stand in the table itself.
HOMES = {"LI": {"L"}, "LBody": {"LI"}, "TR": {"THead", "TBody", "TFoot", "Table"}, "TH": {"TR"}, "TD": {"TR"}}


@dataclass(frozen=True, slots=True)
class Tagged:
    """An element of the tree: its kind, that of its parent, its attributes, and whether it has a word of its own."""

    kind: str
    parent: str
    attributes: dict[str, str]
    alt: str


@pytest.fixture(scope="module")
def trade(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The trade edition, which has the most kinds of table."""
    return printed(TRADE, tmp_path_factory.mktemp("trade"))


@pytest.fixture(scope="module")
def tree(trade: Path) -> tuple[Tagged, ...]:
    """Every element of its tree, in reading order."""
    with pikepdf.open(trade) as pdf:
        return tuple(_walked(pdf.Root.StructTreeRoot, ""))


def _walked(element: Any, parent: str) -> Iterator[Tagged]:
    kind = str(element.get("/S", "")).removeprefix("/")
    if kind:
        told = {name: str(value) for one in _each(element.get("/A")) for name, value in one.items()}
        yield Tagged(kind, parent, told, str(element.get("/Alt", "")))
    for kid in _each(element.get("/K")):
        if isinstance(kid, pikepdf.Dictionary):
            yield from _walked(kid, kind)


def _each(held: Any) -> list[Any]:
    if held is None:
        return []
    return list(held) if isinstance(held, pikepdf.Array) else [held]


def test_no_heading_skips_a_rank(tree: tuple[Tagged, ...]) -> None:
    """The first heading is of the first rank, and each next one goes down by one at most (ISO 14289-1, 7.4.2)."""
    ranks = [int(one.kind[1:]) for one in tree if one.kind[:1] == "H" and one.kind[1:].isdigit()]
    assert ranks[0] == 1
    assert {1, 2, 3} <= set(ranks)
    assert all(after <= before + 1 for before, after in pairwise(ranks))


def test_every_head_of_a_table_says_what_it_heads(tree: tuple[Tagged, ...]) -> None:
    """Each TH has a Scope (ISO 14289-1, 7.5), each table a head, and rows, cells and items stand where they may."""
    kinds = [one.kind for one in tree]
    assert {one.attributes.get("/Scope") for one in tree if one.kind == "TH"} == {"/Column"}
    assert kinds.count("THead") == kinds.count("Table") > 5
    misplaced = [(one.kind, one.parent) for one in tree if one.parent not in HOMES.get(one.kind, {one.parent})]
    assert misplaced == []


def test_figures_and_links_have_words(trade: Path, tree: tuple[Tagged, ...]) -> None:
    """Each Figure has its Alt; each link its Contents (ISO 14289-1, 7.18.5), and is an element of the tree."""
    assert all(one.alt for one in tree if one.kind == "Figure")
    with pikepdf.open(trade) as pdf:
        notes = [note for page in pdf.pages for note in page.get("/Annots", [])]
        links = [note for note in notes if note.Subtype == "/Link"]
        assert all(str(note.get("/Contents", "")).strip() and "/StructParent" in note for note in links)
    assert 0 < len([one for one in tree if one.kind == "Link"]) <= len(links)


def test_bookmarks_go_down_to_the_sections(trade: Path) -> None:
    """None is empty, none leads before the one above it, and the sections of a chapter stand under it."""
    with pikepdf.open(trade) as pdf, pdf.open_outline() as outline:
        below = {one.title: [under.title for under in one.children] for one in outline.root}
    assert all(title.strip() for title in (*below, *(under for all_under in below.values() for under in all_under)))
    assert "Cut list" in below["Drain and stack, north wall"]
    assert list(bookmarks(trade).values()) == sorted(bookmarks(trade).values())


def test_trade_edition_has_cut_list_checks_and_takeoff(trade: Path) -> None:
    """What only the trades need is there, and every check says to look at the local code."""
    text = " ".join(pages(trade))
    for words in ("Cut list", "rung", "IRC 2021, R305.1.1", "Check against your local code", "To buy", "Takeoff"):
        assert words in text
    assert "Record of later work" not in bookmarks(trade)
    assert "Trade edition · Revision 2, 15 June 2026" in text

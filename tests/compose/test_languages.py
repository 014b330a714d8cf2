"""A book in another language has no English word of ours left: with each fixed word in brackets, none stands bare."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, replace
from pathlib import Path

import pytest

import bookgen.compose.terms
import bookgen.trade.tongue
from bookgen.compose import compose, for_edition
from bookgen.compose.terms import terms
from bookgen.draw import level_sketches, sketches
from bookgen.model.book import Book, Edition
from bookgen.model.project import Project
from bookgen.read import read
from bookgen.solve.checks.reference import references
from bookgen.solve.takeoff.buy import buy
from bookgen.solve.whole import solve
from bookgen.trade.tongue import tongue
from tests.compose.pseudo import bare, terms_document, texts, tongue_document, words_of

PROJECTS = Path(__file__).parents[2] / "projects"
# Keys of the book that no reader sees, and its own lists of words.
UNREAD = {
    "terms",
    "search",
    "key",
    "theme",
    "theme_options",
    "paper",
    "language",
    "book_id",
    "layers",
    "plan",
    "takeoff",
}
KEY = re.compile(r"[0-9a-z]+(?:-[0-9a-z]+)+|[0-9a-f]{16}")  # keys of sketches, slugs, identities
# Names of kinds that templates ask for, never print; signal words stand for themselves until a template says them.
KINDS = {"paragraph", "point", "arrow", "box", "DANGER", "WARNING", "CAUTION", "NOTICE", "headroom"}
# What a source is cited with: a page by its address; codes, places and papers by their names, in capitals.
ADDRESS = re.compile(r"\b(?:[a-z-]+\.)+(?:ca|codes|com|fr|net|online|org)\b")
NAMED = re.compile(r"(?<![^\W\d_])[A-Z]\w+")
CITED = {"check_reference", "checks", "chapters"}


@pytest.fixture
def marked(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Let Spanish be the language whose every word stands in brackets."""
    document = bookgen.trade.tongue._document("es")
    monkeypatch.setattr(
        bookgen.trade.tongue,
        "_document",
        lambda _code: tongue_document(list(document["names"]), list(document["sources"])),
    )
    monkeypatch.setattr(bookgen.compose.terms, "_document", lambda _code: terms_document())
    tongue.cache_clear()
    terms.cache_clear()
    yield
    tongue.cache_clear()
    terms.cache_clear()


@pytest.mark.usefixtures("marked")
@pytest.mark.parametrize(
    ("name", "edition"),
    [
        ("heron", Edition.OWNER),
        ("heron", Edition.TRADE),
        pytest.param("heron", Edition.SAMPLE, marks=pytest.mark.long),
        pytest.param("tamarack", Edition.OWNER, marks=pytest.mark.long),
        pytest.param("tamarack", Edition.SAMPLE, marks=pytest.mark.long),
        pytest.param("tamarack", Edition.TRADE, marks=pytest.mark.long),
    ],
)
def test_no_word_of_ours_bypasses_the_tables(name: str, edition: Edition) -> None:
    """Whatever stands outside of brackets has been written by a record."""
    project, _ = read(PROJECTS / name)
    assert project is not None
    spanish = replace(project, record=project.record.model_copy(update={"language": "es"}))
    book = _book(spanish, edition)
    written = words_of(texts(spanish))

    found = {
        (field.name, text): left
        for field in fields(book)
        if field.name not in UNREAD
        for text in texts(getattr(book, field.name))
        if not KEY.fullmatch(text) and text not in KINDS and (left := bare(_uncited(text, field.name), written))
    }
    assert found == {}


def _uncited(text: str, field: str) -> str:
    """Return a text without the names that its sources are cited by."""
    return NAMED.sub("", ADDRESS.sub("", text)) if field in CITED else text


def _book(project: Project, edition: Edition) -> Book:
    solved, problems = solve(project)
    assert problems == ()
    assert solved is not None
    told = for_edition(buy(solved) if edition is Edition.TRADE else solved, edition, prices=False)
    drawn, _ = sketches(told)
    asked = references(told.project.tape, tongue(told.project.record.language))
    return compose(told, drawn, None if edition is Edition.SAMPLE else level_sketches(told), edition, asked)

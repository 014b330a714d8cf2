"""Drawings that were written before are taken as they were, by what they show, and by nothing else."""

from __future__ import annotations

import pickle
from dataclasses import replace
from pathlib import Path

import pytest

from bookgen.model.book import Book
from bookgen.render import drawings
from bookgen.render.drawings import KEPT, drawings_of
from bookgen.render.kept import Store, keep_bytes
from bookgen.render.kept_nouns import bytes_of, digest_of, value_from
from tests.render.book_fixture import BOOK, CORNER


@pytest.fixture
def store(tmp_path: Path) -> Store:
    """An empty store."""
    return Store(tmp_path, "a version")


@pytest.fixture
def written(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The keys of the drawings that were really written, as they come."""
    found: list[str] = []
    real = drawings._written

    def counted(one: drawings.Sketch | drawings.Chart) -> drawings.Written:
        found.append(one.key)
        return real(one)

    monkeypatch.setattr(drawings, "_written", counted)
    return found


def _with_another_title(book: Book) -> Book:
    sketch = CORNER.sketches[0]
    other = replace(CORNER, sketches=(replace(sketch, title="Another title"), *CORNER.sketches[1:]))
    return replace(book, chapters=tuple(other if one is CORNER else one for one in book.chapters))


def test_only_what_shows_something_else_is_written_again(store: Store, written: list[str]) -> None:
    """A new title is in the drawing, for whoever can't see it; what stays the same stays as it was."""
    first = drawings_of(BOOK, store)
    assert set(written) == set(first)
    written.clear()
    assert drawings_of(BOOK, store) == first
    assert written == []
    again = drawings_of(_with_another_title(BOOK), store)
    assert written == [CORNER.sketches[0].key]
    assert "Another title" in again[CORNER.sketches[0].key].site
    assert "Another title" in again[CORNER.sketches[0].key].print
    assert again == drawings_of(_with_another_title(BOOK))


def test_nouns_that_come_back_from_the_store_find_what_was_written(store: Store, written: list[str]) -> None:
    """Which parts of a noun are one object is another matter there; equal nouns have one digest."""
    drawings_of(BOOK, store)
    written.clear()
    back = value_from(bytes_of((BOOK,)), tuple)[0]
    drawings_of(back, store)
    assert written == []
    assert digest_of(("a" * 3, "".join(["a", "aa"]))) == digest_of(("aaa",) * 2)
    assert digest_of(("aaa", "aab")) != digest_of(("aaa", "aaa"))


@pytest.mark.parametrize(
    "data", [b"spoilt", pickle.dumps(["no", "drawings"])], ids=["no bytes of ours", "another kind"]
)
def test_a_spoilt_entry_is_written_anew(store: Store, written: list[str], data: bytes) -> None:
    """Whatever lies there: as if nothing had been kept."""
    first = drawings_of(BOOK, store)
    (entry,) = store.sort(KEPT).iterdir()
    keep_bytes(entry, data)
    written.clear()
    assert drawings_of(BOOK, store) == first
    assert set(written) == set(first)
    written.clear()
    assert drawings_of(BOOK, store) == first
    assert written == []

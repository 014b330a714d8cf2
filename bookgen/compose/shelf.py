"""Sample editions in, the shelf that shows them out; it says nothing that the books don't."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

from bookgen.compose.terms import terms
from bookgen.model.book import Book
from bookgen.model.shelf import Shelf, ShelfBook


def shelf(books: Sequence[tuple[str, Book]]) -> Shelf:
    """Return the shelf of *books*, all of them sample editions: each with its folder; in the language of the first."""
    language = books[0][1].language
    words = terms(language).words
    placed = tuple(_shelf_book(folder, book) for folder, book in books)
    return Shelf(language, words["shelf"], words["shelf says"], placed, words)


def folder_name(book: Book, number: int) -> str:
    """Return what to call the folder of a sample edition: a project folder's own name may say where the house is."""
    plain = unicodedata.normalize("NFKD", book.cover.title).encode("ascii", "ignore").decode().casefold()
    slug = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")
    return f"{number:02d}-{slug}" if slug else f"{number:02d}"


def _shelf_book(folder: str, book: Book) -> ShelfBook:
    pairs = (chapter.before_after for chapter in book.chapters if chapter.before_after)
    return ShelfBook(
        folder=folder,
        title=book.cover.title,
        subtitle=book.cover.subtitle,
        lines=book.cover.lines,
        cover=book.cover.picture,
        solved=tuple(chapter.title for chapter in book.chapters),
        pair=next(pairs, None),
    )

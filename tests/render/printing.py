"""A book that is laid out and set at once, for tests of what is printed."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from bookgen.model.book import Book
from bookgen.render.drawings import Figures
from bookgen.render.print import laid_out
from bookgen.render.themes import Theme


def print_book(book: Book, theme: Theme, figures: Figures, folder: Path, inside: Mapping[str, str | Path]) -> None:
    """Write `book.pdf` into *folder*, which has the pictures of *figures*."""
    with laid_out(book, theme, figures, folder, inside) as set_book:
        set_book()

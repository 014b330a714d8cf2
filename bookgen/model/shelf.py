"""A shelf of sample editions as data: what a prospect sees of each before opening it."""

from __future__ import annotations

from collections.abc import Mapping

from bookgen.model.book import Picture
from bookgen.model.frozen import dataclass


@dataclass(frozen=True, slots=True)
class ShelfBook:
    """One book on the shelf: *folder* is where it lies, *lines* say what sort of house it is, *solved* what was hidden.

    *pair* is one obstacle before and after the work, where the book shows both.
    """

    folder: str
    title: str
    subtitle: str
    lines: tuple[str, ...]
    cover: Picture | None
    solved: tuple[str, ...]
    pair: tuple[Picture, Picture] | None


@dataclass(frozen=True, slots=True)
class Shelf:
    """All books in the order they were named, and the fixed words round them."""

    language: str
    title: str
    says: str
    books: tuple[ShelfBook, ...]
    terms: Mapping[str, str]

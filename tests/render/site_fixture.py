"""A bound site for tests: tiny pictures, real sketches, parsed pages."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path

from bs4 import BeautifulSoup
from PIL import Image

from bookgen.cache import cache_folder, known_cache
from bookgen.model.book import Book, Edition
from bookgen.render.drawings import Figures, drawings_of
from bookgen.render.html import render_site
from bookgen.render.pictures import PictureFile, PictureSet
from bookgen.render.themes import load_theme
from tests.sample_books import sample_project_book

EXTRAS = (("book.pdf", "The book to print"),)
WIDTHS = (4, 8)


class Pages(Mapping[str, BeautifulSoup]):
    """Every page of a site by its name in the folder, parsed as a browser parses it, once somebody asks for it."""

    def __init__(self, folder: Path) -> None:
        self._paths = {path.relative_to(folder).as_posix(): path for path in sorted(folder.rglob("*.html"))}
        self._parsed: dict[str, BeautifulSoup] = {}

    def __getitem__(self, name: str) -> BeautifulSoup:
        if name not in self._parsed:
            self._parsed[name] = BeautifulSoup(self._paths[name].read_text(encoding="utf-8"), "html5lib")
        return self._parsed[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._paths)

    def __len__(self) -> int:
        return len(self._paths)

    def __contains__(self, name: object) -> bool:
        return name in self._paths


@dataclass(frozen=True)
class Site:
    """A site on disk."""

    folder: Path

    @cached_property
    def pages(self) -> Pages:
        """Every page that there is when somebody asks first."""
        return Pages(self.folder)


def picture_sets(book: Book, folder: Path) -> dict[str, PictureSet]:
    """Write a tiny copy of each picture of *book* into *folder*; return the sets by digest."""
    folder.mkdir(parents=True, exist_ok=True)
    sets = {}
    for picture in book.pictures():
        files = []
        for width in WIDTHS:
            height = width * picture.height // picture.width
            for kind, ending in (("jpeg", "jpg"), ("webp", "webp")):
                name = f"{picture.digest[:12]}-{width}.{ending}"
                Image.new("RGB", (width, height), "#998877").save(folder / name)
                files.append(PictureFile(name, width, height, kind, "screen"))
        sets[picture.digest] = PictureSet(picture.digest, picture.width, picture.height, tuple(files))
    return sets


def bind_site(book: Book, folder: Path, fonts: Path | None = None) -> Site:
    """Write the site of *book* into *folder* with the theme that it names; fonts come from the cache of the run."""
    sets = picture_sets(book, folder / "pictures")
    drawn = Figures(sets, drawings_of(book, known_cache()))
    render_site(book, load_theme(book.theme), drawn, folder, EXTRAS, fonts or known_cache().sort("fonts"))
    (folder / "book.pdf").write_bytes(b"")
    return Site(folder)


@cache
def sample_project_site(edition: Edition) -> Site:
    """Return the site of the sample project, one for all tests of a run; no test writes into it."""
    site = cache_folder() / "sites" / edition.value
    if not site.is_dir():
        own = site.with_name(f"{edition.value}-{os.getpid()}")
        bind_site(sample_project_book(edition), own)
        with suppress(OSError):  # another process of the run was first
            own.rename(site)
    return Site(site)

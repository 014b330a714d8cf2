"""Project folders in, a shelf of their sample editions out; a third hall beside `bind` and `handover`."""

from __future__ import annotations

import shutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from bookgen.bind import Progress, RefusedError, composed_book, write_book
from bookgen.cache import working_cache
from bookgen.check import Checked
from bookgen.compose.shelf import folder_name, shelf
from bookgen.model.book import Book, Edition
from bookgen.render.kept import Store
from bookgen.render.publish import Contents, refuse_foreign, staged
from bookgen.render.shelf import write_shelf
from bookgen.render.themes import load_theme

if TYPE_CHECKING:
    from bookgen.render.pictures import PictureSet

THEME = "showroom"  # of the shelf itself; each book keeps its own


@dataclass(frozen=True, slots=True)
class Shelved:
    """What `fill_shelf` did: its folder, or None where no book could be put up; and what each project left out has."""

    target: Path | None
    refused: tuple[tuple[Path, Checked], ...]


@dataclass(frozen=True, slots=True)
class _Standing:
    """A book that has been written into its folder on the shelf."""

    folder: str
    book: Book
    pictures: Mapping[str, PictureSet]


class _EmptyError(Exception):
    """Nothing can be put up, so that the old shelf stays."""


def fill_shelf(folders: Sequence[Path], target: Path, progress: Progress) -> Shelved:
    """Put the sample edition of each project into *target*, with a page that shows them all.

    A project that has problems is left out and named; the others stand. Nothing of *target* is touched unless the whole
    new shelf stands. Raises OSError where the machine is in the way, ThemeError and TargetRefusedError for wrong use.
    """
    refuse_foreign(target)
    refused: list[tuple[Path, Checked]] = []
    try:
        whose = Contents("shelf", "a shelf of sample editions")
        with working_cache(progress) as store, staged(target, whose) as staging:
            standing = []
            for number, folder in enumerate(folders, start=1):
                put = _put_up(folder, number, staging, store, progress)
                if isinstance(put, Checked):
                    refused.append((folder, put))
                else:
                    standing.append(put)
            if not standing:
                raise _EmptyError
            shown = shelf([(one.folder, one.book) for one in standing])
            write_shelf(shown, load_theme(THEME), [one.pictures for one in standing], staging, store.sort("fonts"))
    except _EmptyError:
        return Shelved(None, tuple(refused))
    return Shelved(target, tuple(refused))


def _put_up(folder: Path, number: int, home: Path, store: Store, progress: Progress) -> _Standing | Checked:
    """Write one sample edition into its folder on the shelf *home*; return what was seen where it can't be bound."""
    composed, checked = composed_book(folder, Edition.SAMPLE, store)
    if composed is None:
        return checked
    name = folder_name(composed.book, number)
    (home / name).mkdir()
    try:
        return _Standing(name, composed.book, write_book(composed, home / name, store, progress))
    except RefusedError as error:
        shutil.rmtree(home / name)
        return Checked(checked.solved, error.problems)

"""Project folders in, a shelf of their sample editions out; a third hall beside `bind` and `handover`."""

from __future__ import annotations

import shutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from bookgen.bind import Progress, RefusedError, composed_book, write_book
from bookgen.cache import working_cache
from bookgen.check import Checked
from bookgen.compose.shelf import folder_name, shelf
from bookgen.model.book import Book, Edition
from bookgen.render.kept import FRESH, Store, copied_set, keep_set, move_files, set_digests
from bookgen.render.kept_nouns import SpoiltError, bytes_of, value_from
from bookgen.render.publish import Contents, refuse_foreign, staged
from bookgen.render.shelf import write_shelf
from bookgen.render.themes import load_theme
from bookgen.unchanged import digest_of

if TYPE_CHECKING:
    from bookgen.render.pictures import PictureSet

KEPT = "samples"  # in the store
NOUNS = "book.nouns"  # beside the files of a kept book: what its shelf tells of it
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
    """Put one sample edition into its folder on the shelf *home*; return what was seen where it can't be bound.

    A book that was put up before, of a project that has not changed since, is taken from *store* as it is.
    """
    kept = _kept(folder, store)
    standing = _again(kept, number, home) if kept else None
    if standing:
        return standing
    composed, checked = composed_book(folder, Edition.SAMPLE, store)
    if composed is None:
        return checked
    standing = _Standing(folder_name(composed.book, number), composed.book, {})
    target = home / standing.folder
    target.mkdir()
    try:
        standing = replace(standing, pictures=write_book(composed, target, store, progress))
    except RefusedError as error:
        shutil.rmtree(target)
        return Checked(checked.solved, error.problems)
    if kept and kept == _kept(folder, store):  # nobody has saved a record in the meantime
        _keep(standing, target, kept)
    return standing


def _kept(folder: Path, store: Store) -> Path | None:
    """Return where the sample edition of a project is kept, as it would be now; None where that can't be told."""
    digest = digest_of(folder)
    return store.sort(KEPT) / store.key(digest, folder.resolve().name) if digest else None


def _keep(standing: _Standing, target: Path, kept: Path) -> None:
    kept.parent.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory(dir=kept.parent, prefix=FRESH) as making:
        fresh = Path(shutil.copytree(target, Path(making) / "set"))
        (fresh / NOUNS).write_bytes(bytes_of((standing.book, dict(standing.pictures))))
        keep_set(fresh, kept)


def _again(kept: Path, number: int, home: Path) -> _Standing | None:
    """Put a kept book on the shelf; None where it is not whole."""
    names = [name for name in set_digests(kept) if name != NOUNS]
    with TemporaryDirectory(dir=home, prefix=FRESH) as making:
        if not names or not copied_set(kept, [*names, NOUNS], Path(making)):
            return None
        try:
            book, pictures = value_from((Path(making) / NOUNS).read_bytes(), tuple)
        except SpoiltError:
            return None
        standing = _Standing(folder_name(book, number), book, pictures)
        move_files(names, Path(making), home / standing.folder)
    return standing

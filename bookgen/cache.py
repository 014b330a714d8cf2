"""The environment in, the store out in which finished work is kept between binds, no larger than it may be.

It only saves time: it may be deleted at any moment, and where it can't be written a bind goes on without it.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from bookgen.render.kept import FRESH, Store, remove
from bookgen.unchanged import digest_of_program

MEGABYTES = 2000  # that the cache may hold where nobody says otherwise: some forty books of a hundred photos
DAY = 24 * 60 * 60 * 10**9  # nanoseconds: what has not become whole for so long never will
Told = Callable[[str, int, int], None]


def cache_folder() -> Path:
    """Return where finished work is kept."""
    named = os.environ.get("BOOKGEN_CACHE")
    home = os.environ.get("XDG_CACHE_HOME")
    return Path(named) if named else (Path(home) if home else Path.home() / ".cache") / "bookgen"


def known_cache() -> Store:
    """Return the store as it is, for who only looks into it."""
    return Store(cache_folder(), digest_of_program())


@contextmanager
def working_cache(progress: Told) -> Iterator[Store]:
    """Give the store; where it can't be written, tell *progress* so and give one that goes with the block.

    At the end what was used longest ago goes, until no more is left than BOOKGEN_CACHE_MB says.
    """
    known = known_cache()
    folder = known.folder
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder) as probe:  # it can be written
            now = os.fstat(probe.fileno()).st_mtime_ns  # by the clock of that disk
    except OSError as error:
        progress(f"{folder} can't be written ({error.strerror}); everything is made anew", 0, 1)
        with tempfile.TemporaryDirectory(prefix="bookgen-") as own:
            yield Store(Path(own), known.version)
        return
    most = _megabytes(progress)
    try:
        yield known
    finally:
        trim(folder, most * 1_000_000, now)


def _megabytes(progress: Told) -> int:
    said = os.environ.get("BOOKGEN_CACHE_MB", "")
    if said and not said.isdecimal():
        progress(f"BOOKGEN_CACHE_MB: {said} is no whole number of megabytes; {MEGABYTES} is taken", 0, 1)
    return int(said) if said.isdecimal() else MEGABYTES


@dataclass(frozen=True, slots=True, order=True)
class _Entry:
    """Something kept: when it was used last, where it is, and the sizes of its files by their numbers on the disk."""

    used: int
    path: Path
    sizes: tuple[tuple[tuple[int, int], int], ...]


def trim(folder: Path, most: int, now: int) -> None:
    """Remove what was used longest ago, until the store at *folder* holds no more than *most* bytes.

    What another bind was making when it was killed goes after a day; *now* is in nanoseconds. A file that two entries
    share counts once.
    """
    entries = sorted(_entries(folder, now))
    left: dict[tuple[int, int], int] = {}  # how many entries have each file
    for entry in entries:
        for file, _ in entry.sizes:
            left[file] = left.get(file, 0) + 1
    held = sum({file: size for entry in entries for file, size in entry.sizes}.values())
    for entry in entries:
        if held <= most:
            return
        remove(entry.path)
        for file, size in entry.sizes:
            left[file] -= 1
            held -= size if not left[file] else 0


def _entries(folder: Path, now: int) -> Iterator[_Entry]:
    """Yield all entries of the store that are whole; another bind may remove some meanwhile."""
    for sort in _inside(folder):
        for path in _inside(Path(sort)):
            try:
                used = path.stat().st_mtime_ns
            except OSError:
                continue
            if path.name.startswith(FRESH):
                if now - used > DAY:
                    remove(Path(path))
            else:
                yield _Entry(used, Path(path), tuple(_sizes(path)))


def _inside(folder: Path) -> list[os.DirEntry[str]]:
    try:
        with os.scandir(folder) as found:
            return list(found)
    except OSError:
        return []


def _sizes(path: os.DirEntry[str]) -> Iterator[tuple[tuple[int, int], int]]:
    """Yield the files of an entry with their sizes, as the disk knows them."""
    for one in _inside(Path(path)) if path.is_dir(follow_symlinks=False) else [path]:
        if one is not path and one.is_dir(follow_symlinks=False):
            yield from _sizes(one)
        else:
            try:
                status = Path(one).stat(follow_symlinks=False)
            except OSError:
                continue
            yield (status.st_dev, status.st_ino), status.st_size

"""A project folder in, a digest out that is another one as soon as anything changes that the work on it hangs on.

What is kept under such a digest need not be worked out again. It covers every file of the folder, the program's own
files and themes, and the Python and the libraries that it runs on.
"""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from stat import S_ISDIR, S_ISREG

PROGRAM = Path(__file__).parent
LIBRARY = (".dist-info", ".egg-info")  # what the name ends in of what tells a library's name and version
# Windows does not tell when a file was changed last, if a program turns its time back: there all is read.
TELLS_CHANGES = os.name != "nt"
# In bytes: a file up to this size counts with all that it says, a larger one with its size, times and number on the
# disk.
WHOLE = 1 << 18 if TELLS_CHANGES else 1 << 62
MOST = 20_000  # entries: a folder with more holds something else than a project
MADE_BY_PYTHON = "__pycache__"


def digest_of(folder: Path, *named: str) -> str | None:
    """Return the digest of a project folder, of the program and of what is *named*; None where there is none to trust.

    That is so where something is neither a file nor a folder, or can't be read, or where there is far too much.
    """
    told = hashlib.sha256("\0".join((digest_of_program(), *named, "")).encode(errors="surrogateescape"))
    try:
        for line in _entries(folder.resolve(), WHOLE):
            told.update(line + b"\0")
    except (OSError, _UnusualError):
        return None
    return told.hexdigest()


def digest_of_program() -> str:
    """Return the digest of all that makes the bytes of a book: the program's files, themes, Python, the libraries.

    Of the libraries it takes the names and versions that are installed: none is loaded for it.
    """
    return _digest_of(PROGRAM)


@cache  # what runs does not change any more
def _digest_of(program: Path) -> str:
    themes = program / "themes" if (program / "themes").is_dir() else program.parent / "themes"
    made = hashlib.sha256(f"{sys.version} {sys.platform} {_libraries()}".encode())
    for folder in (program, themes):
        for path in sorted(_files(folder)):
            data = Path(path).read_bytes()
            made.update(f"\0{path[len(str(folder)) :]}\0{len(data)}\0".encode() + data)
    return made.hexdigest()


def _files(folder: Path) -> Iterator[str]:
    for here, folders, files in os.walk(folder):
        folders[:] = [name for name in folders if name != MADE_BY_PYTHON]
        yield from (f"{here}/{name}" for name in files)


def _libraries() -> list[list[str]]:
    """Return what tells the libraries' names and versions, folder by folder, as they would be found.

    Folders without any don't count: which those are hangs on how the program was called.
    """
    folders = [folder for folder in map(Path, sys.path) if folder.is_dir()]
    listed = (sorted(one.name for one in folder.iterdir() if one.suffix in LIBRARY) for folder in folders)
    return [names for names in listed if names]


@dataclass(frozen=True, slots=True)
class Stamp:
    """What tells, without a file's being read, that none of a folder was written: its digest, and the latest change.

    *latest* is in nanoseconds, by the clock of that disk.
    """

    digest: str
    latest: int


def stamp_of(folder: Path) -> Stamp | None:
    """Return the stamp of the names, sizes, times and numbers on the disk of everything in *folder*.

    None where there is none to trust: on a machine that doesn't tell all changes, of a folder that is no folder of its
    own, or holds anything but files and folders. Raises OSError where something can't be looked into.
    """
    if not TELLS_CHANGES or folder.is_symlink() or not folder.is_dir():
        return None
    told, latest = hashlib.sha256(), 0
    waiting = [os.fspath(folder)]
    while waiting:
        here = waiting.pop()
        told.update(os.fsencode(here) + b"\0")
        with os.scandir(here) as row:
            entries = sorted(row, key=lambda one: one.name)
        for entry in entries:
            about = entry.stat(follow_symlinks=False)
            latest = max(latest, about.st_ctime_ns)
            if S_ISDIR(about.st_mode):
                waiting.append(entry.path)
            elif S_ISREG(about.st_mode):
                told.update(b"%s %o %d%s\0" % (os.fsencode(entry.name), about.st_mode, about.st_size, _written(about)))
            else:
                return None
    return Stamp(told.hexdigest(), latest)


class _UnusualError(Exception):
    """The folder holds what size and time don't tell all about."""


def _entries(folder: Path, whole: int) -> Iterator[bytes]:
    """Yield a line for *folder* and each entry under it, always in one order; a file up to *whole* bytes with its text.

    Raises OSError where something can't be read.
    """
    waiting, seen = [os.fspath(folder)], 0
    while waiting:
        here = waiting.pop()
        yield os.fsencode(os.path.relpath(here, folder))  # a folder that is moved or copied says the same
        with os.scandir(here) as row:
            entries = sorted(row, key=lambda one: one.name)
        seen += len(entries)
        if seen > MOST:
            raise _UnusualError
        for entry in entries:
            about = entry.stat(follow_symlinks=False)
            line = b"%s %o %d" % (os.fsencode(entry.name), about.st_mode, about.st_size)
            if S_ISDIR(about.st_mode):
                if entry.name != MADE_BY_PYTHON:
                    waiting.append(entry.path)
            elif not S_ISREG(about.st_mode):
                raise _UnusualError
            elif about.st_size <= whole:
                yield line + _digest_of_small(entry.path)
            else:
                yield line + _written(about)


def _digest_of_small(path: str) -> bytes:
    with open(path, "rb", buffering=0) as opened:  # noqa: PTH123 - of many thousands
        return hashlib.sha256(opened.readall()).digest()


def _written(about: os.stat_result) -> bytes:
    """Return what is another one after a file was written, though its size and time be turned back."""
    return b" %d %d %d" % (about.st_mtime_ns, about.st_ctime_ns, about.st_ino)

"""A project folder in, a digest out that is another one as soon as anything changes that the work on it hangs on.

What is kept under such a digest need not be worked out again. It covers every file of the folder, the program's own
files, and the Python and the libraries that it runs on.
"""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path
from stat import S_ISDIR, S_ISREG

from bookgen import __version__

PROGRAM = Path(__file__).parent
LIBRARIES = ("pydantic", "pydantic_core", "yaml", "PIL", "pi_heif", "numpy")  # what reading and solving stand on
WHOLE = 1 << 18  # bytes: a file up to this size counts with all that it says, a larger one with its size and times
MOST = 20_000  # entries: a folder with more holds something else than a project
MADE_BY_PYTHON = "__pycache__"


def digest_of(folder: Path) -> str | None:
    """Return the digest of a project folder, named so, and of the program; None where there is none to trust.

    That is so where something is neither a file nor a folder, or can't be read, or where there is far too much.
    """
    told = hashlib.sha256(f"{__version__} {sys.version} {folder}".encode(errors="surrogateescape"))
    try:
        for line in (*_libraries(), *_entries(PROGRAM, whole=0), *_entries(folder.resolve(), WHOLE)):
            told.update(line + b"\0")
    except (OSError, _UnusualError):
        return None
    return told.hexdigest()


class _UnusualError(Exception):
    """The folder holds what size and time don't tell all about."""


def _libraries() -> Iterator[bytes]:
    for name in LIBRARIES:
        found = find_spec(name)
        if found is not None and found.origin is not None:
            yield b"%s %d" % (os.fsencode(found.origin), Path(found.origin).parent.stat().st_mtime_ns)


def _entries(folder: Path, whole: int) -> Iterator[bytes]:
    """Yield a line for *folder* and each entry under it, always in one order; a file up to *whole* bytes with its text.

    Raises OSError where something can't be read.
    """
    waiting, seen = [os.fspath(folder)], 0
    while waiting:
        here = waiting.pop()
        yield os.fsencode(here)
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
                yield line + hashlib.sha256(Path(entry.path).read_bytes()).digest()
            else:
                yield line + b" %d %d %d" % (about.st_mtime_ns, about.st_ctime_ns, about.st_ino)

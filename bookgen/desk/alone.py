"""A folder in, a stretch of work during which no other run of the program does the same there."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

LOCK = ".intake-lock"  # on Windows only, and gone with the run, whichever way it ends
AGAIN = 0.2  # seconds between two looks at it


@contextmanager
def alone_in(folder: Path) -> Iterator[None]:
    """Wait until no other run holds *folder*, and hold it; the system lets go of it even if the run is killed.

    A disk that knows no locks, such as some network shares, is worked on without one. Raises OSError where *folder*
    can't be opened.
    """
    if sys.platform == "win32":
        handle = _temporary(folder / LOCK)
    else:
        import fcntl

        handle = os.open(folder, os.O_RDONLY)
        with suppress(OSError):
            fcntl.flock(handle, fcntl.LOCK_EX)
    try:
        yield
    finally:
        os.close(handle)


def _temporary(path: Path) -> int:  # pragma: no cover  (Windows only)
    """Return a file that only one run can have, and that the system takes away when the run ends."""
    flags = os.O_CREAT | os.O_EXCL | os.O_RDWR | getattr(os, "O_TEMPORARY", 0)
    while True:
        with suppress(FileExistsError, PermissionError):
            return os.open(path, flags)
        time.sleep(AGAIN)

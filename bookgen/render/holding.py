"""The path of a lock file in, the time in which nobody else has it out."""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

HELD_BY_ANOTHER = {errno.EACCES, errno.EAGAIN, errno.EDEADLK}
LOCKED_BYTE = 1 << 20  # on Windows: beyond the number, which could not be read from a locked stretch
LONGEST_NUMBER = 20


class HeldError(Exception):
    """Another process holds the file; *holder* is its number as written there, or "" where none is written yet."""

    def __init__(self, holder: str) -> None:
        super().__init__(holder)
        self.holder = holder


@contextmanager
def held(path: Path) -> Iterator[None]:
    """Hold the file *path*, made for it, with this process's number in it.

    Raises HeldError where another has it, OSError where the disk refuses. The machine lets go of it when the holder
    ends, however it ends, so that a file left by a dead one bars nobody.
    """
    descriptor = _hold(path)
    try:
        os.ftruncate(descriptor, 0)
        os.write(descriptor, f"{os.getpid()}\n".encode())
        yield
    finally:
        # Removed before it is let go: who opened it meanwhile sees in _hold that it no longer has that name. Windows
        # does not remove an open file; there it stays, and bars nobody.
        with suppress(OSError):
            path.unlink()
        os.close(descriptor)


def _hold(path: Path) -> int:
    """Return the descriptor of the locked file that really stands at *path*."""
    while True:
        descriptor = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
        try:
            _lock(descriptor)
            if _stands_at(path, descriptor):
                return descriptor
        except BaseException:
            os.close(descriptor)
            raise
        os.close(descriptor)


def _stands_at(path: Path, descriptor: int) -> bool:
    """Say whether the open file has that name still: its last holder may have removed it before it could be locked."""
    try:
        return os.path.samestat(path.stat(), os.fstat(descriptor))
    except FileNotFoundError:
        return False


def _lock(descriptor: int) -> None:
    try:
        if sys.platform == "win32":
            os.lseek(descriptor, LOCKED_BYTE, os.SEEK_SET)
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
            os.lseek(descriptor, 0, os.SEEK_SET)
        else:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        if error.errno not in HELD_BY_ANOTHER:
            raise
        os.lseek(descriptor, 0, os.SEEK_SET)
        raise HeldError(os.read(descriptor, LONGEST_NUMBER).decode("ascii", "replace").strip()) from None

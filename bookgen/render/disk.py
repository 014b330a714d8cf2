"""Paths in, done on the disk itself out: two folders exchanged in one step, bytes and names forced down to the disk."""

from __future__ import annotations

import ctypes
import errno
import hashlib
import os
import sys
from pathlib import Path

WINDOWS = sys.platform == "win32"
CAN_NOT = {errno.ENOSYS, errno.EINVAL, errno.EOPNOTSUPP, errno.ENOTSUP}
HERE = -100  # Linux fcntl.h, AT_FDCWD: a path counts from the folder that the program is in
EXCHANGE = 2  # Linux renameat2(2), RENAME_EXCHANGE
SWAP = 2  # macOS renamex_np(2), RENAME_SWAP


def exchanged(one: Path, other: Path) -> bool:
    """Give two existing paths each other's name in one step; False where this machine or file system has no such step.

    At every moment each name stands for one of the two, whole. Raises OSError where the disk refuses.
    """
    if WINDOWS:
        return False
    library = ctypes.CDLL(None, use_errno=True)
    names = (os.fsencode(one), os.fsencode(other))
    if hasattr(library, "renameat2"):
        failed = library.renameat2(HERE, names[0], HERE, names[1], EXCHANGE)
    elif hasattr(library, "renamex_np"):
        failed = library.renamex_np(*names, SWAP)
    else:
        return False
    number = ctypes.get_errno()
    if failed and number not in CAN_NOT:
        raise OSError(number, os.strerror(number), str(one), None, str(other))
    return not failed


def digest_of_file(file: Path) -> str:
    """Return the SHA-256 of *file*."""
    with file.open("rb") as opened:
        return hashlib.file_digest(opened, "sha256").hexdigest()


def settled_digest(file: Path) -> str:
    """Return the SHA-256 of *file* once its bytes are on the disk; raises OSError where they don't get there."""
    with file.open("r+b") if WINDOWS else file.open("rb") as opened:
        os.fsync(opened.fileno())
        return hashlib.file_digest(opened, "sha256").hexdigest()


def settle_folder(folder: Path) -> None:
    """Wait until the names in *folder* are on the disk; Windows does so without being asked."""
    if WINDOWS:
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    except OSError as error:
        if error.errno not in CAN_NOT:  # some network disks know no such thing of folders
            raise
    finally:
        os.close(descriptor)

"""A photo's bytes and a name in, a whole copy under that name out; never over anything, never half a file."""

from __future__ import annotations

import hashlib
import os
from contextlib import suppress
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import Literal

PART = ".intake-"  # how the name of a copy begins while it is being written
SUMS = "SHA256SUMS"


class ChangedError(Exception):
    """The original changed while it was being copied."""


def copy_in(original: Path, digest: str, folder: Path, name: str) -> str:
    """Copy *original*, whose bytes have this SHA-256, into *folder*; return the name it got.

    That is *name*, or name-2 and so on where something else stands there. The file's time comes along, since it may be
    all that tells when the photo was taken. Raises ChangedError, and OSError when the disk won't take it; nothing is
    left behind then.
    """
    with NamedTemporaryFile(dir=folder, prefix=PART, suffix=".part", delete=False) as part:
        path = Path(part.name)
    try:
        data = original.read_bytes()
        if hashlib.sha256(data).hexdigest() != digest:
            raise ChangedError
        _fill(path, "r+b", data, original.stat())
        path.chmod(0o644)
        return _link(path, data, folder, name)
    finally:
        path.unlink()


def _fill(path: Path, mode: Literal["r+b", "xb"], data: bytes, times: os.stat_result) -> None:
    """Write the bytes through to the disk, and give the file the original's times."""
    with path.open(mode) as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))


def _link(part: Path, data: bytes, folder: Path, name: str) -> str:
    """Give the whole copy its name; a link, unlike a rename, never takes the place of another file."""
    number, stem, suffix = 1, Path(name).stem, Path(name).suffix
    there = {entry.name.casefold() for entry in folder.iterdir()}  # two names may be one, on a Mac or a stick
    while True:
        wanted = name if number == 1 else f"{stem}-{number}{suffix}"
        number += 1
        if wanted.casefold() in there:
            continue
        with suppress(FileExistsError):
            try:
                os.link(part, folder / wanted)
            except FileExistsError:
                raise
            except OSError:
                _write_new(part, data, folder / wanted)  # a stick's file system has no links
            return wanted


def _write_new(part: Path, data: bytes, path: Path) -> None:
    """Write a file that must not be there yet; take it away again if it can't be written whole."""
    try:
        _fill(path, "xb", data, part.stat())
    except FileExistsError:
        raise
    except BaseException:
        path.unlink()
        raise


def listed(folder: Path) -> dict[str, str]:
    """Return the digests of the folder's checksum list, by name."""
    path = folder / SUMS
    lines = path.read_text(encoding="utf-8", errors="replace").splitlines() if path.is_file() else []
    pairs = (line.split(maxsplit=1) for line in lines)
    return {pair[1].removeprefix("*"): pair[0].lower() for pair in pairs if len(pair) == 2}


def list_it(folder: Path, name: str, digest: str) -> None:
    """Add a line to the checksum list, in the form that `sha256sum --check` reads, in one write at its end."""
    path = folder / SUMS
    torn = path.is_file() and path.stat().st_size and not path.read_bytes().endswith(b"\n")
    line = ("\n" if torn else "") + f"{digest}  {name}\n"
    handle = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o644)
    try:
        os.write(handle, line.encode())
        os.fsync(handle)
    finally:
        os.close(handle)

"""A book written into a staging folder in, the same book swapped into its target out; always one whole book.

A bound folder carries a manifest, so that a later bind knows it as its own; a folder without one is never cleared.
"""

from __future__ import annotations

import hashlib
import json
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bookgen import __version__

MANIFEST = "bookgen-manifest.json"
STAGING = ".binding"
RETIRED = ".replaced"


class TargetRefusedError(Exception):
    """The target holds something that is not a bound book; the message says what to do."""


@contextmanager
def staged(target: Path) -> Iterator[Path]:
    """Give a new folder beside *target* to write into, and swap it in when the block ends without an exception.

    Raises TargetRefusedError before anything is written when *target* holds files of somebody else, OSError when the
    disk is in the way. Whatever happens, *target* is the old book or the new one, whole; the staging folder is removed.
    """
    refuse_foreign(target)
    target.parent.mkdir(parents=True, exist_ok=True)
    staging = target.parent / f".{target.name}{STAGING}"
    _recover(target)
    _remove(staging)
    staging.mkdir()
    try:
        yield staging
        _write_manifest(staging)
        _swap(staging, target)
    finally:
        _remove(staging)


def refuse_foreign(target: Path) -> None:
    """Raise TargetRefusedError when *target* is a file, or a folder with content that no bind has written."""
    if target.is_symlink() or (target.exists() and not target.is_dir()):
        raise TargetRefusedError(f"{target} is not a folder; name another with --out")
    if target.is_dir() and any(target.iterdir()) and not (target / MANIFEST).is_file():
        raise TargetRefusedError(f"{target} holds files that are not a bound book; name another folder with --out")


def _write_manifest(folder: Path) -> None:
    files = {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }
    text = json.dumps({"bookgen": __version__, "files": files}, indent=1, sort_keys=True)
    (folder / MANIFEST).write_text(text + "\n", encoding="utf-8")


def _swap(staging: Path, target: Path) -> None:
    retired = target.parent / f".{target.name}{RETIRED}"
    if target.exists():
        target.replace(retired)
    try:
        staging.replace(target)
    except OSError:
        if retired.exists() and not target.exists():
            retired.replace(target)
        raise
    _remove(retired)


def _recover(target: Path) -> None:
    """Put back the old book where a bind was killed between its two renames."""
    retired = target.parent / f".{target.name}{RETIRED}"
    if not retired.exists():
        return
    if target.exists():
        _remove(retired)
    else:
        retired.replace(target)


def _remove(folder: Path) -> None:
    if folder.is_symlink() or folder.is_file():
        folder.unlink()
    elif folder.exists():
        shutil.rmtree(folder)

"""A book written into a staging folder in, the same book swapped into its target out; always one whole book.

A bound folder carries a manifest, so that a later bind knows it as its own; a folder without one is never cleared, nor
one in which somebody else has put a file. What a bind that was killed leaves behind lies beside the target, under names
of its own, and goes at the next bind.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import unicodedata
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from bookgen import __version__
from bookgen.render.cores import cores
from bookgen.render.disk import digest_of_file, exchanged, settle_folder, settled_digest
from bookgen.render.holding import HeldError, held

MANIFEST = "bookgen-manifest.json"
STAGING = ".binding-"  # and the number of the process, so that a bind never writes into what another one left
RETIRED = ".replaced"
LOCK = ".binding-lock"
OF_NOBODY = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})  # a file manager writes them where it has looked
WAITING = 16  # files that are waited for together: a disk writes many in hardly more time than one
NAMED = 3  # files of somebody else that a message names


@dataclass(frozen=True, slots=True)
class Contents:
    """What a folder is bound to hold. *id* stays the same for every bind of it; *words* name it in messages."""

    id: str
    words: str


class TargetRefusedError(Exception):
    """The target is no place for this bind: somebody else's files, or another bind; the message says what to do."""


@contextmanager
def staged(target: Path, contents: Contents | None = None) -> Iterator[Path]:
    """Give a new folder beside *target* to write into, and swap it in when the block ends without an exception.

    Raises TargetRefusedError before anything is written when *target* holds files of somebody else, anything but
    *contents* (where they are told), or when another bind is at work on it; OSError when the disk is in the way.
    Whatever happens, a kill at any moment included, *target* is the old book or the new one, whole. Where the file
    system can't exchange two folders, a kill between two renames leaves the old book under its retired name, and the
    next bind puts it back first.
    """
    target = Path(os.path.abspath(target))  # noqa: PTH100 - `..` goes, links stay: the target itself may not be one
    target.parent.mkdir(parents=True, exist_ok=True)
    try:
        with held(_beside(target, LOCK)):
            refuse_foreign(target)  # under the lock: another bind may be swapping its book in
            if contents is not None:
                _refuse_other(target, contents)
            yield from _staged(target, contents)
    except HeldError as error:
        process = f"process {error.holder}" if error.holder else "another process"
        raise TargetRefusedError(
            f"{target} is being bound by {process} at this moment; wait until that is done, then bind again"
        ) from None


def _staged(target: Path, contents: Contents | None) -> Iterator[Path]:
    _clean_up(target)
    staging = _beside(target, f"{STAGING}{os.getpid()}")
    staging.mkdir()
    try:
        yield staging
        _write_manifest(staging, contents)
        _swap(staging, target)
    finally:
        # What can't be removed now is in nobody's way, and must not hide why the bind broke: the next one tries again.
        shutil.rmtree(staging, ignore_errors=True)


def tidy(target: Path) -> None:
    """Remove what binds of *target* left beside it when they were killed; leave all alone while another is at work."""
    target = Path(os.path.abspath(target))  # noqa: PTH100 - as in `staged`
    if _left_behind(target) or _beside(target, LOCK).exists():
        # What can't be removed now is in nobody's way: the next bind tries again.
        with suppress(HeldError, OSError), held(_beside(target, LOCK)):
            _clean_up(target)


def refuse_foreign(target: Path) -> None:
    """Raise TargetRefusedError when *target* is no folder of its own, or holds anything that no bind has written."""
    if target.is_symlink() or (target.exists() and not target.is_dir()):
        raise TargetRefusedError(f"{target} is not a folder; name another with --out")
    if os.path.ismount(target):
        raise TargetRefusedError(
            f"{target} is a whole drive; name a folder on it with --out, such as {target / 'book'}"
        )
    found = _files_in(target)
    if found and MANIFEST not in found:
        raise TargetRefusedError(f"{target} holds files that are not a bound book; name another folder with --out")
    foreign = sorted(found - _listed(target)) if found else []
    if foreign:
        names = [name.encode("utf-8", "replace").decode() for name in foreign[:NAMED]]
        more = f" and {len(foreign) - NAMED} more" if len(foreign) > NAMED else ""
        raise TargetRefusedError(
            f"{target} holds a bound book and files that no bind has written: {', '.join(names)}{more}; "
            "move them elsewhere, or name another folder with --out"
        )


def _refuse_other(target: Path, contents: Contents) -> None:
    """Raise TargetRefusedError when the manifest in *target* says that something else was bound there."""
    if not (target / MANIFEST).exists():
        return
    written = json.loads((target / MANIFEST).read_text(encoding="utf-8"))
    there, words = written.get("id", contents.id), written.get("holds", "something else")
    if there != contents.id:
        other = "another project of that name" if words == contents.words else words
        raise TargetRefusedError(
            f"{target} holds {other}, which would be lost under {contents.words}; "
            "name another folder with --out, or delete that one first"
        )


def whole_book(target: Path) -> bool:
    """Tell whether *target* holds what its manifest lists, each file to the byte as it was bound, and nothing else."""
    try:
        files: dict[str, str] = json.loads((target / MANIFEST).read_text(encoding="utf-8"))["files"]
        if _files_in(target) != _listed(target):
            return False
        share = cores()  # each core takes every so-manieth file: to hand over one by one takes longer than to read it
        with ThreadPoolExecutor(share) as pool:
            return all(pool.map(partial(_as_listed, target), ([*files.items()][n::share] for n in range(share))))
    except (OSError, ValueError, TypeError, LookupError, AttributeError, TargetRefusedError):
        return False


def _as_listed(target: Path, files: Sequence[tuple[str, str]]) -> bool:
    return all(digest_of_file(target / name) == digest for name, digest in files)


def _files_in(folder: Path) -> set[str]:
    """Return the names of everything in *folder* but folders and what belongs to nobody."""
    if not folder.exists():
        return set()
    names = _walked(folder)[1]
    return {unicodedata.normalize("NFC", name) for name in names if name.rpartition("/")[2] not in OF_NOBODY}


def _walked(top: Path) -> tuple[list[str], list[str]]:
    """Return the names in *top* of its folders and of everything else, with / between; a link is no folder.

    Raises OSError where one can't be looked into. (`Path.rglob` would pass over such a folder without a word.)
    """
    below: list[str] = []
    others: list[str] = []
    for here, folders, files in os.walk(top, onerror=_raise):
        home = here[len(os.fspath(top)) :].replace(os.sep, "/").lstrip("/")
        inside = f"{home}/" if home else ""
        links = {name for name in folders if os.path.islink(f"{here}/{name}")}  # noqa: PTH114 - of many thousands
        below += (inside + name for name in folders if name not in links)
        others += (inside + name for name in (*links, *files))
    return below, others


def _raise(error: OSError) -> None:
    raise error


def _listed(target: Path) -> set[str]:
    """Return the files that the manifest in *target* lists, and itself."""
    try:
        files = json.loads((target / MANIFEST).read_text(encoding="utf-8"))["files"]
        return {unicodedata.normalize("NFC", name) for name in (*files, MANIFEST)}
    except (ValueError, TypeError, KeyError, RecursionError):
        raise TargetRefusedError(
            f"{target / MANIFEST} can't be read, so nobody knows whose files lie beside it; "
            "look through the folder and delete it, or name another with --out"
        ) from None


def _write_manifest(folder: Path, contents: Contents | None) -> None:
    """List every file of *folder* with its digest, and wait until all of it is on the disk."""
    folders, written = _walked(folder)
    with ThreadPoolExecutor(WAITING) as pool:
        files = dict(zip(written, pool.map(settled_digest, (folder / name for name in written)), strict=True))
    told = {"id": contents.id, "holds": contents.words} if contents else {}
    text = json.dumps({"bookgen": __version__, "files": files, **told}, indent=1, sort_keys=True)
    (folder / MANIFEST).write_text(text + "\n", encoding="utf-8")
    settled_digest(folder / MANIFEST)
    for name in (*folders, "."):
        settle_folder(folder / name)


def _swap(staging: Path, target: Path) -> None:
    refuse_foreign(target)  # once more: a book takes its time, and somebody may have put a file there meanwhile
    if not target.exists():
        staging.replace(target)
    elif not exchanged(staging, target):
        _swap_in_two_steps(staging, target)
    settle_folder(target.parent)


def _swap_in_two_steps(staging: Path, target: Path) -> None:
    retired = _beside(target, RETIRED)
    target.replace(retired)
    try:
        staging.replace(target)
    finally:
        if not target.exists():
            retired.replace(target)
    shutil.rmtree(retired, ignore_errors=True)


def _clean_up(target: Path) -> None:
    """Remove what binds of *target* left when they were killed; put the old book back where it had no name any more."""
    retired = _beside(target, RETIRED)
    if retired.exists() and not _files_in(target):
        if target.exists():
            shutil.rmtree(target)
        retired.replace(target)
    for path in _left_behind(target):
        shutil.rmtree(path)


def _left_behind(target: Path) -> list[Path]:
    """Return the folders beside *target* that binds of it work in; without one at work, what killed ones left."""
    ours = re.compile(rf"{re.escape(_beside(target, STAGING).name)}[0-9]+|{re.escape(_beside(target, RETIRED).name)}")
    return [path for path in target.parent.iterdir() if ours.fullmatch(path.name)]


def _beside(target: Path, ending: str) -> Path:
    return target.parent / f".{target.name}{ending}"

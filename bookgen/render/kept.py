"""A name in, what was kept under it between binds out: whole, as it was written, or not at all.

Everything carries digests and is measured by them when it is used, so that an entry that is spoilt, cut short or half
removed by somebody else counts as one that was never there. It appears under its own name only when it is whole and on
the disk. When it was last used is told by its file time.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from tempfile import NamedTemporaryFile, TemporaryDirectory

from bookgen.render.disk import settle_folder, settled_digest

FRESH = ".making-"  # how the name of anything begins that is not whole yet, or not any more
LISTED = "digests.json"
DIGEST = 32  # bytes
WAITING = 16  # files that are waited for together


@dataclass(frozen=True, slots=True)
class Store:
    """The folder of what is kept. What depends on the program lies under keys that *version* is part of.

    *version* is a digest of all that makes the bytes: another version's entries are never found.
    """

    folder: Path
    version: str

    def sort(self, name: str) -> Path:
        """Return the folder of one sort of entry, such as `pictures`."""
        return self.folder / name

    def key(self, *parts: str | bytes) -> str:
        """Return the name of an entry of this version that *parts* decide."""
        made = hashlib.sha256(self.version.encode())
        for part in parts:
            data = part.encode("utf-8", "surrogatepass") if isinstance(part, str) else part
            made.update(len(data).to_bytes(8, "big") + data)
        return made.hexdigest()

    def once(self, sort: str, key: str, make: Callable[[], bytes]) -> bytes:
        """Return the bytes kept under *key*; where there are none, make and keep them. Raises OSError."""
        found = kept_bytes(self.sort(sort) / key)
        if found is None:
            found = make()
            keep_bytes(self.sort(sort) / key, found)
        return found


def kept_bytes(path: Path) -> bytes | None:
    """Return what `keep_bytes` has put there; None where nothing whole is."""
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        return None
    if hashlib.sha256(data[DIGEST:]).digest() != data[:DIGEST]:
        return None
    _use(path)
    return data[DIGEST:]


def keep_bytes(path: Path, data: bytes) -> None:
    """Keep *data* under *path*, in place of what was there; raises OSError where the disk refuses."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with NamedTemporaryFile(dir=path.parent, prefix=FRESH, delete=False) as making:
        try:
            making.write(hashlib.sha256(data).digest() + data)
            making.flush()
            os.fsync(making.fileno())
            making.close()
            Path(making.name).replace(path)
        except BaseException:
            Path(making.name).unlink(missing_ok=True)
            raise
    settle_folder(path.parent)


def copied_set(kept: Path, names: Sequence[str], out: Path) -> bool:
    """Copy the files *names* of a kept set into *out*, each whole at once; False where some is not as it was."""
    listed = set_digests(kept)
    try:
        whole = copied(names, kept, out, listed)
    except (FileNotFoundError, NotADirectoryError):
        return False
    if whole:
        _use(kept)
    return whole


def copied(names: Sequence[str], source: Path, out: Path, digests: Mapping[str, str] | None = None) -> bool:
    """Copy files of the folder *source* into *out*, each whole at once; False, and nothing, where a digest is another.

    Copied, not linked: a file that is changed in *out* must not change what the next book gets.
    """
    with TemporaryDirectory(dir=out, prefix=FRESH) as making:
        for name in names:
            data = (source / name).read_bytes()
            if digests is not None and hashlib.sha256(data).hexdigest() != digests.get(name):
                return False
            fresh = Path(making) / name
            fresh.parent.mkdir(parents=True, exist_ok=True)
            fresh.write_bytes(data)
        move_files(names, Path(making), out)
    return True


def set_digests(kept: Path) -> Mapping[str, str]:
    """Return the digests of the files of a kept set by their names; none where the set is not whole."""
    try:
        listed = json.loads((kept / LISTED).read_bytes())
    except (FileNotFoundError, NotADirectoryError, ValueError):
        return {}
    return listed if isinstance(listed, dict) else {}


def keep_set(fresh: Path, kept: Path) -> None:
    """Move the folder *fresh* to where *kept* is to be, with the digests of its files; *fresh* lies on the same disk.

    Where somebody else was quicker, theirs stays. Raises OSError where the disk refuses.
    """
    files = [path for path in fresh.rglob("*") if path.is_file()]
    with ThreadPoolExecutor(WAITING) as pool:
        digests = pool.map(settled_digest, files)
        listed = {path.relative_to(fresh).as_posix(): digest for path, digest in zip(files, digests, strict=True)}
    (fresh / LISTED).write_text(json.dumps(listed, sort_keys=True), encoding="utf-8")
    settled_digest(fresh / LISTED)
    settle_folder(fresh)
    try:
        fresh.replace(kept)
    except OSError:
        if _whole(kept, listed):
            return
        remove(kept)
        fresh.replace(kept)
    settle_folder(kept.parent)


def _whole(kept: Path, listed: Mapping[str, str]) -> bool:
    try:
        return set_digests(kept) == listed and all(
            hashlib.sha256((kept / name).read_bytes()).hexdigest() == digest for name, digest in listed.items()
        )
    except (FileNotFoundError, NotADirectoryError):
        return False


def move_files(names: Sequence[str], made: Path, out: Path) -> None:
    """Move files of one folder into another, each whole at once."""
    for name in names:
        (out / name).parent.mkdir(parents=True, exist_ok=True)
        (made / name).replace(out / name)


def remove(entry: Path) -> None:
    """Remove an entry; nobody finds a part of it under its name meanwhile, and what can't be removed goes later."""
    with suppress(OSError):
        if entry.is_dir() and not entry.is_symlink():
            with TemporaryDirectory(dir=entry.parent, prefix=FRESH, ignore_cleanup_errors=True) as going:
                entry.replace(Path(going) / "gone")
        else:
            entry.unlink()


def _use(entry: Path) -> None:
    with suppress(OSError):  # a cache on a disk that can only be read serves as well
        os.utime(entry)

"""Photos in; the copies a book shows out: upright, sRGB, several sizes, named by content, without any metadata."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Literal, TypeVar

from PIL import Image

from bookgen.model.photo import Photo, PhotoFault
from bookgen.render import pixels
from bookgen.render.ahead import WORKERS, Ahead, unwarned
from bookgen.render.cores import cores
from bookgen.render.kept import FRESH, copied, copied_set, keep_set, set_digests

VERSION = 3  # goes up whenever the same photos would give other bytes, so that a cache never serves old ones
SCREEN_WIDTHS = (480, 960, 1600)
PRINT_WIDTH = 1800
TALLEST = 4000  # pixels; WebP ends at 16383, and a taller copy serves no page
Fault = TypeVar("Fault")


@dataclass(frozen=True, slots=True)
class PictureFile:
    """One copy: its file name in the pictures folder, and its size in pixels."""

    name: str
    width: int
    height: int
    kind: Literal["jpeg", "webp"]
    use: Literal["screen", "print"]


@dataclass(frozen=True, slots=True)
class PictureSet:
    """The copies of one photo: *digest* is the photo's, *width* and *height* are the original's, upright.

    *files* go from narrow to wide, JPEG before WebP, the one for print last.
    """

    digest: str
    width: int
    height: int
    files: tuple[PictureFile, ...]


def planned_pictures(photo: Photo) -> PictureSet:
    """Return the copies `make_pictures` makes of *photo*: none wider than the original, none twice."""
    files: list[PictureFile] = []
    for width, height in dict.fromkeys(_size(photo, width) for width in SCREEN_WIDTHS):
        stem = f"{photo.digest[:12]}-{width}"
        files.append(PictureFile(f"{stem}.jpg", width, height, "jpeg", "screen"))
        files.append(PictureFile(f"{stem}.webp", width, height, "webp", "screen"))
    width, height = _size(photo, PRINT_WIDTH)
    files.append(PictureFile(f"{photo.digest[:12]}-{width}-print.jpg", width, height, "jpeg", "print"))
    return PictureSet(photo.digest, photo.width, photo.height, tuple(files))


def make_pictures(
    photos: Sequence[Photo],
    out: Path,
    cache: Path | None,
    progress: Callable[[int, int], None] | None = None,
    ahead: Ahead | None = None,
) -> tuple[dict[str, PictureSet], tuple[tuple[Photo, PhotoFault], ...]]:
    """Write the copies of *photos* into *out*; return their sets by digest, and the photos that could not be read.

    Equal photos are done once; both results keep the order of *photos*. With a *cache* folder, a photo seen before is
    copied from there without being opened; what *ahead* is making of it is waited for. *progress* is told how many
    different photos are done, of how many. A file appears under its own name only when it is whole, also when the work
    is interrupted. Raises OSError when *out* or *cache* can't be written.
    """
    different = {photo.digest: photo for photo in photos}
    out.mkdir(parents=True, exist_ok=True)
    if cache:
        cache.mkdir(parents=True, exist_ok=True)

    def make(photo: Photo) -> PhotoFault | None:
        if ahead:
            ahead.wait(photo.digest)
        return _make(photo, out, cache)

    faults = _make_all(tuple(different.values()), make, progress or _silent)
    sets = {photo.digest: planned_pictures(photo) for photo in photos if photo.digest not in faults}
    return sets, tuple((photo, faults[photo.digest]) for photo in photos if photo.digest in faults)


def _silent(done: int, total: int) -> None:
    """Tell nobody."""


def _make_all(
    photos: tuple[Photo, ...], make: Callable[[Photo], PhotoFault | None], progress: Callable[[int, int], None]
) -> dict[str, PhotoFault]:
    faults: dict[str, PhotoFault] = {}
    with unwarned():
        # Threads, not processes: Pillow and libheif let go of the interpreter while they decode, resize and encode.
        pool = ThreadPoolExecutor(min(WORKERS, cores()))
        try:
            tasks = {pool.submit(make, photo): photo for photo in photos}
            for done, task in enumerate(as_completed(tasks), start=1):
                fault = task.result()
                if fault:
                    faults[tasks[task].digest] = fault
                progress(done, len(photos))
        finally:
            pool.shutdown(wait=True, cancel_futures=True)  # after Ctrl-C only what is under way is finished
    return faults


def _make(photo: Photo, out: Path, cache: Path | None) -> PhotoFault | None:
    files = planned_pictures(photo).files
    kept = cache / kept_name(photo.digest) if cache else None
    return made_once(files, out, kept, lambda fresh: _draw(photo, files, fresh))


def keep_pictures(photo: Photo, cache: Path) -> None:
    """Put the copies of *photo* into the folder *cache* where they are not there yet; of a broken photo, nothing."""
    keep_once(cache / kept_name(photo.digest), lambda fresh: _draw(photo, planned_pictures(photo).files, fresh))


def kept_name(digest: str) -> str:
    """Return the name in the cache of what is made of pixels; other libraries may make other bytes of them."""
    return f"{digest}-v{VERSION}-pillow-{pixels.PILLOW}-heif-{pixels.HEIF}"


def made_once(
    files: tuple[PictureFile, ...], out: Path, kept: Path | None, draw: Callable[[Path], Fault | None]
) -> Fault | None:
    """Put *files* into *out*: from the folder *kept* in the cache where they are whole, else drawn and kept there.

    *draw* writes them into a fresh folder, or returns why it can't, which is then returned and nothing kept.
    """
    names = [file.name for file in files]
    if kept and copied_set(kept, names, out):
        return None
    with _fresh(kept.parent if kept else out) as fresh:
        fault = draw(fresh)
        if fault is not None:
            return fault
        copied(names, fresh, out)
        if kept:
            keep_set(fresh, kept)
    return None


def keep_once(kept: Path, draw: Callable[[Path], object]) -> None:
    """Keep what *draw* writes into a fresh folder as *kept*, unless something is kept there or it returns a fault.

    What is kept there is looked at by who takes it.
    """
    if set_digests(kept):
        return
    with _fresh(kept.parent) as fresh:
        if draw(fresh) is None:
            keep_set(fresh, kept)


@contextmanager
def _fresh(parent: Path) -> Iterator[Path]:
    """Give a folder that nobody looks into, on the disk of *parent*, which goes unless it is moved."""
    with TemporaryDirectory(dir=parent, prefix=FRESH) as making:
        fresh = Path(making) / "set"
        fresh.mkdir()
        yield fresh


def _size(photo: Photo, width: int) -> tuple[int, int]:
    width = min(width, photo.width)
    height = _share(photo.height, width, photo.width)
    return (width, height) if height <= TALLEST else (_share(photo.width, TALLEST, photo.height), TALLEST)


def _share(length: int, part: int, whole: int) -> int:
    return max(1, (2 * length * part + whole) // (2 * whole))  # nearest whole pixel, a half goes up


def _draw(photo: Photo, files: tuple[PictureFile, ...], folder: Path) -> PhotoFault | None:
    try:
        data = photo.path.read_bytes()
    except OSError as wrong:
        return PhotoFault("photo-missing", f"the file can't be opened any more ({wrong.strerror})", "put it back")
    if hashlib.sha256(data).hexdigest() != photo.digest:
        return PhotoFault("photo-unreadable", "the file changed while the book was being made", "make the book again")
    widest = max(files, key=lambda file: file.width)
    try:
        image = pixels.clean_image(photo, data, widest.width, widest.height)
    except pixels.BrokenPixelsError as wrong:
        repair = "copy it from the phone again and see that it opens"
        return PhotoFault("photo-unreadable", f"its picture can't be decoded ({wrong})", repair)
    write_copies(files, {"screen": image, "print": image}, folder)
    return None


def write_copies(files: tuple[PictureFile, ...], images: Mapping[str, Image.Image], folder: Path) -> None:
    """Write *files* into *folder*, each in its size and kind from the image of its use; no image is resized twice."""
    copies: dict[tuple[int, int, int], Image.Image] = {}
    for file in files:
        image = images[file.use]
        size = (id(image), file.width, file.height)
        if size not in copies:
            copies[size] = pixels.smaller(image, file.width, file.height)
        if file.kind == "webp":
            pixels.save_webp(copies[size], folder / file.name)
        else:
            quality = pixels.PRINT_QUALITY if file.use == "print" else pixels.SCREEN_QUALITY
            pixels.save_jpeg(copies[size], folder / file.name, quality)

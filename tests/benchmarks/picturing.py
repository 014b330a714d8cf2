"""Prints how long the picture work for a job's phone photos takes, beside Pillow's own bare loop over the same photos.

Run it as `python -m tests.benchmarks.picturing`, with `--photos 20` for a quick look. The bare loop decodes each photo
at the scale that its widest copy needs, resizes it and encodes the same copies, on both cores, and keeps, checks and
moves nothing. Both run in turns, in processes of their own, so that what else the machine does hits both, and the peak
memory of each is known.
"""

from __future__ import annotations

import multiprocessing
import os
import resource
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

import click
import numpy as np
from PIL import Image

from bookgen.model.photo import Photo
from bookgen.read.photos import probe
from bookgen.render import pixels
from bookgen.render.pictures import make_pictures, planned_pictures

PIXELS = (4032, 3024)  # 12 Mpx, as phones give them
DIFFERENT = 8  # pictures that are really different; the rest differ in a comment, so that none is done but once
ROUNDS = 4  # the photos are shared out between so many turns
QUALITY = 92
MEGABYTE = 1024  # kilobytes


def picture(seed: int) -> Image.Image:
    """Return a picture with large shapes, edges and the grain of a phone in a dim room, the same for a seed."""
    random = np.random.default_rng(seed)
    small = Image.fromarray(random.integers(0, 256, (9, 12, 3), dtype=np.uint8))
    base = np.asarray(small.resize(PIXELS, Image.Resampling.BICUBIC), dtype=np.int16)
    stripes = (np.arange(PIXELS[0]) // 96 % 2 * 40).astype(np.int16)[None, :, None]  # studs
    grain = random.normal(0, 5, (PIXELS[1], PIXELS[0], 1)).astype(np.int16)
    return Image.fromarray(np.clip(base + stripes + grain, 0, 255).astype(np.uint8))


def photos_in(folder: Path, count: int) -> list[Photo]:
    """Write so many photos into a folder and return them as `read` gives them."""
    folder.mkdir()
    for number in range(min(DIFFERENT, count)):
        buffer = BytesIO()
        picture(number).save(buffer, "JPEG", quality=QUALITY)
        data = buffer.getvalue()
        for copy in range(number, count, DIFFERENT):
            comment = f"{copy:04}".encode()
            (folder / f"IMG_{copy:04}.jpg").write_bytes(data[:2] + b"\xff\xfe\x00\x06" + comment + data[2:])
    found = [probe(folder, path.name) for path in sorted(folder.iterdir())]
    return [one for one in found if isinstance(one, Photo)]


def bare(photos: list[Photo], out: Path, cache: Path) -> None:
    """Decode, resize and encode the same copies with the library alone."""
    out.mkdir(parents=True)
    assert cache != out

    def one(photo: Photo) -> None:
        files = planned_pictures(photo).files
        widest = max(files, key=lambda file: file.width)
        with Image.open(photo.path) as image:
            image.draft("RGB", (widest.width, widest.height))
            large = image.resize((widest.width, widest.height), Image.Resampling.LANCZOS, reducing_gap=3.0)
        sizes = dict.fromkeys((file.width, file.height) for file in files)
        copies = {size: pixels.smaller(large, *size) for size in sizes}
        for file in files:
            copy = copies[file.width, file.height]
            if file.kind == "webp":
                pixels.save_webp(copy, out / file.name)
            else:
                quality = pixels.PRINT_QUALITY if file.use == "print" else pixels.SCREEN_QUALITY
                pixels.save_jpeg(copy, out / file.name, quality)

    with ThreadPoolExecutor(os.cpu_count()) as pool:
        list(pool.map(one, photos))


def ours(photos: list[Photo], out: Path, cache: Path) -> None:
    """Do the whole picture work of a bind."""
    _, faults = make_pictures(photos, out, cache)
    assert not faults


Work = Callable[[list[Photo], Path, Path], None]


def _run(work: Work, photos: list[Photo], folders: tuple[Path, Path], told: multiprocessing.Queue[object]) -> None:
    start = perf_counter()
    work(photos, *folders)
    wall = perf_counter() - start
    used = resource.getrusage(resource.RUSAGE_SELF)
    told.put((wall, used.ru_utime + used.ru_stime, used.ru_maxrss / MEGABYTE))


def alone(work: Work, photos: list[Photo], out: Path, cache: Path) -> tuple[float, float, float]:
    """Return the seconds by the clock, the seconds of processor and the peak megabytes of work in its own process."""
    context = multiprocessing.get_context("spawn")
    told: multiprocessing.Queue[object] = context.Queue()
    process = context.Process(target=_run, args=(work, photos, (out, cache), told))
    process.start()
    found = told.get()
    process.join()
    assert isinstance(found, tuple)
    return found


@click.command()
@click.option("--photos", "count", default=200, show_default=True, help="How many photos of 12 Mpx.")
def main(count: int) -> None:
    """Print both times, their ratio, the peak memory, and how long a second bind takes for the same photos."""
    with TemporaryDirectory() as folder:
        place = Path(folder)
        photos = photos_in(place / "photos", count)
        click.echo(f"{len(photos)} photos, {sum(photo.path.stat().st_size for photo in photos) / 1e6:.0f} MB")
        shares = [photos[turn::ROUNDS] for turn in range(ROUNDS)]
        rows = [
            (alone(bare, share, place / f"bare-{turn}", place), alone(ours, share, place / "out", place / "cache"))
            for turn, share in enumerate(shares)
        ]
        for name, column in (("bare loop", 0), ("whole picture work", 1)):
            walls, used = (sum(row[column][of] for row in rows) for of in (0, 1))
            click.echo(f"{name}: {walls:.1f} s by the clock, {used:.1f} s of processor")
        click.echo(f"ratio by the clock: {median(row[1][0] / row[0][0] for row in rows):.2f}")
        click.echo(f"ratio of processor: {median(row[1][1] / row[0][1] for row in rows):.2f}")
        click.echo(f"peak memory: {max(row[1][2] for row in rows):.0f} MB")
        again = alone(ours, photos, place / "second", place / "cache")
        click.echo(
            f"second bind: {again[0]:.2f} s by the clock, {again[1]:.2f} s of processor, all {len(photos)} photos"
        )


if __name__ == "__main__":
    main()

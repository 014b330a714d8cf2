"""Two photos and the faces to look through in, the framed one warped onto the finished one out; no metadata.

Where no face is, and past the edge of the framed photo, the finished photo shows, so that a reader can fade between the
two pictures and nothing else moves.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from bookgen.model.evidence import Dot, Homography, Pane
from bookgen.model.photo import Photo, PhotoFault
from bookgen.render import pixels
from bookgen.render.ahead import Ahead, unwarned
from bookgen.render.pictures import (
    PictureFile,
    PictureSet,
    keep_once,
    kept_name,
    made_once,
    planned_pictures,
    write_copies,
)

GHOST = 0.6  # of the framed picture in the printed one, where nobody can fade
SOFT = 1.0  # pixels by which the edge of a face is softened
BLURRED = 8  # pixels past its outline in which nothing of it is left


def planned_overlay(framed: Photo, finished: Photo, panes: Sequence[Pane]) -> PictureSet:
    """Return the pictures `make_overlay` makes: as many and as large as the finished photo's own copies.

    The one for print is a ghost: both pictures, one through the other.
    """
    digest = _digest(framed, finished, panes)
    files = tuple(replace(file, name=_name(digest, file)) for file in planned_pictures(finished).files)
    return PictureSet(digest, finished.width, finished.height, files)


def make_overlay(
    framed: Photo,
    finished: Photo,
    panes: Sequence[Pane],
    out: Path,
    cache: Path | None,
    ahead: Ahead | None = None,
) -> PictureSet | tuple[Photo, PhotoFault]:
    """Write the framed photo as seen through the *panes* of the finished one into *out*; return what was written.

    Or the photo that could not be read, and why. With a *cache* folder, an overlay made before is copied from there
    without a photo being opened; what *ahead* is making of it is waited for. A file appears under its own name only
    when it is whole. Raises OSError when *out* or *cache* can't be written.
    """
    plan = planned_overlay(framed, finished, panes)
    kept = cache / kept_name(plan.digest) if cache else None
    for folder in (out, cache):
        if folder:
            folder.mkdir(parents=True, exist_ok=True)
    if ahead:
        ahead.wait(plan.digest)
    with unwarned():
        fault = made_once(plan.files, out, kept, lambda fresh: _draw(framed, finished, panes, plan.files, fresh))
    return plan if fault is None else fault


def keep_overlay(framed: Photo, finished: Photo, panes: Sequence[Pane], cache: Path) -> None:
    """Put an overlay into the folder *cache* where it is not there yet; of a broken photo, nothing."""
    plan = planned_overlay(framed, finished, panes)
    keep_once(cache / kept_name(plan.digest), lambda fresh: _draw(framed, finished, panes, plan.files, fresh))


def _digest(framed: Photo, finished: Photo, panes: Sequence[Pane]) -> str:
    told = repr((framed.digest, finished.digest, [(pane.onto.rows, pane.outline) for pane in panes]))
    return hashlib.sha256(told.encode()).hexdigest()


def _name(digest: str, file: PictureFile) -> str:
    use = "-ghost" if file.use == "print" else ""
    return f"{digest[:12]}-{file.width}-through{use}.{'webp' if file.kind == 'webp' else 'jpg'}"


def _draw(
    framed: Photo, finished: Photo, panes: Sequence[Pane], files: tuple[PictureFile, ...], folder: Path
) -> tuple[Photo, PhotoFault] | None:
    widest = max(files, key=lambda file: file.width)
    behind, front = (_decoded_size(framed, finished, panes, widest), (widest.width, widest.height))
    images = []
    for photo, size in ((framed, behind), (finished, front)):
        image = _clean(photo, size)
        if isinstance(image, PhotoFault):
            return photo, image
        images.append(image)
    through = images[1].copy()
    for pane in panes:
        _look_through(
            through, images[0], pane, _from_output(framed, finished, pane, behind, front), front[0] / finished.width
        )
    write_copies(files, {"screen": through, "print": Image.blend(images[1], through, GHOST)}, folder)
    return None


def _look_through(picture: Image.Image, framed: Image.Image, pane: Pane, back: Homography, scale: float) -> None:
    """Put what of the *framed* photo shows in a pane onto *picture*; *back* leads to its pixels, *scale* to the copy's.

    Only the part of the picture in which the outline lies is looked at.
    """
    left, top, right, bottom = _round(pane, scale, picture.size)
    size, back = (right - left, bottom - top), back.after(_shifted(left, top))
    if min(size) > 0:
        warped = framed.transform(size, Image.Transform.PERSPECTIVE, _eight(back), Image.Resampling.BICUBIC)
        outline = [(x * scale - left, y * scale - top) for x, y in pane.outline]
        picture.paste(warped, (left, top), mask=_mask(outline, back, framed.size, size))


def _round(pane: Pane, scale: float, size: tuple[int, int]) -> tuple[int, int, int, int]:
    """Return the part of a picture of the *size*, as left, top, right, bottom, out of which a pane can't show."""
    if not pane.outline:
        return 0, 0, *size
    across, down = ([dot[axis] * scale for dot in pane.outline] for axis in (0, 1))
    return (
        max(0, math.floor(min(across)) - BLURRED),
        max(0, math.floor(min(down)) - BLURRED),
        min(size[0], math.ceil(max(across)) + BLURRED),
        min(size[1], math.ceil(max(down)) + BLURRED),
    )


def _clean(photo: Photo, size: tuple[int, int]) -> Image.Image | PhotoFault:
    try:
        data = photo.path.read_bytes()
    except OSError as wrong:
        return PhotoFault("photo-missing", f"the file can't be opened any more ({wrong.strerror})", "put it back")
    if hashlib.sha256(data).hexdigest() != photo.digest:
        return PhotoFault("photo-unreadable", "the file changed while the book was being made", "make the book again")
    try:
        return pixels.clean_image(photo, data, *size)
    except pixels.BrokenPixelsError as wrong:
        repair = "copy it from the phone again and see that it opens"
        return PhotoFault("photo-unreadable", f"its picture can't be decoded ({wrong})", repair)


def _decoded_size(framed: Photo, finished: Photo, panes: Sequence[Pane], widest: PictureFile) -> tuple[int, int]:
    """Return the size at which the framed photo's pixels are about as large as those of the widest copy.

    A warp takes no mean over what it shrinks, so fine grain would turn into false patterns: shrink first.
    """
    grows = [_growth(pane.onto, dot) for pane in panes for dot in pane.outline or _corners(finished)]
    largest = max((growth for growth in grows if growth), default=1.0)
    share = min(1.0, largest * widest.width / finished.width)
    return max(1, round(framed.width * share)), max(1, round(framed.height * share))


def _growth(onto: Homography, dot: Dot) -> float:
    """Return how many pixels of the finished photo one of the framed photo's is wide, on average, at *dot*."""
    back = onto.inverse()
    here, right, down = (back.at((dot[0] + x, dot[1] + y)) for x, y in ((0, 0), (1, 0), (0, 1)))
    if here is None or right is None or down is None:
        return 0.0
    area = (right[0] - here[0]) * (down[1] - here[1]) - (right[1] - here[1]) * (down[0] - here[0])
    return float(abs(area) ** -0.5) if area else 0.0


def _corners(photo: Photo) -> tuple[Dot, ...]:
    return (0, 0), (photo.width, 0), (photo.width, photo.height), (0, photo.height), (photo.width / 2, photo.height / 2)


def _from_output(
    framed: Photo, finished: Photo, pane: Pane, behind: tuple[int, int], front: tuple[int, int]
) -> Homography:
    """Return the map from the copy's pixels back to those of the framed photo as decoded."""
    enlarge = _stretch(finished.width / front[0], finished.height / front[1])
    reduce = _stretch(behind[0] / framed.width, behind[1] / framed.height)
    return reduce.after(pane.onto.inverse()).after(enlarge)


def _shifted(across: float, down: float) -> Homography:
    return Homography(((1.0, 0.0, across), (0.0, 1.0, down), (0.0, 0.0, 1.0)))


def _stretch(across: float, down: float) -> Homography:
    return Homography(((across, 0.0, 0.0), (0.0, down, 0.0), (0.0, 0.0, 1.0)))


def _eight(back: Homography) -> tuple[float, ...]:
    """Return the eight numbers that Pillow takes; it counts from the pixels' corners, as the records do."""
    last = back.rows[2][2] or 1e-12
    return tuple(number / last for row in back.rows for number in row)[:8]


def _mask(
    outline: Sequence[tuple[float, float]], back: Homography, behind: tuple[int, int], size: tuple[int, int]
) -> Image.Image:
    """Return where the framed photo shows through: inside the outline, on the framed photo, short of the horizon."""
    across, down = np.arange(size[0])[None, :] + 0.5, np.arange(size[1])[:, None] + 0.5
    x, y, w = (a * across + (b * down + c) for a, b, c in back.rows)
    # not divided by w, so that past the horizon, where w is negative, nothing can lie within
    seen = (x >= 0) & (y >= 0) & (x <= w * behind[0]) & (y <= w * behind[1])
    mask = Image.fromarray((seen * 255).astype(np.uint8))
    if outline:
        face = Image.new("L", size)
        ImageDraw.Draw(face).polygon(outline, fill=255)
        mask = Image.fromarray(np.minimum(np.asarray(mask), np.asarray(face)))
    return mask.filter(ImageFilter.MinFilter(3)).filter(ImageFilter.GaussianBlur(SOFT))

"""A photo's bytes in; an upright sRGB image of the size asked for, and the files made of it, out; no metadata."""

from __future__ import annotations

import struct
import zlib
from io import BytesIO
from pathlib import Path

import pi_heif
import PIL
from PIL import Image
from PIL.JpegImagePlugin import JpegImageFile
from PIL.PngImagePlugin import PngImageFile
from PIL.WebPImagePlugin import WebPImageFile

from bookgen.model.photo import Photo
from bookgen.render.colour import display_p3_profile, to_eight_bits, to_srgb_on_white

PILLOW, HEIF = PIL.__version__, pi_heif.__version__
SCREEN_QUALITY = 82
PRINT_QUALITY = 85
WEBP_QUALITY = 80
WEBP_METHOD = 2  # 0 fast to 6 small: 2 takes half the time of the usual 4 for 4 % more bytes
_P3_PRIMARIES = 12  # ITU-T H.273 table 2: SMPTE EG 432-1
# What libheif's wrapper documents, and what Pillow's own `open` takes for a broken file.
_BROKEN = (OSError, SyntaxError, ValueError, EOFError, RuntimeError, IndexError, TypeError, struct.error, zlib.error)
_TURNS = (  # what puts a picture with this EXIF orientation upright?
    (2, Image.Transpose.FLIP_LEFT_RIGHT),
    (3, Image.Transpose.ROTATE_180),
    (4, Image.Transpose.FLIP_TOP_BOTTOM),
    (5, Image.Transpose.TRANSPOSE),
    (6, Image.Transpose.ROTATE_270),
    (7, Image.Transpose.TRANSVERSE),
    (8, Image.Transpose.ROTATE_90),
)


class BrokenPixelsError(Exception):
    """The picture can't be decoded though its header is whole; the message says why."""


def clean_image(photo: Photo, data: bytes, width: int, height: int) -> Image.Image:
    """Return *photo*, whose file holds *data*, upright, *width* x *height* pixels, in sRGB, on white, first frame.

    The image is a new one and carries pixels only. Raises BrokenPixelsError.
    """
    sideways = photo.orientation >= 5
    stored = (photo.height, photo.width) if sideways else (photo.width, photo.height)
    wanted = (height, width) if sideways else (width, height)
    try:
        image, profile = _heif(data, stored) if photo.kind == "heif" else _drawn(photo, data, stored, wanted)
        image = to_eight_bits(image)
    except _BROKEN as wrong:
        raise BrokenPixelsError(str(wrong) or type(wrong).__name__) from wrong
    if image.size != wanted:
        image = image.resize(wanted, Image.Resampling.LANCZOS, reducing_gap=3.0)
    turn = dict(_TURNS).get(photo.orientation)
    return to_srgb_on_white(image.transpose(turn) if turn is not None else image, profile)


def smaller(image: Image.Image, width: int, height: int) -> Image.Image:
    """Return a clean image at the size, itself if it has that size."""
    return image if image.size == (width, height) else image.resize((width, height), Image.Resampling.LANCZOS)


def save_jpeg(image: Image.Image, path: Path, quality: int) -> None:
    """Write a clean image as a JPEG in one pass; raises OSError when the disk won't take it.

    A progressive one takes twice as long to write, and the print engine twice as long to open; while a page loads, what
    shows is a WebP wherever the browser can.
    """
    image.save(path, "JPEG", quality=quality, optimize=True)


def save_webp(image: Image.Image, path: Path) -> None:
    """Write a clean image as a lossy WebP. Raises OSError when the disk won't take it."""
    image.save(path, "WEBP", quality=WEBP_QUALITY, method=WEBP_METHOD)


def _drawn(
    photo: Photo, data: bytes, stored: tuple[int, int], wanted: tuple[int, int]
) -> tuple[Image.Image, bytes | None]:
    # Pillow's classes themselves, not Image.open: that follows the content, not the kind that was probed.
    image: JpegImageFile | PngImageFile | WebPImageFile
    if photo.kind == "jpeg":
        image = JpegImageFile(BytesIO(data))
    elif photo.kind == "png":
        image = PngImageFile(BytesIO(data))
    else:
        image = WebPImageFile(BytesIO(data))
    _same_size(image.size, stored)
    profile = image.info.get("icc_profile")
    image.draft(None, wanted)  # a JPEG is decoded no larger than need be
    image.load()
    return image, profile


def _heif(data: bytes, stored: tuple[int, int]) -> tuple[Image.Image, bytes | None]:
    file = pi_heif.open_heif(data)
    _same_size(file.size, stored)
    picture = file[file.primary_index]
    pixels = picture.data
    _same_size(picture.size, stored)
    image = Image.frombytes(picture.mode, picture.size, pixels, "raw", picture.mode, picture.stride)
    named = picture.info.get("nclx_profile", {}).get("color_primaries")
    return image, picture.info.get("icc_profile") or (display_p3_profile() if named == _P3_PRIMARIES else None)


def _same_size(found: tuple[int, int], told: tuple[int, int]) -> None:
    if found != told:
        raise ValueError(f"its header says {told[0]} x {told[1]} pixels, its picture has {found[0]} x {found[1]}")

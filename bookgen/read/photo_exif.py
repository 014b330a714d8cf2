"""An EXIF block in; the orientation, the time and the lens that the camera wrote into it out.

Source: CIPA DC-008 (Exif) sections 4.5 and 4.6, whose tags stand in a TIFF 6.0 directory. Written from memory of those.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime
from typing import Literal

from bookgen.model.frozen import dataclass

_ORIENTATION = 0x0112
_EXIF_DIRECTORY = 0x8769
_FOCAL_35 = 0xA405
# Time tags with their fractions of a second, best first: when the shutter opened, when it became digital, last change.
_TIMES = ((0x9003, 0x9291), (0x9004, 0x9292), (0x0132, 0x9290))
_TEXT, _SHORT, _LONG = 2, 3, 4
_TIME = re.compile(r"\s*(\d{4})[:./-](\d\d?)[:./-](\d\d?)[ T](\d\d?):(\d\d?)(?::(\d\d?))?")
_LONGEST_TEXT = 64  # bytes; no time is longer


@dataclass(frozen=True, slots=True)
class Shot:
    """*orientation* 1 to 8, 1 where none is told; *taken* the camera's wall clock without a zone, or None.

    *focal_35* is the focal length, in millimetres, that sees as much on film of 36 x 24 mm; None where none is told.
    """

    orientation: int
    taken: datetime | None
    focal_35: int | None = None


def shot_of(exif: bytes) -> Shot:
    """Return what a block (with or without its Exif heading) says; a broken one says nothing, and never raises."""
    tiff = exif.removeprefix(b"Exif\0\0")
    if tiff[:4] not in {b"II*\0", b"MM\0*"}:
        return Shot(1, None)
    order: Literal["little", "big"] = "little" if tiff.startswith(b"II") else "big"
    tags = dict(_entries(tiff, order, int.from_bytes(tiff[4:8], order)))
    inner = tags.get(_EXIF_DIRECTORY)
    if isinstance(inner, int):
        tags = dict(_entries(tiff, order, inner)) | tags
    orientation = tags.get(_ORIENTATION)
    focal = tags.get(_FOCAL_35)
    return Shot(
        orientation if isinstance(orientation, int) and 1 <= orientation <= 8 else 1,
        _taken(tags),
        focal if isinstance(focal, int) and focal > 0 else None,  # 0 is how a camera writes "unknown"
    )


def _entries(tiff: bytes, order: Literal["little", "big"], at: int) -> Iterator[tuple[int, int | str]]:
    """Yield the single numbers and the short texts of one directory, the only values asked for here."""
    count = int.from_bytes(tiff[at : at + 2], order)
    for start in range(at + 2, min(at + 2 + 12 * count, len(tiff) - 11), 12):
        tag, form, size, value = (
            int.from_bytes(tiff[start + first : start + last], order)
            for first, last in ((0, 2), (2, 4), (4, 8), (8, 12))
        )
        if form == _SHORT and size == 1:
            yield tag, int.from_bytes(tiff[start + 8 : start + 10], order)
        elif form == _LONG and size == 1:
            yield tag, value
        elif form == _TEXT and size <= _LONGEST_TEXT:
            text = start + 8 if size <= 4 else value
            yield tag, tiff[text : text + size].decode("latin-1").strip("\0 ")


def _taken(tags: dict[int, int | str]) -> datetime | None:
    for time, fraction in _TIMES:
        found = _TIME.match(str(tags.get(time, "")))
        if not found:
            continue
        digits = re.match(r"\d*", str(tags.get(fraction, "")))
        microsecond = int((digits[0] if digits else "").ljust(6, "0")[:6])
        year, month, day, hour, minute, second = (int(part or 0) for part in found.groups())
        try:
            return datetime(year, month, day, hour, minute, second, microsecond)
        except ValueError:  # 0000:00:00 00:00:00 is how a camera without a clock writes "unknown"
            continue
    return None

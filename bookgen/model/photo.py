"""Photos as facts: what is known of a picture file without looking at its pixels, or why it can't be used."""

from __future__ import annotations

from datetime import datetime
from math import hypot
from pathlib import Path
from typing import Literal

from bookgen.model.frozen import dataclass

PhotoKind = Literal["jpeg", "png", "webp", "heif"]
TimeKnown = Literal["exif", "file"]
FaultCode = Literal[
    "photo-missing",
    "photo-outside",
    "photo-unreadable",
    "photo-wrong-suffix",
    "photo-too-large",
    "photo-unknown-kind",
]

LARGEST_PIXELS = 120_000_000  # three bytes a pixel: 360 MB while a copy is being made


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture file that can go into a book.

    *name* is relative to the project's photos/ folder, with / between folders. *width* and *height* are pixels of the
    upright picture. *taken* is the wall clock where it was taken, without a zone: the camera's when *time_known* is
    exif, the file's own when it is file, None where neither is a time a phone could have had. *orientation* (1 to 8,
    tag 0x0112 of CIPA DC-008, Exif) is what is still to be done to the stored pixels; 1 for HEIF, whose decoder turns
    them itself. *digest* is the SHA-256 of the file's bytes, in lower-case hex. *focal_35* is the lens as the camera
    told it, in millimetres for film of 36 x 24 mm; it helps to measure and is printed nowhere.
    """

    name: str
    path: Path
    width: int
    height: int
    taken: datetime | None
    time_known: TimeKnown
    orientation: int
    digest: str
    kind: PhotoKind
    focal_35: int | None = None

    @property
    def focal(self) -> float | None:
        """Return the focal length in pixels of the upright picture, by its diagonal; None where no camera told it."""
        return None if self.focal_35 is None else self.focal_35 * hypot(self.width, self.height) / hypot(36, 24)


@dataclass(frozen=True, slots=True)
class PhotoFault:
    """Why a photo can't be used. *says* and *repair* read on from its name: "the file is empty", "copy it again".

    photo-missing        no file of that name in photos/
    photo-outside        the name or a link leads out of photos/
    photo-unreadable     empty, cut off or broken
    photo-wrong-suffix   the content is another kind of picture than the suffix says
    photo-too-large      more pixels than LARGEST_PIXELS, or more bytes than any photo has
    photo-unknown-kind   GIF, TIFF, SVG, a film…: not JPEG, PNG, WebP or HEIC
    """

    code: FaultCode
    says: str
    repair: str

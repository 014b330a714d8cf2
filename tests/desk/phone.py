"""Small photos as a phone writes them: a colour, a time, a name."""

import os
from datetime import datetime
from io import BytesIO
from pathlib import Path

from PIL import Image

DAY_ONE, DAY_TWO, DAY_THREE = datetime(2026, 3, 9, 9, 12), datetime(2026, 4, 1, 15, 20), datetime(2026, 6, 12, 11, 5)


def photo_bytes(shade: int, taken: datetime | None = None, form: str = "JPEG") -> bytes:
    """Return a small picture of one grey; *taken* goes into its EXIF (CIPA DC-008, tag 0x9003 DateTimeOriginal)."""
    buffer, exif = BytesIO(), Image.Exif()
    if taken:
        exif.get_ifd(0x8769)[0x9003] = f"{taken:%Y:%m:%d %H:%M:%S}"
    Image.new("RGB", (16, 12), (shade, shade, shade)).save(buffer, form, exif=exif.tobytes() if taken else b"")
    return buffer.getvalue()


def put(path: Path, data: bytes, file_time: datetime | None = None) -> Path:
    """Write a file, with its folders and, where given, its time; return it."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    if file_time:
        os.utime(path, (file_time.timestamp(), file_time.timestamp()))
    return path

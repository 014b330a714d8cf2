"""Private words hidden in a photo wherever a file can hold any, and how to look for them in a book.

The layout of the blocks is that of CIPA DC-008 (EXIF in a TIFF, thumbnail in its second directory), Adobe's XMP
specification part 3 and the IIM of IPTC in Photoshop's block 1028.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pikepdf
from PIL import Image, ImageCms

CANARY = b"canary-4417-side-gate"
NAME = b"canary-4417-s"  # as long as the profile's own name, whose place it takes


def with_canaries(data: bytes) -> bytes:
    """Return the JPEG with private words in EXIF, GPS, maker note, thumbnail, XMP, IPTC, ICC, comment and behind it."""
    with Image.open(BytesIO(data)) as image:
        profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
        named = profile.replace("sRGB built-in".encode("utf-16-be"), NAME.decode().encode("utf-16-be"))
        assert named != profile
        buffer = BytesIO()
        image.save(buffer, "JPEG", quality=95, icc_profile=named, comment=CANARY)
    plain = buffer.getvalue()
    iptc = b"Photoshop 3.0\0" + b"8BIM\x04\x04\0\0" + struct.pack(">I", len(CANARY) + 5)
    iptc += b"\x1c\x02\x78" + struct.pack(">H", len(CANARY)) + CANARY
    xmp = b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta xmlns:x='adobe:ns:meta/'>" + CANARY + b"</x:xmpmeta>"
    blocks = ((0xE1, b"Exif\0\0" + _exif()), (0xE1, xmp), (0xED, iptc))
    put_in = b"".join(struct.pack(">BBH", 0xFF, mark, len(body) + 2) + body for mark, body in blocks)
    return plain[:2] + put_in + plain[2:] + plain + CANARY


def _exif() -> bytes:
    """Return a TIFF with a description, a place, a maker note and a thumbnail that is a picture with a comment."""
    buffer = BytesIO()
    Image.new("RGB", (16, 12), "red").save(buffer, "JPEG", comment=CANARY)
    thumb, text = buffer.getvalue(), CANARY + b"\0"
    size = 2 + 3 * 12 + 4, 2 + 1 * 12 + 4, 2 + 1 * 12 + 4, 2 + 2 * 12 + 4
    first, exif = 8, 8 + size[0]
    gps, second = exif + size[1], exif + size[1] + size[2]
    words = second + size[3]
    told, at_thumb = len(text), words + 3 * len(text)
    rows = (
        ((0x010E, 2, told, words), (0x8769, 4, 1, exif), (0x8825, 4, 1, gps)),
        ((0x927C, 7, told, words + told),),
        ((0x001B, 7, told, words + 2 * told),),
        ((0x0201, 4, 1, at_thumb), (0x0202, 4, 1, len(thumb))),
    )
    after = (second, 0, 0, 0)
    body = b"".join(
        struct.pack("<H", len(entries)) + b"".join(struct.pack("<HHII", *entry) for entry in entries)
        + struct.pack("<I", following)
        for entries, following in zip(rows, after, strict=True)
    )  # fmt: skip
    return b"II*\0" + struct.pack("<I", first) + body + 3 * text + thumb


def told_in(book: Path) -> list[str]:
    """Return where a book's files, their names, and all that is packed inside its PDFs hold the private words."""
    found = []
    for path in sorted(file for file in book.rglob("*") if file.is_file()):
        found += [path.name] if _has(path.name.encode()) or _has(path.read_bytes()) else []
        if path.suffix == ".pdf":
            found += [f"{path.name}: {what}" for what, data in _streams(path) if _has(data)]
    return found


def _streams(path: Path) -> Iterator[tuple[str, bytes]]:
    with pikepdf.open(path) as pdf:
        for number, thing in enumerate(pdf.objects):
            if isinstance(thing, pikepdf.Stream):
                yield f"object {number} as stored", thing.read_raw_bytes()
                try:
                    yield f"object {number}", thing.read_bytes()
                except pikepdf.PdfError:
                    continue  # a JPEG: as stored is all there is
        yield "document information", str(pdf.docinfo).encode()


def _has(data: bytes) -> bool:
    words = (CANARY, NAME.decode().encode("utf-16-be"), NAME.decode().encode("utf-16-le"))
    return any(word in data for word in words)

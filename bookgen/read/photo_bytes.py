"""Bytes of a picture file in; its kind, stored size, EXIF block and whether it is whole out, without decoding a pixel.

Sources: JPEG ITU-T T.81 annex B; PNG (W3C, third edition) section 5; WebP RFC 9649 section 2; HEIF boxes
ISO/IEC 14496-12 section 4.2. Written from memory of those.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from bookgen.model.frozen import dataclass
from bookgen.model.photo import PhotoKind

_PNG = b"\x89PNG\r\n\x1a\n"
_EXIF = b"Exif\0\0"
# Every marker with a length. One byte leads the pattern, so that it runs through the picture's own data quickly.
_JPEG_MARKER = re.compile(rb"\xff([^\x00\x01\xd0-\xd7\xff])")
_JPEG_SIZES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}  # start of frame; the three are tables and reserved
_JPEG_APP1, _JPEG_SCAN, _JPEG_END = 0xE1, 0xDA, 0xD9
_HEIF_BRANDS = frozenset({b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"hevm", b"hevs", b"mif1", b"msf1"})
_AVIF_BRANDS = frozenset({b"avif", b"avis"})
_OTHERS = (  # what else does a phone or a desk put in a photo folder, and how does it begin?
    (b"GIF8", "a GIF"),
    (b"BM", "a BMP"),
    (b"II*\0", "a TIFF or a raw photo"),
    (b"MM\0*", "a TIFF or a raw photo"),
    (b"\xff\x0a", "a JPEG XL"),
    (b"\0\0\0\x0cJXL ", "a JPEG XL"),
    (b"\0\0\0\x0cjP  ", "a JPEG 2000"),
    (b"%PDF", "a PDF"),
    (b"<svg", "an SVG drawing"),
    (b"<?xml", "an SVG drawing or other XML"),
)


class BrokenPictureError(Exception):
    """The bytes begin as a picture but don't hold a whole one; the message says how."""


@dataclass(frozen=True, slots=True)
class Header:
    """What the bytes tell: stored width and height in pixels (HEIF: as its decoder turns them), and the EXIF block."""

    width: int
    height: int
    exif: bytes


def kind_of(data: bytes) -> PhotoKind | None:
    """Return the kind of picture that *data* begins as, None when it is none the book takes."""
    if data.startswith(b"\xff\xd8\xff"):
        return "jpeg"
    if data.startswith(_PNG):
        return "png"
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "webp"
    brands = _brands(data)
    return "heif" if brands & _HEIF_BRANDS and not brands & _AVIF_BRANDS else None


def other_kind(data: bytes) -> str | None:
    """Return the name of a kind that the book doesn't take, with its article; None when the bytes look like nothing."""
    brands = _brands(data)
    if brands:
        return "an AVIF" if brands & _AVIF_BRANDS else "a film"
    start = data[:256].removeprefix(b"\xef\xbb\xbf").lstrip()
    return next((name for begins, name in _OTHERS if data.startswith(begins) or start.startswith(begins)), None)


def header_of(kind: PhotoKind, data: bytes) -> Header:
    """Return what the header says. Raises BrokenPictureError for a picture that is cut off or has no size."""
    header = {"jpeg": _jpeg, "png": _png, "webp": _webp, "heif": _heif}[kind](data)
    if header.width < 1 or header.height < 1:
        raise BrokenPictureError("the header gives no size")
    return header


def _brands(data: bytes) -> frozenset[bytes]:
    if data[4:8] != b"ftyp":
        return frozenset()
    listed = data[16 : max(16, min(int.from_bytes(data[:4]), 256))]
    return frozenset({data[8:12], *(listed[at : at + 4] for at in range(0, len(listed), 4))})


def _jpeg(data: bytes) -> Header:
    width = height = 0
    exif = b""
    at = 2
    while found := _JPEG_MARKER.search(data, at):
        marker = found[1][0]
        at = found.end()
        if marker == _JPEG_END:
            return Header(width, height, exif)
        body = data[at + 2 : at + int.from_bytes(data[at : at + 2])]
        if marker in _JPEG_SIZES and not width:
            height, width = int.from_bytes(body[1:3]), int.from_bytes(body[3:5])
        elif marker == _JPEG_APP1 and body.startswith(_EXIF) and not exif:
            exif = body
        at += max(2, int.from_bytes(data[at : at + 2]))
    raise BrokenPictureError("the file is cut off: a JPEG ends with its end marker, this one has none")


def _png(data: bytes) -> Header:
    size, exif = b"", b""
    drawn = False
    for name, body in _png_chunks(data):
        if name == b"IHDR":
            size = body[:8]
        elif name == b"eXIf":
            exif = body
        elif name == b"IDAT":
            drawn = True
        elif name == b"IEND" and drawn:
            return Header(int.from_bytes(size[:4]), int.from_bytes(size[4:]), exif)
    raise BrokenPictureError("the file is cut off: a PNG ends with an IEND chunk, this one has none")


def _png_chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    at = len(_PNG)
    while at + 12 <= len(data):
        end = at + 12 + int.from_bytes(data[at : at + 4])
        if end > len(data):
            return
        yield data[at + 4 : at + 8], data[at + 8 : end - 4]
        at = end


def _webp(data: bytes) -> Header:
    end = 8 + int.from_bytes(data[4:8], "little")
    if end > len(data):
        raise BrokenPictureError(f"the file is cut off: it should have {end:,} bytes and has {len(data):,}")
    width = height = 0
    exif = b""
    drawn = False
    at = 12
    while at + 8 <= end:
        name, length = data[at : at + 4], int.from_bytes(data[at + 4 : at + 8], "little")
        body = data[at + 8 : at + 8 + length]
        if not width:
            width, height = _webp_size(name, body)
        if name == b"EXIF":
            exif = body
        drawn = drawn or name in {b"VP8 ", b"VP8L", b"ANMF"}
        at += 8 + length + length % 2
    if not drawn or at > end + 1:  # some writers leave out the last padding byte
        raise BrokenPictureError("the file holds no whole picture")
    return Header(width, height, exif)


def _webp_size(name: bytes, body: bytes) -> tuple[int, int]:
    if name == b"VP8X" and len(body) >= 10:
        return 1 + int.from_bytes(body[4:7], "little"), 1 + int.from_bytes(body[7:10], "little")
    if name == b"VP8 " and len(body) >= 10:
        return int.from_bytes(body[6:8], "little") & 0x3FFF, int.from_bytes(body[8:10], "little") & 0x3FFF
    if name == b"VP8L" and len(body) >= 5:
        bits = int.from_bytes(body[1:5], "little")
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    return 0, 0


def _heif(data: bytes) -> Header:
    import pi_heif  # loads slowly, and most photo folders hold none

    _whole_boxes(data)
    try:
        picture = pi_heif.open_heif(data)
        width, height = picture.size
        exif = picture.info.get("exif") or b""
    except (ValueError, EOFError, SyntaxError, RuntimeError, OSError, IndexError) as wrong:
        raise BrokenPictureError(f"its HEIF header can't be read ({wrong})") from wrong
    return Header(width, height, exif)


def _whole_boxes(data: bytes) -> None:
    at = 0
    seen: set[bytes] = set()
    while at + 8 <= len(data) and not {b"meta", b"mdat"} <= seen:
        length, name = int.from_bytes(data[at : at + 4]), data[at + 4 : at + 8]
        if length == 1:
            length = int.from_bytes(data[at + 8 : at + 16])
        elif length == 0:  # to the end of the file
            length = len(data) - at
        if length < 8 or at + length > len(data):
            raise BrokenPictureError("the file is cut off: a part of it should go on after its end")
        seen.add(name)
        at += length
    if not {b"meta", b"mdat"} <= seen:
        raise BrokenPictureError("the file is cut off: its picture data are missing")

"""An image in any colours Pillow gives, with its ICC profile, in; the same image in sRGB on white paper out."""

from __future__ import annotations

import struct
from io import BytesIO

from PIL import Image, ImageCms

# What does an ICC profile's colour space signature mean in Pillow's modes?
_MODE_OF_SPACE = (("GRAY", "L"), ("RGB", "RGB"), ("CMYK", "CMYK"))
_EIGHT_BITS = (("1", "L"), ("L", "L"), ("La", "LA"), ("LA", "LA"), ("RGBa", "RGBA"), ("RGBA", "RGBA"), ("PA", "RGBA"))


def to_eight_bits(image: Image.Image) -> Image.Image:
    """Return *image* as L, LA, RGB, RGBA or CMYK, transparency kept; 16-bit grey is scaled, not clipped."""
    if image.mode.startswith("I;16"):
        return image.point(lambda value: value * (1 / 257) + 0.5).convert("L")
    if "transparency" in image.info:
        return image.convert("RGBA")
    mode = "CMYK" if image.mode == "CMYK" else dict(_EIGHT_BITS).get(image.mode, "RGB")
    return image if image.mode == mode else image.convert(mode)


def to_srgb_on_white(image: Image.Image, profile: bytes | None) -> Image.Image:
    """Return a new RGB image of an L, LA, RGB, RGBA or CMYK one; it carries pixels and nothing else.

    A profile that can't be read, or that is for other colours than the image has, counts as none: the numbers are then
    taken for sRGB, and CMYK is converted without a profile.
    """
    alpha = image.getchannel("A") if image.mode in {"LA", "RGBA"} else None
    colours = image.convert(image.mode.removesuffix("A")) if alpha else image
    paper = Image.new("RGB", image.size, "white")
    paper.paste(_through_profile(colours, profile) if profile else colours.convert("RGB"), mask=alpha)
    return paper


def _through_profile(image: Image.Image, profile: bytes) -> Image.Image:
    try:
        source = ImageCms.ImageCmsProfile(BytesIO(profile))
        mode = dict(_MODE_OF_SPACE).get(source.profile.xcolor_space.strip())
        if mode == "RGB" and image.mode == "L":
            image = image.convert("RGB")  # many cameras give a grey picture the profile of their colours
        if mode != image.mode:
            return image.convert("RGB")
        changed = ImageCms.profileToProfile(
            image,
            source,
            ImageCms.createProfile("sRGB"),
            ImageCms.Intent.RELATIVE_COLORIMETRIC,
            "RGB",
            flags=ImageCms.Flags.BLACKPOINTCOMPENSATION,
        )
    except (ImageCms.PyCMSError, OSError):
        return image.convert("RGB")
    return changed if changed else image.convert("RGB")


def display_p3_profile() -> bytes:
    """Return a matrix profile of Display P3, for the HEIF files that name these colours by number only.

    Primaries of SMPTE EG 432-1 with white D65 and the curve of IEC 61966-2-1, as in CSS Color 4 section 10.4, taken to
    D50 by the Bradford matrix; laid out as ICC.1:2010 (4.3) section 7.2.
    """
    white = (0.96420, 1.0, 0.82491)  # D50, the profile's own white
    columns = ((0.51512, 0.24120, -0.00105), (0.29198, 0.69225, 0.04189), (0.15710, 0.06657, 0.78407))
    curve = struct.pack(">4sIHH5i", b"para", 0, 3, 0, *map(_fixed, (2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)))
    tags = [(b"wtpt", _xyz(white)), *zip((b"rXYZ", b"gXYZ", b"bXYZ"), map(_xyz, columns), strict=True)]
    tags += [(name, curve) for name in (b"rTRC", b"gTRC", b"bTRC")]
    start = 128 + 4 + 12 * len(tags)
    table, body = struct.pack(">I", len(tags)), b""
    for name, data in tags:
        table += struct.pack(">4sII", name, start + len(body), len(data))
        body += data
    head = struct.pack(">I4xI4s4s4s12x4s28x", start + len(body), 0x04300000, b"mntr", b"RGB ", b"XYZ ", b"acsp")
    return (head + struct.pack(">3i", *map(_fixed, white))).ljust(128, b"\0") + table + body


def _xyz(values: tuple[float, float, float]) -> bytes:
    return struct.pack(">4sI3i", b"XYZ ", 0, *map(_fixed, values))


def _fixed(value: float) -> int:
    return round(value * 65536)

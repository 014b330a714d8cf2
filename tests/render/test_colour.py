import struct
from io import BytesIO
from itertools import product

import pytest
from PIL import Image, ImageCms

from bookgen.render.colour import display_p3_profile, to_eight_bits, to_srgb_on_white

P3_COLOURS = [
    # web-platform-tests, css/css-color/display-p3-001.html: color(display-p3 0.21604 0.49418 0.13151) is #008000
    ((55, 126, 34), (0, 128, 0)),
    # the same, display-p3-006.html: color(display-p3 0.465377 0.532768 0.317713) is rgb(44.8436% 53.537% 28.8112%)
    ((119, 136, 81), (114, 137, 73)),
    # CSS Color 4 section 10.4: white and black are those of sRGB; a pure P3 colour is brighter and ends at sRGB's edge
    ((255, 255, 255), (255, 255, 255)),
    ((0, 0, 0), (0, 0, 0)),
    ((0, 255, 0), (0, 255, 0)),
    ((255, 0, 0), (255, 0, 0)),
]


def tuple_at(image: Image.Image, x: int = 0, y: int = 0) -> tuple[int, ...]:
    """Return a pixel as a tuple of numbers."""
    value = image.getpixel((x, y))
    assert isinstance(value, tuple)
    return tuple(int(part) for part in value)


def near(found: tuple[int, ...], wanted: tuple[int, ...], within: int) -> bool:
    """Tell whether every number is within so much of the wanted one."""
    return all(abs(a - b) <= within for a, b in zip(found, wanted, strict=True))


def ink_profile() -> bytes:
    """Return a CMYK profile in which L* is 100 less 50 for cyan and less 100 for black, and every ink is grey."""

    def fixed(*values: float) -> bytes:
        return struct.pack(f">{len(values)}i", *(round(value * 65536) for value in values))

    ramp = bytes(range(256))
    grid = bytearray()
    for cyan, _magenta, _yellow, black in product((0, 1), repeat=4):
        grid += bytes((max(0, 255 - 127 * cyan - 255 * black), 128, 128))
    table = (
        struct.pack(">4sI4B", b"mft1", 0, 4, 3, 2, 0) + fixed(1, 0, 0, 0, 1, 0, 0, 0, 1) + ramp * 4 + grid + ramp * 3
    )
    white = struct.pack(">4sI", b"XYZ ", 0) + fixed(0.9642, 1.0, 0.82491)
    start = 128 + 4 + 2 * 12
    tags = struct.pack(">I", 2) + struct.pack(">4sII", b"A2B0", start, len(table))
    tags += struct.pack(">4sII", b"wtpt", start + len(table), len(white))
    size = start + len(table) + len(white)
    head = struct.pack(">I4xI4s4s4s12x4s28x", size, 0x02400000, b"prtr", b"CMYK", b"Lab ", b"acsp")
    return (head + fixed(0.9642, 1.0, 0.82491)).ljust(128, b"\0") + tags + table + white


@pytest.mark.parametrize(("p3", "srgb"), P3_COLOURS)
def test_display_p3_lands_at_its_srgb_value(p3: tuple[int, int, int], srgb: tuple[int, int, int]) -> None:
    """A Display P3 number is another number in sRGB, the one browsers are tested by."""
    changed = to_srgb_on_white(Image.new("RGB", (2, 2), p3), display_p3_profile())
    assert near(tuple_at(changed), srgb, 2), tuple_at(changed)


def test_the_profile_is_one_that_others_can_read() -> None:
    """The colour engine sees an RGB display profile with white at D50 (ICC.1:2010 section 7.2)."""
    profile = ImageCms.ImageCmsProfile(BytesIO(display_p3_profile())).profile
    assert (profile.xcolor_space, profile.device_class, profile.version) == ("RGB ", "mntr", 4.3)
    assert near(tuple(round(1000 * part) for part in profile.media_white_point[0]), (964, 1000, 825), 1)


def test_cmyk_goes_through_its_profile() -> None:
    """Cyan ink that the profile measures at L* 50 is the grey #777777 (CIE 15: Y 0.184), not a screen's cyan."""
    cyan = Image.new("CMYK", (2, 2), (255, 0, 0, 0))
    assert near(tuple_at(to_srgb_on_white(cyan, ink_profile())), (119, 119, 119), 2)
    paper = Image.new("CMYK", (2, 2), (0, 0, 0, 0))
    assert near(tuple_at(to_srgb_on_white(paper, ink_profile())), (255, 255, 255), 1)


def test_cmyk_without_a_profile_is_converted_plainly() -> None:
    """No ink is white, all black ink is black, cyan takes the red away."""
    for ink, wanted in (((0, 0, 0, 0), (255, 255, 255)), ((0, 0, 0, 255), (0, 0, 0)), ((255, 0, 0, 0), (0, 255, 255))):
        assert tuple_at(to_srgb_on_white(Image.new("CMYK", (1, 1), ink), None)) == wanted


@pytest.mark.parametrize(("value", "grey"), [(0, 0), (257, 1), (32768, 128), (65535, 255), (40000, 156)])
def test_sixteen_bit_grey_is_scaled(value: int, grey: int) -> None:
    """16-bit grey is 8-bit grey times 257; a plain conversion would clip all above 255 to white."""
    buffer = BytesIO()
    Image.frombytes("I;16", (2, 1), struct.pack("<2H", value, value)).save(buffer, "PNG")
    image = Image.open(buffer)
    assert image.mode == "I;16"
    assert tuple_at(to_srgb_on_white(to_eight_bits(image), None)) == (grey, grey, grey)


@pytest.mark.parametrize(
    ("mode", "colour", "wanted"),
    [
        ("1", 1, (255, 255, 255)),
        ("L", 90, (90, 90, 90)),
        ("LA", (90, 255), (90, 90, 90)),
        ("LA", (0, 0), (255, 255, 255)),
        ("RGBA", (10, 20, 30, 255), (10, 20, 30)),
        ("RGBA", (10, 20, 30, 0), (255, 255, 255)),
        ("RGBA", (0, 0, 0, 51), (204, 204, 204)),  # a fifth of black on white
    ],
)
def test_other_modes_lie_on_white(mode: str, colour: int | tuple[int, ...], wanted: tuple[int, int, int]) -> None:
    """Grey is grey, and what is transparent shows white paper."""
    image = Image.new(mode, (2, 2), colour)
    assert tuple_at(to_srgb_on_white(to_eight_bits(image), None)) == wanted


def test_palette_with_a_clear_entry_lies_on_white() -> None:
    """A palette's colours are looked up, and its transparent entry is paper."""
    image = Image.new("P", (2, 1))
    image.putpalette([200, 10, 20, 0, 0, 0])
    image.putpixel((1, 0), 1)
    buffer = BytesIO()
    image.save(buffer, "PNG", transparency=1)
    shown = to_srgb_on_white(to_eight_bits(Image.open(buffer)), None)
    assert (tuple_at(shown), tuple_at(shown, 1)) == ((200, 10, 20), (255, 255, 255))


def test_alpha_stays_where_it_is_under_a_profile() -> None:
    """Colours are changed first, then laid on white: clear stays white, full is the changed colour."""
    image = Image.new("RGBA", (2, 1), (55, 126, 34, 255))
    image.putpixel((1, 0), (55, 126, 34, 0))
    shown = to_srgb_on_white(image, display_p3_profile())
    assert near(tuple_at(shown), (0, 128, 0), 2)
    assert tuple_at(shown, 1) == (255, 255, 255)


@pytest.mark.parametrize("profile", [b"", b"broken", display_p3_profile()[:200], ink_profile()])
def test_a_profile_that_does_not_fit_counts_as_none(profile: bytes) -> None:
    """A broken profile, or one for inks under a screen picture, leaves the numbers as they are."""
    assert tuple_at(to_srgb_on_white(Image.new("RGB", (1, 1), (55, 126, 34)), profile)) == (55, 126, 34)


def test_grey_under_a_colour_profile_is_changed_too() -> None:
    """A camera's grey picture carries its colour profile: with a curve of 1.8 for sRGB's 2.4, grey 90 is grey 118.

    By hand: ((90/255 + 0.055) / 1.055)^1.8 = 0.181 of the light, which sRGB (IEC 61966-2-1) writes as 0.462 = 118/255.
    """
    flatter = display_p3_profile().replace(struct.pack(">i", round(2.4 * 65536)), struct.pack(">i", round(1.8 * 65536)))
    assert near(tuple_at(to_srgb_on_white(Image.new("L", (1, 1), 90), flatter)), (118, 118, 118), 2)


def test_the_new_image_carries_pixels_only() -> None:
    """Nothing of the old image's info goes along."""
    image = Image.new("RGB", (1, 1))
    image.info.update(comment=b"canary", icc_profile=display_p3_profile(), exif=b"canary")
    assert to_srgb_on_white(image, None).info == {}

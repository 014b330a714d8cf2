import contextlib
import hashlib
import os
import struct
from datetime import datetime
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from bookgen.model.photo import LARGEST_PIXELS, Photo, PhotoFault
from bookgen.read import photos
from bookgen.read.photo_bytes import BrokenPictureError, header_of, kind_of
from bookgen.read.photo_exif import shot_of
from bookgen.read.photos import probe

HEIC = Path(__file__).parents[1] / "render" / "data" / "phone-sideways.heic"
SUFFIX = {"JPEG": ".jpg", "PNG": ".png", "WEBP": ".webp"}


def exif_block(orientation: int = 1, original: str = "", digitized: str = "", changed: str = "") -> Image.Exif:
    """Return EXIF data with the times that are given."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    if changed:
        exif[0x0132] = changed
    if original:
        exif.get_ifd(0x8769)[0x9003] = original
        exif.get_ifd(0x8769)[0x9291] = "25"
    if digitized:
        exif.get_ifd(0x8769)[0x9004] = digitized
    return exif


def picture(form: str, size: tuple[int, int] = (40, 30), exif: Image.Exif | None = None, **how: object) -> bytes:
    """Return the bytes of a noisy picture, the same at each call."""
    buffer = BytesIO()
    noise = hashlib.shake_256(b"noise").digest(3 * size[0] * size[1])
    Image.frombytes("RGB", size, noise).save(buffer, form, exif=exif or Image.Exif(), **how)
    return buffer.getvalue()


def put(folder: Path, name: str, data: bytes) -> Path:
    """Write a file and the folders it lies in."""
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    return path


def fault_of(folder: Path, name: str) -> PhotoFault:
    """Probe, and expect a fault with words in it."""
    found = probe(folder, name)
    assert isinstance(found, PhotoFault), found
    assert found.says
    assert found.repair
    return found


def photo_of(folder: Path, name: str) -> Photo:
    """Probe, and expect a photo."""
    found = probe(folder, name)
    assert isinstance(found, Photo), found
    return found


def in_box(name: bytes, data: bytes) -> bytes:
    """Return an ISO media box."""
    return struct.pack(">I4s", 8 + len(data), name) + data


@pytest.mark.parametrize("form", SUFFIX)
@pytest.mark.parametrize("orientation", range(1, 9))
def test_size_is_the_upright_one(tmp_path: Path, form: str, orientation: int) -> None:
    """Orientations 5 to 8 lie on their side: 40 x 30 stored is 30 x 40 upright (Exif, tag 0x0112)."""
    put(tmp_path, "a" + SUFFIX[form], picture(form, exif=exif_block(orientation)))
    photo = photo_of(tmp_path, "a" + SUFFIX[form])
    assert (photo.width, photo.height) == ((40, 30) if orientation < 5 else (30, 40))
    assert (photo.orientation, photo.kind) == (orientation, form.lower())


def test_digest_and_name_are_those_of_the_file(tmp_path: Path) -> None:
    """The digest is the SHA-256 of all bytes, and the name is written one way only."""
    data = picture("JPEG")
    put(tmp_path, "before/a.jpg", data)
    photo = photo_of(tmp_path, "./before//a.jpg")
    assert photo.name == "before/a.jpg"
    assert photo.path.read_bytes() == data
    assert photo.digest == hashlib.sha256(data).hexdigest()


@pytest.mark.parametrize(
    ("times", "taken"),
    [
        (
            ("2026:03:09 09:12:00", "2026:03:10 00:00:00", "2026:03:11 00:00:00"),
            datetime(2026, 3, 9, 9, 12, 0, 250_000),
        ),
        (("", "2026:03:10 10:00:01", "2026:03:11 00:00:00"), datetime(2026, 3, 10, 10, 0, 1)),
        (("", "", "2026:03:11 11:00:02"), datetime(2026, 3, 11, 11, 0, 2)),
        (("0000:00:00 00:00:00", "    :  :     :  :  ", "2026-03-11T11:00"), datetime(2026, 3, 11, 11, 0)),
    ],
)
@pytest.mark.parametrize("form", SUFFIX)
def test_time_is_when_the_shutter_opened(
    tmp_path: Path, form: str, times: tuple[str, str, str], taken: datetime
) -> None:
    """The original time goes before the digitized one and the last change; an unset camera clock counts as none."""
    put(tmp_path, "a" + SUFFIX[form], picture(form, exif=exif_block(1, *times)))
    photo = photo_of(tmp_path, "a" + SUFFIX[form])
    assert (photo.taken, photo.time_known) == (taken, "exif")


def test_without_exif_the_file_time_stands_in(tmp_path: Path) -> None:
    """A photo without EXIF has the file's time and says so; a time before there were such phones counts as none."""
    path = put(tmp_path, "a.png", picture("PNG"))
    moment = datetime(2026, 4, 1, 15, 20)
    os.utime(path, (moment.timestamp(), moment.timestamp()))
    assert (photo_of(tmp_path, "a.png").taken, photo_of(tmp_path, "a.png").time_known) == (moment, "file")
    os.utime(path, (0, 0))
    assert photo_of(tmp_path, "a.png").taken is None


@pytest.mark.parametrize(("told", "focal"), [(26, 26), (0, None), (None, None)])
def test_the_lens_is_what_the_camera_told(tmp_path: Path, told: int | None, focal: int | None) -> None:
    """Tag 0xA405 of CIPA DC-008 counts millimetres on film of 36 x 24 mm; 0 means that nobody knows.

    In a picture of 3:2 the film's long side of 36 mm is the picture's: 26 mm are 26 of its 36 pixels.
    """
    exif = exif_block()
    if told is not None:
        exif.get_ifd(0x8769)[0xA405] = told
    put(tmp_path, "a.jpg", picture("JPEG", (36, 24), exif))
    photo = photo_of(tmp_path, "a.jpg")
    assert photo.focal_35 == focal
    assert photo.focal == (None if focal is None else pytest.approx(26))


def test_png_exif_behind_the_pixels_is_found(tmp_path: Path) -> None:
    """PNG lets eXIf stand behind the picture (PNG third edition, 5.6)."""
    exif = exif_block(6, "2026:03:09 09:12:00").tobytes().removeprefix(b"Exif\0\0")
    data = picture("PNG")
    chunk = struct.pack(">I4s", len(exif), b"eXIf") + exif + bytes(4)
    put(tmp_path, "a.png", data[:-12] + chunk + data[-12:])
    photo = photo_of(tmp_path, "a.png")
    assert (photo.width, photo.height, photo.time_known) == (30, 40, "exif")


def test_heic_is_not_turned_twice() -> None:
    """The decoder has turned a HEIC already, so that its EXIF orientation 6 must not be told on."""
    photo = photo_of(HEIC.parent, HEIC.name)
    assert (photo.kind, photo.width, photo.height, photo.orientation) == ("heif", 1200, 1600, 1)
    assert (photo.taken, photo.time_known) == (datetime(2026, 6, 12, 11, 37, 56), "exif")


@pytest.mark.parametrize("name", ["gone.jpg", "", ".", "no/such/a.jpg", "a\0b.jpg", "a\0b/c.jpg", "before"])
def test_missing_photo(tmp_path: Path, name: str) -> None:
    """A name without a file is a fault with a repair, whatever the name holds."""
    put(tmp_path, "before/a.jpg", picture("JPEG"))
    assert fault_of(tmp_path, name).code == "photo-missing"


def test_missing_photo_names_the_one_that_was_meant(tmp_path: Path) -> None:
    """Another case or a slip of the finger gets the right name as its repair."""
    put(tmp_path, "before/IMG_2043.JPG", picture("JPEG"))
    for slip in ("before/img_2043.jpg", "before/IMG_2034.JPG"):
        assert fault_of(tmp_path, slip).repair == "did you mean before/IMG_2043.JPG?"


@pytest.mark.parametrize("name", ["../a.jpg", "x/../../a.jpg", "x/../a.jpg", "/etc/hosts", "C:\\a.jpg", "..\\a.jpg"])
def test_name_that_leaves_the_folder(tmp_path: Path, name: str) -> None:
    """No name reaches outside photos/, not even to a photo that is there."""
    put(tmp_path, "a.jpg", picture("JPEG"))
    put(tmp_path, "photos/x/a.jpg", picture("JPEG"))
    assert fault_of(tmp_path / "photos", name).code == "photo-outside"


def test_link_is_refused(tmp_path: Path) -> None:
    """A linked photo, and a photo in a linked folder, are outside; the message names the link."""
    put(tmp_path, "private/a.jpg", picture("JPEG"))
    folder = tmp_path / "photos"
    folder.mkdir()
    (folder / "a.jpg").symlink_to(tmp_path / "private" / "a.jpg")
    (folder / "more").symlink_to(tmp_path / "private")
    assert fault_of(folder, "a.jpg").code == "photo-outside"
    assert fault_of(folder, "more/a.jpg").says.startswith("more is a link")


@pytest.mark.parametrize("form", SUFFIX)
@pytest.mark.parametrize("kept", [0.02, 0.3, 0.6, 0.95])
def test_cut_off_photo(tmp_path: Path, form: str, kept: float) -> None:
    """A photo whose copying was broken off is unreadable, wherever it ends."""
    data = picture(form, (200, 150))
    put(tmp_path, "a" + SUFFIX[form], data[: int(len(data) * kept)])
    assert fault_of(tmp_path, "a" + SUFFIX[form]).code == "photo-unreadable"


@pytest.mark.parametrize("kept", [0.001, 0.005, 0.5, 0.999])
def test_cut_off_heic(tmp_path: Path, kept: float) -> None:
    """A HEIC whose boxes go on after its end is cut off."""
    data = HEIC.read_bytes()
    put(tmp_path, "a.heic", data[: int(len(data) * kept)])
    fault = fault_of(tmp_path, "a.heic")
    assert fault.code == "photo-unreadable"
    assert fault.says.startswith("the file is cut off")


def test_a_thumbnail_end_is_not_the_photo_end(tmp_path: Path) -> None:
    """The end marker of a small JPEG inside the EXIF block doesn't make a cut off photo whole."""
    thumbnail = picture("JPEG", (16, 12))
    segment = b"\xff\xe1" + struct.pack(">H", 2 + 6 + len(thumbnail)) + b"Exif\0\0" + thumbnail
    data = picture("JPEG", (200, 150))
    whole = data[:2] + segment + data[2:]
    put(tmp_path, "a.jpg", whole)
    assert photo_of(tmp_path, "a.jpg").width == 200
    put(tmp_path, "a.jpg", whole[: len(whole) // 2])
    assert fault_of(tmp_path, "a.jpg").code == "photo-unreadable"


@pytest.mark.parametrize("form", SUFFIX)
def test_trailing_data_are_no_fault(tmp_path: Path, form: str) -> None:
    """Phones hang films and depth maps behind a photo; it is whole all the same."""
    put(tmp_path, "a" + SUFFIX[form], picture(form) + b"a film" * 100)
    assert photo_of(tmp_path, "a" + SUFFIX[form]).width == 40


@pytest.mark.parametrize("name", ["a.jpg", "a.heic", "a", "a.txt"])
def test_empty_file(tmp_path: Path, name: str) -> None:
    """A file of no bytes is unreadable, whatever it is called."""
    put(tmp_path, name, b"")
    assert fault_of(tmp_path, name) == PhotoFault("photo-unreadable", "the file is empty", photos._COPY_AGAIN)


@pytest.mark.parametrize(
    ("form", "name", "right"),
    [("JPEG", "a.HEIC", ".jpg"), ("PNG", "a.jpg", ".png"), ("WEBP", "a.png", ".webp"), ("JPEG", "a", ".jpg")],
)
def test_wrong_suffix(tmp_path: Path, form: str, name: str, right: str) -> None:
    """A JPEG called .HEIC (phones do that when they mail a photo) is named for what it is."""
    put(tmp_path, name, picture(form))
    fault = fault_of(tmp_path, name)
    assert fault.code == "photo-wrong-suffix"
    assert right in fault.repair


def test_any_case_of_a_right_suffix_is_right(tmp_path: Path) -> None:
    """Suffixes are told apart by letters, not by their case."""
    for name in ("a.JPG", "b.Jpeg"):
        put(tmp_path, name, picture("JPEG"))
        assert photo_of(tmp_path, name).kind == "jpeg"


def test_kinds_the_book_does_not_take(tmp_path: Path) -> None:
    """What is no photo gets its own name in the message, and a kind to save it as."""
    gif, tiff, bmp = (BytesIO() for _ in range(3))
    image = Image.new("RGB", (8, 8))
    image.save(gif, "GIF", save_all=True, append_images=[Image.new("RGB", (8, 8), "red")])
    image.save(tiff, "TIFF")
    image.save(bmp, "BMP")
    avif = in_box(b"ftyp", b"avif\0\0\0\0mif1avif") + bytes(40)
    film = in_box(b"ftyp", b"qt  \0\0\0\0qt  ") + bytes(40)
    svg = b'\xef\xbb\xbf\n<svg xmlns="http://www.w3.org/2000/svg"/>'
    others = ((gif.getvalue(), "a GIF"), (tiff.getvalue(), "a TIFF"), (bmp.getvalue(), "a BMP"))
    for data, called in (*others, (avif, "an AVIF"), (film, "a film"), (svg, "an SVG"), (b"%PDF-1.7", "a PDF")):
        put(tmp_path, "a.jpg", data)
        fault = fault_of(tmp_path, "a.jpg")
        assert fault.code == "photo-unknown-kind"
        assert f"the file is {called}" in fault.says
        assert "JPEG, PNG, WebP or HEIC" in fault.repair


def test_text_called_a_photo_is_unreadable_and_text_is_no_kind(tmp_path: Path) -> None:
    """A photo's name over other bytes is a broken photo; another name over them is no photo at all."""
    put(tmp_path, "a.jpg", b"not a picture")
    put(tmp_path, "a.txt", b"not a picture")
    assert fault_of(tmp_path, "a.jpg").code == "photo-unreadable"
    assert fault_of(tmp_path, "a.txt").code == "photo-unknown-kind"


def test_a_bomb_is_too_large_and_not_opened(tmp_path: Path) -> None:
    """A small file that says it holds 2.5 thousand million pixels is refused by its header."""
    data = bytearray(picture("PNG"))
    data[16:24] = struct.pack(">II", 50_000, 50_000)
    put(tmp_path, "a.png", bytes(data))
    fault = fault_of(tmp_path, "a.png")
    assert (fault.code, "50000 x 50000" in fault.says) == ("photo-too-large", True)


@pytest.mark.parametrize(("rows", "fine"), [(LARGEST_PIXELS // 10_000, True), (LARGEST_PIXELS // 10_000 + 1, False)])
def test_the_limit_in_pixels_is_met_exactly(tmp_path: Path, rows: int, fine: bool) -> None:
    """A photo of the very limit is taken, one row more is not."""
    data = bytearray(picture("PNG"))
    data[16:24] = struct.pack(">II", 10_000, rows)
    put(tmp_path, "a.png", bytes(data))
    assert isinstance(probe(tmp_path, "a.png"), Photo) is fine


def test_a_file_too_long_to_be_a_photo_is_not_read(tmp_path: Path) -> None:
    """A gigabyte under a photo's name is refused by its length."""
    with (tmp_path / "a.jpg").open("wb") as file:
        file.truncate(photos.LARGEST_BYTES + 1)
    assert fault_of(tmp_path, "a.jpg").code == "photo-too-large"


@pytest.mark.parametrize("form", SUFFIX)
def test_one_pixel(tmp_path: Path, form: str) -> None:
    """The smallest picture is a picture."""
    put(tmp_path, "a" + SUFFIX[form], picture(form, (1, 1)))
    photo = photo_of(tmp_path, "a" + SUFFIX[form])
    assert (photo.width, photo.height) == (1, 1)


@pytest.mark.parametrize(
    ("form", "how"),
    [
        ("JPEG", {"progressive": True}),
        ("JPEG", {"restart_marker_blocks": 1}),
        ("PNG", {"optimize": True}),
        ("WEBP", {"lossless": True}),
        ("WEBP", {"save_all": True, "append_images": [Image.new("RGB", (321, 123), "red")]}),
    ],
)
def test_size_is_the_one_the_writer_gave(tmp_path: Path, form: str, how: dict[str, object]) -> None:
    """Every layout of the three kinds gives up its size."""
    put(tmp_path, "a" + SUFFIX[form], picture(form, (321, 123), **how))
    photo = photo_of(tmp_path, "a" + SUFFIX[form])
    assert (photo.width, photo.height) == (321, 123)


@settings(max_examples=300)
@given(st.sampled_from(list(SUFFIX)), st.lists(st.tuples(st.integers(3, 600), st.binary(min_size=1, max_size=4))))
def test_no_bytes_make_the_reader_fail(form: str, spoilt: list[tuple[int, bytes]]) -> None:
    """Whatever bytes stand in a file, it has a header or is broken, and nothing else is raised."""
    data = bytearray(picture(form, (24, 18), exif_block(6, "2026:03:09 09:12:00")))
    for at, other in spoilt:
        data[at : at + len(other)] = other
    kind = kind_of(bytes(data))
    if kind:
        with contextlib.suppress(BrokenPictureError):
            assert 1 <= shot_of(header_of(kind, bytes(data)).exif).orientation <= 8


@given(st.binary(max_size=200))
def test_no_exif_block_makes_the_reader_fail(block: bytes) -> None:
    """A broken block says nothing: orientation 1 or a legal one, and no invented error."""
    for start in (b"II*\0", b"MM\0*", b"Exif\0\0II*\0\x08\0\0\0"):
        assert 1 <= shot_of(start + block).orientation <= 8

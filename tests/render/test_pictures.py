import hashlib
import shutil
import signal
import struct
import subprocess
import sys
import time
import zlib
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, ImageCms

from bookgen.model.photo import Photo, PhotoKind
from bookgen.render.colour import display_p3_profile
from bookgen.render.kept import keep_set
from bookgen.render.pictures import kept_name, make_pictures, planned_pictures

HEIC = Path(__file__).parent / "data" / "phone-sideways.heic"
RED, GREEN, BLUE, YELLOW = (220, 30, 30), (30, 160, 40), (40, 50, 210), (230, 210, 40)
CANARY = b"canary-4417-side-gate"


def encoded(image: Image.Image, form: str = "JPEG", **how: object) -> bytes:
    """Return the bytes of a picture file."""
    buffer = BytesIO()
    image.save(buffer, form, **how)
    return buffer.getvalue()


def photo_of(path: Path, data: bytes, size: tuple[int, int], kind: PhotoKind = "jpeg", orientation: int = 1) -> Photo:
    """Write the file and return the photo it is, of the upright size."""
    path.write_bytes(data)
    return Photo(path.name, path, *size, None, "file", orientation, hashlib.sha256(data).hexdigest(), kind)


def noise(size: tuple[int, int], seed: bytes = b"noise") -> Image.Image:
    """Return a picture that no codec makes small, the same for a seed."""
    return Image.frombytes("RGB", size, hashlib.shake_256(seed).digest(3 * size[0] * size[1]))


def corners(size: tuple[int, int]) -> Image.Image:
    """Return red, green / blue, yellow quarters, read as a page is."""
    image = Image.new("RGB", size)
    half = (size[0] // 2, size[1] // 2)
    for colour, at in ((RED, (0, 0)), (GREEN, (half[0], 0)), (BLUE, (0, half[1])), (YELLOW, half)):
        image.paste(colour, (*at, *size))
    return image


def shown(path: Path, *spots: tuple[float, float]) -> list[tuple[int, int, int]]:
    """Return the colours of a file at spots given as shares of its width and height."""
    with Image.open(path) as image:
        rgb = image.convert("RGB")
    found = []
    for across, down in spots:
        value = rgb.getpixel((int(across * rgb.width), int(down * rgb.height)))
        assert isinstance(value, tuple)
        found.append((int(value[0]), int(value[1]), int(value[2])))
    return found


def near(found: tuple[int, ...], wanted: tuple[int, ...], within: int = 12) -> bool:
    """Tell whether every number is within so much of the wanted one."""
    return all(abs(a - b) <= within for a, b in zip(found, wanted, strict=True))


def jpeg_segments(data: bytes) -> Iterator[int]:
    """Yield the markers of a JPEG up to its end marker, and -1 when bytes follow it (ITU-T T.81 annex B)."""
    at = 2
    while True:
        assert data[at] == 0xFF
        marker = data[at + 1]
        yield marker
        if marker == 0xD9:
            if at + 2 != len(data):
                yield -1
            return
        at += 2 + int.from_bytes(data[at + 2 : at + 4])
        if marker == 0xDA:
            while data[at] != 0xFF or data[at + 1] == 0:
                at += 1


def turned(image: Image.Image, orientation: int) -> Image.Image:
    """Return what a camera stores of an upright picture under an orientation (CIPA DC-008, tag 0x0112).

    Row 0 and column 0 of the stored picture are: 1 top, left; 2 top, right; 3 bottom, right; 4 bottom, left;
    5 left, top; 6 right, top; 7 right, bottom; 8 left, bottom.
    """
    rows_are_columns = orientation >= 5
    row_from_end = orientation in {3, 4, 6, 7}
    column_from_end = orientation in {2, 3, 7, 8}
    width, height = image.size
    stored = Image.new("RGB", (height, width) if rows_are_columns else (width, height))
    for y in range(stored.height):
        for x in range(stored.width):
            row = stored_end(y, stored.height, row_from_end)
            column = stored_end(x, stored.width, column_from_end)
            stored.putpixel((x, y), image.getpixel((row, column) if rows_are_columns else (column, row)) or 0)
    return stored


def stored_end(at: int, length: int, from_end: bool) -> int:
    """Count from the other end, or not."""
    return length - 1 - at if from_end else at


@pytest.mark.parametrize("orientation", range(1, 9))
def test_every_orientation_comes_out_upright(tmp_path: Path, orientation: int) -> None:
    """Red, green, blue and yellow corners stand where they were seen, and the copies have the upright size."""
    stored = turned(corners((64, 48)), orientation)
    photo = photo_of(tmp_path / "a.jpg", encoded(stored, quality=95), (64, 48), orientation=orientation)
    sets, faults = make_pictures([photo], tmp_path / "out", None)
    assert faults == ()
    for file in sets[photo.digest].files:
        found = shown(tmp_path / "out" / file.name, (0.2, 0.2), (0.8, 0.2), (0.2, 0.8), (0.8, 0.8))
        assert all(near(a, b) for a, b in zip(found, (RED, GREEN, BLUE, YELLOW), strict=True)), found
        assert (file.width, file.height) == (64, 48)


@pytest.mark.parametrize(
    ("size", "wanted"),
    [
        ((4032, 3024), ["480x360", "480x360", "960x720", "960x720", "1600x1200", "1600x1200", "1800x1350 print"]),
        ((3024, 4032), ["480x640", "480x640", "960x1280", "960x1280", "1600x2133", "1600x2133", "1800x2400 print"]),
        ((1600, 1200), ["480x360", "480x360", "960x720", "960x720", "1600x1200", "1600x1200", "1600x1200 print"]),
        ((800, 601), ["480x361", "480x361", "800x601", "800x601", "800x601 print"]),
        ((1, 1), ["1x1", "1x1", "1x1 print"]),
        ((9000, 2), ["480x1", "480x1", "960x1", "960x1", "1600x1", "1600x1", "1800x1 print"]),
        ((500, 20_000), ["100x4000", "100x4000", "100x4000 print"]),
    ],
)
def test_sizes_are_never_larger_than_the_original(size: tuple[int, int], wanted: list[str]) -> None:
    """Three screen widths in two kinds and one for print, each once, none widened, none too tall for WebP."""
    plan = planned_pictures(Photo("a.jpg", Path("a.jpg"), *size, None, "file", 1, "ab" * 32, "jpeg"))
    found = [f"{file.width}x{file.height}" + " print" * (file.use == "print") for file in plan.files]
    assert found == wanted
    assert len({file.name for file in plan.files}) == len(plan.files)
    assert [file.kind for file in plan.files] == ["jpeg", "webp"] * (len(wanted) // 2) + ["jpeg"]


def test_files_are_what_the_plan_says(tmp_path: Path) -> None:
    """Every copy is a file of the kind, the size and the name that were told, JPEGs in one pass, and nothing else."""
    photo = photo_of(tmp_path / "owner-key-box.jpg", encoded(noise((2000, 1499))), (2000, 1499))
    sets, _ = make_pictures([photo], tmp_path / "out", tmp_path / "cache")
    assert sets == {photo.digest: planned_pictures(photo)}
    files = sets[photo.digest].files
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == sorted(file.name for file in files)
    for file in files:
        assert file.name.startswith(photo.digest[:12])
        with Image.open(tmp_path / "out" / file.name) as image:
            assert image.format == file.kind.upper()
            assert image.size == (file.width, file.height)
            assert "progressive" not in image.info


def test_heic_comes_out_upright(tmp_path: Path) -> None:
    """The stand-in has a lamp at the top, an orange sun in a frame at the right and a blue chair below it."""
    data = HEIC.read_bytes()
    photo = photo_of(tmp_path / "a.heic", data, (1200, 1600), "heif")
    sets, faults = make_pictures([photo], tmp_path / "out", None)
    assert faults == ()
    for file in sets[photo.digest].files:
        lamp, sun, chair = shown(tmp_path / "out" / file.name, (0.544, 0.033), (0.852, 0.388), (0.85, 0.85))
        assert min(lamp) > 235
        assert sun[0] > sun[2] + 60
        assert chair[2] > chair[0] + 10
        assert b"Demo phone" not in (tmp_path / "out" / file.name).read_bytes()
    assert b"Demo phone" in data


def test_heic_that_names_display_p3_by_number(tmp_path: Path) -> None:
    """Colour primaries 12 (ITU-T H.273 table 2) are Display P3: the orange sun gets redder in sRGB numbers."""
    plain = HEIC.read_bytes()
    wide = plain.replace(b"colrnclx\x00\x01", b"colrnclx\x00\x0c")
    suns = []
    for name, data in (("a.heic", plain), ("b.heic", wide)):
        photo = photo_of(tmp_path / name, data, (1200, 1600), "heif")
        sets, _ = make_pictures([photo], tmp_path / "out", None)
        suns += shown(tmp_path / "out" / sets[photo.digest].files[-1].name, (0.852, 0.388))
    assert suns[1][0] - suns[0][0] > 5
    assert suns[1][2] < suns[0][2]


def test_display_p3_photo_is_changed_after_resizing(tmp_path: Path) -> None:
    """A JPEG of the P3 green that is #008000 in sRGB shows that green (web-platform-tests display-p3-001.html)."""
    image = Image.new("RGB", (1000, 700), (55, 126, 34))
    data = encoded(image, quality=100, subsampling=0, icc_profile=display_p3_profile())
    photo = photo_of(tmp_path / "a.jpg", data, (1000, 700))
    sets, _ = make_pictures([photo], tmp_path / "out", None)
    for file in sets[photo.digest].files:
        assert near(shown(tmp_path / "out" / file.name, (0.5, 0.5))[0], (0, 128, 0), 4)


def test_a_cmyk_photo_is_shown_in_its_colours(tmp_path: Path) -> None:
    """A print shop's JPEG, inks turned over as its writer stores them, is neither negative nor refused."""
    photo = photo_of(tmp_path / "a.jpg", encoded(corners((64, 48)).convert("CMYK"), quality=95), (64, 48))
    sets, faults = make_pictures([photo], tmp_path / "out", None)
    assert faults == ()
    found = shown(tmp_path / "out" / sets[photo.digest].files[0].name, (0.2, 0.2), (0.8, 0.8))
    assert near(found[0], RED, 16)
    assert near(found[1], YELLOW, 16)


def test_first_frame_of_a_moving_picture(tmp_path: Path) -> None:
    """An animated WebP is shown by its first frame, clear parts on white."""
    first, second = Image.new("RGBA", (40, 30), (*BLUE, 255)), Image.new("RGBA", (40, 30), (*RED, 255))
    first.paste((0, 0, 0, 0), (10, 10, 30, 20))
    data = encoded(first, "WEBP", save_all=True, append_images=[second], lossless=True)
    photo = photo_of(tmp_path / "a.webp", data, (40, 30), "webp")
    sets, _ = make_pictures([photo], tmp_path / "out", None)
    found = shown(tmp_path / "out" / sets[photo.digest].files[0].name, (0.1, 0.1), (0.5, 0.5))
    assert near(found[0], BLUE)
    assert near(found[1], (255, 255, 255))


def full_of_canaries() -> dict[PhotoKind, bytes]:
    """Return a photo of each kind with private words in every corner that holds words."""
    exif = Image.Exif()
    exif[0x010E] = exif[0x013B] = CANARY.decode()
    exif.get_ifd(0x8825)[0x0002] = (41.0, 24.0, 17.0)
    exif.get_ifd(0x8825)[0x001B] = CANARY
    exif.get_ifd(0x8769)[0x9286] = CANARY
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    profile = profile.replace("sRGB built-in".encode("utf-16-be"), CANARY[:13].decode().encode("utf-16-be"))
    image = noise((600, 450))
    image.info["comment"] = CANARY
    jpeg = encoded(image, exif=exif, icc_profile=profile, xmp=b"<x>" + CANARY + b"</x>", comment=CANARY)
    iptc = b"Photoshop 3.0\0" + b"8BIM\x04\x04\0\0" + struct.pack(">I", len(CANARY)) + CANARY
    jpeg = jpeg[:2] + b"\xff\xed" + struct.pack(">H", len(iptc) + 2) + iptc + jpeg[2:]
    png = encoded(image, "PNG", exif=exif, icc_profile=profile)
    text = struct.pack(">I4s", len(CANARY) + 2, b"tEXt") + b"a\0" + CANARY
    png = png[:33] + text + struct.pack(">I", zlib.crc32(text[4:])) + png[33:]
    webp = encoded(image, "WEBP", exif=exif, icc_profile=profile, xmp=CANARY)
    return {"jpeg": jpeg + jpeg + CANARY, "png": png + CANARY, "webp": webp + CANARY}


@pytest.mark.parametrize("kind", ["jpeg", "png", "webp"])
def test_no_word_of_the_original_is_in_a_copy(tmp_path: Path, kind: PhotoKind) -> None:
    """EXIF, GPS, XMP, IPTC, comment, colour profile, trailing bytes and file name leave no trace in any copy."""
    data = full_of_canaries()[kind]
    words = (CANARY, CANARY[:13].decode().encode("utf-16-be"), b"Exif", b"ICC_PROFILE", b"8BIM")
    assert CANARY in data
    assert kind != "jpeg" or all(word in data for word in words)
    photo = photo_of(tmp_path / f"{CANARY.decode()}.{kind}", data, (600, 450), kind)
    _, faults = make_pictures([photo], tmp_path / "out", tmp_path / "cache")
    assert faults == ()
    for path in (tmp_path / "out").iterdir():
        copy = path.read_bytes()
        assert CANARY.decode() not in path.name
        assert not [word for word in words if word in copy]
        if path.suffix == ".jpg":  # application 0 (JFIF), tables, a frame, a scan, end
            assert set(jpeg_segments(copy)) <= {0xE0, 0xDB, 0xC0, 0xC4, 0xDA, 0xD9}
        else:  # one lossy picture chunk, to the last byte (RFC 9649 section 2.5)
            assert copy[12:16] == b"VP8 "
            assert int.from_bytes(copy[4:8], "little") + 8 == len(copy)
            assert int.from_bytes(copy[16:20], "little") + 20 in {len(copy), len(copy) - 1}


def test_equal_photos_are_done_once(tmp_path: Path) -> None:
    """Two names for one photo give one set, and progress counts one."""
    data = encoded(corners((64, 48)))
    photos = [photo_of(tmp_path / name, data, (64, 48)) for name in ("a.jpg", "b.jpg")]
    steps: list[tuple[int, int]] = []
    sets, _ = make_pictures(photos, tmp_path / "out", None, lambda done, total: steps.append((done, total)))
    assert list(sets) == [photos[0].digest]
    assert steps == [(1, 1)]


def test_order_and_bytes_are_the_same_each_time(tmp_path: Path) -> None:
    """Sets come in the order of the photos whoever is ready first, and two runs write the same bytes."""
    photos = [
        photo_of(tmp_path / f"{at}.jpg", encoded(noise((width, 300), bytes([at]))), (width, 300))
        for at, width in enumerate((1200, 40, 900, 30, 600, 20))
    ]
    written = []
    for run in ("one", "two"):
        sets, _ = make_pictures(photos, tmp_path / run, None)
        assert list(sets) == [photo.digest for photo in photos]
        written.append({path.name: path.read_bytes() for path in (tmp_path / run).iterdir()})
    assert written[0] == written[1]


def test_second_call_does_no_picture_work(tmp_path: Path) -> None:
    """With a cache the original isn't even opened again, and a copy spoilt in a book isn't served to the next."""
    photo = photo_of(tmp_path / "a.jpg", encoded(noise((700, 500))), (700, 500))
    sets, _ = make_pictures([photo], tmp_path / "one", tmp_path / "cache")
    before = {path.name: path.read_bytes() for path in (tmp_path / "one").iterdir()}
    photo.path.unlink()
    for path in (tmp_path / "one").iterdir():
        path.write_bytes(b"spoilt")
    for out in ("one", "two"):
        assert make_pictures([photo], tmp_path / out, tmp_path / "cache") == (sets, ())
        assert {path.name: path.read_bytes() for path in (tmp_path / out).iterdir()} == before


def _turn_a_bit(path: Path) -> None:
    data = bytearray(path.read_bytes())
    data[len(data) // 2] ^= 1
    path.write_bytes(data)


@pytest.mark.parametrize(
    "spoil", [Path.unlink, lambda path: path.write_bytes(b""), _turn_a_bit], ids=["gone", "empty", "a bit"]
)
def test_a_spoilt_cache_is_made_anew(tmp_path: Path, spoil: Callable[[Path], object]) -> None:
    """A cached copy that is missing, empty or other than it was is drawn again, to the same bytes."""
    photo = photo_of(tmp_path / "a.jpg", encoded(corners((64, 48))), (64, 48))
    kept = tmp_path / "cache" / kept_name(photo.digest)
    make_pictures([photo], tmp_path / "out", tmp_path / "cache")
    made = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    for name in made:
        spoil(kept / name)
        shutil.rmtree(tmp_path / "out")
        make_pictures([photo], tmp_path / "out", tmp_path / "cache")
        assert {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()} == made
        assert all((kept / name).read_bytes() == data for name, data in made.items())


def test_two_books_may_fill_a_cache_at_once(tmp_path: Path) -> None:
    """Whoever comes second with the same copies leaves those that are there; a folder that lacks some is replaced."""
    kept = tmp_path / "kept"

    def keep(words: str) -> int:
        fresh = tmp_path / words
        fresh.mkdir()
        for name in ("a.jpg", "b.webp"):
            (fresh / name).write_text("the same")
        number = (fresh / "a.jpg").stat().st_ino
        keep_set(fresh, kept)
        return number

    first, _ = keep("first"), keep("second")
    assert (kept / "a.jpg").stat().st_ino == first
    (kept / "b.webp").unlink()
    third = keep("third")
    assert (kept / "a.jpg").stat().st_ino == third
    assert sorted(path.name for path in kept.iterdir()) == ["a.jpg", "b.webp", "digests.json"]


def test_a_photo_broken_inside_is_a_fault_and_the_rest_is_made(tmp_path: Path) -> None:
    """A whole header over a spoilt picture, a file that is gone, one that changed: named each, nothing left behind."""
    good = photo_of(tmp_path / "good.jpg", encoded(corners((64, 48))), (64, 48))
    png = bytearray(encoded(noise((64, 48)), "PNG"))
    png[200:260] = bytes(60)
    broken = photo_of(tmp_path / "broken.png", bytes(png), (64, 48), "png")
    liar = photo_of(tmp_path / "liar.jpg", encoded(corners((64, 50))), (64, 48))
    gone = photo_of(tmp_path / "gone.jpg", encoded(noise((64, 48), b"g")), (64, 48))
    gone.path.unlink()
    other = photo_of(tmp_path / "other.jpg", encoded(noise((64, 48), b"o")), (64, 48))
    other.path.write_bytes(encoded(noise((64, 48), b"p")))
    photos = [broken, good, liar, gone, other, broken]
    sets, faults = make_pictures(photos, tmp_path / "out", tmp_path / "cache")
    assert list(sets) == [good.digest]
    found = [(photo.name, fault.code) for photo, fault in faults]
    assert found == [
        ("broken.png", "photo-unreadable"),
        ("liar.jpg", "photo-unreadable"),
        ("gone.jpg", "photo-missing"),
        ("other.jpg", "photo-unreadable"),
        ("broken.png", "photo-unreadable"),
    ]
    assert {path.name for path in (tmp_path / "out").iterdir()} == {file.name for file in sets[good.digest].files}
    assert [path.name for path in (tmp_path / "cache").iterdir()] == [kept_name(good.digest)]


def test_a_heic_broken_inside_is_a_fault(tmp_path: Path) -> None:
    """A HEIC whose boxes are whole but whose coded picture is not."""
    data = bytearray(HEIC.read_bytes())
    start = data.index(b"mdat") + 4
    data[start:] = bytes(len(data) - start)
    photo = photo_of(tmp_path / "a.heic", bytes(data), (1200, 1600), "heif")
    _, faults = make_pictures([photo], tmp_path / "out", None)
    assert [fault.code for _, fault in faults] == ["photo-unreadable"]


def test_a_full_disk_is_the_machine_s_fault_not_the_photo_s(tmp_path: Path) -> None:
    """What can't be written is raised, so that nobody is told to copy a good photo again."""
    photo = photo_of(tmp_path / "a.jpg", encoded(corners((64, 48))), (64, 48))
    (tmp_path / "out").write_bytes(b"a file where the folder should be")
    with pytest.raises(OSError, match="out"):
        make_pictures([photo], tmp_path / "out", None)


def test_a_photo_over_pillow_s_own_limit_makes_no_warning(tmp_path: Path) -> None:
    """Between Pillow's warning at 89 million pixels and our limit lies a good photo: it is made, and none is warned."""
    photo = photo_of(tmp_path / "a.png", encoded(Image.new("1", (9500, 9500), 1), "PNG"), (9500, 9500), "png")
    sets, faults = make_pictures([photo], tmp_path / "out", None)
    assert (len(sets), faults) == (1, ())


def test_what_pillow_warns_of_is_not_passed_on(tmp_path: Path) -> None:
    """A PNG with a broken animation block is a good photo, and nobody is shown a library's warning."""
    data = encoded(corners((64, 48)), "PNG")
    chunk = b"acTL" + bytes(8)
    data = data[:33] + struct.pack(">I", 8) + chunk + struct.pack(">I", zlib.crc32(chunk)) + data[33:]
    with pytest.warns(UserWarning, match="APNG"), Image.open(BytesIO(data)):
        pass
    _, faults = make_pictures([photo_of(tmp_path / "a.png", data, (64, 48), "png")], tmp_path / "out", None)
    assert faults == ()


@pytest.mark.parametrize("orientation", [1, 6])
def test_a_large_jpeg_keeps_its_detail(tmp_path: Path, orientation: int) -> None:
    """Decoding at a smaller scale must stay above the size of the widest copy: stripes stay black and white."""
    stored = Image.new("L", (3840, 2880))
    for at in range(0, 3840, 24):
        stored.paste(255, (at, 0, at + 12, 2880))
    size = (3840, 2880) if orientation == 1 else (2880, 3840)
    photo = photo_of(tmp_path / "a.jpg", encoded(stored), size, orientation=orientation)
    sets, _ = make_pictures([photo], tmp_path / "out", None)
    with Image.open(tmp_path / "out" / sets[photo.digest].files[-1].name) as image:
        middle = image.convert("L").crop((100, 100, 700, 101) if orientation == 1 else (100, 100, 101, 700))
    counts = middle.histogram()
    assert sum(counts[:20]) + sum(counts[236:]) > 300


def test_an_interrupted_call_leaves_whole_files_only(tmp_path: Path) -> None:
    """When progress raises, as Ctrl-C does, what is not begun is left, and no half file or workshop stays behind."""
    photos = [photo_of(tmp_path / f"{at}.jpg", encoded(noise((600, 400), bytes([at]))), (600, 400)) for at in range(12)]

    def stop(_done: int, _total: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        make_pictures(photos, tmp_path / "out", tmp_path / "cache", stop)
    names = {path.name for path in (tmp_path / "out").iterdir()}
    planned = {file.name for photo in photos for file in planned_pictures(photo).files}
    assert names < planned
    assert not [path for path in (tmp_path / "cache").iterdir() if path.name.startswith(".")]
    for path in (tmp_path / "out").iterdir():
        with Image.open(path) as image:
            image.load()


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs POSIX signals")
def test_ctrl_c_ends_the_work_soon(tmp_path: Path) -> None:
    """A real interrupt signal ends a long run within seconds and leaves whole files only."""
    script = """if True:
        import sys
        from pathlib import Path
        from bookgen.read.photos import probe
        from bookgen.render.pictures import make_pictures
        folder = Path(sys.argv[1])
        photos = [probe(folder / "photos", path.name) for path in sorted((folder / "photos").iterdir())]
        make_pictures(photos, folder / "out", None, lambda done, total: print(done, total, flush=True))
    """
    (tmp_path / "photos").mkdir()
    for at in range(40):
        (tmp_path / "photos" / f"{at}.jpg").write_bytes(encoded(noise((800, 600), bytes([at]))))
    command = [sys.executable, "-c", script, tmp_path]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as run:  # noqa: S603 - ours alone
        assert run.stdout
        assert run.stdout.readline() == b"1 40\n"
        run.send_signal(signal.SIGINT)
        asked = time.monotonic()
        _, said = run.communicate(timeout=60)
    assert time.monotonic() - asked < 15
    assert run.returncode != 0
    assert b"KeyboardInterrupt" in said
    for path in (tmp_path / "out").iterdir():
        with Image.open(path) as image:
            image.load()

"""The see-through: the framed photo lies on the finished one where the map says, and nowhere else."""

import hashlib
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import cv2
import numpy as np
import pytest
from PIL import Image, ImageDraw

from bookgen.model.evidence import Dot, Homography, Pane
from bookgen.model.photo import Photo, PhotoFault
from bookgen.render import warp
from bookgen.render.pictures import PictureSet
from bookgen.render.warp import GHOST, make_overlay, planned_overlay

CANARY = b"canary-4417-side-gate"
STRAIGHT = Homography(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))
SLANTED = Homography(((0.9, 0.05, 30.0), (-0.04, 0.95, 25.0), (0.0001, 0.00008, 1.0)))
SIZE = (640, 480)
GREY, WARM = (90, 90, 96), (214, 200, 180)

Take = Callable[..., Photo]


@pytest.fixture
def take(tmp_path: Path) -> Take:
    """Return a function that writes an image as a photo of the folder."""

    def taken(name: str, image: Image.Image, orientation: int = 1, **how: object) -> Photo:
        buffer = BytesIO()
        image.save(buffer, "JPEG", quality=95, subsampling=0, **how)
        path, data = tmp_path / name, buffer.getvalue()
        path.write_bytes(data)
        width, height = image.size if orientation < 5 else image.size[::-1]
        digest = hashlib.sha256(data).hexdigest()
        return Photo(name, path, width, height, None, "file", orientation, digest, "jpeg")

    return taken


def framed_image(*dots: Dot, size: tuple[int, int] = SIZE) -> Image.Image:
    """Return a grey picture with a red disc, 12 px across, at each dot."""
    image = Image.new("RGB", size, GREY)
    draw = ImageDraw.Draw(image)
    for x, y in dots:
        draw.ellipse((x - 6, y - 6, x + 6 - 1, y + 6 - 1), fill=(230, 20, 20))
    return image


def finished_image(size: tuple[int, int] = SIZE) -> Image.Image:
    """Return a plain warm wall."""
    return Image.new("RGB", size, WARM)


def seen(made: PictureSet, out: Path, kind: str = "jpeg", use: str = "screen") -> np.ndarray:
    """Return the widest copy's pixels."""
    name = [file.name for file in made.files if (file.kind, file.use) == (kind, use)][-1]
    with Image.open(out / name) as image:
        return np.asarray(image.convert("RGB")).astype(float)


def overlaid(*how: object) -> PictureSet:
    """Return what was made, which must be no fault."""
    made = make_overlay(*how)  # type: ignore[arg-type]  # the tests hand on what they were given
    assert isinstance(made, PictureSet), made
    return made


def red_middle(pixels: np.ndarray) -> Dot:
    """Return the middle of what is red, in pixels from the corner of the first one."""
    red = np.clip(pixels[:, :, 0] - pixels[:, :, 1] - 60, 0, None)
    down, across = np.mgrid[0 : red.shape[0], 0 : red.shape[1]] + 0.5
    return float((red * across).sum() / red.sum()), float((red * down).sum() / red.sum())


@pytest.mark.parametrize("dot", [(100.0, 80.0), (320.0, 240.0), (560.0, 400.0)])
@pytest.mark.parametrize(("kind", "use"), [("jpeg", "screen"), ("webp", "screen"), ("jpeg", "print")])
def test_a_point_lies_where_the_map_says(tmp_path: Path, take: Take, dot: Dot, kind: str, use: str) -> None:
    """A disc of the framed photo comes out at its mapped place to a quarter of a pixel, in every form."""
    photos = take("a.jpg", framed_image(dot)), take("b.jpg", finished_image())
    made = overlaid(*photos, [Pane(SLANTED)], tmp_path / "out", None)
    wanted = SLANTED.at(dot)
    assert wanted is not None
    assert red_middle(seen(made, tmp_path / "out", kind, use)) == pytest.approx(wanted, abs=0.25)


def test_warp_is_that_of_a_general_library(tmp_path: Path, take: Take) -> None:
    """On a smooth picture it agrees with OpenCV's warpPerspective to the noise of the JPEG."""
    across, down = np.meshgrid(np.linspace(0, 255, SIZE[0]), np.linspace(0, 255, SIZE[1]))
    smooth = np.dstack([across, down, 255 - across]).astype(np.uint8)
    photos = take("a.jpg", Image.fromarray(smooth)), take("b.jpg", finished_image())
    found = seen(overlaid(*photos, [Pane(SLANTED)], tmp_path / "out", None), tmp_path / "out")
    # OpenCV counts from the middle of the first pixel, the records from its corner
    half = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1]])
    matrix = np.linalg.inv(half) @ np.array(SLANTED.rows) @ half
    theirs = cv2.warpPerspective(smooth, matrix, SIZE, flags=cv2.INTER_CUBIC).astype(float)
    inside = cv2.warpPerspective(np.full(SIZE[::-1], 255, np.uint8), matrix, SIZE) == 255
    inside = cv2.erode(inside.astype(np.uint8), np.ones((9, 9))).astype(bool)
    assert inside.mean() > 0.6
    assert np.abs(found - theirs)[inside].mean() < 2


def test_only_the_face_is_looked_through(tmp_path: Path, take: Take) -> None:
    """Outside the outline, and off the framed photo's edge, the finished photo is untouched; inside, it is gone."""
    photos = take("a.jpg", framed_image()), take("b.jpg", finished_image())
    face = ((200.0, 100.0), (400.0, 120.0), (390.0, 300.0), (210.0, 310.0))
    found = seen(overlaid(*photos, [Pane(STRAIGHT, face)], tmp_path / "out", None), tmp_path / "out")
    assert np.abs(found[200, 300] - GREY).max() <= 3
    for x, y in ((180, 200), (300, 90), (420, 200), (300, 330), (5, 5)):
        assert np.abs(found[y, x] - WARM).max() <= 3
    moved = Homography(((1.0, 0.0, 300.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))
    found = seen(overlaid(*photos, [Pane(moved)], tmp_path / "out", None), tmp_path / "out")
    assert np.abs(found[200, 304] - GREY).max() <= 3
    assert np.abs(found[200, 296] - WARM).max() <= 3


@pytest.mark.parametrize("map_back", [STRAIGHT, SLANTED])
def test_what_lies_far_from_a_face_need_not_be_looked_at(
    tmp_path: Path, take: Take, map_back: Homography, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Faces in the middle, up to the edge, past it and off the picture come out as if all of it were warped."""
    faces = [
        ((200.0, 150.0), (330.5, 140.0), (300.0, 290.7)),
        ((0.0, 0.0), (60.0, 0.0), (50.0, 70.0)),
        ((600.0, 400.0), (700.0, 410.0), (690.0, 520.0)),
        ((-90.0, -80.0), (-20.0, -80.0), (-20.0, -30.0)),
    ]
    panes = tuple(Pane(map_back, face) for face in faces)
    grain = np.random.default_rng(3).integers(0, 256, (*SIZE[::-1], 3), dtype=np.uint8)
    photos = take("framed.jpg", Image.fromarray(grain)), take("finished.jpg", finished_image())
    made = []
    for round_it in (warp.BLURRED, 10_000):
        monkeypatch.setattr(warp, "BLURRED", round_it)
        out = tmp_path / str(round_it)
        overlay = overlaid(*photos, panes, out, None)
        made.append(seen(overlay, out).astype(int))
    assert np.abs(made[0] - made[1]).max() <= 1  # the same sums in another order
    assert (made[0] != seen(overlaid(*photos, (), tmp_path / "plain", None), tmp_path / "plain")).any()


def test_several_faces_each_with_its_own_map(tmp_path: Path, take: Take) -> None:
    """Two walls of a corner are two faces; each shows its own part of the framed photo."""
    photos = take("a.jpg", framed_image((100, 100))), take("b.jpg", finished_image())
    left = Pane(STRAIGHT, ((0.0, 0.0), (300.0, 0.0), (300.0, 480.0), (0.0, 480.0)))
    right = Pane(
        Homography(((1.0, 0.0, 400.0), (0.0, 1.0, 50.0), (0.0, 0.0, 1.0))),
        ((340.0, 0.0), (640.0, 0.0), (640.0, 480.0), (340.0, 480.0)),
    )
    found = seen(overlaid(*photos, [left, right], tmp_path / "out", None), tmp_path / "out")
    assert red_middle(found[:, :300]) == pytest.approx((100, 100), abs=0.3)
    assert red_middle(found[:, 340:]) == pytest.approx((500 - 340, 150), abs=0.3)


def test_nothing_shows_from_past_the_horizon(tmp_path: Path, take: Take) -> None:
    """Past the wall's vanishing line a careless warp shows the photo again, upside down."""
    photos = take("a.jpg", framed_image()), take("b.jpg", finished_image())
    # the line lies across the framed photo, at its row 200, and goes to infinity on the finished one beyond row 240
    floor = Homography(((150.0, 320.0, -112000.0), (0.0, 240.0, -24000.0), (0.0, 1.0, -200.0)))
    assert floor.at((320, 300)) == pytest.approx((320, 480))
    assert floor.at((320, 100)) is None
    found = seen(overlaid(*photos, [Pane(floor)], tmp_path / "out", None), tmp_path / "out")
    assert np.abs(found[470, 320] - GREY).max() <= 6
    assert np.abs(found[:236] - WARM).max() <= 6


def test_the_printed_one_is_a_ghost(tmp_path: Path, take: Take) -> None:
    """In print, the two pictures are blended."""
    photos = take("a.jpg", framed_image()), take("b.jpg", finished_image())
    made = overlaid(*photos, [Pane(STRAIGHT)], tmp_path / "out", None)
    found = seen(made, tmp_path / "out", use="print")
    wanted = np.array(WARM) * (1 - GHOST) + np.array(GREY) * GHOST
    assert np.abs(found[240, 320] - wanted).max() <= 3


def test_sizes_are_those_of_the_finished_photo(tmp_path: Path, take: Take) -> None:
    """One overlay for each copy of the finished photo, of its very size, and the plan says so beforehand."""
    photos = take("a.jpg", framed_image(size=(900, 1200))), take("b.jpg", finished_image((1300, 1000)))
    made = overlaid(*photos, [Pane(SLANTED)], tmp_path / "out", None)
    assert made == planned_overlay(*photos, [Pane(SLANTED)])
    assert [(f.width, f.height, f.kind, f.use) for f in made.files] == [
        (480, 369, "jpeg", "screen"),
        (480, 369, "webp", "screen"),
        (960, 738, "jpeg", "screen"),
        (960, 738, "webp", "screen"),
        (1300, 1000, "jpeg", "screen"),
        (1300, 1000, "webp", "screen"),
        (1300, 1000, "jpeg", "print"),
    ]
    for file in made.files:
        with Image.open(tmp_path / "out" / file.name) as image:
            assert image.size == (file.width, file.height)
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == sorted(file.name for file in made.files)


def test_a_photo_stored_sideways_is_mapped_upright(tmp_path: Path, take: Take) -> None:
    """Points are those of the upright picture, however the camera stored it (orientation 6, CIPA DC-008)."""
    stored = framed_image((150, 100)).transpose(Image.Transpose.ROTATE_90)
    photos = take("a.jpg", stored, orientation=6), take("b.jpg", finished_image())
    made = overlaid(*photos, [Pane(STRAIGHT)], tmp_path / "out", None)
    assert red_middle(seen(made, tmp_path / "out")) == pytest.approx((150, 100), abs=0.3)


def test_fine_grain_is_shrunk_before_it_is_warped(tmp_path: Path, take: Take) -> None:
    """A board of one-pixel squares, a quarter as large in the overlay, comes out grey and not as stripes."""
    grain = np.indices((1200, 1600)).sum(axis=0) % 2 * 255
    photos = take("a.jpg", Image.fromarray(grain.astype(np.uint8)).convert("RGB")), take("b.jpg", finished_image())
    smaller = Homography(((0.27, 0.01, 30.0), (-0.01, 0.26, 30.0), (0.0, 0.0, 1.0)))
    found = seen(overlaid(*photos, [Pane(smaller)], tmp_path / "out", None), tmp_path / "out")
    assert found[100:250, 100:350].std() < 8


def test_no_metadata_comes_along(tmp_path: Path, take: Take) -> None:
    """Comment, EXIF with a place, and names in a profile stay behind: no byte of them is in any file."""
    exif = Image.Exif()
    exif[0x010E] = CANARY.decode()
    how = {"exif": exif.tobytes(), "comment": CANARY, "icc_profile": CANARY * 20}
    photos = take("a.jpg", framed_image(), **how), take("b.jpg", finished_image(), **how)
    assert all(CANARY in photo.path.read_bytes() for photo in photos)
    made = overlaid(*photos, [Pane(SLANTED)], tmp_path / "out", None)
    for file in made.files:
        data = (tmp_path / "out" / file.name).read_bytes()
        assert not any(word in data for word in (CANARY, b"Exif", b"ICC_PROFILE", b"EXIF", b"ICCP"))


def test_same_bytes_and_no_work_the_second_time(tmp_path: Path, take: Take) -> None:
    """The same photos and map give the same bytes, and out of the cache without the photos; another map does not."""
    photos = take("a.jpg", framed_image((99, 99))), take("b.jpg", finished_image())
    outs = [tmp_path / name for name in ("one", "two", "three")]
    first = overlaid(*photos, [Pane(SLANTED)], outs[0], None)
    overlaid(*photos, [Pane(SLANTED)], outs[1], tmp_path / "cache")
    for photo in photos:
        photo.path.unlink()
    overlaid(*photos, [Pane(SLANTED)], outs[2], tmp_path / "cache")
    for file in first.files:
        assert len({(out / file.name).read_bytes() for out in outs}) == 1
    assert planned_overlay(*photos, [Pane(STRAIGHT)]).files[0].name != first.files[0].name
    assert planned_overlay(*photos, [Pane(SLANTED, ((0, 0), (9, 0), (9, 9)))]).digest != first.digest


@pytest.mark.parametrize("spoilt", [0, 1])
@pytest.mark.parametrize("how", ["gone", "changed", "cut"])
def test_a_photo_that_fails_is_named(tmp_path: Path, take: Take, spoilt: int, how: str) -> None:
    """The photo that is gone, changed or cut short comes back with its fault, and nothing is written."""
    photos = [take("a.jpg", framed_image()), take("b.jpg", finished_image())]
    photo = photos[spoilt]
    if how == "gone":
        photo.path.unlink()
    elif how == "changed":
        photo.path.write_bytes(photo.path.read_bytes() + b"!")
    else:
        cut = photo.path.read_bytes()[:700]
        photo.path.write_bytes(cut)
        digest = hashlib.sha256(cut).hexdigest()
        photos[spoilt] = Photo(photo.name, photo.path, *SIZE, None, "file", 1, digest, "jpeg")
    made = make_overlay(photos[0], photos[1], [Pane(SLANTED)], tmp_path / "out", tmp_path / "cache")
    assert isinstance(made, tuple)
    assert made[0] == photos[spoilt]
    assert isinstance(made[1], PhotoFault)
    assert list((tmp_path / "out").iterdir()) == list((tmp_path / "cache").iterdir()) == []

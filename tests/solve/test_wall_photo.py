"""A photo tied to a wall: bounds that hold, cameras that can't be told, points past the horizon."""

import numpy as np
import pytest

from bookgen.model.evidence import Camera, Dot, Fit, KnownPoint, Refusal, Sighting
from bookgen.solve.locate.wall_photo import (
    Slips,
    cameras,
    cameras_of_one_lens,
    largest_inches,
    largest_overlay_shift,
    measure,
    seen_off,
    tie,
)

USUAL = Slips()
SIZE = (1600, 1200)
FOCAL = 1200.0
STANDS = np.array([60.0, 58.0, 110.0])  # inches along, up and off the wall
DOOR: tuple[Dot, ...] = ((40, 0), (72, 0), (72, 80), (40, 80))
WALL: tuple[Dot, ...] = (*DOOR, (10, 8), (100, 72), (20, 60))


def pixel(place: Dot, off: float = 0.0, turned: float = 0.4, tipped: float = 0.1) -> Dot:
    """Return where a camera that stands there, turned right and tipped down so far (radians), shows a place."""
    ahead = np.array([np.sin(turned) * np.cos(tipped), -np.sin(tipped), -np.cos(turned) * np.cos(tipped)])
    right = np.array([np.cos(turned), 0.0, np.sin(turned)])
    to = np.array([*place, off]) - STANDS
    to_right, to_down, far = to @ right, to @ np.cross(ahead, right), to @ ahead
    return float(800 + FOCAL * to_right / far), float(600 + FOCAL * to_down / far)


def tied(points: list[KnownPoint], slips: Slips = USUAL) -> Fit:
    """Return the map of a photo with these points."""
    fit = tie(points, SIZE, 40, slips)
    assert isinstance(fit, Fit), fit
    return fit


@pytest.mark.parametrize("known", [DOOR, WALL])
def test_bounds_hold_nineteen_times_in_twenty(known: tuple[Dot, ...]) -> None:
    """Over many slips of clicks and tape, the measured place lies within its bound about as often as is said."""
    rng, slips, mark = np.random.default_rng(4), Slips(click=3.0, tape=0.25), (57.0, 34.0)
    held = np.zeros(2)
    for _ in range(150):
        points = [
            KnownPoint(
                str(n),
                tuple(np.array(p) + rng.normal(0, slips.tape, 2)),
                tuple(np.array(pixel(p)) + rng.normal(0, slips.click, 2)),
            )
            for n, p in enumerate(known)
        ]
        clicked = np.array(pixel(mark)) + rng.normal(0, slips.click, 2)
        found = measure(tied(points, slips), "mark", (clicked[0], clicked[1]), slips)
        assert isinstance(found, Sighting)
        held += [
            abs(float(found.along.inches) - mark[0]) <= found.along_within.inches,
            abs(float(found.up.inches) - mark[1]) <= found.up_within.inches,
        ]
    assert (held / 150 > 0.9).all(), held
    assert (held / 150 < 1).all(), held


def test_four_exact_points_give_the_exact_place() -> None:
    """A door of known size is enough: the mark is where it is, and the bound is of the order of the clicks."""
    points = [KnownPoint(str(n), place, pixel(place)) for n, place in enumerate(DOOR)]
    found = measure(tied(points), "outlet", pixel((66, 16)), Slips(click=1.0, tape=0.0))
    assert isinstance(found, Sighting)
    assert (float(found.along.inches), float(found.up.inches)) == pytest.approx((66, 16), abs=1e-6)
    assert 0.05 < found.along_within.inches < 0.5


def test_points_in_front_of_the_plane_are_allowed_for() -> None:
    """Casing 3/4 in out from the board, of known thickness, ties the board's plane as exactly as the board itself."""
    points = [KnownPoint(str(n), place, pixel(place, 0.75), 0.75) for n, place in enumerate(DOOR)]
    found = measure(tied(points), "outlet", pixel((90, 16)), Slips())
    assert isinstance(found, Sighting)
    assert (float(found.along.inches), float(found.up.inches)) == pytest.approx((90, 16), abs=1e-3)
    flat = [KnownPoint(point.name, point.place, point.pixel) for point in points]
    wrong = measure(tied(flat), "outlet", pixel((90, 16)), Slips())
    assert isinstance(wrong, Sighting)
    assert abs(float(wrong.along.inches) - 90) > 0.2


def test_worse_residuals_than_the_clicks_explain_widen_the_bound() -> None:
    """Points that disagree by more than the clicks' slip make the measure less sure, whatever slip is claimed."""
    rng = np.random.default_rng(6)
    good = [KnownPoint(str(n), place, pixel(place)) for n, place in enumerate(WALL)]
    rough = [KnownPoint(p.name, p.place, (p.pixel[0] + rng.normal(0, 8), p.pixel[1] + rng.normal(0, 8))) for p in good]
    slips, mark = Slips(click=0.5, tape=0.0), pixel((57, 34))
    sure, unsure = measure(tied(good), "mark", mark, slips), measure(tied(rough), "mark", mark, slips)
    assert isinstance(sure, Sighting)
    assert isinstance(unsure, Sighting)
    assert unsure.along_within.inches > 3 * sure.along_within.inches


def test_a_mark_past_the_horizon_is_refused() -> None:
    """A pixel beyond the wall's vanishing line is no point of the wall."""
    points = [KnownPoint(str(n), place, pixel(place, turned=1.1)) for n, place in enumerate(DOOR)]
    fit = tied(points)
    far = pixel((10_000, 58), turned=1.1)
    found = measure(fit, "switch", (far[0] + 80, far[1]), Slips())
    assert isinstance(found, Refusal)
    assert found.code == "point-beyond"
    assert found.says.startswith("switch")


def test_a_refusal_of_the_points_is_handed_on() -> None:
    """Three points tie nothing, whether in the plane or in front of it."""
    for off in (0.0, 0.5):
        found = tie([KnownPoint(str(n), p, pixel(p), off) for n, p in enumerate(DOOR[:3])], SIZE, 10, Slips())
        assert isinstance(found, Refusal)
        assert found.code == "pairs-too-few"


def test_camera_is_found_where_the_wall_is_seen_at_a_slant() -> None:
    """Focal length and place come from the wall alone; the extremes lie either side of it."""
    fit = tied([KnownPoint(str(n), place, pixel(place)) for n, place in enumerate(WALL)])
    found, near, far = cameras(fit, SIZE, Slips(click=0.5, tape=0.0))
    assert found.focal_known == "worked out"
    assert found.focal == pytest.approx(FOCAL, rel=1e-6)
    assert (found.along, found.up, found.off) == pytest.approx(tuple(STANDS), abs=1e-4)
    assert near.focal < FOCAL < far.focal
    assert near.off < found.off < far.off
    assert cameras(fit, SIZE, Slips(click=0.5, tape=0.0), focal=2 * FOCAL)[0] == found  # a cut picture tells it wrong


@pytest.mark.parametrize("turned", [0.0, 0.05])
def test_camera_square_to_the_wall_is_not_guessed(turned: float) -> None:
    """Seen straight on, or nearly, any lens at some distance shows the same: all that a phone has are gone through."""
    fit = tied([KnownPoint(str(n), place, pixel(place, turned=turned, tipped=0)) for n, place in enumerate(WALL)])
    found = cameras(fit, SIZE, Slips())
    assert {camera.focal_known for camera in found} == {"assumed"}
    assert min(c.off for c in found) < STANDS[2] < max(c.off for c in found)
    given, *extremes = cameras(fit, SIZE, Slips(), focal=FOCAL)
    assert [camera.focal / FOCAL for camera in extremes] == pytest.approx([0.95, 1.05])
    assert (given.along, given.up, given.off) == pytest.approx(tuple(STANDS), abs=1e-4)


def test_two_pictures_of_one_lens_tell_more_than_one() -> None:
    """What two slanted views tell of the lens counts together: the extremes lie closer than those of either."""
    slips = Slips(click=2.0, tape=0.0)
    fits = [
        tied([KnownPoint(str(n), place, pixel(place, turned=turn)) for n, place in enumerate(WALL)])
        for turn in (0.4, -0.3)
    ]
    pairs = cameras_of_one_lens((fits[0], SIZE), (fits[1], SIZE), slips)
    assert all(first.focal == second.focal for first, second in pairs)
    assert pairs[0][0].focal == pytest.approx(FOCAL, rel=1e-5)
    spread = pairs[2][0].focal - pairs[1][0].focal
    for fit in fits:
        alone = cameras(fit, SIZE, slips)
        assert spread < alone[2].focal - alone[1].focal


def test_shift_by_similar_triangles() -> None:
    """From 100 in off the wall, a thing 25 in behind a place 50 in to the left of the camera's foot is seen 10 in over.

    By hand: 50 x 25 / (100 + 25) = 10, toward the camera; in front of the plane the other way.
    """
    camera = Camera(along=60, up=60, off=100, focal=1200, focal_known="given")
    assert seen_off(camera, (10, 60), 25) == pytest.approx((10, 0))
    assert seen_off(camera, (60, 35), -20) == pytest.approx((0, -6.25))
    assert largest_inches([camera], [(60, 60), (10, 60)], 25).amount == pytest.approx(10)
    assert largest_inches([camera], [(60, 60), (10, 60)], 25).worst == (10, 60)


def test_overlay_from_one_spot_shifts_nothing() -> None:
    """Two pictures from the same place differ by nothing, at any depth; from 12 in apart, by similar triangles.

    By hand: 12 in beside, 100 in off: 12 x 5 / 105 in on the plane, at 12 px an inch.
    """
    fit = tied([KnownPoint(str(n), place, pixel(place, turned=0, tipped=0)) for n, place in enumerate(WALL)])
    one = Camera(60, 58, 100, FOCAL, "given")
    other = Camera(72, 58, 100, FOCAL, "given")
    part = ((400.0, 300.0), (1200.0, 900.0))
    same = largest_overlay_shift(fit.homography, [(one, one)], part, 5)
    apart = largest_overlay_shift(fit.homography, [(one, other), (one, one)], part, 5)
    assert same is not None
    assert apart is not None
    assert same.amount == pytest.approx(0, abs=1e-9)
    assert apart.amount == pytest.approx(12 * 5 / 105 * FOCAL / STANDS[2], rel=1e-6)


def test_overlay_of_nothing_has_no_shift() -> None:
    """A part of the picture that lies past the horizon shows no wall."""
    fit = tied([KnownPoint(str(n), place, pixel(place, turned=1.1)) for n, place in enumerate(DOOR)])
    camera = cameras(fit, SIZE, Slips())
    far = pixel((10_000, 58), turned=1.1)[0] + 50
    assert largest_overlay_shift(fit.homography, [(camera[0], camera[1])], ((far, 0), (far + 100, 1200)), 5) is None

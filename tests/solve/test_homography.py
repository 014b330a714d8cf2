"""The plane map: published and hand-worked cases, a general computer-vision library, bad pairs named."""

from collections.abc import Sequence

import cv2
import numpy as np
import pytest

from bookgen.model.evidence import Dot, Fit, Homography, PointPair, Refusal
from bookgen.solve.locate.homography import fit_homography

SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


def pairs_of(source: Sequence[Dot], target: Sequence[Dot]) -> list[PointPair]:
    """Return pairs named 0, 1, 2…."""
    return [PointPair(str(n), s, t) for n, (s, t) in enumerate(zip(source, target, strict=True))]


def fitted(source: Sequence[Dot], target: Sequence[Dot], within: float = 1.0) -> Fit:
    """Return the fit, which must be one."""
    fit = fit_homography(pairs_of(source, target), within)
    assert isinstance(fit, Fit), fit
    return fit


def scaled(homography: Homography) -> np.ndarray:
    """Return the matrix with its last entry 1; for these maps it is never 0."""
    matrix = np.array(homography.rows)
    return matrix / matrix[2, 2]


def wall(rng: np.random.Generator, count: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return points of a plane, a random view of it, and where it shows them, in a picture about 1600 wide."""
    while True:
        matrix = np.array([[5.0, 0.3, 200.0], [0.2, 5.0, 150.0], [0.0, 0.0, 1.0]])
        matrix[:2, :2] += rng.uniform(-1.5, 1.5, (2, 2))
        matrix[2, :2] = rng.uniform(-0.0015, 0.0015, 2)
        source = rng.uniform((0, 0), (200, 150), (count, 2))
        source[:4] = np.array([[5, 5], [195, 8], [190, 140], [8, 145]]) + rng.uniform(-4, 4, (4, 2))
        moved = np.column_stack([source, np.ones(count)]) @ matrix.T
        if (moved[:, 2] > 0.3).all() and np.linalg.det(matrix) > 0:
            return source, matrix, moved[:, :2] / moved[:, 2:]


def test_unit_square_to_a_kite() -> None:
    """A case worked by hand: the map is [[4,0,0],[0,4,0],[1,1,1]], so (1/2,1/2) goes to (1,1), (1/4,3/4) to (1/2,3/2).

    Method of the direct linear transform: Hartley and Zisserman, Multiple View Geometry (2004), chapter 4.
    """
    fit = fitted(SQUARE, ((0, 0), (2, 0), (4 / 3, 4 / 3), (0, 2)))
    assert scaled(fit.homography) == pytest.approx(np.array([[4, 0, 0], [0, 4, 0], [1, 1, 1]]), abs=1e-9)
    assert fit.homography.at((0.5, 0.5)) == pytest.approx((1, 1))
    assert fit.homography.at((0.25, 0.75)) == pytest.approx((0.5, 1.5))
    assert fit.rms == pytest.approx(0, abs=1e-12)
    assert not fit.proven


def test_round_trip_of_a_square_of_96() -> None:
    """A known matrix moves four corners; the four give the matrix back, and its middle goes where it should.

    Worked by hand: x' = (48 + 9.6 + 5) / 1.144 and y' = (4.8 + 72 + 3) / 1.144.
    """
    matrix = np.array([[1, 0.2, 5], [0.1, 1.5, 3], [0.001, 0.002, 1]])
    corners = ((0.0, 0.0), (96.0, 0.0), (96.0, 96.0), (0.0, 96.0))
    moved = ((5, 3), (92.15328467, 11.49635036), (93.32298137, 121.58385093), (20.30201342, 123.32214765))
    fit = fitted(corners, moved)
    assert scaled(fit.homography) == pytest.approx(matrix, rel=1e-6)
    assert fit.homography.at((48, 48)) == pytest.approx((54.72027972, 69.75524476), abs=1e-7)
    assert fit.homography.inverse().at((54.72027972, 69.75524476)) == pytest.approx((48, 48), abs=1e-6)


def test_middle_of_an_affine_square_is_where_its_diagonals_meet() -> None:
    """A parallelogram keeps middles: an invariant of affine maps, which are homographies with nothing at infinity."""
    fit = fitted(SQUARE, ((10, 20), (40, 30), (55, 80), (25, 70)))
    assert fit.homography.at((0.5, 0.5)) == pytest.approx((32.5, 50))


@pytest.mark.parametrize("seed", range(20))
def test_exact_points_agree_with_a_general_library(seed: int) -> None:
    """Without noise, the map is the one that OpenCV's findHomography gives, and the true one."""
    source, matrix, target = wall(np.random.default_rng(seed), 4 + seed % 6)
    fit = fitted(source.tolist(), target.tolist())
    theirs, _ = cv2.findHomography(source, target, 0)
    assert scaled(fit.homography) == pytest.approx(matrix, rel=1e-6, abs=1e-8)
    assert scaled(fit.homography) == pytest.approx(theirs, rel=1e-4, abs=1e-6)


@pytest.mark.parametrize("seed", range(20))
def test_noisy_points_agree_with_a_general_library(seed: int) -> None:
    """With clicks 2 px off, it puts points where OpenCV's does, and squared residuals are no larger than there."""
    rng = np.random.default_rng(100 + seed)
    source, _, target = wall(rng, 6 + seed % 9)
    target = target + rng.normal(0, 2, target.shape)
    fit = fitted(source.tolist(), target.tolist(), within=50)
    theirs, _ = cv2.findHomography(source, target, 0)
    ours = cv2.perspectiveTransform(source[None], np.array(fit.homography.rows))[0]
    other = cv2.perspectiveTransform(source[None], theirs)[0]
    assert np.abs(ours - other).max() < 0.01
    assert ((ours - target) ** 2).sum() <= ((other - target) ** 2).sum() * (1 + 1e-9)
    assert fit.rms == pytest.approx(np.sqrt(((ours - target) ** 2).sum(axis=1).mean()))


@pytest.mark.parametrize("seed", range(12))
def test_bad_pairs_are_left_out_and_named(seed: int) -> None:
    """One or two pairs that are 60 px off, among clicks 1 px off, are named; the map is that of the others."""
    rng = np.random.default_rng(200 + seed)
    source, _, target = wall(rng, 7 + seed % 5)
    target = target + rng.normal(0, 1, target.shape)
    bad = sorted(rng.choice(len(source), 1 + (len(source) > 8), replace=False).tolist())
    good = [n for n in range(len(source)) if n not in bad]
    for n in bad:
        angle = rng.uniform(0, 2 * np.pi)
        target[n] += 60 * np.array([np.cos(angle), np.sin(angle)])
    fit = fitted(source.tolist(), target.tolist(), within=8)
    assert fit.bad == tuple(map(str, bad))
    theirs, _ = cv2.findHomography(source[good], target[good], 0)
    moved = cv2.perspectiveTransform(source[None], np.array(fit.homography.rows))[0]
    assert np.abs(moved - cv2.perspectiveTransform(source[None], theirs)[0]).max() < 0.05
    assert [r.off > 8 for r in fit.residuals] == [n in bad for n in range(len(source))]


def test_two_pairs_swapped_among_eight_are_named() -> None:
    """The slip of a tired hand: two points are clicked in the wrong order in one picture."""
    source, _, target = wall(np.random.default_rng(5), 8)
    target[[2, 5]] = target[[5, 2]]
    assert fitted(source.tolist(), target.tolist(), within=6).bad == ("2", "5")


def test_map_and_its_inverse_and_a_chain_of_two() -> None:
    """Going there and back changes nothing, and two maps in one are the same as one after the other."""
    first = Homography(((2.0, 0.1, 5.0), (0.2, 1.5, 3.0), (0.001, 0.002, 1.0)))
    second = Homography(((0.5, -0.2, 7.0), (0.1, 0.9, -4.0), (-0.001, 0.0005, 1.0)))
    there = first.at((30, 40))
    assert there is not None
    assert first.inverse().at(there) == pytest.approx((30, 40))
    assert second.after(first).at((30, 40)) == pytest.approx(second.at(there))


def test_no_point_past_the_horizon() -> None:
    """Where the third coordinate is not positive, the plane is not seen at all."""
    view = Homography(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.01, 1.0)))
    assert view.at((3, -100)) is None
    assert view.at((3, -150)) is None
    assert view.at((3, -50)) == pytest.approx((6, -100))


@pytest.mark.parametrize(
    ("source", "target", "code"),
    [
        (SQUARE[:3], SQUARE[:3], "pairs-too-few"),
        (((0, 0), (1, 0), (2, 0.001), (0, 1)), SQUARE, "pairs-in-line"),
        (SQUARE, ((0, 0), (50, 50.2), (100, 100), (0, 100)), "pairs-in-line"),
        (((0, 0), (1, 1), (2, 2), (3, 3), (0, 1)), ((0, 0), (1, 1), (2, 2), (3, 3), (0, 1)), "pairs-in-line"),
        (((0, 0), (0, 0), (1, 1), (0, 1)), SQUARE, "pairs-doubled"),
        (SQUARE, ((0, 0), (100, 0), (0, 100), (100, 100)), "pairs-crossed"),
        (SQUARE, ((100, 0), (0, 0), (0, 100), (100, 100)), "pairs-mirrored"),
        (SQUARE, ((0, 0), (100, 0), (40, 40), (0, 100)), "pairs-crossed"),
        (((0, 0), (100, 0), (100, 2), (0, 2)), ((0, 0), (100, 0), (100, 2), (0, 2)), None),
        (((0, 0), (90, 3), (93, 0), (99, 5)), ((0, 0), (90, 3), (93, 0), (99, 5)), "pairs-ill-placed"),
        ((*SQUARE, (0.5, 0.5)), ((0, 0), (100, 0), (100, 100), (0, 100), (80, 50)), "pairs-disagree"),
    ],
)
def test_pairs_that_settle_no_plane_are_refused(source: list[Dot], target: list[Dot], code: str | None) -> None:
    """Too few, in line (in either picture), doubled, crossed, mirrored, ill placed, at odds: told, not raised.

    Three points in line make the map singular: Hartley and Zisserman, section 4.1.
    """
    found = fit_homography(pairs_of(source, target), within=5)
    assert (found.code if isinstance(found, Refusal) else None) == code, found
    if isinstance(found, Refusal):
        assert found.says
        assert found.repair


def test_refusal_names_the_pairs() -> None:
    """The points in line, and the points at the same place, are named."""
    names = ("soffit left", "soffit middle", "soffit right", "column foot")
    dots = ((0.0, 0.0), (50.0, 0.2), (100.0, 0.0), (50.0, 90.0))
    found = fit_homography([PointPair(n, d, d) for n, d in zip(names, dots, strict=True)], 5)
    assert isinstance(found, Refusal)
    assert found.says.endswith("soffit left, soffit middle, soffit right")


def test_a_wall_may_run_to_the_left_in_a_picture() -> None:
    """Inches count up and pixels count down, so a wall's own inches are a mirrored picture, and that is no fault."""
    target = ((10, 90), (90, 90), (90, 10), (10, 10))
    assert isinstance(fit_homography(pairs_of(SQUARE, target), 5, sides="either"), Fit)
    found = fit_homography(pairs_of(SQUARE, target), 5, sides="same")
    assert isinstance(found, Refusal)
    assert found.code == "pairs-mirrored"


def test_six_at_odds_are_refused_with_the_furthest_named() -> None:
    """Where no five of them lie on one plane, nothing is fitted."""
    rng = np.random.default_rng(3)
    source, _, target = wall(rng, 7)
    target = target + rng.normal(0, 60, target.shape)
    found = fit_homography(pairs_of(source.tolist(), target.tolist()), within=5)
    assert isinstance(found, Refusal)
    assert found.code == "pairs-disagree"


def test_arguments_are_not_changed_and_the_answer_is_the_same_twice() -> None:
    """The same pairs give the same numbers, bit for bit."""
    source, _, target = wall(np.random.default_rng(8), 9)
    pairs = pairs_of(source.tolist(), target.tolist())
    kept = list(pairs)
    assert fit_homography(pairs, 5) == fit_homography(pairs, 5)
    assert pairs == kept


def test_a_slip_moves_the_map_as_far_as_told() -> None:
    """`amplifies` is the standard deviation over many slips of one pixel, at the worst corner of the points' box."""
    rng = np.random.default_rng(11)
    source, _, target = wall(rng, 6)
    fit = fitted(source.tolist(), target.tolist())
    low, high = source.min(axis=0), source.max(axis=0)
    corners = [(x, y) for x in (low[0], high[0]) for y in (low[1], high[1])]
    moved = []
    for _ in range(120):
        slipped = fitted(source.tolist(), (target + rng.normal(0, 1, target.shape)).tolist(), within=99)
        moved.append([slipped.homography.at(corner) for corner in corners])
    spread = np.sqrt(np.array(moved).var(axis=0).sum(axis=1).max())
    assert fit.amplifies == pytest.approx(spread, rel=0.2)


def test_points_far_from_zero_lose_nothing() -> None:
    """Plan positions in the millions, as off a survey, give the same residuals: that is what normalising is for."""
    rng = np.random.default_rng(9)
    source, _, target = wall(rng, 8)
    target = target + rng.normal(0, 2, target.shape)
    near = fitted(source.tolist(), target.tolist(), within=50)
    far = fitted((source + 3e6).tolist(), target.tolist(), within=50)
    assert [r.off for r in far.residuals] == pytest.approx([r.off for r in near.residuals], abs=1e-3)


@pytest.mark.parametrize("count", [4, 5, 6, 8])
def test_any_points_at_all_are_fitted_or_refused(count: int) -> None:
    """Random whole pixels, on a coarse grid so that lines, twins and horizons come often, never raise or warn."""
    rng = np.random.default_rng(count)
    codes = set()
    for _ in range(25):
        source, target = (rng.integers(0, 6, (count, 2)) * 100.0 for _ in range(2))
        found = fit_homography(pairs_of(source.tolist(), target.tolist()), within=30)
        codes.add(found.code if isinstance(found, Refusal) else "fitted")
    assert len(codes) > 1

"""Pairs of points in, the plane map through them out: fitted, its residuals told, bad pairs named, or refused.

Source: R. Hartley, A. Zisserman, Multiple View Geometry in Computer Vision, 2nd ed. (2004), chapters 4 and 5, written
from memory: the normalised direct linear transform (algorithm 4.2), the reprojection error in the second picture
(4.2.2), the covariance of what was fitted (5.2).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from bookgen.model.evidence import Dot, Fit, Homography, PairResidual, PointPair, Refusal
from bookgen.solve.locate.point_layout import refuse_layout

Array = NDArray[np.float64]
Sides = Literal["same", "either"]

LEAST = 4  # pairs: eight numbers of a plane map, two from each
TELLING = 6  # pairs that can show which one of them is off; of five, any four fit
TRIED = 600  # fours at most that are tried in search of those that agree
NEAR_ZERO = 1e-12  # of a third coordinate that is 1 amid the points
STEEPEST = 8.0  # pixels of overlay for a slip of one: beyond it the points are too close to a line, or to one another


def fit_homography(pairs: Sequence[PointPair], within: float, sides: Sides = "same") -> Fit | Refusal:
    """Return the map from the pairs' sources to their targets.

    *within* is how far off, in the target's units, a pair may be and still count. With six pairs or more those beyond
    it are left out and named, as long as five and more than half agree. *sides* is "same" for two pictures, which both
    show the front of a wall, and "either" for a wall's own inches, which may run to the left in the picture.
    """
    pairs = tuple(pairs)
    if len(pairs) < LEAST:
        says = f"{len(pairs)} pairs are too few: a plane takes {LEAST}"
        return Refusal("pairs-too-few", says, "add points that both show, far apart, such as corners of the wall")
    refusal = refuse_layout(pairs)
    if refusal:
        return refusal
    source, target = _dots([p.source for p in pairs]), _dots([p.target for p in pairs])
    every = _fitted(source, target)
    used = _agreeing(source, target, every, within)
    if used is None:
        return _disagreement(pairs, _off(every, source, target), within)
    good = tuple(pair for pair, use in zip(pairs, used, strict=True) if use)
    matrix = _facing(every if used.all() else _fitted(source[used], target[used]), source[used])
    refusal = (None if used.all() else refuse_layout(good)) or _refuse_view(matrix, good, source[used], sides)
    if refusal:
        return refusal
    amplifies = _amplified(matrix, source[used])
    if amplifies > STEEPEST:
        says = f"a slip of one pixel in a point would move the map by {min(amplifies, 999):.0f} between the points"
        return Refusal("pairs-ill-placed", says, "choose points further apart, at the corners of what is to be seen")
    off = _off(matrix, source, target)
    residuals = tuple(PairResidual(p.name, float(o), bool(u)) for p, o, u in zip(pairs, off, used, strict=True))
    rms = float(np.sqrt(np.mean(off[used] ** 2)))
    return Fit(homography_of(matrix), good, residuals, rms, amplifies)


def homography_of(matrix: Array) -> Homography:
    """Return a 3 x 3 array as the noun that other rooms read."""
    first, second, third = ((float(a), float(b), float(c)) for a, b, c in matrix)
    return Homography((first, second, third))


def matrix_of(homography: Homography) -> Array:
    """Return the 3 x 3 array of a homography."""
    return np.array(homography.rows, dtype=np.float64)


def slope_in_entries(matrix: Array, source: Array) -> Array:
    """Return, for n sources, the 2n x 9 derivatives of where they go by the nine entries of *matrix*, row by row."""
    ones = np.column_stack([source, np.ones(len(source))])
    x, y, w = _thirds_off_zero(matrix @ ones.T)
    slopes = np.zeros((2 * len(source), 9))
    slopes[0::2, 0:3] = slopes[1::2, 3:6] = ones / w[:, None]
    slopes[0::2, 6:9] = -ones * (x / w**2)[:, None]
    slopes[1::2, 6:9] = -ones * (y / w**2)[:, None]
    return slopes


def slope_in_place(matrix: Array, dot: Dot) -> Array:
    """Return the 2 x 2 derivatives of where *dot* goes by its own two coordinates."""
    x, y, w = matrix @ np.array([*dot, 1.0])
    top = matrix[:2, :2] / w
    slope: Array = top - np.outer([x, y], matrix[2, :2]) / w**2
    return slope


def entries_from_targets(matrix: Array, source: Array) -> Array:
    """Return the 9 x 2n derivatives of the fitted entries by the targets' coordinates, for a fit to these sources.

    Scale is free, so the pseudo-inverse moves the entries as little as will do. The columns are scaled first: in
    pixels, entries of very different size would otherwise drown one another.
    """
    slopes = slope_in_entries(matrix, source)
    sizes = np.linalg.norm(slopes, axis=0)
    entries: Array = np.linalg.pinv(slopes / sizes, rcond=1e-9) / sizes[:, None]
    return entries


def _dots(dots: Sequence[Dot]) -> Array:
    array = np.array(dots, dtype=np.float64)
    if not np.isfinite(array).all():
        raise ValueError("a point is not a finite number")
    return array


def _agreeing(source: Array, target: Array, every: Array, within: float) -> NDArray[np.bool_] | None:
    """Return which pairs lie *within* of one plane map, or None where too few do; *every* is the map of all."""
    used = np.ones(len(source), dtype=np.bool_)
    if len(source) == LEAST or _off(every, source, target).max() <= within:
        return used
    if len(source) < TELLING:
        return None
    used = _best_four(source, target, within) <= 2 * within  # twice: a map through four slips is itself a little off
    for _ in range(len(source)):
        if used.sum() < LEAST:
            return None
        now = _off(_fitted(source[used], target[used]), source, target) <= within
        if (now == used).all():
            break
        used = now
    return used if used.sum() > max(LEAST, len(source) // 2) else None


def _best_four(source: Array, target: Array, within: float) -> Array:
    """Return how far off all pairs are from the map through the four that most agree with."""
    fours = list(combinations(range(len(source)), LEAST))
    best, least = np.full(len(source), np.inf), np.inf
    for four in fours[:: max(1, len(fours) // TRIED)]:
        chosen = list(four)
        off = _off(_linear(source[chosen], target[chosen]), source, target)
        cost = float(np.minimum(off, 2 * within).sum())
        if cost < least:
            best, least = off, cost
    return best


def _fitted(source: Array, target: Array) -> Array:
    """Return the matrix of least squared distance in the target plane."""
    to_source, to_target = _normalising(source), _normalising(target)
    near, far = _moved(to_source, source), _moved(to_target, target)
    normalised = _refined(_null_vector(near, far), near, far)
    matrix: Array = np.linalg.inv(to_target) @ normalised @ to_source
    return matrix


def _linear(source: Array, target: Array) -> Array:
    to_source, to_target = _normalising(source), _normalising(target)
    matrix: Array = np.linalg.inv(to_target) @ _null_vector(_moved(to_source, source), _moved(to_target, target))
    return matrix @ to_source


def _normalising(dots: Array) -> Array:
    """Return the matrix that puts the dots' middle at 0 and their mean distance from it at the root of 2."""
    middle = dots.mean(axis=0)
    scale = np.sqrt(2) / max(float(np.linalg.norm(dots - middle, axis=1).mean()), 1e-300)
    return np.array([[scale, 0, -scale * middle[0]], [0, scale, -scale * middle[1]], [0, 0, 1]])


def _null_vector(source: Array, target: Array) -> Array:
    """Return the direct linear transform: the unit matrix that least breaks target x (matrix source) = 0."""
    ones = np.column_stack([source, np.ones(len(source))])
    equations = np.zeros((2 * len(source), 9))
    equations[0::2, 0:3] = equations[1::2, 3:6] = ones
    equations[0::2, 6:9] = -ones * target[:, :1]
    equations[1::2, 6:9] = -ones * target[:, 1:]
    matrix: Array = np.linalg.svd(equations)[2][-1].reshape(3, 3)
    return matrix


def _refined(matrix: Array, source: Array, target: Array) -> Array:
    """Return *matrix* after Levenberg's steps down the squared distance in the target plane."""
    matrix, damping = _facing(matrix, source), 1e-3
    wrong = (_moved(matrix, source) - target).ravel()
    for _ in range(60):
        damped = np.vstack([slope_in_entries(matrix, source), np.sqrt(damping) * np.eye(9)])
        step = np.linalg.lstsq(damped, np.append(-wrong, np.zeros(9)), rcond=None)[0].reshape(3, 3)
        trial = matrix + step
        trial_wrong = (_moved(trial, source) - target).ravel()
        better = trial_wrong @ trial_wrong < wrong @ wrong
        if better:
            matrix, wrong = trial / np.linalg.norm(trial), trial_wrong
        if float(np.linalg.norm(step)) < 1e-11 or damping > 1e6:
            break
        damping = damping / 10 if better else damping * 10
    return matrix


def _moved(matrix: Array, dots: Array) -> Array:
    """Return where the dots go: very far for one on the line that goes to infinity."""
    x, y, w = _thirds_off_zero(matrix @ np.vstack([dots.T, np.ones(len(dots))]))
    return np.column_stack([x / w, y / w])


def _thirds_off_zero(moved: Array) -> Array:
    """Return three rows of coordinates with no third one so near 0 that a division by its square would overflow."""
    return np.vstack([moved[:2], np.where(np.abs(moved[2]) < NEAR_ZERO, NEAR_ZERO, moved[2])])


def _off(matrix: Array, source: Array, target: Array) -> Array:
    off: Array = np.linalg.norm(_moved(matrix, source) - target, axis=1)
    return off


def _facing(matrix: Array, source: Array) -> Array:
    """Return *matrix* with its third coordinate 1 at the middle of the sources."""
    middle = np.array([*source.mean(axis=0), 1.0])
    size = float(matrix[2] @ middle)
    facing: Array = matrix / size if abs(size) > 1e-12 * float(np.linalg.norm(matrix)) else matrix
    return facing


def _refuse_view(matrix: Array, pairs: tuple[PointPair, ...], source: Array, sides: Sides) -> Refusal | None:
    """Return a refusal where the map tears the points apart, or shows the wall from behind."""
    names = ", ".join(pair.name for pair in pairs)
    thirds = np.column_stack([source, np.ones(len(source))]) @ matrix[2]
    if (thirds <= 0).any():
        says = "the points do not follow one another the same way round in both"
        return Refusal("pairs-crossed", says, f"look at each again, two may be swapped: {names}")
    if sides == "same" and np.linalg.det(matrix) < 0:
        says = "one picture would show the wall from behind, as in a mirror"
        return Refusal("pairs-mirrored", says, f"look whether left and right are swapped: {names}")
    return None


def _amplified(matrix: Array, source: Array) -> float:
    """Return how far a slip of 1 (standard deviation, either way) in each target moves the map in the sources' box."""
    (west, low), (east, high) = source.min(axis=0), source.max(axis=0)
    corners = np.array([[x, y] for x in (west, east) for y in (low, high)])
    corners = corners[np.column_stack([corners, np.ones(4)]) @ matrix[2] > 0]
    if not len(corners):
        return np.inf
    moved = slope_in_entries(matrix, corners) @ entries_from_targets(matrix, source)
    variance = (moved**2).sum(axis=1)
    return float(np.sqrt((variance[0::2] + variance[1::2]).max()))


def _disagreement(pairs: tuple[PointPair, ...], off: Array, within: float) -> Refusal:
    """Return the refusal of pairs that are so far *off* the map of them all."""
    worst = sorted(zip(off, (pair.name for pair in pairs), strict=True), reverse=True)[:3]
    says = "no plane fits the points to within {:.0f} pixels; furthest off: {}".format(
        within, ", ".join(f"{name} by {distance:.0f}" for distance, name in worst)
    )
    if len(pairs) < TELLING:
        return Refusal("pairs-disagree", says, "look at each again; a sixth pair would show which one is off")
    return Refusal("pairs-disagree", says, "look at each again: all must lie on one flat wall")

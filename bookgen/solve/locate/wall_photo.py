"""A photo tied to a wall's inches in; where a marked point is, where the camera stood, what depth shifts, out.

What is assumed, and nothing else: the lens bends no line; pixels are square; the picture was not cropped, so that its
middle is the point the lens looks at. The last is needed for the camera only, not for what is measured on the wall.
Source of the camera from a plane: Z. Zhang, A flexible new technique for camera calibration (2000), section 2.3, from
memory.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import product

import numpy as np
from numpy.typing import NDArray

from bookgen.model.evidence import (
    Camera,
    Dot,
    Fit,
    FocalKnown,
    Homography,
    KnownPoint,
    PointPair,
    Refusal,
    Shift,
    Sighting,
)
from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.solve.locate.homography import (
    entries_from_targets,
    fit_homography,
    matrix_of,
    slope_in_entries,
    slope_in_place,
)

Array = NDArray[np.float64]
CameraPair = tuple[Camera, Camera]  # of the framed picture, of the finished one

# Focal lengths of phones, as shares of the picture's longer side: 13, 26 and 80 mm on a frame 36 mm wide; from memory.
WIDEST, USUAL, LONGEST = 0.36, 0.72, 2.2
SURE = 2.0  # standard deviations: about 19 times in 20
TOLD_OFF = 0.05  # a camera tells its lens in whole millimetres, and zooms by cutting; our choice
SETTLED = 0.2  # of the focal length: a standard deviation up to this counts as worked out
ROUNDS = 4  # of moving points to where the camera sees them; each shrinks what is left about fiftyfold
ACROSS = 12  # steps each way in which a part of a picture is looked over


@dataclass(frozen=True, slots=True)
class Slips:
    """How exactly points are known, as standard deviations: clicks in pixels, taped wall positions in inches."""

    click: float = 2.0
    tape: float = 0.125


def tie(
    points: Sequence[KnownPoint], size: tuple[int, int], within: float, slips: Slips, focal: float | None = None
) -> Fit | Refusal:
    """Return the map from a wall's inches to the pixels of a picture of *size* that shows *points*.

    *within*: how far, in pixels, a point may be off and still count. Points off the plane are moved, along the line of
    sight, to where the camera sees them on it; as the camera comes from the map, this is done a few times over.
    """
    pairs = tuple(PointPair(point.name, point.place, point.pixel) for point in points)
    fit = fit_homography(pairs, within, sides="either")
    if not any(point.off for point in points):
        return fit
    for _ in range(ROUNDS):
        if isinstance(fit, Refusal):
            return fit
        camera = cameras(fit, size, slips, focal)[0]
        seen = (_moved(point.place, seen_off(camera, point.place, -point.off)) for point in points)
        pairs = tuple(PointPair(point.name, place, point.pixel) for point, place in zip(points, seen, strict=True))
        fit = fit_homography(pairs, within, sides="either")
    return fit


def measure(fit: Fit, name: str, mark: Dot, slips: Slips, off_plane: float = 0.0) -> Sighting | Refusal:
    """Return where on the wall the pixel *mark* is; *fit* maps the wall's inches to pixels.

    The bounds carry the slip of the mark's own click and of every known point's click and tape; where the residuals are
    larger than the clicks explain, they count instead. *off_plane*: inches by which the true place may be further
    off because the thing stands in front of or behind the plane (see `seen_off`); it is added to both bounds.
    """
    place = fit.homography.inverse().at(mark)
    if place is None:
        says = f"{name} is no point of the wall: it lies past the line where the wall meets the horizon"
        return Refusal("point-beyond", says, "mark it again, on the wall itself")
    matrix = matrix_of(fit.homography)
    source = np.array([pair.source for pair in fit.pairs])
    to_inches = np.linalg.inv(slope_in_place(matrix, place))
    moved = slope_in_entries(matrix, np.array([place])) @ entries_from_targets(matrix, source)
    spread = np.eye(2) * slips.click**2 + moved @ _target_spread(fit, matrix, slips) @ moved.T
    along, up = SURE * np.sqrt(np.diag(to_inches @ spread @ to_inches.T)) + abs(off_plane)
    return Sighting(name, _length(place[0]), _length(place[1]), _length(along), _length(up))


def cameras(fit: Fit, size: tuple[int, int], slips: Slips, focal: float | None = None) -> tuple[Camera, ...]:
    """Return where the picture of *size* pixels can have been taken from: the likeliest first, then the extremes.

    *fit* maps the wall's inches to pixels. The focal length is worked out from how the wall's squares are seen. Where
    they say too little, as when the camera looked straight at the wall, it is *focal*, in pixels of this picture, where
    its file tells that, and any phone's lens where not. A picture cut smaller tells its lens wrong, so the wall
    goes before the file.
    """
    lenses = _lenses([_lens_seen(fit, size, slips)])
    if focal is not None and lenses[0][1] == "assumed":
        shares = (1.0, 1 - TOLD_OFF, 1 + TOLD_OFF)
        return tuple(_camera(fit.homography, size, focal * share, "given") for share in shares)
    return tuple(_camera(fit.homography, size, share * max(size), known) for share, known in lenses)


def cameras_of_one_lens(
    framed: tuple[Fit, tuple[int, int]], finished: tuple[Fit, tuple[int, int]], slips: Slips
) -> tuple[CameraPair, ...]:
    """Return where two pictures can have been taken from by the same phone and lens: the likeliest pair first.

    Each picture comes as its map from the wall's inches, and its size. What both tell of the lens counts together.
    """
    both = (framed, finished)
    lenses = _lenses([_lens_seen(fit, size, slips) for fit, size in both])
    seen = [[_camera(fit.homography, size, share * max(size), known) for fit, size in both] for share, known in lenses]
    return tuple((first, second) for first, second in seen)


def seen_off(camera: Camera, place: Dot, depth: float) -> Dot:
    """Return how far, along and up, something *depth* inches behind *place* seems moved on the plane.

    A negative depth is in front of the plane. By similar triangles: the line from the camera to the thing cuts the
    plane nearer to the camera's own foot on it.
    """
    share = depth / (camera.off + depth)
    return (camera.along - place[0]) * share, (camera.up - place[1]) * share


def largest_inches(seen: Sequence[Camera], places: Sequence[Dot], depth: float) -> Shift:
    """Return how far, in inches, something *depth* behind any of *places* seems moved at most, from any camera."""
    shifts = [(float(np.hypot(*seen_off(camera, place, depth))), place) for camera in seen for place in places]
    return Shift(*max(shifts))


def overlay(framed: Fit, finished: Fit) -> Homography:
    """Return the map from the framed picture to the finished one, each of them tied to the same wall."""
    return finished.homography.after(framed.homography.inverse())


def largest_overlay_shift(
    finished: Homography, seen: Sequence[CameraPair], part: tuple[Dot, Dot], depth: float
) -> Shift | None:
    """Return how far, in pixels of the finished picture, something *depth* behind the plane is off in the overlay.

    *finished* maps the wall's inches to that picture; *seen* are the cameras, framed and finished, that the two may
    have been taken with. The overlay shows the thing where the framed picture's camera saw it on the plane; looking
    through the board, the finished picture's camera would see it elsewhere. *part* is the box of the finished picture
    that is looked over, two corners; None where none of it lies on the wall.
    """
    back = finished.inverse()
    worst: Shift | None = None
    for dot in _grid(part):
        place = back.at(dot)
        if place is None:
            continue
        for pair in seen:
            shown, true = (finished.at(_moved(place, seen_off(camera, place, depth))) for camera in pair)
            if shown is None or true is None:
                continue
            amount = float(np.hypot(shown[0] - true[0], shown[1] - true[1]))
            if worst is None or amount > worst.amount:
                worst = Shift(amount, dot)
    return worst


def _moved(place: Dot, by: Dot) -> Dot:
    return place[0] + by[0], place[1] + by[1]


def _grid(part: tuple[Dot, Dot]) -> Iterator[Dot]:
    (left, top), (right, bottom) = part
    for across, down in product(range(ACROSS + 1), repeat=2):
        yield left + (right - left) * across / ACROSS, top + (bottom - top) * down / ACROSS


def _target_spread(fit: Fit, matrix: Array, slips: Slips) -> Array:
    """Return the 2n x 2n covariance of the known points' pixels: clicks, and tape turned into pixels."""
    count = len(fit.pairs)
    spread = np.eye(2 * count) * slips.click**2
    for index, pair in enumerate(fit.pairs):
        slope = slope_in_place(matrix, pair.source)
        here = slice(2 * index, 2 * index + 2)
        spread[here, here] += slips.tape**2 * slope @ slope.T
    free = 2 * count - 8
    if not free:
        return spread
    told = float(np.trace(spread)) / (2 * count)
    seen = fit.rms**2 * count / free
    return spread * max(1.0, seen / told)


def _lenses(seen: Sequence[tuple[float, float]]) -> tuple[tuple[float, FocalKnown], ...]:
    """Return the focal lengths that pictures of one lens can have, the likeliest first, then the extremes.

    All are shares of the pictures' longer side. *seen*: what each picture tells, and the standard deviation of that.
    """
    weights = np.array([1 / max(spread, 1e-9) ** 2 for _, spread in seen])
    found, spread = 0.0, np.inf
    if weights.any():
        found = float(weights @ np.array([share for share, _ in seen]) / weights.sum())
        spread = float(weights.sum() ** -0.5)
    if spread > SETTLED * found or not WIDEST <= found <= LONGEST:
        return tuple((share, "assumed") for share in (USUAL, WIDEST, LONGEST))
    extremes = max(found - SURE * spread, WIDEST), min(found + SURE * spread, LONGEST)
    return tuple((share, "worked out") for share in (found, *extremes))


def _lens_seen(fit: Fit, size: tuple[int, int], slips: Slips) -> tuple[float, float]:
    """Return the focal length that the map tells, in longer sides, and its standard deviation; infinite for none."""
    matrix = matrix_of(fit.homography)
    found = _focal(matrix, size)
    slopes = np.zeros(9)
    for entry in range(9):
        step = 1e-6 * max(abs(matrix.flat[entry]), 1e-9)
        nudged = matrix.copy()
        nudged.flat[entry] += step
        other = _focal(nudged, size)
        if found is None or other is None:
            return 0.0, np.inf
        slopes[entry] = (other - found) / step
    moved = slopes @ entries_from_targets(matrix, np.array([pair.source for pair in fit.pairs]))
    return found or 0.0, float(np.sqrt(moved @ _target_spread(fit, matrix, slips) @ moved))


def _focal(matrix: Array, size: tuple[int, int]) -> float | None:
    """Return the focal length, in longer sides, that makes the wall's two directions square and equally long."""
    longer = max(size)
    centred = np.array([[1, 0, -size[0] / 2], [0, 1, -size[1] / 2], [0, 0, longer]]) @ matrix
    one, other = centred[:, 0], centred[:, 1]
    size_of = float(np.linalg.norm(one[:2]) * np.linalg.norm(other[:2]))
    if not size_of:
        return None
    flat = np.array([one[:2] @ other[:2], (one[:2] @ one[:2] - other[:2] @ other[:2]) / 2]) / size_of
    deep = np.array([one[2] * other[2], (one[2] ** 2 - other[2] ** 2) / 2]) / size_of
    # flat + focal² deep = 0, twice; the better answer is the one for which both were told most by
    square = -(flat @ deep) / (deep @ deep) if deep @ deep else -1.0
    return float(np.sqrt(square)) if square > 0 else None


def _camera(wall: Homography, size: tuple[int, int], focal: float, known: FocalKnown) -> Camera:
    lens = np.array([[focal, 0, size[0] / 2], [0, focal, size[1] / 2], [0, 0, 1]])
    one, other, shift = (np.linalg.inv(lens) @ matrix_of(wall)).T
    scale = float(np.sqrt(np.linalg.norm(one) * np.linalg.norm(other)))
    # the nearest two directions that are square to one another and of length 1
    left, _, right = np.linalg.svd(np.column_stack([one, other]) / scale, full_matrices=False)
    along, up = (left @ right).T
    shift = shift / scale
    off = abs(float(np.cross(along, up) @ shift))
    return Camera(-float(along @ shift), -float(up @ shift), off, focal, known)


def _length(inches: float) -> Length:
    return Length(Fraction(float(inches)))

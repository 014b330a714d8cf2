"""Outlines in a view plane in; the same outlines clipped to a window, what nearer ones leave of them, out; exact.

Coordinates are u (to the right) and v (up), in inches, as Fractions.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, pi, sin
from typing import NamedTuple

from bookgen.model.exact import Fraction
from bookgen.model.geometry import Circle, Corner, Outline, Polygon

SIDES = 48  # corners of the polygon that stands for a circle which a window cuts
FINE = 1 << 16  # those corners are kept to this part of an inch


class Rect(NamedTuple):
    """An upright rectangle; a tuple, since thousands are made and compared for a sheet."""

    left: Fraction
    bottom: Fraction
    right: Fraction
    top: Fraction

    def meets(self, other: Rect) -> bool:
        """Tell whether the insides meet."""
        return (
            self.left < other.right and other.left < self.right and self.bottom < other.top and other.bottom < self.top
        )

    def holds(self, other: Rect) -> bool:
        """Tell whether *other* lies inside or on the edge."""
        return (
            self.left <= other.left
            and self.bottom <= other.bottom
            and other.right <= self.right
            and other.top <= self.top
        )

    def joined(self, other: Rect) -> Rect:
        """Return the smallest rectangle round both."""
        return Rect(
            min(self.left, other.left),
            min(self.bottom, other.bottom),
            max(self.right, other.right),
            max(self.top, other.top),
        )

    def common(self, other: Rect) -> Rect:
        """Return what both share, of two that meet."""
        return Rect(
            max(self.left, other.left),
            max(self.bottom, other.bottom),
            min(self.right, other.right),
            min(self.top, other.top),
        )

    def area(self) -> Fraction:
        """Return square inches."""
        return (self.right - self.left) * (self.top - self.bottom)

    def corners(self) -> tuple[Corner, ...]:
        """Return the four corners in order, from the low left one."""
        return (
            (self.left, self.bottom),
            (self.right, self.bottom),
            (self.right, self.top),
            (self.left, self.top),
        )


def rect_round(outline: Outline) -> Rect:
    """Return the rectangle round an outline."""
    (u1, v1), (u2, v2) = outline.bounds()
    return Rect(u1, v1, u2, v2)


def round_all(outlines: Iterable[Outline]) -> Rect | None:
    """Return the rectangle round several outlines; None for none."""
    whole: Rect | None = None
    for outline in outlines:
        one = rect_round(outline)
        whole = one if whole is None else whole.joined(one)
    return whole


def is_upright(outline: Outline) -> bool:
    """Tell whether an outline is an upright rectangle."""
    if not isinstance(outline, Polygon):
        return False
    return outline.is_rectangle() or outline.area() == rect_round(outline).area()


def flipped(outline: Outline) -> Outline:
    """Return the mirror image, left for right."""
    if isinstance(outline, Circle):
        return Circle((-outline.centre[0], outline.centre[1]), outline.radius, outline.wall)
    return Polygon(tuple((-u, v) for u, v in outline.corners))


def clip(outline: Outline, window: Rect) -> Outline | None:
    """Return the part of an outline inside *window*; None where nothing is; a cut circle becomes a polygon."""
    around = rect_round(outline)
    if window.holds(around):
        return outline
    if not window.meets(around):
        return None
    if isinstance(outline, Polygon) and outline.is_rectangle():
        return Polygon(around.common(window).corners())
    corners = list(outline.corners if isinstance(outline, Polygon) else _ring(outline))
    for index, limit, sign in ((0, window.left, 1), (0, window.right, -1), (1, window.bottom, 1), (1, window.top, -1)):
        corners = _clipped(corners, index, limit, sign)
    polygon = Polygon(_without_doubles(corners))
    return polygon if len(polygon.corners) > 2 and polygon.area() else None


def uncovered(rect: Rect, covers: Iterable[Rect]) -> tuple[Rect, ...]:
    """Return the rectangles that are left of *rect* where *covers* lie over it, largest first."""
    left = [rect]
    low_u, low_v, high_u, high_v = rect
    for cover in covers:
        u1, v1, u2, v2 = cover  # as `meets` asks, without the time that a call takes: most covers lie elsewhere
        if u1 < high_u and low_u < u2 and v1 < high_v and low_v < v2:
            left = [piece for one in left for piece in _minus(one, cover)]
            if not left:
                break
    return tuple(sorted(left, key=lambda one: (-one.area(), one))) if len(left) > 1 else tuple(left)


def _minus(rect: Rect, cover: Rect) -> list[Rect]:
    if not cover.meets(rect):
        return [rect]
    found = []
    if cover.left > rect.left:
        found.append(Rect(rect.left, rect.bottom, cover.left, rect.top))
    if cover.right < rect.right:
        found.append(Rect(cover.right, rect.bottom, rect.right, rect.top))
    left, right = max(rect.left, cover.left), min(rect.right, cover.right)
    if cover.bottom > rect.bottom:
        found.append(Rect(left, rect.bottom, right, cover.bottom))
    if cover.top < rect.top:
        found.append(Rect(left, cover.top, right, rect.top))
    return found


def _ring(circle: Circle) -> tuple[Corner, ...]:
    radius = float(circle.radius)
    steps = [2 * pi * step / SIDES for step in range(SIDES)]
    return tuple(
        (
            circle.centre[0] + Fraction(round(radius * cos(angle) * FINE), FINE),
            circle.centre[1] + Fraction(round(radius * sin(angle) * FINE), FINE),
        )
        for angle in steps
    )


def _clipped(corners: list[Corner], index: int, limit: Fraction, sign: int) -> list[Corner]:
    """Return the corners on the kept side of one edge of the window (Sutherland and Hodgman, 1974)."""
    kept: list[Corner] = []
    for here, there in zip(corners, corners[1:] + corners[:1], strict=True):
        inside, then_inside = sign * (here[index] - limit) >= 0, sign * (there[index] - limit) >= 0
        if inside:
            kept.append(here)
        if inside != then_inside:
            share = (limit - here[index]) / (there[index] - here[index])
            kept.append((here[0] + share * (there[0] - here[0]), here[1] + share * (there[1] - here[1])))
    return kept


def _without_doubles(corners: list[Corner]) -> tuple[Corner, ...]:
    return tuple(here for here, before in zip(corners, corners[-1:] + corners[:-1], strict=True) if here != before)

from __future__ import annotations

from fractions import Fraction
from math import sqrt

from hypothesis import given, settings
from hypothesis import strategies as st

from bookgen.model.geometry import AXES, Box, Point, Rod
from bookgen.model.meeting import nearest_squared

numbers = st.integers(-40, 40).map(lambda n: Fraction(n, 2))
points = st.builds(Point, numbers, numbers, numbers)


@given(points, points, points, points)
@settings(max_examples=100)
def test_the_nearest_of_many_points_is_never_nearer(start: Point, end: Point, one: Point, other: Point) -> None:
    """Walking the axis in a thousand steps finds no point nearer to the box, and one that is about as near."""
    if start == end:
        return
    box = Box(
        Point(*(min(one.on(axis), other.on(axis)) for axis in AXES)),
        Point(*(max(one.on(axis), other.on(axis)) for axis in AXES)),
    )

    found = sqrt(nearest_squared(Rod(start, end, Fraction(1)), box))

    walked = min(_distance(start, end, box, step / 1000) for step in range(1001))
    length = sqrt(sum(float(end.on(axis) - start.on(axis)) ** 2 for axis in AXES))
    assert found <= walked + 1e-9
    assert walked <= found + length / 1000


def _distance(start: Point, end: Point, box: Box, share: float) -> float:
    total = 0.0
    for axis in AXES:
        here = float(start.on(axis)) + share * float(end.on(axis) - start.on(axis))
        total += max(float(box.low.on(axis)) - here, here - float(box.high.on(axis)), 0.0) ** 2
    return sqrt(total)


def test_a_sloped_pipe_beside_a_rail_does_not_meet_it() -> None:
    """The axis passes 2.05 in from the rail's edge: a pipe of 1-3/4 in radius is clear, one of 2-1/8 in is not."""
    rod = Rod(
        Point(Fraction(40), Fraction(7), Fraction(82)),
        Point(Fraction(192), Fraction(7), Fraction(85)),
        Fraction("1.75"),
    )
    low, high = (
        Point(Fraction(0), Fraction("4.1"), Fraction(77)),
        Point(Fraction(200), Fraction("5.6"), Fraction("80.5")),
    )

    square = nearest_squared(rod, Box(low, high))

    assert square == Fraction("1.4") ** 2 + Fraction("1.5") ** 2

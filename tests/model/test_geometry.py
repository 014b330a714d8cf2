"""Solids: areas, cuts, distances and clashes, checked against shapely's floating-point geometry and by hand."""

from __future__ import annotations

from fractions import Fraction
from math import sqrt

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import geometry as planar

from bookgen.model.geometry import (
    ACROSS,
    AXES,
    Axis,
    Box,
    Circle,
    Point,
    Polygon,
    Prism,
    Rod,
    box,
    distance_squared,
    root_above,
)
from bookgen.model.meeting import meet

F = Fraction
STEPS = st.integers(-400, 400).map(lambda quarters: Fraction(quarters, 4))
CORNERS = st.tuples(STEPS, STEPS)
LENGTHS = st.integers(1, 400).map(lambda quarters: Fraction(quarters, 4))
AXIS: st.SearchStrategy[Axis] = st.sampled_from(AXES)


def shape(polygon: Polygon) -> planar.Polygon:
    """Return shapely's polygon of the same corners."""
    return planar.Polygon([(float(u), float(v)) for u, v in polygon.corners])


def hull(corners: list[tuple[Fraction, Fraction]]) -> Polygon:
    """Return the convex outline of some points, with their exact coordinates."""
    round_them = planar.MultiPoint([(float(u), float(v)) for u, v in corners]).convex_hull
    assume(isinstance(round_them, planar.Polygon))
    assert isinstance(round_them, planar.Polygon)
    exact = {(float(u), float(v)): (u, v) for u, v in corners}
    return Polygon(tuple(exact[corner] for corner in list(round_them.exterior.coords)[:-1]))


def star(corners: list[tuple[Fraction, Fraction]]) -> Polygon:
    """Return a simple outline that need not be convex: the points in the order that shapely finds valid."""
    polygon = Polygon(tuple(corners))
    assume(shape(polygon).is_valid and shape(polygon).area > 0)
    return polygon


CONVEX = st.lists(CORNERS, min_size=3, max_size=7, unique=True).map(hull)
SIMPLE = st.lists(CORNERS, min_size=3, max_size=6, unique=True).map(star)


@st.composite
def boxes(draw: st.DrawFn) -> Prism:
    """Draw a box pushed along any axis."""
    spans = [(low, low + draw(LENGTHS)) for low in (draw(STEPS), draw(STEPS), draw(STEPS))]
    return box(spans[0], spans[1], spans[2], draw(AXIS))


def point(*values: int | str) -> Point:
    """Return a point of whole or written fractions."""
    return Point(*(Fraction(value) for value in values))


@given(SIMPLE)
def test_areas_and_bounds_agree_with_shapely(polygon: Polygon) -> None:
    """The shoelace area and the box round a simple outline are what shapely finds."""
    low, high = polygon.bounds()

    assert float(polygon.area()) == pytest.approx(shape(polygon).area, rel=1e-9)
    assert (*map(float, low), *map(float, high)) == shape(polygon).bounds


@given(SIMPLE, CORNERS)
def test_distances_agree_with_shapely(polygon: Polygon, corner: tuple[Fraction, Fraction]) -> None:
    """The distance from a point to an outline is what shapely finds, nothing inside it."""
    found = shape(polygon).distance(planar.Point(float(corner[0]), float(corner[1])))

    assert sqrt(distance_squared(polygon, corner)) == pytest.approx(found, abs=1e-7)


@given(SIMPLE, AXIS, LENGTHS, st.sampled_from([0, 1]), STEPS)
def test_cuts_agree_with_shapely(polygon: Polygon, axis: Axis, length: Fraction, index: int, at: Fraction) -> None:
    """A cut across the profile gives rectangles as long as the prism and as wide as shapely's chords together."""
    prism = Prism(polygon, axis, F(0), length)
    cuts = prism.cut(ACROSS[axis][index], at)
    ends = [(float(at), -1e3), (float(at), 1e3)] if index == 0 else [(-1e3, float(at)), (1e3, float(at))]
    assume(at not in {corner[index] for corner in polygon.corners})

    chord = planar.LineString(ends).intersection(shape(polygon)).length

    assert all(isinstance(cut, Polygon) for cut in cuts)
    area = sum((cut.area() for cut in cuts if isinstance(cut, Polygon)), F(0))
    assert float(area / length) == pytest.approx(chord, abs=1e-6)


@given(CONVEX, CONVEX, AXIS)
def test_clashes_of_prisms_agree_with_shapely(first: Polygon, second: Polygon, axis: Axis) -> None:
    """Two prisms along the same axis meet where their convex profiles share area; touching is not meeting."""
    shared = shape(first).intersection(shape(second)).area

    assume(shared == 0 or shared > 1e-9)
    assert meet(Prism(first, axis, F(0), F(2)), Prism(second, axis, F(1), F(3))) == (shared > 0)
    assert not meet(Prism(first, axis, F(0), F(1)), Prism(second, axis, F(1), F(2)))


@given(boxes(), boxes())
def test_boxes_meet_exactly_where_they_overlap(first: Prism, second: Prism) -> None:
    """For boxes the answer does not hang on the axes they are pushed along."""
    one, other = first.bounds(), second.bounds()
    shared = all(one.low.on(a) < other.high.on(a) and other.low.on(a) < one.high.on(a) for a in AXES)

    assert meet(first, second) == meet(second, first) == shared == one.overlaps(other)


@given(boxes(), AXIS, STEPS, CORNERS, LENGTHS)
def test_straight_pipes_meet_boxes_as_circles_meet_rectangles(
    solid: Prism, axis: Axis, start: Fraction, centre: tuple[Fraction, Fraction], radius: Fraction
) -> None:
    """A rod along an axis meets a box where its circle comes nearer than its radius, by shapely, and both overlap."""
    values = {axis: start, ACROSS[axis][0]: centre[0], ACROSS[axis][1]: centre[1]}
    low = Point(values["x"], values["y"], values["z"])
    values[axis] += 20
    rod = Rod(low, Point(values["x"], values["y"], values["z"]), radius)
    bounds = solid.bounds()
    (u1, v1), (u2, v2) = bounds.low.across(axis), bounds.high.across(axis)
    away = planar.box(float(u1), float(v1), float(u2), float(v2)).distance(planar.Point(*map(float, centre)))
    assume(abs(away - float(radius)) > 1e-9)

    along = bounds.low.on(axis) < start + 20 and start < bounds.high.on(axis)

    assert meet(rod, solid) == meet(solid, rod) == (along and away < radius)


def test_touching_along_a_slope_is_not_meeting() -> None:
    """The two halves of a square parted by its diagonal touch; moved into each other by 1/16 in they meet."""
    lower = Prism(Polygon(((F(0), F(0)), (F(8), F(0)), (F(8), F(8)))), "y", F(0), F(1))
    upper = ((F(0), F(0)), (F(8), F(8)), (F(0), F(8)))

    assert not meet(lower, Prism(Polygon(upper), "y", F(0), F(1)))
    assert meet(lower, Prism(Polygon(tuple((u + F(1, 16), v) for u, v in upper)), "y", F(0), F(1)))


def test_a_pipe_passes_a_corner_that_its_box_does_not() -> None:
    """A corner at 9/5, 9/5 lies 2.55 from the axis: a pipe of radius 2 passes it, one of 2.6 does not."""
    stud = box((F(0), F(50)), (F(9, 5), F(5)), (F(9, 5), F(5)), "z")

    assert not meet(Rod(point(10, 0, 0), point(20, 0, 0), F(2)), stud)
    assert meet(Rod(point(10, 0, 0), point(20, 0, 0), F("2.6")), stud)


def test_a_sloped_pipe_never_clashes_less_than_it_should() -> None:
    """A drain that falls a quarter inch per foot clears a joist 1 in above its crown, and hits one in its way."""
    drain = Rod(point(0, 0, 80), point(192, 0, 84), F(7, 4))
    above = box((F(180), F(184)), (F(-10), F(10)), (F("86.9"), F(96)), "y")
    across = box((F(90), F(94)), (F(-10), F(10)), (F(82), F(96)), "y")

    assert not meet(drain, above)
    assert meet(drain, across)


def test_a_box_has_the_volume_of_its_sides() -> None:
    """A stud 1-1/2 x 3-1/2 x 92-5/8 in, standing: volume, bounds, length along its grain."""
    stud = box((F(0), F(3, 2)), (F("0.6"), F("4.1")), (F(3, 2), F("94.125")), "z")

    assert stud.volume() == F(3, 2) * F(7, 2) * F("92.625")
    assert stud.length() == F("92.625")
    assert stud.bounds() == Box(point(0, "0.6", "1.5"), point("1.5", "4.1", "94.125"))
    assert [stud.bounds().size(axis) for axis in AXES] == [F(3, 2), F(7, 2), F("92.625")]


@given(boxes(), AXIS)
def test_a_box_cut_or_seen_along_any_axis_is_a_rectangle_of_its_sides(solid: Prism, axis: Axis) -> None:
    """Volume = area of the cut times the length across it, whichever way the box is pushed."""
    bounds = solid.bounds()
    (cut,) = solid.cut(axis, (bounds.low.on(axis) + bounds.high.on(axis)) / 2)
    seen = solid.seen(axis)

    assert isinstance(cut, Polygon)
    assert isinstance(seen, Polygon)
    assert cut.area() * bounds.size(axis) == seen.area() * bounds.size(axis) == solid.volume()
    assert cut.bounds() == seen.bounds() == (bounds.low.across(axis), bounds.high.across(axis))
    assert solid.cut(axis, bounds.high.on(axis)) == solid.cut(axis, bounds.low.on(axis) - 1) == ()


def test_a_sloped_plate_is_cut_where_it_slopes() -> None:
    """A plate that rises 10 in over 20 is 5 in up at its middle, and its cut is as thick as it is plumb."""
    plate = Prism(Polygon(((F(0), F(0)), (F(20), F(10)), (F(20), F(12)), (F(0), F(2)))), "y", F(4), F(8))

    (cut,) = plate.cut("x", F(10))

    assert isinstance(cut, Polygon)
    assert cut.bounds() == ((F(4), F(5)), (F(8), F(7)))
    assert plate.volume() == 40 * 4


def test_a_hollow_outline_is_cut_in_two() -> None:
    """A channel cut across its legs gives both of them."""
    channel = ((0, 0), (6, 0), (6, 5), (5, 5), (5, 1), (1, 1), (1, 5), (0, 5))
    prism = Prism(Polygon(tuple((F(u), F(v)) for u, v in channel)), "z", F(0), F(10))

    cuts = prism.cut("y", F(3))

    assert [cut.bounds() for cut in cuts] == [((F(0), F(0)), (F(1), F(10))), ((F(5), F(0)), (F(6), F(10)))]


def test_a_straight_pipe_is_a_circle_end_on_and_a_strip_from_the_side() -> None:
    """A 3 in PVC pipe is 3-1/2 in outside (ASTM D1785, from memory): cuts, views and bounds."""
    pipe = Rod(point(40, 7, 82), point(204, 7, 82), F(7, 4), F("0.216"))

    assert pipe.cut("x", F(100)) == (Circle((F(7), F(82)), F(7, 4), F("0.216")),)
    assert pipe.cut("x", F(204)) == pipe.cut("x", F(39)) == pipe.cut("y", F(10)) == ()
    assert pipe.seen("x") == Circle((F(7), F(82)), F(7, 4), F("0.216"))
    side = pipe.seen("y")
    assert isinstance(side, Polygon)
    assert side.bounds() == ((F(40), F("80.25")), (F(204), F("83.75")))
    assert pipe.bounds() == Box(point(40, "5.25", "80.25"), point(204, "8.75", "83.75"))
    assert Circle((F(7), F(82)), F(7, 4)).bounds() == ((F("5.25"), F("80.25")), (F("8.75"), F("83.75")))


def test_a_pipe_lying_in_the_cut_gives_a_strip() -> None:
    """Cut 1 in off its axis, a pipe of radius 5/4 shows twice 3/4: the 3-4-5 triangle in quarters."""
    pipe = Rod(point(0, 10, 0), point(10, 10, 0), F(5, 4))

    (cut,) = pipe.cut("y", F(11))

    assert isinstance(cut, Polygon)
    assert cut.area() == 10 * F(3, 2)
    assert pipe.cut("y", F("11.25")) == ()


def test_a_slope_keeps_the_exact_square_of_its_length() -> None:
    """20 along and 15 up are 25 along the slope; a quarter inch per foot over 152 in keeps its square."""
    assert Rod(point(0, 0, 0), point(20, 0, 15), F(1)).length_squared() == 625
    drop = F(152, 48)
    assert Rod(point(40, 7, 82), Point(F(192), F(7), 82 + drop), F(1)).length_squared() == 152**2 + drop**2
    (cut,) = Rod(point(0, 0, 0), point(20, 0, 15), F(1)).cut("x", F(10))
    assert cut == Circle((F(0), F("7.5")), F(1))


@given(st.tuples(*[STEPS] * 6), LENGTHS)
def test_bounds_of_a_rod_are_never_too_small(values: tuple[Fraction, ...], radius: Fraction) -> None:
    """The box holds the end circles, whose spread along an axis is radius times the sine of the angle to it."""
    start, end = Point(*values[:3]), Point(*values[3:])
    assume(start != end)
    rod = Rod(start, end, radius)
    bounds, way = rod.bounds(), end.minus(start)

    for axis in AXES:
        sine = sqrt(max(0.0, 1 - float(way.on(axis) ** 2 / rod.length_squared())))
        low = min(start.on(axis), end.on(axis)) - float(radius) * sine
        assert float(bounds.low.on(axis)) <= low + 1e-7
        assert float(bounds.low.on(axis)) >= low - 1e-4


@given(st.fractions(min_value=0, max_value=10_000, max_denominator=500))
def test_roots_are_exact_or_rounded_outward(square: Fraction) -> None:
    """The root is never below the true one, exact for squares, and off by less than 2^-20 in."""
    root = root_above(square)

    assert root**2 >= square
    assert root == 0 or (root - Fraction(1, 1 << 20)) ** 2 < square or root < Fraction(1, 1 << 20)
    assert root_above(square**2) == square


def test_boxes_grow_and_join() -> None:
    """Growing adds on every side, joining takes the outermost; touching boxes do not overlap."""
    first = Box(point(0, 0, 0), point(1, 2, 3))
    second = Box(point(1, -1, 1), point(4, 1, 2))

    assert first.grown(F(1, 2)) == Box(point("-1/2", "-1/2", "-1/2"), point("3/2", "5/2", "7/2"))
    assert first.joined(second) == second.joined(first) == Box(point(0, -1, 0), point(4, 2, 3))
    assert not first.overlaps(second)
    assert first.grown(F(1, 16)).overlaps(second)

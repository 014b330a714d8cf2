"""Frames: a run's coordinates and the level's turn into each other exactly, for points and whole solids."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookgen.model.frame import LEVEL, Frame
from bookgen.model.geometry import AXES, Axis, Point, Polygon, Prism, Rod, Solid, box
from bookgen.model.meeting import meet

F = Fraction
NUMBERS = st.integers(-500 * 48, 500 * 48).map(lambda parts: Fraction(parts, 48))
LENGTHS = st.integers(1, 99 * 7).map(lambda parts: Fraction(parts, 7))
POINTS = st.builds(Point, NUMBERS, NUMBERS, NUMBERS)
FRAMES = st.builds(Frame, st.sampled_from(["x", "y"]), NUMBERS, st.sampled_from([1, -1]), st.just("run"))


@st.composite
def prisms(draw: st.DrawFn) -> Prism:
    """Draw a triangle pushed along any axis."""
    corners = tuple((draw(NUMBERS), draw(NUMBERS)) for _ in range(3))
    start = draw(NUMBERS)
    axis: Axis = draw(st.sampled_from(AXES))
    return Prism(Polygon(corners), axis, start, start + draw(LENGTHS))


RODS = st.builds(Rod, POINTS, POINTS, LENGTHS, st.just(F(1, 4)))
SOLIDS: st.SearchStrategy[Solid] = prisms() | RODS


@given(FRAMES, POINTS)
def test_points_come_back_exactly(frame: Frame, point: Point) -> None:
    """To the level and back, or the other way round, nothing is lost."""
    assert frame.from_level(frame.to_level(point)) == point
    assert frame.to_level(frame.from_level(point)) == point


@given(FRAMES, SOLIDS)
def test_solids_come_back_exactly(frame: Frame, solid: Solid) -> None:
    """A prism or rod comes back corner for corner."""
    assert frame.solid_from_level(frame.solid_to_level(solid)) == solid
    assert frame.solid_to_level(frame.solid_from_level(solid)) == solid


@given(FRAMES, prisms())
def test_moving_keeps_size_and_bounds(frame: Frame, prism: Prism) -> None:
    """Volume and length stay, and the moved solid fills the box of the moved corners."""
    moved = frame.solid_to_level(prism)
    assert isinstance(moved, Prism)
    bounds = prism.bounds()
    ends = [frame.to_level(bounds.low), frame.to_level(bounds.high)]

    assert (moved.volume(), moved.length()) == (prism.volume(), prism.length())
    for axis in AXES:
        assert moved.bounds().low.on(axis) == min(end.on(axis) for end in ends)
        assert moved.bounds().high.on(axis) == max(end.on(axis) for end in ends)


@given(FRAMES, RODS)
def test_moving_keeps_the_length_of_a_slope(frame: Frame, rod: Rod) -> None:
    """The exact square of a rod's length stays, and so do radius and wall."""
    moved = frame.solid_to_level(rod)

    assert isinstance(moved, Rod)
    assert (moved.length_squared(), moved.radius, moved.wall) == (rod.length_squared(), rod.radius, rod.wall)


@given(FRAMES, st.tuples(*[NUMBERS] * 6))
def test_clashes_do_not_hang_on_the_frame(frame: Frame, at: tuple[Fraction, ...]) -> None:
    """Two boxes meet in the run's frame exactly when they meet on the level."""
    first = box((at[0], at[0] + 100), (at[1], at[1] + 100), (at[2], at[2] + 100), "x")
    second = box((at[3], at[3] + 200), (at[4], at[4] + 200), (at[5], at[5] + 200), "z")

    assert meet(first, second) == meet(frame.solid_to_level(first), frame.solid_to_level(second))


@given(POINTS)
def test_the_level_is_its_own_frame(point: Point) -> None:
    """On the level's frame nothing moves."""
    assert LEVEL.to_level(point) == LEVEL.from_level(point) == point


@pytest.mark.parametrize(
    ("frame", "level"),
    [
        (Frame("x", F(288), -1, "north wall"), (F(40), F(281))),
        (Frame("x", F(0), 1, "south wall"), (F(40), F(7))),
        (Frame("y", F(432), -1, "east wall"), (F(425), F(40))),
        (Frame("y", F(0), 1, "west wall"), (F(7), F(40))),
    ],
)
def test_seven_off_a_wall_lies_seven_off_that_wall(frame: Frame, level: tuple[Fraction, Fraction]) -> None:
    """Station 40, 7 in off each wall of a level 432 x 288 in: stations are plan positions along the wall."""
    assert frame.to_level(Point(F(40), F(7), F(82))) == Point(*level, F(82))

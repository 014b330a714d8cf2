"""Levels and rooms that no house can have: a Problem at the field, never a clamp and never a traceback."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookgen.model.problem import Problem
from bookgen.solve.level import solve_level, solve_rooms
from tests.solve.house import FAMILY, LEVEL, ROOMS, codes, inches_between, level, project, text


def room_problems(outline: list[list[str]], **more: str) -> tuple[Problem, ...]:
    """Return the problems of a single room with that outline."""
    whole = project(rooms={"hall": {"name": "Hall", "use": "hall", "outline": outline} | more})
    return solve_rooms(whole, level(whole))[1]


def points(*corners: tuple[int, int]) -> list[list[str]]:
    """Return corners as a record writes them."""
    return [[f"{x} in", f"{y} in"] for x, y in corners]


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"joists": LEVEL["joists"] | {"first": "500 in"}}, "joist-off-level"),
        ({"joists": LEVEL["joists"] | {"first": "-8 in"}}, "joist-off-level"),
        ({"joists": LEVEL["joists"] | {"underside": "-3 in above slab"}}, "joists-below-floor"),
        ({"finishes": LEVEL["finishes"] | {"base": "475 in"}}, "base-too-high"),
    ],
)
def test_a_level_that_can_not_be_is_a_problem(changes: dict[str, Any], code: str) -> None:
    """A joist off the level used to be moved onto it without a word."""
    found, problems = solve_level(project(level=LEVEL | changes))

    assert found is None
    assert code in codes(problems)


@pytest.mark.parametrize(
    ("outline", "code"),
    [
        (points((10, 10), (90, 12), (90, 60), (10, 60)), "room-skew"),
        (points((10, 10), (10, 10), (90, 10), (90, 60), (10, 60)), "room-skew"),
        (points((10, 10), (90, 10), (10, 10), (90, 10)), "room-flat"),
        (points((10, 10), (90, 10), (90, 60), (30, 60), (30, 5), (10, 5)), "room-crossed"),
        (points((10, 10), (90, 10), (60, 10), (60, 60), (10, 60), (10, 30)), "room-crossed"),
        (points((10, 10), (900, 10), (900, 60), (10, 60)), "outside-the-level"),
    ],
)
def test_an_outline_that_is_none_is_a_problem(outline: list[list[str]], code: str) -> None:
    """Skew, crossed, flat or beyond the block: each is told apart, at the corner where it starts."""
    assert set(codes(room_problems(outline))) == {code}


def test_a_ceiling_under_the_floor_is_a_problem() -> None:
    """The finished floor is 0.3 in above the slab."""
    assert codes(room_problems(FAMILY, ceiling="0 in above slab")) == ["ceiling-below-floor"]


def test_walls_and_windows_lie_on_the_level() -> None:
    """The level is 432 by 288 in: a wall to 300 in north and a window under the slab are slips."""
    wall = {"stud": "2x4", "runs": "north", "thick": "204 in to 207.5 in", "along": "4 in to 300 in"}
    window = {"what": "Window", "wall": "west wall", "along": "232 in to 264 in", "sill": "-4 in above slab",
              "head": "80 in above slab"}  # fmt: skip

    _, problems = solve_level(project(partitions={"P1": wall}, windows={"one": window}))

    assert codes(problems) == ["outside-the-level", "window-below-slab"]
    assert [problem.field for problem in problems] == ["partitions > P1 > along", "windows > one > sill"]


@settings(max_examples=60)
@given(st.lists(st.tuples(inches_between(0, 432), inches_between(0, 288)), min_size=4, max_size=8))
def test_any_outline_is_solved_or_refused(corners: list[tuple[Any, Any]]) -> None:
    """Random corners make a room that is square all round, or a Problem of its outline, and never an error."""
    outline = [[text(x), text(y)] for x, y in corners]
    problems = room_problems(outline)
    if not problems:
        following = [*corners[1:], corners[0]]
        assert all((a[0] == b[0]) != (a[1] == b[1]) for a, b in zip(corners, following, strict=True))


def test_rooms_of_the_small_level_are_in_order() -> None:
    """The outlines that the other tests lean on have no problem."""
    whole = project(rooms=ROOMS)
    assert solve_rooms(whole, level(whole))[1] == ()

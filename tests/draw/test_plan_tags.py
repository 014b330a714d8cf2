"""Hang tags on the plan: those of one spot on one leader, none on another or on a wall, places found two at a time."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, product

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon, box

from bookgen.draw import plan
from bookgen.draw.plan_tags import APART, TOGETHER
from bookgen.draw.settling import CLASH, DEAR, Places, clashes, settled
from bookgen.model.geometry import Point
from bookgen.model.sketch import MILLIMETRES_PER_INCH, TAG_HIGH, TAG_LONG, Area, Dot, LineKind, Sketch, Stroke, TagMark
from bookgen.model.solved import AccessSpot, Solved
from tests.draw.drawn import drawn_by_key
from tests.draw.house import solved_house

NUMBERS = st.integers(0, 12)
BOXES = st.tuples(NUMBERS, NUMBERS, st.integers(1, 6), st.integers(1, 6)).map(
    lambda one: (one[0], one[1], one[0] + one[2], one[1] + one[3])
)
LINES = st.tuples(NUMBERS, NUMBERS, NUMBERS, NUMBERS).filter(lambda line: line[:2] != line[2:])
PLACES = st.lists(st.tuples(BOXES, LINES, st.integers(0, 40)), min_size=1, max_size=6).map(
    lambda rows: Places(*(np.array([row[part] for row in rows], dtype=float) for part in range(3)))
)


@given(PLACES, PLACES)
def test_places_clash_where_shapes_meet(some: Places, others: Places) -> None:
    """Two places clash where boxes share area, lines touch, or a line runs through a box: as shapely sees it."""
    found = clashes(some, others)
    for (row, mine), (column, its) in product(enumerate(some.boxes), enumerate(others.boxes)):
        (line, other), (area, second) = (
            (LineString([one[:2], one[2:]]) for one in (some.leaders[row], others.leaders[column])),
            (box(*one) for one in (mine, its)),
        )
        through = any(a.relate_pattern(b, "T********") for a, b in ((line, second), (other, area)))
        seen = area.relate_pattern(second, "T********") or line.intersects(other) or through
        assert found[row, column] == seen


@given(st.lists(PLACES, min_size=2, max_size=2))
def test_two_tags_find_the_cheapest_pair_of_places(places: list[Places]) -> None:
    """All pairs tried out: none is cheaper by more than what is not worth a move."""
    costs = places[0].cost[:, None] + places[1].cost + CLASH * clashes(*places)
    assert costs[settled(places)] <= costs.min() + 2 * DEAR


@given(st.lists(PLACES, min_size=1, max_size=5))
def test_tags_clash_only_where_no_single_move_would_help(places: list[Places]) -> None:
    """Each tag has the cheapest of its places beside where the others stand."""
    rows = settled(places)
    for number, one in enumerate(places):
        cost = one.cost.copy()
        for other, row in enumerate(rows):
            if other != number:
                cost += CLASH * clashes(one, places[other].at(np.array([row])))[:, 0]
        assert cost[rows[number]] == cost.min()


def bunched(*off: float) -> Sketch:
    """Return the plan of the small house with access points *off* the first one by so many inches to the east."""
    house = solved_house(tag=True)
    (file,), (obstacle,) = house.project.obstacles, house.obstacles
    (point,), (spot,) = file.record.access, obstacle.access
    names = [f"{4 + number:02}" for number in range(len(off))]
    record = file.record.model_copy(
        update={"access": [point, *(point.model_copy(update={"tag": name}) for name in names)]}
    )
    more = [
        AccessSpot(name, "drain", Point(spot.at.x + by, spot.at.y, spot.at.z), spot.above_floor)
        for name, by in zip(names, map(int, off), strict=True)
    ]
    project = replace(house.project, obstacles=(replace(file, record=record),))
    changed: Solved = replace(house, project=project, obstacles=(replace(obstacle, access=(spot, *more)),))
    return plan(changed)


def test_tags_of_one_spot_hang_on_one_leader() -> None:
    """Three access points in one spot: three tags in a column, lowest number on top, one dot, one leader to them."""
    sheet = bunched(0, 0)
    marks = [shape for shape in sheet.shapes if isinstance(shape, TagMark)]
    assert [mark.tag for mark in marks] == ["03", "04", "05"]
    assert len({mark.at[0] for mark in marks}) == 1
    step = (TAG_HIGH + APART) * float(sheet.scale) / MILLIMETRES_PER_INCH
    np.testing.assert_allclose(np.diff([mark.at[1] for mark in marks]), -step)
    (dot,) = (shape for shape in sheet.shapes if isinstance(shape, Dot))
    leaders = [shape for shape in sheet.shapes if isinstance(shape, Stroke) and shape.line is LineKind.LEADER]
    assert [leader.points[0] == dot.at for leader in leaders] == [True, False]  # the other one joins the tags


def test_tags_of_two_spots_hang_apart() -> None:
    """What lies further apart than a dot is wide has a leader of its own."""
    away = int(TOGETHER * float(solved_scale()) / MILLIMETRES_PER_INCH) + 1
    leaders = [one for one in bunched(away).shapes if isinstance(one, Stroke) and one.line is LineKind.LEADER]
    assert len({leader.points[0] for leader in leaders}) == 2


def solved_scale() -> float:
    """Return the scale of the small house's plan."""
    return float(plan(solved_house(tag=True)).scale)


def test_no_tag_of_the_sample_house_hides_a_wall_or_crosses_another() -> None:
    """On the crowded plan of the sample house there is a clear place for each of twenty tags."""
    sheet = drawn_by_key("sample")[""][0]
    per = float(sheet.scale) / MILLIMETRES_PER_INCH
    walls = [Polygon(one.corners) for one in sheet.shapes if isinstance(one, Area) and one.line is LineKind.WALL]
    tags = [_box(mark, per) for mark in sheet.shapes if isinstance(mark, TagMark)]
    assert len(tags) == 20
    assert walls
    assert not [1 for tag, wall in product(tags, walls) if tag.relate_pattern(wall, "T********")]
    leaders = [
        LineString(one.points) for one in sheet.shapes if isinstance(one, Stroke) and one.line is LineKind.LEADER
    ]
    assert not [1 for one, other in combinations(leaders, 2) if one.crosses(other)]


def _box(mark: TagMark, per: float) -> Polygon:
    """Return what a tag covers, *per* inches of the model to a millimetre."""
    (x, y), half = mark.at, TAG_HIGH / 2 * per
    left = x - TAG_LONG * per if mark.flipped else x
    return box(left, y - half, left + TAG_LONG * per, y + half)

"""What can be seen of solids: areas known by hand, and every face checked against rays cast another way."""

from __future__ import annotations

from fractions import Fraction
from math import sqrt

import pytest
from shapely import Point as Spot
from shapely import union_all

from bookgen.draw.bodies import Body, body_of, clipped, dot
from bookgen.draw.cutaway import FROM_ABOVE, FROM_BELOW, FROM_UNDER
from bookgen.draw.hidden_lines import Seen, View, seen, view_from
from bookgen.model.geometry import Box, Point, Prism, Rod, box
from tests.draw.house import SoffitSizes, soffit

FRONT = View((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0))  # looking north: east is right, up is up


def block(x: tuple[int, int], y: tuple[int, int], z: tuple[int, int]) -> Prism:
    """Return a box of whole inches."""
    spans = [(Fraction(low), Fraction(high)) for low, high in (x, y, z)]
    return box(spans[0], spans[1], spans[2], "x")


def area(one: Seen) -> float:
    """Return the square inches of a body that are seen."""
    return float(sum(face.area for face, _ in one.faces))


def test_the_nearer_box_takes_away_what_it_covers() -> None:
    """A 2 by 2 box before a 4 by 4 one, seen square on: 4 square inches of it, 16 - 4 = 12 of the other."""
    far, near = seen([body_of(block((0, 4), (4, 6), (0, 4))), body_of(block((1, 3), (0, 2), (1, 3)))], FRONT)
    assert area(near) == pytest.approx(4)
    assert area(far) == pytest.approx(12)


def test_a_box_behind_is_not_there() -> None:
    """A box wholly behind another leaves no face and no edge."""
    far, _ = seen([body_of(block((1, 3), (4, 6), (1, 3))), body_of(block((0, 4), (0, 2), (0, 4)))], FRONT)
    assert not far.faces
    assert not far.edges


def test_three_bars_that_each_lie_over_the_next() -> None:
    """Each of three bars lies over one and under another: no order of painting shows that, pairs do.

    Where they cross, seen from the south: the second is nearer than the first (y 1.0 to 2.6), the first than the third
    (1.4 to 2.1), the third than the second (1.25 to 2.0). So each is parted once, and its sides are seen in two pieces.
    """
    ends = [((0, 0, 2), (10, 4, 2)), ((8, 0, 0), (2, 4, 8)), ((2, 3, 0), (8, "-0.5", 8))]
    bars = [Rod(Point(*map(Fraction, a)), Point(*map(Fraction, b)), Fraction(1, 4)) for a, b in ends]
    bodies = [body_of(bar) for bar in bars]
    for one in seen(bodies, FRONT):
        assert len([face for face, end in one.faces if not end]) == 2
    assert_true(bodies, FRONT)


@pytest.mark.parametrize("order", [1, -1])
def test_pipes_that_nearly_touch(order: int) -> None:
    """Two sloped pipes of radius 1, askew, their middles 2.05 apart: only a plane along both keeps them apart.

    The southern one is whole, whichever is named first.
    """
    near = Rod(Point(*map(Fraction, (0, 0, 0))), Point(*map(Fraction, (10, 0, 10))), Fraction(1))
    far = Rod(Point(*map(Fraction, (10, "2.05", 0))), Point(*map(Fraction, (0, "2.05", 7))), Fraction(1))
    bodies = [body_of(rod) for rod in (near, far)][::order]
    found = seen(bodies, FRONT)[::order]
    assert len([face for face, end in found[0].faces if not end]) == 1
    assert len([face for face, end in found[1].faces if not end]) == 2
    assert_true(bodies, FRONT)


@pytest.mark.parametrize("toward", [FROM_ABOVE, FROM_BELOW, FROM_UNDER])
def test_no_stick_is_seen_through_board(toward: tuple[float, float, float]) -> None:
    """Every face drawn of a whole soffit is the first thing that a ray from the viewer meets there."""
    within = Box(Point(*map(Fraction, (80, 0, 60))), Point(*map(Fraction, (120, 40, 100))))
    solids = [clipped(part.solid, within) for part in soffit(SoffitSizes()).parts]
    bodies = [body_of(solid) for solid in solids if solid is not None]
    assert_true(bodies, view_from(toward))


def test_all_faces_together_fill_the_outline() -> None:
    """Nothing is lost: the faces seen of a soffit add up to the outline of the whole, and none overlaps another."""
    bodies = [body_of(part.solid) for part in soffit(SoffitSizes()).parts]
    view = view_from(FROM_BELOW)
    faces = [face for one in seen(bodies, view) for face, _ in one.faces]
    whole = union_all([face for body in bodies for face in alone(body, view)])
    assert sum(face.area for face in faces) == pytest.approx(whole.area, rel=1e-3)


def alone(body: Body, view: View) -> list[object]:
    """Return the faces of a body as they are seen when nothing else is there."""
    return [face for face, _ in seen([body], view)[0].faces]


def assert_true(bodies: list[Body], view: View) -> None:
    """Check a spot in each face: along the ray through it no other body lies nearer to the viewer."""
    for number, one in enumerate(seen(bodies, view)):
        for face, _ in one.faces:
            spot = face.representative_point()
            if face.exterior.distance(spot) < 0.01:
                continue  # a sliver: the ray would graze
            depths = {other: nearest(body, view, spot) for other, body in enumerate(bodies)}
            met = {other: depth for other, depth in depths.items() if depth is not None}
            assert met[number] >= max(met.values()) - 0.01, f"body {number} is seen through another"


def nearest(body: Body, view: View, spot: Spot) -> float | None:
    """Return how near to the viewer a ray meets a convex body: what all its half-spaces leave of the ray."""
    start = tuple(spot.x * r + spot.y * u for r, u in zip(view.right, view.up, strict=True))
    low, high = -1e9, 1e9
    for surface in body.surfaces:
        slope = dot(surface.normal, view.toward)
        room = dot(surface.normal, surface.corners[0]) - dot(surface.normal, start)  # type: ignore[arg-type]
        if abs(slope) < 1e-12:
            if room < 0:
                return None
        elif slope > 0:
            high = min(high, room / slope)
        else:
            low = max(low, room / slope)
    return high if low <= high else None


def test_a_view_is_square() -> None:
    """Right, up and toward the viewer have length 1 and stand square on one another, right handed."""
    view = view_from((-0.5, 0.75, -0.55))
    for one in (view.right, view.up, view.toward):
        assert sqrt(dot(one, one)) == pytest.approx(1)
    assert dot(view.right, view.up) == pytest.approx(0)
    assert dot(view.right, view.toward) == pytest.approx(0)
    assert view.right[2] == 0
    assert view.up[2] > 0


def test_south_is_to_the_right_of_somebody_who_looks_east() -> None:
    """Standing in the west and looking east, south is to the right."""
    view = view_from((-1.0, 0.0, 0.0))
    assert view.right == pytest.approx((0.0, -1.0, 0.0))


def test_clipping_keeps_lengths() -> None:
    """A bar from 0 to 10, cut at 3 and 7, is 4 long; one outside is gone; a pipe is cut the same."""
    within = Box(Point(*map(Fraction, (3, -5, -5))), Point(*map(Fraction, (7, 5, 5))))
    bar = clipped(block((0, 10), (0, 1), (0, 1)), within)
    assert bar is not None
    assert bar.bounds().size("x") == 4
    thin = clipped(block((4, 6), (0, 9), (-9, 9)), within)
    assert thin is not None
    assert [thin.bounds().size(axis) for axis in ("x", "y", "z")] == [2, 5, 10]
    pipe = Rod(Point(*map(Fraction, (0, 0, 0))), Point(*map(Fraction, (10, 0, 0))), Fraction(1))
    cut = clipped(pipe, within)
    assert isinstance(cut, Rod)
    assert cut.length_squared() == 16
    assert clipped(block((8, 10), (0, 1), (0, 1)), within) is None

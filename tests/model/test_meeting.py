"""Whether solids share volume, checked against the mesh booleans of an independent geometry library (manifold)."""

from __future__ import annotations

from fractions import Fraction
from math import hypot

import manifold3d as mesh
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from bookgen.model.geometry import ACROSS, AXES, Axis, Point, Polygon, Prism, Rod, Solid, box
from bookgen.model.meeting import axes_squared, meet
from tests.model.test_geometry import AXIS, LENGTHS, SIMPLE, STEPS

F = Fraction
TINY = 1e-6  # cubic inches that the float library may see where there are none
ROUND = 96  # sides of its cylinders


def solid_of(prism: Prism) -> mesh.Manifold:
    """Return the library's solid of a prism."""
    corners = [(float(u), float(v)) for u, v in prism.profile.corners]
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, [*corners[1:], corners[0]], strict=True))
    flat = mesh.CrossSection([corners if area > 0 else corners[::-1]])
    pushed = mesh.Manifold.extrude(flat, float(prism.end - prism.start)).translate((0, 0, float(prism.start)))
    turned = np.zeros((3, 4))
    for column, axis in enumerate((*ACROSS[prism.axis], prism.axis)):
        turned[AXES.index(axis), column] = 1
    return pushed.transform(turned)


def rod_of(rod: Rod, *, inside: bool = False) -> mesh.Manifold:
    """Return the library's solid of a rod along an axis, as a prism of many sides round its circle, or in it."""
    axis = rod.runs()
    assert axis is not None
    centre = rod.start.across(axis)
    angles = np.linspace(0, 2 * np.pi, ROUND, endpoint=False)
    far = float(rod.radius) / (1 if inside else np.cos(np.pi / ROUND))
    corners = tuple(
        (centre[0] + Fraction(far * float(np.cos(a))), centre[1] + Fraction(far * float(np.sin(a)))) for a in angles
    )
    ends = sorted((rod.start.on(axis), rod.end.on(axis)))
    return solid_of(Prism(Polygon(corners), axis, ends[0], ends[1]))


def shared(first: mesh.Manifold, second: mesh.Manifold) -> float:
    """Return the volume that the library finds in both."""
    return float((first ^ second).volume())


@st.composite
def prisms(draw: st.DrawFn) -> Prism:
    """Draw a prism of any simple profile, bent or not, along any axis."""
    start = draw(STEPS)
    return Prism(draw(SIMPLE), draw(AXIS), start, start + draw(LENGTHS))


@given(prisms(), prisms())
def test_any_two_prisms_meet_where_the_meshes_share_volume(first: Prism, second: Prism) -> None:
    """Whatever the profiles and the axes; exact, so that only what the float library can't tell apart is left out."""
    volume = shared(solid_of(first), solid_of(second))
    found = meet(first, second)

    assume(volume == 0 or volume > TINY)
    if volume > TINY:
        assert found
    if not found:
        assert volume <= TINY
    assert meet(second, first) == found
    if found and volume == 0:
        assert grown_shares(first, second)


def grown_shares(first: Prism, second: Prism) -> bool:
    """Tell whether the library finds volume once one of two prisms is a hair longer and wider: they almost touch."""
    hair = Fraction(1, 1000)
    longer = Prism(first.profile, first.axis, first.start - hair, first.end + hair)
    return any(
        shared(solid_of(longer).translate(tuple(float(hair) * s for s in shift)), solid_of(second)) > 0
        for shift in [(a, b, c) for a in (-1, 0, 1) for b in (-1, 0, 1) for c in (-1, 0, 1)]
    )


@given(prisms(), AXIS, st.tuples(STEPS, STEPS, STEPS), LENGTHS, LENGTHS)
def test_a_straight_rod_meets_any_prism_where_the_meshes_do(
    prism: Prism, axis: Axis, low: tuple[Fraction, Fraction, Fraction], length: Fraction, radius: Fraction
) -> None:
    """The library's rod has flat sides a little outside the true one: what it clears is clear."""
    start = Point(*low)
    end = Point(*(value + (length if a == axis else 0) for a, value in zip(AXES, low, strict=True)))
    rod = Rod(start, end, radius)
    slim = Rod(start, end, radius * Fraction(995, 1000))  # well inside the true circle for that many sides

    if shared(rod_of(slim), solid_of(prism)) > TINY:
        assert meet(rod, prism)
    if meet(slim, prism):
        assert shared(rod_of(rod), solid_of(prism)) > 0


@pytest.mark.parametrize(
    ("other", "touches"),
    [
        (box((F(2), F(4)), (F(2), F(4)), (F(0), F(5)), "z"), False),  # stands in the notch, along the same axis
        (box((F(2), F(4)), (F(2), F(4)), (F(0), F(5)), "x"), False),  # the same box, pushed along another
        (box((F("0.5"), F(4)), (F(2), F(4)), (F(0), F(5)), "y"), True),
        (Rod(Point(F(3), F(3), F(-1)), Point(F(3), F(3), F(9)), F(2)), False),  # touches both legs
        (Rod(Point(F(3), F(3), F(-1)), Point(F(3), F(3), F(9)), F("2.1")), True),
        (Rod(Point(F(3), F(3), F(2)), Point(F(9), F(3), F(2)), F(1)), False),  # along the notch
        (Rod(Point(F(3), F(3), F(1)), Point(F(9), F(4), F(2)), F(1)), False),  # askew in the notch
        (Rod(Point(F(3), F(2), F(1)), Point(F(9), F(3), F(2)), F("1.1")), True),
        (Prism(Polygon(((F(2), F(2)), (F(9), F(2)), (F(2), F(9)))), "z", F(0), F(1)), False),  # a wedge in the notch
    ],
)  # fmt: skip
def test_what_stands_in_a_notch_is_clear(other: Solid, touches: bool) -> None:
    """An angle with legs 1 in thick: its box holds the notch, its wood does not."""
    corners = ((0, 0), (10, 0), (10, 1), (1, 1), (1, 10), (0, 10))
    angle = Prism(Polygon(tuple((F(u), F(v)) for u, v in corners)), "z", F(0), F(5))

    assert meet(angle, other) == meet(other, angle) == touches


@given(st.tuples(*[STEPS] * 12))
def test_the_distance_of_two_axes_is_the_least_of_many(values: tuple[Fraction, ...]) -> None:
    """No two of many points on the two axes are nearer to each other than the exact distance, and some are as near."""
    points = [Point(*values[index : index + 3]) for index in range(0, 12, 3)]
    assume(points[0] != points[1] and points[2] != points[3])
    first, second = Rod(points[0], points[1], F(1)), Rod(points[2], points[3], F(1))
    square = axes_squared(first, second)
    shares = np.linspace(0, 1, 41)
    one = _along(first)[None, 0] + shares[:, None] * (_along(first)[1] - _along(first)[0])
    other = _along(second)[None, 0] + shares[:, None] * (_along(second)[1] - _along(second)[0])
    gaps = np.linalg.norm(one[:, None, :] - other[None, :, :], axis=2)
    step = sum(float(np.linalg.norm(_along(rod)[1] - _along(rod)[0])) / 80 for rod in (first, second))

    assert gaps.min() + 1e-9 >= float(square) ** 0.5
    assert gaps.min() <= float(square) ** 0.5 + step + 1e-9


@st.composite
def straight_rods(draw: st.DrawFn) -> Rod:
    """Draw a rod along any axis, somewhere near the middle."""
    axis, low, across = draw(AXIS), draw(STEPS), [draw(STEPS) for _ in AXES]
    start = Point(*(low if one == axis else at for one, at in zip(AXES, across, strict=True)))
    length = draw(LENGTHS)
    end = Point(*(low + length if one == axis else start.on(one) for one in AXES))
    return Rod(start, end, draw(st.sampled_from((F(1, 2), F(7, 4), F(3), F(21, 4)))))


@given(straight_rods(), straight_rods())
def test_two_rods_along_axes_meet_where_the_meshes_share_volume(first: Rod, second: Rod) -> None:
    """With flat ends, near an end too: meshes in the circles share nothing where they don't, those round them do."""
    found = meet(first, second)

    assert meet(second, first) == found
    if not found:
        assert shared(rod_of(first, inside=True), rod_of(second, inside=True)) <= TINY
    else:
        assert shared(rod_of(first), rod_of(second)) > 0


def test_a_pipe_that_passes_the_end_of_another_is_clear_of_it() -> None:
    """Both of radius 7/4; the axis of the second passes 1 in past the end of the first: there 1.436 in are left of it.

    The first reaches 1.75 up: they touch where the second lies sqrt(1.75^2 - 1^2) + 1.75 = 3.186 over it. Round ends
    would reach to sqrt(3.5^2 - 1^2) = 3.354.
    """
    first = Rod(Point(F(0), F(0), F(0)), Point(F(10), F(0), F(0)), F(7, 4))

    def over(up: str) -> Rod:
        return Rod(Point(F(11), F(-5), F(up)), Point(F(11), F(5), F(up)), F(7, 4))

    assert hypot(1, 3.186) < 3.5
    assert (meet(first, over("3.186")), meet(first, over("3.187")), meet(first, over("3.35"))) == (True, False, False)


def _along(rod: Rod) -> np.ndarray:
    return np.array([[float(end.on(axis)) for axis in AXES] for end in (rod.start, rod.end)])


def test_pipes_that_pass_each_other_are_clear() -> None:
    """Two pipes of radius 1 that cross 2 in apart touch; a hair nearer they meet; askew, their boxes alone meet."""
    first = Rod(Point(F(0), F(0), F(0)), Point(F(10), F(0), F(0)), F(1))

    assert not meet(first, Rod(Point(F(5), F(-5), F(2)), Point(F(5), F(5), F(2)), F(1)))
    assert meet(first, Rod(Point(F(5), F(-5), F("1.99")), Point(F(5), F(5), F("1.99")), F(1)))
    askew = Rod(Point(F(0), F(0), F(0)), Point(F(10), F(10), F(0)), F(1))
    assert not meet(askew, Rod(Point(F(4), F(0), F(0)), Point(F(14), F(10), F(0)), F(1)))
    assert hypot(4, 4) / 2 > 2  # the distance of the two parallel axes

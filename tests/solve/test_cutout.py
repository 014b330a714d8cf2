"""A rectangle with holes cut into pieces: what is left is all of it, in pieces that somebody would cut."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box, unary_union
from shapely.geometry.base import BaseGeometry

from bookgen.solve.cutout import STRIP, Rectangle, bridged, cut_out

F = Fraction
WHOLE = Rectangle((F(0), F(200)), (F(0), F(90)))


def of(u: tuple[int, int], v: tuple[int, int]) -> Rectangle:
    """Return a rectangle in half inches."""
    return Rectangle((F(u[0], 2), F(u[1], 2)), (F(v[0], 2), F(v[1], 2)))


def flat(one: Rectangle) -> BaseGeometry:
    """Return it as the float library has it."""
    return box(*map(float, (one.u[0], one.v[0], one.u[1], one.v[1])))


SPAN = st.tuples(st.integers(-4, 404), st.integers(1, 120)).map(lambda row: (row[0], row[0] + row[1]))


@given(st.lists(st.builds(of, SPAN, SPAN), max_size=6))
def test_the_pieces_are_what_the_holes_leave(holes: list[Rectangle]) -> None:
    """Asked of shapely: no two pieces overlap, and together they are the rectangle less its holes."""
    pieces = cut_out(WHOLE, holes)
    left = flat(WHOLE).difference(unary_union([flat(hole) for hole in holes]))

    assert sum(float((p.u[1] - p.u[0]) * (p.v[1] - p.v[0])) for p in pieces) == pytest.approx(left.area)
    assert unary_union([flat(piece) for piece in pieces]).symmetric_difference(left).area == pytest.approx(0, abs=1e-6)


def test_edges_that_nearly_line_up_leave_no_sliver() -> None:
    """A hole below from 31 on and one above from 30-1/2 on: a strip 1/2 in wide is left by upright cuts, none by level.

    Worked out by hand: to 30 up it is 31 wide, between the holes all of it, from 60 up 30-1/2 wide.
    """
    below, above = of((62, 400), (0, 60)), of((61, 400), (120, 180))

    assert cut_out(WHOLE, [below, above]) == (
        Rectangle((F(0), F(61, 2)), (F(60), F(90))),
        Rectangle((F(0), F(31)), (F(0), F(30))),
        Rectangle((F(0), F(200)), (F(30), F(60))),
    )


def test_short_slivers_beside_a_hole_are_no_reason_for_long_ones() -> None:
    """Two posts in a board 10 in wide leave strips of 1 in beside them: 8 in long, not the whole board."""
    board = Rectangle((F(0), F(200)), (F(0), F(10)))
    posts = [Rectangle((at, at + 8), (F(1), F(9))) for at in (F(60), F(140))]

    narrow = [piece for piece in cut_out(board, posts) if piece.narrow() < 2]
    assert {piece.u[1] - piece.u[0] for piece in narrow} == {8}


@given(st.lists(st.builds(of, SPAN, SPAN), max_size=5))
def test_a_strip_between_two_holes_is_bridged_where_it_is_too_narrow(holes: list[Rectangle]) -> None:
    """What is added lies in no hole and is narrower than a strip of board; nothing is added to holes far apart."""
    added = bridged(holes)[len(holes) :]

    assert all(strip.narrow() < STRIP for strip in added)
    assert not any(strip.meets(hole) for strip in added for hole in holes)


def test_two_pipes_half_an_inch_apart_share_a_hole() -> None:
    """Between holes from 10 to 12 and from 12-1/2 to 15 the half inch goes too, as high as both are; an inch stays."""
    near = bridged([of((20, 24), (0, 8)), of((25, 30), (2, 20))])
    far = [of((20, 24), (0, 8)), of((26, 30), (2, 20))]

    assert near[2:] == (Rectangle((F(12), F(25, 2)), (F(1), F(4))),)
    assert bridged(far) == tuple(far)

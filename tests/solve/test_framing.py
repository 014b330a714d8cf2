from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from bookgen.model.assembly import Material
from bookgen.model.geometry import Point
from bookgen.model.length import Length
from bookgen.solve.cutout import Rectangle, cut_out
from bookgen.solve.framing import around, layout, measured, merged, stick, true_size

WIDTH = Fraction(3, 2)
lengths = st.integers(min_value=0, max_value=4000).map(lambda n: Fraction(n, 16))
spacings = st.sampled_from([Fraction(12), Fraction(16), Fraction("19.2"), Fraction(24)])


def test_layout_of_a_sheet_at_sixteen_inches() -> None:
    """An eight-foot sheet at 16 in has members at 16, 32, ... from its edge, and one flush with each end."""
    found = layout(Fraction(0), Fraction(96), Fraction(16), WIDTH)

    assert [float(centre) for centre in found] == [0.75, 16, 32, 48, 64, 80, 95.25]


def test_layout_where_not_one_member_fits() -> None:
    """A stretch shorter than a member has none."""
    assert layout(Fraction(0), Fraction(1), Fraction(16), WIDTH) == ()


@given(lengths, lengths.filter(lambda n: n > 3), spacings)
@settings(max_examples=100)
def test_layout_holds_both_ends_and_no_bay_is_wider_than_the_spacing(
    start: Fraction, length: Fraction, spacing: Fraction
) -> None:
    """Members are flush with both ends, never overlap and never stand further apart than asked."""
    found = layout(start, start + length, spacing, WIDTH)

    assert found[0] - WIDTH / 2 == start
    assert found[-1] + WIDTH / 2 == start + length
    assert all(WIDTH <= after - before <= spacing for before, after in pairwise(found))


@given(
    lengths.filter(lambda n: n > 20),
    spacings,
    st.lists(st.tuples(lengths, st.integers(1, 128).map(lambda n: Fraction(n, 16))), max_size=4),
)
@example(Fraction(321, 16), Fraction(12), [(Fraction(29, 16), Fraction(8)), (Fraction(51, 4), Fraction(47, 8))])
@example(Fraction(321, 16), Fraction(12), [(Fraction(5, 16), Fraction(8)), (Fraction(51, 4), Fraction(47, 8))])
@settings(max_examples=100)
def test_members_step_round_zones_without_overlapping(
    length: Fraction, spacing: Fraction, spots: list[tuple[Fraction, Fraction]]
) -> None:
    """No member enters a zone, none overlaps another, and the ends keep theirs unless a zone lies on them."""
    zones = merged([(low, low + size) for low, size in spots], WIDTH)
    row = layout(Fraction(0), length, spacing, WIDTH)

    found = around(row, zones, WIDTH)

    assert all(after - before >= WIDTH for before, after in pairwise(found))
    for low, high in zones:
        assert not any(low - WIDTH / 2 < centre < high + WIDTH / 2 for centre in found)


def test_a_zone_on_a_member_gets_one_at_either_side() -> None:
    """The member at 32 in gives way to one at each side of a hole from 30 to 36 in."""
    found = around(layout(Fraction(0), Fraction(64), Fraction(16), WIDTH), [(Fraction(30), Fraction(36))], WIDTH)

    assert [float(centre) for centre in found] == [0.75, 16, 29.25, 36.75, 48, 63.25]


def test_a_stick_has_its_true_size() -> None:
    """A 2x4 laid flat is 1-1/2 in high and 3-1/2 in wide (PS 20-20, dry size)."""
    part = stick("strip 1", "strip", "2x4", "x", (Fraction(0), Fraction(96)), (Fraction(2), Fraction(88)), "y")

    room = part.solid.bounds()
    assert (room.size("x"), room.size("y"), room.size("z")) == (96, Fraction("3.5"), Fraction("1.5"))
    assert (room.low.y, room.low.z) == (2, 88)
    assert part.length() == Length(Fraction(96))


def test_treated_stock_is_marked_as_such() -> None:
    """A treated stick has the size of the plain one and the material of its own."""
    part = stick("sole", "plate", "2x4 treated", "x", (Fraction(0), Fraction(9)), (Fraction(0), Fraction(0)), "y")

    assert part.material is Material.TREATED
    assert true_size("2x4 treated") == true_size("2x4")


def test_stock_that_is_not_made_is_our_own_bug() -> None:
    """A treatment asks for the size first, so an unknown one raises."""
    with pytest.raises(ValueError, match="no such stick"):
        stick("rail", "rail", "2x7", "x", (Fraction(0), Fraction(9)), (Fraction(0), Fraction(0)), "z")


def test_a_measure_is_the_distance_between_its_anchors() -> None:
    """The value follows from the two points and the axis, and is never negative."""
    points = {
        "floor": Point(Fraction(1), Fraction(2), Fraction("0.3")),
        "bottom": Point(Fraction(9), Fraction(8), Fraction("76.5")),
    }

    found = measured("headroom", "headroom", points, "bottom", "floor", "z")

    assert found.value == Length(Fraction("76.2"))


def test_a_whole_rectangle_stays_in_one_piece() -> None:
    """Without a hole there is one piece; a hole beside it changes nothing."""
    whole = Rectangle((Fraction(0), Fraction(10)), (Fraction(0), Fraction(4)))

    assert cut_out(whole, []) == (whole,)
    assert cut_out(whole, [Rectangle((Fraction(10), Fraction(12)), (Fraction(0), Fraction(4)))]) == (whole,)


@given(st.lists(st.tuples(*[st.integers(0, 12)] * 4), max_size=4))
@settings(max_examples=100)
def test_pieces_and_holes_make_the_whole(spots: list[tuple[int, int, int, int]]) -> None:
    """Pieces do not overlap, meet no hole, and leave out no square that no hole covers."""
    whole = Rectangle((Fraction(0), Fraction(12)), (Fraction(0), Fraction(12)))
    holes = [Rectangle((Fraction(a), Fraction(a + b + 1)), (Fraction(c), Fraction(c + d + 1))) for a, b, c, d in spots]

    pieces = cut_out(whole, holes)

    def covers(one: Rectangle, u: int, v: int) -> bool:
        square = Rectangle((Fraction(u), Fraction(u + 1)), (Fraction(v), Fraction(v + 1)))
        return one.meets(square)

    for u in range(12):
        for v in range(12):
            count = sum(covers(piece, u, v) for piece in pieces)
            assert count == (0 if any(covers(hole, u, v) for hole in holes) else 1)

"""Rows of strips are laid out at an even pitch, clear of every line that runs with them, where there is one."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from bookgen.solve.treatments.furring_layout import LEAST, edges, rows

WIDE = Fraction("3.5")
MOST = Fraction(24)


def free(row: tuple[Fraction, ...], taken: tuple[tuple[Fraction, Fraction], ...]) -> bool:
    """Tell whether no strip of a row overlaps what is taken."""
    return not [c for c in row for low, high in taken if low < c + WIDE / 2 and c - WIDE / 2 < high]


def test_with_no_line_rows_stand_at_the_limit() -> None:
    """From the strip at the wall to the next is a whole pitch, and so on."""
    assert rows((Fraction(2), Fraction(98)), (), MOST, WIDE) == (26, 50, 74)


def test_a_line_on_a_row_moves_all_rows_together() -> None:
    """A line at 48 to 52 would meet the row at 50: rows shift by 3-3/4, and stay 24 apart."""
    found = rows((Fraction(2), Fraction(90)), ((Fraction(48), Fraction(52)),), MOST, WIDE)
    assert {after - before for before, after in pairwise(found)} == {MOST}
    assert found[0] in {Fraction("22.25"), Fraction("5.75")}
    assert free(found, ((Fraction(48), Fraction(52)),))


def test_lines_that_forbid_every_place_at_one_pitch_get_a_closer_one() -> None:
    """Lines 5 in wide at 20, 52 and 84, 8-1/2 with a strip's width, forbid all 24 in of it; a closer pitch does not."""
    taken = tuple((Fraction(start), Fraction(start) + 5) for start in (20, 52, 84))
    found = rows((Fraction(2), Fraction(110)), taken, MOST, WIDE)
    gaps = {after - before for before, after in pairwise(found)}
    assert len(gaps) == 1
    assert gaps.pop() < MOST
    assert free(found, taken)


def test_the_strip_at_the_wall_steps_beside_a_line_there() -> None:
    """A line 1 in off the wall, 1 in thick: the strip lies hard beside it."""
    assert edges((Fraction(0), Fraction(100)), ((Fraction(1), Fraction(2)),), WIDE) == (
        Fraction("3.75"),
        Fraction("98.25"),
    )


@given(
    st.integers(60, 400),
    st.lists(st.tuples(st.integers(4, 396), st.integers(1, 6)), max_size=6),
    st.sampled_from([Fraction(16), Fraction(24)]),
)
@settings(max_examples=100)
def test_rows_are_even_clear_and_close_enough(width: int, lines: list[tuple[int, int]], most: Fraction) -> None:
    """Whatever the lines: no row meets one; where the rows are even, no two rows or edge strips are too far apart."""
    taken = tuple((Fraction(at), Fraction(at + thick)) for at, thick in lines if at + thick < width - 4)
    found_edges = edges((Fraction(0), Fraction(width)), taken, WIDE)
    if len(found_edges) < 2:
        return
    ends = (found_edges[0], found_edges[1])
    found = rows(ends, taken, most, WIDE)
    assert free(found, taken)
    whole = (ends[0], *found, ends[1])
    assert all(after - before >= WIDE for before, after in pairwise(whole))
    gaps = [after - before for before, after in pairwise(found)]
    if len(set(gaps)) == 1:
        assert most * LEAST <= gaps[0] <= most
        assert max(found[0] - ends[0], ends[1] - found[-1]) <= most

"""A soffit whose side comes down in a wall that runs with it: told, with the two places where it would not."""

from __future__ import annotations

from fractions import Fraction

import pytest

from bookgen.model.problem import Finding, Severity
from bookgen.model.solved import Solved
from bookgen.solve import solve
from tests.invariants import pieces, structure, unheld
from tests.whole_levels import whole


def told(solved: Solved) -> list[Finding]:
    """Return what the check says."""
    return [one for one in solved.findings if one.code == "side-in-wall"]


def level(low: Fraction) -> Solved:
    """Return two rooms parted at 214-1/4 to 217-3/4 in, and a soffit along the partition, 25 in wide from *low* on."""
    solved, problems = solve(whole("two rooms", (("hung soffit north", 20, 180, float(low), 79, 20),)))
    assert solved is not None, problems
    return solved


@pytest.mark.parametrize("low", [Fraction(189), Fraction(191), Fraction(216), Fraction("217.75")])
def test_a_side_inside_a_partition_is_told(low: Fraction) -> None:
    """Its high side at 214 and 216 in, its low one at 216 and 217-3/4 in: both places that serve are named."""
    solved = level(low)

    (one,) = told(solved)
    assert one.severity is Severity.STOP
    assert "17′\u00a09\u200a3⁄4″ at most" in one.hint
    assert "18′\u00a02\u200a1⁄4″ at least" in one.hint
    assert list(unheld(pieces(solved), carried=structure(solved)))


@pytest.mark.parametrize("low", [Fraction("188.75"), Fraction("218.25")], ids=["before it", "past it"])
def test_the_two_places_that_are_told_serve(low: Fraction) -> None:
    """Half an inch of board clear of the studs the wall is whole up to the joists, and nothing is told."""
    solved = level(low)

    assert not told(solved)
    assert not list(unheld(pieces(solved), carried=structure(solved)))


def test_an_end_inside_the_wall_of_a_closet_is_told() -> None:
    """It ends at 121 in, where the studs of the closet's north side begin: 120-1/2 and 125 in would serve."""
    rows = (("wall soffit", "west wall", 53, 68, 9.0, 11.0, 74.0), ("closet", "west wall", 77, 48, 34))
    solved, _ = solve(whole("bare", rows))

    assert solved is not None
    (one,) = told(solved)
    assert "end, at 10′\u00a01″" in one.says
    assert "10′\u00a00\u200a1⁄2″ at most or at 10′\u00a05″ at least" in one.hint

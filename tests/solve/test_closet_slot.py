"""A closet whose wall leaves a slot at another wall that nobody can board in: told, and only that."""

from __future__ import annotations

import pytest

from bookgen.model.problem import Finding, Severity
from bookgen.model.solved import Solved
from bookgen.solve import solve
from tests.invariants import pieces, structure, unheld
from tests.whole_levels import whole


def level(at: float) -> Solved:
    """Return a closet, 64 in wide inside from *at* on, whose high side runs along the lining of the north wall."""
    solved, problems = solve(whole("bare", (("closet", "east wall", at, 64, 32),)))
    assert solved is not None, problems
    return solved


def told(solved: Solved) -> list[Finding]:
    """Return what the check says."""
    return [one for one in solved.findings if one.code == "closet-slot"]


def test_a_slot_of_two_inches_and_more_is_boarded() -> None:
    """The lining's studs begin at 283.9 in; at 217 in the closet's end at 280.5: 2.4 in are clear of both boards."""
    solved = level(217)

    assert not told(solved)
    assert not list(unheld(pieces(solved), carried=structure(solved)))


@pytest.mark.parametrize(("at", "says"), [(218, "1\u200a3⁄8″"), (220, "stands in"), (224, "stands in")])
def test_a_narrower_slot_is_told(at: float, says: str) -> None:
    """1.4 in clear; and walls that touch, or lie in each other, whose boards would be in one place."""
    solved = level(at)

    (one,) = told(solved)
    assert one.severity is Severity.STOP
    assert says in one.says
    assert "north wall" in one.says
    assert list(unheld(pieces(solved), carried=structure(solved)))


def test_two_closets_say_so_each_of_the_other() -> None:
    """Side by side with an inch between their boards, each of the two records says what stands beside it."""
    rows = (("closet", "east wall", 60, 50, 32), ("closet", "east wall", 111, 50, 32))
    solved, _ = solve(whole("bare", rows))

    assert solved is not None
    assert len(told(solved)) == 2

"""Two soffits with a rail each between the same two joists: their blocks are laid once."""

from __future__ import annotations

from fractions import Fraction

import pytest

from bookgen.model.geometry import Box
from bookgen.model.solved import Solved
from bookgen.solve import solve, whole
from tests.invariants import breaches, doubled, pieces
from tests.meeting_houses import ducts_north, house

# Their rails at 101 in and at 94 in lie in the bay between the joists at 88 in and at 104 in.
SIDE_BY_SIDE = house(
    ducts_north("a", 4, 239, 101, bottom=74.5), ducts_north("b", 43, 118, 65, bottom=79.5, wide=24, up=81.5)
)
BAY = (Fraction("88.75"), Fraction("103.25"))
B_ALONE = Fraction("43"), Fraction("57.25"), Fraction("73.25"), Fraction("89.25"), Fraction("105.25"), Fraction("114.5")
KEPT = Fraction("43"), Fraction("57.25"), Fraction("73.25"), Fraction("89.25"), Fraction("105.25")


def blocks(solved: Solved, key: str) -> list[Box]:
    """Return the nailers of one soffit in the bay, as they lie along it."""
    assembly = solved.obstacle(key).assembly
    assert assembly is not None
    found = [part.solid.bounds() for part in assembly.parts if part.role == "nailer"]
    return sorted((box for box in found if (box.low.y, box.high.y) == BAY), key=lambda box: box.low.x)


def test_one_hangs_on_the_nailers_of_the_other(monkeypatch: pytest.MonkeyPatch) -> None:
    """A block that would meet another's is left out, and that one lies less than its width from where it was to be."""
    solved, _ = solve(SIDE_BY_SIDE)
    monkeypatch.setattr(whole, "shared", lambda _, assemblies: tuple(assemblies))
    unshared, _ = solve(SIDE_BY_SIDE)

    assert solved is not None
    assert unshared is not None
    assert [box.low.x for box in blocks(unshared, "b")] == list(B_ALONE)
    assert [box.low.x for box in blocks(solved, "b")] == list(KEPT)
    assert any(box.overlaps(blocks(unshared, "b")[-1]) for box in blocks(solved, "a"))
    assert list(doubled(pieces(unshared)))
    assert not breaches(solved)


def test_who_reads_of_it_is_told() -> None:
    """The soffit that hangs on the other's nailers says so, the other says nothing of it."""
    solved, _ = solve(SIDE_BY_SIDE)

    assert solved is not None
    words = "Where both lie between the same two joists it hangs on the nailers of a."
    first, second = (solved.obstacle(key).assembly for key in "ab")
    assert first is not None
    assert second is not None
    assert words in second.remarks
    assert not any("nailers" in remark for remark in first.remarks)

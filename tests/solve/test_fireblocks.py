"""Fire blocks cut to the space inside soffits and chases: IRC R302.11 (10 ft, paraphrase), R302.11.1 (2 in lumber)."""

from __future__ import annotations

from fractions import Fraction

import pytest

from bookgen.model.assembly import Part
from bookgen.model.geometry import Box, Point
from bookgen.model.solved import Solved
from bookgen.solve.crowd import crowd
from bookgen.solve.fireblock_pieces import pieces, rectangles, stock
from bookgen.solve.fireblocks import Where, blocks
from tests.invariants import crowded, doubled, hidden
from tests.invariants import pieces as every_piece
from tests.sample_house import sample_house
from tests.solve.test_cases import FOLDER, worked

TEN_FEET = Fraction(120)


def cell(u1: int, u2: int, v1: int, v2: int) -> tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]:
    """Return a rectangle of whole inches."""
    return (Fraction(u1), Fraction(u2)), (Fraction(v1), Fraction(v2))


@pytest.fixture(scope="module")
def sample() -> Solved:
    """Return the solved sample."""
    return sample_house()


def of(solved: Solved, key: str) -> dict[Where, tuple[Box, ...]]:
    """Return the blocks of one treatment."""
    return next(blocks(one.assembly) for one in solved.obstacles if one.key == key and one.assembly is not None)


def test_what_is_left_of_a_rectangle_is_filled() -> None:
    """Round a square in its middle four pieces fill all the rest, and none of them meets it or another."""
    filled = rectangles(cell(0, 10, 0, 8), [cell(4, 6, 3, 5)])

    assert sum((u[1] - u[0]) * (v[1] - v[0]) for u, v in filled) == 10 * 8 - 2 * 2
    assert len(filled) == 4


def test_a_gap_too_narrow_for_wood_is_left_to_be_packed() -> None:
    """Less than an inch beside a duct is no piece of lumber."""
    assert rectangles((cell(0, 10, 0, 8)), [((Fraction(1, 2), Fraction(10)), (Fraction(0), Fraction(8)))]) == []


def test_a_wide_space_is_filled_with_strips_of_lumber() -> None:
    """2x6 is 5-1/2 in wide (true size, PS 20): a space 24 in square takes five pieces, and none is wider."""
    slab = Box(Point(Fraction(0), Fraction(0), Fraction(0)), Point(Fraction(3, 2), Fraction(24), Fraction(24)))
    row = list(pieces(slab, "x", crowd([])))

    assert [piece.size("y") for piece in row] == [Fraction(24, 5)] * 5
    assert [stock(piece.size("y")) for piece in row] == ["2x6"] * 5


def test_no_block_meets_anything_and_none_is_doubled(sample: Solved) -> None:
    """Every piece is 1-1/2 in thick, and keeps off framing, board, pipes and one another."""
    every = every_piece(sample)
    mine = [piece for piece in every if piece.part.role == "fireblock"]

    assert mine
    assert not [said for said in doubled(every) if "fire block" in said]
    assert not list(crowded(mine, hidden(sample)))
    assert all(Fraction(3, 2) in [piece.box.size(axis) for axis in ("x", "y", "z")] for piece in mine)


@pytest.mark.parametrize("key", ["02-drain", "04-ducts", "05-beam"])
def test_no_stretch_of_a_soffit_is_longer_than_ten_feet(sample: Solved, key: str) -> None:
    """IRC R302.11, a paraphrase: at most 10 ft from end to block and from block to block."""
    built = next(one.assembly for one in sample.obstacles if one.key == key)
    assert built is not None
    framing = [own for part, own in zip(built.parts, built.boxes(), strict=True) if part.role in {"rail", "top rail"}]
    ends = [min(own.low.x for own in framing), max(own.high.x for own in framing)]
    reached = ends[0]
    for low in [*sorted({own.low.x for own in of(sample, key)[Where.ACROSS]}), ends[1]]:
        assert low - reached <= TEN_FEET
        reached = low + Fraction(3, 2)


def test_the_list_tells_one_end_from_both(sample: Solved) -> None:
    """The soffit along the wall runs from wall to wall; the one under the ducts has board over its west end."""
    says = {one.place.file: one.says for one in sample.findings if one.code == "fireblock-places"}

    assert "at both ends, against the studs" in says["obstacles/02-drain.yaml"]
    assert "at an end, against the studs" in says["obstacles/04-ducts.yaml"]


def test_the_chase_is_closed_right_under_the_soffit(sample: Solved) -> None:
    """The soffit's framing ends 77 in above the slab, and the chase goes up into it (site notes)."""
    assert {own.high.z for own in of(sample, "03-stack")[Where.TOP]} == {Fraction(77)}


def test_no_block_stands_behind_a_light_or_a_register(sample: Solved) -> None:
    """A lamp or a register is reached through its opening; the nearest block leaves it an inch and a half."""
    built = next(one.assembly for one in sample.obstacles if one.key == "04-ducts")
    assert built is not None
    opened = [
        own.grown(Fraction(3, 2))
        for part, own in zip(built.parts, built.boxes(), strict=True)
        if part.role in {"light", "register"}
    ]
    row = of(sample, "04-ducts")[Where.ACROSS]
    assert not [own for own in row for other in opened if own.low.x < other.high.x and other.low.x < own.high.x]


def test_no_wood_is_put_near_a_flue() -> None:
    """A chase that holds a gas vent is closed with sheet metal, so none of its blocks is a part; it says so."""
    _, solved, _ = worked(FOLDER / "vent-boxed.yaml")
    assert solved is not None

    parts: list[Part] = [part for one in solved.obstacles if one.assembly for part in one.assembly.parts]
    (said,) = [one.says for one in solved.findings if one.code == "fireblock-places"]
    assert not [part for part in parts if part.role == "fireblock"]
    assert "of sheet metal" in said


def test_the_takeoff_counts_each_piece_once(sample: Solved) -> None:
    """The pieces counted are the parts drawn."""
    drawn = sum(part.role == "fireblock" for one in sample.obstacles if one.assembly for part in one.assembly.parts)

    assert sum(row.count for row in sample.takeoff.pieces if row.role == "fireblock") == drawn

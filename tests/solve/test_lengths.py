"""Long members are cut in lengths that are sold, joined where something holds them."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from bookgen.solve.lengths import LEAST, cut, longest
from tests.solve.level_fixture import DRAIN, P1, codes, record, solved_one

WALL = {"outside": "12 in off the block", "framing bottom": "77 in above slab", "along": "4.1 in to 204 in"}


def test_what_is_short_enough_stays_whole() -> None:
    """A 2x2 is sold 8 ft long (building-supply trade, common practice)."""
    assert longest("2x2") == 96
    assert cut((Fraction(4), Fraction(100)), (), "2x2") == ((4, 100),)


def test_a_joint_falls_on_what_holds_it() -> None:
    """Of rungs at every 16 in the last within 96 in takes the joint; no last piece is shorter than 32 in."""
    rungs = [Fraction(16 * n) for n in range(1, 7)]
    assert cut((Fraction(0), Fraction(110)), rungs, "2x2") == ((0, 64), (64, 110))
    assert cut((Fraction(0), Fraction(110)), rungs, "2x2", early=True) == ((0, 48), (48, 110))


@given(st.integers(40, 2000), st.sampled_from([12, 16, 24]), st.booleans())
def test_pieces_are_sold_and_add_up(length: int, spacing: int, early: bool) -> None:
    """They follow one another from end to end, none is longer than a stick, each joint lies on a member."""
    spots = [Fraction(n) for n in range(spacing, length, spacing)]
    pieces = cut((Fraction(0), Fraction(length)), spots, "2x2", early=early)

    assert (pieces[0][0], pieces[-1][1]) == (0, length)
    assert all(one[1] == other[0] and one[1] in spots for one, other in pairwise(pieces))
    assert all(high - low <= 96 for low, high in pieces)
    assert len(pieces) == 1 or pieces[-1][1] - pieces[-1][0] >= LEAST


def test_the_rails_of_a_long_soffit_are_joined_on_rungs_and_not_together() -> None:
    """Of 200 in no rail is longer than 96; upper and lower have no joint in common; the cleat's are on studs."""
    found, _ = solved_one(record([DRAIN], {"wall soffit": WALL}), partitions=P1)
    rungs = {(b.low.x + b.high.x) / 2 for b in (p.solid.bounds() for p in found.parts if p.role == "rung")}
    joints = {}
    for role in ("top rail", "bottom rail", "cleat"):
        rails = [part.solid.bounds() for part in found.parts if part.role == role]
        assert max(rail.size("x") for rail in rails) <= 96
        joints[role] = {rail.high.x for rail in rails} - {Fraction(204)}

    assert joints["top rail"] <= rungs
    assert joints["bottom rail"] <= rungs
    assert not joints["top rail"] & joints["bottom rail"]
    assert joints["cleat"]
    assert all(joint % 16 == 0 for joint in joints["cleat"])  # the lining's studs, laid out from the corner


def test_a_crosser_longer_than_its_stock_is_a_problem() -> None:
    """With sides 120 in apart its crossers are 117 in, and a 2x2 is sold 96 in long."""
    wide = {"between": "60 in to 180 in", "framing bottom": "77 in above slab"}
    run = {"along": "east", "from": "40 in", "to": "192 in"}
    assert codes(record([], {"hung soffit": wide}, run=run, kind="duct")) == ["stick-too-long"]
    assert codes(record([], {"hung soffit": wide | {"ladder": "2x4"}}, run=run, kind="duct")) == []

"""Cutting plans against published instances with known optima, and the rules of kerf, trim, ties and leftovers."""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction

import pytest

from bookgen.model.cutting import NOTHING, Aim, BoughtStick, CuttingPlan, Piece, Proof, SawRules, Stick
from bookgen.model.length import MILLIMETRES_PER_INCH, Length, inches
from bookgen.solve.takeoff.compare import saved_on_sticks
from bookgen.solve.takeoff.cutting import plan_cuts
from bookgen.solve.takeoff.fill import cost_of, plain
from bookgen.solve.takeoff.ticks import job_of

NO_KERF = SawRules(kerf=NOTHING)
YARD = tuple(Stick(inches(12 * feet)) for feet in (8, 10, 12, 14, 16))

# J. E. Beasley, OR-Library, binpack1.txt, first instance, optimum 48: E. Falkenauer (1996), "A hybrid grouping genetic
# algorithm for bin packing", Journal of Heuristics 2. The sizes add up to 47.2 bins.
U120_00 = """
42 69 67 57 93 90 38 36 45 42 33 79 27 57 44 84 86 92 46 38 85 33 82 73 49 70 59 23 57 72 74 69 33 42 28 46 30 64 29 74
41 49 55 98 80 32 25 38 82 30 35 39 57 84 62 50 55 27 30 36 20 78 47 26 45 41 58 98 91 96 73 84 37 93 91 43 73 85 81 79
71 80 76 83 41 78 70 23 42 87 43 84 60 55 49 78 73 62 36 44 94 69 32 96 70 84 58 78 25 80 58 66 83 24 98 60 42 43 43 39
"""

# What source, how long a stick, which lengths and how many of each, how many sticks at least?
KNOWN = {
    # Wikipedia, "Cutting stock problem", the paper-mill example: 73 master rolls.
    "paper mill": (
        5600,
        {
            1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10, 2050: 12, 2100: 14,
            2140: 16, 2150: 18, 2200: 20,
        },
        73,
    ),
    # GAMS model library, cutstock (P. C. Gilmore and R. E. Gomory, 1961, Operations Research 9): 453.
    "four widths": (100, {14: 211, 31: 395, 36: 610, 45: 97}, 453),
    # R. Fourer, D. M. Gay, B. W. Kernighan, "AMPL", the roll-cutting model: 47 (from memory).
    "roll cutting": (110, {20: 48, 45: 35, 50: 24, 55: 10, 75: 8}, 47),
    # Bin packing example of a solver library's tutorial (data from memory): 4.
    "eleven items": (100, {48: 1, 30: 2, 19: 1, 36: 3, 27: 1, 42: 2, 24: 1}, 4),
    "u120_00": (150, {size: U120_00.split().count(str(size)) for size in sorted(map(int, set(U120_00.split())))}, 48),
    # Constructed: first fit decreasing needs one stick more. 48+26+20 and 36+34+26.
    "six pieces": (96, {48: 1, 36: 1, 34: 1, 26: 2, 20: 1}, 2),
    "eight pieces": (96, {40: 1, 26: 1, 24: 2, 22: 1, 20: 1, 18: 1, 14: 1}, 2),
    "nine pieces": (96, {44: 2, 40: 2, 30: 1, 28: 1, 24: 1, 18: 1, 16: 1}, 3),
}  # fmt: skip
FIRST_FIT = {"six pieces": 3, "eight pieces": 3, "nine pieces": 4}


def _pieces(demands: dict[int, int]) -> tuple[Piece, ...]:
    return tuple(Piece(inches(length), count, f"piece {length}") for length, count in demands.items())


def _count(plan: CuttingPlan) -> int:
    return sum(row.count for row in plan.sticks)


def _first_fit(capacity: int, demands: dict[int, int]) -> int:
    job, _ = job_of(_pieces(demands), [Stick(inches(capacity))], NO_KERF)
    assert job is not None
    (plan,) = plain(job)
    assert cost_of(job, plan) * job.unit == capacity * sum(plan.values())
    return sum(plan.values())


def _lengths(row: BoughtStick) -> list[Fraction]:
    return [cut.length.inches for cut in row.cuts]


@pytest.mark.parametrize("name", KNOWN)
def test_known_optimum(name: str) -> None:
    """Each published or constructed instance comes out at its known optimum, and is proven."""
    capacity, demands, optimum = KNOWN[name]
    plan = plan_cuts(_pieces(demands), [Stick(inches(capacity))], NO_KERF)
    assert _count(plan) == optimum
    assert plan.value == plan.bound == optimum * capacity
    assert plan.proof is not Proof.OPEN
    assert plan.gap() == 0


@pytest.mark.parametrize("name", FIRST_FIT)
def test_first_fit_needs_one_more(name: str) -> None:
    """The plain way misses the optimum where the instance was made for it to, and the saving says by how much."""
    capacity, demands, optimum = KNOWN[name]
    assert _first_fit(capacity, demands) == FIRST_FIT[name] == optimum + 1
    sticks = [Stick(inches(capacity))]
    saving = saved_on_sticks(_pieces(demands), sticks, NO_KERF, plan_cuts(_pieces(demands), sticks, NO_KERF))
    assert saving.saved() == capacity
    assert saving.share() == Fraction(1, FIRST_FIT[name])


def test_the_plain_way_takes_the_length_that_comes_out_best() -> None:
    """Nothing is won against a poor choice: two halves of a stick are compared with that stick, not a longer one."""
    pieces, sticks = [Piece(inches(48), 2, "block")], [Stick(inches(96)), Stick(inches(144))]
    saving = saved_on_sticks(pieces, sticks, NO_KERF, plan_cuts(pieces, sticks, NO_KERF))
    assert (saving.plain, saving.planned, saving.saved()) == (96, 96, 0)


@pytest.mark.parametrize("name", KNOWN)
def test_first_fit_stays_within_its_known_bound(name: str) -> None:
    """First fit decreasing uses at most 11/9 of the optimum and 6/9 (G. Dosa, 2007; from memory)."""
    capacity, demands, optimum = KNOWN[name]
    assert _first_fit(capacity, demands) <= Fraction(11, 9) * optimum + Fraction(6, 9)


def test_kerf_trap() -> None:
    """Three 32 in pieces fill a 96 in stick without a kerf; with 1/8 in they need 96 1/4 in, so two (constructed)."""
    pieces, sticks = [Piece(inches(32), 3, "block")], [Stick(inches(96))]
    assert _count(plan_cuts(pieces, sticks, NO_KERF)) == 1
    assert _count(plan_cuts(pieces, sticks, SawRules())) == 2


@pytest.mark.parametrize(
    ("piece", "sticks", "left", "sawn"),
    [
        ("31-11/12", 1, "0", "1/4"),  # 3 pieces and 2 cuts end the stick: no cut behind the last
        ("31-15/16", 2, "32", "1/8"),  # a sixteenth too long
        ("31-7/8", 1, "0", "3/8"),  # the third cut runs off the end with all of its kerf
        ("31-9/10", 1, "0", "3/10"),  # … or with a part of it
        ("31-3/4", 1, "3/8", "3/8"),  # and here it leaves a sliver
    ],
)
def test_kerf_is_between_pieces(piece: str, sticks: int, left: str, sawn: str) -> None:
    """A kerf lies between pieces, and behind the last one only where something is left to cut off."""
    whole, part = piece.split("-")
    plan = plan_cuts([Piece(Length(Fraction(whole) + Fraction(part)), 3, "block")], [Stick(inches(96))], SawRules())
    assert _count(plan) == sticks
    last = plan.sticks[0] if sticks == 1 else next(row for row in plan.sticks if len(row.cuts) == 2)
    if sticks == 1:
        assert (last.left, last.sawn) == (inches(left), inches(sawn))
    assert last.stick.length == last.trimmed + last.used() + last.sawn + last.left


@pytest.mark.parametrize(("ends", "sticks"), [(0, 1), (1, 2), (2, 2)])
def test_trimming_takes_its_share(ends: int, sticks: int) -> None:
    """Two 47 7/8 in pieces and a kerf leave 1/8 in of a 96 in stick, which a trim of 1/4 in does not."""
    rules = SawRules(trim=inches("1/4"), trimmed_ends=ends)
    plan = plan_cuts([Piece(inches("383/8"), 2, "block")], [Stick(inches(96))], rules)
    assert _count(plan) == sticks
    assert plan.sticks[0].trimmed == Length(Fraction(ends, 4))


def test_too_long_a_piece_is_told_and_the_rest_is_planned() -> None:
    """A piece longer than the longest stick is returned with words, and does not keep the others from being cut."""
    plan = plan_cuts([Piece(inches(200), 2, "rail"), Piece(inches(90), 1, "stud")], YARD, SawRules())
    (lost,) = plan.impossible
    assert (lost.piece.label, lost.longest) == ("rail", inches(192))
    assert "longest stick" in lost.says
    assert "splice" in lost.repair
    assert [_lengths(row) for row in plan.sticks] == [[90]]


def test_a_piece_as_long_as_the_stick_fits_unless_it_is_trimmed() -> None:
    """A whole stick needs no cut; a trimmed one is too short for it."""
    pieces = [Piece(inches(192), 1, "rail")]
    assert plan_cuts(pieces, YARD, SawRules()).sticks[0].sawn == NOTHING
    trimmed = plan_cuts(pieces, YARD, SawRules(trim=inches("1/4"), trimmed_ends=1))
    assert trimmed.impossible[0].longest == inches("767/4")


def test_nothing_on_sale_or_nothing_wanted() -> None:
    """Without sticks every piece is told; without pieces the plan is empty and proven."""
    plan = plan_cuts([Piece(inches(10), 1, "block")], [], SawRules())
    assert plan.impossible[0].longest is None
    empty = plan_cuts([], YARD, SawRules())
    assert (empty.sticks, empty.impossible, empty.value, empty.gap()) == ((), (), 0, 0)


def test_least_cost_is_not_least_length() -> None:
    """A dear long stick is left in the yard where two cheap short ones do, though they are longer together."""
    pieces = [Piece(inches(60), 2, "rail")]
    dear = [Stick(inches(96), Fraction(4)), Stick(inches(144), Fraction(11))]
    by_cost = plan_cuts(pieces, dear, SawRules())
    assert (by_cost.aim, by_cost.value, by_cost.cost()) == (Aim.COST, 8, 8)
    by_length = plan_cuts(pieces, [Stick(inches(96), Fraction(4)), Stick(inches(144))], SawRules())
    assert (by_length.aim, by_length.value, by_length.cost()) == (Aim.LENGTH, 144, None)


def test_same_length_twice_takes_the_lower_price() -> None:
    """Of two prices for one length the lower counts."""
    sticks = [Stick(inches(96), Fraction(5)), Stick(inches(96), Fraction(4))]
    assert plan_cuts([Piece(inches(60), 1, "rail")], sticks, SawRules()).value == 4


def test_leftovers_worth_keeping_are_listed() -> None:
    """A leftover as long as asked is put aside, a shorter one is waste, and everything adds up to what was bought."""
    pieces = [Piece(inches(60), 2, "rail"), Piece(inches(80), 1, "post")]
    plan = plan_cuts(pieces, [Stick(inches(96))], SawRules())
    assert [(row.length, row.count) for row in plan.offcuts()] == [(inches("287/8"), 2)]
    kept = inches("287/8").inches * 2
    assert plan.bought().inches == plan.used().inches + kept + plan.wasted().inches == 288
    assert plan_cuts(pieces, [Stick(inches(96))], SawRules(keep=inches(40))).offcuts() == ()


def test_sticks_cut_alike_say_where_each_piece_goes() -> None:
    """Equal diagrams stand together, and their pieces are shared out by label, none twice."""
    pieces = [Piece(inches(40), 4, "drain, rung"), Piece(inches(40), 6, "beam, rung")]
    (row,) = plan_cuts(pieces, [Stick(inches(96))], SawRules()).sticks
    assert (row.count, len(row.cuts)) == (5, 2)
    first, second = (tuple((share.label, share.count) for share in cut.shares) for cut in row.cuts)
    assert first == (("beam, rung", 5),)
    assert second == (("beam, rung", 1), ("drain, rung", 4))


def test_the_buying_list_counts_sticks_over_all_diagrams() -> None:
    """Three rails, two of them alike, are three sticks of one length on the list, the longest length first."""
    pieces = [Piece(inches(90), 2, "rail"), Piece(inches(80), 1, "rail"), Piece(inches(150), 1, "beam")]
    plan = plan_cuts(pieces, [Stick(inches(96)), Stick(inches(168))], SawRules())
    assert [(stick.length.inches, count) for stick, count in plan.buying()] == [(168, 1), (96, 3)]


def test_order_of_pieces_and_sticks_does_not_matter() -> None:
    """The same records in another order give the same plan."""
    capacity, demands, _ = KNOWN["paper mill"]
    pieces, sticks = _pieces(demands), (*YARD, Stick(inches(capacity)))
    assert plan_cuts(pieces, sticks, NO_KERF) == plan_cuts(pieces[::-1], sticks[::-1], NO_KERF)


def test_metric_pieces_from_a_metric_yard_are_packed_as_they_are() -> None:
    """Two pieces of 1198 mm and a 4 mm kerf are a 2400 mm stick, exactly."""
    kerf = Length(4 / MILLIMETRES_PER_INCH)
    piece, stick = Length(1198 / MILLIMETRES_PER_INCH), Length(2400 / MILLIMETRES_PER_INCH)
    plan = plan_cuts([Piece(piece, 2, "rail")], [Stick(stick)], SawRules(kerf=kerf))
    assert (plan.rounded_up, _count(plan), plan.sticks[0].left) == (None, 1, NOTHING)


def test_lengths_off_every_mark_are_rounded_up_for_packing_only() -> None:
    """A sloped rail of an odd length is packed as the next 1/64 in, and stays exact in the plan."""
    hair = Fraction(1, 1 << 20)
    rails = [Piece(Length(48 - Fraction(1, 16) - part), 1, "rail") for part in (hair, 3 * hair)]
    plan = plan_cuts(rails, [Stick(inches(96))], SawRules())
    assert plan.rounded_up == inches("1/64")
    assert _count(plan) == 1
    assert plan.used().inches == 96 - Fraction(1, 8) - 4 * hair
    over = [*rails[:1], Piece(Length(48 - Fraction(1, 16) + hair), 1, "rail")]
    assert _count(plan_cuts(over, [Stick(inches(96))], SawRules())) == 2


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: Piece(NOTHING, 1, "rail"),
        lambda: Piece(inches(1), 0, "rail"),
        lambda: Stick(NOTHING),
        lambda: Stick(inches(96), Fraction(0)),
        lambda: SawRules(trimmed_ends=3),
        lambda: SawRules(kerf=inches(-1)),
    ],
)
def test_impossible_values_are_our_own_bug(wrong: object) -> None:
    """A piece, stick or saw that can't be raises, since no record can say such a thing."""
    assert callable(wrong)
    with pytest.raises(ValueError, match=r"piece|stick|saw"):
        wrong()


def test_the_solver_prints_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    """What a command prints is not mixed with the solver's banner."""
    source = "\n".join(
        [
            "from bookgen.model.cutting import Piece, SawRules, Stick",
            "from bookgen.model.length import inches",
            "from bookgen.solve.takeoff.cutting import plan_cuts",
            "pieces = [Piece(inches(n), d, 'p') for n, d in ((14, 211), (31, 395), (36, 610), (45, 97))]",
            "plan_cuts(pieces, [Stick(inches(100))], SawRules())",
            "import sys; assert 'highspy' in sys.modules",
        ]
    )
    subprocess.run([sys.executable, "-c", source], check=True)  # noqa: S603 (our own interpreter and text)
    assert capfd.readouterr() == ("", "")

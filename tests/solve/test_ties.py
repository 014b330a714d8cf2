"""Positions from tape distances: closed forms, the error law, mirrors, wrong ties, refusals, a general search."""

from __future__ import annotations

from fractions import Fraction
from math import hypot, pi, sin, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookgen.model.length import Length, inches
from bookgen.model.tape import Tape
from bookgen.model.ties import Side, TapedTie, TiedPosition, TieRefusal
from bookgen.solve.locate.ties import position_from_ties, taping_sigma


def tie(name: str, east: object, north: object, distance: object, sigma: object = 1) -> TapedTie:
    """Return a tie; numbers are inches, a float is taken to 1/2^20 in."""
    e, n, d, s = (Fraction(round(x * 2**20), 2**20) if isinstance(x, float) else Fraction(str(x)) for x in
                  (east, north, distance, sigma))  # fmt: skip
    return TapedTie(name, (e, n), Length(d), Length(s))


def found(ties: list[TapedTie], side: Side | None = None) -> TiedPosition:
    """Return the position, which must be one."""
    position = position_from_ties(ties, side)
    assert isinstance(position, TiedPosition), position
    return position


def refused(ties: list[TapedTie], side: Side | None = None) -> str:
    """Return the code of the refusal, which must be one, and say something."""
    refusal = position_from_ties(ties, side)
    assert isinstance(refusal, TieRefusal), refusal
    assert refusal.says
    assert refusal.repair
    return refusal.code


def where(position: TiedPosition) -> tuple[Fraction, Fraction]:
    """Return east and north in inches."""
    return position.east.inches, position.north.inches


def test_thirteen_and_fifteen_over_fourteen_meet_at_five_twelve() -> None:
    """A triangle of whole sides 13, 14, 15: the point is (5, 12), or (5, -12) in the mirror; worked by Heron's formula.

    Its angle at the point is 59.49 degrees (cosine rule: 33/65), so the error law gives 1.6414 of the taping error.
    """
    ties = [tie("a", 0, 0, 13), tie("b", 14, 0, 15)]
    assert where(found(ties, "north")) == (5, 12)
    assert where(found(ties, "south")) == (5, -12)
    sine = sqrt(1 - (33 / 65) ** 2)
    assert float(found(ties, "north").rms.inches) == pytest.approx(sqrt(2) / sine, abs=1e-3)
    assert float(found(ties, "north").rms.inches) == pytest.approx(1.6414, abs=1e-3)


def test_sixty_and_eighty_over_a_hundred_meet_square() -> None:
    """A right angle at the point: 60, 80, 100 meet at (36, 48), whose error is the root of 2 of the tape's."""
    position = found([tie("a", 0, 0, 60), tie("b", 100, 0, 80)], "north")
    assert where(position) == (36, 48)
    assert float(position.rms.inches) == pytest.approx(sqrt(2), abs=1e-3)
    assert position.longest == position.shortest == inches(1)
    assert not position.proven


def test_third_tie_proves_the_other_two() -> None:
    """From (0, 100) the point (36, 48) is the root of 4000 away, 63.246: it picks the point without a side."""
    position = found([tie("a", 0, 0, 60), tie("b", 100, 0, 80), tie("c", 0, 100, 63.246)])
    assert where(position) == (pytest.approx(36, abs=1e-3), pytest.approx(48, abs=1e-3))
    assert position.proven
    assert position.suspects == ()
    assert all(abs(residual.off.inches) < Fraction(1, 256) and residual.used for residual in position.residuals)


@pytest.mark.parametrize(
    ("angle", "times"),
    [(90, 1.414), (60, 1.633), (120, 1.633), (45, 2.0), (30, 2.828), (150, 2.828), (20, 4.135), (10, 8.144)],
)
def test_error_law_of_two_tapes(angle: float, times: float) -> None:
    """Two equal tapes that meet at an angle give sigma times the root of 2 over its sine; worked by hand."""
    half = angle * pi / 360
    across, down = 100 * sin(half), 100 * sqrt(1 - sin(half) ** 2)
    position = found([tie("a", -across, 0.0, 100), tie("b", across, 0.0, 100)], "south")
    assert float(position.north.inches) == pytest.approx(-down, abs=1e-3)
    assert float(position.rms.inches) == pytest.approx(times, abs=2e-3)


def test_error_is_the_spread_of_many_tapings() -> None:
    """Three hundred tapings with normal slips scatter as far as told, along both axes of the ellipse (simulation)."""
    chance = np.random.default_rng(4)
    marks = [(0.0, 0.0), (200.0, 10.0), (90.0, 150.0)]
    true = (60.0, 40.0)
    sigmas = (0.3, 0.6, 0.4)
    told = found(
        [tie(str(n), *m, hypot(m[0] - 60, m[1] - 40), s) for n, (m, s) in enumerate(zip(marks, sigmas, strict=True))]
    )
    squares = 0.0
    for _ in range(300):
        slipped = [
            tie(str(n), *m, hypot(m[0] - true[0], m[1] - true[1]) + chance.normal(0, s), s)
            for n, (m, s) in enumerate(zip(marks, sigmas, strict=True))
        ]
        at = found(slipped)
        squares += float(at.east.inches - 60) ** 2 + float(at.north.inches - 40) ** 2 if not at.suspects else 0
    assert sqrt(squares / 300) == pytest.approx(float(told.rms.inches), rel=0.1)
    assert float(told.longest.inches) ** 2 + float(told.shortest.inches) ** 2 == pytest.approx(
        float(told.rms.inches) ** 2, rel=0.01
    )


@pytest.mark.parametrize("seed", range(25))
def test_agrees_with_a_plain_search(seed: int) -> None:
    """On random rooms it finds what a search over ever finer grids finds: an optimiser that knows no derivative."""
    chance = np.random.default_rng(seed)
    marks = [(chance.uniform(0, 240), chance.uniform(0, 180)) for _ in range(3 + seed % 4)]
    true = (chance.uniform(0, 240), chance.uniform(0, 180))
    ties = []
    for number, mark in enumerate(marks):
        sigma = chance.uniform(0.2, 0.6)
        distance = max(hypot(mark[0] - true[0], mark[1] - true[1]) + chance.normal(0, sigma), 1.0)
        ties.append(tie(str(number), *mark, distance, sigma))
    position = position_from_ties(ties)
    if isinstance(position, TieRefusal):
        assert position.code in ("ties-flat", "side-needed")
        return
    used = [t for t, residual in zip(ties, position.residuals, strict=True) if residual.used]
    best = _searched(used)
    at = float(position.east.inches), float(position.north.inches)
    assert at == (pytest.approx(best[0], abs=3e-3), pytest.approx(best[1], abs=3e-3))


def _searched(ties: list[TapedTie]) -> tuple[float, float]:
    """Return the point of least squared residuals, by looking at grids of 2 in, then finer round the ten best."""

    def cost(at: tuple[float, float]) -> float:
        return sum(
            ((hypot(at[0] - float(t.mark[0]), at[1] - float(t.mark[1])) - float(t.distance.inches))
             / float(t.sigma.inches)) ** 2 for t in ties
        )  # fmt: skip

    grid = sorted(((float(e), float(n)) for e in range(-60, 301, 3) for n in range(-60, 241, 3)), key=cost)
    best = grid[:10]
    step = 3.0
    while step > 1e-4:
        around = {(e + i * step / 2, n + j * step / 2) for e, n in best for i in range(-2, 3) for j in range(-2, 3)}
        best = sorted(around, key=cost)[:10]
        step /= 2
    return best[0]


@settings(max_examples=60)
@given(
    st.tuples(st.integers(0, 400), st.integers(0, 280)),
    st.lists(st.tuples(st.integers(0, 400), st.integers(0, 280)), min_size=2, max_size=5, unique=True),
)
def test_true_distances_lead_back(at: tuple[int, int], marks: list[tuple[int, int]]) -> None:
    """Whatever the place and the marks: true distances lead back to it on its own side, or the marks are refused."""
    ties = [
        TapedTie(str(n), (Fraction(e), Fraction(m)), Length(Fraction(hypot(e - at[0], m - at[1]))), inches("0.4"))
        for n, (e, m) in enumerate(marks)
        if (e, m) != at
    ]
    sides: list[Side | None] = [None, "north", "south", "east", "west"]
    results = [position_from_ties(ties, side) for side in sides]
    places = [where(result) for result in results if isinstance(result, TiedPosition)]
    if not places:
        assert {r.code for r in results if isinstance(r, TieRefusal)} <= {
            "ties-too-few", "marks-coincide", "ties-flat", "side-needed", "side-blind",
        }  # fmt: skip
    else:
        assert min(hypot(float(e) - at[0], float(n) - at[1]) for e, n in places) < 0.01
        assert all(not r.suspects for r in results if isinstance(r, TiedPosition))


@settings(max_examples=40)
@given(st.integers(20, 200), st.integers(20, 200), st.integers(-300, 300), st.integers(-300, 300))
def test_moved_and_turned_marks_move_and_turn_the_place(r1: int, r2: int, east: int, north: int) -> None:
    """Shifting both marks shifts the place by as much; a quarter turn turns it, and north becomes west."""
    ties = [tie("a", 0, 0, r1), tie("b", 150, 0, r2)]
    here = position_from_ties(ties, "north")
    there = position_from_ties([tie("a", east, north, r1), tie("b", 150 + east, north, r2)], "north")
    turned = position_from_ties([tie("a", 0, 0, r1), tie("b", 0, 150, r2)], "west")
    if isinstance(here, TieRefusal):
        assert isinstance(there, TieRefusal)
        assert isinstance(turned, TieRefusal)
        assert here.code == there.code == turned.code
        return
    assert isinstance(there, TiedPosition)
    assert isinstance(turned, TiedPosition)
    assert where(there) == (here.east.inches + east, here.north.inches + north)
    assert where(turned) == (-here.north.inches, here.east.inches)
    assert here.rms == there.rms == turned.rms


def test_three_ties_at_odds_name_all_three() -> None:
    """Of three ties any two agree, so nobody can tell which is wrong: all are named, and the uncertainty grows."""
    right = [tie("a", 0, 0, 60, "0.3"), tie("b", 100, 0, 80, "0.3"), tie("c", 0, 100, "63.246", "0.3")]
    wrong = [*right[:2], tie("c", 0, 100, "66.246", "0.3")]
    position = found(wrong)
    assert position.suspects == ("a", "b", "c")
    assert all(residual.used for residual in position.residuals)
    assert position.rms.inches > 2 * found(right).rms.inches


def test_of_three_ties_the_one_that_meets_neither_is_named() -> None:
    """Where the third tape is so long that it meets neither circle, only it can be the wrong one, and a side is due."""
    ties = [tie("a", 0, 0, 60), tie("b", 100, 0, 80), tie("c", 0, 100, 300)]
    assert refused(ties) == "side-needed"
    position = found(ties, "north")
    assert position.suspects == ("c",)
    assert where(position) == (36, 48)
    assert [residual.used for residual in position.residuals] == [True, True, False]
    assert float(position.residuals[2].off.inches) == pytest.approx(300 - 63.2456, abs=1e-3)


@pytest.mark.parametrize("bad", range(5))
def test_of_five_ties_the_wrong_one_is_named_and_left_out(bad: int) -> None:
    """A foot misread on one of five tapes: the other four agree, so it is named, and the place is theirs."""
    marks = [(0, 0), (200, 0), (200, 150), (0, 150), (110, 148)]
    ties = [
        tie(f"mark {n}", *m, hypot(m[0] - 80, m[1] - 60) + (12.0 if n == bad else 0.0), 0.4)
        for n, m in enumerate(marks)
    ]
    position = found(ties)
    assert position.suspects == (f"mark {bad}",)
    assert where(position) == (pytest.approx(80, abs=2e-3), pytest.approx(60, abs=2e-3))
    assert float(position.residuals[bad].off.inches) == pytest.approx(12, abs=0.01)


def test_ties_to_opposite_corners_cover_for_one_another() -> None:
    """One tape too long and the opposite one too short look much the same, so both are named and neither left out."""
    marks = [(0, 0), (200, 0), (200, 150), (0, 150)]
    ties = [tie(str(n), *m, hypot(m[0] - 80, m[1] - 60) + (12.0 if n == 1 else 0.0), 0.4) for n, m in enumerate(marks)]
    position = found(ties)
    assert position.suspects == ("1", "3")
    assert all(residual.used for residual in position.residuals)


def test_slips_within_taping_error_are_no_disagreement() -> None:
    """Half an inch off on tapes good for 0.4 in names nobody."""
    marks = [(0, 0), (200, 0), (200, 150), (0, 150)]
    slips = (0.5, -0.4, 0.3, 0.5)
    ties = [tie(str(n), *m, hypot(m[0] - 80, m[1] - 60) + slips[n], 0.4) for n, m in enumerate(marks)]
    assert found(ties).suspects == ()


def test_three_marks_in_line_still_need_a_side() -> None:
    """Three marks along one wall mirror the place as two do; the side settles it, and the third still proves."""
    ties = [tie("a", 0, 0, 50), tie("b", 60, 0, 50), tie("c", 100, 0, sqrt(70**2 + 40**2))]
    assert refused(ties) == "side-needed"
    position = found(ties, "south")
    assert where(position) == (pytest.approx(30, abs=2e-3), pytest.approx(-40, abs=2e-3))
    assert position.proven


@pytest.mark.parametrize(
    ("ties", "side", "code"),
    [
        ([], None, "ties-too-few"),
        ([("a", 0, 0, 60)], "north", "ties-too-few"),
        ([("a", 0, 0, 60), ("b", 0, 0, 60)], "north", "marks-coincide"),
        ([("a", 0, 0, 60), ("b", "0.5", "0.5", 61)], "north", "marks-coincide"),
        ([("a", 0, 0, 60), ("b", 100, 0, 30)], "north", "ties-apart"),
        ([("a", 0, 0, 160), ("b", 100, 0, 30)], "north", "ties-apart"),
        ([("a", 0, 0, 60), ("b", 100, 0, 38)], "north", "ties-flat"),
        ([("a", 0, 0, 60), ("b", 100, 0, 40)], "north", "ties-flat"),
        ([("a", 0, 0, 60), ("b", 100, 0, "40.1")], "north", "ties-flat"),
        ([("a", 0, 0, 160), ("b", 100, 0, 60)], "north", "ties-flat"),
        ([("a", 0, 0, 60), ("b", 100, 0, 80)], None, "side-needed"),
        ([("a", 0, 0, 60), ("b", 100, 0, 80)], "east", "side-blind"),
        ([("a", 0, 0, 60), ("b", 0, 100, 80)], "north", "side-blind"),
        ([("a", 0, 0, 60), ("b", 100, 0, 80), ("c", 0, 100, "63.246")], "south", "side-contradicts"),
    ],
)
def test_ties_that_lead_nowhere_are_refused(ties: list[tuple[object, ...]], side: Side | None, code: str) -> None:
    """Too few, marks at one place, circles that never meet or graze, a mirror without a side: told, not raised."""
    assert refused([tie(*values) for values in ties], side) == code  # type: ignore[arg-type]


def test_grazing_tapes_are_told_by_how_much_they_miss() -> None:
    """The message gives the gap and both names."""
    refusal = position_from_ties([tie("corner", 0, 0, 60), tie("column", 100, 0, 30)])
    assert isinstance(refusal, TieRefusal)
    assert refusal.says == "the tapes from corner and column never meet: 10\u2033 is missing"
    metric = position_from_ties([tie("corner", 0, 0, 60), tie("column", 100, 0, 30)], tape=Tape("metric"))
    assert isinstance(metric, TieRefusal)
    assert metric.says == "the tapes from corner and column never meet: 254\u00a0mm is missing"


def test_a_distance_of_nothing_is_our_own_bug() -> None:
    """Read has refused it long before, so it is raised."""
    with pytest.raises(ValueError, match="more than nothing"):
        position_from_ties([tie("a", 0, 0, 0), tie("b", 9, 0, 9)])


def test_order_of_the_ties_changes_nothing() -> None:
    """The same ties in another order lead to the same place, and arguments are left alone."""
    marks = [(0, 0), (200, 0), (200, 150), (0, 150)]
    ties = [tie(str(n), *m, hypot(m[0] - 80, m[1] - 60) + n / 8, 0.4) for n, m in enumerate(marks)]
    kept = list(ties)
    one, other = found(ties), found(ties[::-1])
    assert (one.east, one.north, one.rms) == (other.east, other.north, other.rms)
    assert ties == kept


def test_longer_tapes_are_less_sure() -> None:
    """A quarter inch, and a quarter of a percent: 1 in at 25 ft; common practice."""
    assert taping_sigma(inches(300)) == inches(1)
    assert taping_sigma(inches(40)) == inches("0.35")

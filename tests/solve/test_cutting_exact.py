"""Cutting plans against two independent exact solvers, and what has to hold of every plan."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from functools import cache
from math import ceil
from random import Random

import highspy
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from bookgen.model.cutting import Aim, CuttingPlan, Piece, Proof, SawRules, Stick
from bookgen.model.length import Length
from bookgen.solve.takeoff.compare import saved_on_sticks
from bookgen.solve.takeoff.cutting import plan_cuts
from bookgen.solve.takeoff.fill import fill, least_cost, sums_of, tidy
from bookgen.solve.takeoff.ticks import job_of

EIGHTH = Fraction(1, 8)
HALF = Fraction(1, 2)
Asked = list[tuple[Fraction, int]]
Job = tuple[Asked, list[int], Fraction, int, bool]  # pieces, sticks of the yard, saw, ends, whether all have a price
Yard = list[tuple[Fraction, Fraction]]  # length, price


def _plan(asked: Asked, yard: Yard, kerf: Fraction, by_cost: bool) -> CuttingPlan:
    pieces = [Piece(Length(length), count, f"piece {number}") for number, (length, count) in enumerate(asked)]
    sticks = [Stick(Length(length), price if by_cost else None) for length, price in yard]
    return plan_cuts(pieces, sticks, SawRules(kerf=Length(kerf)))


def _least_by_exhaustion(asked: Asked, yard: Yard, kerf: Fraction, by_cost: bool) -> Fraction:
    """Return the least value of all plans: the longest piece left goes with every set of others that fits a stick."""

    def fits(pieces: tuple[Fraction, ...], stick: Fraction) -> bool:
        return sum(pieces) + kerf * (len(pieces) - 1) <= stick

    @cache
    def least(left: tuple[Fraction, ...]) -> Fraction:
        if not left:
            return Fraction(0)
        best = None
        for chosen in range(1 << (len(left) - 1)):
            on = (left[0], *(piece for number, piece in enumerate(left[1:]) if chosen >> number & 1))
            costs = [price if by_cost else length for length, price in yard if fits(on, length)]
            if costs:
                rest = tuple(piece for number, piece in enumerate(left[1:]) if not chosen >> number & 1)
                total = min(costs) + least(rest)
                best = total if best is None else min(best, total)
        assert best is not None
        return best

    return least(tuple(sorted((length for length, count in asked for _ in range(count)), reverse=True)))


def _least_by_arcs(asked: Asked, yard: Yard, kerf: Fraction, by_cost: bool) -> Fraction:
    """Return the least value by arc flow (Valerio de Carvalho, 1999): sticks are paths over half inches.

    No pattern is listed and no worth is used: pieces are arcs from tick to tick, and every stick one unit of flow.
    """
    weights = [int((length + kerf) * 2) for length, _ in asked]
    room = [int((length + kerf) * 2) for length, _ in yard]
    ticks = range(max(room) + 1)
    solver = highspy.Highs()
    solver.silent()
    flow: dict[int, list[tuple[int, highspy.highs.highs_var]]] = {tick: [] for tick in ticks}
    made = []
    for weight, (_, count) in zip(weights, asked, strict=True):
        arcs = []
        for tick in ticks:
            if tick + weight <= max(room):
                arc = solver.addIntegral(0, count)
                flow[tick].append((-1, arc))
                flow[tick + weight].append((1, arc))
                arcs.append(arc)
        made.append(sum(arcs))
    for tick in ticks[:-1]:
        waste = solver.addVariable(0)
        flow[tick].append((-1, waste))
        flow[tick + 1].append((1, waste))
    total = 0
    for end, (length, price) in zip(room, yard, strict=True):
        bought = solver.addIntegral(0, obj=0)
        flow[end].append((-1, bought))
        flow[0].append((1, bought))
        total += bought * float(price if by_cost else length)
    for arcs in flow.values():
        solver.addConstr(sum(sign * arc for sign, arc in arcs) == 0)
    for row, (_, count) in zip(made, asked, strict=True):
        solver.addConstr(row >= count)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.minimize(total)
    assert solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return Fraction(round(solver.getObjectiveValue() * 100), 100)


def _random(random: Random, most: int, different: int, step: int) -> tuple[Asked, Yard]:
    yard = sorted(random.sample([96, 120, 144, 168, 192], random.randrange(1, 4)))
    lengths = [Fraction(random.randrange(6 * step, min(yard) * step), step) for _ in range(different)]
    asked = Counter(random.choice(lengths) for _ in range(most))
    return list(asked.items()), [(Fraction(y), Fraction(round(y * (3 + random.random())), 100)) for y in yard]


@pytest.mark.parametrize("seed", range(60))
def test_small_jobs_are_solved_to_the_optimum(seed: int) -> None:
    """Nine pieces at random, by length and by price, cost what a search through every plan says."""
    random = Random(seed)
    asked, yard = _random(random, 9, random.randrange(2, 10), 8)
    for by_cost in (False, True):
        plan = _plan(asked, yard, EIGHTH, by_cost)
        assert plan.value == _least_by_exhaustion(asked, yard, EIGHTH, by_cost)
        assert plan.proof is not Proof.OPEN


@pytest.mark.parametrize("seed", range(6))
def test_middling_jobs_are_solved_to_the_optimum(seed: int) -> None:
    """Thirty pieces of six lengths at random, cut by a thick saw, cost what an integer program of another kind says."""
    random = Random(seed)
    asked, yard = _random(random, 30, 6, 1)
    for by_cost in (False, True):
        plan = _plan(asked, yard, HALF, by_cost)
        best = _least_by_arcs(asked, yard, HALF, by_cost)
        assert plan.bound <= best <= plan.value
        assert plan.value == best


LENGTHS = st.fractions(min_value=1, max_value=100, max_denominator=64)
JOBS = st.tuples(
    st.lists(st.tuples(LENGTHS, st.integers(1, 12)), min_size=1, max_size=8),
    st.lists(st.sampled_from([72, 96, 101, 144, 192]), min_size=1, max_size=4, unique=True),
    st.sampled_from([Fraction(0), EIGHTH, Fraction(3, 32)]),
    st.sampled_from([0, 1, 2]),
    st.booleans(),
)


# Found by the test: first fit decreasing on 101 in sticks did better than what the search, cut short, had come to.
FOUND = (
    [
        (Fraction(263, 12), 12), (Fraction(1), 12), (Fraction(32), 1), (Fraction(16), 10),
        (Fraction(1586, 17), 4), (Fraction(29, 8), 6), (Fraction(193, 58), 9),
    ],
    [101, 192], Fraction(0), 0, False,
)  # fmt: skip


@settings(max_examples=12)
@example(FOUND)
@given(JOBS)
def test_every_plan_holds(job: Job) -> None:
    """All pieces are made once, no stick is overfull, lengths add up, and the plain way is never better."""
    assert_plan_holds(job)


@pytest.mark.long
@settings(max_examples=1000)
@given(JOBS)
def test_every_plan_of_a_thousand_holds(job: Job) -> None:
    """The same over a thousand jobs."""
    assert_plan_holds(job)


def assert_plan_holds(job: Job) -> None:
    """Check the plan of one job, piece by piece and stick by stick, and against the plain way."""
    asked, yard, kerf, ends, priced = job
    rules = SawRules(Length(kerf), Length(Fraction(1, 4)), ends)
    pieces = [Piece(Length(length), count, f"p{number % 3}") for number, (length, count) in enumerate(asked)]
    sticks = [Stick(Length(Fraction(y)), Fraction(y * 7 % 50 + 3) if priced else None) for y in yard]
    plan = plan_cuts(pieces, sticks, rules)

    wanted = Counter[tuple[Length, str]]()
    for piece in pieces:
        wanted[piece.length, piece.label] += piece.count
    made = Counter[tuple[Length, str]]()
    for row in plan.sticks:
        for cut in row.cuts:
            assert sum(share.count for share in cut.shares) == row.count
            for share in cut.shares:
                made[cut.length, share.label] += share.count
    for lost in plan.impossible:
        made[lost.piece.length, lost.piece.label] += lost.piece.count
        assert lost.piece.length > max(rules.usable(stick.length) for stick in sticks)
    assert made == wanted

    for row in plan.sticks:
        used = row.used().inches + kerf * (len(row.cuts) - 1)
        assert used <= rules.usable(row.stick.length).inches
        assert row.stick.length == row.trimmed + row.used() + row.sawn + row.left
        assert row.sawn.inches <= kerf * len(row.cuts)
    assert plan.bound <= plan.value
    assert (plan.gap() == 0) == (plan.proof is not Proof.OPEN)
    assert plan.value == (plan.cost() if plan.aim is Aim.COST else plan.bought().inches)
    assert saved_on_sticks(pieces, sticks, rules, plan).saved() >= 0


@settings(max_examples=60)
@given(st.lists(st.tuples(st.integers(1, 40), st.integers(1, 5)), min_size=1, max_size=6), st.integers(1, 90))
def test_sums_are_those_of_the_pieces(items: list[tuple[int, int]], capacity: int) -> None:
    """The row of bits knows just the sums that the pieces can make, and names pieces that make each."""
    listed = [(number, weight, count) for number, (weight, count) in enumerate(items)]
    possible = {0}
    for _, weight, count in listed:
        possible = {base + weight * times for base in possible for times in range(count + 1)}
    sums = sums_of(listed, capacity)
    reached = {total for total in range(capacity + 1) if sums.rows[-1] >> total & 1}
    assert reached == {total for total in possible if total <= capacity}
    for total in reached:
        chosen = dict(sums.pieces(total))
        assert sum(items[number][0] * count for number, count in chosen.items()) == total
        assert all(count <= items[number][1] for number, count in chosen.items())


@pytest.mark.parametrize("seed", range(4))
def test_big_jobs_stay_within_one_stick_of_the_bound(seed: int) -> None:
    """600 pieces of 40 lengths from 8 stick lengths come within one stick of the bound, and so do 300 all different."""
    random = Random(seed)
    yard = [Fraction(12 * feet) for feet in (8, 9, 10, 12, 14, 16, 18, 20)]
    prices = [(y, Fraction(round(y * (3 + random.random())), 100)) for y in yard]
    for most, different in ((600, 40), (300, 10_000)):
        lengths = [Fraction(random.randrange(8 * 16, 190 * 16), 16) for _ in range(min(most, different))]
        asked = list(
            Counter(
                random.choice(lengths) if different < most else one for one in lengths * ceil(most / len(lengths))
            ).items()
        )
        plan = _plan(asked, prices, EIGHTH, by_cost=bool(seed % 2))
        assert sum(row.count * len(row.cuts) for row in plan.sticks) == most
        assert plan.value - plan.bound <= (max(price for _, price in prices) if seed % 2 else 240)


def test_tidy_drops_what_nobody_asked_for() -> None:
    """A piece made once too often is taken off, and its stick becomes the shortest that holds the rest."""
    pieces = [Piece(Length(Fraction(40)), 3, "rung")]
    job, _ = job_of(pieces, [Stick(Length(Fraction(y))) for y in (48, 96)], SawRules())
    assert job is not None
    plan = fill(job, [4])
    assert sorted((job.sticks[p.stick].length.inches, n) for p, n in plan.items()) == [(96, 2)]
    tidied = tidy(job, plan)
    assert sorted((job.sticks[p.stick].length.inches, n) for p, n in tidied.items()) == [(48, 1), (96, 1)]
    assert least_cost(job) <= sum(job.costs[p.stick] * n for p, n in tidied.items())

"""The tables, patterns and linear program behind cutting plans, against plain enumeration."""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from math import ceil
from random import Random

import highspy
import pytest

from bookgen.model.cutting import NOTHING, Piece, Proof, SawRules, Stick
from bookgen.model.length import inches
from bookgen.solve.takeoff import columns
from bookgen.solve.takeoff.fill import cost_of, fill, plain, tidy
from bookgen.solve.takeoff.patterns import Effort, every_pattern, worth_of
from bookgen.solve.takeoff.ticks import Job, Pattern, job_of
from bookgen.solve.takeoff.worths import SCALE, first_worths

# Eleven pieces of 39 in and one of 1 in: the bound is 22 of these units of 24 in, the best plan takes 24.
SEARCHED = ({39: 11, 1: 1}, (72, 192))


def _job(demands: dict[int, int], sticks: tuple[int, ...], kerf: str = "0") -> Job:
    pieces = [Piece(inches(length), count, "piece") for length, count in demands.items()]
    job, _ = job_of(pieces, [Stick(inches(length)) for length in sticks], SawRules(kerf=inches(kerf)))
    assert job is not None
    return job


def _all_counts(job: Job, stick: int) -> list[tuple[int, ...]]:
    """Return every way to put asked-for pieces on a stick, by trying all counts."""
    return [
        counts
        for counts in product(*(range(demand + 1) for demand in job.demands))
        if sum(map(int.__mul__, counts, job.weights)) <= job.capacities[stick]
    ]


def _dense(job: Job, pattern: Pattern) -> tuple[int, ...]:
    return tuple(dict(pattern.counts).get(item, 0) for item in range(len(job.weights)))


def _random_job(seed: int) -> tuple[Job, list[int], Random]:
    random = Random(seed)
    demands = {length: random.randrange(1, 4) for length in random.sample(range(5, 60), 5)}
    job = _job(demands, (60, 96), "1/8" if seed % 2 else "0")
    return job, [random.randrange(0, 50) for _ in job.weights], random


@pytest.mark.parametrize("seed", range(20))
def test_the_table_knows_the_most_worth(seed: int) -> None:
    """The table's best worth, and the pattern it names, are those of trying all counts."""
    job, values, _ = _random_job(seed)
    worth = worth_of(job, values)
    for stick in range(len(job.sticks)):
        counts = _all_counts(job, stick)
        assert worth.best(stick) == max(sum(map(int.__mul__, one, values)) for one in counts)
        named = _dense(job, worth.pattern(stick))
        assert named in counts
        assert sum(map(int.__mul__, named, values)) == worth.best(stick)


@pytest.mark.parametrize("seed", range(20))
def test_every_pattern_is_found(seed: int) -> None:
    """The search finds just the patterns worth enough that no asked-for piece can be added to."""
    job, values, random = _random_job(seed)
    worth = worth_of(job, values)
    for stick in range(len(job.sticks)):
        counts = set(_all_counts(job, stick))
        least = random.randrange(worth.best(stick) + 1)
        full = {
            one
            for one in counts
            if sum(map(int.__mul__, one, values)) >= least
            and not any((*one[:n], one[n] + 1, *one[n + 1 :]) in counts for n in range(len(one)))
        }
        effort = Effort(1_000_000)
        found = [_dense(job, pattern) for pattern in every_pattern(worth, stick, least, effort)]
        assert sorted(found) == sorted(full)
        assert effort.steps >= 0


def test_a_search_that_ends_early_says_so() -> None:
    """A spent effort is below nothing, so that nobody takes the list for complete."""
    job, values, _ = _random_job(0)
    effort = Effort(3)
    list(every_pattern(worth_of(job, values), 1, 0, effort))
    assert effort.steps < 0


@pytest.mark.parametrize("seed", range(20))
def test_patterns_above_are_above(seed: int) -> None:
    """Patterns offered to the linear program fit, hold no more than asked, and are worth more than their stick."""
    job, values, _ = _random_job(seed)
    worth = worth_of(job, values)
    least = [worth.best(stick) * 2 // 3 for stick in range(len(job.sticks))]
    found = worth.above(least, 5)
    assert found
    assert len(found) <= 5 + len(job.sticks)
    assert any(sum(map(int.__mul__, _dense(job, p), values)) == worth.best(p.stick) for p in found)
    for pattern in found:
        assert _dense(job, pattern) in _all_counts(job, pattern.stick)
        assert sum(map(int.__mul__, _dense(job, pattern), values)) > least[pattern.stick]


@pytest.mark.parametrize("wide", [80, 2])
@pytest.mark.parametrize("seed", range(10))
def test_the_bound_is_that_of_the_whole_linear_program(seed: int, wide: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Column generation ends at the value over all patterns; for a job of many lengths it may stop a stick earlier."""
    monkeypatch.setattr(columns, "WIDE", wide)
    job, _, _ = _random_job(seed)
    solver = highspy.Highs()
    solver.silent()
    use = {
        (stick, counts): solver.addVariable(0, obj=float(cost))
        for stick, cost in enumerate(job.costs)
        for counts in _all_counts(job, stick)
    }
    for item, demand in enumerate(job.demands):
        solver.addConstr(sum(counts[item] * amount for (_, counts), amount in use.items()) >= demand)
    solver.run()
    whole = solver.getInfo().objective_function_value
    first = tidy(job, fill(job, job.demands))
    bound = columns.relax(job, first).bound
    assert bound <= whole + 1e-6
    if wide == 80:
        assert bound >= min(whole - 0.01, cost_of(job, first) - 1)
    else:
        assert bound >= min(whole - 0.5, cost_of(job, first) - max(job.costs) - 1)


@pytest.mark.parametrize("seed", range(20))
def test_first_worths_hold_where_no_stick_takes_three(seed: int) -> None:
    """No stick holds more worth than it costs, though a piece too long for the cheapest is worth more than its wood."""
    random = Random(seed)
    demands = {length: random.randrange(1, 4) for length in random.sample(range(20, 170), 8)}
    pieces = [Piece(inches(length), count, "piece") for length, count in demands.items()]
    prices = (300, random.randrange(401, 500), random.randrange(561, 700))
    sticks = [Stick(inches(length), Fraction(price)) for length, price in zip((96, 120, 170), prices, strict=True)]
    job, _ = job_of(pieces, sticks, SawRules())
    assert job is not None

    values = first_worths(job)
    worth = worth_of(job, values)

    for stick, cost in enumerate(job.costs):
        assert worth.best(stick) <= cost * SCALE + len(values)
    wood = min(Fraction(cost, capacity) for cost, capacity in zip(job.costs, job.capacities, strict=True)) * SCALE
    assert all(value > wood * weight - weight for value, weight in zip(values, job.weights, strict=True))
    if max(job.weights) > job.capacities[job.best_buy()]:
        assert values[0] > wood * job.weights[0]


def test_a_search_to_the_end_proves_a_plan_above_its_bound() -> None:
    """Where the bound stays under every plan, the search over all useful patterns is the proof."""
    job = _job(*SEARCHED)
    plan, bound, proof = columns.least_cost_plan(job, plain(job)[0])
    assert (cost_of(job, plan), bound, proof) == (24, 24, Proof.SEARCH)
    assert ceil(columns.relax(job, plain(job)[0]).bound) == 22


def test_a_search_that_is_not_finished_proves_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """A branch and bound cut short leaves the plan open, with the bound it has."""
    monkeypatch.setattr(columns, "_integer", lambda _job, _patterns, start, _target: (dict(start), False))
    monkeypatch.setattr(columns, "_rounded", lambda _job, _relaxed: [])
    job = _job(*SEARCHED)
    plan, bound, proof = columns.least_cost_plan(job, plain(job)[0])
    assert (cost_of(job, plan), bound, proof) == (33, 22, Proof.OPEN)


def test_a_solver_that_contradicts_itself_is_not_believed(monkeypatch: pytest.MonkeyPatch) -> None:
    """An objective that is not that of the plan told with it proves nothing, and the plan is not taken."""
    model = columns._model

    def cheap(job: Job, patterns: list[Pattern]) -> highspy.HighsLp:
        wrong = model(job, patterns)
        wrong.col_cost_ = wrong.col_cost_ / 3
        return wrong

    monkeypatch.setattr(columns, "_model", cheap)
    monkeypatch.setattr(columns, "_rounded", lambda _job, _relaxed: [])
    job = _job(*SEARCHED)
    plan, _, proof = columns.least_cost_plan(job, plain(job)[0])
    assert (cost_of(job, plan), proof) == (33, Proof.OPEN)


def test_a_place_that_is_not_needed_goes_to_the_next_shorter_piece() -> None:
    """Places of a pattern are taken by pieces still missing, each no longer than its place, or not at all."""
    pattern = Pattern(0, ((0, 2), (2, 1)))
    assert columns._served(pattern, [2, 5, 1]) == ((0, 2), (2, 1))
    assert columns._served(pattern, [1, 5, 1]) == ((0, 1), (1, 1), (2, 1))
    assert columns._served(pattern, [0, 1, 2]) == ((1, 1), (2, 2))
    assert columns._served(pattern, [5, 5, 0]) is None


def test_a_refusal_of_the_solver_is_our_own_bug() -> None:
    """What the solver will not run raises, for its worths would be nothing."""

    class Refusing:
        def run(self) -> highspy.HighsStatus:
            return highspy.HighsStatus.kError

    with pytest.raises(RuntimeError, match="refused"):
        columns._run(Refusing())  # type: ignore[arg-type]


def test_first_fit_fills_a_stick_to_its_end() -> None:
    """Two pieces that end a stick just so share it, and the longest comes first."""
    job = _job({48: 2, 30: 1, 66: 1}, (96,))
    (plan,) = plain(job)
    assert sorted(_dense(job, pattern) for pattern in plan) == [(0, 2, 0), (1, 0, 1)]


def test_kerf_and_trim_default_to_no_trim() -> None:
    """A saw takes 1/8 in where nothing else is said, and sticks are used to their ends."""
    assert (SawRules().kerf.inches, SawRules().trimmed()) == (Fraction(1, 8), NOTHING)

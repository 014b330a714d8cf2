"""A cutting job and a first plan in, the least-cost plan out, with a bound that no plan can beat.

Column generation (Gilmore and Gomory, 1961): the linear program over known patterns gives each piece a worth; the
table of worths gives better patterns, until there are none. Its bound is worked out again in whole numbers from the
worths (Farley, 1990), so it does not hang on the solver's rounding. An integer program over the patterns found then
gives a plan; where that stays above the bound, every pattern that a better plan could use is listed (there are few
when the gap is small) and the integer program over those decides.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil, floor

import highspy
import numpy as np

from bookgen.model.cutting import Proof
from bookgen.model.frozen import dataclass
from bookgen.solve.takeoff.fill import Plan, cost_of, fill, tidy
from bookgen.solve.takeoff.patterns import Effort, Worth, every_pattern, worth_of
from bookgen.solve.takeoff.ticks import Job, Pattern
from bookgen.solve.takeoff.worths import SCALE, first_worths, quiet_solver

PIVOTS = 20_000  # of the linear program in all; houses need a few hundred
MANY = 100  # patterns are added to the linear program at a time
WORK = 250_000  # of branch and bound, as nodes x patterns x lengths: no clock, so every machine gives the same plan
SIZE = 15_000  # patterns x lengths of the largest integer program
WIDE = 80  # different lengths; with more, a plan within one stick of the bound is let be
TAIL = Fraction(1, 2)  # of a stick
FEW = 600  # patterns that a better plan could use, to be searched to the end
STEPS = 60_000  # of the search for every pattern
ROUND_UP = (0.9999, 0.95, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2)  # from which part of a stick on is it bought whole?
PRIMAL = 4  # the solver's number for the primal simplex method
SURE = Fraction(1, 1000)  # of a unit: a gain smaller than this is the solver's rounding


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The linear program at its end: its patterns, how much of each it uses, the best worths seen and their bound.

    *rate* turns worths into cost: no stick holds more worth than rate times its cost. *bound* is in units.
    """

    patterns: tuple[Pattern, ...]
    use: tuple[float, ...]
    worth: Worth
    rate: Fraction
    bound: Fraction


def least_cost_plan(job: Job, first: Plan) -> tuple[dict[Pattern, int], Fraction, Proof]:
    """Return a plan no worse than *first*, the bound in units and how good the plan is known to be.

    Pieces may be made more often than asked: `tidy` takes them off.
    """
    relaxed = relax(job, first)
    bound = ceil(relaxed.bound)  # costs are whole units
    plan = min((dict(first), *_rounded(job, relaxed)), key=lambda p: cost_of(job, p))
    if cost_of(job, plan) > bound:
        plan, _ = _integer(job, (*relaxed.patterns, *plan), plan, bound)
    if cost_of(job, plan) > bound:
        useful = _useful(job, relaxed, cost_of(job, plan) - 1)
        if useful is not None:
            plan, finished = _integer(job, (*useful, *plan), plan, bound)
            if finished and cost_of(job, plan) > bound:
                return plan, Fraction(cost_of(job, plan)), Proof.SEARCH
    return plan, Fraction(bound), Proof.BOUND if cost_of(job, plan) <= bound else Proof.OPEN


def relax(job: Job, first: Plan) -> Relaxed:
    """Return the linear program over all patterns, or as much of it as shows that *first* is good enough.

    The worths tried lie between those of the linear program and the best seen (Wentges, 1997), which start as the
    plain worth of the wood: else they swing widely and the bound comes late.
    """
    master = _master(job)
    patterns: dict[Pattern, None] = {}
    _add(master, job, patterns, (*first, *_singles(job)))
    best = _relaxed(job, patterns, (), first_worths(job))
    least = [ceil((cost + SURE) * SCALE) for cost in job.costs]
    goal, pivots = _good_enough(job, first), 0
    while True:
        _run(master)
        found, pivots = master.getSolution(), pivots + master.getInfo().simplex_iteration_count
        near = master.getInfo().objective_function_value <= best.bound + _tail(job)
        values = [max(0, round(dual * SCALE)) for dual in found.row_dual]
        between = [(4 * held + value) // 5 for held, value in zip(best.worth.values, values, strict=True)]
        for tried in (between, values):
            seen = _relaxed(job, patterns, (), tried)
            best = max(best, seen, key=lambda r: r.bound)
            new = [
                pattern
                for pattern in seen.worth.above(least, MANY)
                if sum(values[item] * count for item, count in pattern.counts) > least[pattern.stick]
            ]
            if new:
                break
        if not new or near or ceil(best.bound) >= goal or pivots > PIVOTS:
            return replace(best, patterns=tuple(patterns), use=tuple(found.col_value[_trades(job) :]))
        _add(master, job, patterns, new)


def _relaxed(job: Job, patterns: Iterable[Pattern], use: Iterable[float], values: Sequence[int]) -> Relaxed:
    worth = worth_of(job, values)
    rate = max(Fraction(worth.best(stick), cost) for stick, cost in enumerate(job.costs))
    total = sum(value * demand for value, demand in zip(values, job.demands, strict=True))
    return Relaxed(tuple(patterns), tuple(use), worth, rate, total / rate)


def _good_enough(job: Job, plan: Plan) -> int:
    """Return the bound at which the search stops: that of the plan, or one stick less where it would take long."""
    return cost_of(job, plan) - (max(job.costs) if len(job.weights) > WIDE else 0)


def _tail(job: Job) -> Fraction:
    """Return how near its bound a linear program over many lengths may come to rest, for its end is slow."""
    return TAIL * max(job.costs) if len(job.weights) > WIDE else Fraction(0)


def _run(solver: highspy.Highs) -> None:
    if solver.run() == highspy.HighsStatus.kError:
        raise RuntimeError("the solver refused a cutting job")


def _master(job: Job) -> highspy.Highs:
    master = quiet_solver()
    master.setOptionValue("simplex_strategy", PRIMAL)  # new columns leave the last solution feasible
    for demand in job.demands:
        master.addRow(float(demand), highspy.kHighsInf, 0, np.empty(0, np.int32), np.empty(0))
    for longer in range(_trades(job)):
        rows, counts = np.array([longer, longer + 1], dtype=np.int32), np.array([-1.0, 1.0])
        master.addCol(0.0, 0.0, highspy.kHighsInf, 2, rows, counts)
    return master


def _trades(job: Job) -> int:
    """Return how many columns let a longer piece stand for the next shorter one.

    They keep the worths in the order of the lengths (Valerio de Carvalho, 2005), which a job of many lengths needs to
    come to an end; a bound with them is still a bound.
    """
    return len(job.weights) - 1 if len(job.weights) > WIDE else 0


def _singles(job: Job) -> list[Pattern]:
    """Return, for each piece, the longest stick filled with it alone: so every piece is made by some pattern."""
    return [Pattern(len(job.sticks) - 1, ((item, job.most(item)),)) for item in range(len(job.weights))]


def _add(master: highspy.Highs, job: Job, patterns: dict[Pattern, None], new: Iterable[Pattern]) -> None:
    for pattern in new:
        if pattern not in patterns:
            patterns[pattern] = None
            rows = np.array([item for item, _ in pattern.counts], dtype=np.int32)
            counts = np.array([float(count) for _, count in pattern.counts])
            master.addCol(float(job.costs[pattern.stick]), 0.0, highspy.kHighsInf, len(rows), rows, counts)


def _rounded(job: Job, relaxed: Relaxed) -> list[dict[Pattern, int]]:
    """Return plans made from the linear one: whole sticks are kept, and the pieces still missing are filled anew.

    A place on a stick that its own length no longer needs is taken by the next shorter one that is missing.
    """
    order = sorted(zip(relaxed.patterns, relaxed.use, strict=True), key=lambda row: -row[1])
    plans = []
    for up in ROUND_UP:
        plan, left = Counter[Pattern](), list(job.demands)
        for pattern, use in order:
            for _ in range(floor(use + 1 - up)):
                counts = _served(pattern, left)
                if counts is None:
                    break
                plan[Pattern(pattern.stick, counts)] += 1
                for item, count in counts:
                    left[item] -= count
        plan.update(fill(job, left))
        plans.append(tidy(job, plan))
    return plans


def _served(pattern: Pattern, left: Sequence[int]) -> tuple[tuple[int, int], ...] | None:
    """Return the pieces still missing that take the places of a pattern; None where a place would stay empty."""
    counts: Counter[int] = Counter()
    for item, count in pattern.counts:
        for _ in range(count):
            free = next((n for n in range(item, len(left)) if left[n] > counts[n]), None)
            if free is None:
                return None
            counts[free] += 1
    return tuple(sorted(counts.items()))


def _useful(job: Job, relaxed: Relaxed, most: int) -> list[Pattern] | None:
    """Return every pattern that a plan of at most *most* units can use, or None where they are too many."""
    spare, effort, found = most - relaxed.bound, Effort(STEPS), list[Pattern]()
    for stick, cost in enumerate(job.costs):
        for pattern in every_pattern(relaxed.worth, stick, ceil(relaxed.rate * (cost - spare)), effort):
            found.append(pattern)
            if len(found) > FEW:
                return None
    return found if effort.steps >= 0 else None


def _integer(job: Job, patterns: Iterable[Pattern], start: Plan, target: int) -> tuple[dict[Pattern, int], bool]:
    """Return the cheapest plan over *patterns*, at worst *start*, and whether nothing cheaper exists over them."""
    columns = list(dict.fromkeys(patterns))
    size = len(columns) * len(job.demands)
    if size > SIZE:
        return dict(start), False
    solver = quiet_solver()
    for option, value in (("mip_rel_gap", 0.0), ("mip_abs_gap", 0.99), ("mip_max_nodes", WORK // size)):
        solver.setOptionValue(option, value)
    solver.setOptionValue("objective_target", float(target) + 0.5)
    solver.passModel(_model(job, columns))
    # The start is not handed to the solver: highspy 1.16, whose presolve empties a small model, then calls it the best.
    _run(solver)
    times = [round(value) for value in solver.getSolution().col_value]
    plan = {pattern: count for pattern, count in zip(columns, times, strict=True) if count > 0}
    told = solver.getInfo().objective_function_value
    if not _makes_all(job, plan) or abs(told - cost_of(job, plan)) > 0.5:
        return dict(start), False
    finished = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return (plan if cost_of(job, plan) < cost_of(job, start) else dict(start)), finished


def _makes_all(job: Job, plan: Plan) -> bool:
    made = [0] * len(job.demands)
    for pattern, times in plan.items():
        for item, count in pattern.counts:
            made[item] += count * times
    return all(count >= demand for count, demand in zip(made, job.demands, strict=True))


def _model(job: Job, columns: Sequence[Pattern]) -> highspy.HighsLp:
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(columns), len(job.demands)
    model.col_cost_ = np.array([float(job.costs[pattern.stick]) for pattern in columns])
    model.col_lower_ = np.zeros(len(columns))
    model.col_upper_ = np.full(len(columns), highspy.kHighsInf)
    model.row_lower_ = np.array([float(demand) for demand in job.demands])
    model.row_upper_ = np.full(len(job.demands), highspy.kHighsInf)
    model.integrality_ = [highspy.HighsVarType.kInteger] * len(columns)
    model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    starts = np.cumsum([0, *(len(pattern.counts) for pattern in columns)])
    model.a_matrix_.start_ = starts.astype(np.int32)
    model.a_matrix_.index_ = np.array([item for p in columns for item, _ in p.counts], dtype=np.int32)
    model.a_matrix_.value_ = np.array([float(count) for p in columns for _, count in p.counts])
    return model

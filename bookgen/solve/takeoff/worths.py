"""A cutting job in, a first worth for each of its pieces out, such that no stick holds more worth than it costs.

A piece is worth its wood at the best price. One that the stick of the best price can't hold is worth more: what a
longer stick costs above. How much of that each may have, where a stick holds two of them, is a small linear program
over classes of such pieces. The bound that follows is told at once, and lies within half a stick of the best there is.
"""

from __future__ import annotations

from bisect import bisect_right

import highspy
import numpy as np

from bookgen.solve.takeoff.ticks import Job

SCALE = 1 << 24  # whole-number worths are so many to one unit of cost
CLASSES = 24  # of pieces longer than the stick of the best price


class _Quiet(highspy.Highs):
    """The solver without its banner, which is printed when it is made: that would end up in what a command prints."""

    def enableCallbacks(self) -> None:  # noqa: N802 (the library's name; the first thing that it calls when made)
        self.silent()
        super().enableCallbacks()  # type: ignore[no-untyped-call]


def quiet_solver() -> highspy.Highs:
    """Return a solver that prints nothing and finds the same answer each time."""
    solver = _Quiet()  # type: ignore[no-untyped-call]
    # No number of threads is asked for: the solver refuses one that differs from what the process began with.
    for option, value in (("random_seed", 0), ("parallel", "off")):
        solver.setOptionValue(option, value)
    return solver


def first_worths(job: Job) -> list[int]:
    """Return a worth for each length, in whole numbers of 1/SCALE of a unit of cost.

    It may be a little too much where sticks hold three of the longer pieces: whoever takes a bound from it has to
    look at what a stick can hold.
    """
    best = job.best_buy()
    wood = job.costs[best] * SCALE // job.capacities[best]
    above = [cost * SCALE - wood * capacity for cost, capacity in zip(job.costs, job.capacities, strict=True)]
    longer = sorted({weight for weight in job.weights if weight > job.capacities[best]})
    if not longer:
        return [wood * weight for weight in job.weights]
    lows = _classes(job, longer)
    extra = _extra(job, lows, above)
    worths = []
    for weight in job.weights:
        place = bisect_right(lows, weight) - 1
        worths.append(wood * weight + (extra[place] if place >= 0 else 0))
    return worths


def _classes(job: Job, longer: list[int]) -> list[int]:
    """Return the least weight of each class: equal parts of the list, parted again where a stick ends."""
    parts = {longer[number * len(longer) // CLASSES] for number in range(CLASSES)}
    ends = {next((weight for weight in longer if weight > capacity), longer[-1]) for capacity in job.capacities}
    return sorted(parts | ends)


def _extra(job: Job, lows: list[int], above: list[int]) -> list[int]:
    """Return what each class is worth above its wood: as much in all as the sticks that hold one or two allow."""
    counts = [0] * len(lows)
    for weight, demand in zip(job.weights, job.demands, strict=True):
        place = bisect_right(lows, weight) - 1
        if place >= 0:
            counts[place] += demand
    solver = quiet_solver()
    for place, low in enumerate(lows):
        solver.addVar(0.0, _least(job, above, low))
        solver.changeColCost(place, -float(counts[place]))
    for place, low in enumerate(lows):
        for other in range(place, len(lows)):
            if low + lows[other] <= job.capacities[-1]:
                row = np.array(sorted({place, other}), dtype=np.int32)
                ones = np.full(len(row), 2.0 if place == other else 1.0)
                solver.addRow(-highspy.kHighsInf, _least(job, above, low + lows[other]), len(row), row, ones)
    if solver.run() == highspy.HighsStatus.kError:
        raise RuntimeError("the solver refused the worths of a cutting job")
    return [max(0, int(value)) for value in solver.getSolution().col_value]


def _least(job: Job, above: list[int], weight: int) -> float:
    """Return the least that a stick which holds *weight* costs above its wood."""
    return float(min(above[stick] for stick, capacity in enumerate(job.capacities) if capacity >= weight))

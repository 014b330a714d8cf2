"""A cutting job in, a good plan found without a solver out, and the least that any plan can cost.

The longest piece that is left goes on the stick that wastes least once the best set of other pieces is laid beside it.
Which sums of pieces a stick can hold is one whole number used as a row of bits, so this is quick.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from math import ceil

from bookgen.model.frozen import dataclass
from bookgen.solve.takeoff.ticks import Job, Pattern

Plan = Mapping[Pattern, int]  # how many sticks are cut in each way


@dataclass(frozen=True, slots=True)
class Sums:
    """Which sums the first pieces of a list can reach: bit n of row i is set where pieces before i make n."""

    items: tuple[tuple[int, int, int], ...]  # index, weight, count
    rows: tuple[int, ...]

    def most(self, capacity: int) -> int:
        """Return the largest sum within *capacity*."""
        return (self.rows[-1] & ((1 << (capacity + 1)) - 1)).bit_length() - 1

    def pieces(self, total: int) -> tuple[tuple[int, int], ...]:
        """Return pieces that make *total*, as few as can be of the last of the list."""
        chosen = []
        for number in range(len(self.items) - 1, -1, -1):
            item, weight, _ = self.items[number]
            count = 0
            while not self.rows[number] >> total & 1:
                total -= weight
                count += 1
            if count:
                chosen.append((item, count))
        return tuple(reversed(chosen))


def sums_of(items: Iterable[tuple[int, int, int]], capacity: int) -> Sums:
    """Return the sums of (index, weight, count) pieces up to *capacity*."""
    listed, rows, mask = tuple(items), [1], (1 << (capacity + 1)) - 1
    for _, weight, count in listed:
        bits = rows[-1]
        for part in _parts(min(count, capacity // weight)):
            bits |= (bits << part * weight) & mask
        rows.append(bits)
    return Sums(listed, tuple(rows))


def _parts(count: int) -> Iterator[int]:
    """Yield 1, 2, 4 … and a rest, whose sums are every number up to *count* and no other."""
    part = 1
    while count > 0:
        yield min(part, count)
        count -= part
        part *= 2


def least_cost(job: Job) -> int:
    """Return a cost, in units, that no plan can stay under: each stick filled as well as these pieces can fill it."""
    sums = sums_of(zip(range(len(job.weights)), job.weights, job.demands, strict=True), job.capacities[-1])
    rates = [
        Fraction(cost, sums.most(capacity))
        for cost, capacity in zip(job.costs, job.capacities, strict=True)
        if sums.most(capacity)
    ]
    return ceil(min(rates) * sum(weight * demand for weight, demand in zip(job.weights, job.demands, strict=True)))


def fill(job: Job, demands: Sequence[int]) -> dict[Pattern, int]:
    """Return a plan for *demands*, made stick by stick."""
    left, plan = list(demands), dict[Pattern, int]()
    while any(left):
        pattern = _next(job, left)
        times = min(left[item] // count for item, count in pattern.counts)
        for item, count in pattern.counts:
            left[item] -= count * times
        plan[pattern] = plan.get(pattern, 0) + times
    return plan


def plain(job: Job) -> list[dict[Pattern, int]]:
    """Return, for each stick that holds all pieces, the plan with no other: first fit decreasing.

    Each piece, the longest first, goes on the first stick with room.
    """
    pieces = [item for item, count in enumerate(job.demands) for _ in range(count)]
    return [
        _first_fit(job, pieces, stick) for stick, capacity in enumerate(job.capacities) if capacity >= job.weights[0]
    ]


def _first_fit(job: Job, pieces: Iterable[int], stick: int) -> dict[Pattern, int]:
    room: list[int] = []
    held: list[Counter[int]] = []
    for item in pieces:
        weight = job.weights[item]
        place = next((number for number, free in enumerate(room) if free >= weight), len(room))
        if place == len(room):
            room.append(job.capacities[stick])
            held.append(Counter())
        room[place] -= weight
        held[place][item] += 1
    return dict(Counter(Pattern(stick, tuple(sorted(counts.items()))) for counts in held))


def _next(job: Job, left: Sequence[int]) -> Pattern:
    """Return the pattern with the longest piece left that wastes the least worth of stick."""
    first = next(item for item, count in enumerate(left) if count)
    start, cheap = job.weights[first], job.best_buy()
    others = [(item, job.weights[item], count - (item == first)) for item, count in enumerate(left) if count]
    sums = sums_of([row for row in others if row[2]], job.capacities[-1] - start)
    best = None
    for stick, (capacity, cost) in enumerate(zip(job.capacities, job.costs, strict=True)):
        if capacity < start:
            continue
        total = sums.most(capacity - start)
        # What is paid above the best price a tick; a tie goes to the longer stick, for there are fewer to carry.
        wasted = cost * job.capacities[cheap] - (total + start) * job.costs[cheap]
        if best is None or wasted <= best[0]:
            best = (wasted, stick, total)
    if best is None:
        raise ValueError(f"piece {first} fits no stick of the job")
    counts = dict(sums.pieces(best[2]))
    counts[first] = counts.get(first, 0) + 1
    return Pattern(best[1], tuple(sorted(counts.items())))


def cost_of(job: Job, plan: Plan) -> int:
    """Return what a plan costs, in units."""
    return sum(job.costs[pattern.stick] * times for pattern, times in plan.items())


def tidy(job: Job, plan: Plan) -> dict[Pattern, int]:
    """Return the plan without pieces that nobody asked for, each stick the cheapest that holds what is left on it."""
    made = [0] * len(job.weights)
    tidied = dict[Pattern, int]()
    for pattern in sorted(plan, key=lambda p: (-p.stick, p.counts)):
        for _ in range(plan[pattern]):
            counts = tuple(
                (item, min(count, job.demands[item] - made[item]))
                for item, count in pattern.counts
                if made[item] < job.demands[item]
            )
            for item, count in counts:
                made[item] += count
            if counts:
                kept = Pattern(_cheapest(job, counts), counts)
                tidied[kept] = tidied.get(kept, 0) + 1
    return tidied


def _cheapest(job: Job, counts: tuple[tuple[int, int], ...]) -> int:
    needed = sum(job.weights[item] * count for item, count in counts)
    holding = [stick for stick, capacity in enumerate(job.capacities) if capacity >= needed]
    return min(holding, key=lambda stick: (job.costs[stick], stick))

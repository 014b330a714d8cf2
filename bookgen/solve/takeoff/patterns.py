"""A worth for each piece in, the cutting patterns worth the most out, and every pattern worth enough.

One table holds, for the first pieces of the job and every room up to the longest stick, the most worth that fits. All
is in whole numbers, so what the table says is exact.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from bookgen.model.frozen import dataclass
from bookgen.solve.takeoff.ticks import Job, Pattern


@dataclass(frozen=True, slots=True)
class Worth:
    """*table*[i, room] is the most worth that pieces before i can have within *room*; *values* are per piece."""

    job: Job
    values: tuple[int, ...]
    table: NDArray[np.int64]

    def best(self, stick: int) -> int:
        """Return the most worth that one stick can hold."""
        return int(self.table[-1, self.job.capacities[stick]])

    def pattern(self, stick: int) -> Pattern:
        """Return a pattern of that worth."""
        return Pattern(stick, tuple(sorted(self._counts(self.job.capacities[stick]).items())))

    def above(self, least: Sequence[int], most: int) -> list[Pattern]:
        """Return up to *most* patterns of worth over *least*, which is asked of each stick: those farthest over it.

        For every stick the best one, then for every piece the best one on any stick with one of that piece forced.
        """
        sticks = [stick for stick in range(len(least)) if self.best(stick) > least[stick]]
        found = {self.pattern(stick): None for stick in sticks}
        capacities, weights = np.array(self.job.capacities), np.array(self.job.weights)
        room = capacities[None, :] - weights[:, None]
        gains = self.table[-1][np.maximum(room, 0)] + np.array(self.values)[:, None] - np.array(least)[None, :]
        gains[room < 0] = -1
        best = gains.argmax(axis=1)
        order = np.argsort(-gains.max(axis=1), kind="stable")
        for item in map(int, order[:most]):
            stick = int(best[item])
            if len(found) >= most or gains[item, stick] <= 0:
                break
            counts = self._counts(int(room[item, stick]))
            counts[item] = counts.get(item, 0) + 1
            if counts[item] <= self.job.demands[item]:
                found[Pattern(stick, tuple(sorted(counts.items())))] = None
        return list(found)

    def _counts(self, room: int) -> dict[int, int]:
        counts: dict[int, int] = {}
        column = self.table[:, room]
        item = len(self.values)
        while room > 0:
            # The worth stays the same over the rows of pieces that are not taken: step over all of them at once.
            item = int(np.searchsorted(column[: item + 1], column[item]))
            if item == 0:
                break
            item -= 1
            count = 0
            while True:
                count += 1
                room -= self.job.weights[item]
                if int(self.table[item, room]) + count * self.values[item] == int(column[item + 1]):
                    break
            counts[item] = count
            column = self.table[:, room]
        return counts


def worth_of(job: Job, values: Sequence[int]) -> Worth:
    """Return the table for *values*, none below 0; the sum of all asked pieces has to stay under 2^63."""
    table = np.zeros((len(values) + 1, job.capacities[-1] + 1), dtype=np.int64)
    for item, (weight, value) in enumerate(zip(job.weights, values, strict=True)):
        row = table[item + 1]
        row[:] = table[item]
        if value <= 0:
            continue
        count, part = job.most(item), 1
        while count > 0:
            part = min(part, count)
            np.maximum(row[part * weight :], row[: len(row) - part * weight] + part * value, out=row[part * weight :])
            count -= part
            part *= 2
    return Worth(job, tuple(values), table)


@dataclass(slots=True)
class Effort:
    """How many steps a search may still take."""

    steps: int


def every_pattern(worth: Worth, stick: int, least: int, effort: Effort) -> Iterator[Pattern]:
    """Yield each pattern of *stick* worth at least *least* to which no further piece asked for can be added.

    It stops early when the effort is spent; then `effort.steps` is below 0 and the list is not complete.
    """
    job, table, values = worth.job, worth.table, worth.values
    stack: list[tuple[int, int, int, tuple[tuple[int, int], ...]]] = [(len(values) - 1, job.capacities[stick], 0, ())]
    while stack:
        effort.steps -= 1
        if effort.steps < 0:
            return
        item, room, value, counts = stack.pop()
        if item < 0:
            if not _room_for_more(job, room, dict(counts)):
                yield Pattern(stick, counts)
            continue
        for count in range(min(job.demands[item], room // job.weights[item]) + 1):
            rest, sofar = room - count * job.weights[item], value + count * values[item]
            if sofar + int(table[item, rest]) >= least:
                stack.append((item - 1, rest, sofar, ((item, count), *counts) if count else counts))


def _room_for_more(job: Job, room: int, counts: dict[int, int]) -> bool:
    return any(
        weight <= room and counts.get(item, 0) < demand
        for item, (weight, demand) in enumerate(zip(job.weights, job.demands, strict=True))
    )

"""Prints how long levels of many obstacles, and runs of many stations, take to solve, beside a plain loop.

Run it as `python -m tests.benchmarks.solving`. Seconds of processor time differ between machines, and grow on a busy
one; the ratio to the loop much less so. The growth is the exponent: 1 means that twice as much takes twice as long.
"""

from __future__ import annotations

from collections.abc import Callable
from math import log
from pathlib import Path
from time import process_time

import click

from bookgen.model.project import Project
from bookgen.read import read
from bookgen.solve import solve
from tests.benchmarks.yardstick import LOOPS, yardstick
from tests.generated import house, long_run

SAMPLE = Path(__file__).parents[2] / "projects" / "tamarack"
OBSTACLES = (1, 4, 12, 16, 64)
STATIONS = (25, 50, 100, 200, 400)
LINES = 60
TRIES = 3  # the best of so many counts: what else the machine does only ever adds


def best(work: Callable[[], object]) -> float:
    """Return the least processor time that *work* took, in seconds."""
    found = []
    for _ in range(TRIES):
        start = process_time()
        work()
        found.append(process_time() - start)
    return min(found)


def solved(project: Project) -> int:
    """Solve a project; return how many parts it has. A level with problems is no measure."""
    level, problems = solve(project)
    if level is None:
        raise ValueError([str(problem) for problem in problems])
    return sum(len(one.assembly.parts) for one in level.obstacles if one.assembly is not None)


def growth(sizes: tuple[int, ...], times: list[float]) -> float:
    """Return the exponent of growth between the middle and the last size; the small ones hold mostly what is fixed."""
    middle = len(sizes) // 2
    return log(times[-1] / times[middle]) / log(sizes[-1] / sizes[middle])


def main() -> None:
    """Print the table."""
    loop = best(yardstick)
    click.echo(f"plain loop of {LOOPS:,}: {loop:.3f} s")

    def line(name: str, project: Project) -> float:
        seconds = best(lambda: solved(project))
        click.echo(f"{name:>32}: {seconds:7.3f} s, {seconds / loop:6.2f} loops, {solved(project)} parts")
        return seconds

    for sizes, name, make in (
        (OBSTACLES, "obstacles", house),
        (STATIONS, f"stations, {LINES} lines", lambda number: long_run(number, LINES)),
    ):
        times = [line(f"{size} {name}", make(size)) for size in sizes]
        click.echo(f"{'growth':>32}: {growth(sizes, times):7.2f}")
    sample, problems = read(SAMPLE)
    if sample is None:
        raise ValueError([str(problem) for problem in problems])
    line(f"sample house, {len(sample.obstacles)} obstacles", sample)


if __name__ == "__main__":
    main()

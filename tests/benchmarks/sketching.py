"""Prints how long the sketches of the sample house take, beside a plain loop timed in the same run.

Run it as `python -m tests.benchmarks.sketching`. Milliseconds differ between machines; the ratio to the loop much less.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from statistics import median
from time import process_time

import click

from bookgen.draw import plan, views
from bookgen.model.solved import Solved
from bookgen.read import read
from bookgen.render.svg import write_svg
from bookgen.solve import solve
from tests.benchmarks.yardstick import yardstick

SAMPLE = Path(__file__).parents[2] / "projects" / "tamarack"
LOOPS = 200_000
ROUNDS = 5  # each sketch counts with the fastest of them: what else runs on the machine only slows one down


def timed(work: Callable[[], object]) -> float:
    """Return the milliseconds of work that the fastest of some rounds took."""
    found = []
    for _ in range(ROUNDS):
        start = process_time()
        work()
        found.append((process_time() - start) * 1000)
    return min(found)


def house() -> Solved:
    """Return the sample house, solved."""
    project, problems = read(SAMPLE)
    solved, more = solve(project) if project is not None else (None, ())
    if solved is None:
        raise click.ClickException("\n".join(map(str, (*problems, *more))))
    return solved


def main() -> None:
    """Print the loop, each kind of view, the median of all sketches drawn and written, and their ratios to the loop."""
    solved, loop = house(), timed(lambda: yardstick(LOOPS))
    found: dict[str, list[float]] = {}
    writing = []
    for draw in views(solved):
        sketch = draw()
        found.setdefault(sketch.view.value, []).append(timed(draw))
        writing.append(timed(lambda sketch=sketch: write_svg(sketch)))
    found["level plan"] = [timed(lambda: plan(solved))]
    click.echo(f"loop: {loop:.1f} ms")
    every = [one for name in found for one in found[name]]
    for name, times in [*sorted(found.items()), ("all", every), ("written as SVG", writing)]:
        middle = median(times)
        click.echo(f"{name}: {len(times)} of them, median {middle:.1f} ms, {middle / loop:.2f} loops")


if __name__ == "__main__":
    main()

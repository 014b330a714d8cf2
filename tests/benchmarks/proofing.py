"""Prints what a save costs while a proof of the sample house is open, until its pages and its print book are there.

Run it as `python -m tests.benchmarks.proofing`; `--saves` says how many are tried, the middle one is told. Seconds are
of processor time of the whole proof, loops those of a plain loop timed in the same run; the clock, which also counts
the third of a second in which a save settles, means something on a machine at rest alone.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from queue import Queue
from statistics import median
from tempfile import TemporaryDirectory
from threading import Event, Thread
from time import perf_counter, process_time

import click

from bookgen.proof import Told, prove
from tests.benchmarks.yardstick import LOOPS, yardstick

TAMARACK = Path(__file__).parents[2] / "projects" / "tamarack"
SENTENCE = "in one three-inch pipe"


@click.command()
@click.option("--saves", default=5)
def main(saves: int) -> None:
    """Print the table."""
    start = process_time()
    yardstick()
    loop = process_time() - start
    with TemporaryDirectory() as folder:
        os.environ["BOOKGEN_CACHE"] = str(Path(folder, "cache"))
        rows = proofed(Path(shutil.copytree(TAMARACK, Path(folder) / "house")), saves)
    click.echo(f"plain loop of {LOOPS:,}: {loop:.3f} s\n")
    click.echo("| after a save | seconds | loops | by the clock |\n|---|---|---|---|")
    for name, times in zip(("pages shown", "print book too"), zip(*rows, strict=True), strict=True):
        seconds, clock = (median(one[of] for one in times) for of in (0, 1))
        click.echo(f"| {name} | {seconds:.2f} | {seconds / loop:.1f} | {clock:.2f} |")


def proofed(house: Path, saves: int) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Return what each save took, by processor and by the clock, until the pages and until the print were there."""
    told: Queue[Told] = Queue()
    stop = Event()
    proof = Thread(target=prove, args=(house, 0, told.put, stop))
    proof.start()
    record = house / "obstacles" / "02-drain.yaml"
    text = record.read_text("utf-8")
    for _ in ("pages", "print"):
        told.get()
    found = []
    for number in range(saves):
        seconds, clock = process_time(), perf_counter()
        record.write_text(text.replace(SENTENCE, f"in one three-inch pipe, looked at {number} times"), encoding="utf-8")
        times = []
        for _ in ("pages", "print"):
            if told.get().problems:
                raise ValueError("the record has problems")
            times.append((process_time() - seconds, perf_counter() - clock))
        found.append((times[0], times[1]))
    stop.set()
    proof.join()
    return found


if __name__ == "__main__":
    main()

"""Prints what everything costs, from one obstacle to 64 and from ten photos to a thousand, and how it grows.

Run it as `python -m tests.benchmarks.whole`; `--quick` leaves out the largest of each. Seconds are of processor time,
of work in a process of its own; loops are those of a plain loop timed in the same run. What is run as a command is told
by the clock too, which means something on a machine at rest alone. The photos are small ones of 640 by 480 pixels, each
different: what 12 Mpx cost is told by `tests.benchmarks.picturing`. Growth is an exponent between the two largest
sizes: 1 means that twice as much takes twice as long.
"""

from __future__ import annotations

import multiprocessing
import os
import resource
import shutil
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import log
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter, process_time

import click
from PIL import Image

from bookgen.bind import Composed, write_book
from bookgen.cache import known_cache
from bookgen.compose import compose
from bookgen.draw import level_sketches, sketches
from bookgen.model.book import Edition
from bookgen.model.solved import Solved
from bookgen.render.kept import Store
from bookgen.shelf import KEPT, fill_shelf
from bookgen.solve import solve
from bookgen.solve.checks.reference import references
from bookgen.solve.takeoff.buy import buy
from bookgen.trade.tongue import tongue
from bookgen.unchanged import digest_of
from tests.benchmarks.yardstick import LOOPS, yardstick
from tests.generated import house
from tests.test_shelf import shared

PROJECTS = Path(__file__).parents[2] / "projects"
PROGRAM = PROJECTS.parent / "bookgen"
OBSTACLES, PHOTOS, SHELF = (1, 4, 16, 64), (10, 100, 1000), 50
KILOBYTE, MEGABYTE = 1024, 1_000_000


@dataclass(frozen=True, slots=True)
class Cost:
    """Processor seconds, the most memory in MB, the MB that were written, and seconds by the clock."""

    seconds: float
    memory: float
    written: float = 0.0
    clock: float = 0.0


Stage = Callable[[int, Path], Callable[[], object]]


def solving(count: int, _: Path) -> Callable[[], object]:
    """Return what solves a level of so many obstacles."""
    return partial(solve, house(count))


def solved(count: int) -> Solved:
    """Return a generated level, solved; one with problems is no measure."""
    level, problems = solve(house(count))
    if level is None:
        raise ValueError([str(problem) for problem in problems])
    return level


def sketching(count: int, _: Path) -> Callable[[], object]:
    """Return what draws every sketch of the level."""
    level = solved(count)
    return lambda: (sketches(level), level_sketches(level))


def taking_off(count: int, _: Path) -> Callable[[], object]:
    """Return what works out everything to buy and how to cut it."""
    return partial(buy, solved(count))


def writing(count: int, place: Path) -> Callable[[], object]:
    """Return what writes site, print book, tags and calendar from an empty cache, once all is composed."""
    level = solved(count)
    book = compose(
        level, sketches(level)[0], level_sketches(level), Edition.OWNER, references(level.project.tape, tongue("en"))
    )
    (place / "book").mkdir()
    return lambda: write_book(Composed(book, level.project), place / "book", Store(place / "cache", ""), _quiet)


def _quiet(*_: object) -> None:
    """Tell nobody."""


def _in_a_process(stage: Stage, count: int, place: Path, told: multiprocessing.Queue[Cost]) -> None:
    work = stage(count, place)
    start = process_time()
    work()
    seconds = process_time() - start
    told.put(Cost(seconds, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / KILOBYTE, _size(place / "book")))


def alone(stage: Stage, count: int) -> Cost:
    """Return what a stage costs in a process of its own, without what comes before it."""
    context = multiprocessing.get_context("spawn")
    told: multiprocessing.Queue[Cost] = context.Queue()
    with TemporaryDirectory() as place:
        process = context.Process(target=_in_a_process, args=(stage, count, Path(place), told))
        process.start()
        cost = told.get()
        process.join()
    return cost


def bound(place: Path, project: Path, target: str = "book") -> Cost:
    """Return what `bookgen bind` costs, start of the interpreter included."""
    cost = commanded(place, "bind", str(project), "--out", str(place / target))
    return replace(cost, written=_size(place / target))


def commanded(place: Path, *words: str) -> Cost:
    """Return what a command costs, as an installed program runs it: its own files are compiled already."""
    environment = {**os.environ, "BOOKGEN_CACHE": str(place / "cache")}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    subprocess.run([sys.executable, "-m", "compileall", "-q", PROGRAM], env=environment, check=True)  # noqa: S603
    start = perf_counter()
    command = [sys.executable, "-m", "bookgen", *words]
    run = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)  # noqa: S603
    _, status, used = os.wait4(run.pid, 0)
    clock = perf_counter() - start
    if status:
        raise ValueError(f"{' '.join(words)} did not end well")
    return Cost(used.ru_utime + used.ru_stime, used.ru_maxrss / KILOBYTE, clock=clock)


def edit(record: Path, before: str, after: str) -> None:
    """Change words of a record, as somebody does between two commands."""
    text = record.read_text("utf-8")
    if before not in text:
        raise ValueError(f"{record.name} does not say {before}")
    record.write_text(text.replace(before, after, 1), encoding="utf-8")


def _size(folder: Path) -> float:
    return sum(path.stat().st_size for path in folder.rglob("*") if path.is_file()) / MEGABYTE


def with_photos(place: Path, count: int) -> Path:
    """Return a copy of the smallest project with so many more small photos, each of another colour."""
    project = Path(shutil.copytree(PROJECTS / "smallest", place / f"photos-{count}"))
    lines = []
    ramp = Image.linear_gradient("L").resize((640, 480))
    for number in range(count):
        blue = Image.new("L", ramp.size, number % 256)
        picture = Image.merge("RGB", (ramp, ramp.rotate(180), blue))
        picture.save(project / "photos" / f"more-{number:04}.jpg", comment=f"{number}")
        lines.append(f"    - file: more-{number:04}.jpg\n      shows: A wall.\n      on: 2026-03-09\n")
    record = project / "obstacles" / "01-drain.yaml"
    text = record.read_text("utf-8")
    record.write_text(text.replace("  finished:\n", f"{''.join(lines)}  finished:\n", 1), encoding="utf-8")
    return project


def shelved(place: Path) -> float:
    """Return the seconds that a shelf of many unchanged projects takes from the cache; one book stands for all."""
    os.environ["BOOKGEN_CACHE"] = str(place / "cache")
    projects = [shared(place / f"house-{number:02}") for number in range(SHELF)]
    fill_shelf(projects[:1], place / "first", _quiet)
    kept = known_cache().sort(KEPT)
    (first,) = kept.iterdir()
    for project in projects[1:]:
        digest = digest_of(project)
        assert digest is not None
        shutil.copytree(first, kept / known_cache().key(digest, project.name))
    start = process_time()
    fill_shelf(projects, place / "shelf", _quiet)
    return process_time() - start


def growth(sizes: Sequence[int], costs: Sequence[Cost]) -> float:
    """Return the exponent of growth between the two largest sizes."""
    return log(costs[-1].seconds / costs[-2].seconds) / log(sizes[-1] / sizes[-2])


@click.command()
@click.option("--quick", is_flag=True, help="Leave out the largest of each.")
def main(quick: bool) -> None:
    """Print the table."""
    loop = min(_timed(yardstick) for _ in range(3))
    click.echo(f"plain loop of {LOOPS:,}: {loop:.3f} s\n")
    click.echo("| what | seconds | loops | by the clock | memory, MB | written, MB |\n|---|---|---|---|---|---|")

    def line(name: str, cost: Cost) -> Cost:
        written = f"{cost.written:.1f}" if cost.written else ""
        memory = f"{cost.memory:.0f}" if cost.memory else ""
        clock = f"{cost.clock:.2f}" if cost.clock else ""
        click.echo(f"| {name} | {cost.seconds:.2f} | {cost.seconds / loop:.1f} | {clock} | {memory} | {written} |")
        return cost

    grown = []
    for name, stage in (
        ("solve", solving),
        ("sketch", sketching),
        ("takeoff", taking_off),
        ("site and print", writing),
    ):
        sizes = OBSTACLES[:-1] if quick else OBSTACLES
        costs = [line(f"{name}, {size} obstacles", alone(stage, size)) for size in sizes]
        grown.append((f"{name} by obstacles", growth(sizes, costs)))
    with TemporaryDirectory() as folder:
        place = Path(folder)
        sample = Path(shutil.copytree(PROJECTS / "tamarack", place / "tamarack"))
        line("sample house, checked for the first time", commanded(place, "check", str(sample)))
        line("checked, nothing changed", commanded(place, "check", str(sample)))
        line("sample house, bound from nothing", bound(place, sample))
        line("bound elsewhere, all from the cache", bound(place, sample, "again"))
        drain = sample / "obstacles" / "02-drain.yaml"
        edit(drain, "in one three-inch pipe", "in a three-inch pipe")
        line("a sentence changed", bound(place, sample))
        line("nothing changed", bound(place, sample))
        edit(drain, "in a three-inch pipe", "in one pipe of three inches")
        line("checked, a sentence changed", commanded(place, "check", str(sample)))
        edit(sample / "project.yaml", "floor thick: 0.3 in", "floor thick: 0.4 in")
        line("checked, the floor changed", commanded(place, "check", str(sample)))
        sizes = PHOTOS[:-1] if quick else PHOTOS
        costs = []
        for size in sizes:
            project = with_photos(place, size)
            costs.append(line(f"{size} small photos, bound from nothing", bound(place, project, f"book-{size}")))
            line(f"{size} small photos, nothing changed", bound(place, project, f"book-{size}"))
        grown.append(("bind by photos", growth(sizes, costs)))
        line(f"a shelf of {SHELF}, from the cache", Cost(shelved(place), 0.0, _size(place / "shelf")))
    click.echo("\n" + "\n".join(f"growth of {name}: {exponent:.2f}" for name, exponent in grown))


def _timed(work: Callable[[], object]) -> float:
    start = process_time()
    work()
    return process_time() - start


if __name__ == "__main__":
    main()

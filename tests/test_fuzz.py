"""Records of the sample house with slips of the pen in them: read, solved, drawn and composed, or refused in words.

The mutations know YAML: keys dropped, doubled, swapped and moved, numbers made huge, tiny, negative or slightly other,
values taken from another place of the records. Each trial has its own seed, so that one can be repeated by its number.
`python -m tests.test_fuzz MINUTES FIRST FOLDER` tries for as long as one likes, and prints how many came how far.
"""

from __future__ import annotations

import copy
import random
import re
import shutil
import sys
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest

from bookgen.check import check
from bookgen.compose import compose, for_edition
from bookgen.draw import level_sketches, sketches
from bookgen.model.book import Edition
from tests.hostile import CORPUS, PROJECTS, hostile_project, loaded, written

Holder = tuple[Any, str | int]
NUMBER = re.compile(r"\d+(?:\.\d+)?")
NUMBERS = (
    "0",
    "1",
    "-1",
    "0.001",
    "1/64",
    "1e9",
    "999999999999999999999999",
    "-7",
    "0.0000000001",
    "1/0",
    "7/3",
    "\u0663",
)
EDITIONS = tuple(Edition)
LONG_MINUTES = 10
SCALES = (0.01, 0.5, 0.9, 0.99, 1.01, 1.1, 2, 10, 1000)
TEXTS = ("", " ", "yes", "no", "0", "[]", "north wall", "40 in to 40 in", "77 in above slab", *CORPUS[::6])


class Sample:
    """The sample house in a folder of its own, of which each trial keeps a few records and spoils some values."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        shutil.copytree(PROJECTS / "tamarack", folder)
        self.project = loaded(folder / "project.yaml")
        self.records = {path.name: loaded(path) for path in sorted((folder / "obstacles").iterdir())}
        for record in self.records.values():
            record.pop("chapter", None)  # names other records, which a trial may leave out
        self.values = [value for data in (self.project, *self.records.values()) for value in _values(data)]

    def spoil(self, seed: int) -> None:
        """Write the project of trial *seed*."""
        chance = random.Random(seed)
        shutil.rmtree(self.folder / "obstacles")
        (self.folder / "obstacles").mkdir()
        names = chance.sample(sorted(self.records), chance.choice((1, 1, 2, 3)))
        data = {"project.yaml": copy.deepcopy(self.project)}
        data |= {f"obstacles/{name}": copy.deepcopy(self.records[name]) for name in names}
        for _ in range(chance.choice((1, 1, 1, 2, 3, 5))):
            # Most slips in the obstacles: there the work is.
            name = chance.choice([*(f"obstacles/{name}" for name in names * 3), "project.yaml"])
            chance.choice(SLIPS)(data[name], chance, self.values)
        for name, record in data.items():
            written(record, self.folder / name)


def _holders(data: Any) -> Iterator[Holder]:
    """Yield each place of *data*, as what holds it and its key or index there."""
    steps: Iterator[str | int] = iter(data) if isinstance(data, dict) else iter(range(len(data)))
    for step in steps:
        yield data, step
        if isinstance(data[step], (dict, list)):
            yield from _holders(data[step])


def _values(data: Any) -> Iterator[Any]:
    for holder, step in _holders(data):
        yield holder[step]


def _one(data: Any, chance: random.Random, sort: type | tuple[type, ...] = object) -> Holder | None:
    places = [(holder, step) for holder, step in _holders(data) if isinstance(holder[step], sort)]
    return chance.choice(places) if places else None


def _drop(data: Any, chance: random.Random, _: list[Any]) -> None:
    if place := _one(data, chance):
        del place[0][place[1]]


def _double(data: Any, chance: random.Random, _: list[Any]) -> None:
    if (place := _one(data, chance, list)) and (items := place[0][place[1]]):
        items.insert(chance.randrange(len(items) + 1), copy.deepcopy(chance.choice(items)))


def _swap(data: Any, chance: random.Random, _: list[Any]) -> None:
    one, other = _one(data, chance), _one(data, chance)
    if one and other:
        first, second = copy.deepcopy(one[0][one[1]]), copy.deepcopy(other[0][other[1]])
        one[0][one[1]], other[0][other[1]] = second, first


def _shuffle(data: Any, chance: random.Random, _: list[Any]) -> None:
    if place := _one(data, chance, list):
        chance.shuffle(place[0][place[1]])


def _number(data: Any, chance: random.Random, _: list[Any]) -> None:
    places = [
        (holder, step)
        for holder, step in _holders(data)
        if isinstance(holder[step], str) and NUMBER.search(holder[step])
    ]
    holder, step = chance.choice(places)
    found = chance.choice(list(NUMBER.finditer(holder[step])))
    if chance.random() < 0.3:
        new = chance.choice(NUMBERS)
    else:
        new = f"{float(found.group()) * chance.choice(SCALES):.4f}".rstrip("0").rstrip(".")
    holder[step] = holder[step][: found.start()] + new + holder[step][found.end() :]


def _text(data: Any, chance: random.Random, _: list[Any]) -> None:
    if place := _one(data, chance, str):
        place[0][place[1]] = chance.choice(TEXTS)


def _from_elsewhere(data: Any, chance: random.Random, values: list[Any]) -> None:
    if place := _one(data, chance):
        alike = [value for value in values if type(value) is type(place[0][place[1]])]
        place[0][place[1]] = copy.deepcopy(chance.choice(alike))


Slip = Callable[[Any, random.Random, list[Any]], None]
SLIPS: tuple[Slip, ...] = (_drop, _double, _swap, _shuffle, _text, _from_elsewhere, *[_number] * 6)


def reached(folder: Path, edition: Edition) -> str:
    """Take a project folder all the way to a book without rendering it; say how far it came."""
    checked = check(folder)
    if checked.solved is None:
        assert checked.problems
        assert all(problem.code and problem.rule and problem.repair for problem in checked.problems)
        return "refused"
    told = for_edition(checked.solved, edition)
    drawn, problems = sketches(told)
    if problems:
        return "not drawn"
    compose(told, drawn, None if edition is Edition.SAMPLE else level_sketches(told), edition)
    return "composed"


def tried(folder: Path, seeds: Iterable[int]) -> Counter[str]:
    """Try the trials of *seeds*; fail with the numbers of all that raised, each kind of error once."""
    sample, ends, raised = Sample(folder), Counter[str](), {}
    for seed in seeds:
        sample.spoil(seed)
        try:
            ends[reached(folder, EDITIONS[seed % len(EDITIONS)])] += 1
        except Exception:  # noqa: BLE001 - what is looked for
            last = traceback.format_exc().splitlines()
            raised.setdefault("\n".join(last[-5:]), []).append(seed)
    assert not raised, "\n\n".join(f"trials {numbers}:\n{error}" for error, numbers in raised.items())
    return ends


def for_minutes(minutes: float, first: int) -> Iterator[int]:
    """Yield numbers from *first* on, for so many minutes of processor time."""
    end = time.process_time() + 60 * minutes
    while time.process_time() < end:
        yield first
        first += 1


def test_slips_in_the_sample_are_refused_or_composed(tmp_path: Path) -> None:
    """Two dozen trials: never a traceback, and some of each end."""
    ends = tried(tmp_path / "tamarack", range(24))
    assert sum(ends.values()) == 24
    assert ends["refused"] > 4
    assert ends["composed"] > 4


@pytest.mark.long
def test_many_more_slips(tmp_path: Path) -> None:
    """The same for ten minutes of processor time."""
    ends = tried(tmp_path / "tamarack", for_minutes(LONG_MINUTES, first=1000))
    assert ends["refused"] > 100
    assert ends["composed"] > 100


@pytest.mark.parametrize("name", ["W" * 120, "long" * 400, "many words " * 180 + "end"], ids=["wide", "long", "many"])
def test_a_name_wider_than_any_sheet_is_no_stumbling_block(tmp_path: Path, name: str) -> None:
    """The sketch has no room for such a name; the rest of it is drawn."""
    project = hostile_project(tmp_path / "smallest", lambda where, text: name if where == "Hidden.what" else text)
    assert reached(project, Edition.OWNER) == "composed"


if __name__ == "__main__":
    print(dict(tried(Path(sys.argv[3]), for_minutes(float(sys.argv[1]), int(sys.argv[2])))))  # noqa: T201

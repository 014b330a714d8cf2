"""Record files in; numbers, days and points in them that can't be meant out, before anything is worked out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from pydantic_core import PydanticCustomError

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.model.problem import Problem
from bookgen.model.records.values import to_interval, to_length
from bookgen.read.source import ANY, Path, Source, in_treatments

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")


@dataclass(frozen=True, slots=True)
class Range:
    """A whole number of a record, and the least and most that it can be."""

    patterns: tuple[Path, ...]
    least: int
    most: int
    rule: str
    repair: str


MONTH = Range((("upkeep", ANY, "month"),), 1, 12, "a month is 1 to 12", "write 10 for October")
OBSTACLE_RANGES = (
    MONTH,
    Range(in_treatments(ANY, "door", "leaves"), 1, 2, "a doorway has one leaf or a pair", "write 1 or 2"),
    Range(in_treatments("stair opening", "risers"), 2, 30, "a flight has 2 to 30 risers", "count them floor to floor"),
)
PROJECT_RANGES = (
    MONTH,
    Range((("house", "built"),), 1600, 2200, "that can't be the year it was built in", "write all four digits"),
    Range((("book", "revision"),), 1, 999, "revisions count from 1", "write 1 for the first that is handed over"),
)
WAYS = ("east west", "north south")  # a point of the plan has its two lengths in this order
DAYS = (("work", "started"), ("work", "framed"), ("work", "finished"))


def sense_problems(project: Source | None, obstacles: tuple[Source, ...]) -> Iterator[Problem]:
    """Yield a Problem for every number, day or point that can't be meant."""
    if project:
        yield from _out_of_range(project, PROJECT_RANGES)
        yield from _days(project)
        yield from _points(project)
        yield from _intervals(project)
    for source in obstacles:
        yield from _out_of_range(source, OBSTACLE_RANGES)
        yield from _intervals(source)


def _out_of_range(source: Source, ranges: tuple[Range, ...]) -> Iterator[Problem]:
    for one in ranges:
        for path, text in (use for pattern in one.patterns for use in source.texts(pattern)):
            if re.fullmatch(r"[0-9]{1,6}", text) and not one.least <= int(text) <= one.most:
                yield source.problem("number-out-of-range", path, one.rule, one.repair)


def _days(project: Source) -> Iterator[Problem]:
    """Yield a Problem where the job was framed before it began, or finished before it was framed."""
    written = [found for day in DAYS for found in project.texts(day) if _DAY.fullmatch(found[1])]
    for (before, earlier), (after, later) in pairwise(written):
        if later < earlier:
            rule = f"that is before it was {before[-1]}, {earlier}"
            yield project.problem("days-backward", after, rule, "mend the one that is wrong")


def _points(project: Source) -> Iterator[Problem]:
    """Yield a Problem for a corner of a room or a mark that lies outside the block walls."""
    sizes = [_length(project.at(("level", "inside of block", key))) for key in WAYS]
    for pattern in (("rooms", ANY, "outline", ANY, ANY), ("marks", ANY, "at", ANY)):
        for path, text in project.texts(pattern):
            step, value = path[-1], _length(text)
            if not isinstance(step, int) or step >= len(WAYS):
                continue
            most = sizes[step]
            if value and most and not 0 <= value.inches <= most.inches:
                way = WAYS[step]
                rule = f"it lies outside the block walls ({way}: {project.at(('level', 'inside of block', way))})"
                repair = "measure from the west block face (first) and the south block face (second)"
                yield project.problem("outside-the-level", path, rule, repair)


def _intervals(source: Source) -> Iterator[Problem]:
    """Yield a Problem where a thing may wait less long than it is due."""
    for path, text in source.texts(("upkeep", ANY, "at most")):
        longest, due = _months(text), _months(source.at((*path[:-1], "every")))
        if longest and due and longest < due:
            rule = "the longest wait is shorter than the usual one, which every: says"
            yield source.problem("interval-backward", path, rule, "write the longer of the two here")


def _length(value: object) -> Length | None:
    """Return a length; None for what is none, which has a Problem of its own."""
    try:
        return to_length(value)
    except PydanticCustomError:
        return None


def _months(value: object) -> int | None:
    try:
        return to_interval(value).months
    except PydanticCustomError:
        return None

"""tie-through-wall: a tie runs through a partition, so that nobody can pull a tape along it.

    PASS   a mark in the same room, or seen through a doorway that reaches as high as the thing
    FAIL   a mark in the next room, with the wall between

Only partitions count: what stands in a lining is reached from the face in front of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.geometry import Point
from bookgen.model.problem import Finding, Severity
from bookgen.model.records.project import Partition
from bookgen.model.solved import SolvedLevel
from bookgen.solve.checks.sight import Sight
from bookgen.solve.framing import Stretch
from bookgen.solve.site import height_above_slab

CODE = "tie-through-wall"
MEASURED = "measured"
SOURCE = "measured on the plan of this level"
Spot = tuple[Fraction, Fraction]


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each tie that a partition stands across."""
    spots = {(spot.obstacle, spot.tag): spot.at for obstacle in sight.obstacles for spot in obstacle.access}
    for file in sight.project.obstacles:
        for index, point in enumerate(file.record.access):
            at = spots.get((file.key, point.tag))
            for number, tie in enumerate(point.ties):
                mark = sight.project.record.marks.get(tie.from_)
                if at is None or mark is None:
                    continue
                wall = _wall_between(sight, (mark.at[0].inches, mark.at[1].inches), at)
                if wall is not None:
                    yield Finding(
                        CODE,
                        Severity.ASK,
                        sight.project.places.of(file.file, "access", index, "ties", number),
                        sight.say("tag {tag}, {what}", tag=point.tag, what=point.what),
                        sight.say(
                            "between the {mark} and {what} stands wall {wall}: no tape goes there",
                            mark=mark.what,
                            what=point.what,
                            wall=wall,
                        ),
                        sight.tape.long(tie.is_),
                        sight.say("a straight line in one room, or through a doorway"),
                        sight.say(SOURCE),
                        MEASURED,
                        sight.say(
                            "tape it from a mark in the same room; where it was reckoned from the plan, say so "
                            "in its note"
                        ),
                    )


def _wall_between(sight: Sight, mark: Spot, at: Point) -> str | None:
    for key, wall in sight.project.record.partitions.items():
        inside = crossing(mark, (at.x, at.y), *_plan(wall))
        if inside is not None and not _through_opening(sight.level, wall, inside, at.z):
            return key
    return None


def _plan(wall: Partition) -> tuple[Stretch, Stretch]:
    along = (wall.along.low.inches, wall.along.high.inches)
    thick = (wall.thick.low.inches, wall.thick.high.inches)
    return (along, thick) if wall.runs == "east" else (thick, along)


def crossing(start: Spot, end: Spot, x: Stretch, y: Stretch) -> tuple[Spot, Spot] | None:
    """Return where a straight line is inside a rectangle of the plan, or None where it misses or only touches it."""
    enter, leave = Fraction(0), Fraction(1)
    for from_, to, (low, high) in ((start[0], end[0], x), (start[1], end[1], y)):
        way = to - from_
        if way == 0:
            if not low < from_ < high:
                return None
            continue
        first, second = sorted(((low - from_) / way, (high - from_) / way))
        enter, leave = max(enter, first), min(leave, second)
    if enter >= leave:
        return None
    near = (start[0] + enter * (end[0] - start[0]), start[1] + enter * (end[1] - start[1]))
    far = (start[0] + leave * (end[0] - start[0]), start[1] + leave * (end[1] - start[1]))
    return near, far


def _through_opening(level: SolvedLevel, wall: Partition, inside: tuple[Spot, Spot], up: Fraction) -> bool:
    index = 0 if wall.runs == "east" else 1
    low, high = sorted(spot[index] for spot in inside)
    return any(
        opening.along.low.inches <= low
        and high <= opening.along.high.inches
        and up <= height_above_slab(opening.head, level)
        for opening in wall.openings
    )

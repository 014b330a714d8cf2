"""tie-disagrees: a tape distance from a mark does not lead to where the record puts the thing.

    PASS   at: {east: 40 in, north: 280 in, ...}   ties: [{from: family-nw, is: 35-1/2 in}]   (from 4.6, 283.4)
    FAIL   at: {east: 40 in, north: 280 in, ...}   ties: [{from: family-nw, is: 32 in}]

A tape is straight and level, so the distance is taken on the plan. It may miss by 1/2 in and 0.5 % of its length: what
a tape over a room sags, bends and is read to; common practice.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.geometry import Point, root_above
from bookgen.model.length import Length
from bookgen.model.problem import Finding, Severity
from bookgen.model.project import ObstacleFile
from bookgen.model.records.obstacle import AccessPoint, Tie
from bookgen.model.solved import AccessSpot
from bookgen.solve.checks.sight import Sight

CODE = "tie-disagrees"
SLACK = Fraction(1, 2)
SLACK_SHARE = Fraction(1, 200)
MEASURED = "measured"
SOURCE = "measured on the plan of this level"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each tie of each access point."""
    spots = {(spot.obstacle, spot.tag): spot for obstacle in sight.obstacles for spot in obstacle.access}
    for file in sight.project.obstacles:
        for index, point in enumerate(file.record.access):
            spot = spots.get((file.key, point.tag))
            if spot is not None:
                for number, tie in enumerate(point.ties):
                    yield from _compared(sight, file, point, (index, number), tie, spot)


def _compared(
    sight: Sight, file: ObstacleFile, point: AccessPoint, path: tuple[int, int], tie: Tie, spot: AccessSpot
) -> Iterator[Finding]:
    mark = sight.project.record.marks.get(tie.from_)
    if mark is None:
        return  # read has said so
    solved = Length(distance(spot.at, (mark.at[0].inches, mark.at[1].inches)))
    off = abs(solved.inches - tie.is_.inches)
    allowed = SLACK + SLACK_SHARE * tie.is_.inches
    within = off <= allowed
    if within:
        says, hint = (
            sight.say("the tape from the {mark} leads to {what}", mark=mark.what, what=point.what),
            sight.say("keep it, and tape a third"),
        )
    else:
        says = sight.say(
            "from the {mark} the tape says {taped}, but {what} lies {solved} away: {off} off",
            mark=mark.what,
            taped=sight.tape.long(tie.is_),
            what=point.what,
            solved=sight.tape.long(solved),
            off=sight.tape.short(off),
        )
        hint = sight.say(
            "tape it again, straight and level, or correct where the thing is; nobody will find it by this tie"
        )
    yield Finding(
        CODE,
        Severity.WITHIN if within else Severity.ASK,
        sight.project.places.of(file.file, "access", path[0], "ties", path[1]),
        sight.say("tag {tag}, {what}", tag=point.tag, what=point.what),
        says,
        sight.tape.long(tie.is_),
        sight.say(
            "{solved}, give or take {allowed}", solved=sight.tape.long(solved), allowed=sight.tape.short(allowed)
        ),
        sight.say(SOURCE),
        MEASURED,
        hint,
    )


def distance(at: Point, mark: tuple[Fraction, Fraction]) -> Fraction:
    """Return how far a point lies from a mark on the plan, in inches, rounded outward by less than 2^-20."""
    return root_above((at.x - mark[0]) ** 2 + (at.y - mark[1]) ** 2)

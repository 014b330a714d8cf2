"""floor-drain-covered: something stands over a floor drain, so that water can't reach it and nobody its trap.

    PASS   the drain lies free between the water heater and the softener
    FAIL   the softener stands on the drain

It takes what a tank or a pipe lets out, and its trap is filled by hand. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.geometry import Box, Point
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.clear import Standing
from bookgen.solve.checks.judge import practice
from bookgen.solve.checks.sight import SeenThing, Sight
from bookgen.trade.called import called

CODE = "floor-drain-covered"
DRAIN = "floor drain"
OVER = Fraction(24)  # inches over a drain for a jug and a hand; our choice
SOURCE = "measured on the plan; its grate is lifted and its trap filled from above"
HINT = "keep the floor over it free, and let nothing be stored there"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each thing that its record calls a floor drain."""
    for seen in sight.things:
        if called(DRAIN).search(seen.record.what):
            yield _judged(sight, seen)


def _judged(sight: Sight, drain: SeenThing) -> Finding:
    box = drain.box
    over = Box(Point(box.low.x, box.low.y, box.high.z), Point(box.high.x, box.high.y, box.high.z + OVER))
    found = sorted({block.what for block in Standing(sight, frozenset({drain.thing.key})).meeting(over)})
    says = (
        sight.say("over it stands {found}", found=", ".join(found))
        if found
        else sight.say("nothing of the plan stands over it")
    )
    measured = sight.say("{count} in the way", count=len(found))
    said = sight.said(CODE, drain.thing.place, drain.thing.what, says, measured, sight.say(HINT))
    wanted = sight.say("nothing within {reach} over it", reach=sight.tape.short(OVER))
    return practice(said, Severity.ASK if found else Severity.WITHIN, wanted, sight.say(SOURCE))

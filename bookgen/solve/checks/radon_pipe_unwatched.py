"""radon-pipe-unwatched: nobody can see whether a radon pipe draws, or water can stand in it and shut it off.

    PASS   an access point at the gauge, with a cover that opens onto it, and a pipe that only goes up
    FAIL   a pipe without a gauge in the records, boxed in, with a leg that goes down again

The gauge is the only sign that the fan runs; the gas has no smell. Check against your local code, and with whoever
measures radon for you.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.geometry import Rod
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import finding, judged
from bookgen.solve.checks.sight import SeenThing, Sight

CODE = "radon-pipe-unwatched"
GAUGE = "gauge"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding on the gauge and one on the fall of each radon pipe."""
    for seen in sight.things:
        if seen.thing.system == "soil gas" and seen.record.pipe is not None:
            yield from _gauge(sight, seen)
            yield from _falls(sight, seen)


def _gauge(sight: Sight, seen: SeenThing) -> Iterator[Finding]:
    limit = sight.held("radon-gauge-seen")
    if limit is None:
        return
    gauges = [one for one in sight.access if one.point.system == "soil gas" and one.named(GAUGE)]
    barred = [one for one in gauges if one.barred]
    if not gauges:
        says, measured = sight.say("no access point of the records is its gauge"), sight.say("none recorded")
        hint = sight.say("fix a gauge where the owner sees it, give it a tag, and write it under access:")
    elif len(barred) == len(gauges):
        says, measured = sight.say("its gauge can't be seen: {barred}", barred=barred[0].barred), sight.say("shut in")
        hint = sight.say("frame an opening onto the gauge")
    else:
        says, measured, hint = sight.say("tag {tag} is its gauge", tag=gauges[0].point.tag), sight.say("tagged"), ""
    said = sight.said(CODE, seen.thing.place, seen.thing.what, says, measured, hint)
    yield finding(said, limit, Severity.WITHIN if len(barred) < len(gauges) else Severity.ASK)


def _falls(sight: Sight, seen: SeenThing) -> Iterator[Finding]:
    limit = sight.held("radon-drains-back")
    legs = [solid.end.minus(solid.start) for solid in seen.thing.solids if isinstance(solid, Rod)]
    if limit is None or not legs:
        return
    down = [way for way in legs if way.z < 0]
    level = [way for way in legs if way.z == 0 and (way.x or way.y)]
    if legs and all(way.z <= 0 for way in legs):  # written from the top down
        down = [way for way in legs if way.z > 0]
    if down:
        says, measured = (
            sight.say("a leg of it goes down again, and water stands in the low spot"),
            sight.say("a low spot"),
        )
    elif level:
        says, measured = (
            sight.say("{count} of its legs lie level, as its record has them", count=len(level)),
            sight.say("level"),
        )
    else:
        says, measured = sight.say("it rises all the way, so that water runs back to the ground"), sight.say("it rises")
    hint = sight.say("lay it so that it rises all the way from the slab; ask the radon contractor")
    said = sight.said(CODE, seen.thing.place, seen.thing.what, says, measured, hint)
    yield judged(said, limit, not down and not level, Severity.ASK)

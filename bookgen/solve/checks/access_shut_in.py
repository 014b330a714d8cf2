"""access-shut-in: an access point of the records can't be reached: board is before it, and no cover opens onto it.

    PASS   cover: {kind: lift-out panel, size: 9 x 12 in, at: ...}    (round the gauge behind it)
    FAIL   cover: {kind: none, ...}                                   (for a damper above a finished ceiling)

Valves, electrical boxes and cleanouts have checks of their own; this one is for dampers, filters, drains and the rest.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import practice
from bookgen.solve.checks.reach import BOX, CLEANOUT, way_to
from bookgen.solve.checks.sight import Sight
from bookgen.solve.checks.valve_shut_in import is_valve

CODE = "access-shut-in"
WANTED = "what has a tag can be reached"
SOURCE = "measured on the plan of this level"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each access point that no other check looks at."""
    for one in sight.access:
        if is_valve(one) or one.named(CLEANOUT) or (one.point.system == "power" and one.named(BOX)):
            continue
        said = sight.said(
            CODE,
            one.place,
            one.where(sight.say),
            way_to(sight, one),
            sight.say("{height} over the floor", height=sight.tape.long(one.at.z - sight.level.floor)),
            sight.say(
                "frame an opening onto it before the board goes up, or ask whether one was cut, and write its cover"
            ),
        )
        yield practice(said, Severity.ASK if one.barred else Severity.WITHIN, sight.say(WANTED), sight.say(SOURCE))

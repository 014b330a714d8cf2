"""appliance-service-space: there is too little level floor in front of an appliance to service it.

    PASS   a furnace with 36 in of floor before its front
    FAIL   front: west      (and a wall 12 1/2 in west of it)

Where no record says which side the front is on, the roomiest side is measured, and it is a note to see that it is the
right one. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.appliances import appliances
from bookgen.solve.checks.clear import SIDES, Clear, Standing, clear_before, view_of
from bookgen.solve.checks.judge import Said, finding, judged, length_of, unheld
from bookgen.solve.checks.sight import SeenThing, Sight
from bookgen.trade.limits import Limit

CODE = "appliance-service-space"
HINT = "turn or move it, or ask the heating contractor"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each appliance."""
    deep, wide = sight.governing("appliance-service-depth"), sight.governing("appliance-service-width")
    codes = sight.project.record.codes
    for seen in appliances(sight):
        if deep is None or wide is None:
            said = _said(sight, seen, sight.say("the space before it was not measured"), sight.say("not measured"))
            yield unheld(said, codes.building, codes.authority)
        else:
            yield _judged(sight, seen, deep, wide)


def _judged(sight: Sight, seen: SeenThing, deep: Limit, wide: Limit) -> Finding:
    sides = (seen.record.front,) if seen.record.front else tuple(SIDES)
    blocks = Standing(sight, frozenset({seen.thing.key}))
    needed = length_of(deep).inches
    found = [(side, clear_before(view_of(seen.box, side, sight.level.floor), blocks, needed)) for side in sides]
    side, clear = max(found, key=lambda row: (_kept(row[1], deep, wide), row[1].deep))
    depth, width = sight.tape.long(clear.deep), sight.tape.long(clear.wide)
    says = sight.say(
        "{side} of it there is {depth} of floor, up to {deep_to}, and {width} from side to side",
        side=sight.tongue.name(side),
        depth=depth,
        deep_to=clear.deep_to,
        width=width,
    )
    kept = _kept(clear, deep, wide)
    if kept and seen.record.front is None:
        says = sight.say(
            "no record says which side its front is on; the roomiest side is {side}: {depth} by {width}",
            side=sight.tongue.name(side),
            depth=depth,
            width=width,
        )
        said = _said(sight, seen, says, depth, sight.say("write front: and the side that its controls are on"))
        return finding(said, deep, Severity.NOTE)
    said = _said(sight, seen, says, depth if clear.deep < needed or kept else width)
    return judged(said, deep if clear.deep < needed or kept else wide, kept)


def _kept(clear: Clear, deep: Limit, wide: Limit) -> bool:
    return clear.deep >= length_of(deep).inches and clear.wide >= length_of(wide).inches


def _said(
    sight: Sight,
    seen: SeenThing,
    says: str,
    measured: str,
    hint: str = HINT,
) -> Said:
    return sight.said(CODE, seen.thing.place, seen.thing.what, says, measured, hint)

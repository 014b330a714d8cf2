"""stair-headroom-low: the floor above, a soffit, a duct or a beam comes too near to the line of a stair's nosings.

    PASS   well: 84 in to 204 in      (the floor above is open as far as the stair goes)
    FAIL   well: 150 in to 204 in     (at 150 in the joists are only 31 in over the nosings)

Headroom is measured straight up from the line over the nosings. It is measured under the edge of the floor where the
record says where that is open, and under everything else of the records. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.length import Length
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import Said, finding, judged, keeps, length_of, unheld
from bookgen.solve.checks.sight import SeenPart, SeenThing, Sight
from bookgen.solve.checks.stairs import Stair, stairs
from bookgen.trade.limits import Limit

CODE = "stair-headroom-low"
LIMIT = "headroom-stair"
FLOOR = frozenset(
    {"joist", "rim joist", "subfloor", "sill plate", "block wall", "slab"}
)  # of the house, not of the plan
HINT = "move what hangs there, or ask what an old stair may keep"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding under the floor above and one under the lowest thing of the plan, for each stair."""
    limit = sight.governing(LIMIT)
    for stair in stairs(sight):
        if limit is None:
            said = _said(sight, stair, sight.say("headroom over the stair was not measured"), sight.say("not measured"))
            yield unheld(said, sight.codes.building, sight.codes.authority)
            continue
        yield _floor(sight, stair, limit)
        yield _things(sight, stair, limit)


def _floor(sight: Sight, stair: Stair, limit: Limit) -> Finding:
    """Return the Finding under the edge of the floor where the stair comes out from below it."""
    well = stair.choices.well
    if well is None:
        says = sight.say(
            "no record says where the floor above is open over the stair, so nothing was measured under its edge"
        )
        hint = sight.say("measure it from the line of the nosings, and write well:")
        return finding(_said(sight, stair, says, sight.say("not measured"), hint), limit, Severity.NOTE)
    low, high = stair.ends
    edge = well.low.inches if stair.forward > 0 else well.high.inches
    if not low < edge < high:
        says = sight.say("the floor above is open as far as the stair goes")
        return judged(_said(sight, stair, says, sight.say("no floor over it")), limit, kept=True)
    under = sight.level.joists - sight.level.ceiling_board
    return _judged(sight, stair, limit, (sight.say("the edge of the floor above"), under - stair.nosing(edge)))


def _things(sight: Sight, stair: Stair, limit: Limit) -> Finding:
    found = sorted(_overhead(sight, stair))
    if not found:
        says = sight.say("nothing else of the records comes near the line of the nosings")
        return judged(
            _said(sight, stair, says, sight.say("over {figure}", figure=sight.tape.long(length_of(limit)))),
            limit,
            kept=True,
        )
    return _judged(sight, stair, limit, (found[0][1], found[0][0]))


def _overhead(sight: Sight, stair: Stair) -> Iterator[tuple[Fraction, str]]:
    """Yield the headroom under each thing over the stair, with its name; what stands under the nosings is left out."""
    low, high = stair.ends
    for number in sight.standing.meeting(stair.over((low, high), Fraction(0))):
        one, box = sight.standers[number]
        if not _counts(one, stair):
            continue
        reach = max(low, box.low.on(stair.axis)), min(high, box.high.on(stair.axis))
        clear = box.low.z - stair.nosing(_upper(stair, reach))
        if clear > 0:
            yield clear, _what(sight, one)


def _upper(stair: Stair, stretch: tuple[Fraction, Fraction]) -> Fraction:
    return stretch[1] if stair.forward > 0 else stretch[0]


def _counts(one: SeenPart | SeenThing, stair: Stair) -> bool:
    if isinstance(one, SeenThing):
        return one.thing.system != "structure"
    return one.assembly is not stair.built and one.part.role not in FLOOR


def _what(sight: Sight, one: SeenPart | SeenThing) -> str:
    if isinstance(one, SeenThing):
        return one.thing.what
    if one.assembly is None:
        return sight.tongue.name(one.part.name)
    return sight.say("the {title}", title=sight.title(one.assembly))


def _judged(sight: Sight, stair: Stair, limit: Limit, over: tuple[str, Fraction]) -> Finding:
    height = sight.tape.long(over[1])
    said = _said(
        sight,
        stair,
        sight.say("{over} leaves {height} over the line of the nosings", over=over[0], height=height),
        height,
    )
    return judged(said, limit, keeps(limit, Length(over[1])))


def _said(sight: Sight, stair: Stair, says: str, measured: str, hint: str = HINT) -> Said:
    return sight.said(CODE, stair.place("well"), sight.tongue.name(stair.title), says, measured, hint)

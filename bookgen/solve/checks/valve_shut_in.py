"""valve-shut-in: a valve, meter, reducer or gauge is behind board, and no cover opens onto it.

    PASS   a valve 35 1/2 in up, behind a cover from 26 1/2 in to 44 1/2 in up
    FAIL   a second valve 49 6/10 in up, behind the board above that cover

Valves are known by their names: access points with a shutoff, and things called valve, shutoff, cock, reducer, gauge,
meter or bypass. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.problem import Finding
from bookgen.solve.checks.judge import Said, judged, unheld
from bookgen.solve.checks.reach import VALVE, access_to, middle, shut_in_by, way_to
from bookgen.solve.checks.sight import Reached, SeenThing, Sight, is_fitting
from bookgen.trade.called import called
from bookgen.trade.fitting import Shape

CODE = "valve-shut-in"
PIPED = frozenset({"water", "gas"})


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each valve that has an access point, and for each hidden one without."""
    points = sight.access
    for one in points:
        if is_valve(one):
            yield _judged(sight, _said_of(sight, one), not one.barred)
    for seen in sight.things:
        named = seen.thing.system in PIPED and (
            is_fitting(seen, Shape.INLINE) or (seen.record.body is not None and called(VALVE).search(seen.thing.what))
        )
        if named and access_to(seen, points) is None:
            by = shut_in_by(sight, middle(seen))
            if by:
                yield _judged(sight, _said_without(sight, seen, by), kept=False)


def is_valve(one: Reached) -> bool:
    """Tell whether an access point is that of a valve."""
    return one.point.system in PIPED and (one.point.shutoff is not None or one.named(VALVE))


def _said_of(sight: Sight, one: Reached) -> Said:
    height = sight.tape.long(one.at.z - sight.level.floor)
    says = way_to(sight, one)
    hint = sight.say("frame an opening onto it before the board goes up, or ask the plumber how it is to be reached")
    return sight.said(
        CODE, one.place, one.where(sight.say), says, sight.say("{height} over the floor", height=height), hint
    )


def _said_without(sight: Sight, seen: SeenThing, by: str) -> Said:
    height = sight.tape.long(middle(seen).z - sight.level.floor)
    says = sight.say("it is behind {by}, and no access point leads to it", by=by)
    hint = sight.say("frame an opening onto it and give it a tag, or ask the plumber whether it has to be reached")
    return sight.said(
        CODE, seen.thing.place, seen.thing.what, says, sight.say("{height} over the floor", height=height), hint
    )


def _judged(sight: Sight, said: Said, kept: bool) -> Finding:
    limit, codes = sight.governing("valves-reachable"), sight.project.record.codes
    return (
        unheld(said, codes.plumbing or codes.building, codes.authority) if limit is None else judged(said, limit, kept)
    )

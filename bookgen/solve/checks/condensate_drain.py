"""condensate-drain: water from a dehumidifier or a cooling coil has nowhere good to go, or its drain lies level.

    PASS   drains into: floor drain of the mechanical room
    FAIL   drains into: the radon pipe's pit
    FAIL   pipe: 1/2 in PVC, called condensate drain, with no fall

A radon system draws on the pit it stands in, and a bucket is forgotten. Things are known by their names: dehumidifier,
air conditioner, cooling coil, condensate. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.geometry import Rod
from bookgen.model.length import Length
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.amounts import amount
from bookgen.solve.checks.judge import Said, finding, judged, keeps, unheld
from bookgen.solve.checks.sight import SeenThing, Sight
from bookgen.trade.called import called
from bookgen.trade.limits import Limit
from bookgen.trade.pipe import pipe

CODE = "condensate-drain"
MAKES = "makes water"
CARRIES = "condensate drain"
NEVER = "no place for water"
POOR = "poor place for water"
TWELVE = 12  # inches in a foot
HINT = "lead it to a floor drain or a sink with a gap of air, or pump it there, and write drains into:"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield Findings on where the water of each such thing goes, and on the size and fall of each drain of it."""
    end = sight.held("condensate-drain-end")
    for seen in sight.things:
        pipe_of_it = seen.record.pipe is not None and called(CARRIES).search(seen.record.what)
        if not pipe_of_it and not called(MAKES).search(seen.record.what):
            continue
        if end is None:
            said = _said(sight, seen, sight.say("where its water goes was not looked at"), sight.say("not known"))
            yield unheld(said, sight.codes.building, sight.codes.authority)
            continue
        yield _where(sight, seen, end)
        if pipe_of_it:
            yield from _laid(sight, seen)


def _where(sight: Sight, seen: SeenThing, end: Limit) -> Finding:
    into = seen.record.drains_into
    if into is None:
        said = _said(sight, seen, sight.say("no record says where its water goes"), sight.say("not recorded"))
        return finding(said, end, Severity.ASK)
    said = _said(sight, seen, sight.say("its water goes into: {into}", into=into), into)
    if called(NEVER).search(into):
        return judged(said, end, kept=False)
    return finding(said, end, Severity.NOTE if called(POOR).search(into) else Severity.WITHIN)


def _laid(sight: Sight, seen: SeenThing) -> Iterator[Finding]:
    """Yield Findings on the size and the fall of a drain."""
    size, least = pipe(seen.record.pipe or ""), sight.held("condensate-drain-size")
    if size is not None and least is not None and size.wall is not None:
        inside = Length(size.outside.inches - 2 * size.wall.inches)
        words = sight.tape.short(inside)
        yield judged(
            _said(sight, seen, sight.say("it is {words} wide inside", words=words), words), least, keeps(least, inside)
        )
    slope, falls = sight.held("condensate-drain-slope"), list(_falls(seen))
    if slope is not None and slope.value is not None and falls:
        fall = min(falls) * TWELVE
        words = amount(fall, "in per ft", sight.tape, sight.tongue)
        said = _said(sight, seen, sight.say("it falls {words} where it falls least", words=words), words)
        yield judged(said, slope, fall >= slope.value)


def _falls(seen: SeenThing) -> Iterator[Fraction]:
    """Yield how much each level leg rises or falls for each inch along the plan, told by its square's upper bound."""
    for solid in seen.thing.solids:
        if isinstance(solid, Rod):
            way = solid.end.minus(solid.start)
            flat = max(abs(way.x), abs(way.y))
            if flat:
                yield abs(way.z) / flat


def _said(sight: Sight, seen: SeenThing, says: str, measured: str) -> Said:
    return sight.said(CODE, seen.thing.place, seen.thing.what, says, measured, sight.say(HINT))

"""pit-lid-covered: a sump or ejector pit has no lid in the records, no tag, or something stands on its lid.

    PASS   what: Sealed lid of the pit, with an access point at it and nothing above
    FAIL   the softener stands on the lid
    FAIL   a lid over sewage that no record calls sealed

A pit is opened by a plumber only, and somebody has to be able to. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.geometry import Box, Point
from bookgen.model.length import Length
from bookgen.model.problem import Finding, Severity
from bookgen.model.project import ObstacleFile
from bookgen.solve.checks.clear import Standing
from bookgen.solve.checks.judge import finding, judged, keeps, practice
from bookgen.solve.checks.reach import access_to
from bookgen.solve.checks.sight import SeenThing, Sight, is_fitting
from bookgen.trade.called import called
from bookgen.trade.fitting import Shape

CODE = "pit-lid-covered"
LID = "lid"
TIGHT = "sealed"
SUMP = "sump"
OVER = Fraction(60)  # inches over a lid that a pump is lifted out through
SOURCE = "measured on the plan; a pump is lifted out through its lid"
HINT = "keep the lid free and within reach, and ask the plumber"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield Findings on each record of a pit."""
    for file in sight.project.obstacles:
        if file.record.kind == "pit":
            own = [seen for seen in sight.things if seen.file is file]
            lids = [
                seen
                for seen in own
                if is_fitting(seen, Shape.PIT)
                or (seen.record.body is not None and called(LID).search(seen.record.what))
            ]
            if not lids:
                yield _none(sight, file)
            for lid in lids:
                yield from _lid(sight, file, lid)


def _none(sight: Sight, file: ObstacleFile) -> Finding:
    place, hint = sight.project.places.of(file.file, "inside"), "write the lid under inside: with its size"
    said = sight.said(
        CODE, place, file.record.obstacle, sight.say("no lid is recorded"), sight.say("none recorded"), hint
    )
    return practice(said, Severity.ASK, sight.say("a lid, sealed where sewage is in the pit"), sight.say(SOURCE))


def _lid(sight: Sight, file: ObstacleFile, lid: SeenThing) -> Iterator[Finding]:
    own = frozenset(seen.thing.key for seen in sight.things if seen.file is file)
    box = lid.box
    over = Box(Point(box.low.x, box.low.y, box.high.z), Point(box.high.x, box.high.y, box.high.z + OVER))
    found = sorted({block.what for block in Standing(sight, own).meeting(over)})
    says = (
        sight.say("on or right over it is {found}", found=", ".join(found))
        if found
        else sight.say("nothing of the plan stands on it")
    )
    said = sight.said(
        CODE, lid.thing.place, lid.thing.what, says, sight.say("{count} in the way", count=len(found)), sight.say(HINT)
    )
    wanted = sight.say("nothing on it, nor within {reach} over it", reach=sight.tape.short(OVER))
    yield practice(said, Severity.ASK if found else Severity.WITHIN, wanted, sight.say(SOURCE))
    tagged = access_to(lid, sight.access)
    says = sight.say("tag {tag} is at it", tag=tagged.point.tag) if tagged else sight.say("no access point is at it")
    said = sight.said(
        CODE,
        lid.thing.place,
        lid.thing.what,
        says,
        sight.say("tagged") if tagged else sight.say("no tag"),
        sight.say("give it a tag under access:"),
    )
    yield practice(
        said,
        Severity.WITHIN if tagged else Severity.ASK,
        sight.say("a tag at what a plumber has to find"),
        sight.say(SOURCE),
    )
    yield from _tight(sight, file, lid)
    limit = sight.governing("sump-pit-diameter")
    if limit is not None and called(SUMP).search(f"{file.record.obstacle} {lid.thing.what}"):
        across = Length(min(box.size("x"), box.size("y")))
        said = sight.said(
            CODE,
            lid.thing.place,
            lid.thing.what,
            sight.say("it is {across} across", across=sight.tape.short(across)),
            sight.tape.short(across),
            sight.say(HINT),
        )
        yield judged(said, limit, keeps(limit, across))


def _tight(sight: Sight, file: ObstacleFile, lid: SeenThing) -> Iterator[Finding]:
    """Yield a Finding on the seal of a lid that is over sewage."""
    limit = sight.held("sewage-pit-lid-tight")
    sewage = lid.thing.system == "waste" and not called(SUMP).search(f"{file.record.obstacle} {lid.thing.what}")
    if limit is None or not sewage:
        return
    sealed = called(TIGHT).search(f"{lid.thing.what} {file.record.sentence}")
    says = sight.say("its record calls it sealed") if sealed else sight.say("no record says that it is sealed")
    hint = sight.say("have a plumber seal it, and write what it is: Sealed lid of the pit")
    said = sight.said(
        CODE, lid.thing.place, lid.thing.what, says, sight.say("sealed") if sealed else sight.say("not recorded"), hint
    )
    yield finding(said, limit, Severity.WITHIN if sealed else Severity.ASK)

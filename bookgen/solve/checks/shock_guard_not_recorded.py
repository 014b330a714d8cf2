"""shock-guard-not-recorded: an outlet is on record where the electrical code asks shock protection (GFCI) of it.

    PASS   what: Outlet behind the screen, shock guard: yes
    FAIL   what: Outlet of the sump pump                    (and no word of a shock guard)

Editions differ: NEC 2014 and 2017 ask it of outlets in the unfinished parts of a basement, 2020 and 2023 of every one.
The test button on the outlet, or on its breaker, is what to look for. Where no record names an outlet, one line says
so. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.problem import Finding, Severity
from bookgen.model.project import PROJECT_FILE
from bookgen.solve.checks.judge import finding, judged, unheld
from bookgen.solve.checks.sight import SeenThing, Sight
from bookgen.trade.called import called

CODE = "shock-guard-not-recorded"
EVERYWHERE = "gfci-basement-every-outlet"
UNFINISHED = "gfci-basement-unfinished-outlet"
OUTLET = "outlet"
HINT = "press its test button; write shock guard: yes or no in its record, and ask the electrician"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each outlet on record; one for the level where there is none."""
    outlets = [
        seen for seen in sight.things if seen.thing.system == "power" and called(OUTLET).search(seen.record.what)
    ]
    for seen in outlets:
        yield _one(sight, seen)
    rule = sight.governing(EVERYWHERE) or sight.governing(UNFINISHED)
    if not outlets and rule is not None:
        level = sight.project.record.level.name
        place = sight.project.places.of(PROJECT_FILE, "level")
        said = sight.said(
            CODE, place, level, sight.say("no record names an outlet"), sight.say("none recorded"), sight.say(HINT)
        )
        yield finding(said, rule, Severity.NOTE)


def _one(sight: Sight, seen: SeenThing) -> Finding:
    everywhere, unfinished = sight.governing(EVERYWHERE), sight.governing(UNFINISHED)
    room = sight.room(seen.file.record.room)
    bare = room is not None and room.use == "utility"
    where = (
        (
            sight.say("it is in {name}, not finished", name=room.name)
            if bare
            else sight.say("it is in {name}, finished", name=room.name)
        )
        if room is not None
        else sight.say("it is here")
    )
    guard = seen.record.shock_guard
    words = {
        True: sight.say("a shock guard is recorded"),
        False: sight.say("it has no shock guard"),
        None: sight.say("no record says whether it has one"),
    }
    said = sight.said(
        CODE, seen.thing.place, seen.thing.what, f"{where}; {words[guard]}", words[guard], sight.say(HINT)
    )
    rule = everywhere or unfinished
    if rule is None:
        return unheld(said, sight.codes.electrical, sight.codes.authority)
    kept = guard is True or (everywhere is None and not bare)
    return judged(said, rule, kept, Severity.ASK if guard is None else None)

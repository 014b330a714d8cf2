"""vent-without-clearance: a hot vent is boxed in, and its record does not say how much room its listing asks round it.

    PASS   duct: 6 in round, vent: type B, clearance: 1 in      (inside a chase)
    FAIL   duct: 6 in round, vent: type B                       (inside a chase, no clearance)

What a pipe is made as gives a figure, but its own label decides. Of a pipe that nobody knows the make of, and of how
near wood is, the check `flue-too-near` speaks alone. A plastic vent asks only what its maker says. Check against your
local code.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import practice
from bookgen.solve.checks.sight import SeenThing, Sight
from bookgen.solve.flues import is_flue

CODE = "vent-without-clearance"
BOXED = frozenset({"chase", "wall soffit", "hung soffit", "closet", "beam soffit", "furring"})
ASKED = "its clearance, as its label has it"
SOURCE = "listings of gas vents; IFGC 502, from memory"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each metal vent that a treatment of its own record boxes in."""
    built = {one.key: one.assembly for one in sight.obstacles}
    for seen in sight.things:
        assembly = built[seen.file.key]
        if assembly is None or assembly.treatment not in BOXED or not _asked(seen):
            continue
        clear = seen.thing.clearance
        title = sight.title(assembly)
        says = (
            sight.say(
                "it is boxed in by the {title}, {clear} are kept free round it",
                title=title,
                clear=sight.tape.short(clear),
            )
            if clear
            else sight.say("it is boxed in by the {title}, and no clearance is recorded", title=title)
        )
        hint = sight.say("write clearance: as the label on the vent has it, and ask the heating contractor")
        said = sight.said(CODE, seen.thing.place, seen.thing.what, says, sight.tape.short(clear), hint)
        yield practice(said, Severity.WITHIN if clear else Severity.ASK, sight.say(ASKED), sight.say(SOURCE))


def _asked(seen: SeenThing) -> bool:
    """Tell whether a label can be asked for: of a metal vent whose make is recorded, or whose clearance is."""
    known = seen.record.vent not in {None, "plastic"}
    return is_flue(seen.record, seen.thing) and (known or (seen.record.vent is None and seen.thing.clearance > 0))

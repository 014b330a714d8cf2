"""structure-loaded: something hangs from a post or beam or rests on it, which it was not set up to carry.

    PASS   nothing of the records touches the beam
    FAIL   a hoist whose top touches the underside of the beam

What touches it may only stand beside it: the plan can't tell, so it is asked. A soffit whose blocks tie it to a beam is
a note: it carries itself and its board from the joists, and nothing else may be hung on it.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import Assembly
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import practice
from bookgen.solve.checks.sight import SeenThing, Sight
from bookgen.solve.checks.structure_cut import structure

CODE = "structure-loaded"
TOUCHES = Fraction(1, 8)  # inches
WANTED = "nothing is hung from it or rests on it that an engineer has not asked for"
SOURCE = "measured on the plan of this level; structure is an engineer's to alter"
HINT = "hang it from the joists or stand it on the slab, or have an engineer say in writing what it may carry"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each body that touches a post or beam, and one for each that nothing touches."""
    for seen in structure(sight):
        touching = _touching(sight, seen)
        for other in touching:
            says = sight.say("it touches: {what}; does it hang from that or rest on it?", what=seen.thing.what)
            said = sight.said(CODE, other.thing.place, other.thing.what, says, sight.say("it touches"), sight.say(HINT))
            yield practice(said, Severity.ASK, sight.say(WANTED), sight.say(SOURCE))
        if not touching:
            says = sight.say("nothing of the records hangs from it or rests on it")
            said = sight.said(CODE, seen.thing.place, seen.thing.what, says, sight.say("nothing"), sight.say(HINT))
            yield practice(said, Severity.WITHIN, sight.say(WANTED), sight.say(SOURCE))
    for obstacle in sight.obstacles:
        built = obstacle.assembly
        if built is not None and built.treatment == "beam soffit":
            yield from _tied(sight, built)


def _touching(sight: Sight, seen: SeenThing) -> list[SeenThing]:
    found: dict[str, SeenThing] = {}
    for box in seen.boxes:
        for number in sight.standing.meeting(box.grown(TOUCHES)):
            other, _ = sight.standers[number]
            if isinstance(other, SeenThing) and other.record.body is not None and other.thing.system != "structure":
                found.setdefault(other.thing.key, other)
    return list(found.values())


def _tied(sight: Sight, built: Assembly) -> Iterator[Finding]:
    blocks = sum(1 for part in built.parts if part.role == "block")
    if blocks:
        says = sight.say("{blocks} blocks tie its sides to the beam", blocks=blocks)
        hint = sight.say("clamp or wedge them, drill and weld nothing; hang nothing else on the soffit")
        said = sight.said(
            CODE, built.place, sight.tongue.name(built.title), says, sight.say("{blocks} blocks", blocks=blocks), hint
        )
        yield practice(said, Severity.NOTE, sight.say(WANTED), sight.say(SOURCE))

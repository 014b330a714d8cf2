"""structure-cut: a pipe, duct, cable or tank of the records goes through a post, beam or header that carries the house.

    PASS   the drain passes under the beam
    FAIL   the drain runs through the beam, 2 in above its underside

Steel, posts and headers are not cut, drilled or notched unless an engineer says where and how. Framing that would meet
them is refused before it gets here.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.meeting import meet
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import practice
from bookgen.solve.checks.sight import SeenThing, Sight

CODE = "structure-cut"
WANTED = "nothing goes through what carries the house"
SOURCE = "measured on the plan of this level; structure is an engineer's to alter"
HINT = "lead it round, or have an engineer say in writing where and how; cut nothing before"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each thing that goes through a post, beam or header, and for each of those left whole."""
    for seen in structure(sight):
        through = _through(sight, seen)
        for other in through:
            says = sight.say("it goes through: {what}", what=seen.thing.what)
            said = sight.said(
                CODE, other.thing.place, other.thing.what, says, sight.say("it goes through"), sight.say(HINT)
            )
            sure = all(one.thing.known.how == "measured" for one in (seen, other))
            yield practice(said, Severity.STOP if sure else Severity.ASK, sight.say(WANTED), sight.say(SOURCE))
        if not through:
            says = sight.say("no pipe, duct, cable or tank of the records goes through it")
            said = sight.said(CODE, seen.thing.place, seen.thing.what, says, sight.say("nothing"), sight.say(HINT))
            yield practice(said, Severity.WITHIN, sight.say(WANTED), sight.say(SOURCE))


def structure(sight: Sight) -> Iterator[SeenThing]:
    """Yield each thing that carries the house: posts, and bodies of the structure."""
    for seen in sight.things:
        if seen.thing.system == "structure" or seen.record.post is not None:
            yield seen


def _through(sight: Sight, seen: SeenThing) -> list[SeenThing]:
    found: dict[str, SeenThing] = {}
    for own in seen.thing.solids:
        for number in sight.standing.near(own.bounds()):
            other, _ = sight.standers[number]
            if not isinstance(other, SeenThing) or other.thing.system == "structure" or other.record.post is not None:
                continue
            if other.thing.key not in found and any(meet(own, solid) for solid in other.thing.solids):
                found[other.thing.key] = other
    return list(found.values())

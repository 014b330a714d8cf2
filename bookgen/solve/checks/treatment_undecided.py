"""treatment-undecided: nobody has chosen yet how an obstacle is hidden, so that it is drawn as open work.

    PASS   treatment: {wall soffit: {line: straight}}
    FAIL   treatment: propose

`bookgen check` shows what would serve, with headroom, floor, board, sticks and access for each.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import sourced
from bookgen.solve.checks.sight import Sight
from bookgen.trade.tables import Sure

CODE = "treatment-undecided"
SOURCE = "the record says propose"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each record that asks for proposals."""
    for file in sight.project.obstacles:
        if file.record.undecided:
            place = sight.project.places.of(file.file, "treatment")
            says = sight.say(
                "how it is hidden is still to be chosen; until then it is open work, without framing or takeoff"
            )
            hint = sight.say("look at what bookgen check proposes, and write the one you choose in its place")
            said = sight.said(CODE, place, file.record.obstacle, says, sight.say("none chosen"), hint)
            yield sourced(said, Severity.ASK, sight.say("one treatment"), sight.say(SOURCE), Sure.COMPUTED)

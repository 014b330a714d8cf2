"""under-stair-bare: a closed space under the stair, where things are kept, has no board inside that holds a fire back.

    PASS   beneath: storage, beneath board: 1/2 in
    FAIL   beneath: storage                            (and no board recorded)

It is asked of a closed space that somebody can get into: on its walls, under the stair and on any soffit, on the side
of the space. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.problem import Finding, Severity
from bookgen.model.records.treatments import StairOpening
from bookgen.solve.checks.judge import Said, finding, judged, keeps, unheld
from bookgen.solve.checks.sight import Sight
from bookgen.solve.checks.stairs import Stair, stairs
from bookgen.trade.limits import Limit

CODE = "under-stair-bare"
LIMIT = "under-stair-board"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding on the space under each stair."""
    limit = sight.governing(LIMIT)
    for stair in stairs(sight):
        if limit is None:
            said = _said(
                sight, stair, sight.say("what is under the stair was not looked at"), sight.say("not measured")
            )
            yield unheld(said, sight.codes.building, sight.codes.authority)
        else:
            yield _judged(sight, stair, stair.choices, limit)


def _judged(sight: Sight, stair: Stair, choices: StairOpening, limit: Limit) -> Finding:
    if choices.beneath is None:
        said = _said(
            sight, stair, sight.say("no record says what the space under the stair is"), sight.say("not recorded")
        )
        return finding(said, limit, Severity.NOTE)
    if choices.beneath != "storage":
        words = sight.say("open") if choices.beneath == "open" else sight.say("shut off, and nobody gets into it")
        return judged(
            _said(sight, stair, sight.say("the space under the stair is {words}", words=words), words),
            limit,
            kept=True,
        )
    if choices.beneath_board is None:
        says = sight.say("things are kept under the stair, and no record says that the space is boarded inside")
        return finding(_said(sight, stair, says, sight.say("no board recorded")), limit, Severity.ASK)
    board = sight.tape.short(choices.beneath_board)
    said = _said(sight, stair, sight.say("the space under the stair is boarded {board} thick", board=board), board)
    return judged(said, limit, keeps(limit, choices.beneath_board))


def _said(sight: Sight, stair: Stair, says: str, measured: str) -> Said:
    hint = sight.say("look, board it inside or leave it open, and write beneath: and beneath board:")
    return sight.said(CODE, stair.place("beneath"), sight.tongue.name(stair.title), says, measured, hint)

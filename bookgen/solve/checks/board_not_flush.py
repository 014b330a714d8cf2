"""board-not-flush: what lies over a wall stands further out, or less far, than the board of the wall can cover flush.

    PASS   a beam 3-1/2 in wide in the head of a wall of 2x4
    FAIL   a beam 4 in wide there      (its board stands 1/4 in before that of the wall below)

Nobody can board such a wall in one plane as its record has it: pack the wall out, take thinner board over the beam
where it is sold, or let the step show.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import practice
from bookgen.solve.checks.sight import SeenFace, Sight
from bookgen.solve.treatments.stud_wall import OVER_WALL

CODE = "board-not-flush"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each face over a wall that is not in the plane of the wall's own board."""
    over = [face for face in sight.faces if face.face.name.endswith(OVER_WALL)]
    for head in over:
        below = next((face for face in sight.faces if _under(face, head)), None)
        if below is None or below.at == head.at:
            continue
        step = (head.at - below.at) * head.toward
        off = sight.tape.short(abs(step))
        says = (
            sight.say("its board stands {off} before that of the wall below it", off=off)
            if step > 0
            else sight.say("its board stands {off} behind that of the wall below it", off=off)
        )
        hint = sight.say("pack out whichever lies further back, or let the step show, and write what was done")
        said = sight.said(CODE, head.assembly.place, sight.tongue.name(head.face.name), says, off, hint)
        yield practice(
            said, Severity.ASK, sight.say("one plane"), sight.say("the sizes of wall, beam and board in the records")
        )


def _under(face: SeenFace, head: SeenFace) -> bool:
    """Tell whether a face is that of the wall itself, under a head of the same wall and room."""
    return (
        face.assembly is head.assembly
        and face.face.room == head.face.room
        and (face.axis, face.toward) == (head.axis, head.toward)
        and not face.face.name.endswith(OVER_WALL)
    )

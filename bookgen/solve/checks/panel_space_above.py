"""panel-space-above: a pipe or duct runs over or under an electrical panel, in the space that is kept for its wiring.

    PASS   the drain passes beside the panel
    FAIL   pipe: 3 in PVC drain, right over the panel, 6 in above it

The space is as wide and as deep as the panel, from the floor to the height asked over it, or to the joists where they
are lower; a soffit that carries nothing does not end it. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.geometry import Box, Point
from bookgen.model.problem import Finding
from bookgen.solve.checks.judge import Said, judged, length_of, unheld
from bookgen.solve.checks.panels import Panel, panels
from bookgen.solve.checks.sight import Sight

CODE = "panel-space-above"
FOREIGN = frozenset({"water", "waste", "gas", "air", "soil gas"})  # what has nothing to do with the wiring


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each foreign thing in the space of a panel; one for the panel where there is none."""
    codes = sight.project.record.codes
    limit = sight.governing("panel-dedicated-space-height")
    for panel in panels(sight):
        if limit is None:
            said = _said(sight, panel, sight.say("what may run over it was not looked at"), sight.say("not measured"))
            yield unheld(said, codes.electrical, codes.authority)
            continue
        space = _space(sight, panel, length_of(limit).inches)
        foreign = _foreign(sight, space)
        for what, low in foreign:
            over = low - panel.seen.box.high.z
            says = sight.say("{what} runs through the space kept for its wiring", what=what)
            measured = (
                sight.say("{over} over it", over=sight.tape.long(over))
                if over >= 0
                else sight.say("beside or below it")
            )
            yield judged(_said(sight, panel, says, measured), limit, kept=False)
        if not foreign:
            says = sight.say("no pipe or duct of the records runs over or under it")
            measured = sight.say(
                "nothing, up to {height} over it", height=sight.tape.long(space.high.z - panel.seen.box.high.z)
            )
            yield judged(_said(sight, panel, says, measured), limit, kept=True)


def _said(sight: Sight, panel: Panel, says: str, measured: str) -> Said:
    hint = sight.say("move the pipe or duct, or ask the electrician")
    return sight.said(CODE, panel.seen.thing.place, panel.seen.thing.what, says, measured, hint)


def _space(sight: Sight, panel: Panel, above: Fraction) -> Box:
    box = panel.seen.box
    top = min(box.high.z + above, sight.level.joists)
    return Box(Point(box.low.x, box.low.y, sight.level.floor), Point(box.high.x, box.high.y, top))


def _foreign(sight: Sight, space: Box) -> list[tuple[str, Fraction]]:
    """Return what is in the space with its underside, each thing once."""
    found = []
    for seen in sight.things:
        inside = [box.low.z for box in seen.boxes if box.overlaps(space)]
        if seen.thing.system in FOREIGN and inside:
            found.append((seen.thing.what, min(inside)))
    return found

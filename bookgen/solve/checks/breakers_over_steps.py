"""breakers-over-steps: breakers or fuses hang over the steps of a stair, so that nobody can stand before them.

    PASS   a panel on the wall beyond the foot of the stair
    FAIL   a panel on the wall beside the steps, 50 in over them

Only stairs that a record opens are known. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.problem import Finding
from bookgen.solve.checks.judge import Said, judged, unheld
from bookgen.solve.checks.panels import Panel, panels
from bookgen.solve.checks.sight import Sight
from bookgen.solve.checks.stairs import Stair, stairs

CODE = "breakers-over-steps"
STANDS = Fraction(30)  # inches before a panel that somebody stands on
FROM_SLAB = Fraction(0)


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each panel, where the level has a stair."""
    found = tuple(stairs(sight))
    limit = sight.governing("breakers-not-over-steps")
    for panel in panels(sight) if found else ():
        over = [stair for stair in found if _over(panel, stair)]
        says = (
            sight.say("it hangs over the steps of the {title}", title=sight.title(over[0].built))
            if over
            else sight.say("no steps of a stair are before it")
        )
        said = _said(sight, panel, says, sight.say("over the steps") if over else sight.say("beside the steps"))
        yield (
            unheld(said, sight.codes.electrical, sight.codes.authority)
            if limit is None
            else judged(said, limit, not over)
        )


def _over(panel: Panel, stair: Stair) -> bool:
    steps = stair.over(stair.ends, FROM_SLAB)
    if panel.seen.box.overlaps(steps):
        return True
    view = panel.view
    return view is not None and view.ahead(STANDS, view.across, (view.floor, panel.seen.box.high.z)).overlaps(steps)


def _said(sight: Sight, panel: Panel, says: str, measured: str) -> Said:
    hint = sight.say("hang it where somebody can stand level before it; ask the electrician")
    return sight.said(CODE, panel.seen.thing.place, panel.seen.thing.what, says, measured, hint)

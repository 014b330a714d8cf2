"""panel-space-stored: the space before an electrical panel is, or will soon be, where things are kept.

    PASS   a panel on the wall of a room lived in, nothing before it
    FAIL   a shelf of the records 20 in before the panel
    FAIL   room: store       (use: storage)

Not even for a while: the space is for whoever works on the panel. A closet round a panel is a note, to be told to the
owner. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.clear import Standing, View
from bookgen.solve.checks.judge import Said, finding, judged, length_of, unheld
from bookgen.solve.checks.panels import Panel, panels
from bookgen.solve.checks.sight import Sight
from bookgen.solve.choices import chosen
from bookgen.trade.called import called

CODE = "panel-space-stored"
KEPT = "kept things"
STORES = frozenset({"storage", "clothes closet", "laundry"})  # uses of a room that fill its floor
DEEP, WIDE = Fraction(36), Fraction(30)  # inches, where no edition's own figures are held
HIGH = Fraction(78)
HINT = "keep it elsewhere, mark the floor before the panel, and tell the owner"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each panel whose front is known; panel-working-space asks for the others'."""
    rule = sight.governing("panel-space-no-storage")
    for panel in panels(sight):
        if panel.view is None:
            continue
        if rule is None:
            said = _said(sight, panel, sight.say("what is kept before it was not looked at"), sight.say("not measured"))
            yield unheld(said, sight.codes.electrical, sight.codes.authority)
            continue
        room, pick = sight.room(panel.seen.file.record.room), chosen(panel.seen.file.record)
        kept = _kept(sight, panel, panel.view)
        if kept:
            said = _said(
                sight,
                panel,
                sight.say("in the space before it stands {kept}", kept=", ".join(kept)),
                sight.say("{count} in the way", count=len(kept)),
            )
            yield judged(said, rule, kept=False)
        elif room is not None and room.use in STORES:
            says = sight.say("it is in the {name}, a room for {use}", name=room.name, use=sight.tongue.name(room.use))
            yield finding(_said(sight, panel, says, sight.tongue.name(room.use)), rule, Severity.ASK)
        elif pick is not None and pick.name == "closet":
            said = _said(
                sight, panel, sight.say("a closet with a door is round it, and closets fill up"), sight.say("a closet")
            )
            yield finding(said, rule, Severity.NOTE)
        else:
            yield judged(
                _said(sight, panel, sight.say("nothing of the records is kept before it"), sight.say("nothing")),
                rule,
                kept=True,
            )


def _kept(sight: Sight, panel: Panel, view: View) -> list[str]:
    depth, width = sight.governing("panel-working-depth"), sight.governing("panel-working-width")
    deep = DEEP if depth is None else length_of(depth).inches
    wide = WIDE if width is None else length_of(width).inches
    middle = sum(view.across, Fraction(0)) / 2
    half = max(wide, view.across[1] - view.across[0]) / 2
    space = view.ahead(deep, (middle - half, middle + half), (view.floor, view.floor + HIGH))
    found = Standing(sight, frozenset({panel.seen.thing.key})).meeting(space)
    return sorted({block.what for block in found if called(KEPT).search(block.what)})


def _said(sight: Sight, panel: Panel, says: str, measured: str) -> Said:
    return sight.said(CODE, panel.seen.thing.place, panel.seen.thing.what, says, measured, sight.say(HINT))

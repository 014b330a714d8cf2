"""breakers-misplaced: breakers or fuses are in a bathroom, or where clothes and other things may be stored.

    PASS   room: family       (use: living)
    FAIL   room: bath         (use: bath)

A room or closet is known by its use only: whether clothes hang in it, nobody but you can say. Check against your local
code.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import Said, finding, judged, unheld
from bookgen.solve.checks.panels import Panel, panels
from bookgen.solve.checks.sight import Sight
from bookgen.solve.choices import chosen

CODE = "breakers-misplaced"
STORES = frozenset({"storage", "clothes closet"})


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding on the bathroom and one on storage for each panel."""
    for panel in panels(sight):
        yield from _judged(sight, panel)


def _judged(sight: Sight, panel: Panel) -> Iterator[Finding]:
    codes = sight.project.record.codes
    room = sight.room(panel.seen.file.record.room)
    use, name = (room.use, room.name) if room is not None else ("", panel.seen.file.record.room)
    used = sight.tongue.name(use)
    bath, closet = sight.governing("breakers-not-in-bathroom"), sight.governing("breakers-not-in-clothes-closet")
    said = _said(
        sight,
        panel,
        sight.say("it is in the {name}, a room for {use}", name=name, use=used),
        used,
        sight.say("put it elsewhere, or ask the electrician"),
    )
    if bath is None or closet is None:
        yield unheld(said, codes.electrical, codes.authority)
        return
    yield judged(said, bath, use != "bath")
    pick = chosen(panel.seen.file.record)
    if pick is not None and pick.name == "closet":
        says = sight.say("it has a closet of its own")
        hint = sight.say("hang no clothes and store nothing in it, now or later")
        yield finding(_said(sight, panel, says, sight.say("a closet round the panel"), hint), closet, Severity.NOTE)
    else:
        hint = sight.say("keep clothes and other things that burn out of there, or put it elsewhere")
        yield judged(_said(sight, panel, said.says, used, hint), closet, use not in STORES)


def _said(sight: Sight, panel: Panel, says: str, measured: str, hint: str) -> Said:
    return sight.said(CODE, panel.seen.thing.place, panel.seen.thing.what, says, measured, hint)

"""panel-door-blocked: something stands so near before an electrical panel that its door can't open to a right angle.

    PASS   a panel 14 1/2 in wide with 38 in before it
    FAIL   the same panel with a post 10 in before it

The door is taken as wide as the panel; a narrower one needs less. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.problem import Finding
from bookgen.solve.checks.clear import Standing, clear_before
from bookgen.solve.checks.judge import judged, unheld
from bookgen.solve.checks.panels import panels
from bookgen.solve.checks.sight import Sight

CODE = "panel-door-blocked"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each panel whose front is known."""
    codes = sight.project.record.codes
    limit = sight.governing("panel-door-swing")
    for panel in panels(sight):
        if panel.view is None:
            continue  # panel-working-space asks for its front
        leaf = panel.view.across[1] - panel.view.across[0]
        clear = clear_before(panel.view, Standing(sight, frozenset({panel.seen.thing.key})), leaf)
        said = sight.said(
            CODE,
            panel.seen.thing.place,
            panel.seen.thing.what,
            sight.say(
                "its door, at most {leaf} wide, has {deep} to swing in, up to {deep_to}",
                leaf=sight.tape.long(leaf),
                deep=sight.tape.long(clear.deep),
                deep_to=clear.deep_to,
            ),
            sight.tape.long(clear.deep),
            sight.say("move what stands before it, or ask the electrician"),
        )
        if limit is None:
            yield unheld(said, codes.electrical, codes.authority)
        else:
            yield judged(said, limit, clear.deep >= leaf)

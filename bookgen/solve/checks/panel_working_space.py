"""panel-working-space: the space in front of an electrical panel is too shallow, too narrow or too low to work in.

    PASS   deep: 42 in off the block    (38 1/10 in before the front of a panel 3 9/10 in deep; 36 in is asked)
    FAIL   deep: 36 in off the block    (32 1/10 in)

It is measured from the front of the box, between framing, board, posts, pipes, ducts and tanks of the records;
furniture and shelves are in no record, so look for them. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.clear import Standing, View, clear_before
from bookgen.solve.checks.judge import finding, judged, length_of, unheld
from bookgen.solve.checks.panels import Panel, panels
from bookgen.solve.checks.sight import Sight

CODE = "panel-working-space"
DEPTH = Fraction(36)  # inches over which width and height are measured where no edition's depth is held


def check(sight: Sight) -> Iterator[Finding]:
    """Yield Findings on depth, width and height of the space before each panel."""
    for panel in panels(sight):
        if panel.view is None:
            yield _no_front(sight, panel)
        else:
            yield from _space(sight, panel, panel.view)


def _no_front(sight: Sight, panel: Panel) -> Finding:
    said = sight.said(
        CODE,
        panel.seen.thing.place,
        panel.seen.thing.what,
        sight.say("its record does not say which side is its front, so the space before it was not measured"),
        sight.say("not measured"),
        sight.say("write front: and the side that its door is on"),
    )
    codes, limit = sight.project.record.codes, sight.governing("panel-working-depth")
    return unheld(said, codes.electrical, codes.authority) if limit is None else finding(said, limit, Severity.ASK)


def _space(sight: Sight, panel: Panel, view: View) -> Iterator[Finding]:
    deep = sight.governing("panel-working-depth")
    needed = length_of(deep).inches if deep is not None else DEPTH
    clear = clear_before(view, Standing(sight, frozenset({panel.seen.thing.key})), needed)
    wide_least, high_least = view.across[1] - view.across[0], panel.seen.box.high.z - sight.level.floor
    rows = (
        (
            "panel-working-depth",
            clear.deep,
            Fraction(0),
            sight.say(
                "in front of it there is {size}, up to {what}", size=sight.tape.long(clear.deep), what=clear.deep_to
            ),
        ),
        (
            "panel-working-width",
            clear.wide,
            wide_least,
            sight.say("the space before it is {size} wide", size=sight.tape.long(clear.wide)),
        ),
        (
            "panel-working-height",
            clear.high,
            high_least,
            sight.say(
                "over the floor before it there is {size}, up to {what}",
                size=sight.tape.long(clear.high),
                what=clear.high_to,
            ),
        ),
    )
    for limit, measured, least, says in rows:
        yield _one(sight, panel, limit, (measured, least), says)


def _one(sight: Sight, panel: Panel, limit: str, sizes: tuple[Fraction, Fraction], says: str) -> Finding:
    row = sight.governing(limit)
    codes = sight.project.record.codes
    hint = sight.say(
        "move what stands there, or ask the electrician and {authority} before it is framed", authority=codes.authority
    )
    said = sight.said(CODE, panel.seen.thing.place, panel.seen.thing.what, says, sight.tape.long(sizes[0]), hint)
    if row is None:
        return unheld(said, codes.electrical, codes.authority)
    return judged(said, row, sizes[0] >= max(length_of(row).inches, sizes[1]))

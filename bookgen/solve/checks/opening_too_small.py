"""opening-too-small: what has to pass an access opening does not go through it.

    PASS   passes: [two hands], opening: 8 x 8 in
    FAIL   passes: [rod], opening: 8 x 8 in      (a rod and both hands need 12 x 12 in)

The sizes are what the trade leaves; the tool or the part in hand decides.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.problem import Finding, Severity
from bookgen.model.records.treatments import AccessOpening
from bookgen.solve.checks.judge import practice
from bookgen.solve.checks.sight import Sight
from bookgen.solve.choices import chosen
from bookgen.trade.passes import needed, passing

CODE = "opening-too-small"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each access opening whose record says, by the names of the table, what has to pass."""
    for file, obstacle in zip(sight.project.obstacles, sight.obstacles, strict=True):
        pick = chosen(file.record)
        if pick is None or obstacle.assembly is None or not isinstance(pick.choices, AccessOpening):
            continue
        rows = [row for row in map(passing, pick.choices.passes) if row is not None]
        if not rows:
            continue
        sizes = {measure.name: measure.value for measure in obstacle.assembly.measures}
        across = sizes["width of the opening"]
        other = sizes.get("height of the opening") or sizes["depth of the opening"]
        (short, long), made = needed(rows), sorted((across, other))
        asked = f"{sight.tape.short(short)} x {sight.tape.short(long)}"
        measured = f"{sight.tape.short(made[0])} x {sight.tape.short(made[1])}"
        names = "; ".join(sight.say(row.words) for row in rows)
        place = sight.project.places.of(file.file, *pick.path, "opening")
        says = sight.say("it opens {measured}, for {names}", measured=measured, names=names)
        said = sight.said(
            CODE,
            place,
            sight.tongue.name(obstacle.assembly.title),
            says,
            measured,
            sight.say("write a larger opening before it is framed"),
        )
        kept = short <= made[0] and long <= made[1]
        source = "; ".join(dict.fromkeys(row.source for row in rows))
        yield practice(
            said, Severity.WITHIN if kept else Severity.ASK, sight.say("at least {figure}", figure=asked), source
        )

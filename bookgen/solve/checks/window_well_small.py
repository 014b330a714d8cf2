"""window-well-small: the well before a way out is too small to climb out through, or too deep without a ladder.

    PASS   well: {out: 36 in, wide: 42 in, ...}      (10.5 sq ft of floor)
    FAIL   well: {out: 30 in, wide: 42 in, ...}

Whether the window opens fully into it, and what its cover weighs, no record says. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.length import Length
from bookgen.model.problem import Finding
from bookgen.model.project import PROJECT_FILE
from bookgen.model.records.project import Well, Window
from bookgen.solve.checks.amounts import in_square_inches, wide_area
from bookgen.solve.checks.judge import judged, keeps, unheld
from bookgen.solve.checks.sight import Sight
from bookgen.solve.site import height_above_slab

CODE = "window-well-small"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield Findings on width, reach, floor and depth of the well before each window that is a way out."""
    for key, window in sight.project.record.windows.items():
        if window.egress and window.well is not None:
            yield from _well(sight, key, window, window.well)


def _well(sight: Sight, key: str, window: Window, well: Well) -> Iterator[Finding]:
    deep = Length(height_above_slab(well.top, sight.level) - height_above_slab(well.bottom, sight.level))
    rows = [
        ("window-well-projection", "out", well.out),
        ("window-well-projection", "wide", well.wide),
    ]
    if not well.ladder:
        rows.append(("window-well-ladder-depth", "top", deep))
    codes = sight.project.record.codes
    hint = sight.say("make it larger or set a ladder, and ask {authority}", authority=codes.authority)
    for name, field, value in rows:
        place = sight.project.places.of(PROJECT_FILE, "windows", key, "well", field)
        shown = sight.tape.long(value)
        said = sight.said(
            CODE, place, sight.say("Well of the {what}", what=window.what), _sized(sight, field, shown), shown, hint
        )
        limit = sight.governing(name)
        yield (
            unheld(said, codes.building, codes.authority) if limit is None else judged(said, limit, keeps(limit, value))
        )
    limit, area = sight.governing("window-well-area"), well.out.inches * well.wide.inches
    if limit is not None and limit.value is not None:
        place = sight.project.places.of(PROJECT_FILE, "windows", key, "well")
        floor = wide_area(area, sight.tape, sight.tongue)
        said = sight.said(
            CODE,
            place,
            sight.say("Well of the {what}", what=window.what),
            sight.say("its floor is {floor}", floor=floor),
            floor,
            hint,
        )
        yield judged(said, limit, area >= in_square_inches(limit.value, limit.unit or ""))


def _sized(sight: Sight, field: str, size: str) -> str:
    match field:
        case "out":
            return sight.say("it stands {size} out from the wall", size=size)
        case "wide":
            return sight.say("it is {size} wide", size=size)
    return sight.say("it is {size} deep, and no ladder is recorded", size=size)

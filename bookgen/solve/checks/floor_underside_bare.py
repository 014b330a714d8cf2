"""floor-underside-bare: the floor above burns through soon from below: light joists, and no board under them.

    PASS   joists: {size: 2x10, ...}                       (sawn, and heavy enough to be left bare)
    FAIL   joists: {size: 2x8, ...}, and 300 sq ft of open joists
    FAIL   joists: {kind: I-joist, ...}, and 300 sq ft of open joists

A small part may stay open, with fire blocking round it: strips and open joists over lines use that up. Sprinklers serve
too; no record has them. Check against your local code.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.problem import Finding, Severity
from bookgen.model.project import PROJECT_FILE
from bookgen.solve.checks.amounts import in_square_inches, wide_area
from bookgen.solve.checks.judge import Said, judged, unheld
from bookgen.solve.checks.sight import Sight

CODE = "floor-underside-bare"
HEAVY = (2, 10)  # nominal inches: a sawn joist of at least this may be left bare (IRC R302.13, exception)
NOMINAL = re.compile(r"(\d+)\s*[x×]\s*(\d+)")


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding on the underside of the floor above."""
    asked, bare = sight.held("floor-underside-board"), sight.held("floor-underside-bare-area")
    joists = sight.project.record.level.joists
    open_rooms = [room for room in sight.rooms if room.ceiling is None]
    area = sum((room.outline.area() for room in open_rooms), Fraction(0))
    names = ", ".join(room.name for room in open_rooms)
    made = sight.say("{size} joists", size=joists.size) if joists.kind == "sawn" else light(sight, joists.kind)
    words = wide_area(area, sight.tape, sight.tongue)
    says = sight.say("every room has a ceiling under its {made}", made=made)
    if open_rooms:
        says = sight.say(
            "over {names} there is no ceiling: {words} of the floor's underside are bare, on {made}",
            names=names,
            words=words,
            made=made,
        )
    said = _said(sight, says, words)
    if asked is None or bare is None or bare.value is None:
        yield unheld(said, sight.codes.building, sight.codes.authority)
    elif joists.kind == "sawn" and heavy(joists.size):
        yield judged(said, asked, kept=True)
    else:
        adopted = sight.governing("floor-underside-bare-area") is not None
        kept = area <= in_square_inches(bare.value, bare.unit or "")
        yield judged(said, bare, kept, None if adopted else Severity.ASK)


def light(sight: Sight, kind: str) -> str:
    """Return what joists are called that are not sawn from one piece."""
    return sight.tongue.name({"I-joist": "I-joists", "truss": "trusses"}.get(kind, "laminated joists"))


def heavy(size: str) -> bool:
    """Tell whether a sawn joist of a trade size, such as 2x10, may be left bare."""
    found = NOMINAL.search(size)
    return found is not None and int(found[1]) >= HEAVY[0] and int(found[2]) >= HEAVY[1]


def _said(sight: Sight, says: str, measured: str) -> Said:
    place = sight.project.places.of(PROJECT_FILE, "level", "joists", "size")
    hint = sight.say("board it, or ask {authority} what may stay open", authority=sight.codes.authority)
    return sight.said(CODE, place, sight.project.record.level.name, says, measured, hint)

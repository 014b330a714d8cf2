"""vent-without-clearance: a hot vent is boxed in, and its record does not say how much room its listing asks round it.

    PASS   duct: 6 in round, system: gas, clearance: 1 in       (inside a chase)
    FAIL   duct: 6 in round, system: gas                        (inside a chase, no clearance)

Double-wall gas vent is commonly listed for 1 in to anything that burns, single-wall pipe for 6 in; its label decides. A
plastic radon or furnace vent is not hot so, and asks only what its maker says. Check against your local code.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from bookgen.model.assembly import Material
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import practice
from bookgen.solve.checks.sight import SeenThing, Sight

CODE = "vent-without-clearance"
HOT = re.compile(r"\b(flue|vent|chimney)\b", re.IGNORECASE)
BOXED = frozenset({"chase", "wall soffit", "hung soffit", "closet", "beam soffit", "furring"})
ASKED = "its clearance, as its label has it"
SOURCE = "listings of gas vents; IFGC 502, from memory"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each metal vent of the gas system that a treatment of its own record boxes in."""
    built = {one.key: one.assembly for one in sight.obstacles}
    for seen in sight.things:
        assembly = built[seen.file.key]
        if assembly is None or assembly.treatment not in BOXED or not _hot(seen):
            continue
        clear = seen.thing.clearance
        says = f"it is boxed in by the {assembly.title.lower()}, "
        says += f"{sight.tape.short(clear)} are kept free round it" if clear else "and no clearance is recorded"
        hint = "write clearance: as the label on the vent has it, and ask the heating contractor"
        said = sight.said(CODE, seen.thing.place, seen.thing.what, says, sight.tape.short(clear), hint)
        yield practice(said, Severity.WITHIN if clear else Severity.ASK, ASKED, SOURCE)


def _hot(seen: SeenThing) -> bool:
    metal = seen.thing.material in {Material.SHEET, Material.STEEL}
    named = HOT.search(f"{seen.record.what} {seen.thing.trade}") is not None
    return seen.thing.system == "gas" and metal and (named or seen.record.duct is not None)

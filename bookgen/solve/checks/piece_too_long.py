"""piece-too-long: a piece of framing is longer than the longest stick that can be bought, so nobody can cut it whole.

    PASS   a rail 14 ft long of 2x4, which is sold up to 16 ft
    FAIL   a rail 20 ft long of 2x2, which is sold in 8 ft only

The lengths are those of prices.yaml where the stock stands in it, else those commonly stocked.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.assembly import Assembly
from bookgen.model.cutting import NOTHING
from bookgen.model.length import Length, show_feet
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.sight import Sight
from bookgen.solve.takeoff.joinery import SHEETS
from bookgen.solve.takeoff.yard import Yard

CODE = "piece-too-long"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each stock of a treatment or wall with a piece that no stick holds."""
    yard = Yard(sight.project.prices)
    longest: dict[str, Length] = {}
    for assembly in (*(one.assembly for one in sight.obstacles if one.assembly), *sight.level.linings):
        for role, stock, length in _longest(assembly):
            if stock not in longest:
                usable = (yard.rules().usable(stick.length) for stick in yard.sticks(stock))
                longest[stock] = max(usable, default=NOTHING)
            if length > longest[stock]:
                yield _finding(assembly, role, stock, length, longest[stock], listed=yard.prices is not None)


def _longest(assembly: Assembly) -> Iterator[tuple[str, str, Length]]:
    """Yield the longest piece of each stock: its role, its stock, its length."""
    found: dict[str, tuple[str, Length]] = {}
    for part in assembly.parts:
        if part.stock and part.material not in SHEETS:
            length = part.length()
            if part.stock not in found or length > found[part.stock][1]:
                found[part.stock] = (part.role, length)
    for stock, (role, length) in found.items():
        yield role, stock, length


def _finding(assembly: Assembly, role: str, stock: str, length: Length, most: Length, *, listed: bool) -> Finding:
    where = "the price list, prices.yaml" if listed else "building-supply trade"
    if most == NOTHING:
        asked, hint = "a stock that is sold", f"name another stock, or write the lengths of {stock} in prices.yaml"
    else:
        asked = f"at most {show_feet(most)}"
        hint = "splice it where framing carries the joint, ask the yard for longer ones, or name a stock sold longer"
    return Finding(
        CODE,
        Severity.ASK,
        assembly.place,
        assembly.title,
        f"its {role} of {stock} is {show_feet(length)} long, longer than any that is sold",
        show_feet(length),
        asked,
        f"lengths sold: {where}",
        "common practice",
        hint,
    )

"""piece-too-long: a piece of framing is longer than the longest stick that can be bought, so nobody can cut it whole.

    PASS   a rail 14 ft long of 2x4, which is sold up to 16 ft
    FAIL   a rail 20 ft long of 2x2, which is sold in 8 ft only

The lengths are those of prices.yaml where the stock stands in it, else those commonly stocked.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.assembly import Assembly
from bookgen.model.cutting import NOTHING
from bookgen.model.length import Length
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.sight import Sight
from bookgen.solve.takeoff.joinery import SHEETS
from bookgen.solve.takeoff.yard import Yard
from bookgen.trade.tables import Sure

CODE = "piece-too-long"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each treatment or wall with a piece that no stick holds; else one for the stock's longest."""
    yard = Yard(sight.project.prices)
    pieces: dict[str, list[tuple[Length, str, Assembly]]] = {}
    for assembly in (*(one.assembly for one in sight.obstacles if one.assembly), *sight.level.linings):
        for role, stock, length in _longest(assembly):
            pieces.setdefault(stock, []).append((length, role, assembly))
    for stock in sorted(pieces):
        usable = (yard.rules().usable(stick.length) for stick in yard.sticks(stock))
        most = max(usable, default=NOTHING)
        long = [piece for piece in pieces[stock] if piece[0] > most]
        for length, role, assembly in long or [max(pieces[stock], key=lambda piece: piece[0])]:
            grave = Severity.ASK if long else Severity.WITHIN
            yield _finding(sight, (assembly, grave), (role, stock), (length, most))


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


def _finding(
    sight: Sight, found: tuple[Assembly, Severity], piece: tuple[str, str], lengths: tuple[Length, Length]
) -> Finding:
    (assembly, grave), (length, most), tape = found, lengths, sight.tape
    role, stock = (sight.tongue.name(name) for name in piece)
    hint = sight.say(
        "splice it where framing carries the joint, ask the yard for longer ones, or name a stock sold longer"
    )
    if most == NOTHING:
        hint = sight.say("name a stock that is sold, or write its lengths in prices.yaml")
    named = {"role": role, "stock": stock, "length": tape.long(length)}
    says = (
        sight.say("its {role} of {stock} is {length} long", **named)
        if grave is Severity.WITHIN
        else sight.say("its {role} of {stock} is {length} long, longer than any that is sold", **named)
    )
    return Finding(
        CODE,
        grave,
        assembly.place,
        sight.tongue.name(assembly.title),
        says,
        tape.long(length),
        sight.say("at most {figure}", figure=tape.long(most)),
        sight.say("lengths sold: prices.yaml, else the building-supply trade"),
        Sure.COMMON_PRACTICE.value,
        sight.say("buy it by the list") if grave is Severity.WITHIN else hint,
    )

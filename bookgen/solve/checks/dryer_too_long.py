"""dryer-too-long: the duct of a clothes dryer, its elbows counted, is longer than the code edition allows; lint burns.

    PASS   20 ft of duct with two mitred elbows     (30 ft counted; 35 ft at most in IRC 2021)
    FAIL   28 ft of duct with two mitred elbows     (38 ft counted)

Length and elbows come from the path of the record; where that is not the whole duct, write `dryer: {length: ...}`. The
flexible piece at the dryer is not counted, and never hidden. Check against your local code and the dryer's own papers.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Point, Rod, root_above
from bookgen.model.length import Length
from bookgen.model.problem import Finding, Severity
from bookgen.model.records.inside import DryerDuct
from bookgen.solve.checks.judge import Said, finding, judged, keeps, length_of, sourced, unheld
from bookgen.solve.checks.sight import SeenThing, Sight
from bookgen.trade.called import called
from bookgen.trade.tables import Sure

CODE = "dryer-too-long"
NAMED = "dryer"
# Which rows say what an elbow costs? By how it is made.
ELBOWS = {
    "mitred": "dryer-elbow-mitred",
    "smooth 6 in": "dryer-elbow-smooth-6",
    "smooth 8 in": "dryer-elbow-smooth-8",
    "smooth 10 in": "dryer-elbow-smooth-10",
}
WORST = "mitred"
# The square of the cosine between two legs: at most this is a square turn (68 degrees), at most that a half one (22).
SQUARE, HALF = Fraction(14, 100), Fraction(86, 100)
HINT = "shorten it, take out an elbow, or ask the dryer's maker and the heating contractor"


@dataclass(frozen=True, slots=True)
class _Counted:
    """What a duct comes to: its own length, its square and half elbows, and all of it together; inches."""

    length: Fraction
    squares: int
    halves: int
    whole: Fraction


def check(sight: Sight) -> Iterator[Finding]:
    """Yield Findings on the length and the label of each dryer's duct."""
    for seen in sight.things:
        if seen.record.dryer is not None or (seen.record.duct is not None and called(NAMED).search(seen.record.what)):
            yield from _one(sight, seen, seen.record.dryer or DryerDuct())


def _one(sight: Sight, seen: SeenThing, dryer: DryerDuct) -> Iterator[Finding]:
    limit, counted = sight.governing("dryer-duct-length"), _counted(sight, seen, dryer)
    tape = sight.tape
    made = (
        sight.say("its elbows are counted as mitred, since no record says how they are made")
        if dryer.elbow is None
        else (sight.say("its elbows are {elbow}", elbow=sight.tongue.name(dryer.elbow)))
    )
    says = sight.say(
        "{length} of duct, {squares} square and {halves} half elbows come to {whole}; {made}",
        length=tape.long(counted.length),
        squares=counted.squares,
        halves=counted.halves,
        whole=tape.long(counted.whole),
        made=made,
    )
    said = _said(sight, seen, says, tape.long(counted.whole), sight.say(HINT))
    if dryer.maker_allows is not None:
        grave = Severity.WITHIN if counted.whole <= dryer.maker_allows.inches else Severity.STOP
        wanted = sight.say("at most {figure}", figure=tape.long(dryer.maker_allows))
        yield sourced(said, grave, wanted, sight.say("the dryer's maker, as the record gives it"), Sure.QUOTED)
    elif limit is None:
        yield unheld(said, sight.codes.building, sight.codes.authority)
    else:
        yield judged(said, limit, keeps(limit, Length(counted.whole)))
    label = sight.held("dryer-duct-label")
    if label is not None:
        says = (
            sight.say("its length stands on a label")
            if dryer.label
            else sight.say("no record says that its length stands on a label")
        )
        hint = sight.say("fix a lasting label with its length near the dryer, and write label: yes")
        told = _said(sight, seen, says, sight.say("recorded") if dryer.label else sight.say("not recorded"), hint)
        yield finding(told, label, Severity.WITHIN if dryer.label else Severity.NOTE)


def _counted(sight: Sight, seen: SeenThing, dryer: DryerDuct) -> _Counted:
    legs = [solid for solid in seen.thing.solids if isinstance(solid, Rod)]
    length = sum((root_above(leg.length_squared()) for leg in legs), Fraction(0))
    if dryer.length is not None:
        length = dryer.length.inches
    turns = [_turn(first.end.minus(first.start), second.end.minus(second.start)) for first, second in pairwise(legs)]
    squares = turns.count("square") if dryer.elbows_90 is None else dryer.elbows_90
    halves = turns.count("half") if dryer.elbows_45 is None else dryer.elbows_45
    name = ELBOWS[dryer.elbow or WORST]
    costs = [sight.held(f"{name}-{angle}") for angle in ("90", "45")]
    square, half = (Fraction(0) if cost is None else length_of(cost).inches for cost in costs)
    return _Counted(length, squares, halves, length + squares * square + halves * half)


def _turn(first: Point, second: Point) -> str:
    """Return what an elbow between two legs is: square, half, or straight on."""
    dot = first.x * second.x + first.y * second.y + first.z * second.z
    sizes = (first.x**2 + first.y**2 + first.z**2) * (second.x**2 + second.y**2 + second.z**2)
    if dot <= 0 or dot**2 <= SQUARE * sizes:
        return "square"
    return "half" if dot**2 <= HALF * sizes else "straight"


def _said(sight: Sight, seen: SeenThing, says: str, measured: str, hint: str) -> Said:
    return sight.said(CODE, seen.thing.place, seen.thing.what, says, measured, hint)

"""stair-out-of-limits: a riser, tread, rail, guard or the gap between balusters is not what the code edition asks.

    PASS   rise: 100 in, risers: 13, tread: 10 in, rail: 36 in    (risers of 7 11/16 in)
    FAIL   rise: 100 in, risers: 12                               (risers of 8 5/16 in)

Only what the records say is measured: nosings, open risers and the grip of the handrail where they are written, light
not at all. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import Assembly
from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.model.place import Place
from bookgen.model.problem import Finding
from bookgen.model.records.treatments import Grip, StairOpening
from bookgen.solve.checks.judge import judged, keeps, unheld
from bookgen.solve.checks.sight import Sight
from bookgen.solve.choices import chosen
from bookgen.trade.tongue import Say

CODE = "stair-out-of-limits"
NO_NOSING = Fraction(11)  # inches: a tread this deep needs no nosing (IRC R311.7.5.3)
OPEN_OVER = Fraction(30)  # inches over the floor from which an open riser counts (IRC R311.7.5.1)


@dataclass(frozen=True, slots=True)
class _Row:
    """One thing measured on a stair: which limit asks for it, the record's field, its words and its length."""

    limit: str
    field: str
    what: str
    value: Length


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each size of each stair that is opened."""
    codes = sight.project.record.codes
    for file, obstacle in zip(sight.project.obstacles, sight.obstacles, strict=True):
        pick = chosen(file.record)
        if obstacle.assembly is None or pick is None or not isinstance(pick.choices, StairOpening):
            continue
        for row in _rows(obstacle.assembly, pick.choices, sight.say):
            place: Place = sight.project.places.of(file.file, *pick.path, row.field)
            length = sight.tape.short(row.value)
            hint = sight.say("change it, or ask {authority} what an old stair may keep", authority=codes.authority)
            said = sight.said(
                CODE,
                place,
                sight.tongue.name(obstacle.assembly.title),
                sight.say("{what} is {length}", what=row.what, length=length),
                length,
                hint,
            )
            limit = sight.governing(row.limit)
            if limit is None:
                yield unheld(said, codes.building, codes.authority)
            else:
                yield judged(said, limit, keeps(limit, row.value))


def _rows(built: Assembly, choices: StairOpening, say: Say) -> Iterator[_Row]:
    rise, lowest = built.measure("unit rise"), built.measure("lowest riser over the finished floor")
    rail = built.measure("rail above the nosing line")
    yield _Row("stair-riser", "risers", say("each riser"), max(rise, lowest))
    yield _Row(
        "stair-difference", "rise", say("the difference of the lowest riser"), Length(abs((rise - lowest).inches))
    )
    yield _Row("stair-tread", "tread", say("each tread, from nosing to nosing,"), built.measure("tread"))
    yield _Row("stair-width-above-rail", "stair", say("the stair's width above the rail"), choices.stair.size())
    yield _Row("handrail-height-least", "rail", say("the rail, above the line of the nosings,"), rail)
    yield _Row("handrail-height-most", "rail", say("the rail, above the line of the nosings,"), rail)
    yield _Row("guard-height-stair", "rail", say("the guard, above the line of the nosings,"), rail)
    yield _Row(
        "guard-opening-stair", "balusters", say("the gap between balusters"), built.measure("gap between balusters")
    )
    yield _Row("stair-rise-between-landings", "rise", say("the rise from floor to floor"), choices.rise)
    if choices.nosing is not None:
        if choices.tread.inches < NO_NOSING:
            yield _Row("stair-nosing-least", "nosing", say("the nosing of each tread"), choices.nosing)
        yield _Row("stair-nosing-most", "nosing", say("the nosing of each tread"), choices.nosing)
    if choices.open_risers and choices.rise.inches > OPEN_OVER:
        yield _Row("stair-open-riser", "open risers", say("the gap between treads, at most,"), rise)
    if choices.grip is not None:
        yield from _grip(choices.grip, say)


def _grip(grip: Grip, say: Say) -> Iterator[_Row]:
    if grip.diameter is not None:
        for name in ("handrail-round-least", "handrail-round-most"):
            yield _Row(name, "grip", say("the handrail's diameter"), grip.diameter)
    elif grip.wide is not None and grip.high is not None:
        round_it = Length(2 * (grip.wide.inches + grip.high.inches))
        for name in ("handrail-perimeter-least", "handrail-perimeter-most"):
            yield _Row(name, "grip", say("the distance round the handrail"), round_it)
        yield _Row("handrail-section-most", "grip", say("the handrail's widest side"), max(grip.wide, grip.high))
    if grip.off_the_wall is not None:
        yield _Row("handrail-from-wall", "grip", say("the clear space beside the handrail"), grip.off_the_wall)

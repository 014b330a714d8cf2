"""stair-out-of-limits: a riser, tread, rail, guard or the gap between balusters is not what the code edition asks.

    PASS   rise: 100 in, risers: 13, tread: 10 in, rail: 36 in    (risers of 7 11/16 in)
    FAIL   rise: 100 in, risers: 12                               (risers of 8 5/16 in)

Only what the records say is measured: headroom over the stair, nosings, light and the rail's grip are not. Check
against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bookgen.model.assembly import Assembly
from bookgen.model.length import Length
from bookgen.model.place import Place
from bookgen.model.problem import Finding
from bookgen.model.records.treatments import StairOpening
from bookgen.solve.checks.judge import judged, keeps, unheld
from bookgen.solve.checks.sight import Sight
from bookgen.solve.choices import chosen

CODE = "stair-out-of-limits"


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
        for row in _rows(obstacle.assembly, pick.choices):
            place: Place = sight.project.places.of(file.file, *pick.path, row.field)
            length = sight.tape.short(row.value)
            hint = f"change it, or ask {codes.authority} what an old stair may keep"
            said = sight.said(CODE, place, obstacle.assembly.title, f"{row.what} is {length}", length, hint)
            limit = sight.governing(row.limit)
            if limit is None:
                yield unheld(said, codes.building, codes.authority)
            else:
                yield judged(said, limit, keeps(limit, row.value))


def _rows(built: Assembly, choices: StairOpening) -> Iterator[_Row]:
    rise, lowest = built.measure("unit rise"), built.measure("lowest riser over the finished floor")
    rail = built.measure("rail above the nosing line")
    yield _Row("stair-riser", "risers", "each riser", max(rise, lowest))
    yield _Row("stair-difference", "rise", "the difference of the lowest riser", Length(abs((rise - lowest).inches)))
    yield _Row("stair-tread", "tread", "each tread, from nosing to nosing,", built.measure("tread"))
    yield _Row("stair-width-above-rail", "stair", "the stair's width above the rail", choices.stair.size())
    yield _Row("handrail-height-least", "rail", "the rail, above the line of the nosings,", rail)
    yield _Row("handrail-height-most", "rail", "the rail, above the line of the nosings,", rail)
    yield _Row("guard-height-stair", "rail", "the guard, above the line of the nosings,", rail)
    yield _Row("guard-opening-stair", "balusters", "the gap between balusters", built.measure("gap between balusters"))

"""What a finding says beside its figures: the units of the job, where on the level it is, and a local ordinance."""

from __future__ import annotations

import re
from typing import Any

import pytest

from bookgen.model.length import inches
from bookgen.model.problem import Finding, Severity
from bookgen.model.tape import Tape
from bookgen.solve.checks.amounts import amount, heat, volume, volume_needed, wide_area
from bookgen.trade.tongue import tongue
from tests.solve.level_fixture import record, solved
from tests.solve.test_checks_rooms import BOTH, HALL, P3, ROOMS, appliance, panel, stack

ENGLISH = tongue("en")
METRIC = Tape("metric")
FEET = Tape()
WINDOW = {"what": "Window", "wall": "north wall", "along": "84 in to 120 in", "sill": "46 in above slab",
          "head": "82 in above slab", "egress": "yes"}  # fmt: skip


def everything(**more: Any) -> tuple[Finding, ...]:
    """Return what all checks found on a level with a panel, a stack in its chase, a heater and a window."""
    rooms = ROOMS | {"hall": {"name": "Hall", "use": "hall", "outline": HALL}}
    heater = appliance("30,000 Btu/h", BOTH | {"louvre area": "90 sq in"}, air_from="the room")
    files = [panel(), stack(), heater]
    named = [type(file)(f"n{number}", f"obstacles/n{number}.yaml", file.record) for number, file in enumerate(files)]
    return solved(*named, rooms=rooms, partitions=P3, windows={"w": WINDOW}, **more).findings


def test_a_metric_job_has_no_feet_and_inches_in_its_findings() -> None:
    """Where the record says metric, what was measured and what is asked are read in millimetres, m², m³ and kW."""
    words = [text for one in everything(units="metric") for text in (one.says, one.measured, one.asked, one.spot)]

    assert [text for text in words if re.search(r"[\u2032\u2033]|\b(sq|cu) (ft|in)\b|Btu/h", text)] == []
    assert any("kW" in text for text in words)
    assert any("mm" in text for text in words)


def test_the_same_job_in_feet_has_no_millimetres() -> None:
    """Where nothing is said, feet and inches."""
    words = [text for one in everything() for text in (one.says, one.measured, one.asked, one.spot)]

    assert [text for text in words if re.search(r"\bmm\b|\bm²|\bkW\b", text)] == []


def test_a_job_in_both_units_says_both() -> None:
    """Wherever a finding tells feet or inches, millimetres stand behind them in brackets."""
    words = [text for one in everything(units="both") for text in (one.says, one.measured, one.asked, one.spot)]
    inch = [text for text in words if "\u2033" in text]

    assert inch
    assert [text for text in inch if not re.search(r"\u2033 \(−?\d+\u00a0mm\)", text)] == []
    assert amount(inches("5.7").inches, "ft2", Tape("both"), ENGLISH) == "5.7 sq ft (0.53 m²)"
    assert amount(inches("0.5").inches, "m2", Tape("both"), ENGLISH) == "0.5 m²"


def test_amounts_are_those_of_the_standards() -> None:
    """IRC R310 prints 0.530 m² for 5.7 sq ft, IFGC 304.5.1 4.8 m³/kW for 50 cu ft per 1,000 Btu/h."""
    assert amount(inches("5.7").inches, "ft2", METRIC, ENGLISH) == "0.53 m²"
    assert amount(inches(50).inches, "ft3 per 1,000 Btu/h", METRIC, ENGLISH) == "4.83 m³ per kW"
    assert amount(inches("5.7").inches, "ft2", FEET, ENGLISH) == "5.7 sq ft"
    assert heat(inches(120_000).inches, METRIC, ENGLISH) == "35.2 kW"


def test_amounts_are_never_flattered() -> None:
    """What is there is rounded down, what is asked for up: 1,000 cu in are 0.578 cu ft and 0.0164 m³."""
    thousand = inches(1000).inches
    assert (volume(thousand, FEET, ENGLISH), volume_needed(thousand, FEET, ENGLISH)) == ("0 cu ft", "1 cu ft")
    assert (volume(thousand, METRIC, ENGLISH), volume_needed(thousand, METRIC, ENGLISH)) == ("0 m³", "0.1 m³")
    assert wide_area(inches(143).inches, FEET, ENGLISH) == "0.9 sq ft"


def test_a_finding_says_where_on_the_level_it_is() -> None:
    """The panel hangs 4.6 to 8.5 in east, 60 to 74.5 in north, 45 to 75 in over the slab; the floor takes 0.3 in."""
    found = next(one for one in solved(panel()).findings if one.code == "breaker-too-high")

    assert found.spot == "Family room, 7″ east, 5′\u00a07″ north, 3′\u00a09″ to 6′\u00a03″ up"


@pytest.mark.parametrize(
    ("local", "severity"),
    [
        ([], Severity.STOP),  # 45.7 in over the floor; IRC R310 asks at most 44
        ([{"limit": "egress-sill", "is": "48 in", "ordinance": "City of Fargo"}], Severity.WITHIN),
        ([{"limit": "egress-sill", "is": "40 in", "ordinance": "Ordinance 12"}], Severity.STOP),
    ],
)
def test_a_local_ordinance_takes_the_place_of_the_code(local: list[dict[str, str]], severity: Severity) -> None:
    """The ordinance is named as the source."""
    codes = {"authority": "Pell Harbor", "building": "IRC 2021", "electrical": "NEC 2023", "local": local}
    found = next(
        one for one in solved(record([], None), windows={"w": WINDOW}, codes=codes).findings if "sill" in one.says
    )

    assert found.severity is severity
    assert found.source.startswith(local[0]["ordinance"] if local else "IRC R310")

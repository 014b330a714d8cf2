"""Cautions as a reader meets them: one panel a signal word, by what is about to be done, each hazard once."""

from __future__ import annotations

import datetime
import json
from dataclasses import replace
from typing import get_args

import pytest

from bookgen.compose import _drill_cautions
from bookgen.compose.caution import BLOCKED, before_drilling, blocked, groups, warned_by
from bookgen.compose.for_later import found_for_later, hazards_left
from bookgen.compose.show import Show
from bookgen.compose.terms import terms
from bookgen.model.book import SignalGroup
from bookgen.model.problem import Settled, Severity
from bookgen.model.records import Obstacle
from bookgen.model.records.inside import System
from bookgen.model.records.obstacle import Kind
from bookgen.model.solved import Solved
from bookgen.solve.checks import CHECKS
from bookgen.trade.cautions import caution, cautions, hidden_words
from bookgen.trade.later import later
from tests.sample_house import sample_house

SHOW = Show("imperial", terms("en"))
BOILER_ROOM = (
    "gas-smell", "gas-reopening", "carbon-monoxide", "air-to-burn", "things-that-burn-near-flame",
    "furnace-starts-by-itself", "relief-pipe-scald", "hot-flue", "filter-due",
)  # fmt: skip


@pytest.fixture(scope="module")
def solved() -> Solved:
    """Return the sample house, solved."""
    return sample_house()


def said(found: tuple[SignalGroup, ...]) -> list[str]:
    """Return the hazards of all panels, in their order."""
    return [panel.hazard for group in found for part in group.parts for panel in part.panels]


def test_a_room_of_many_hazards_has_one_panel_a_signal_word() -> None:
    """Seven warnings, a caution and a notice make three panels, the gravest first, and no hazard is lost."""
    found = groups([(hazard, None) for hazard in BOILER_ROOM], SHOW)

    assert [group.word for group in found] == ["WARNING", "CAUTION", "NOTICE"]
    assert sorted(said(found)) == sorted(row.hazard for id_ in BOILER_ROOM if (row := caution(id_)))


def test_warnings_stand_before_the_act() -> None:
    """What holds at any time comes first; each of the rest stands before what the reader is about to do."""
    (warnings, *_) = groups([(hazard, None) for hazard in BOILER_ROOM], SHOW)
    acts = {part.act: [panel.hazard for panel in part.panels] for part in warnings.parts}

    assert next(iter(acts)) == "At any time"
    for id_, act in (("gas-reopening", "act open"), ("air-to-burn", "act cover"), ("carbon-monoxide", "act always")):
        row = caution(id_)
        assert row is not None
        assert row.hazard in acts[SHOW.terms[act]]


def test_every_hazard_keeps_somebody_to_call() -> None:
    """Of hazards that stand together and call the same, the last one says whom; none is left without."""
    for group in groups([(hazard, None) for hazard in BOILER_ROOM], SHOW):
        for part in group.parts:
            assert part.panels[-1].call


def test_a_hazard_named_twice_keeps_both_sentences() -> None:
    """Two records of a chapter may each add a word of their own; the same word twice stands once."""
    (group,) = groups([("joist-cut", "The first."), ("joist-cut", "The second."), ("joist-cut", "The first.")], SHOW)
    (panel,) = group.parts[0].panels

    assert panel.avoidance.endswith("The first. The second.")


def test_a_record_without_cautions_gets_those_of_its_kind(solved: Solved) -> None:
    """A panel that nobody wrote a caution for still says that its live parts kill."""
    record = next(file.record for file in solved.project.obstacles if file.record.kind == "panel")

    assert "live-parts-in-panel" in dict(warned_by([record.model_copy(update={"cautions": ()})], 1984))
    assert [hazard for hazard, _ in warned_by([record], 1984)] == [one.hazard for one in record.cautions]


@pytest.mark.parametrize(
    ("built", "expected"),
    [
        (1960, {"asbestos-in-old-finishes", "lead-in-old-paint"}),
        (1984, {"asbestos-in-old-finishes"}),  # after the 1978 ban on lead house paint, 16 CFR 1303
        (2004, set()),
    ],
)
def test_before_drilling_the_age_of_the_house_counts(built: int, expected: set[str]) -> None:
    """Asbestos and lead stand where somebody is about to drill, by the year the house was built."""
    aged = {"asbestos-in-old-finishes", "lead-in-old-paint"}

    assert {hazard for hazard, _ in before_drilling(["water"], built)} & aged == expected
    assert "gas-pipe-behind-board" not in dict(before_drilling(["water"], built))
    assert "gas-pipe-behind-board" in dict(before_drilling(["gas"], built))


def test_what_the_checks_found_is_told_to_the_owner(solved: Solved) -> None:
    """Two valves and a gauge behind the board become one notice in the chapter of the water service."""
    warned = dict(found_for_later(solved, {"obstacles/11-water.yaml"}, SHOW))

    assert "Second water valve" in (warned["valve-behind-board"] or "")
    assert "Pressure reducer" in (warned["valve-behind-board"] or "")


def test_a_stop_that_nobody_settled_stands_under_the_hazards_left(solved: Solved) -> None:
    """An answered one does not, and the words leave the judging to those who may."""
    stop = replace(next(one for one in solved.findings if one.severity is Severity.ASK), severity=Severity.STOP)
    answered = replace(stop, answered=Settled("Tern Electric (demo)", datetime.date(2026, 4, 2), "letter"))

    (line,) = hazards_left(replace(solved, findings=(stop,)), SHOW)

    assert stop.where in line
    assert "local code" in line
    assert hazards_left(replace(solved, findings=(answered,)), SHOW) == ()


def test_rooms_without_a_recorded_alarm_are_told(solved: Solved) -> None:
    """The note of the checks becomes one line among the hazards left, with every room in it."""
    (line,) = [words for words in hazards_left(solved, SHOW) if "alarm" in words]

    assert "Guest room" in line


def record_of(kind: str, *inside: str, access: bool = False) -> Obstacle:
    """Return a record that names no caution, with things called so inside, and perhaps something to reach."""
    at, known = {"along": "9 in", "off the block": "7 in", "above slab": "9 in"}, {"how": "assumed"}
    thing = {"pipe": "3 in PVC drain", "at": at, "system": "waste", "known": known}
    cover = {"kind": "lift-out panel", "size": "8 x 8 in", "at": at, "opens": "pull"}
    reached = {"tag": "01", "what": "It", "where": "there", "system": "water", "at": at, "cover": cover, "known": known}
    fields = {
        "obstacle": "Thing", "kind": kind, "room": "family", "sentence": "Something.", "known": {"how": "planned"},
        "inside": [thing | {"what": what} for what in inside], "access": [reached] if access else [],
    }  # fmt: skip
    return Obstacle.model_validate_json(json.dumps(fields))


def test_every_caution_of_the_table_reaches_a_reader() -> None:
    """No row is there that no book would show: by kind or thing, before drilling, in an emergency, or from a check."""
    kinds = [hazard for kind in get_args(Kind) for hazard, _ in warned_by([record_of(kind, access=True)], 1950)]
    things = [
        hazard for word in hidden_words() for hazard, _ in warned_by([record_of("lines", word.capitalize())], 1950)
    ]
    page = [hazard for hazard, _ in before_drilling(get_args(System), 1950, ["egress window"])]
    urgent = [one.caution for one in terms("en").emergencies]
    found = [row.caution for row in later()]

    told = {*kinds, *things, *page, *urgent, *found, BLOCKED}
    assert {row.id for row in cautions()} - told == set()


@pytest.mark.parametrize(
    "hazard",
    ["powder-actuated-tool", "silica-dust", "board-dust", "lines-in-slab", "mold-after-water", "fire-blocking-removed"],
)
def test_what_every_level_has_stands_before_it_is_drilled_or_cut(solved: Solved, hazard: str) -> None:
    """Walls, ceilings, slab and block are everywhere, so what they do stands on the page for hanging and drilling."""
    row = caution(hazard)
    assert row is not None
    assert row.hazard in said(_drill_cautions(solved, SHOW))


@pytest.mark.parametrize(
    ("about", "hazard"), [("gas", "carbon-monoxide"), ("water", "mold-after-water"), ("pit", "ejector-pit-lid")]
)
def test_what_hurts_in_an_emergency_stands_on_the_first_page(about: str, hazard: str) -> None:
    """Whoever runs to that page reads it there."""
    assert hazard in {one.caution for one in terms("en").emergencies if one.about == about}


@pytest.mark.parametrize(
    ("kind", "hazards"),
    [
        ("pit", {"confined-work", "ejector-pit-lid"}),
        ("vent riser", {"radon-fan-runs-always", "radon-pipe-opened"}),
        ("appliance", {"carbon-monoxide", "air-to-burn"}),
    ],
)
def test_a_chapter_warns_of_what_its_kind_can_do(kind: str, hazards: set[str]) -> None:
    """A record that nobody wrote cautions into still has those that could kill."""
    assert hazards <= set(dict(warned_by([record_of(kind)], 1984)))


def test_a_valve_that_nobody_may_open_is_not_warned_of_as_one() -> None:
    """That a valve may stick is for whoever reaches one: a record without an access point has none to turn."""
    closed, reached = (dict(warned_by([record_of("water service", access=one)], 1984)) for one in (False, True))

    assert "water-valve-old" not in closed
    assert {"water-valve-old", "water-pressure", "cover-painted-shut"} <= set(reached)


def test_what_is_cut_for_fire_blocks_says_so_in_its_chapter(solved: Solved) -> None:
    """The soffit has blocks inside, the closet none."""
    built = {one.key: one.assembly for one in solved.obstacles if one.assembly is not None}

    assert blocked([built["02-drain"]]) == ((BLOCKED, None),)
    assert blocked([built["01-panel"]]) == ()


def test_the_table_of_what_matters_later_names_checks_and_cautions_that_there_are() -> None:
    """A slip in either would hide a hazard."""
    codes = {code for code, _ in CHECKS}
    for row in later():
        assert row.check in codes
        assert row.caution is None or caution(row.caution) is not None
        assert row.least in {"stop", "ask", "note"}

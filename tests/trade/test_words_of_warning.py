"""Cautions by the signal words of ANSI Z535.4, upkeep intervals, and fasteners."""

from dataclasses import replace
from typing import get_args

import pytest

from bookgen.model.length import inches
from bookgen.model.records.inside import System
from bookgen.model.records.obstacle import Kind
from bookgen.trade.board import Surface
from bookgen.trade.cautions import Doing, Harm, Signal, caution, cautions, cautions_for, hidden_words, near
from bookgen.trade.fasteners import board_screw, fastener_rule, nailing, screw_spacing
from bookgen.trade.systems import systems
from bookgen.trade.tables import TableError
from bookgen.trade.upkeep import Doer, upkeep, upkeep_jobs


@pytest.mark.parametrize(
    ("harm", "signal"),
    [
        (Harm.WILL_KILL, Signal.DANGER),  # ANSI Z535.4-2007 4.14.1
        (Harm.COULD_KILL, Signal.WARNING),  # 4.14.2
        (Harm.COULD_HURT, Signal.CAUTION),  # 4.14.3
        (Harm.NO_INJURY, Signal.NOTICE),  # 4.14.4
    ],
)
def test_the_signal_word_follows_the_harm(harm: Harm, signal: Signal) -> None:
    """Every caution of that harm has that word, and there is at least one."""
    assert {row.signal for row in cautions() if row.harm == harm} == {signal}


@pytest.mark.parametrize("signal", [Signal.DANGER, Signal.WARNING, Signal.CAUTION])
def test_damage_alone_never_gets_an_injury_word(signal: Signal) -> None:
    """A caution that hurts nobody is refused with any word but NOTICE (ANSI Z535.4-2011)."""
    filter_due = caution("filter-due")
    assert filter_due is not None
    with pytest.raises(TableError, match="filter-due"):
        replace(filter_due, signal=signal)


@pytest.mark.parametrize(
    ("id_", "signal"),
    [
        ("live-parts-in-panel", Signal.DANGER),
        ("gas-shutoff-hidden", Signal.WARNING),
        ("post-carries-house", Signal.WARNING),
        ("hot-flue", Signal.CAUTION),
        ("filter-due", Signal.NOTICE),
        ("screw-into-water-pipe", Signal.NOTICE),
    ],
)
def test_known_hazards_have_the_word_they_need(id_: str, signal: Signal) -> None:
    """A hidden gas shutoff warns, a filter reminder only notifies, without the alert triangle (Z535.4 4.14.4)."""
    found = caution(id_)
    assert found is not None
    assert found.signal == signal
    assert found.has_alert_triangle == (signal != Signal.NOTICE)


def test_cautions_come_gravest_first() -> None:
    """For one thing, DANGER stands before WARNING, that before CAUTION, and NOTICE last."""
    order = tuple(Signal)
    for hidden in hidden_words():
        words = [order.index(row.signal) for row in cautions_for(hidden)]
        assert words == sorted(words)


def test_cautions_by_what_is_done() -> None:
    """Drilling over a cable warns of the cable, and not of the panel's working space."""
    ids = {row.id for row in cautions_for("power", Doing.DRILL)}
    assert "cable-behind-board" in ids
    assert "panel-space-kept-clear" not in ids
    assert "gas-smell" in {row.id for row in cautions_for("gas", Doing.COVER)}


def test_cautions_by_the_age_of_the_house() -> None:
    """Lead paint is for houses before 1978 (16 CFR 1303), asbestos for older ones; an unknown age gets both."""
    by_age = {
        built: {row.id for row in cautions_for("wall", Doing.CUT, built)}
        & {"lead-in-old-paint", "asbestos-in-old-finishes"}
        for built in (1977, 1978, 1984, 2001, None)
    }
    assert by_age == {
        1977: {"lead-in-old-paint", "asbestos-in-old-finishes"},
        1978: {"asbestos-in-old-finishes"},
        1984: {"asbestos-in-old-finishes"},
        2001: set(),
        None: {"lead-in-old-paint", "asbestos-in-old-finishes"},
    }


def test_every_system_and_obstacle_kind_has_a_caution() -> None:
    """No system and no kind of obstacle that a record may name is left without one."""
    assert {row.name for row in systems()} == set(get_args(System))
    assert set(get_args(System)) | set(get_args(Kind)) <= hidden_words()


def test_both_cautions_of_the_radon_pipe_are_found_by_its_kind() -> None:
    """A vent riser gets the fan's caution and the pipe's."""
    assert {row.id for row in cautions_for("vent riser")} == {"radon-fan-runs-always", "radon-pipe-opened"}


def test_a_thing_no_caution_knows_is_refused() -> None:
    """A slip in a name must not hide a hazard."""
    with pytest.raises(TableError, match="pannel"):
        cautions_for("pannel")
    assert caution("pannel") is None
    assert near("live-part-in-panel")[0] == "live-parts-in-panel"


def test_cautions_are_whole_and_plain() -> None:
    """Hazard, consequence and avoidance are short sentences; somebody is to be called; words stay short."""
    for row in cautions():
        for text in (row.hazard, row.consequence, row.avoidance):
            assert text.endswith("."), row.id
            assert max(len(sentence.split()) for sentence in text.split(". ")) <= 36, row.id
        assert row.call
        assert row.hidden
        assert row.doing


def test_structure_gas_and_power_defer_to_those_who_may() -> None:
    """Gas, power and structure send the reader to a licensed trade, an engineer or an authority."""
    deferred = ("licensed", "engineer", "gas company", "inspector", "department", "contractor", "emergency")
    for row in cautions():
        if row.signal in {Signal.DANGER, Signal.WARNING}:
            assert any(word in row.call for word in deferred), row.id


def test_upkeep_intervals_are_whole_months() -> None:
    """No interval is zero or turned round, a month is a month, and the system is known."""
    names = {row.name for row in systems()} | {"safety"}
    for job in upkeep_jobs():
        assert 1 <= job.months_least <= job.months_most
        assert job.month is None or 1 <= job.month <= 12
        assert job.system in names


def test_known_upkeep() -> None:
    """Filters 1 to 3 months with the maker's word above it; alarms replaced at ten years (NFPA 72)."""
    filter_change, alarms, pump = upkeep("furnace-filter"), upkeep("smoke-alarm-replace"), upkeep("ejector-service")
    assert filter_change is not None
    assert alarms is not None
    assert pump is not None
    assert (filter_change.months_least, filter_change.months_most) == (1, 3)
    assert filter_change.governs
    assert (alarms.months_least, alarms.months_most) == (120, 120)
    assert pump.by == Doer.LICENSED
    assert upkeep("polish-the-cat") is None


def test_the_screw_for_a_board() -> None:
    """A screw goes 5/8 in into wood (NAVEDTRA 14044): 1/2 in board needs 1-1/8, so a stock 1-1/4."""
    half, two_layers = board_screw(inches("1/2")), board_screw(inches("5/4"))
    just = board_screw(inches("5/8"))
    assert just is not None
    assert just.length == inches("5/4")
    assert half is not None
    assert two_layers is not None
    assert (half.length, two_layers.length) == (inches("5/4"), inches(2))
    assert board_screw(inches(9)) is None


@pytest.mark.parametrize(
    ("surface", "framing", "spacing"),
    [
        (Surface.CEILING, 16, 12),
        (Surface.WALL, 16, 16),
        (Surface.CEILING, 24, 12),
        (Surface.WALL, 24, 12),
        (Surface.WALL, 19, 12),
    ],
)
def test_screw_spacing(surface: Surface, framing: int, spacing: int) -> None:
    """Framing 16: ceilings 12, walls 16; framing 24: 12 in both (GA-216, ASTM C840); between, the wider row."""
    found = screw_spacing(surface, inches(framing))
    assert found is not None
    assert found.spacing == inches(spacing)


def test_framing_too_far_apart_has_no_screw_spacing() -> None:
    """Over 24 in there is no figure."""
    assert screw_spacing(Surface.WALL, inches(25)) is None


def test_fastener_rules() -> None:
    """Powder-actuated: steel edge 1/2 in, masonry edge 3 in (WAC 296-807-15045); bead fasteners 9 in (GA-216)."""
    for id_, figure in (("powder-steel-edge", "1/2"), ("powder-masonry-edge", "3"), ("corner-bead-spacing", "9")):
        rule = fastener_rule(id_)
        assert rule is not None
        assert rule.value == inches(figure)
    assert fastener_rule("glue") is None
    assert {row.id for row in nailing()} >= {"stud-to-plate", "double-top-plate", "blocking-to-plate"}

"""The checks on the sample house: what is truly there is found, and nothing is invented."""

from __future__ import annotations

import pytest

from bookgen.model.length import inches, show_feet
from bookgen.model.problem import Finding, Severity
from bookgen.model.solved import Solved
from bookgen.solve.checks import CHECKS
from bookgen.trade.tables import Sure
from tests.approval import wrong
from tests.sample_house import sample_house
from tests.solve.test_cases import spoken

# What a contractor has to ask about in that house, each a fact of its site notes or a question in its records.
TO_ASK = {
    ("burning-air-short", "Mechanical room"),  # 120,000 Btu/h ask 6,000 cu ft; louvres in the lower panels only
    ("flue-too-near", "Vent riser of furnace and water heater"),  # 4-1/4 in from the joists; nobody noted what it is
    ("plate-needed", "Cold water line along the east wall"),  # the strips end 9/16 in short of it
    ("valve-shut-in", "tag 18, Second water valve"),
    ("valve-shut-in", "tag 19, Pressure reducer"),
    ("valve-shut-in", "Pressure gauge"),
    ("access-shut-in", "tag 15, Damper of the middle branch"),
    ("appliance-service-space", "Furnace"),  # its front is 12 in from the jamb of the doors
    ("board-not-flush", "Guest room, board over the wall"),  # a beam 4 in wide in the head of a wall of 3-1/2 in
    ("board-not-flush", "Hall, board over the wall"),
    ("tie-disagrees", "tag 01, Main water valve"),
    ("tie-through-wall", "tag 12, Ejector pit"),
}


@pytest.fixture(scope="module")
def sample() -> Solved:
    """Return the solved sample."""
    return sample_house()


def shown(size: str) -> str:
    """Return inches as findings show them."""
    return show_feet(inches(size))


def of(sample: Solved, code: str) -> list[Finding]:
    """Return what one check found."""
    return [finding for finding in sample.findings if finding.code == code]


def test_what_is_truly_there_is_found_and_nothing_more(sample: Solved) -> None:
    """Nothing says stop, and what is to be asked about is what the site notes hold."""
    grave = {(one.code, one.where) for one in sample.findings if one.severity in {Severity.STOP, Severity.ASK}}

    assert grave == TO_ASK
    assert not [one for one in sample.findings if one.severity is Severity.STOP]


def test_every_check_looked_at_the_sample_or_had_nothing_to_look_at(sample: Solved) -> None:
    """Each check leaves at least one line, what is within included; the sample has no well, dryer or dehumidifier."""
    silent = {code for code, _ in CHECKS} - {one.code for one in sample.findings}

    assert silent <= {
        "closet-slot",
        "condensate-drain",
        "dryer-too-long",
        "floor-drain-covered",
        "obstacle-goes-on",
        "side-in-wall",
        "stud-cut-too-far",
        "tie-through-wall",
        "treatment-undecided",
        "vent-without-clearance",
        "window-well-small",
        "wood-cut-too-far",
        "work-meets-work",
    }


def test_the_air_of_three_rooms_is_counted(sample: Solved) -> None:
    """Mechanical room 873, hall 648 and family room 2,795 cu ft, by their outlines and ceilings in the record."""
    volume = next(one for one in of(sample, "burning-air-short") if "cu ft" in one.measured)

    assert volume.measured == "4,316 cu ft"
    assert "6,000 cu ft" in volume.says
    assert "furnace takes its air is in no record" in volume.says


def test_the_panel_closet_keeps_its_working_space(sample: Solved) -> None:
    """The closet is 42 in deep and 61 in wide inside, the panel 3.9 in deep: 38.1 in before it."""
    depth, width, height = of(sample, "panel-working-space")

    assert (depth.measured, width.measured, height.measured) == (shown("38.1"), shown("61"), shown("89.2"))
    assert {one.severity for one in (depth, width, height)} == {Severity.WITHIN}


def test_the_appliances_can_leave_through_their_doors(sample: Solved) -> None:
    """The doors leave 57-1/4 by 75-1/2 in; the furnace is 21 in on its narrow side, the water heater 20 in across."""
    assert [one.severity for one in of(sample, "appliance-way-out")] == [Severity.WITHIN, Severity.WITHIN]


def test_the_places_for_blocks_are_those_of_the_plan(sample: Solved) -> None:
    """The soffit along the wall is 16 ft 8 in long; board runs up behind it but where the chase stands, 32 to 48 in.

    The studs there end at 32-3/4 and begin again at 47-1/4 in.
    """
    found = {one.place.file: one for one in of(sample, "fireblock-places")}
    drain = found["obstacles/02-drain.yaml"].says

    assert f"along the wall from {shown('32.75')} to {shown('47.25')}" in drain
    assert f"across its inside at {shown('96.75')}" in drain
    assert len(found) == 9  # three soffits, two chases, two posts, one furred ceiling, the stair
    assert {one.severity for one in found.values()} == {Severity.NOTE}
    assert {one.sure for one in found.values()} == {Sure.PARAPHRASE.value}


def test_no_finding_of_the_sample_house_approves(sample: Solved) -> None:
    """Whatever was measured, passes included, is said without a word of approval."""
    assert not [one for one in sample.findings if wrong(spoken(one))]

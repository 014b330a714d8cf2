from __future__ import annotations

from typing import Any

from bookgen.model.assembly import Difference
from bookgen.solve.as_built import differences
from tests.solve.level_fixture import DRAIN, MEASURED, P1, record, solved

WALL: dict[str, Any] = {"outside": "12 in off the block", "framing bottom": "77 in above slab"}


def built(**choices: Any) -> Any:
    """Return the drain's record, planned as WALL, built with the choices replaced."""
    changed = WALL | {key.replace("_", " "): value for key, value in choices.items()}
    as_built = {"treatment": {"wall soffit": changed}, "known": MEASURED}
    return record([DRAIN], {"wall soffit": WALL}, as_built=as_built, known={"how": "planned"})


def test_what_was_built_is_what_is_solved() -> None:
    """The framing stands 13 in off the block, whatever was planned, and it is known as built."""
    (one,) = solved(built(outside="13 in off the block"), partitions=P1).obstacles

    assert one.assembly is not None
    assert one.assembly.anchors["framing outside"].y == 13
    assert one.assembly.known.how == "measured"
    assert one.assembly.differences == (Difference("outside", "12\u2033 off the block", "13\u2033 off the block"),)


def test_a_choice_that_was_not_planned_says_so() -> None:
    """A field that the plan left out has no planned value."""
    assert differences(built(rungs="24 in").record) == (Difference("rungs", "not written", "24\u2033"),)


def test_nothing_differs_where_nothing_was_built_otherwise() -> None:
    """The same choices, or none as built, give no difference."""
    assert differences(built().record) == ()
    assert differences(record([DRAIN], {"wall soffit": WALL}).record) == ()


def test_another_treatment_is_one_difference() -> None:
    """Where a furred ceiling was built instead of a soffit, its fields can't be set against each other."""
    area = {"room": "family", "along": "4 in to 200 in", "across": "146 in to 280 in"}
    furring = {"runs": "east", "spacing": "24 in", "areas": [area]}
    file = record([DRAIN], {"wall soffit": WALL}, as_built={"treatment": {"furring": furring}, "known": MEASURED})

    assert differences(file.record) == (Difference("treatment", "wall soffit", "furring"),)


def test_rows_are_set_against_each_other_one_by_one() -> None:
    """The second light was moved: only its field differs, and it is numbered."""
    lights = [
        {"what": "light", "diameter": "4 in", "deep": "1 in", "east": east, "north": "102 in"}
        for east in ("88 in", "118 in")
    ]
    plan = {"between": "81.5 in to 122.5 in", "framing bottom": "79 in above slab", "lights": lights}
    moved = plan | {"lights": [lights[0], lights[1] | {"east": "120 in"}]}
    file = record([], {"hung soffit": plan}, as_built={"treatment": {"hung soffit": moved}, "known": MEASURED})

    assert differences(file.record) == (Difference("lights 2, east", "118\u2033", "120\u2033"),)

from __future__ import annotations

from typing import Any, get_args

from bookgen.model.assembly import Difference
from bookgen.model.records.base import words
from bookgen.model.records.treatments import Treatment
from bookgen.model.tape import Tape
from bookgen.solve.as_built import called, differences
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
    assert one.assembly.differences == (
        Difference("Outside face of the framing", "12\u2033 off the block", "13\u2033 off the block"),
    )


def test_a_choice_that_was_not_planned_says_so() -> None:
    """A field that the plan left out has no planned value."""
    assert differences(built(rungs="24 in").record, Tape()) == (
        Difference("Spacing of rungs and crossers", "left to be worked out", "24\u2033"),
    )


def test_nothing_differs_where_nothing_was_built_otherwise() -> None:
    """The same choices, or none as built, give no difference."""
    assert differences(built().record, Tape()) == ()
    assert differences(record([DRAIN], {"wall soffit": WALL}).record, Tape()) == ()


def test_another_treatment_is_one_difference() -> None:
    """Where a furred ceiling was built instead of a soffit, its fields can't be set against each other."""
    area = {"room": "family", "along": "4 in to 200 in", "across": "146 in to 280 in"}
    furring = {"runs": "east", "spacing": "24 in", "areas": [area]}
    file = record([DRAIN], {"wall soffit": WALL}, as_built={"treatment": {"furring": furring}, "known": MEASURED})

    assert differences(file.record, Tape()) == (Difference("Treatment", "wall soffit", "furring"),)


def test_rows_are_set_against_each_other_one_by_one() -> None:
    """The second light was moved: only its field differs, and it is numbered."""
    lights = [
        {"what": "light", "diameter": "4 in", "deep": "1 in", "east": east, "north": "102 in"}
        for east in ("88 in", "118 in")
    ]
    plan = {"between": "81.5 in to 122.5 in", "framing bottom": "79 in above slab", "lights": lights}
    moved = plan | {"lights": [lights[0], lights[1] | {"east": "120 in"}]}
    file = record([], {"hung soffit": plan}, as_built={"treatment": {"hung soffit": moved}, "known": MEASURED})

    assert differences(file.record, Tape()) == (
        Difference("Light 2: east of the west block face", "9\u2032\u00a010\u2033", "10\u2032\u00a00\u2033"),
    )


def test_every_choice_of_every_treatment_has_a_name_of_its_own() -> None:
    """No difference is printed as `at`, `top` or `form`: each is a few plain words, without a mark of the records."""
    for name, field in Treatment.model_fields.items():
        kind = next(one for one in get_args(field.annotation) if isinstance(one, type))
        for choice in kind.model_fields:
            said = called(kind, words(choice))
            assert 4 <= len(said) <= 60, (name, choice, said)
            assert not set(said) & set("`_:"), (name, choice, said)


def test_a_metric_project_reads_its_differences_in_millimetres() -> None:
    """12 in are 304.8 mm, 13 in 330.2, by the inch of 25.4 mm."""
    (one,) = differences(built(outside="13 in off the block").record, Tape("metric"))
    assert (one.planned, one.built) == ("305\u00a0mm off the block", "330\u00a0mm off the block")

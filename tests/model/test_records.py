"""The values and records: what people write becomes exact, and the schemas for editors are current."""

from __future__ import annotations

import contextlib
import datetime
import json
import re
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from pydantic_core import PydanticCustomError

from bookgen.model.length import Length, inches
from bookgen.model.records import Obstacle, Project, Record
from bookgen.model.records.base import words
from bookgen.model.records.inside import At, Body, Known
from bookgen.model.records.obstacle import AccessPoint, Run, Upkeep
from bookgen.model.records.schema import FOLDER, schemas, write
from bookgen.model.records.treatments import Chase, Door, Treatment
from bookgen.model.records.values import (
    Height,
    Interval,
    Offset,
    Rise,
    Size,
    Span,
    to_height,
    to_interval,
    to_length,
    to_length_or_span,
    to_offset,
    to_rise,
    to_size,
    to_span,
)

GOOD = Path(__file__).parents[1] / "cases" / "read" / "good"
SAMPLES = Path(__file__).parents[2] / "projects"
READERS = [to_height, to_interval, to_length, to_length_or_span, to_offset, to_rise, to_size, to_span]


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("77 in above slab", Height(inches(77), "slab")),
        ("6' 4-3/16\" above floor", Height(inches("1219/16"), "floor")),
        ("8 in below joists", Height(inches(8), "joists")),
        ("1/2 in  BELOW ceiling", Height(inches("1/2"), "ceiling")),
        ("1930.4 mm above slab", Height(inches(76), "slab")),
    ],
)
def test_heights_name_their_datum(text: str, value: Height) -> None:
    """A height keeps what it is measured from; nothing is converted yet."""
    assert to_height(text) == value


def test_offsets_name_their_face() -> None:
    """An offset is off the block or off the finished wall."""
    assert to_offset("12 in off the block") == Offset(inches(12), "block")
    assert to_offset("12 in off the finished wall") == Offset(inches(12), "finished wall")


def test_stretches_and_sizes_are_exact() -> None:
    """Both ends of a stretch and both sides of a size are exact; a unit at the end of a size serves both."""
    assert to_span("40 in to 17 ft") == Span(inches(40), inches(204))
    assert to_span("40 in to 17 ft").size() == inches(164)
    assert to_length_or_span("7 in") == inches(7)
    assert to_length_or_span("6 in to 8 in") == Span(inches(6), inches(8))
    assert to_size("12 x 14 in") == Size(inches(12), inches(14))
    assert to_size("30in×6' 4\"") == Size(inches(30), inches(76))
    assert to_size("300 x 350 mm") == Size(
        inches(Fraction(300) / Fraction("25.4")), inches(Fraction(350) / Fraction("25.4"))
    )


def test_a_slope_is_rise_over_run() -> None:
    """A quarter inch to the foot is 1 in 48; 20 mm to the metre is 1 in 50, both exactly."""
    assert to_rise("1/4 in per ft to the east") == Rise(Fraction(1, 48), "east")
    assert to_rise("20 mm per m to the south") == Rise(Fraction(1, 50), "south")


def test_intervals_count_in_months() -> None:
    """Years become twelve months each."""
    assert [to_interval(text) for text in ("1 month", "3 months", "2 years")] == [
        Interval(1),
        Interval(3),
        Interval(24),
    ]


@pytest.mark.parametrize(
    ("read", "text", "code"),
    [
        (to_length, "40", "bare-number"),
        (to_length, "3' 4", "bare-number"),
        (to_length, "4 yards", "not-a-length"),
        (to_length, "", "empty-value"),
        (to_length, ("40 in",), "not-text"),
        (to_height, "77 in", "datum-missing"),
        (to_height, "77 in off the block", "datum-missing"),
        (to_height, "above slab", "empty-value"),
        (to_offset, "12 in", "datum-missing"),
        (to_span, "40 in", "not-a-span"),
        (to_span, "40 to 204 in", "bare-number"),
        (to_span, "40 in to 40 in", "span-backward"),
        (to_size, "12 in", "not-a-size"),
        (to_size, "12 x 14", "bare-number"),
        (to_size, "0 x 14 in", "not-positive"),
        (to_rise, "1/4 in per ft", "not-a-rise"),
        (to_rise, "1/4 per ft to the east", "bare-number"),
        (to_interval, "0 months", "not-an-interval"),
        (to_interval, "monthly", "not-an-interval"),
    ],
)
def test_wrong_values_carry_their_code(read: Any, text: Any, code: str) -> None:
    """A value that can't be read raises its permanent code, with a rule and a repair."""
    with pytest.raises(PydanticCustomError) as caught:
        read(text)

    assert caught.value.type == code
    assert set(caught.value.context or {}) == {"rule", "repair"}


@given(st.sampled_from(READERS), st.text(max_size=60) | st.lists(st.text(max_size=3)))
def test_any_value_is_read_or_refused(read: Any, value: Any) -> None:
    """No text makes a reader fail in any other way than by its own error."""
    with contextlib.suppress(PydanticCustomError):
        read(value)


def test_keys_are_written_in_plain_words() -> None:
    """An underscore is written as a blank, and a trailing one, which Python needs for `from`, not at all."""
    assert [words(name) for name in ("off_the_block", "from_", "is_")] == ["off the block", "from", "is"]
    assert Run.model_validate({"along": "east", "from": "4 in", "to": "8 in"}).from_ == inches(4)


def test_records_never_change_and_refuse_what_they_do_not_know() -> None:
    """A record is frozen; a key by its Python name is no key of the file."""
    run = Run.model_validate({"along": "east", "from": "4 in", "to": "8 in"})
    with pytest.raises(ValueError, match="frozen"):
        run.to = inches(9)
    with pytest.raises(ValueError, match="from_"):
        Run.model_validate({"along": "east", "from_": "4 in", "to": "8 in"})


def test_small_values_are_read_as_written() -> None:
    """Tags get two digits, yes and no become truth, days become dates, counts numbers."""
    upkeep = Upkeep.model_validate({"do": "Look", "every": "1 year", "how": "Look.", "tag": "3", "month": "10"})
    known = Known.model_validate({"how": "measured", "on": "2026-03-10"})
    door = {"leaf": "30 x 76 in", "rough opening": "1 in to 33 in", "head": "78 in above slab", "hinges": "east"}

    assert (upkeep.tag, upkeep.month) == ("03", 10)
    assert known.on == datetime.date(2026, 3, 10)
    assert Door.model_validate({**door, "swings": "out"}).leaves == 1


@pytest.mark.parametrize(
    ("record", "values", "code"),
    [
        (Known, {"how": "measured"}, "evidence-undated"),
        (At, {"east": "1 in", "north": "1 in"}, "height-missing"),
        (At, {"east": "1 in", "above slab": "1 in"}, "position-incomplete"),
        (At, {"east": "1 in", "north": "1 in", "along": "1 in", "above slab": "1 in"}, "position-incomplete"),
        (Body, {"wide": "1 in", "diameter": "1 in", "high": "1 in"}, "size-incomplete"),
        (Run, {"along": "east", "from": "4 in", "to": "4 in"}, "run-backward"),
        (Treatment, {}, "treatment-count"),
    ],
)
def test_records_refuse_what_contradicts_itself(record: type[Record], values: dict[str, str], code: str) -> None:
    """Values that are each right but don't go together raise their code."""
    with pytest.raises(ValueError, match="validation error") as caught:
        record.model_validate(values)

    assert [error["type"] for error in caught.value.errors()] == [code]  # type: ignore[attr-defined]


def test_the_chosen_treatment_is_told_by_its_written_name() -> None:
    """`chosen` gives back the one treatment as (name, choices)."""
    wrap = {"post wrap": {"finished": "8 in", "top": "80 in above slab"}}

    ((name, choices),) = Treatment.model_validate(wrap).chosen()

    assert (name, type(choices).__name__) == ("post wrap", "PostWrap")


@cache
def written() -> dict[str, str]:
    """Return the schemas as they are written, worked out once."""
    return schemas()


@cache
def validator(name: str) -> jsonschema.Draft202012Validator:
    """Return what validates records of a name by their schema, which is found good itself first."""
    schema = json.loads(written()[f"{name}.schema.json"])
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def test_every_field_says_what_it_is() -> None:
    """Each field of each record has the sentence that editors show and `bookgen explain` prints."""
    for text in written().values():
        schema = json.loads(text)
        for name, record in {"": schema, **schema["$defs"]}.items():
            for key, field in record["properties"].items():
                assert field.get("description") or "$ref" in field, (name, key)


def test_schema_files_are_current() -> None:
    """The schema files are what the models say now; `python -m bookgen.model.records.schema` writes them anew."""
    assert {path.name: path.read_text("utf-8") for path in FOLDER.glob("*.json")} == written()


def test_writing_the_schemas_writes_what_is_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`write` fills the folder with the texts of `schemas`."""
    monkeypatch.setattr("bookgen.model.records.schema.FOLDER", tmp_path)
    write()

    assert {path.name: path.read_text("utf-8") for path in tmp_path.iterdir()} == written()


def texts_of(file: str) -> Any:
    """Return the values of a good record with every scalar as text."""
    return yaml.load((GOOD / file).read_text("utf-8"), Loader=yaml.BaseLoader)  # noqa: S506 (it makes no objects)


def guessed(value: Any) -> Any:
    """Return values as a YAML 1.2 reader types them, by its core schema (yaml.org/spec/1.2.2, 10.3.2)."""
    if isinstance(value, dict):
        return {key: guessed(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [guessed(inner) for inner in value]
    if re.fullmatch(r"[-+]?[0-9]+", value):
        return int(value)
    return {"true": True, "false": False}.get(value, value)


@pytest.mark.parametrize("typed", [texts_of, lambda file: guessed(texts_of(file))], ids=["texts", "guessed"])
def test_a_good_record_passes_its_schema(typed: Any) -> None:
    """What our reader takes passes in an editor too, whether its YAML reader guesses at types or not."""
    for name, file in (("project", "project.yaml"), ("obstacle", "obstacles/main-drain.yaml")):
        validator(name).validate(typed(file))


@pytest.mark.parametrize("project", ["heron", "smallest", "tamarack"])
def test_the_sample_records_pass_their_schemas(project: str) -> None:
    """An editor that reads the schemas marks nothing in what we lay out and show."""
    folder = SAMPLES / project
    for schema, files in (("project", "project.yaml"), ("obstacle", "obstacles/*.yaml"), ("prices", "prices.yaml")):
        for file in sorted(folder.glob(files)):
            record = yaml.load(file.read_text("utf-8"), Loader=yaml.BaseLoader)  # noqa: S506 (it makes no objects)
            assert [f"{file.name}: {error.message}" for error in validator(schema).iter_errors(record)] == []


def test_a_text_may_stand_in_each_language_of_a_book() -> None:
    """Where an editor marked it as wrong, nobody would write a record in two languages."""
    good = texts_of("obstacles/main-drain.yaml")
    validator("obstacle").validate({**good, "obstacle": {"en": "Main drain", "es": "Desagüe principal"}})
    for wrong in ({"xx": "Drain"}, {}, {"en": ["Drain"]}):
        with pytest.raises(jsonschema.ValidationError):
            validator("obstacle").validate({**good, "obstacle": wrong})


def test_a_schema_finds_what_is_wrong() -> None:
    """An unknown key, a missing one, a wrong word and an empty value are found by an editor too."""
    good = texts_of("obstacles/main-drain.yaml")
    for change in ({"colour": "white"}, {"kind": "drian"}, {"run": None}, {"run": {"along": "north wall"}}):
        with pytest.raises(jsonschema.ValidationError):
            validator("obstacle").validate({**good, **change})


def test_models_take_the_good_records_as_text() -> None:
    """The models read text values, lists as lists or tuples, and keep lengths exact."""
    record = Obstacle.model_validate_json(json.dumps(texts_of("obstacles/main-drain.yaml")))
    whole = Project.model_validate_json(json.dumps(texts_of("project.yaml")))

    assert isinstance(record.access[0], AccessPoint)
    assert record.access[0].ties[0].is_ == inches("145/4")
    assert whole.level.inside_of_block.east_west == Length(Fraction(432))
    assert Chase.model_fields["finished"].is_required() is False

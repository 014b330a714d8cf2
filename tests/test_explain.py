"""Everything that can be written or go wrong is explained, with examples that do what they say."""

from __future__ import annotations

import re

import pytest
from pydantic import ValidationError, create_model

from bookgen.explain import _values, example, explain, near, record_in, topics
from bookgen.model.problem_kinds import PROBLEM_KINDS
from bookgen.model.records import Obstacle, Project, Record
from bookgen.model.records.base import described
from bookgen.model.records.treatments import Propose, Treatment
from bookgen.solve.checks import CHECKS


def _records(record: type[Record], seen: set[type[Record]]) -> set[type[Record]]:
    from bookgen.explain import record_in

    if record not in seen:
        seen.add(record)
        for field in record.model_fields.values():
            inner = record_in(field.annotation)
            if inner is not None:
                _records(inner, seen)
    return seen


RECORDS = sorted(
    _records(Project, set()) | _records(Obstacle, set()), key=lambda record: (record.__name__, record.__module__)
)


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__name__)
def test_every_field_of_a_record_is_explained(record: type[Record]) -> None:
    """A field without words, or one that `explain` can't find, fails."""
    for name, field in record.model_fields.items():
        assert described(record).get(field.alias or name), f"{record.__name__}.{name} has no docstring"
        assert explain(field.alias or name), f"{field.alias} is not explained"


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__name__)
def test_every_record_says_what_it_is(record: type[Record]) -> None:
    """A record without a docstring of its own fails."""
    assert record.__doc__
    assert record.__doc__ != Record.__doc__


def test_every_treatment_problem_and_check_is_explained() -> None:
    """The names that messages print all lead somewhere."""
    names = {topic.name for topic in topics()}
    assert {name.replace("_", " ") for name in Treatment.model_fields} <= names
    assert {kind.code for kind in PROBLEM_KINDS} <= names
    assert {code for code, _ in CHECKS} <= names


def test_every_check_shows_a_pass_and_a_fail() -> None:
    """Its docstring is the manual."""
    for code, _ in CHECKS:
        (topic,) = explain(code)
        assert "PASS" in topic.text
        assert "FAIL" in topic.text


def _plain(lines: list[str]) -> object:
    """Read an example back, every scalar as text and every list as a tuple, as the read room does."""
    import yaml

    def frozen(value: object) -> object:
        if isinstance(value, dict):
            return {key: frozen(inner) for key, inner in value.items()}
        return tuple(frozen(inner) for inner in value) if isinstance(value, list) else value

    return frozen(yaml.load("\n".join(lines), Loader=yaml.BaseLoader))  # noqa: S506  BaseLoader builds only text


@pytest.mark.parametrize("record", [one for one in RECORDS if one is not Propose], ids=lambda record: record.__name__)
def test_the_right_example_passes_and_the_wrong_one_fails(record: type[Record]) -> None:
    """What `explain` prints under right and wrong is tried on the model itself."""
    lines = example(record)
    assert lines, f"{record.__name__} shows nothing"
    record.model_validate(_plain(lines))
    with pytest.raises(ValidationError):
        record.model_validate(_plain([lines[0].replace(":", "x:", 1), *lines[1:]]))


def test_a_misspelt_name_gets_near_ones() -> None:
    """`wall sofit` leads to wall soffit."""
    assert "wall soffit" in near("wall sofit")
    assert explain("no such thing at all") == ()


def test_every_name_and_heading_of_the_list_is_explained() -> None:
    """Whatever `bookgen explain` lists, headings included, leads somewhere; a heading may be written in the plural."""
    for topic in topics():
        for name in (topic.name, topic.sort, f"{topic.sort}s"):
            assert explain(name), name


def test_explaining_the_checks_prints_all_of_them() -> None:
    """`bookgen explain checks` is the whole reference: every check with both examples, source and sureness."""
    found = {topic.name: topic.text for topic in explain("checks")}

    assert {code for code, _ in CHECKS} <= set(found)
    assert all("PASS" in text and "FAIL" in text for text in found.values())
    assert "IRC 2018 and 2021 R305.1 exception" in found["headroom-low"]


PLAIN_FIELDS = [
    pytest.param(record, name, id=f"{record.__name__}.{name}")
    for record in RECORDS
    for name, field in record.model_fields.items()
    if record_in(field.annotation) is None
]


@pytest.mark.parametrize(("record", "name"), PLAIN_FIELDS)
def test_the_right_value_of_every_field_passes_and_the_wrong_one_fails(record: type[Record], name: str) -> None:
    """What `explain` shows for one field is tried on that field alone, as the read room would hand it over."""
    field = record.model_fields[name]
    key = field.alias or name
    alone = create_model("Alone", __base__=Record, **{name: (field.annotation, field)})  # type: ignore[call-overload]
    right, wrong = (_plain([f"{key}: {value}"]) for value in _values(field, described(record)[key]))

    alone.model_validate(right)
    with pytest.raises(ValidationError):
        alone.model_validate(wrong)


def test_no_example_is_a_dummy() -> None:
    """A newcomer copies what stands there: free text shows words that belong in it, and no two corners are the same."""
    dummies = [topic.name for topic in topics() if f"{topic.name}: in your own words" in topic.text]
    (outline,) = [topic.text for topic in explain("outline") if topic.sort == "field of rooms"]
    corners = re.findall(r"\[[0-9.]+ in, [0-9.]+ in\]", outline.partition("right")[2].partition("wrong")[0])

    assert dummies == []
    assert len(set(corners)) == len(corners) >= 4


def test_everything_is_explained_in_spanish_under_the_same_names() -> None:
    """What is written in a record is the same in any language; what is said of it is not."""
    english, spanish = topics(), topics("es")

    assert [(one.name, one.sort) for one in spanish] == [(one.name, one.sort) for one in english]
    assert [other.name for one, other in zip(english, spanish, strict=True) if one.text == other.text] == []
    assert explain("tag-twice", "es")[0].text.startswith("Dos puntos de acceso tienen la misma etiqueta")

"""A name in, what it means in plain words out: problem codes, checks, treatments, record fields and cautions.

Everything comes from the models, tables and docstrings that the program itself works from.
"""

from __future__ import annotations

import difflib
import inspect
import re
import types
import typing
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from annotated_types import MinLen
from pydantic import WithJsonSchema
from pydantic.fields import FieldInfo

from bookgen.model.check_reference import CheckReference
from bookgen.model.problem_kinds import PROBLEM_KINDS, ProblemKind
from bookgen.model.records import Obstacle, Prices, Project, Record
from bookgen.model.records.base import described, words
from bookgen.model.records.treatments import Treatment
from bookgen.model.tape import Tape
from bookgen.solve.checks.reference import references
from bookgen.trade.cautions import Caution, cautions
from bookgen.trade.tongue import ENGLISH, Tongue, tongue

INDENT = "  "
WHOLE = frozenset({"check", "checks"})  # these are printed in full: they are the reference of the checks


@dataclass(frozen=True, slots=True)
class Topic:
    """One thing that can be explained: its name, its sort, and the finished text."""

    name: str
    sort: str
    text: str


@cache
def topics(language: str = ENGLISH) -> tuple[Topic, ...]:
    """Return everything that `bookgen explain` knows, in a stable order; names are the same in any language."""
    said = tongue(language)
    problems = (_problem(kind, said) for kind in PROBLEM_KINDS)
    warned = (_caution(row, said) for row in cautions())
    return (*_treatments(said), *_checks(said), *_fields(said), *warned, *problems)


def explain(name: str, language: str = ENGLISH) -> tuple[Topic, ...]:
    """Return the topics of a name; a field that stands in several records gives several."""
    wanted = name.strip().lower()
    known = topics(language)
    found = tuple(topic for topic in known if topic.name == wanted)
    sort = tuple(topic for topic in known if wanted in {topic.sort, f"{topic.sort}s"})
    return found or (sort if wanted in WHOLE else _heading(sort))


def _heading(sort: tuple[Topic, ...]) -> tuple[Topic, ...]:
    """Return one topic that tells of a whole sort, a line for each of its names; none for no sort."""
    if not sort:
        return ()
    lines = (f"{INDENT}{topic.name}: {topic.text.partition(chr(10))[0]}" for topic in sort)
    return (Topic(sort[0].sort, f"{len(sort)} names", "\n".join(dict.fromkeys(lines))),)


def near(name: str) -> tuple[str, ...]:
    """Return the names that look most like *name*."""
    names = sorted({topic.name for topic in topics()})
    return tuple(difflib.get_close_matches(name.strip().lower(), names, n=3, cutoff=0.5))


def _problem(kind: ProblemKind, said: Tongue) -> Topic:
    wrong, right = said.say("wrong"), said.say("right")
    text = f"{said.say(kind.means)}\n\n{wrong}\n{_indented(kind.wrong)}\n{right}\n{_indented(kind.right)}"
    return Topic(kind.code, "problem", text)


def _caution(row: Caution, said: Tongue) -> Topic:
    say = said.say
    warned = f"{say(row.hazard)} {say(row.consequence)} {say(row.avoidance)} {say(row.call)}."
    source = say("source: {source} ({sure})", source=said.source(row.source), sure=row.sure)
    return Topic(row.id, "caution", f"{row.signal}: {warned}\n\n{source}")


def _checks(said: Tongue) -> Iterator[Topic]:
    for one in references(Tape(), said):
        yield Topic(one.check, "check", "\n\n".join(_check_parts(one, said)))


def _check_parts(one: CheckReference, said: Tongue) -> Iterator[str]:
    yield f"{one.says[:1].upper()}{one.says[1:]}."
    yield "\n".join(
        f"{INDENT}{word}   {line}" for word, lines in (("PASS", one.quiet), ("FAIL", one.found)) for line in lines
    )
    if one.notes:
        yield one.notes
    if one.figures:
        lines = (
            f"{INDENT}{figure.asks}{': ' if figure.asks else ''}{figure.of} ({figure.told}; {figure.sure})"
            for figure in one.figures
        )
        yield "\n".join((said.say("held against, edition beside edition"), *dict.fromkeys(lines)))


def _treatments(said: Tongue) -> Iterator[Topic]:
    for field_name, field in Treatment.model_fields.items():
        model = record_in(field.annotation)
        if model is None:
            raise TypeError(f"treatment {field_name} is no record")
        name = words(field_name)
        text = said.whole(inspect.cleandoc(model.__doc__ or ""))
        if model.model_fields:
            yield Topic(name, "treatment", f"{text}\n\n{_keys(model, said)}\n\n{_examples(name, model, said)}")
        else:  # it is one word, with no keys below it
            yield Topic(name, "treatment", f"{text}\n\n{said.say('right')}\n{INDENT}treatment: {name}")


def _fields(said: Tongue) -> Iterator[Topic]:
    seen: set[type[Record]] = set()
    for root, record in (("project.yaml", Project), ("obstacle record", Obstacle), ("prices.yaml", Prices)):
        yield from _walk(root, record, seen, said)


def _walk(path: str, record: type[Record], seen: set[type[Record]], said: Tongue) -> Iterator[Topic]:
    if record in seen:
        return
    seen.add(record)
    for field_name, field in record.model_fields.items():
        name = _key(field_name, field)
        inner = record_in(field.annotation)
        if record is not Treatment:  # the treatments have topics of their own
            text = _field_text(name, described(record)[name], field, inner, said)
            yield Topic(name.lower(), f"field of {path}", text)
        if inner is not None:
            yield from _walk(name, inner, seen, said)


def _field_text(name: str, says: str, field: FieldInfo, inner: type[Record] | None, said: Tongue) -> str:
    text = f"{said.whole(says)} ({said.say('needed') if field.is_required() else said.say('may be left out')})"
    if inner is not None:
        shown = _examples(name, inner, said, field.annotation)
        return f"{text}\n\n{said.whole(inspect.cleandoc(inner.__doc__ or ''))}\n\n{_keys(inner, said)}\n\n{shown}"
    right, wrong = _values(field, says)
    choices = _choices(field.annotation)
    if choices:
        text += f"\n\n{said.say('one of {choices}', choices=', '.join(choices))}"
    return f"{text}\n\n{said.say('right')}\n{INDENT}{name}: {right}\n{said.say('wrong')}\n{INDENT}{name}: {wrong}"


def _keys(record: type[Record], said: Tongue) -> str:
    lines = []
    for field_name, field in record.model_fields.items():
        left = "" if field.is_required() else f" ({said.say('may be left out')})"
        key = _key(field_name, field)
        lines.append(f"{INDENT}{key}: {said.whole(described(record)[key])}{left}")
    return "\n".join(lines)


def _key(field_name: str, field: FieldInfo) -> str:
    """Return a field's key as it is written in a record."""
    return field.alias or words(field_name)


def _examples(name: str, record: type[Record], said: Tongue, annotation: object = None) -> str:
    lines = example(record)
    right = _laid_out(annotation, lines)
    wrong = _laid_out(annotation, [lines[0].replace(":", "x:", 1), *lines[1:]])
    body = "\n".join(f"{INDENT * 2}{line}" for line in right)
    bad = "\n".join(f"{INDENT * 2}{line}" for line in wrong)
    return f"{said.say('right')}\n{INDENT}{name}:\n{body}\n{said.say('wrong')}\n{INDENT}{name}:\n{bad}"


def example(record: type[Record]) -> list[str]:
    """Return the lines of a least example of a record: every needed key with a value that passes."""
    lines: list[str] = []
    for field_name, field in record.model_fields.items():
        if not field.is_required() and field_name not in record.shown:
            continue
        name = _key(field_name, field)
        inner = record_in(field.annotation)
        if inner is None:
            lines.append(f"{name}: {_values(field, described(record)[name])[0]}")
        else:
            lines += [f"{name}:", *(f"{INDENT}{line}" for line in _laid_out(field.annotation, example(inner)))]
    return lines


def _laid_out(annotation: object, lines: list[str]) -> list[str]:
    """Return the lines of a record as they stand in a list, under a key of one's own, or plainly."""
    if _is_list(annotation):
        return [f"- {lines[0]}", *(f"  {line}" for line in lines[1:])]
    if _is_mapping(annotation):
        inner = _laid_out(typing.get_args(annotation)[1], lines)
        return ["one:", *(f"{INDENT}{line}" for line in inner)]
    return lines


def _values(field: FieldInfo, says: str) -> tuple[str, str]:
    """Return a value that passes and one that fails, as they are written in a record."""
    choices = _choices(field.annotation)
    if choices:
        return choices[0], choices[0][:-1]
    schema = _schema(field)
    quoted = re.search(r"`([^`]+)`", says)
    right, wrong = " ".join(quoted[1].split()) if quoted else schema["right"], schema["wrong"]
    if right.startswith("[[") and _is_list(field.annotation):  # a whole list of points
        return right, f"{right[1:].partition(']')[0]}]"
    if _is_list(field.annotation):
        least = max((item.min_length for item in field.metadata if isinstance(item, MinLen)), default=1)
        return f"[{', '.join([right] * least)}]", right
    return right, wrong


def _schema(field: FieldInfo) -> dict[str, str]:
    found = [item for item in field.metadata if isinstance(item, WithJsonSchema)]
    found += [item for item in _metadata(field.annotation) if isinstance(item, WithJsonSchema)]
    schema = found[0].json_schema or {}
    return {"right": schema["examples"][0], "wrong": schema["x-wrong"]}


def _metadata(annotation: object) -> Iterator[object]:
    yield from getattr(annotation, "__metadata__", ())
    for inner in typing.get_args(annotation):
        yield from _metadata(inner)


def _choices(annotation: object) -> tuple[str, ...]:
    if typing.get_origin(annotation) is typing.Literal:
        return typing.get_args(annotation)
    if typing.get_origin(annotation) in {typing.Union, types.UnionType}:
        return tuple(choice for inner in typing.get_args(annotation) for choice in _choices(inner))
    return ()


def record_in(annotation: object) -> type[Record] | None:
    """Return the record that a field holds, by itself or in a list or mapping; None where it holds none."""
    if isinstance(annotation, type) and issubclass(annotation, Record):
        return annotation
    return next((found for inner in typing.get_args(annotation) if (found := record_in(inner))), None)


def _is_list(annotation: object) -> bool:
    return typing.get_origin(annotation) is tuple and typing.get_args(annotation)[-1] is Ellipsis


def _is_mapping(annotation: object) -> bool:
    return typing.get_origin(annotation) is dict


def _indented(text: str) -> str:
    return "\n".join(f"{INDENT}{line}" for line in text.rstrip("\n").splitlines())

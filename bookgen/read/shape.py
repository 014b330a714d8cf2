"""A record file's values in; the record out, or what is wrong with its keys and values, each at its place."""

from __future__ import annotations

import re
from typing import Any, TypeVar

from pydantic import ValidationError

from bookgen.model.problem import Problem
from bookgen.model.records import Record
from bookgen.model.records.base import described
from bookgen.read.keys import choices_at, fields_at, keys_below, record_at
from bookgen.read.near import did_you_mean, listed, nearest
from bookgen.read.source import Path, Source, shown

AnyRecord = TypeVar("AnyRecord", bound=Record)


def record_of(source: Source, kind: type[AnyRecord]) -> tuple[AnyRecord | None, tuple[Problem, ...]]:
    """Return the values of a file as a record, or every way in which they are none.

    A value that has a Problem already gets no second one. Where a text may come from either of two sets of words, its
    one Problem comes twice.
    """
    try:
        return kind.model_validate(source.plain), ()
    except ValidationError as wrong:
        errors = wrong.errors(include_url=False)
    found = (_problem(source, kind, error) for error in errors)
    return None, tuple(problem for problem in found if problem)


def _problem(source: Source, kind: type[Record], error: Any) -> Problem | None:
    path: Path = tuple(error["loc"])
    if error["type"] == "missing":
        return None if source.is_spoilt(path[:-1]) else _missing(source, kind, path)
    path = _as_written(source, path)
    if source.is_spoilt(path):
        return None
    match error["type"]:
        case "extra_forbidden":
            return _unknown_key(source, kind, path)
        case "literal_error":
            return _unknown_choice(source, kind, path)
        case "tuple_type":
            return _not_a_list(source, path)
        case "model_type" | "dict_type":
            return _not_a_mapping(source, kind, path)
        case "too_short":
            least = error["ctx"]["min_length"]
            rule = f"at least {least} {'entry belongs' if least == 1 else 'entries belong'} here"
            return source.problem("too-few", path, rule, "add what is missing")
        case code:
            return source.problem(code, path, error["ctx"]["rule"], error["ctx"]["repair"])


def _as_written(source: Source, path: Path) -> Path:
    """Return the part of a path that stands in the file: where choices are joined, the path ends in their names."""
    while path and source.at(path) is None:
        path = path[:-1]
    return path


def _missing(source: Source, kind: type[Record], path: Path) -> Problem:
    key = str(path[-1])
    record = record_at(kind, path[:-1])
    says = described(record)[key] if record else ""
    adding = f"add {key}: {_uncapped(says)}".rstrip(" .:")
    inner = record_at(kind, path) if "`" not in says else None
    form = re.search(r"`([^`]+)`", inner.__doc__ or "") if inner else None
    needed = [name for name, field in fields_at(kind, path).items() if field.is_required()] if inner else []
    if form:
        repair = f"{adding}; write {key}: {form[1]}"
    elif needed:
        repair = f"{adding}; below it belong {listed(f'{name}:' for name in needed)}"
    else:
        repair = adding
    return source.problem("missing-key", path, "it is missing", repair)


def _unknown_key(source: Source, kind: type[Record], path: Path) -> Problem:
    key = str(path[-1])
    fields = fields_at(kind, path[:-1])
    close = nearest(key, fields)
    under = [outer for inner, outer in keys_below(fields) if inner == key]
    if close:
        repair = f"did you mean {close}:?"
    elif under:
        repair = f"write it under {listed(under)}:"
    else:
        repair = f"the keys that can stand here are {listed(fields)}"
    return source.key_problem("unknown-key", path, "there is no such key here", repair)


def _unknown_choice(source: Source, kind: type[Record], path: Path) -> Problem:
    choices = choices_at(kind, path)
    text = source.at(path)
    if not isinstance(text, str):
        rule = "one value belongs here, not a list or keys of its own"
        return source.problem("not-text", path, rule, f"write one of {listed(choices)}")
    if not text.strip():
        return source.problem("empty-value", path, "the value is empty", f"write one of {listed(choices)}")
    return source.problem(
        "unknown-choice", path, "it is none of the words that can stand here", did_you_mean(text, choices)
    )


def _not_a_list(source: Source, path: Path) -> Problem:
    value = source.at(path)
    if isinstance(value, str):
        repair = f"put it on a line of its own with a dash before it: - {shown(value)}".rstrip()
    else:
        repair = "put a dash before the first key of each entry"
    return source.problem("not-a-list", path, "a list belongs here, with a dash before each entry", repair)


def _not_a_mapping(source: Source, kind: type[Record], path: Path) -> Problem:
    fields = fields_at(kind, path)
    if not fields:
        repair = "write a name of your own, a colon, and below it what belongs to it"
    elif isinstance(source.at(path), tuple):
        repair = "take the dashes away"
    else:
        needed = [key for key, field in fields.items() if field.is_required()] or list(fields)
        repair = f"write {listed(f'{key}:' for key in needed)} with their values"
    return source.problem("not-keys", path, "keys with values belong here", repair)


def _uncapped(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]

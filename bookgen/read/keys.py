"""A record class and a path in; what may stand there (keys, choices, a list, some text) out, for messages that help."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from types import UnionType
from typing import Literal, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from bookgen.model.project import Step
from bookgen.model.records import Record


def fields_at(record: type[Record], path: Sequence[Step]) -> dict[str, FieldInfo]:
    """Return the keys that may be written at *path*, as they are written; none where keys are free or none belong."""
    found = record_at(record, path)
    return {field.alias or name: field for name, field in found.model_fields.items()} if found else {}


def record_at(record: type[Record], path: Sequence[Step]) -> type[Record] | None:
    """Return the record class that is written at *path*; None where text, a list or free keys stand."""
    here: object = record
    for step in path:
        here = _inner(here, step)
    return record_in(here)


def choices_at(record: type[Record], path: Sequence[Step]) -> tuple[str, ...]:
    """Return the words that may be chosen at *path*; none where the text is free."""
    here: object = record
    for step in path:
        here = _inner(here, step)
    return tuple(_choices(here))


def record_in(annotation: object) -> type[Record] | None:
    """Return the record that an annotation such as `Run | None` asks for; None for text, lists and free keys."""
    if isinstance(annotation, type) and issubclass(annotation, Record):
        return annotation
    return next((found for part in _alternatives(annotation) if (found := record_in(part))), None)


def keys_below(fields: dict[str, FieldInfo]) -> Iterator[tuple[str, str]]:
    """Yield (key, the key it belongs under) for every key that is written one step further in."""
    for outer, field in fields.items():
        inner = record_in(field.annotation) or record_in(_inner(field.annotation, 0))
        for name, below in inner.model_fields.items() if inner else ():
            yield below.alias or name, outer


def _inner(annotation: object, step: Step) -> object:
    """Return the annotation of what stands one *step* further in; None where nothing can."""
    found = record_in(annotation)
    if found:
        fields = {field.alias or name: field for name, field in found.model_fields.items()}
        return fields[step].annotation if step in fields else None
    for part in (annotation, *_alternatives(annotation)):
        if get_origin(part) in (tuple, dict):
            kind = get_args(part)
            return kind[0] if get_origin(part) is tuple else kind[1]
    return None


def _alternatives(annotation: object) -> tuple[object, ...]:
    return get_args(annotation) if get_origin(annotation) in (Union, UnionType) else ()


def _choices(annotation: object) -> Iterator[str]:
    if get_origin(annotation) is Literal:
        yield from get_args(annotation)
    for part in _alternatives(annotation):
        yield from _choices(part)

"""A record with choices as planned and as built in, what was built otherwise out, field by field, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from bookgen.model.assembly import Difference
from bookgen.model.length import Length, show_inches
from bookgen.model.records.base import Record, words
from bookgen.model.records.obstacle import Obstacle
from bookgen.model.records.values import HEIGHT_WORDS, OFFSET_WORDS, Height, Offset, Rise, Size, Span

LEFT_OUT = "not written"


def differences(record: Obstacle) -> tuple[Difference, ...]:
    """Return each choice that was built otherwise than planned, in the order of the record's fields."""
    if record.as_built is None or record.treatment is None:
        return ()
    ((planned_name, planned),) = record.treatment.chosen()
    ((built_name, built),) = record.as_built.treatment.chosen()
    if planned_name != built_name:
        return (Difference("treatment", planned_name, built_name),)
    return tuple(_between("", planned, built))


def _between(prefix: str, planned: Record, built: Record) -> Iterator[Difference]:
    for name in type(planned).model_fields:
        before, after = getattr(planned, name), getattr(built, name)
        field = f"{prefix}{words(name)}"
        if before == after:
            continue
        if isinstance(before, Record) and isinstance(after, Record):
            yield from _between(f"{field}, ", before, after)
        elif isinstance(before, tuple) and isinstance(after, tuple) and len(before) == len(after):
            yield from _of_rows(field, before, after)
        else:
            yield Difference(field, say(before), say(after))


def _of_rows(field: str, planned: tuple[object, ...], built: tuple[object, ...]) -> Iterator[Difference]:
    for number, (before, after) in enumerate(zip(planned, built, strict=True), 1):
        if before == after:
            continue
        if isinstance(before, Record) and isinstance(after, Record):
            yield from _between(f"{field} {number}, ", before, after)
        else:
            yield Difference(f"{field} {number}", say(before), say(after))


def say(value: object) -> str:
    """Return a value of a record as a person would say it."""
    match value:
        case None | ():
            return LEFT_OUT
        case Length():
            return show_inches(value)
        case Height():
            return f"{show_inches(value.length)} {_datum(value.datum, dict[str, str](HEIGHT_WORDS))}"
        case Offset():
            return f"{show_inches(value.length)} {_datum(value.datum, OFFSET_WORDS)}"
        case Span():
            return f"{show_inches(value.low)} to {show_inches(value.high)}"
        case Size():
            return f"{show_inches(value.wide)} × {show_inches(value.high)}"
        case Rise():
            return f"{show_inches(Length(value.slope * 12))} per ft to the {value.toward}"
        case bool():
            return "yes" if value else "no"
        case tuple():
            return ", ".join(say(one) for one in value)
        case Record():
            pairs = ((words(name), getattr(value, name)) for name in type(value).model_fields)
            return ", ".join(f"{name} {say(one)}" for name, one in pairs if one is not None and one != ())
        case _:
            return str(value)


def _datum(datum: str, phrases: Mapping[str, str]) -> str:
    return next(phrase for phrase, name in phrases.items() if name == datum)

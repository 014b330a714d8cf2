"""A record with choices as planned and as built in, what was built otherwise out, in plain words."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from bookgen.model.assembly import Difference
from bookgen.model.length import Length
from bookgen.model.records.base import Record, described, words
from bookgen.model.records.obstacle import Obstacle
from bookgen.model.records.values import HEIGHT_WORDS, OFFSET_WORDS, Height, Offset, Rise, Size, Span
from bookgen.model.tape import Tape

LEFT_OUT = "left to be worked out"
FIRST_CLAUSE = re.compile(r"[.;:,]")
# What would a person call a choice, where the first words of its explanation do not stand alone?
CALLED = {
    ("PostWrap", "finished"): "width over the board",
    ("PostWrap", "finished deep"): "depth over the board",
    ("PostWrap", "top"): "top of the wrap",
    ("Chase", "finished"): "sizes over the board",
    ("Chase", "form"): "how the chase stands",
    ("Closet", "lined"): "lining of the inside",
    ("Door", "leaves"): "number of leaves",
    ("Door", "swings"): "the way the door swings",
    ("Door", "header"): "stock of the header",
    ("Door", "header laid"): "how the header lies",
    ("StairOpening", "risers"): "number of risers",
    ("StairOpening", "balusters"): "number of balusters",
    ("StairOpening", "baluster"): "thickness of a baluster",
    ("AccessOpening", "at"): "place of the opening",
    ("AccessOpening", "what passes"): "what has to pass",
    ("AccessOpening", "passes"): "what has to pass",
}
# What is one of several called?
ONE_OF = {"areas": "ceiling", "lights": "light", "registers": "register", "rows": "row", "edge strips": "edge strip",
          "lands": "landing"}  # fmt: skip


def differences(record: Obstacle, tape: Tape) -> tuple[Difference, ...]:
    """Return each choice that was built otherwise than planned, in the order of the record's fields.

    A difference is named as a person would name it, with lengths on the project's own *tape*.
    """
    if record.as_built is None or record.treatment is None or record.treatment.propose:
        return ()
    ((planned_name, planned),) = record.treatment.chosen()
    ((built_name, built),) = record.as_built.treatment.chosen()
    if planned_name != built_name:
        return (Difference("Treatment", planned_name, built_name),)
    found = _between("", planned, built, tape)
    return tuple(Difference(d.field[:1].upper() + d.field[1:], d.planned, d.built) for d in found)


def called(kind: type[Record], field: str) -> str:
    """Return what a person would call a field of a record, by the key as it is written."""
    name = CALLED.get((kind.__name__, field))
    if name is not None:
        return name
    clause = FIRST_CLAUSE.split(described(kind).get(field, field))[0].strip()
    return clause[:1].lower() + clause[1:]


def _between(prefix: str, planned: Record, built: Record, tape: Tape) -> Iterator[Difference]:
    for name in type(planned).model_fields:
        before, after = getattr(planned, name), getattr(built, name)
        field = words(name)
        if before == after:
            continue
        if isinstance(before, tuple) and isinstance(after, tuple) and len(before) == len(after):
            yield from _of_rows(f"{prefix}{ONE_OF.get(field, field)}", before, after, tape)
        elif isinstance(before, Record) and isinstance(after, Record):
            yield from _between(f"{prefix}{field}: ", before, after, tape)
        else:
            yield Difference(f"{prefix}{called(type(planned), field)}", say(before, tape), say(after, tape))


def _of_rows(field: str, planned: tuple[object, ...], built: tuple[object, ...], tape: Tape) -> Iterator[Difference]:
    for number, (before, after) in enumerate(zip(planned, built, strict=True), 1):
        if before == after:
            continue
        if isinstance(before, Record) and isinstance(after, Record):
            yield from _between(f"{field} {number}: ", before, after, tape)
        else:
            yield Difference(f"{field} {number}", say(before, tape), say(after, tape))


def say(value: object, tape: Tape) -> str:
    """Return a value of a record as a person would say it."""
    match value:
        case None | ():
            return LEFT_OUT
        case Length():
            return tape.plain(value)
        case Height():
            return f"{tape.plain(value.length)} {_datum(value.datum, dict[str, str](HEIGHT_WORDS))}"
        case Offset():
            return f"{tape.plain(value.length)} {_datum(value.datum, OFFSET_WORDS)}"
        case Span():
            return f"{tape.plain(value.low)} to {tape.plain(value.high)}"
        case Size():
            return f"{tape.short(value.wide)} × {tape.short(value.high)}"
        case Rise():
            return f"{tape.short(Length(value.slope * 12))} per ft to the {value.toward}"
        case bool():
            return "yes" if value else "no"
        case tuple():
            return ", ".join(say(one, tape) for one in value)
        case Record():
            pairs = ((words(name), getattr(value, name)) for name in type(value).model_fields)
            return ", ".join(f"{name} {say(one, tape)}" for name, one in pairs if one is not None and one != ())
        case _:
            return str(value)


def _datum(datum: str, phrases: Mapping[str, str]) -> str:
    return next(phrase for phrase, name in phrases.items() if name == datum)

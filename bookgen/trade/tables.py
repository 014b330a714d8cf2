"""Table files -> tuples of frozen rows: each TOML table becomes a dataclass with exact lengths and a named source.

A row that lacks its source, misses a key, has one too many or holds a value of the wrong kind is our own bug and
raises TableError. What a person wrote never gets here: the lookups of this room answer None for unknown text.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from enum import StrEnum
from fractions import Fraction
from functools import cache
from importlib.resources import files
from types import MappingProxyType, NoneType
from typing import Any, Protocol, TypeVar, get_args, get_origin, get_type_hints

from bookgen.model.length import Length, LengthError, parse_length


class TableError(Exception):
    """A table of ours is wrong; the message names the file, the row, the key and what was wanted."""


class Sure(StrEnum):
    """How sure a figure is, surest first."""

    OFFICIAL = "official"  # seen on a page of a government, a standards body or an adopted ordinance
    QUOTED = "quoted"  # wording of the code or standard seen quoted elsewhere
    PARAPHRASE = "paraphrase"  # seen retold elsewhere
    COMPUTED = "computed"  # arithmetic on the figures beside it
    COMMON_PRACTICE = "common practice"  # what the trade does; no source
    MEMORY = "memory"  # known, but no page was seen


class Sourced(Protocol):
    """What every row of every table has."""

    @property
    def source(self) -> str:
        """The original source by name and section."""

    @property
    def sure(self) -> Sure:
        """How sure the row's figures are; of two, the weaker."""


Row = TypeVar("Row", bound=Sourced)


@cache
def read_document(file: str) -> Mapping[str, object]:
    """Return the headings of table file *file*, such as "lumber.toml", and what stands under each."""
    text = files("bookgen.trade").joinpath(file).read_text("utf-8")
    return MappingProxyType(tomllib.loads(text))


def read_rows(file: str, heading: str, kind: type[Row]) -> tuple[Row, ...]:
    """Return the rows under [[heading]] of table file *file*, each as a *kind*.

    Raises TableError as `rows_from` does.
    """
    return rows_from(read_document(file), heading, kind, file)


def rows_from(document: Mapping[str, object], heading: str, kind: type[Row], file: str) -> tuple[Row, ...]:
    """Return the rows under *heading* of a parsed *document*, each as a *kind*; *file* is named in messages.

    A missing key is allowed where the field may be None, a tuple (then empty) or a bool (then no).
    Raises TableError for a missing heading, a missing or unknown key, a blank text or a value of the wrong kind.
    """
    found = document.get(heading)
    if not isinstance(found, list) or not found:
        raise TableError(f"{file}: no rows under [[{heading}]]")
    hints = get_type_hints(kind)
    return tuple(_row(raw, kind, hints, f"{file} [[{heading}]] row {number}") for number, raw in enumerate(found, 1))


def _row(raw: object, kind: type[Row], hints: Mapping[str, Any], where: str) -> Row:
    if not isinstance(raw, dict):
        raise TableError(f"{where}: not a table of keys")
    unknown = sorted(set(raw) - set(hints))
    if unknown:
        raise TableError(f"{where}: no such key: {', '.join(unknown)}")
    return kind(**{key: _field(raw, key, hint, where) for key, hint in hints.items()})


def _field(raw: Mapping[str, object], key: str, hint: Any, where: str) -> object:
    if key in raw:
        try:
            return _value(hint, raw[key])
        except (ValueError, TypeError, ZeroDivisionError, LengthError) as problem:
            raise TableError(f"{where}: {key} = {raw[key]!r}: {problem}") from problem
    if NoneType in get_args(hint):
        return None
    if get_origin(hint) is tuple:
        return ()
    if hint is bool:
        return False
    raise TableError(f"{where}: {key} is missing")


def _value(hint: Any, raw: object) -> object:
    if NoneType in get_args(hint):
        (hint,) = (part for part in get_args(hint) if part is not NoneType)
    if get_origin(hint) is tuple:
        return tuple(_value(get_args(hint)[0], part) for part in _of(list, raw))
    if hint is Length:
        return parse_length(_of(str, raw))
    if hint is Fraction:
        return Fraction(_of(str, raw))
    if issubclass(hint, StrEnum):
        return hint(_of(str, raw))
    value = _of(hint, raw)
    if value == "" or (isinstance(value, str) and value != value.strip()):
        raise ValueError("a text is blank, or has blanks at its ends")
    return value


Kind = TypeVar("Kind")


def _of(kind: type[Kind], raw: object) -> Kind:
    # `type() is`, since a bool would pass as an int
    if type(raw) is not kind:
        raise TypeError(f"wanted {kind.__name__}")
    return raw

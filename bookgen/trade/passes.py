"""What has to pass an access opening -> how large the opening has to be for it."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.trade import words
from bookgen.trade.tables import Sure, read_rows

TABLE = "passes.toml"


@dataclass(frozen=True, slots=True)
class Passing:
    """One thing that has to pass, and the least opening for it, which may be turned."""

    id: str
    words: str
    width: Length
    height: Length
    source: str
    sure: Sure


@cache
def passings() -> tuple[Passing, ...]:
    """Return every row of the table."""
    return read_rows(TABLE, "pass", Passing)


def passing(text: str) -> Passing | None:
    """Return the row that *text* names, such as "two hands"; None for a name that no row has."""
    name = "-".join(text.casefold().split())
    return next((row for row in passings() if row.id == name), None)


def needed(rows: Iterable[Passing]) -> tuple[Length, Length]:
    """Return the short and the long side of an opening that lets each of *rows* through, one after the other.

    Raises ValueError for no rows at all.
    """
    sides = [sorted((row.width, row.height)) for row in rows]
    return max(short for short, _ in sides), max(long for _, long in sides)


def near(text: str) -> tuple[str, ...]:
    """Return the rows whose names look most like *text*, else all of them, for a Problem's hint."""
    names = tuple(row.id.replace("-", " ") for row in passings())
    return words.near(text, names) or names

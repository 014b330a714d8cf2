"""Trade text such as "3/4 in ball valve" -> the outside sizes of a thing with a body of its own."""

from __future__ import annotations

from enum import StrEnum
from functools import cache

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.trade import words
from bookgen.trade.tables import Sure, read_rows

TABLE = "fitting.toml"


class Shape(StrEnum):
    """How a fitting stands in the house."""

    BOX = "box"  # on a wall or a joist, its depth off it
    INLINE = "inline"  # in a pipe, its height along the pipe
    PIT = "pit"  # round, in the floor: its height goes down from the slab, its lid lies on it


@dataclass(frozen=True, slots=True)
class Fitting:
    """One fitting by its trade name, with its outside sizes."""

    name: str
    shape: Shape
    wide: Length
    high: Length
    deep: Length
    source: str
    sure: Sure


@cache
def fittings() -> tuple[Fitting, ...]:
    """Return every row of the table."""
    return read_rows(TABLE, "fitting", Fitting)


def fitting(text: str) -> Fitting | None:
    """Return the fitting that *text* names, in any spelling of its size: `3/4" ball valve`; None for no such name."""
    flat = words.plain(text)
    return next((row for row in fittings() if words.plain(row.name) == flat), None)


def near(text: str) -> tuple[str, ...]:
    """Return the fittings whose names look most like *text*, for a Problem's hint."""
    return words.near(text, (row.name for row in fittings()))

"""A size, or the opening a hand needs -> the stock access cover for it."""

from __future__ import annotations

from functools import cache

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.trade import words
from bookgen.trade.tables import Sure, read_rows

TABLE = "covers.toml"

COVER_WORDS = frozenset({"access", "cover", "door", "panel", "hatch", "lift-out", "hinged", "white"})


@dataclass(frozen=True, slots=True)
class Cover:
    """One stock access cover; `width` by `height` is the opening it is sold for, not its flange."""

    name: str
    width: Length
    height: Length
    source: str
    sure: Sure


@cache
def covers() -> tuple[Cover, ...]:
    """Return the stock covers, smallest opening first."""
    return read_rows(TABLE, "cover", Cover)


def cover(text: str) -> Cover | None:
    """Return the stock cover that *text* names, either way up: "14 x 18", "18 x 14 access door"; None if not stock."""
    pair = words.split_pair(text)
    if pair is None or not set(pair.words) <= COVER_WORDS:
        return None
    return next((row for row in covers() if {row.width, row.height} == set(pair.sizes)), None)


def smallest_cover(width: Length, height: Length) -> Cover | None:
    """Return the smallest stock cover whose opening, either way up, takes *width* by *height*; None if none does."""
    short, long = sorted((width, height))
    for row in covers():
        if short <= min(row.width, row.height) and long <= max(row.width, row.height):
            return row
    return None


def near(text: str) -> tuple[str, ...]:
    """Return the stock covers whose names look most like *text*, for a Problem's hint."""
    return words.near(text, (row.name for row in covers()))

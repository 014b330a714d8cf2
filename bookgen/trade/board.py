"""Trade text such as "1/2 in drywall" -> a board's thickness, weight, sheets, and how far apart its framing may be."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from functools import cache

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.trade import words
from bookgen.trade.tables import Sure, read_rows

TABLE = "board.toml"

PLAIN_WORDS = frozenset({"gypsum", "drywall", "board", "wallboard", "plasterboard", "regular", "sheet"})
KIND_WORDS = frozenset({"ceiling", "sag-resistant", "type", "x"})  # they pick a kind other than the plain board


class Surface(StrEnum):
    """Where a board hangs."""

    WALL = "wall"
    CEILING = "ceiling"


class Direction(StrEnum):
    """How a board's long edges lie to the framing."""

    EITHER = "either"
    ACROSS = "across"


@dataclass(frozen=True, slots=True)
class Board:
    """One gypsum board; `pounds_per_square_foot` is about."""

    name: str
    kind: str
    thickness: Length
    pounds_per_square_foot: Fraction | None
    weight_sure: Sure | None
    source: str
    sure: Sure


@dataclass(frozen=True, slots=True)
class Sheet:
    """A size gypsum board is sold in."""

    width: Length
    length: Length
    source: str
    sure: Sure


@dataclass(frozen=True, slots=True)
class Span:
    """The most a board's framing may stand apart, centre to centre.

    `water_texture` says whether the figure also holds under a water-based texture; None where the source is silent.
    """

    kind: str
    thickness: Length
    surface: Surface
    direction: Direction
    spacing: Length
    water_texture: bool | None
    source: str
    sure: Sure


@dataclass(frozen=True, slots=True)
class FinishingFactor:
    """How much of a finishing material 1,000 square feet of board takes: the published figure and its range.

    The published factors differ by up to twice, so a project may set its own between `least` and `most`.
    """

    id: str
    unit: str
    per_1000_square_feet: Fraction
    least: Fraction
    most: Fraction
    source: str
    sure: Sure


@cache
def boards() -> tuple[Board, ...]:
    """Return every board, thinnest first within its kind."""
    return read_rows(TABLE, "board", Board)


@cache
def sheets() -> tuple[Sheet, ...]:
    """Return the sheet sizes sold, smallest first."""
    return read_rows(TABLE, "sheet", Sheet)


@cache
def finishing_factors() -> tuple[FinishingFactor, ...]:
    """Return how much tape, compound and how many screws a board takes."""
    return read_rows(TABLE, "finishing", FinishingFactor)


def board(text: str) -> Board | None:
    """Return the board that *text* names: "1/2 in drywall", "5/8 type X", "1/2 in sag-resistant board".

    None if the thickness is not made, or any word is unknown.
    """
    sized = words.split_size(text)
    if sized is None or not set(sized.words) <= PLAIN_WORDS | KIND_WORDS:
        return None
    kind = _kind(frozenset(sized.words) & KIND_WORDS)
    for row in boards():
        if row.kind == kind and row.thickness == sized.sizes[0]:
            return row
    return None


def near(text: str) -> tuple[str, ...]:
    """Return the boards whose names look most like *text*, for a Problem's hint."""
    return words.near(text, (row.name for row in boards()))


def spans(of: Board, surface: Surface) -> tuple[Span, ...]:
    """Return the framing spacings allowed for board *of* on *surface*, one for each direction and finish held."""
    return tuple(
        row for row in all_spans() if (row.kind, row.thickness, row.surface) == (of.kind, of.thickness, surface)
    )


@cache
def all_spans() -> tuple[Span, ...]:
    """Return every framing spacing held, of every board."""
    return read_rows(TABLE, "span", Span)


def _kind(said: frozenset[str]) -> str | None:
    if not said:
        return "regular"
    if said == {"type", "x"}:
        return "type X"
    return "ceiling" if said <= {"ceiling", "sag-resistant"} else None

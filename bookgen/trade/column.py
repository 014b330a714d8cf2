"""Trade text such as "3-1/2 in steel post" or "7 x 7 x 3/8 plate" -> the true size of a post or of its plate."""

from __future__ import annotations

from functools import cache

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length, parse_length
from bookgen.trade import words
from bookgen.trade.tables import Sure, read_rows

TABLE = "column.toml"

TUBE_WORDS = frozenset(
    {"steel", "round", "tube", "tubular", "od", "adjustable", "column", "post", "lally", "jack", "filled", "concrete"}
)
PIPE_WORDS = frozenset({"sch40", "pipe"})  # said of a size, they make it nominal: 3 in is then 3-1/2 in outside
PLATE_WORDS = frozenset({"steel", "base", "cap", "bearing", "plate"})


@dataclass(frozen=True, slots=True)
class ColumnSize:
    """One round steel post. `nominal` is what it is asked for by: pipe by its nominal size, tube by its true one."""

    nominal: str
    made_of: str
    outside: Length
    wall: Length | None
    wall_sure: Sure | None
    source: str
    sure: Sure

    @property
    def name(self) -> str:
        """The size as it is asked for: 3 in sch 40 pipe column."""
        return f"{self.nominal} {self.made_of} column"


@dataclass(frozen=True, slots=True)
class PlateSize:
    """A steel plate at the head or foot of a post, long by wide by thick."""

    length: Length
    width: Length
    thickness: Length


@dataclass(frozen=True, slots=True)
class UsualPlate:
    """A plate the trade uses often."""

    name: str
    source: str
    sure: Sure


@cache
def columns() -> tuple[ColumnSize, ...]:
    """Return every post in the table."""
    return read_rows(TABLE, "column", ColumnSize)


@cache
def usual_plates() -> tuple[UsualPlate, ...]:
    """Return the plates the trade uses often."""
    return read_rows(TABLE, "plate", UsualPlate)


def column(text: str) -> ColumnSize | None:
    """Return the post that *text* names: "3-1/2 in round steel", "4 in lally column", "3 in sch 40 pipe column".

    None if the size or any word is unknown, or no word says what it is.
    """
    sized = words.split_size(text)
    if sized is None or not sized.words or not set(sized.words) <= TUBE_WORDS | PIPE_WORDS:
        return None
    made_of = "sch 40 pipe" if set(sized.words) & PIPE_WORDS else "steel tube"
    if made_of == "sch 40 pipe" and "od" in sized.words:
        return None  # a pipe named by its outside: no telling which of the two was meant
    for row in columns():
        if row.made_of == made_of and parse_length(row.nominal) == sized.sizes[0]:
            return row
    return None


def near(text: str) -> tuple[str, ...]:
    """Return the posts whose names look most like *text*, for a Problem's hint."""
    return words.near(text, (row.name for row in columns()))


def plate(text: str) -> PlateSize | None:
    """Return the plate that *text* names, long by wide by thick: "7 x 7 x 3/8" or "7 x 4 x 3/8 cap plate"."""
    if len(text) > words.LONGEST:
        return None
    parts = [words.split_size(part) for part in words.plain(text).split("x")]
    found = [part for part in parts if part is not None and set(part.words) <= PLATE_WORDS]
    sizes = [size for part in found for size in part.sizes if size.inches > 0]
    return PlateSize(*sizes) if len(parts) == len(sizes) == 3 else None

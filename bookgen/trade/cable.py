"""Trade text such as "14-2 NM" or "cat 6" -> the cable's size across and what it carries."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.trade import words
from bookgen.trade.tables import Sure, read_rows

TABLE = "cable.toml"
# How far is a cable in or along wood kept back from its edge? NEC 300.4(A)(1) and (D), as in limits-electrical.toml.
SETBACK = Length(Fraction(5, 4))

PLAIN_WORDS = frozenset({"cable", "cables", "wire", "nm", "nmb", "g", "wg", "with", "ground", "in", "line"})
_GAUGE = re.compile(r"(?<![\w/-])(\d+) ?[-/] ?(\d)(?![\w/-])")


@dataclass(frozen=True, slots=True)
class CableSize:
    """One cable, about: makers differ and the standard fixes no outside size, so measure where it matters.

    A round cable has its diameter as both `width` and `thickness`. `also` are other ways to say the name.
    """

    name: str
    also: tuple[str, ...]
    width: Length
    thickness: Length
    system: str
    source: str
    sure: Sure


@cache
def cables() -> tuple[CableSize, ...]:
    """Return every cable in the table."""
    return read_rows(TABLE, "cable", CableSize)


def cable(text: str) -> CableSize | None:
    """Return the cable that *text* names: "14-2 NM", "NM 14/2 with ground", "coax", "Cat6 cable"; None if unknown."""
    if len(text) > words.LONGEST:
        return None
    asked = _key(text)
    for row in cables():
        if asked and asked in {_key(name) for name in (row.name, *row.also)}:
            return row
    return None


def near(text: str) -> tuple[str, ...]:
    """Return the cables whose names look most like *text*, for a Problem's hint."""
    return words.near(text, (row.name for row in cables()))


def _key(text: str) -> str:
    """Return the words that tell one cable from another, joined: NM 14/2 cable -> 14-2."""
    flat = _GAUGE.sub(r" \1-\2 ", words.plain(text).replace("nm-b", "nmb").replace("rg-6", "rg6"))
    return "".join(word for word in flat.split() if word not in PLAIN_WORDS)

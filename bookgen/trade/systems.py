"""The systems hidden in a lower level -> the owner's word and the trade's word for each."""

from __future__ import annotations

from functools import cache

from bookgen.model.frozen import dataclass
from bookgen.trade.tables import Sure, read_rows

TABLE = "systems.toml"


@dataclass(frozen=True, slots=True)
class System:
    """One system. `name` is how tables and records name it; `carries` says what runs in it, in a few plain words."""

    name: str
    owner_word: str
    trade_word: str
    carries: str
    shut_off_by: str
    source: str
    sure: Sure


@cache
def systems() -> tuple[System, ...]:
    """Return the systems in the order a register lists them."""
    return read_rows(TABLE, "system", System)


def system(name: str) -> System | None:
    """Return the system whose name, owner's word or trade word is *name*, in any case; None if there is none."""
    asked = name.strip().casefold()
    for row in systems():
        if asked in {word.casefold() for word in (row.name, row.owner_word, row.trade_word)}:
            return row
    return None

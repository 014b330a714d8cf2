"""What is hidden in a lower level -> the upkeep it needs: how often, by whom and how, each with its source."""

from __future__ import annotations

from enum import StrEnum
from functools import cache

from bookgen.model.frozen import dataclass
from bookgen.trade.tables import Sure, read_rows

TABLE = "upkeep.toml"


class Doer(StrEnum):
    """Who does a job of upkeep."""

    OWNER = "owner"
    LICENSED = "licensed trade"


@dataclass(frozen=True, slots=True)
class Upkeep:
    """One job of upkeep.

    It falls due every `months_least` to `months_most` months; equal where there is one figure. `month` (1 to 12) is
    when in the year it is best done, where that matters. `governs` names what overrules the figure, such as the
    maker's label.
    """

    id: str
    thing: str
    system: str
    task: str
    months_least: int
    months_most: int
    month: int | None
    by: Doer
    how: str
    governs: str | None
    source: str
    sure: Sure


@cache
def upkeep_jobs() -> tuple[Upkeep, ...]:
    """Return every job, in the order an upkeep table lists them."""
    return read_rows(TABLE, "upkeep", Upkeep)


def upkeep(id: str) -> Upkeep | None:  # noqa: A002 (an id is what it is)
    """Return the job called *id*; None if there is none."""
    return next((row for row in upkeep_jobs() if row.id == id), None)

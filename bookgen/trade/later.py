"""What a check found -> the caution that whoever lives there needs, years after the board went up."""

from __future__ import annotations

from functools import cache

from bookgen.model.frozen import dataclass
from bookgen.trade.tables import Sure, read_rows

TABLE = "later.toml"


@dataclass(frozen=True, slots=True)
class Later:
    """One check whose findings matter later.

    `least` is the mildest severity that does: stop, ask or note. `caution` is a key of the table of cautions; None
    where it hangs on what was found: the gravest caution for drilling near that system. `add` is one more sentence, in
    which {where} names the thing. An answer ends the caution where `answer_ends` says so; a thing that is out of reach
    stays out of reach, whatever paper there is.
    """

    check: str
    least: str
    caution: str | None
    add: str | None
    answer_ends: bool
    source: str
    sure: Sure


@cache
def later() -> tuple[Later, ...]:
    """Return every row, in the order of the table."""
    return read_rows(TABLE, "later", Later)


def later_of(check: str) -> Later | None:
    """Return the row of a check; None where nothing of it matters once the level is finished."""
    return next((row for row in later() if row.check == check), None)

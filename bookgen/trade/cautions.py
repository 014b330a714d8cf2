"""What is hidden and what someone is about to do -> the cautions to print, each with its signal word and its source.

The signal word follows from the harm, as ANSI Z535.4 defines the words; a table row where the two disagree is refused.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from bookgen.model.frozen import dataclass
from bookgen.trade import words
from bookgen.trade.tables import Sure, TableError, read_rows

TABLE = "cautions.toml"


class Signal(StrEnum):
    """The signal words of ANSI Z535.4, gravest first."""

    DANGER = "DANGER"  # will kill or seriously injure if not avoided; the most extreme cases only
    WARNING = "WARNING"  # could kill or seriously injure
    CAUTION = "CAUTION"  # could injure slightly or moderately
    NOTICE = "NOTICE"  # no injury; printed without the safety-alert triangle


class Harm(StrEnum):
    """The worst that comes of it if the caution is not heeded."""

    WILL_KILL = "will kill or seriously injure"
    COULD_KILL = "could kill or seriously injure"
    COULD_HURT = "could hurt"
    NO_INJURY = "no injury"


# What signal word does the harm ask for? ANSI Z535.4-2007 4.14.1 to 4.14.4.
SIGNAL_FOR: Mapping[Harm, Signal] = MappingProxyType(
    {
        Harm.WILL_KILL: Signal.DANGER,
        Harm.COULD_KILL: Signal.WARNING,
        Harm.COULD_HURT: Signal.CAUTION,
        Harm.NO_INJURY: Signal.NOTICE,
    }
)


class Doing(StrEnum):
    """What someone is about to do."""

    ALWAYS = "always"  # whatever is done: living beside it is enough
    OPEN = "open"  # a cover, a lid, a plug, a housing
    DRILL = "drill"  # or drive a screw or nail
    CUT = "cut"  # or take away
    COVER = "cover"  # store, build or paint in front of it
    WORK = "work"  # build, sand, shoot fasteners, crawl


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution in plain words, to the reader as you.

    `hidden` are the systems, obstacle kinds and things it goes with. `built_before` is a year: the caution is then for
    houses built before it and for those of unknown age. `call` says whom to call.
    """

    id: str
    signal: Signal
    harm: Harm
    hidden: tuple[str, ...]
    doing: tuple[Doing, ...]
    built_before: int | None
    hazard: str
    consequence: str
    avoidance: str
    call: str
    source: str
    sure: Sure

    def __post_init__(self) -> None:
        if self.signal != SIGNAL_FOR[self.harm]:
            raise TableError(f"{TABLE}: {self.id}: {self.signal} does not go with harm “{self.harm}”")

    @property
    def has_alert_triangle(self) -> bool:
        """Whether the safety-alert triangle stands beside the signal word; never with NOTICE. ANSI Z535.4 4.14.4."""
        return self.signal != Signal.NOTICE


@cache
def cautions() -> tuple[Caution, ...]:
    """Return every caution, the gravest first."""
    gravest_first = tuple(Signal)
    return tuple(sorted(read_rows(TABLE, "caution", Caution), key=lambda row: gravest_first.index(row.signal)))


def caution(id: str) -> Caution | None:  # noqa: A002 (an id is what it is)
    """Return the caution called *id*; None if there is none."""
    return next((row for row in cautions() if row.id == id), None)


@cache
def hidden_words() -> frozenset[str]:
    """Return every system and thing that some caution is about."""
    return frozenset(word for row in cautions() for word in row.hidden)


def near(id: str) -> tuple[str, ...]:  # noqa: A002 (an id is what it is)
    """Return the ids that look most like *id*, for a Problem's hint."""
    return words.near(id, (row.id for row in cautions()))


def cautions_for(hidden: str, doing: Doing | None = None, built: int | None = None) -> tuple[Caution, ...]:
    """Return the cautions for *hidden*, a system, an obstacle kind or a thing such as "slab", the gravest first.

    With *doing*, those for that act and those that always hold. *built* is the year the house was built, None if it is
    unknown. Raises TableError for a *hidden* that no caution is about: a slip there would hide a hazard.
    """
    if hidden not in hidden_words():
        raise TableError(f"{TABLE}: no caution is about “{hidden}”")
    return tuple(
        row
        for row in cautions()
        if hidden in row.hidden
        and (doing is None or doing in row.doing or Doing.ALWAYS in row.doing)
        and (row.built_before is None or built is None or built < row.built_before)
    )

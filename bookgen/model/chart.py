"""Charts as data: finished words beside plain numbers for the writer to lay out; no colours, no SVG.

Numbers are floats in the unit that their figure names; whatever a person reads has been written by compose.
"""

from __future__ import annotations

from bookgen.model.frozen import dataclass
from bookgen.model.sketch import Spot

WIDE = 124.0  # millimetres on paper: as wide as a sheet of a sketch, so that the type reads the same


@dataclass(frozen=True, slots=True)
class Tick:
    """A value on an axis, and how it is read."""

    value: float
    words: str


@dataclass(frozen=True, slots=True)
class Underside:
    """One flat underside on the plan, in inches east and north; *band* counts from the lowest, 0."""

    outline: tuple[Spot, ...]
    band: int
    planned: bool = False


@dataclass(frozen=True, slots=True)
class NamedSpot:
    """A place on the map under a letter: what it is, and its headroom in words."""

    letter: str
    at: Spot
    name: str
    words: str


@dataclass(frozen=True, slots=True)
class HeadroomMap:
    """Headroom over a level, north up: *undersides* in the order they are painted, the lowest last.

    *wide* and *high* are the level in inches, *bands* the words for each band from the lowest, "" for one that nothing
    lies in, *walls* lines of finished faces, *stairs* outlines that no headroom is given for, under *stair* as words.
    """

    wide: float
    high: float
    bands: tuple[str, ...]
    undersides: tuple[Underside, ...]
    walls: tuple[tuple[Spot, Spot], ...]
    stairs: tuple[tuple[Spot, ...], ...]
    stair: str
    planned: str
    spots: tuple[NamedSpot, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """A stretch of a run over which a value stays the same; *words* stand on it."""

    low: float
    high: float
    value: float
    words: str


@dataclass(frozen=True, slots=True)
class Profile:
    """One value along a run, in inches: its steps, the ticks of its axis, and what is asked of it, if anything.

    *hangs* is true where the work fills what is above the value, not what is below.
    """

    title: str
    steps: tuple[Step, ...]
    ticks: tuple[Tick, ...]
    limit: Tick | None = None
    hangs: bool = False


@dataclass(frozen=True, slots=True)
class AlongRun:
    """Profiles over one another along the same run; *ticks* are its stations in inches, *axis* says from where."""

    axis: str
    ticks: tuple[Tick, ...]
    profiles: tuple[Profile, ...]


@dataclass(frozen=True, slots=True)
class Share:
    """A part of a whole, 0 to 1, and how much that is."""

    what: str
    part: float
    words: str


@dataclass(frozen=True, slots=True)
class Shares:
    """What something is made up of, the largest share first."""

    rows: tuple[Share, ...]


@dataclass(frozen=True, slots=True)
class WorkRow:
    """One chapter's photos: for each phase, in the order of the time line's phases, its days as ordinals."""

    name: str
    days: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class TimeLine:
    """The work on a line of days; *ticks* are ordinals of days with their words."""

    phases: tuple[str, ...]
    ticks: tuple[Tick, ...]
    rows: tuple[WorkRow, ...]


Figure = HeadroomMap | AlongRun | Shares | TimeLine


@dataclass(frozen=True, slots=True)
class Chart:
    """One chart: *key* is unique in the book; *title* and *desc* say what is seen; *caption* stands below."""

    key: str
    title: str
    desc: str
    caption: str
    figure: Figure

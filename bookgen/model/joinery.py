"""The ends and notches of a piece of lumber: what the saw has to be told beside a length."""

from __future__ import annotations

from typing import Literal

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length

HALF_DEGREES = 2  # the scale of a saw is read to half a degree


@dataclass(frozen=True, slots=True, order=True)
class EndCut:
    """An end that is not cut square, by *half_degrees* off square.

    A *mitre* crosses the wide face, with the blade upright; a *bevel* goes through the thickness, with the blade
    tilted. *end* is `low` or `high` along the axis of the run, upward for what stands up. *leans* tells ends apart
    that slope the one way or the other: two ends with the same sign are parallel.
    """

    end: Literal["low", "high"]
    kind: Literal["mitre", "bevel"]
    half_degrees: int
    leans: Literal[1, -1]


@dataclass(frozen=True, slots=True, order=True)
class Notch:
    """A piece cut out of an edge: *long* along the grain, *deep* into the piece."""

    long: Length
    deep: Length


@dataclass(frozen=True, slots=True)
class Joinery:
    """All that is cut on a piece beside its length.

    *ripped* is the size (thickness, width) that the stock is ripped to, where it is not used whole.
    """

    ends: tuple[EndCut, ...] = ()
    notches: tuple[Notch, ...] = ()
    ripped: tuple[Length, Length] | None = None

    def plain(self) -> bool:
        """Tell whether the piece is cut square at both ends and no further."""
        return not (self.ends or self.notches or self.ripped)


SQUARE = Joinery()

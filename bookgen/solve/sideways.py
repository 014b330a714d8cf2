"""A soffit and what stands in its side in; the faces that are left of it, and its open sides, out.

One side of it moves over to the finished side of the other, in one straight line for the whole run. Beside the other
that side is not boarded; where it shows under it or past its ends, it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from bookgen.model.assembly import SOFFITS
from bookgen.model.geometry import Box
from bookgen.solve.cutout import Rectangle, within
from bookgen.solve.framing import Stretch
from bookgen.solve.site import Site, Taken
from bookgen.solve.walls_met import SLACK

UPRIGHT = frozenset({"chase", "post wrap"})  # these go up to the joists beside a soffit whose side they stand in
ASIDE_FOR = SOFFITS | UPRIGHT


def covers(across: Stretch, other: Box) -> bool:
    """Tell whether something stands in the whole width of a soffit with these faces, so that it can stop there."""
    return other.low.y <= across[0] + SLACK and across[1] - SLACK <= other.high.y


def beside(across: Stretch, others: Iterable[Box]) -> Stretch:
    """Return the faces of a soffit's framing once it has moved clear of the finished boxes of others."""
    low, high = across
    for other in others:
        if other.low.y <= low < other.high.y:
            low = other.high.y
        elif other.low.y < high <= other.high.y:
            high = other.low.y
    return low, high


def shared(site: Site, across: Stretch) -> tuple[Taken, ...]:
    """Return what a soffit with these faces shares a part of its width with, and moves over for."""
    return tuple(
        taken
        for taken in site.taken
        if taken.treatment in ASIDE_FOR
        and taken.room.finished.low.y < across[1]
        and across[0] < taken.room.finished.high.y
        and not covers(across, taken.room.finished)
        and not (across[0] < taken.room.finished.low.y and taken.room.finished.high.y < across[1])
    )


def met_at(rooms: Iterable[Box], face: Fraction) -> tuple[Box, ...]:
    """Return the rooms whose finished side lies at a face across the run."""
    return tuple(room for room in rooms if face in {room.low.y, room.high.y})


def patches(rooms: Iterable[Box], side: Rectangle) -> tuple[Rectangle, ...]:
    """Return what rooms cover of a side that they stand against, along and up."""
    found = (Rectangle((room.low.x, room.high.x), (room.low.z, room.high.z)) for room in rooms)
    return tuple(within(patch, side) for patch in found if patch.meets(side))


def bared(rooms: Iterable[Box], run: Stretch) -> tuple[Fraction, ...]:
    """Return the stations inside a run where board begins again beside the rooms."""
    return tuple(at for room in rooms for at in (room.low.x, room.high.x) if run[0] < at < run[1])


def sideways_words(site: Site, rooms: Iterable[Box]) -> Iterator[str]:
    """Yield what a soffit has moved over for; *rooms* are the finished boxes of those beside it."""
    for taken in (taken for taken in site.taken if taken.room.finished in set(rooms)):
        yield site.say(
            "It is framed up to the finished side of {what}, which takes a part of its width.", what=taken.what
        )

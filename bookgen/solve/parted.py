"""A soffit's ends and what it gives way to in, the ends of the pieces that are left of it out, and the room it fills.

A piece stops at the finished face of what it meets. Where it hangs lower than that, its end shows under it and is
closed there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from bookgen.model.geometry import Box, Point
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.solve.framing import Stretch
from bookgen.solve.site import Envelope, Site, Taken
from bookgen.solve.soffit_ends import FAR, SHORTEST, Beside
from bookgen.solve.walls_met import Ends


@dataclass(frozen=True, slots=True)
class Parted:
    """The ends of one piece; *before* and *after* are what it meets there and hangs lower than, where it does."""

    ends: Ends
    before: Beside | None = None
    after: Beside | None = None


def parted(site: Site, met: Ends, across: Stretch, bottom: Fraction) -> tuple[Parted, ...]:
    """Return the pieces between the *met* ends; *across* are the faces of the framing and *bottom* its underside."""
    found: list[Parted] = []
    start, meets, before = met.low, met.low_meets, None
    for low, high, under in sorted(_in_the_way(site, across, bottom), key=lambda row: row[:2]):
        beside = None if under is None else Beside(FAR, under)
        if low > start:
            stops = low <= met.high
            ends = Ends(start, min(low, met.high), meets, (stops and beside is None) or (not stops and met.high_meets))
            found.append(Parted(ends, before, beside if stops else None))
        if high > start:
            start, meets, before = high, beside is None, beside
    if start < met.high:
        found.append(Parted(Ends(start, met.high, meets, met.high_meets), before))
    return tuple(found)


def _in_the_way(site: Site, across: Stretch, bottom: Fraction) -> Iterator[tuple[Fraction, Fraction, Fraction | None]]:
    """Yield what stands in a soffit: its stretch of the run, and the underside of its framing where that is higher."""
    for taken in _met(site, across):
        room, foot = taken.room.finished, bottom - site.level.ceiling_board
        yield room.low.x, room.high.x, taken.room.framed.low.z if room.low.z > foot else None


def _met(site: Site, across: Stretch) -> Iterator[Taken]:
    for taken in site.taken:
        if taken.room.finished.low.y < across[1] and across[0] < taken.room.finished.high.y:
            yield taken


def stop_words(site: Site, across: Stretch, bottom: Fraction) -> Iterator[str]:
    """Yield what a soffit stops at, chases left out."""
    for taken in _met(site, across):
        if taken.treatment == "chase":
            continue
        if taken.room.framed.low.z > bottom:
            yield site.say(
                "It stops at the finished side of {what}, and is closed where it shows under it.", what=taken.what
            )
        else:
            yield site.say("It stops at the finished side of {what}.", what=taken.what)


def too_little(site: Site, left: Iterable[Ends], run: Stretch, path: tuple[Step, ...]) -> tuple[Problem, ...]:
    """Return a `soffit-too-short` Problem where what it gives way to leaves nothing, or a piece too short to frame."""
    short = min((ends.high - ends.low for ends in left), default=Fraction(0))
    if short >= SHORTEST or not site.taken:
        return ()
    names = " and ".join(taken.what for taken in site.taken)
    rule = f"beside {names} {site.tape.short(short)} of it is left, and {site.tape.short(SHORTEST)} can be framed"
    value, repair = f"{site.tape.long(run[0])} to {site.tape.long(run[1])}", "end it there, or let it go on further"
    return (site.problem("soffit-too-short", path, value, rule if short else f"{names} takes up all of it", repair),)


def soffit_room(site: Site, met: Ends, framed: Stretch, finished: Stretch, bottom: Fraction) -> Envelope:
    """Return the room of a straight soffit; *framed* and *finished* are its faces across the run."""
    level, board = site.level, site.level.wall_board
    low, high = met.low - (0 if met.low_meets else board), met.high + (0 if met.high_meets else board)
    return Envelope(
        Box(Point(met.low, framed[0], bottom), Point(met.high, framed[1], level.joists)),
        Box(Point(low, finished[0], bottom - level.ceiling_board), Point(high, finished[1], level.joists)),
    )

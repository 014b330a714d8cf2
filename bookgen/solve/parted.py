"""A soffit's ends and what it gives way to in, the ends of the pieces that are left of it out, and the room it fills.

A piece stops at the finished face of what it meets. Where it hangs lower than that, its end shows under it and is
closed there. It is not parted by a chase that leaves room for its framing before it: that stands in a hole of its
bottom, and its outer line goes on. Where a chase leaves less, the ends at it are closed beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from bookgen.model.assembly import SOFFITS
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box, Point
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.solve.framing import Stretch
from bookgen.solve.site import Envelope, Site, Taken
from bookgen.solve.soffit_ends import FAR, SHORTEST, Beside
from bookgen.solve.soffit_holes import Hole
from bookgen.solve.soffit_words import overhead
from bookgen.solve.soffits import Shape
from bookgen.solve.studwork import left_of, overlap
from bookgen.solve.walls_met import SLACK, Ends


@dataclass(frozen=True, slots=True)
class Parted:
    """The ends of one piece; *before* and *after* are what it meets there and hangs lower than, where it does."""

    ends: Ends
    before: Beside | None = None
    after: Beside | None = None


def parted(site: Site, met: Ends, across: Stretch, shape: Shape) -> tuple[Parted, ...]:
    """Return the pieces between the *met* ends; *across* are the faces of the framing."""
    found: list[Parted] = []
    start, meets, before = met.low, met.low_meets, None
    for low, high, beside in sorted(_in_the_way(site, across, shape), key=lambda row: row[:2]):
        if low > start:
            stops = low <= met.high
            ends = Ends(start, min(low, met.high), meets, (stops and beside is None) or (not stops and met.high_meets))
            found.append(Parted(ends, before, beside if stops else None))
        if high > start:
            start, meets, before = high, beside is None, beside
    if start < met.high:
        found.append(Parted(Ends(start, met.high, meets, met.high_meets), before))
    return tuple(found)


def _in_the_way(site: Site, across: Stretch, shape: Shape) -> Iterator[tuple[Fraction, Fraction, Beside | None]]:
    """Yield what parts a soffit: its stretch of the run, and what it leaves of the soffit's end where it does."""
    round_it = chases_in(site, across, shape)
    for taken in _met(site, across):
        room, foot = taken.room.finished, shape.bottom - site.level.ceiling_board
        if taken.treatment == "chase" and Hole((room.low.x, room.high.x), (room.low.y, room.high.y), True) in round_it:
            continue
        beside = Beside(FAR, taken.room.framed.low.z) if room.low.z > foot else None
        inner, outer = room.low.y > across[0] + SLACK, room.high.y < across[1]
        if taken.treatment == "chase" and (inner or outer):
            framed = taken.room.framed
            beside = Beside(framed.high.y if outer else FAR, Fraction(0), framed.low.y if inner else -FAR)
        yield room.low.x, room.high.x, beside


def chases_in(site: Site, across: Stretch, shape: Shape) -> tuple[Hole, ...]:
    """Return the holes in a soffit's bottom that chases stand in, which leave room for its framing beside them.

    A soffit along a wall needs it before the chase, any other at both sides.
    """
    room = shape.timber.thick + shape.timber.wide
    found = [taken.room.finished for taken in _met(site, across) if taken.treatment == "chase"]
    return tuple(
        Hole((box.low.x, box.high.x), (box.low.y, box.high.y), headed=True)
        for box in found
        if box.high.y + room <= across[1] and (site.on_wall() or across[0] + room <= box.low.y)
    )


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


def goes_on_under(site: Site, across: Stretch, path: tuple[Step, ...]) -> tuple[Problem, ...]:
    """Return an `obstacle-shows` Problem for each own thing that goes on under a soffit which this one stops at.

    *across* are the faces of the framing. What goes on inside the other, over its bottom, is hidden by that.
    """
    found: list[Problem] = []
    for taken in _met(site, across):
        room = taken.room.framed
        for thing, _, low, high in overhead(site.hidden, (room.low.x, room.high.x)):
            if taken.treatment in SOFFITS and low.z < room.low.z and low.y < room.high.y and room.low.y < high.y:
                gap = site.tape.short(room.low.z - low.z)
                rule = (
                    f"{thing.what} goes on into {taken.what}, where this one stops, and hangs {gap} below its framing"
                )
                repair = f"let that one come down to {site.tape.short(low.z)} above slab, or end the pipe before it"
                found.append(site.problem("obstacle-shows", (*path, "framing bottom"), "", rule, repair))
    return tuple(found)


def goes_on_beside(site: Site, across: Stretch, shape: Shape, path: tuple[Step, ...]) -> tuple[Problem, ...]:
    """Return an `obstacle-shows` Problem for each own thing that goes on beside a chase which the soffit stops at.

    *across* are the faces of the framing. No board of either stands round what goes on there.
    """
    found: list[Problem] = []
    round_it = chases_in(site, across, shape)
    for taken in _met(site, across):
        room = taken.room.finished
        if taken.treatment != "chase" or Hole((room.low.x, room.high.x), (room.low.y, room.high.y), True) in round_it:
            continue
        for thing, _, low, high in overhead(site.hidden, (room.low.x, room.high.x)):
            free = left_of(across, [(room.low.y, room.high.y)], SLACK)
            if low.z < shape.top and any(overlap(one, (low.y, high.y)) for one in free):
                rule = f"{thing.what} goes on beside {taken.what}, where this one stops, and nothing hides it there"
                between = f"{site.tape.long(room.low.x)} to {site.tape.long(room.high.x)}"
                repair = f"end it before {between}, or set the front of that chase so that all of it lies inside"
                found.append(site.problem("obstacle-shows", path, "", rule, repair))
    return tuple(found)


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

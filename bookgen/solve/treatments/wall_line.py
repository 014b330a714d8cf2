"""What a wall soffit hides in, the stretches of its outer line and bottom out: one straight line, or steps.

Along the run lie bays of a whole length; each needs so much reach and so much drop. Of all ways to join bays to steps
the one is taken that covers least floor and board, with so much for each step; no step is shorter than `SHORTEST`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from math import ceil, floor, lcm

from bookgen.model.assembly import HiddenThing
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Rod, Solid
from bookgen.solve.framing import Stretch
from bookgen.solve.soffits import Timber

MARGIN = Fraction(1, 2)  # inches left free between the furthest thing and the framing, where the record says nothing
MARKS = 4  # a size worked out goes to the next mark of so many to the inch
BAY = Fraction(4)  # inches; steps fall on whole bays from the start of the run
MOST_BAYS = 64  # a longer run has longer bays, so that the work does not grow with it
SHORTEST = Fraction(48)  # inches; a shorter step looks like a mistake; our choice
STEP_COSTS = 3 * 144  # square inches of floor and board that a step has to save to be worth its corners; our choice
LEAST_STEP = Fraction(3)  # inches; two members of 2x2 side by side, so that a return can be framed


@dataclass(frozen=True, slots=True)
class Bay:
    """A stretch of the run with one outer face of the framing off the block, and one underside, in inches."""

    low: Fraction
    high: Fraction
    outside: Fraction
    bottom: Fraction


@dataclass(frozen=True, slots=True)
class Least:
    """What a soffit can't go under where nothing is in it: its reach, and how high its underside may be."""

    outside: Fraction
    bottom: Fraction


def needs(things: Iterable[HiddenThing], run: Stretch, timber: Timber, least: Least) -> tuple[Bay, ...]:
    """Return the bays of a run, each with the reach and the underside that what lies in it asks for."""
    long = BAY * max(1, ceil((run[1] - run[0]) / (BAY * MOST_BAYS)))
    count = max(1, ceil((run[1] - run[0]) / long))
    reach, under = [least.outside] * count, [least.bottom] * count
    aside = timber.thick + MARGIN  # a return stands clear of what asks for it
    for thing in things:
        for solid in thing.solids:
            for first, last, out, low in _asked(thing, solid, run, long):
                start = max(0, floor((first - aside - run[0]) / long))
                stop = min(count, ceil((last + aside - run[0]) / long))
                for bay in range(start, stop):
                    reach[bay] = max(reach[bay], out + MARGIN + timber.thick)
                    under[bay] = min(under[bay], low - MARGIN - timber.wide)
    return tuple(
        Bay(
            run[0] + long * bay,
            min(run[0] + long * (bay + 1), run[1]),
            Fraction(ceil(reach[bay] * MARKS), MARKS),
            Fraction(floor(under[bay] * MARKS), MARKS),
        )
        for bay in range(count)
    )


def _asked(
    thing: HiddenThing, solid: Solid, run: Stretch, long: Fraction
) -> Iterator[tuple[Fraction, Fraction, Fraction, Fraction]]:
    """Yield stretches of a solid with how far out and how low it is there; of a slanting rod one for each bay.

    What only goes up or down asks for nothing: it leaves the soffit through its top or its bottom.
    """
    if isinstance(solid, Rod) and (solid.start.x, solid.start.y) == (solid.end.x, solid.end.y):
        return
    room = solid.bounds().grown(thing.clearance)
    first, last = max(room.low.x, run[0]), min(room.high.x, run[1])
    if first >= last:
        return
    if not isinstance(solid, Rod) or (solid.start.y, solid.start.z) == (solid.end.y, solid.end.z):
        yield first, last, room.high.y, room.low.z
        return
    way = solid.end.minus(solid.start)
    if not way.x:
        yield first, last, room.high.y, room.low.z
        return
    out = room.high.y - max(solid.start.y, solid.end.y)
    down = min(solid.start.z, solid.end.z) - room.low.z
    at = first
    while at < last:
        to = min(at + long, last)
        spots = [
            (
                solid.start.y + way.y * (share := min(max((x - solid.start.x) / way.x, Fraction(0)), Fraction(1))),
                solid.start.z + way.z * share,
            )
            for x in (at - solid.radius, to + solid.radius)
        ]
        yield at, to, max(y for y, _ in spots) + out, min(z for _, z in spots) - down
        at = to


def straight(bays: tuple[Bay, ...]) -> Bay:
    """Return the one stretch that serves all bays."""
    return Bay(bays[0].low, bays[-1].high, max(b.outside for b in bays), min(b.bottom for b in bays))


def steps(bays: tuple[Bay, ...], top: Fraction, *, bottom: bool) -> tuple[Bay, ...]:
    """Return the steps that take least floor and board; with *bottom* the underside follows too, else it is level.

    Two neighbours that differ by less than a return can be framed in are brought to one line.
    """
    if not bottom:
        lowest = min(bay.bottom for bay in bays)
        bays = tuple(Bay(b.low, b.high, b.outside, lowest) for b in bays)
    best = _cheapest(bays, top)
    for pick in (_outer, _lower):
        best = _evened(best, pick)
    return _joined(best)


def _cheapest(bays: tuple[Bay, ...], top: Fraction) -> tuple[Bay, ...]:
    """Return the best way to join bays: for each end the best last step, found from the ends before it.

    A step takes the floor that it covers, its bottom and its side up to the joists at *top*, all in square inches.
    """
    part = lcm(top.denominator, SHORTEST.denominator, *(value.denominator for bay in bays for value in _values(bay)))
    rows = zip(*([int(value * part) for value in _values(bay)] for bay in bays), strict=True)
    lows, highs, outsides, bottoms = rows  # all of it in whole parts of an inch
    joists, step = int(top * part), STEP_COSTS * part**2
    shortest = min(int(SHORTEST * part), highs[-1] - lows[0])
    cost: list[int | None] = [0]
    came: list[int] = []
    for stop in range(1, len(bays) + 1):
        best, best_start = None, 0
        outside, under, high = outsides[stop - 1], bottoms[stop - 1], highs[stop - 1]
        for start in range(stop - 1, -1, -1):
            outside, under = max(outside, outsides[start]), min(under, bottoms[start])
            before = cost[start]
            if before is None or high - lows[start] < shortest:
                continue
            total = before + (high - lows[start]) * (2 * outside + joists - under) + step
            if best is None or total < best:
                best, best_start = total, start
        cost.append(best)
        came.append(best_start)
    found: list[Bay] = []
    stop = len(bays)
    while stop:
        start = came[stop - 1]
        found.append(straight(bays[start:stop]))
        stop = start
    return tuple(reversed(found))


def _values(bay: Bay) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    return bay.low, bay.high, bay.outside, bay.bottom


Pick = Callable[[Bay, Bay], tuple[Bay, Bay]]


def _outer(one: Bay, other: Bay) -> tuple[Bay, Bay]:
    out = max(one.outside, other.outside)
    if abs(one.outside - other.outside) >= LEAST_STEP:
        return one, other
    return Bay(one.low, one.high, out, one.bottom), Bay(other.low, other.high, out, other.bottom)


def _lower(one: Bay, other: Bay) -> tuple[Bay, Bay]:
    under = min(one.bottom, other.bottom)
    if abs(one.bottom - other.bottom) >= LEAST_STEP:
        return one, other
    return Bay(one.low, one.high, one.outside, under), Bay(other.low, other.high, other.outside, under)


def _evened(row: tuple[Bay, ...], pick: Pick) -> tuple[Bay, ...]:
    found, changed = list(row), True
    while changed:
        changed = False
        for at in range(len(found) - 1):
            pair = pick(found[at], found[at + 1])
            changed = changed or pair != (found[at], found[at + 1])
            found[at], found[at + 1] = pair
    return tuple(found)


def _joined(row: Iterable[Bay]) -> tuple[Bay, ...]:
    found: list[Bay] = []
    for bay in row:
        last = found[-1] if found else None
        if last is not None and (last.outside, last.bottom) == (bay.outside, bay.bottom):
            found[-1] = Bay(last.low, bay.high, bay.outside, bay.bottom)
        else:
            found.append(bay)
    return tuple(found)

"""The width of a ceiling and the lines that run with its strips in, rows at an even pitch that meet none of them out.

For a pitch the rows are settled by where the first one lies; each line forbids a stretch of places for it. The widest
pitch that leaves a place free is taken, and of its places the one nearest to a whole pitch from the low wall.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import floor

from bookgen.solve.framing import Stretch, around, layout, merged

STEP = Fraction(1, 4)  # inches from one pitch that is tried to the next
LEAST = Fraction(1, 2)  # of the widest pitch; closer rows than that are no even layout any more


def edges(across: Stretch, taken: Iterable[Stretch], wide: Fraction) -> tuple[Fraction, ...]:
    """Return the middles of the strips along both walls: flush with them, or just beside a line that lies there."""
    low, high = across[0] + wide / 2, across[1] - wide / 2
    for first, last in merged(taken, wide):
        if first - wide / 2 < low < last + wide / 2:
            low = last + wide / 2
    for first, last in reversed(merged(taken, wide)):
        if first - wide / 2 < high < last + wide / 2:
            high = first - wide / 2
    return (low, high) if high - low >= wide else (low,)


def rows(ends: Stretch, taken: tuple[Stretch, ...], most: Fraction, wide: Fraction) -> tuple[Fraction, ...]:
    """Return the middles of the rows between the strips at *ends*, evenly at *most* or less, clear of what is *taken*.

    Where no even pitch is clear of every line, rows at *most* are broken by pairs, one at each side of a line.
    """
    if ends[1] - ends[0] <= most:
        return ()
    zones = [(low - wide / 2, high + wide / 2) for low, high in taken]
    zones += [(ends[0], ends[0] + wide), (ends[1] - wide, ends[1])]
    pitch = most
    while pitch >= most * LEAST:
        first = _first(zones, ends[0] + pitch, pitch)
        if first is not None:
            start = first - pitch * floor((first - ends[0]) / pitch)
            start = start if start > ends[0] else start + pitch
            count = max(0, -floor((start - ends[1]) / pitch))
            return tuple(start + pitch * number for number in range(count))
        pitch -= STEP
    low, high = ends[0] - wide / 2, ends[1] + wide / 2
    return tuple(c for c in around(layout(low, high, most, wide), taken, wide) if ends[0] < c < ends[1])


def _first(zones: Iterable[Stretch], wish: Fraction, pitch: Fraction) -> Fraction | None:
    """Return the place for a row nearest to *wish*, within a pitch, so that no row enters a zone; None for none."""
    blocked: list[Stretch] = []
    for low, high in zones:
        if high - low >= pitch:
            return None
        at = low - pitch * floor((low - wish) / pitch)  # the zone moved by whole pitches to begin within one after wish
        blocked += [
            (at, at + high - low),
            (at - pitch, at + high - low - pitch),
            (at - 2 * pitch, at + high - low - 2 * pitch),
        ]
    around_wish = [(low, high) for low, high in merged(blocked, Fraction(0)) if low < wish < high]
    if not around_wish:
        return wish
    ((low, high),) = around_wish
    if high - low >= pitch:
        return None
    return low if wish - low <= high - wish else high

"""Rise, run and opening of a stair in; the nosing line, sloped members and balusters on it, exact, out.

A slope is a straight line in station and height. A sloped member is a parallelogram with upright ends: its top and its
underside are the line, moved up; so it stays exact when it is pushed across the wall.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import ceil

from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Polygon, root_above
from bookgen.solve.framing import Stretch

# IRC R312.1.3 as adopted: a 4 in sphere may not pass; a gap of exactly 4 in lets it pass
SPHERE = Fraction(4)


@dataclass(frozen=True, slots=True)
class Slope:
    """A straight line: *height* at *station*, rising *per_inch* for each inch of station; negative going down."""

    station: Fraction
    height: Fraction
    per_inch: Fraction

    def at(self, station: Fraction) -> Fraction:
        """Return the height of the line over the slab at a station."""
        return self.height + (station - self.station) * self.per_inch

    def upright(self, thickness: Fraction) -> Fraction:
        """Return how much of an upright line a member takes that is *thickness* thick square to the slope.

        A square root: exact where it can be, else outward by less than 2^-20 in.
        """
        return root_above(thickness**2 * (1 + self.per_inch**2))

    def band(self, stretch: Stretch, low: Fraction, high: Fraction) -> Polygon:
        """Return the parallelogram from *low* to *high* over the line, straight up, between two stations."""
        first, last = stretch
        return Polygon(
            (
                (first, self.at(first) + low),
                (last, self.at(last) + low),
                (last, self.at(last) + high),
                (first, self.at(first) + high),
            )
        )

    def under(self, stretch: Stretch, foot: Fraction, high: Fraction) -> Polygon:
        """Return the outline from a level *foot* up to *high* over the line: a stud or a board cut to the slope."""
        first, last = stretch
        return Polygon(((first, foot), (last, foot), (last, self.at(last) + high), (first, self.at(first) + high)))


def nosing_line(rise: Fraction, risers: int, tread: Fraction, bottom: Fraction, forward: int) -> Slope:
    """Return the line over the nosings: the lowest is one unit rise up, at *bottom*; *forward* +1 goes up with x.

    The unit rise is exact: 13 risers of 100 in are 100/13 in each, whatever a tape can show.
    """
    unit = rise / risers
    return Slope(bottom, unit, forward * unit / tread)


def gap_between(opening: Fraction, count: int, width: Fraction) -> Fraction:
    """Return the clear gap when *count* balusters *width* wide stand evenly in an opening."""
    return (opening - count * width) / (count + 1)


def balusters_needed(opening: Fraction, width: Fraction, sphere: Fraction = SPHERE) -> int:
    """Return the fewest balusters whose gaps stay under *sphere*, strictly.

    n = ceil((C - g) / (w + g)) leaves gaps of g at most; where it leaves exactly g, one more is needed.
    """
    count = max(ceil((opening - sphere) / (width + sphere)), 0)
    return count + 1 if gap_between(opening, count, width) >= sphere else count


def places(opening: Stretch, count: int, width: Fraction) -> tuple[Stretch, ...]:
    """Return the stretches of evenly spaced balusters."""
    gap = gap_between(opening[1] - opening[0], count, width)
    starts = [opening[0] + gap + index * (gap + width) for index in range(count)]
    return tuple((start, start + width) for start in starts)


def per_tread_needed(tread: Fraction, width: Fraction, sphere: Fraction = SPHERE) -> int:
    """Return the fewest balusters on each tread whose gaps stay under *sphere*, strictly.

    They stand a share of the tread apart, so a gap is tread / n - width.
    """
    count = max(ceil(tread / (width + sphere)), 1)
    return count + 1 if tread / count - width >= sphere else count


def places_on_treads(
    opening: Stretch, nosing: Fraction, tread: Fraction, per_tread: tuple[int, Fraction]
) -> tuple[Stretch, ...]:
    """Return the balusters, so many to each tread, that stand within an opening of a stair that goes up with x.

    *nosing* is any nosing, where the face of a tread's first one stands; *per_tread* is the count and the width of one.
    A gap at a post that a sphere would pass gets one more, in its middle.
    """
    count, width = per_tread
    step = tread / count
    start = nosing + ceil((opening[0] - nosing) / step) * step
    found: list[Stretch] = []
    while start + width <= opening[1]:
        found.append((start, start + width))
        start += step
    low, high = (found[0][0], found[-1][1]) if found else (opening[1], opening[1])
    ends = ((opening[0], low), (high, opening[1]))
    extra = [(middle - width / 2, middle + width / 2) for a, b in ends if b - a >= SPHERE for middle in ((a + b) / 2,)]
    return tuple(sorted((*found, *extra)))


def mirrored(stretches: Iterable[Stretch]) -> tuple[Stretch, ...]:
    """Return stretches as seen from the other end: those of a stair that goes down with x."""
    return tuple(sorted((-high, -low) for low, high in stretches))


def widest_gap(opening: Stretch, standing: Iterable[Stretch]) -> Stretch:
    """Return the widest clear gap between balusters, or between one of them and the end of the opening."""
    edges = [opening[0], *(edge for stretch in standing for edge in stretch), opening[1]]
    return max(zip(edges[::2], edges[1::2], strict=True), key=lambda gap: (gap[1] - gap[0], -gap[0]))

"""Rise, run and opening of a stair in; the nosing line, sloped members and balusters on it, exact, out.

A slope is a straight line in station and height. A sloped member is a parallelogram with upright ends: its top and its
underside are the line, moved up; so it stays exact when it is pushed across the wall.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

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

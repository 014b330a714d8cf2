"""An access point and the level's marks in, the two or three ties worth writing down out, with the error to expect.

Two tapes fix a place best where they cross square; the ties of 60 to 120 degrees come first, those of 30 to 150 after
them (60 to 120 a paraphrase, 30 to 150 from memory, of texts on intersection in surveying). A thing in a face needs no
crossing: the face itself is one line, and a tape along it, the easiest of all to hold, is the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations
from math import acos, degrees, floor, hypot, sqrt

from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Point, Solid, root_above
from bookgen.model.length import MILLIMETRES_PER_INCH, Length
from bookgen.model.solved import AccessSpot, Solved, SolvedRoom
from bookgen.model.ties import ChosenTie, PlanDot, Side, TieChoice, TieRefusal
from bookgen.solve.locate.tape_lines import IN_FRONT, face_in, footprints, in_the_way, taped_from
from bookgen.solve.locate.ties import APART, taping_sigma

TAPE_LENGTH = Fraction(300)  # inches: a 25 ft tape
BEST = (60.0, 120.0)  # degrees between two tapes
LIMIT = (30.0, 150.0)
STEPS: dict[str, Fraction] = {
    "imperial": Fraction(1, 4),
    "both": Fraction(1, 4),
    "metric": 5 / MILLIMETRES_PER_INCH,
}
CLEARLY = 3.0  # standard deviations between what a third tape reads at the point and at its mirror
ROUNDING = 1e-9  # degrees: exactly 60 counts as 60
FINE = 1 << 10

Way = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Seen:
    """A mark that a thing can be taped from: *way* is the unit way from the thing to it, *sigma* its tape's, inches."""

    key: str
    what: str
    at: PlanDot
    length: Length
    way: Way
    sigma: float


def best_ties(solved: Solved, spot: AccessSpot) -> TieChoice | TieRefusal:
    """Return the ties to print for one access point; they are taped in the room that it is reached from."""
    file = next(file for file in solved.project.obstacles if file.key == spot.obstacle)
    point = next(point for point in file.record.access if point.tag == spot.tag)
    room = next(room for room in solved.rooms if room.key == (point.room or file.record.room))
    return ties_in(solved, spot.at, room, in_the_way(solved, room))


def ties_in(solved: Solved, middle: Point, room: SolvedRoom, solids: tuple[Solid, ...]) -> TieChoice | TieRefusal:
    """Return the ties to print for something whose *middle* is taped in *room*, where *solids* may be in the way."""
    record = solved.project.record
    walls, step = footprints(solids, solved.level, middle.z), STEPS[record.units]
    at = (middle.x, middle.y)
    seen = []
    for key, mark in record.marks.items():
        place = (mark.at[0].inches, mark.at[1].inches)
        one = seen_from(key, mark.what, place, at, step)
        if one and one.length.inches <= TAPE_LENGTH and taped_from(place, at, room, walls):
            seen.append(one)
    return choose(seen, at, face_in(at, room), step)


def seen_from(key: str, what: str, mark: PlanDot, at: PlanDot, step: Fraction) -> Seen | None:
    """Return a mark as seen from the thing at *at*, or None where it is the thing's own place.

    What rounding to *step* inches adds is in its sigma: step²/12, of an even spread.
    """
    length = Length(root_above((mark[0] - at[0]) ** 2 + (mark[1] - at[1]) ** 2))
    if length.inches <= APART:
        return None
    way = (float(mark[0] - at[0]), float(mark[1] - at[1]))
    far = hypot(*way)
    sigma = sqrt(float(taping_sigma(length).inches) ** 2 + float(step) ** 2 / 12)
    return Seen(key, what, mark, length, (way[0] / far, way[1] / far), sigma)


def choose(seen: Sequence[Seen], at: PlanDot, face: Side | None, step: Fraction) -> TieChoice | TieRefusal:
    """Return the best of the marks *seen* from a thing at *at*; lengths are printed to a *step* in inches.

    *face* is the face it is in, if any.
    """
    along = _along(seen, at, face, step) if face else None
    if along:
        return along
    pair = _best_pair(seen, BEST) or _best_pair(seen, LIMIT)
    if pair:
        return _crossed(pair, seen, at, step)
    if len(seen) < 2:
        says = f"{len(seen) or 'none'} of the marks can be taped from, straight and within 25 ft"
        return TieRefusal("marks-out-of-sight", says, "record another mark in that room: a corner, an edge of a door")
    names = ", ".join(one.what for one in seen)
    says = f"the marks that can be taped from all lie in much the same direction, or opposite: {names}"
    return TieRefusal("marks-flat", says, "record a mark to the side of them")


def printed(length: Length, step: Fraction) -> Length:
    """Return the nearest whole number of steps; a half goes up."""
    return Length(floor(length.inches / step + Fraction(1, 2)) * step)


def angle_between(one: Way, two: Way) -> float:
    """Return the angle between two unit ways, 0 to 180 degrees."""
    return degrees(acos(max(-1.0, min(1.0, one[0] * two[0] + one[1] * two[1]))))


def expected_error(ties: Sequence[Seen]) -> float:
    """Return the standard deviation of a position, inches, both ways together, taped from two marks or more.

    For two tapes of the same sigma it is sigma · √2 / sin of the angle between them.
    """
    east = sum((one.way[0] / one.sigma) ** 2 for one in ties)
    north = sum((one.way[1] / one.sigma) ** 2 for one in ties)
    both = sum(one.way[0] * one.way[1] / one.sigma**2 for one in ties)
    return sqrt((east + north) / (east * north - both**2))


def _best_pair(seen: Sequence[Seen], within: tuple[float, float]) -> tuple[Seen, Seen] | None:
    """Return the two marks of least error whose tapes meet at an angle *within*; the nearer one first."""
    low, high = within
    pairs = [
        (round(expected_error(pair), 3), one.key, two.key, pair)
        for one, two in combinations(seen, 2)
        if low - ROUNDING <= angle_between(one.way, two.way) <= high + ROUNDING
        for pair in [(one, two) if one.length <= two.length else (two, one)]
    ]
    return min(pairs, key=lambda found: found[:3])[3] if pairs else None


def _crossed(pair: tuple[Seen, Seen], seen: Sequence[Seen], at: PlanDot, step: Fraction) -> TieChoice:
    one, two = pair
    base = (two.at[0] - one.at[0], two.at[1] - one.at[1])
    off = (at[0] - one.at[0], at[1] - one.at[1])
    share = (off[0] * base[0] + off[1] * base[1]) / (base[0] ** 2 + base[1] ** 2)
    aside = (off[0] - share * base[0], off[1] - share * base[1])
    mirror = (at[0] - 2 * aside[0], at[1] - 2 * aside[1])
    checks = sorted((third for third in seen if third not in pair and _tells(third, mirror)), key=_nearness)
    ties = (*pair, *checks[:1])
    error, angle = expected_error(ties), angle_between(one.way, two.way)
    return TieChoice(tuple(_tie(tie, step) for tie in ties), angle, _length(error), _side(aside), None)


def _tells(third: Seen, mirror: PlanDot) -> bool:
    """Tell whether the tape from a third mark would read clearly otherwise at the mirror point."""
    there = hypot(float(third.at[0] - mirror[0]), float(third.at[1] - mirror[1]))
    return abs(there - float(third.length.inches)) >= CLEARLY * third.sigma


def _along(seen: Sequence[Seen], at: PlanDot, face: Side, step: Fraction) -> TieChoice | None:
    """Return the nearest mark on each hand along a face, or None where there is none near that line."""
    into = (1.0, 0.0) if face in ("east", "west") else (0.0, 1.0)
    low, high = BEST
    near = [one for one in sorted(seen, key=_nearness) if low <= angle_between(one.way, into) <= high]
    if not near:
        return None
    line = 1 if face in ("east", "west") else 0
    ties = [near[0], *[one for one in near if one.way[line] * near[0].way[line] < 0][:1]]
    certainty = sum((one.way[line] / one.sigma) ** 2 for one in ties)
    angle = angle_between(ties[0].way, into)
    chosen = tuple(_tie_along(tie, at, line, step) for tie in ties)
    return TieChoice(chosen, angle, _length(1 / sqrt(certainty)), face, face)


def _nearness(one: Seen) -> tuple[Length, str]:
    return one.length, one.key


def _side(aside: PlanDot) -> Side:
    """Return the side on which a thing lies off a line, by the larger part of the way square off it."""
    if abs(aside[0]) > abs(aside[1]):
        return "east" if aside[0] > 0 else "west"
    return "north" if aside[1] > 0 else "south"


def _tie_along(one: Seen, at: PlanDot, line: int, step: Fraction) -> ChosenTie:
    """Return a tie along a face: its part along that line where the mark stands in the face or near it, else all."""
    off = abs(one.at[1 - line] - at[1 - line])
    length = Length(abs(one.at[line] - at[line])) if off <= IN_FRONT else one.length
    return ChosenTie(one.key, one.what, one.at, length, printed(length, step))


def _tie(one: Seen, step: Fraction) -> ChosenTie:
    return ChosenTie(one.key, one.what, one.at, one.length, printed(one.length, step))


def _length(value: float) -> Length:
    return Length(Fraction(round(value * FINE), FINE))

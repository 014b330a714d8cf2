"""Tape distances from marks in, the position they lead to out, with how sure it is; or why they lead to none.

Two tapes swung from two marks meet in two points, one on each side of the line through the marks; a stated side or a
third tape tells which. More tapes than two are reconciled by least squares, and one that disagrees is named.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations
from math import hypot, isqrt, sqrt

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.model.tape import Tape
from bookgen.model.ties import PlanDot, Side, TapedTie, TiedPosition, TieRefusal, TieResidual

Dot = tuple[float, float]

TAPING = Fraction(1, 4)  # inches; a tape held level across a room, read by one person; common practice
TAPING_SHARE = Fraction(1, 400)  # of its length: sag, and not quite level; common practice
APART = Fraction(1)  # inches; marks nearer to one another than that are one mark
FLATTEST = 9.0  # times the taping error: about the root of 2 over sin 9 degrees, the error law of two tapes
CLEARLY = 9.0  # squared standard deviations: three of them
IMPERIAL = Tape()
FINE = 1 << 10  # a position found by iteration is kept to this part of an inch
SIGNS: dict[Side, tuple[int, int]] = {"north": (1, 1), "south": (1, -1), "east": (0, 1), "west": (0, -1)}


def taping_sigma(distance: Length) -> Length:
    """Return the standard deviation of a tape distance: 1/4 in and 1/400 of it; common practice."""
    return Length(TAPING + TAPING_SHARE * distance.inches)


def position_from_ties(
    ties: Sequence[TapedTie], side: Side | None = None, tape: Tape = IMPERIAL
) -> TiedPosition | TieRefusal:
    """Return where the *ties* lead to; *side* says on which side of the line through the marks, where that is needed.

    A refusal tells lengths as *tape* does.

    Two ties are worked exactly, but for one square root where it is not whole; more of them to 1/1024 in. Where these
    disagree by more than their taping errors explain (chi-squared test, one in 370), the one that the others show to be
    wrong is left out; where they can't, all that may be wrong are named, and the uncertainty grows to what they say.
    Raises ValueError for a distance or a sigma that is not positive.
    """
    ties = tuple(ties)
    if any(tie.distance.inches <= 0 or tie.sigma.inches <= 0 for tie in ties):
        raise ValueError("a tape distance and its standard deviation are more than nothing")
    refusal = _refuse_marks(ties)
    if refusal:
        return refusal
    answers = _answers(ties)
    suspects = _suspects(ties, answers[0].cost) if len(ties) > 2 else ()
    used = tuple(tie for tie in ties if len(suspects) != 1 or tie is not suspects[0])
    refusal = _refuse_marks(used) or (_refuse_circles(used[0], used[1], tape) if len(used) == 2 else None)
    if refusal:
        return refusal
    picked = _picked(used, answers if used == ties else _answers(used), side)
    return picked if isinstance(picked, TieRefusal) else _position(ties, used, picked, suspects)


@dataclass(frozen=True, slots=True)
class _Answer:
    """A point that answers the ties best among its neighbours, and the sum of squared residuals over sigma there."""

    at: PlanDot
    cost: float


@dataclass(frozen=True, slots=True)
class _Spread:
    """The covariance of a position, square inches."""

    east: float
    north: float
    both: float


def _refuse_marks(ties: tuple[TapedTie, ...]) -> TieRefusal | None:
    if len(ties) < 2:
        says = "one tape draws a whole circle; a position takes two"
        return TieRefusal("ties-too-few", says, "tape it from a second mark, and from a third as a check")
    if all(_square(_way(ties[0].mark, tie.mark)) <= APART**2 for tie in ties):
        names = " and ".join(dict.fromkeys(tie.name for tie in ties))
        says = f"{names} are one and the same place on the plan"
        return TieRefusal("marks-coincide", says, "tape it from a mark further off")
    return None


def _refuse_circles(one: TapedTie, two: TapedTie, tape: Tape) -> TieRefusal | None:
    """Return why two tapes do not meet; decided on exact squares."""
    square = _square(_way(one.mark, two.mark))
    r1, r2 = one.distance.inches, two.distance.inches
    if (r1 - r2) ** 2 <= square <= (r1 + r2) ** 2:
        return None
    base = sqrt(square)
    gap = base - float(r1 + r2) if square > (r1 + r2) ** 2 else abs(float(r1 - r2)) - base
    if gap**2 <= CLEARLY * float(one.sigma.inches**2 + two.sigma.inches**2):
        return _flat(f"{one.name} and {two.name}")
    short = tape.short(_length(gap))
    says = f"the tapes from {one.name} and {two.name} never meet: {short} is missing"
    if square < (r1 - r2) ** 2:
        says = f"the tape from one of {one.name} and {two.name} is {short} too long to meet the other"
    return TieRefusal("ties-apart", says, "tape both again; one may be read wrong or be from another mark")


def _flat(names: str) -> TieRefusal:
    says = f"the tapes from {names} run nearly in one line, and don't tell how far off it the thing lies"
    return TieRefusal("ties-flat", says, "tape it from a mark that lies across that line")


def _answers(ties: tuple[TapedTie, ...]) -> tuple[_Answer, ...]:
    """Return every point where the squared residuals are least among neighbours, best first."""
    if len(ties) == 2:
        return tuple(_Answer(at, _cost(ties, _floats(at))) for at in _crossings(ties[0], ties[1]))
    found: list[_Answer] = []
    for one, two in combinations(ties, 2):
        for start in _crossings(one, two):
            at = _descended(ties, _floats(start))
            if all(hypot(at[0] - float(a.at[0]), at[1] - float(a.at[1])) > 2 / FINE for a in found):
                found.append(_Answer((_fine(at[0]), _fine(at[1])), _cost(ties, at)))
    return tuple(sorted(found, key=lambda answer: (answer.cost, answer.at)))


def _crossings(one: TapedTie, two: TapedTie) -> tuple[PlanDot, ...]:
    """Return the two points where two circles meet; where they don't, two just off the point between them."""
    (x1, y1), (x2, y2) = one.mark, two.mark
    east, north = x2 - x1, y2 - y1
    square = east**2 + north**2
    if square == 0:
        return ()
    along = (one.distance.inches**2 - two.distance.inches**2 + square) / (2 * square)
    # The height over the base line, as a part of it: one square root is all that can't be exact.
    aside = _root(max(one.distance.inches**2 / square - along**2, Fraction(0))) or Fraction(1, FINE)
    foot = (x1 + along * east, y1 + along * north)
    return tuple((foot[0] - sign * aside * north, foot[1] + sign * aside * east) for sign in (1, -1))


def _descended(ties: tuple[TapedTie, ...], start: Dot) -> Dot:
    """Return where the squared residuals are least, going down from *start* (Gauss-Newton, damped)."""
    at, damping = start, 1e-6
    cost = _cost(ties, at)
    for _ in range(200):
        spread, pull = _normal(ties, at)
        step = _solved(spread, pull, damping)
        trial = (at[0] + step[0], at[1] + step[1])
        trial_cost = _cost(ties, trial)
        better = trial_cost <= cost
        if better:
            at, cost = trial, trial_cost
        if hypot(*step) < 1e-9 or damping > 1e12:
            break
        damping = max(damping / 10, 1e-9) if better else damping * 10
    return at


def _normal(ties: tuple[TapedTie, ...], at: Dot) -> tuple[_Spread, Dot]:
    """Return the normal matrix of the linearised ties at a point, and the pull of their residuals."""
    east = north = both = pull_east = pull_north = 0.0
    for tie in ties:
        way = (at[0] - float(tie.mark[0]), at[1] - float(tie.mark[1]))
        far = hypot(*way) or 1.0  # right on the mark no direction is known, and the way is nothing
        unit, weight = (way[0] / far, way[1] / far), 1 / float(tie.sigma.inches) ** 2
        off = float(tie.distance.inches) - hypot(*way)
        east, north, both = (
            east + weight * unit[0] ** 2, north + weight * unit[1] ** 2, both + weight * unit[0] * unit[1]
        )  # fmt: skip
        pull_east, pull_north = pull_east + weight * unit[0] * off, pull_north + weight * unit[1] * off
    return _Spread(east, north, both), (pull_east, pull_north)


def _solved(matrix: _Spread, right: Dot, damping: float) -> Dot:
    grow = damping * (matrix.east + matrix.north)
    a, d, b = matrix.east + grow, matrix.north + grow, matrix.both
    whole = a * d - b * b
    return ((d * right[0] - b * right[1]) / whole, (a * right[1] - b * right[0]) / whole)


def _suspects(ties: tuple[TapedTie, ...], cost: float) -> tuple[TapedTie, ...]:
    """Return the ties one of which is wrong: those without which the others agree; all, where that helps nowhere."""
    if cost <= _clear_of_chance(len(ties) - 2):
        return ()
    found = []
    for left_out in range(len(ties)):
        rest = ties[:left_out] + ties[left_out + 1 :]
        if _refuse_marks(rest) or (len(rest) == 2 and _refuse_circles(rest[0], rest[1], IMPERIAL)):
            continue
        if len(rest) == 2 or _answers(rest)[0].cost <= _clear_of_chance(len(rest) - 2):
            found.append(ties[left_out])
    return tuple(found) or ties


def _clear_of_chance(freedom: int) -> float:
    """Return the sum of squares that chance passes once in 370: 9 for one degree of freedom, as for three sigmas.

    Wilson and Hilferty's approximation of chi-squared (1931), from memory.
    """
    share = 2 / (9 * freedom)
    return freedom * float(1 - share + 2.782 * sqrt(share)) ** 3


def _picked(ties: tuple[TapedTie, ...], answers: tuple[_Answer, ...], side: Side | None) -> PlanDot | TieRefusal:
    """Return the one answer, told from its mirror by the ties themselves or by the side."""
    best = answers[0]
    if _amplified(ties, best.at) > FLATTEST:
        return _flat(" and ".join(tie.name for tie in ties))
    rivals = [answer.at for answer in answers if answer.cost - best.cost < CLEARLY]
    if len(rivals) > 1:
        return _by_side(rivals, side)
    if side is not None and _contradicts(ties, best.at, side):
        says = f"the ties lead to the other side of the line through the marks than {side}"
        return TieRefusal("side-contradicts", says, "look which side is meant, and tape the shortest one again")
    return best.at


def _by_side(rivals: list[PlanDot], side: Side | None) -> PlanDot | TieRefusal:
    if side is None:
        says = "the ties lead to two points, one on each side of the line through the marks"
        return TieRefusal("side-needed", says, "say on which side it lies, or tape it from a mark off that line")
    axis, sign = SIGNS[side]
    ordered = sorted(rivals, key=lambda at: -sign * at[axis])
    if abs(ordered[0][axis] - ordered[1][axis]) <= APART:
        other = "east or west" if axis == 1 else "north or south"
        return TieRefusal("side-blind", f"both points lie equally far {side}", f"say {other} of the line instead")
    return ordered[0]


def _contradicts(ties: tuple[TapedTie, ...], at: PlanDot, side: Side) -> bool:
    """Tell whether a point lies clearly on the other side of the line through the first mark and the next."""
    start = ties[0].mark
    end = next(tie.mark for tie in ties if _square(_way(start, tie.mark)) > APART**2)
    base, way = _way(start, end), _way(start, at)
    share = (base[0] * way[0] + base[1] * way[1]) / _square(base)
    axis, sign = SIGNS[side]
    off = float(way[axis] - share * base[axis])
    spread = _covariance(ties, at)
    return sign * off < -sqrt(CLEARLY * (spread.east + spread.north))


def _amplified(ties: tuple[TapedTie, ...], at: PlanDot) -> float:
    """Return how many times the taping error the position's is: the root of 2 over the sine, for two equal tapes."""
    spread = _covariance(ties, at)
    typical = sum(float(tie.sigma.inches) ** 2 for tie in ties) / len(ties)
    return sqrt((spread.east + spread.north) / typical)


def _covariance(ties: tuple[TapedTie, ...], at: PlanDot) -> _Spread:
    matrix, _ = _normal(ties, _floats(at))
    whole = max(matrix.east * matrix.north - matrix.both**2, 1e-12)
    return _Spread(matrix.north / whole, matrix.east / whole, -matrix.both / whole)


def _position(
    ties: tuple[TapedTie, ...], used: tuple[TapedTie, ...], at: PlanDot, suspects: tuple[TapedTie, ...]
) -> TiedPosition:
    spread = _covariance(used, at)
    freedom = len(used) - 2
    grown = max(1.0, _cost(used, _floats(at)) / freedom) if freedom else 1.0
    middle, half = (spread.east + spread.north) / 2, hypot((spread.east - spread.north) / 2, spread.both)
    return TiedPosition(
        east=Length(at[0]),
        north=Length(at[1]),
        rms=_length(sqrt(grown * 2 * middle)),
        longest=_length(sqrt(grown * (middle + half))),
        shortest=_length(sqrt(grown * max(middle - half, 0.0))),
        residuals=tuple(TieResidual(t.name, _length(_off(t, _floats(at))), any(t is u for u in used)) for t in ties),
        suspects=tuple(tie.name for tie in suspects),
    )


def _cost(ties: tuple[TapedTie, ...], at: Dot) -> float:
    return sum((_off(tie, at) / float(tie.sigma.inches)) ** 2 for tie in ties)


def _off(tie: TapedTie, at: Dot) -> float:
    return float(tie.distance.inches) - hypot(at[0] - float(tie.mark[0]), at[1] - float(tie.mark[1]))


def _way(start: PlanDot, end: PlanDot) -> PlanDot:
    return (end[0] - start[0], end[1] - start[1])


def _square(way: PlanDot) -> Fraction:
    return way[0] ** 2 + way[1] ** 2


def _root(square: Fraction) -> Fraction:
    """Return a square root: exact where there is one, else to within 1e-15 of its size."""
    top, bottom = isqrt(square.numerator), isqrt(square.denominator)
    if top**2 == square.numerator and bottom**2 == square.denominator:
        return Fraction(top, bottom)
    return Fraction(sqrt(square))


def _floats(at: PlanDot) -> Dot:
    return (float(at[0]), float(at[1]))


def _fine(value: float) -> Fraction:
    return Fraction(round(value * FINE), FINE)


def _length(value: float) -> Length:
    return Length(_fine(value))

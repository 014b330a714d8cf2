"""A treatment in; where it is cut, with a letter for each cut and the reason for it, out.

Cut is where the work governs, wherever it changes along the run so that a section shows it, and through each access
point.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from itertools import pairwise
from typing import Literal

from bookgen.draw.pointing import access_words
from bookgen.draw.words import lower_first
from bookgen.model.assembly import Assembly
from bookgen.model.geometry import Box, Point
from bookgen.model.solved import Solved, SolvedObstacle
from bookgen.trade.tongue import Say, tongue

SHORT = Fraction(4)  # inches along the run: what is no longer repeats, as rungs and studs do, and changes nothing
LEAST = Fraction(12)  # inches that a change lasts at least to be worth a section
MOST = 4  # changes that are cut: of more of them those that last longest
WIDE = Fraction(48)  # inches of work that a section shows at most
CLOSE = Fraction(3)  # inches: a section that near to an access point shows it
LEVEL_CLOSE = Fraction(12)  # inches over and under a level cut that its tags are shown from
NUDGE = (Fraction(0), *(sign * Fraction(step) for step in range(1, 8) for sign in (1, -1)))
UNDER_TOP = Fraction(1, 2)  # inches below the top of overhead work that it is cut level: it is seen from above
HAND = Fraction(48)  # inches above the floor that a plan is cut at; common practice
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # no I or O: they read as figures
# Which treatments stand from floor to ceiling, so that a level cut shows best what they hide?
UPRIGHT = frozenset({"chase", "post wrap", "closet", "utility room"})
_WALKED_INTO = frozenset({"closet", "utility room"})


@dataclass(frozen=True, slots=True)
class Cut:
    """A plane through the work: across the run at a station, or level at a height above the slab.

    *why* is empty where the work governs, else what the cut shows. *first* marks the one that everybody reads.
    """

    letter: str
    axis: Literal["x", "z"]
    at: Fraction
    why: str
    first: bool

    @property
    def governs(self) -> bool:
        """Tell whether it is cut where the work governs."""
        return not self.why


def cuts_of(solved: Solved, obstacle: SolvedObstacle, assembly: Assembly) -> tuple[Cut, ...]:
    """Return the cuts of a treatment, lettered in order along the run, then up; the one that governs first."""
    upright, say = assembly.treatment in UPRIGHT, tongue(solved.project.record.language).say
    across = [Cut("", "x", assembly.section_at, "", not upright)]
    if not upright:
        across += _changes(obstacle, assembly, say)
    level = [Cut("", "z", _height(solved, obstacle, assembly), "", upright)]
    if assembly.treatment not in _WALKED_INTO:
        words = access_words(solved, obstacle)
        for spot in obstacle.access:
            point = assembly.frame.from_level(spot.at)
            what = words.get(spot.tag)
            why = say("at {what}", what=lower_first(what)) if what else say("at an access point")
            if assembly.run[0] <= point.x <= assembly.run[1]:
                across += _unless_near(across, Cut("", "x", point.x, why, False), CLOSE)
            if upright:
                level += _unless_near(level, Cut("", "z", point.z, why, False), LEVEL_CLOSE)
    lettered = _lettered([*sorted(across, key=lambda cut: cut.at), *sorted(level, key=lambda cut: cut.at)])
    return tuple(sorted(lettered, key=lambda cut: not cut.first))


def shown(
    at: Fraction, work: tuple[Fraction, Fraction], hidden: Fraction | None, access: Iterable[Point]
) -> tuple[Fraction, Fraction]:
    """Return the stretch of the work off the wall that a section at a station shows: all of it, where a sheet holds it.

    Else that round where what is *hidden* there reaches furthest, or round an *access* point of the section that would
    lie outside.
    """
    low, high = work
    if high - low <= WIDE:
        return work
    left = hidden - WIDE / 2 if hidden is not None else low
    near = [point.y for point in access if abs(point.x - at) <= CLOSE]
    if near and not any(left <= y <= left + WIDE for y in near):
        left = near[0] - WIDE / 2
    left = min(max(low, left), high - WIDE)
    return left, left + WIDE


def _lettered(cuts: Sequence[Cut]) -> list[Cut]:
    count = len(LETTERS)
    return [replace(cut, letter=LETTERS[n % count] * (n // count + 1)) for n, cut in enumerate(cuts)]


def _unless_near(cuts: Iterable[Cut], cut: Cut, near: Fraction) -> list[Cut]:
    return [] if any(abs(one.at - cut.at) <= near for one in cuts) else [cut]


def _height(solved: Solved, obstacle: SolvedObstacle, assembly: Assembly) -> Fraction:
    """Return where to cut level: what stands, through its lowest access point or at hand height; else near its top."""
    solids = [part.solid.bounds() for part in assembly.parts]
    low, high = min(one.low.z for one in solids), max(one.high.z for one in solids)
    if assembly.treatment not in UPRIGHT and low > solved.level.floor + HAND:
        return high - UNDER_TOP
    heights = sorted(spot.at.z for spot in obstacle.access if low < spot.at.z < high)
    if heights and assembly.treatment not in _WALKED_INTO:
        return heights[0]
    hand = solved.level.floor + HAND
    return hand if low < hand < high else (low + high) / 2


def _changes(obstacle: SolvedObstacle, assembly: Assembly, say: Say) -> Iterator[Cut]:
    """Yield a cut for each make-up that a section of the work shows otherwise, where it lasts longest."""
    parts = [(part, part.solid.bounds()) for part in assembly.parts]
    things = [(thing.what, solid) for thing in obstacle.hidden for solid in thing.solids]
    hidden = [(what, assembly.frame.solid_from_level(solid).bounds()) for what, solid in things]
    long = [(part.role, box) for part, box in parts if box.size("x") > SHORT]
    access = [assembly.frame.from_level(spot.at) for spot in obstacle.access]
    made_at = partial(_made_at, long, hidden, access)
    ends = sorted({end for _, box in (*long, *hidden) for end in (box.low.x, box.high.x)})
    low, high = min((box.low.x for _, box in long), default=0), max((box.high.x for _, box in long), default=0)
    found: dict[frozenset[object], list[tuple[Fraction, Fraction]]] = {}
    for start, end in pairwise(ends):
        if low <= start and end <= high:
            stretches = found.setdefault(made_at((start + end) / 2), [])
            if stretches and stretches[-1][1] == start:
                stretches[-1] = (stretches[-1][0], end)
            else:
                stretches.append((start, end))
    governing = made_at(assembly.section_at)
    short = [box for _, box in parts if box.size("x") <= SHORT]
    told = (stretches for made, stretches in found.items() if not _told_by(governing, made))
    longest = [max(stretches, key=lambda one: (one[1] - one[0], -one[0])) for stretches in told]
    for start, end in sorted(longest, key=lambda one: (one[0] - one[1], one[0]))[:MOST]:
        if end - start >= LEAST:
            yield Cut("", "x", _between((start + end) / 2, short), say("where the work is made otherwise"), False)


def _made_at(
    long: Iterable[tuple[str, Box]], hidden: Iterable[tuple[str, Box]], access: Iterable[Point], at: Fraction
) -> frozenset[object]:
    """Return what a section shows cut there: the long pieces with where they stand, the hidden things by name."""
    pieces, things = (
        [(name, box.low.y, box.high.y, box.low.z, box.high.z) for name, box in row if box.low.x <= at < box.high.x]
        for row in (long, hidden)
    )
    low, high = min((one[1] for one in pieces), default=at), max((one[2] for one in pieces), default=at)
    if high - low > WIDE:
        low, high = shown(at, (low, high), max((one[2] for one in things), default=None), access)
        pieces, things = (
            [(name, max(y1, low), min(y2, high), z1, z2) for name, y1, y2, z1, z2 in row if y1 < high and low < y2]
            for row in (pieces, things)
        )
    return frozenset((*pieces, *(what for what, *_ in things)))


def _told_by(governing: frozenset[object], made: frozenset[object]) -> bool:
    """Tell whether a make-up is that of the governing section, or lacks only things that the work hides there."""
    return made <= governing and all(isinstance(one, str) for one in governing - made)


def _between(at: Fraction, short: Iterable[Box]) -> Fraction:
    """Return the place nearest to *at* where no short piece is cut."""
    boxes = tuple(short)
    free = (at + off for off in NUDGE if not any(box.low.x <= at + off <= box.high.x for box in boxes))
    return next(free, at)

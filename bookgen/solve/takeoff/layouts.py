"""A face and the board chosen for it in, its pieces with every butt joint on framing out, staggered where that can be.

Board is hung across the framing, so long edges need no framing behind them (Gypsum Association, Using Gypsum Board for
Walls and Ceilings, section III: ends and edges land on framing, except treated joints at right angles to the framing).
A face no wider than a sheet is covered by upright board instead: its long edges are the edges of the face.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from itertools import pairwise
from math import ceil

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.model.sheets import BoardFace, FaceLayout, Patch

NARROWEST = Fraction(12)  # our choice: a last course under this shares its height with the one before
Span = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Course:
    """Where one course is cut: its joints, those of them without a member behind, and how many lie over the last's."""

    joints: tuple[Fraction, ...]
    unbacked: tuple[Fraction, ...]
    over: int


def lay_out(face: BoardFace, wide: Length, longest: Length) -> FaceLayout:
    """Return the face in pieces cut from board *wide* by at most *longest*."""
    upright = face.wide <= wide and face.high > wide
    across, along = (face.high, face.wide) if upright else (face.wide, face.high)
    members = () if upright else tuple(member.inches for member in face.members)
    pieces: list[Patch] = []
    joints: list[Fraction] = []
    unbacked: list[Fraction] = []
    seams, over, last = Fraction(0), 0, Course((), (), 0)
    courses = _courses(along.inches, wide.inches)
    for foot, top in courses:
        last = course(across.inches, longest.inches, members, last.joints)
        ends = (Fraction(0), *last.joints, across.inches)
        for left, right in pairwise(ends):
            patch = _patch((foot, top), (left, right)) if upright else _patch((left, right), (foot, top))
            if not any(opening.holds(patch) for opening in face.openings):
                pieces.append(patch)
        joints += last.joints
        unbacked += last.unbacked
        over += last.over
        seams += len(last.joints) * (top - foot)
    seams += (len(courses) - 1) * across.inches
    return FaceLayout(face, tuple(pieces), _lengths(joints), _lengths(unbacked), not over, Length(seams))


def course(across: Fraction, longest: Fraction, members: Iterable[Fraction], avoid: Iterable[Fraction]) -> Course:
    """Return where a course *across* long is cut into pieces of at most *longest*.

    As few joints as can be without a member behind, then as few over those of the neighbour (*avoid*), then as few
    at all, then the longest pieces first.
    """
    landings, neighbours = sorted({member for member in members if 0 < member < across}), frozenset(avoid)
    best: dict[Fraction, tuple[int, int, int, tuple[Fraction, ...]]] = {Fraction(0): (0, 0, 0, ())}
    waiting = [Fraction(0)]
    while waiting:
        start = min(waiting)
        waiting.remove(start)
        if start + longest >= across:
            continue
        reached = [member for member in landings if start < member <= start + longest]
        blank, over, count, path = best[start]
        for joint in reached or [start + longest]:
            cost = (blank + (not reached), over + (joint in neighbours), count + 1, (*path, -joint))
            if joint not in best or cost < best[joint]:
                best[joint] = cost
                if joint not in waiting:
                    waiting.append(joint)
    _, over, _, path = min(cost for end, cost in best.items() if end + longest >= across)
    joints = tuple(-joint for joint in path)
    return Course(joints, tuple(joint for joint in joints if joint not in landings), over)


def _courses(height: Fraction, wide: Fraction) -> list[Span]:
    """Return the courses of a face as (foot, top), the top one first: full ones, and one ripped to what is left."""
    count = ceil(height / wide)
    heights = [wide] * (count - 1) + [height - wide * (count - 1)]
    if count > 1 and heights[-1] < NARROWEST:
        heights[-2:] = [(heights[-2] + heights[-1]) / 2] * 2
    spans, top = [], height
    for one in heights:
        spans.append((top - one, top))
        top -= one
    return spans


def _patch(along: Span, up: Span) -> Patch:
    return Patch(*map(Length, (*along, *up)))


def _lengths(values: Iterable[Fraction]) -> tuple[Length, ...]:
    return tuple(map(Length, values))

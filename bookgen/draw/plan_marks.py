"""Rooms, access points and what a plan already shows in; room names and hang tags on free spots out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import cos, hypot, pi, sin
from typing import TypeVar

from bookgen.draw.notes import Segment, crosses
from bookgen.draw.paper import LINE, TEXT, Paper
from bookgen.draw.widths import CAP_HEIGHT
from bookgen.model.sketch import TAG_HIGH, TAG_LONG, Anchoring, Dot, Label, LineKind, Shape, Spot, Stroke, TagMark
from bookgen.model.solved import AccessSpot, SolvedRoom

CLEAR = 1.0  # millimetres round a tag or a name
NEAREST, FURTHEST, STEP = 4.0, 34.0, 2.0  # millimetres from an access point to the tip of its tag
DIRECTIONS = 16
ROUNDS = 3
SPLIT = 60.0  # inches nearer to the middle that a second line must gain
NAME_STEP = 3.0  # millimetres between the spots tried for a room's name
# What does it cost a tag to lie over something, in millimetres of leader?
OVER_WALL, OVER_HIDDEN, OUTSIDE = 14.0, 5.0, 30.0

Bounds = tuple[float, float, float, float]  # left, low, right, high


@dataclass(frozen=True, slots=True)
class Taken:
    """What a plan already shows: its outer walls, what nothing may cover, walls, and what names keep off."""

    whole: Bounds
    marks: tuple[Bounds, ...]
    walls: tuple[Bounds, ...]
    hidden: tuple[Segment, ...]


@dataclass(frozen=True, slots=True)
class _Placed:
    tip: Spot
    flipped: bool
    box: Bounds
    leader: Segment


def tags(spots: Sequence[AccessSpot], paper: Paper, taken: Taken) -> tuple[tuple[Shape, ...], tuple[Bounds, ...]]:
    """Return tags with their leaders and dots, and what they cover; no tag covers another, a dot or a leader."""
    dots = dots_of(spots, paper)
    placed: dict[str, _Placed] = {}
    for _ in range(ROUNDS):  # each tag moves again once all the others stand
        for spot in sorted(spots, key=lambda one: one.tag):
            others = tuple(other for tag, other in placed.items() if tag != spot.tag)
            at = (float(spot.at.x), float(spot.at.y))
            ground = _Ground(at, paper, taken, others, dots)
            placed[spot.tag] = _cheapest(_candidates(at, paper), ground.far, ground.cost)
    shapes: list[Shape] = []
    for tag, one in sorted(placed.items()):
        shapes += [Stroke(LineKind.LEADER, one.leader), Dot(one.leader[0]), TagMark(tag, one.tip, one.flipped)]
    found = placed.values()
    return tuple(shapes), (*(one.box for one in found), *(_span(one.leader) for one in found), *dots)


def _candidates(at: Spot, paper: Paper) -> Iterable[_Placed]:
    steps = int((FURTHEST - NEAREST) / STEP) + 1
    for far in (NEAREST + STEP * step for step in range(steps)):
        for number in range(DIRECTIONS):
            angle = 2 * pi * (number + 0.5) / DIRECTIONS
            tip = (at[0] + paper.inches(far) * cos(angle), at[1] + paper.inches(far) * sin(angle))
            flipped, long, half = cos(angle) < 0, paper.inches(TAG_LONG), paper.inches(TAG_HIGH / 2 + CLEAR / 2)
            left = tip[0] - long if flipped else tip[0]
            yield _Placed(tip, flipped, (left, tip[1] - half, left + long, tip[1] + half), (at, tip))


@dataclass(frozen=True, slots=True)
class _Ground:
    """What the tag of the access point *at* has to mind: what a plan shows, tags *placed* before it, all dots."""

    at: Spot
    paper: Paper
    taken: Taken
    placed: tuple[_Placed, ...]
    dots: tuple[Bounds, ...]

    def far(self, one: _Placed) -> float:
        """Return how long a leader is, in millimetres."""
        return self.paper.millimetres(hypot(one.tip[0] - self.at[0], one.tip[1] - self.at[1]))

    def cost(self, one: _Placed) -> float:
        """Return how bad a place is: its leader's length and what it lies over; what it may not cover counts most."""
        boxes = [*self.taken.marks, *(other.box for other in self.placed)]
        others = [dot for dot in self.dots if not _holds(dot, (*self.at, *self.at))]
        barred = sum(_meet(one.box, box) or _through(one.leader, box) for box in boxes)
        barred += sum(_meet(one.box, dot) for dot in self.dots) + sum(_through(one.leader, dot) for dot in others)
        barred += sum(_through(other.leader, one.box) or crosses(other.leader, one.leader) for other in self.placed)
        over = OVER_WALL * any(_meet(one.box, wall) for wall in self.taken.walls)
        over += OVER_WALL * sum(_through(one.leader, wall) for wall in self.taken.walls)
        over += OVER_HIDDEN * any(_through(line, one.box) for line in self.taken.hidden)
        over += 0.0 if _holds(self.taken.whole, one.box) else OUTSIDE
        return self.far(one) + over + 1000 * barred


def _holds(outer: Bounds, box: Bounds) -> bool:
    return outer[0] <= box[0] and outer[1] <= box[1] and box[2] <= outer[2] and box[3] <= outer[3]


def dots_of(spots: Iterable[AccessSpot], paper: Paper) -> tuple[Bounds, ...]:
    """Return what the dots of access points take."""
    return tuple(_round((float(spot.at.x), float(spot.at.y)), paper.inches(CLEAR)) for spot in spots)


def names(rooms: Iterable[SolvedRoom], paper: Paper, taken: Taken) -> tuple[tuple[Label, ...], tuple[Bounds, ...]]:
    """Return each room's name on the free spot nearest to the middle of its outline, on two lines where one is long.

    And what the names cover.
    """
    found: list[Label] = []
    boxes: list[Bounds] = []
    for room in rooms:
        words = room.name.split(" ")
        ways = [(room.name,), *((" ".join(words[:n]), " ".join(words[n:])) for n in range(1, len(words)))]
        placed = [_name(room, lines, paper, (*taken.marks, *taken.walls, *boxes), taken.hidden) for lines in ways]
        _, labels, box = min(placed, key=lambda one: one[0])
        found += labels
        boxes.append(box)
    return tuple(found), tuple(boxes)


def _name(
    room: SolvedRoom, lines: tuple[str, ...], paper: Paper, marks: Sequence[Bounds], runs: Sequence[Segment]
) -> tuple[float, list[Label], Bounds]:
    """Return the cost of the best spot for a name in these lines, its labels there, and what they cover."""
    (left, low), (right, high) = ((float(u), float(v)) for u, v in room.outline.bounds())
    middle = ((left + right) / 2, (low + high) / 2)
    wide = max(paper.width(line, strong=True) for line in lines)
    tall = paper.inches(TEXT * CAP_HEIGHT + LINE * (len(lines) - 1))
    clear, step = paper.inches(CLEAR), paper.inches(NAME_STEP)

    def box(at: Spot) -> Bounds:
        return at[0] - wide / 2 - clear, at[1] - clear, at[0] + wide / 2 + clear, at[1] + tall + clear

    def cost(at: Spot) -> float:
        covered = box(at)
        barred = 100 * sum(_meet(covered, mark) for mark in marks) + sum(_through(line, covered) for line in runs)
        outside = not _holds((left, low, right, high), covered)
        return off(at) + SPLIT * len(lines) + 10000 * barred + 1000000 * outside

    def off(at: Spot) -> float:
        return hypot(at[0] - middle[0], at[1] - middle[1])

    across, up = range(int((right - left) / step) + 1), range(int((high - low) / step) + 1)
    spots = [middle, *((left + i * step, low + j * step) for i in across for j in up)]
    at = _cheapest(spots, off, cost)
    labels = [
        Label(line, (at[0], at[1] + paper.inches(LINE) * number), TEXT, Anchoring.MIDDLE, strong=True)
        for number, line in enumerate(reversed(lines))
    ]
    return cost(at), labels, box(at)


def _round(at: Spot, by: float) -> Bounds:
    return at[0] - by, at[1] - by, at[0] + by, at[1] + by


def _span(segment: Segment) -> Bounds:
    (u1, v1), (u2, v2) = segment
    return min(u1, u2), min(v1, v2), max(u1, u2), max(v1, v2)


def _meet(first: Bounds, second: Bounds) -> bool:
    return first[0] < second[2] and second[0] < first[2] and first[1] < second[3] and second[1] < first[3]


def _through(segment: Segment, box: Bounds) -> bool:
    """Tell whether a segment touches a box."""
    (u1, v1), (u2, v2) = segment
    left, low, right, high = box
    if (u1 < left and u2 < left) or (u1 > right and u2 > right) or (v1 < low and v2 < low) or (v1 > high and v2 > high):
        return False
    inside = left < u1 < right and low < v1 < high
    return inside or crosses(segment, ((left, low), (right, high))) or crosses(segment, ((left, high), (right, low)))


Candidate = TypeVar("Candidate")


def _cheapest(
    candidates: Iterable[Candidate], least: Callable[[Candidate], float], cost: Callable[[Candidate], float]
) -> Candidate:
    """Return the candidate of the lowest cost; *least* is a bound under its cost that is quick to work out."""
    order = sorted(candidates, key=least)
    best, lowest = order[0], cost(order[0])
    for one in order[1:]:
        if least(one) >= lowest:
            break
        price = cost(one)
        if price < lowest:
            best, lowest = one, price
    return best

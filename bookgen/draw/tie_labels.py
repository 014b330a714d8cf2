"""Tapes in a room in; the number on or beside each of them and the tag of the thing, off all other lines, out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import cos, inf, pi, sin

from bookgen.draw.face_marks import CLEAR, PILL_HIGH, clear_label
from bookgen.draw.meetings import Box, Segment, crosses, meet, runs_through
from bookgen.draw.paper import TEXT, Paper
from bookgen.model.sketch import TAG_HIGH, TAG_LONG, Anchoring, Dot, Label, LineKind, Shape, Spot, Stroke, TagMark
from bookgen.model.widths import CAP_HEIGHT

# Millimetres on paper.
BESIDE = 1.2  # beside a number
HIGH = (PILL_HIGH - CLEAR) / 2 + 0.4  # half of what a number's clear ground is high, and of a wall's line beside it
ROUND_TAG = 0.6
AWAY = (2.0, 4.0, 7.0, 10.0, 14.0, 18.0)  # from a tape to its number, from the thing to its tag
SHARES = (0.5, 0.6, 0.4, 0.7, 0.3, 0.8, 0.2)  # of a tape's length, where its number may stand
TURNS = 12  # directions tried
# What does a place cost, in millimetres of a leader?
LED = 3.0  # to stand beside its tape, not on it
TURNED = 1.0  # to be read from the right
HIDES = 30.0  # to leave less than a third of its tape to be seen
OFF_MIDDLE = 4.0  # to stand at the end of its tape
ON_WALL, LED_OVER_WALL = 25.0, 5.0
ON_TAPE, ON_WORDS = 200.0, 1000.0


@dataclass(frozen=True, slots=True)
class Tape:
    """A tape from a mark to its end at the thing, with its length in words."""

    words: str
    mark: Spot
    end: Spot

    def at(self, share: float) -> Spot:
        """Return the spot at a share of it, from its mark."""
        (x1, y1), (x2, y2) = self.mark, self.end
        return x1 + share * (x2 - x1), y1 + share * (y2 - y1)


@dataclass(frozen=True, slots=True)
class Field:
    """What numbers and tag stand among, in inches of the model: the sheet, walls, tapes, boxes of marks and words."""

    sheet: Box
    walls: tuple[Segment, ...]
    tapes: tuple[Segment, ...]
    boxes: tuple[Box, ...]


@dataclass(frozen=True, slots=True)
class _Place:
    """Where words may stand: their middle and half their size, what that costs, their leader if they have one."""

    at: Spot
    half: Spot
    cost: float
    leader: Segment | None = None

    def box(self) -> Box:
        return (
            self.at[0] - self.half[0],
            self.at[1] - self.half[1],
            self.at[0] + self.half[0],
            self.at[1] + self.half[1],
        )


def numbered(tapes: Iterable[Tape], thing: Spot, tag: str, field: Field, paper: Paper) -> Iterator[Shape]:
    """Yield the number of each tape, then the dot of the *thing* with its tag."""
    for tape in tapes:
        place = _cheapest(_on_or_beside(tape, paper), field, (tape.mark, tape.end))
        field = replace(field, boxes=(*field.boxes, place.box()))
        yield from _number(tape.words, place, paper)
    half = (paper.inches(TAG_LONG / 2 + ROUND_TAG), paper.inches(TAG_HIGH / 2 + ROUND_TAG))
    place = _cheapest(_round(thing, half, 0.0, paper), field, None)
    flipped = place.at[0] < thing[0]
    tip = (place.at[0] + paper.inches(TAG_LONG / 2) * (1 if flipped else -1), place.at[1])
    yield Stroke(LineKind.LEADER, (thing, tip))
    yield Dot(thing)
    yield TagMark(tag, tip, flipped)


def _number(words: str, place: _Place, paper: Paper) -> Iterator[Shape]:
    """Yield a number: on its tape on a clear ground, or at the end of its leader."""
    turned = place.half[1] > place.half[0]
    if place.leader is None and not turned:
        yield from clear_label(words, place.at, paper)
        return
    low = paper.inches(TEXT * CAP_HEIGHT / 2)
    at = (place.at[0] + low, place.at[1]) if turned else (place.at[0], place.at[1] - low)
    if place.leader is not None:
        yield Stroke(LineKind.LEADER, place.leader)
    yield Label(words, at, TEXT, Anchoring.MIDDLE, turned=turned)


def _cheapest(places: Iterable[_Place], field: Field, own: Segment | None) -> _Place:
    """Return the place that costs least with all that it meets; *own* is the tape that words may stand on."""
    best, *others = sorted(places, key=lambda one: one.cost)
    lowest = best.cost + _met(best, field, own)
    for place in others:
        if place.cost >= lowest:
            break
        cost = place.cost + _met(place, field, own)
        if cost < lowest:
            best, lowest = place, cost
    return best


def _met(place: _Place, field: Field, own: Segment | None) -> float:
    """Return what it costs that a place and its leader meet other things."""
    box, led = place.box(), place.leader
    left, low, right, high = field.sheet
    if box[0] < left or box[1] < low or box[2] > right or box[3] > high:
        return 2 * ON_WORDS
    cost = ON_WORDS * sum(meet(box, other) for other in field.boxes)
    cost += ON_WALL * sum(runs_through(wall, box) for wall in field.walls)
    cost += ON_TAPE * sum(runs_through(tape, box) for tape in field.tapes if tape != own or led is not None)
    if led is not None:
        cost += LED_OVER_WALL * sum(crosses(led, wall) for wall in field.walls)
        cost += ON_TAPE * sum(runs_through(led, other) for other in field.boxes)
        cost += ON_TAPE * sum(crosses(led, tape) for tape in field.tapes if own is not None and tape != own)
    return cost


def _on_or_beside(tape: Tape, paper: Paper) -> Iterator[_Place]:
    """Yield the places for the number of a tape; along a steep one it may be turned."""
    long = paper.width(tape.words) / 2 + paper.inches(BESIDE)
    across, up = (abs(tape.end[side] - tape.mark[side]) for side in (0, 1))
    upright, turned = (long, paper.inches(HIGH)), (paper.inches(HIGH), long)
    for half, cost in ((upright, 0.0), (turned, TURNED)) if up > across else ((upright, 0.0),):
        taken = min((2 * half[0] / across) if across else inf, (2 * half[1] / up) if up else inf)
        for share in SHARES:
            at, here = tape.at(share), cost + OFF_MIDDLE * abs(share - 0.5)
            if half is upright:
                yield _Place(at, half, here + HIDES * (taken > 2 / 3))
            yield from _round(at, half, here + LED, paper)


def _round(spot: Spot, half: Spot, cost: float, paper: Paper) -> Iterator[_Place]:
    """Yield places round a spot, so far from it that a leader to the edge of their box is as long as one of `AWAY`."""
    for away, turn in ((away, turn) for away in AWAY for turn in range(TURNS)):
        way = (cos(2 * pi * turn / TURNS), sin(2 * pi * turn / TURNS))
        inside = min(half[side] / abs(way[side]) if abs(way[side]) > 1e-9 else inf for side in (0, 1))
        edge, middle = paper.inches(away), paper.inches(away) + inside
        leader = (spot, (spot[0] + edge * way[0], spot[1] + edge * way[1]))
        yield _Place((spot[0] + middle * way[0], spot[1] + middle * way[1]), half, cost + away, leader)

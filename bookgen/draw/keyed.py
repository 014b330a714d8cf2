"""Notes without a good place beside a drawing in; a letter in a ring on each thing, and its words in the key, out."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import cos, hypot, pi, sin

import numpy as np

from bookgen.draw.meetings import Box, Flags, Floats, Lines, boxes_meet, crosses, runs_through
from bookgen.draw.notes import TO_TRADE, Note, wrapped
from bookgen.draw.paper import LINE, TEXT, Paper
from bookgen.model.sketch import TAG_HIGH, TAG_LONG, Anchoring, Area, Label, LineKind, Shape, Spot, Stroke, TagMark
from bookgen.model.widths import CAP_HEIGHT, DESCENT

RING = 2.4  # millimetres of radius
CLEAR = 0.6  # millimetres round a ring or a tag
BARE = 1.2  # millimetres from its thing on which a short line minds nothing
TO_WORDS = 1.6  # millimetres from a ring to its words
BESIDE = (
    0.0,
    4.0,
    6.0,
    9.0,
    13.0,
    18.0,
    24.0,
    32.0,
)  # millimetres from a spot to its ring, tried in turn
WAYS = 12
# How far is a short line bare at its start, does the rest of it keep off lines, and does its mark? Tried in turn.
MINDED = ((0.0, True, True), (BARE, True, True), (BARE, False, True), (BARE, False, False))
LETTERS = "abcdefghijklmnopqrstuvwxyz"


@dataclass(frozen=True, slots=True)
class Keyed:
    """A note that goes into the key, with the letter in its ring; an access point keeps its hang tag instead."""

    note: Note
    letter: str

    def half(self) -> tuple[float, float]:
        """Return half the width and height of its mark, in millimetres."""
        return (TAG_LONG / 2, TAG_HIGH / 2) if self.note.tag else (RING, RING)

    def mark(self, at: Spot, paper: Paper) -> Iterator[Shape]:
        """Yield the ring with its letter, or the hang tag, with its middle at a spot."""
        if self.note.tag:
            yield TagMark(self.note.tag, (at[0] - paper.inches(TAG_LONG / 2), at[1]))
            return
        low = at[1] - paper.inches(TEXT * CAP_HEIGHT / 2)
        yield Area(None, LineKind.BEYOND, (at,), paper.inches(RING))
        yield Label(self.letter, (at[0], low), TEXT, Anchoring.MIDDLE, strong=True)

    def box(self, at: Spot, paper: Paper) -> Box:
        """Return what the mark takes round a spot, in inches of the model."""
        wide, high = (paper.inches(half + CLEAR) for half in self.half())
        return at[0] - wide, at[1] - high, at[0] + wide, at[1] + high


@dataclass(frozen=True, slots=True)
class Around:
    """What a mark keeps clear of, in inches of the model: boxes of words, lines of leaders, lines of sizes.

    It stays on the *sheet*, and off one spot at least of each of the marks *to come*.
    """

    sheet: Box
    boxes: Floats
    leaders: Lines
    sizes: Lines
    to_come: tuple[tuple[Spot, ...], ...] = ()


def keyed(notes: Iterable[Note]) -> tuple[Keyed, ...]:
    """Return notes for the key, lettered a to z, then aa; tags need no letter."""
    letters = (LETTERS[number % len(LETTERS)] * (number // len(LETTERS) + 1) for number in itertools.count())
    return tuple(Keyed(note, "" if note.tag else next(letters)) for note in notes)


def rings(found: Sequence[Keyed], paper: Paper, around: Around) -> tuple[Shape, ...]:
    """Return the mark of each note, on its thing or beside it with a short line; tags choose first, having one spot."""
    shapes: list[Shape] = []
    order = sorted(found, key=lambda one: not one.note.tag)
    for number, one in enumerate(order, 1):
        around = replace(around, to_come=tuple(other.note.spots for other in order[number:]))
        at, spot = _free(one, paper, around)
        if at != spot:
            leader = (spot, _on_edge(one, at, spot, paper))
            shapes.append(Stroke(LineKind.LEADER, leader))
            around = replace(around, leaders=around.leaders.and_one(leader))
        shapes += one.mark(at, paper)
        around = replace(around, boxes=np.vstack([around.boxes, one.box(at, paper)]))
    return tuple(shapes)


def keyed_rows(
    found: Iterable[Keyed], paper: Paper, left: float, right: float, top: float
) -> tuple[tuple[Shape, ...], float]:
    """Return the words of keyed notes in lines under one another, from *left* to *right*, and the bottom of them."""
    shapes: list[Shape] = []
    line = paper.inches(LINE)
    for one in found:
        note, (wide, high) = one.note, (paper.inches(half) for half in one.half())
        shapes += one.mark((left + wide, top - high), paper)
        start = left + 2 * wide + paper.inches(TO_WORDS)
        baseline = top - high - paper.inches(TEXT * CAP_HEIGHT / 2)
        widest = paper.millimetres(right - start)
        words = wrapped(note.word, widest, strong=True)
        beside = start + paper.width(words[-1], strong=True) + paper.inches(TO_TRADE)
        level = bool(note.trade) and beside + paper.width(note.trade) <= right
        under = () if level or not note.trade else wrapped(note.trade, widest)
        for number, text in enumerate((*words, *under)):
            own = number < len(words)
            at = (start, baseline - number * line)
            shapes.append(Label(text, at, TEXT, Anchoring.START, strong=own, quiet=not own))
        if level:
            at = (beside, baseline - (len(words) - 1) * line)
            shapes.append(Label(note.trade, at, TEXT, Anchoring.START, quiet=True))
        lowest = baseline - (len(words) + len(under) - 1) * line - paper.inches(TEXT * DESCENT)
        top = min(top - 2 * high, lowest) - paper.inches(CLEAR)
    return tuple(shapes), top


def _free(one: Keyed, paper: Paper, around: Around) -> tuple[Spot, Spot]:
    """Return the first free middle for a mark and the spot that it stands for; the first spot where none is free.

    Where every line would cross a leader to the same thing, it may do so right at its start; where none would be clear
    even so, the short line minds nothing, and where no mark would stand clear of lines either, only words are minded.
    """
    for (bare, line_minds, mark_minds), far in itertools.product(MINDED, BESIDE):
        lines = list(_lines(one.note.spots, far, bare, paper))
        boxes = np.array([one.box(at, paper) for _, _, at in lines])
        for number in np.flatnonzero(_clear_of_boxes(boxes, around)).tolist():
            spot, _, at = line = lines[number]
            if any(all(_holds(one.box(at, paper), spot) for spot in spots) for spots in around.to_come):
                continue
            if mark_minds and not _free_of_lines(around, one.box(at, paper)):
                continue
            if not line_minds or not far or _clear_of(around, line):
                return at, spot
    return one.note.spots[0], one.note.spots[0]


def _lines(spots: Iterable[Spot], far: float, bare: float, paper: Paper) -> Iterator[tuple[Spot, Spot, Spot]]:
    """Yield the lines to the middles so *far* from the spots: the spot, where the line minds others, the middle."""
    for spot in spots:
        for step in range(WAYS if far else 1):
            angle = 2 * pi * step / WAYS
            way = (paper.inches(cos(angle)), paper.inches(sin(angle)))
            at = (spot[0] + far * way[0], spot[1] + far * way[1])
            yield spot, (spot[0] + bare * way[0], spot[1] + bare * way[1]), at


def _holds(box: Box, spot: Spot) -> bool:
    return box[0] <= spot[0] <= box[2] and box[1] <= spot[1] <= box[3]


def _clear_of_boxes(own: Floats, around: Around) -> Flags:
    """Tell of the box of each mark, a row, whether it lies on the sheet and meets no words."""
    left, low, right, high = around.sheet
    on = (own[:, 0] >= left) & (own[:, 1] >= low) & (own[:, 2] <= right) & (own[:, 3] <= high)
    return np.asarray(on & ~boxes_meet(own, around.boxes))


def _free_of_lines(around: Around, own: Box) -> bool:
    """Tell whether no line runs through the box of a mark."""
    return not any(runs_through(line, own) for lines in (around.leaders, around.sizes) for line in lines.near(own))


def _clear_of(around: Around, line: tuple[Spot, Spot, Spot]) -> bool:
    """Tell whether the short line to a mark crosses nothing, leaders only from its second spot on."""
    spot, start, at = line
    box = (min(spot[0], at[0]), min(spot[1], at[1]), max(spot[0], at[0]), max(spot[1], at[1]))
    if any(crosses((spot, at), size) for size in around.sizes.near(box)):
        return False
    if any(crosses((start, at), leader) for leader in around.leaders.near(box)):
        return False
    return not any(runs_through((spot, at), (*row,)) for row in around.boxes.tolist())


def _on_edge(one: Keyed, at: Spot, spot: Spot, paper: Paper) -> Spot:
    """Return where the line from *spot* to the middle of a mark reaches the mark."""
    off = (spot[0] - at[0], spot[1] - at[1])
    wide, high = (paper.inches(half) for half in one.half())
    if one.note.tag:
        share = min(wide / abs(off[0]) if off[0] else 1.0, high / abs(off[1]) if off[1] else 1.0)
    else:
        share = wide / hypot(*off)
    return at[0] + off[0] * share, at[1] + off[1] * share

"""Notes without a good place beside a drawing in; a letter in a ring on each thing, and its words in the key, out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import cos, pi, sin

import numpy as np

from bookgen.draw.meetings import Box, Floats, Segment, boxes_meet, crosses, runs_through
from bookgen.draw.notes import TO_TRADE, Note, wrapped
from bookgen.draw.paper import LINE, TEXT, Paper
from bookgen.draw.widths import CAP_HEIGHT
from bookgen.model.sketch import Anchoring, Area, Label, LineKind, Shape, Spot, Stroke

RING = 2.4  # millimetres of radius
CLEAR = 0.6  # millimetres round a ring
TO_WORDS = 1.6  # millimetres from a ring to its words
BESIDE = (0.0, 4.0, 6.0, 9.0, 13.0, 18.0)  # millimetres from a spot to the middle of its ring, tried in this order
WAYS = 12
LETTERS = "abcdefghijklmnopqrstuvwxyz"


def letter(number: int) -> str:
    """Return the letter of a keyed note, counted from 0: a to z, then aa."""
    return LETTERS[number % len(LETTERS)] * (number // len(LETTERS) + 1)


def rings(notes: Sequence[Note], paper: Paper, boxes: Floats, lines: Sequence[Segment]) -> tuple[Shape, ...]:
    """Return a ring with its letter for each note, on its thing or beside it with a short line.

    *boxes*, rows, and *lines* are the words and the lines that a ring keeps clear of, in inches of the model.
    """
    shapes: list[Shape] = []
    for number, note in enumerate(notes):
        at, spot = _free(note, paper, boxes, lines)
        if at != spot:
            shapes.append(Stroke(LineKind.LEADER, (spot, _towards(at, spot, paper.inches(RING)))))
        shapes += ring(letter(number), at, paper)
        boxes = np.vstack([boxes, [_box(at, paper)]])
    return tuple(shapes)


def ring(words: str, at: Spot, paper: Paper) -> Iterator[Shape]:
    """Yield a ring with its letter in the middle."""
    yield Area(None, LineKind.BEYOND, (at,), paper.inches(RING))
    yield Label(words, (at[0], at[1] - paper.inches(TEXT * CAP_HEIGHT / 2)), TEXT, Anchoring.MIDDLE, strong=True)


def keyed_rows(
    notes: Iterable[Note], paper: Paper, left: float, right: float, top: float
) -> tuple[tuple[Shape, ...], float]:
    """Return the words of keyed notes in lines under one another, from *left* to *right*, and the bottom of them."""
    shapes: list[Shape] = []
    start = left + paper.inches(2 * RING + TO_WORDS)
    for number, note in enumerate(notes):
        middle = top - paper.inches(RING)
        shapes += ring(letter(number), (left + paper.inches(RING), middle), paper)
        baseline = middle - paper.inches(TEXT * CAP_HEIGHT / 2)
        widest = paper.millimetres(right - start)
        lines = wrapped(note.word, widest, strong=True)
        for line in lines:
            shapes.append(Label(line, (start, baseline), TEXT, Anchoring.START, strong=True))
            baseline -= paper.inches(LINE)
        beside = start + paper.width(lines[-1], strong=True) + paper.inches(TO_TRADE)
        if note.trade and beside + paper.width(note.trade) <= right:
            shapes.append(Label(note.trade, (beside, baseline + paper.inches(LINE)), TEXT, Anchoring.START, quiet=True))
        else:
            for line in wrapped(note.trade, widest) if note.trade else ():
                shapes.append(Label(line, (start, baseline), TEXT, Anchoring.START, quiet=True))
                baseline -= paper.inches(LINE)
        top = min(top - paper.inches(2 * RING + CLEAR), baseline + paper.inches(LINE - CLEAR))
    return tuple(shapes), top


def _free(note: Note, paper: Paper, boxes: Floats, lines: Sequence[Segment]) -> tuple[Spot, Spot]:
    """Return the first free middle for a ring and the spot that it stands for; the first spot where none is free."""
    for far in BESIDE:
        for spot in note.spots:
            for step in range(WAYS if far else 1):
                angle, off = 2 * pi * step / WAYS, paper.inches(far)
                at = (spot[0] + off * cos(angle), spot[1] + off * sin(angle))
                box = _box(at, paper)
                taken = boxes_meet(np.array([box]), boxes).any() or any(runs_through(line, box) for line in lines)
                if not taken and not (far and any(crosses((spot, at), line) for line in lines)):
                    return at, spot
    return note.spots[0], note.spots[0]


def _box(at: Spot, paper: Paper) -> Box:
    half = paper.inches(RING + CLEAR)
    return at[0] - half, at[1] - half, at[0] + half, at[1] + half


def _towards(at: Spot, spot: Spot, by: float) -> Spot:
    """Return the point of a ring round *at* that is nearest to *spot*."""
    far = np.hypot(spot[0] - at[0], spot[1] - at[1])
    return at[0] + (spot[0] - at[0]) * by / far, at[1] + (spot[1] - at[1]) * by / far

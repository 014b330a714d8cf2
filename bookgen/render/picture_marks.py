"""Marks of a picture in; where a drawing puts their shapes and labels, as percentages, out; no label on another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bookgen.model.book import Percent, PictureMark

LABEL = (12.0, 9.0)  # percent of a picture shown small: how much room a label takes, across and down
WHOLE = 100.0  # percent


@dataclass(frozen=True, slots=True)
class DrawnMark:
    """A mark ready to be drawn; numbers in percent of the picture.

    *at* is what the label belongs to; *tail* is where an arrow begins; *low* and *size* give a box. *leftward* puts the
    label to the left of *at*.
    """

    mark: PictureMark
    at: Percent
    tail: Percent | None
    low: Percent | None
    size: Percent | None
    leftward: bool


def drawn_marks(marks: Sequence[PictureMark]) -> tuple[DrawnMark, ...]:
    """Return *marks* in their order; a label goes to the right unless another one, or the picture's edge, is there."""
    drawn: list[DrawnMark] = []
    for mark in marks:
        low = size = tail = None
        at = mark.dots[-1]
        if mark.shape == "box":
            (x, y), (other_x, other_y) = mark.dots
            low = (min(x, other_x), min(y, other_y))
            size = (round(abs(x - other_x), 2), round(abs(y - other_y), 2))
            at = low
        elif mark.shape == "arrow":
            tail = at = mark.dots[0]
        leftward = _room_taken(at, drawn, leftward=True) < _room_taken(at, drawn, leftward=False)
        drawn.append(DrawnMark(mark, at, tail, low, size, leftward))
    return tuple(drawn)


def _room_taken(at: Percent, drawn: Sequence[DrawnMark], *, leftward: bool) -> float:
    """Return how much of a label's room on that side of *at* is taken by other labels or lies off the picture."""
    start = _start(at, leftward=leftward)
    off = max(0.0, -start, start + LABEL[0] - WHOLE) * LABEL[1]
    return off + sum(_overlap((start, at[1]), (_start(one.at, leftward=one.leftward), one.at[1])) for one in drawn)


def _start(at: Percent, *, leftward: bool) -> float:
    return at[0] - LABEL[0] if leftward else at[0]


def _overlap(one: Percent, other: Percent) -> float:
    across, down = (max(0.0, size - abs(a - b)) for size, a, b in zip(LABEL, one, other, strict=True))
    return across * down

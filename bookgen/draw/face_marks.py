"""Places on a face in; slanted strokes, lettered marks that touch nothing else, and rulers along its edges, out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import ceil, floor
from typing import Literal

from bookgen.draw.outlines import Rect
from bookgen.draw.paper import TEXT, Paper
from bookgen.draw.words import size
from bookgen.model.length import MILLIMETRES_PER_INCH, Length
from bookgen.model.sketch import (
    TAG_HIGH,
    TAG_LONG,
    Anchoring,
    Area,
    Dot,
    Label,
    LineKind,
    Shape,
    Spot,
    Stroke,
    TagMark,
)
from bookgen.model.tape import Units
from bookgen.model.widths import CAP_HEIGHT, text_width

# Millimetres on paper.
HATCH = 2.4  # from stroke to stroke, measured level
PILL_HIGH = 5.2
PILL_SIDE = 1.2  # from its edge to its words
TO_DEPTH = 1.6  # from the letter to the depth
CLEAR = 0.8  # round a mark
RULER = 2.4  # from the face to the ends of the ticks
TICK = 1.6
BETWEEN = 4.7  # from one number to the next
SHARES = (Fraction(1, 2), Fraction(1, 4), Fraction(3, 4), Fraction(1, 8), Fraction(7, 8))
ROWS = (0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6)  # rows off its thing that a mark may stand in

Bounds = tuple[float, float, float, float]  # left, low, right, high


@dataclass(frozen=True, slots=True)
class Pill:
    """A letter and a depth on a clear ground, for something that takes these rectangles of the face."""

    letter: str
    depth: str
    places: tuple[Rect, ...]


def strokes(rect: Rect, outline: Sequence[Spot], paper: Paper) -> Iterator[Shape]:
    """Yield slanted strokes over the part of a rectangle that lies in the outline of the face.

    All are of one raster, so that those of rectangles side by side meet.
    """
    step = paper.inches(HATCH)
    left, low, right, high = (float(one) for one in (rect.left, rect.bottom, rect.right, rect.top))
    for number in range(ceil((left + low) / step), floor((right + high) / step) + 1):
        whole = number * step  # the stroke runs where u + v is this
        start, end = max(left, whole - high), min(right, whole - low)
        for first, last in pairwise(_stops(start, end, whole, outline)):
            middle = (first + last) / 2
            if last - first > step / 50 and _inside((middle, whole - middle), outline):
                yield Stroke(LineKind.BARRED, ((first, whole - first), (last, whole - last)))


def _stops(start: float, end: float, whole: float, outline: Sequence[Spot]) -> list[float]:
    """Return where, between *start* and *end*, the line u + v = *whole* meets the outline, with both ends; in order."""
    stops = [start, end]
    for (u1, v1), (u2, v2) in zip(outline, [*outline[1:], outline[0]], strict=True):
        rise = (u2 + v2) - (u1 + v1)
        share = (whole - u1 - v1) / rise if rise else -1.0
        at = u1 + share * (u2 - u1)
        if 0 <= share <= 1 and start < at < end:
            stops.append(at)
    return sorted(stops)


def _inside(spot: Spot, outline: Sequence[Spot]) -> bool:
    """Tell whether a spot lies in an outline, by how often a level ray from it crosses the edges."""
    inside = False
    for (u1, v1), (u2, v2) in zip(outline, [*outline[1:], outline[0]], strict=True):
        if (v1 > spot[1]) != (v2 > spot[1]) and spot[0] < u1 + (spot[1] - v1) / (v2 - v1) * (u2 - u1):
            inside = not inside
    return inside


def pills(
    marks: Sequence[Pill], whole: Rect, paper: Paper, tags: Iterable[TagMark] = ()
) -> tuple[tuple[Shape, ...], Rect]:
    """Return the marks, each on its thing or with a leader to it, none over another; and what they take with the face.

    A mark that finds no free place stands below all others; none stands over one of the *tags*.
    """
    taken: list[Bounds] = [_tag_box(tag, paper) for tag in tags]
    shapes: list[Shape] = []
    leaders: list[Shape] = []
    for mark in marks:
        spot, box = _free(mark, taken, whole, paper)
        taken.append(box)
        if not _holds(box, spot):
            end = (min(max(spot[0], box[0]), box[2]), min(max(spot[1], box[1]), box[3]))
            leaders += [Stroke(LineKind.LEADER, (spot, end)), Dot(spot)]
        shapes += _pill(mark, box, paper)
    exact = [Rect(*(Fraction(one) for one in box)) for box in taken]
    reach = whole
    for rect in exact:
        reach = reach.joined(rect)
    return (*leaders, *shapes), reach


def _tag_box(tag: TagMark, paper: Paper) -> Bounds:
    (u, v), half = tag.at, paper.inches(TAG_HIGH / 2)
    return u, v - half, u + paper.inches(TAG_LONG), v + half


def _free(mark: Pill, taken: Sequence[Bounds], whole: Rect, paper: Paper) -> tuple[Spot, Bounds]:
    """Return the spot of the thing that a mark is for, and the box where it stands."""
    words = text_width(mark.letter, TEXT, strong=True) + TO_DEPTH + text_width(mark.depth, TEXT)
    wide = paper.inches(words + 2 * PILL_SIDE)
    high = paper.inches(PILL_HIGH)
    largest = max(mark.places, key=lambda rect: (rect.area(), rect))
    left, right = float(whole.left), max(float(whole.right), float(whole.left) + wide)
    for row in ROWS:
        for share in SHARES:
            spot = _share(largest, share)
            x = min(max(spot[0] - wide / 2, left), right - wide)
            y = spot[1] - high / 2 + row * (high + paper.inches(CLEAR))
            box = (x, y, x + wide, y + high)
            if not any(_meet(box, other, paper.inches(CLEAR)) for other in taken):
                return spot, box
    spot = _share(largest, SHARES[0])
    y = min([float(whole.bottom), *(box[1] for box in taken)]) - high - paper.inches(CLEAR)
    return spot, (left, y, left + wide, y + high)


def _share(rect: Rect, share: Fraction) -> Spot:
    """Return a spot on the longer middle line of a rectangle."""
    wide, high = rect.right - rect.left, rect.top - rect.bottom
    if wide >= high:
        return float(rect.left + wide * share), float((rect.bottom + rect.top) / 2)
    return float((rect.left + rect.right) / 2), float(rect.bottom + high * share)


def _meet(one: Bounds, other: Bounds, clear: float) -> bool:
    return (
        one[0] < other[2] + clear
        and other[0] < one[2] + clear
        and one[1] < other[3] + clear
        and other[1] < one[3] + clear
    )


def _holds(box: Bounds, spot: Spot) -> bool:
    return box[0] <= spot[0] <= box[2] and box[1] <= spot[1] <= box[3]


def _pill(mark: Pill, box: Bounds, paper: Paper) -> Iterator[Shape]:
    left, low, right, high = box
    yield Area(None, LineKind.BEYOND, ((left, low), (right, low), (right, high), (left, high)))
    baseline = (low + high) / 2 - paper.inches(TEXT * CAP_HEIGHT / 2)
    side = paper.inches(PILL_SIDE)
    yield Label(mark.letter, (left + side, baseline), TEXT, Anchoring.START, strong=True)
    yield Label(mark.depth, (right - side, baseline), TEXT, Anchoring.END)


def clear_label(words: str, at: Spot, paper: Paper) -> Iterator[Shape]:
    """Yield words on a clear ground, their middle at a spot: a number that stands on its line."""
    half, high = paper.width(words) / 2 + paper.inches(CLEAR), paper.inches(PILL_HIGH - CLEAR) / 2
    corners = ((at[0] - half, at[1] - high), (at[0] + half, at[1] - high), (at[0] + half, at[1] + high))
    yield Area(None, LineKind.BEYOND, (*corners, (at[0] - half, at[1] + high)), outlined=False)
    yield Label(words, (at[0], at[1] - paper.inches(TEXT * CAP_HEIGHT / 2)), TEXT, Anchoring.MIDDLE)


def ruler(
    places: Iterable[Fraction], along: Literal["u", "v"], edge: tuple[Rect, Fraction], paper: Paper
) -> tuple[tuple[Shape, ...], float]:
    """Return ticks at *places* along an edge of the face, with as many distances as have room, and how far they reach.

    *edge* is the face and where its ruler starts: below for u, to the left for v. Distances count from nothing, to the
    nearest 1/4 in or 5 mm, as somebody finds them with a tape.
    """
    face, from_edge = edge
    start, tick = float(from_edge) - paper.inches(RULER), paper.inches(TICK)
    span = (face.left, face.right) if along == "u" else (face.bottom, face.top)
    inside = sorted({place for place in places if span[0] <= place <= span[1]}, key=lambda one: (abs(one), one))
    shapes: list[Shape] = []
    kept: list[Fraction] = []
    widest = 0.0
    for place in inside:
        at = float(place)
        ends = ((at, start), (at, start - tick)) if along == "u" else ((start, at), (start - tick, at))
        shapes.append(Stroke(LineKind.DIMENSION, ends))
        if all(paper.millimetres(abs(place - other)) >= BETWEEN for other in kept):
            kept.append(place)
            words = size(_about(abs(place), units=paper.units), units=paper.units)
            shapes.append(_number(words, at, start - tick, along, paper))
            widest = max(widest, paper.width(words))
    return tuple(shapes), start - tick - (widest + paper.inches(CLEAR) if kept else 0.0)


def _number(words: str, at: float, start: float, along: str, paper: Paper) -> Label:
    half, gap = paper.inches(TEXT * CAP_HEIGHT / 2), paper.inches(CLEAR)
    if along == "u":
        return Label(words, (at + half, start - gap), TEXT, Anchoring.END, turned=True)
    return Label(words, (start - gap, at - half), TEXT, Anchoring.END)


def _about(value: Fraction, *, units: Units) -> Length:
    step = 5 / MILLIMETRES_PER_INCH if units == "metric" else Fraction(1, 4)
    return Length(floor(value / step + Fraction(1, 2)) * step)

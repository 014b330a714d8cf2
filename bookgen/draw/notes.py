"""What a sketch points at in; notes above the drawing with leaders that cross neither one another nor a dimension, out.

The notes stand in one column at the top right. Every leader leaves its note to the left and then goes down at the
same slant, so leaders sorted along that slant can't cross: the leftmost thing has the highest note.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import radians, tan

from bookgen.draw.paper import LINE, TEXT, Paper
from bookgen.draw.widths import CAP_HEIGHT, DESCENT, text_width
from bookgen.model.sketch import TAG_HIGH, TAG_LONG, Anchoring, Dot, Label, LineKind, Shape, Spot, Stroke, TagMark

SLANTS = (60, 66, 72, 78, 84, 90)  # degrees over the horizontal, tried in this order
TAIL = 1.6  # millimetres between a leader and its note
BETWEEN = 2.4  # millimetres between two notes
APART = 3.2  # millimetres between two leaders, where there is room
TO_TRADE = 1.8  # millimetres from the owner's word to the trade's words on the same line

Segment = tuple[Spot, Spot]


@dataclass(frozen=True, slots=True)
class Note:
    """One note: the owner's word, the trade's words beneath, where it may point, best first, its tag if it has one.

    An *optional* one gives way where it has no room.
    """

    word: str
    trade: str
    spots: tuple[Spot, ...]
    tag: str = ""
    optional: bool = False


@dataclass(frozen=True, slots=True)
class Column:
    """Where notes stand: left edge of their text, lowest baseline of a first line, millimetres before lines wrap."""

    left: float
    lowest: float
    widest: float


@dataclass(frozen=True, slots=True)
class _Row:
    """A note on its way to the sheet: its lines, how many of them are the owner's word, spot and first baseline."""

    note: Note
    lines: tuple[str, ...]
    words: int
    at: Spot
    baseline: float


def wrapped(text: str, widest: float, *, strong: bool = False) -> tuple[str, ...]:
    """Return *text* in lines no wider than *widest* millimetres, as far as its words allow."""
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, TEXT, strong=strong) <= widest:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


def _beside(note: Note, widest: float) -> bool:
    """Tell whether the trade's words fit on the line of the owner's word."""
    wide = text_width(note.word, TEXT, strong=True) + TO_TRADE + text_width(note.trade, TEXT)
    return bool(note.trade) and not note.tag and wide <= widest


def _lines(note: Note, widest: float) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the lines of the owner's word and, where they do not stand beside it, of the trade's words."""
    room = widest - (TAG_LONG + TAIL if note.tag else 0)
    under = wrapped(note.trade, room) if note.trade and not _beside(note, widest) else ()
    return wrapped(note.word, room, strong=True), under


def column_width(notes: Iterable[Note], paper: Paper, widest: float) -> float:
    """Return how wide the column must be, in inches of the model."""
    widths = [0.0]
    for note in notes:
        words, under = _lines(note, widest)
        tag = TAG_LONG + TAIL if note.tag else 0.0
        trade = TO_TRADE + text_width(note.trade, TEXT) if _beside(note, widest) else 0.0
        widths += [tag + text_width(line, TEXT, strong=True) + trade for line in words]
        widths += [tag + text_width(line, TEXT) for line in under]
    return paper.inches(max(widths))


def free_slant(notes: Sequence[Note], paper: Paper, column: Column, avoid: Sequence[Segment]) -> int | None:
    """Return the flattest slant at which no leader meets the column or a segment of *avoid*; None where none serves."""
    for slant in SLANTS:
        rows = _rows(_spread(notes, paper, column, slant, avoid), paper, column)
        if all(_free(row, paper, column, slant, avoid) for row in rows):
            return slant
    return None


def drawn_notes(
    notes: Sequence[Note], paper: Paper, column: Column, slant: int, avoid: Sequence[Segment]
) -> tuple[tuple[Shape, ...], float]:
    """Return the leaders and texts of the notes, and the top of the highest one."""
    rows = _rows(_spread(notes, paper, column, slant, avoid), paper, column)
    shapes: list[Shape] = []
    for row in rows:
        shapes += _leader(row, paper, column, slant)
    for row in rows:
        shapes += _texts(row, paper, column)
    over = max(TEXT, (TAG_HIGH + TEXT * CAP_HEIGHT) / 2)
    top = max((row.baseline for row in rows), default=column.lowest) + paper.inches(over)
    return tuple(shapes), top


def _cot(slant: int) -> float:
    return 0.0 if slant == 90 else 1 / tan(radians(slant))


def _along(spot: Spot, slant: int) -> float:
    """Return the same number for all spots that one leader at this slant runs through."""
    return spot[0] - spot[1] * _cot(slant)


def _spread(
    notes: Sequence[Note], paper: Paper, column: Column, slant: int, avoid: Sequence[Segment]
) -> list[tuple[Note, Spot]]:
    """Return the notes with their spots, the rightmost leader first; of a note's spots the one that keeps it apart."""
    placed: list[tuple[Note, Spot]] = []
    limit, wanted = column.left - paper.inches(2 * TAIL), paper.inches(APART)
    for note in sorted(notes, key=lambda one: (len(one.spots), _along(one.spots[0], slant), one.word)):
        taken = [_along(spot, slant) for _, spot in placed]

        def worth(spot: Spot, taken: list[float] = taken) -> float:
            over = (_along(spot, slant) + column.lowest * _cot(slant), column.lowest)
            barred = over[0] > limit or any(crosses((spot, over), segment) for segment in avoid)
            apart = min([wanted, *(abs(_along(spot, slant) - other) for other in taken)])
            return apart - (2 * wanted if barred else 0.0)

        placed.append((note, max(note.spots, key=worth)))
    return sorted(placed, key=lambda one: (-_along(one[1], slant), one[0].word))


def _rows(notes: Sequence[tuple[Note, Spot]], paper: Paper, column: Column) -> list[_Row]:
    """Return the rows from the lowest up; each stands above what it points at."""
    rows: list[_Row] = []
    floor = column.lowest
    for note, spot in notes:
        words, under = _lines(note, column.widest)
        lines = len(words) + len(under) - 1
        deep = max(LINE * lines, (TAG_HIGH - TEXT * CAP_HEIGHT) / 2 - TEXT * DESCENT if note.tag else 0.0)
        baseline = max(floor + paper.inches(deep), spot[1] + paper.inches(2.0))
        rows.append(_Row(note, (*words, *under), len(words), spot, baseline))
        over = max(TEXT * CAP_HEIGHT, (TAG_HIGH + TEXT * CAP_HEIGHT) / 2 if note.tag else 0)
        floor = baseline + paper.inches(over + BETWEEN + TEXT * DESCENT)
    return rows


def _bend(row: _Row, paper: Paper, slant: int) -> Spot:
    height = row.baseline + paper.inches(TEXT * CAP_HEIGHT / 2)
    return _along(row.at, slant) + height * _cot(slant), height


def _free(row: _Row, paper: Paper, column: Column, slant: int, avoid: Sequence[Segment]) -> bool:
    bend = _bend(row, paper, slant)
    if bend[0] > column.left - paper.inches(2 * TAIL):
        return False
    return not any(crosses((row.at, bend), segment) for segment in avoid)


def _leader(row: _Row, paper: Paper, column: Column, slant: int) -> list[Shape]:
    bend = _bend(row, paper, slant)
    end = (column.left - paper.inches(TAIL), bend[1])
    return [Stroke(LineKind.LEADER, (row.at, bend, end)), Dot(row.at)]


def _texts(row: _Row, paper: Paper, column: Column) -> list[Shape]:
    left, shapes = column.left, list[Shape]()
    if row.note.tag:
        shapes.append(TagMark(row.note.tag, (left, row.baseline + paper.inches(TEXT * CAP_HEIGHT / 2))))
        left += paper.inches(TAG_LONG + TAIL)
    if _beside(row.note, column.widest):
        beside = left + paper.width(row.note.word, strong=True) + paper.inches(TO_TRADE)
        shapes.append(Label(row.note.trade, (beside, row.baseline), TEXT, Anchoring.START, quiet=True))
    for number, line in enumerate(row.lines):
        spot, own = (left, row.baseline - number * paper.inches(LINE)), number < row.words
        shapes.append(Label(line, spot, TEXT, Anchoring.START, strong=own, quiet=not own))
    return shapes


def crosses(first: Segment, second: Segment) -> bool:
    """Tell whether two segments cross or touch."""

    def side(a: Spot, b: Spot, c: Spot) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    a, b = first
    c, d = second
    if max(a[0], b[0]) < min(c[0], d[0]) or max(c[0], d[0]) < min(a[0], b[0]):
        return False
    if max(a[1], b[1]) < min(c[1], d[1]) or max(c[1], d[1]) < min(a[1], b[1]):
        return False
    return side(a, b, c) * side(a, b, d) <= 0 and side(c, d, a) * side(c, d, b) <= 0

"""A note and the width of its lines in; what it covers on paper, and its shapes where it is placed, out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bookgen.draw.outlines import Rect
from bookgen.draw.paper import LINE, TEXT, Paper
from bookgen.model.sketch import TAG_HIGH, TAG_LONG, Anchoring, Dot, Label, LineKind, Shape, Spot, Stroke, TagMark
from bookgen.model.widths import CAP_HEIGHT, DESCENT, text_width

TAIL = 1.2  # millimetres between a leader and its note
STUB = 2.0  # millimetres that a leader runs level before its tail
TO_TRADE = 1.8  # millimetres from the owner's word to the trade's words on the same line
WIDTHS = (60.0, 46.0, 30.0, 20.0)  # millimetres that a line of a note may take, tried in this order


@dataclass(frozen=True, slots=True)
class Note:
    """One note: the owner's word, the trade's words, where it may point, its tag if it has one.

    *rooms* are stretches of the thing itself, wide enough to be tried for the words. An *optional* note gives way
    where it has no room; one whose hatch the key names anyway (*in_key*) is then not needed.
    """

    word: str
    trade: str
    spots: tuple[Spot, ...]
    tag: str = ""
    optional: bool = False
    in_key: bool = False
    rooms: tuple[Rect, ...] = ()


@dataclass(frozen=True, slots=True)
class Setting:
    """A note set in lines; all in millimetres: how wide, how far over and under its first baseline it reaches.

    *first* is how wide its first line runs, tag included; *beside* tells that the trade's words stand on it.
    """

    note: Note
    words: tuple[str, ...]
    under: tuple[str, ...]
    beside: bool
    first: float
    wide: float
    over: float
    deep: float

    def more_lines(self) -> int:
        """Return how many lines it has after the first."""
        return len(self.words) + len(self.under) - 1


def settings_of(note: Note) -> tuple[Setting, ...]:
    """Return the ways to set a note, the widest first, each once."""
    ways = (_setting(note, widest) for widest in WIDTHS)
    return tuple({(one.words, one.under, one.beside): one for one in ways}.values())


def _setting(note: Note, widest: float) -> Setting:
    tag = TAG_LONG + TAIL if note.tag else 0.0
    words = wrapped(note.word, widest - tag, strong=True)
    first = tag + text_width(words[0], TEXT, strong=True)
    one_line = first + TO_TRADE + text_width(note.trade, TEXT)
    beside = bool(note.trade) and not note.tag and len(words) == 1 and one_line <= widest
    under = wrapped(note.trade, widest - tag) if note.trade and not beside else ()
    first = one_line if beside else first
    widths = [first, *(tag + text_width(line, TEXT, strong=True) for line in words)]
    widths += [tag + text_width(line, TEXT) for line in under]
    lines, half = len(words) + len(under), TEXT * CAP_HEIGHT / 2
    deep, over = (lines - 1) * LINE + TEXT * DESCENT, TEXT * CAP_HEIGHT
    if note.tag:
        deep, over = max(deep, TAG_HIGH / 2 - half), half + TAG_HIGH / 2
    return Setting(note, words, under, beside, first, max(widths), over, deep)


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


def leader_shapes(spot: Spot, elbow: Spot, end: Spot) -> tuple[Shape, ...]:
    """Return a leader from the thing at *spot* over *elbow* to its note, with its dot."""
    return Stroke(LineKind.LEADER, (spot, elbow, end)), Dot(spot)


def text_shapes(setting: Setting, paper: Paper, at: Spot) -> Iterator[Shape]:
    """Yield the tag and the texts of a note whose first line starts at *at*, on its baseline."""
    note, (left, baseline) = setting.note, at
    if note.tag:
        yield TagMark(note.tag, (left, baseline + paper.inches(TEXT * CAP_HEIGHT / 2)))
        left += paper.inches(TAG_LONG + TAIL)
    if setting.beside:
        beside = left + paper.width(note.word, strong=True) + paper.inches(TO_TRADE)
        yield Label(note.trade, (beside, baseline), TEXT, Anchoring.START, quiet=True)
    for number, line in enumerate((*setting.words, *setting.under)):
        spot, own = (left, baseline - number * paper.inches(LINE)), number < len(setting.words)
        yield Label(line, spot, TEXT, Anchoring.START, strong=own, quiet=not own)

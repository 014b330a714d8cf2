"""The words of a sketch in; the title strip under it out: whose house, which obstacle, which view, scale and date."""

from __future__ import annotations

from dataclasses import dataclass

from bookgen.draw.notes import wrapped
from bookgen.draw.paper import LINE, TEXT, Paper
from bookgen.model.sketch import Anchoring, Label, LineKind, Shape, Stroke
from bookgen.model.widths import CAP_HEIGHT

# Millimetres on paper.
PAD_UP, PAD = 2.2, 2.0  # between the rules and the words, up and across
HAIR = 0.01  # a line that just fits is not broken


@dataclass(frozen=True, slots=True)
class Strip:
    """What a title strip says: to the left the subject over the view, to the right project, scale and date."""

    subject: str
    view: str
    project: str
    scale: str
    date: str
    note: str

    def right_lines(self) -> tuple[str, ...]:
        """Return the lines of the right cell."""
        return tuple(line for line in (self.project, self.scale, self.date) if line)


def drawn_strip(strip: Strip, paper: Paper, left: float, right: float, top: float) -> tuple[tuple[Shape, ...], float]:
    """Return the strip from *left* to *right* under *top*, ruled round and between its cells, and its bottom."""
    pad, cap, line = paper.inches(PAD), paper.inches(TEXT * CAP_HEIGHT), paper.inches(LINE)
    beside = strip.right_lines()
    widest = min(max(paper.width(words) for words in beside) + 2 * pad, (right - left) / 2)
    middle, wrap_right = right - widest, paper.millimetres(widest - 2 * pad) + HAIR
    wrap_left = paper.millimetres(middle - left - 2 * pad)
    subject = wrapped(strip.subject, wrap_left, strong=True)
    rows = [(words, True) for words in subject]
    rows += [(words, False) for text in (strip.view, strip.note) for words in wrapped(text, wrap_left)]
    cells = [words for text in beside for words in wrapped(text, wrap_right)]
    first = top - paper.inches(PAD_UP) - cap
    shapes: list[Shape] = []
    for number, (words, strong) in enumerate(rows):
        at = (left + pad, first - number * line)
        shapes.append(Label(words, at, TEXT, Anchoring.START, strong=strong, quiet=not strong))
    for number, words in enumerate(cells):
        shapes.append(Label(words, (middle + pad, first - number * line), TEXT, Anchoring.START, quiet=True))
    low = first - (max(len(rows), len(cells)) - 1) * line - paper.inches(PAD_UP)
    frame = ((left, low), (right, low), (right, top), (left, top), (left, low))
    rules = (Stroke(LineKind.BEYOND, frame), Stroke(LineKind.BEYOND, ((middle, low), (middle, top))))
    return (*rules, *shapes), low

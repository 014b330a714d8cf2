"""Chapters and the days of their photos in, a line for each out; a mark's form tells its phase, not its color."""

from __future__ import annotations

from bookgen.model.chart import WIDE, TimeLine
from bookgen.model.sketch import Spot
from bookgen.model.widths import text_width
from bookgen.render.charts.canvas import LINE, TEXT, Canvas, Panel, area, circle, line, text, wrapped

# Millimetres.
EDGE = 3.0
HEAD = 8.0  # for the key
AXIS = 7.0  # for the words of the axis
TRACK = 5.0  # from the baseline of a name to the middle of its marks
ROW = 5.0  # from there to the top of the next name
MARK = 1.5  # half a mark
TICK = 2.0  # half of what stands on a line where a month begins
MARKS = ("open", "half", "full")  # before, framed, finished


def time_line(figure: TimeLine) -> Canvas:
    """Return the sheet: the key, the months, then the chapters in the order of the book."""
    names = [wrapped(row.name, WIDE - 2 * EDGE, strong=True) for row in figure.rows]
    high = HEAD + AXIS + sum(len(lines) * LINE + TRACK - 1.0 + ROW for lines in names) - ROW + TICK + EDGE
    canvas = Canvas(WIDE, high)
    _key(canvas, figure)
    first, last = figure.ticks[0].value, figure.ticks[-1].value

    def at(day: float) -> float:
        return EDGE + (WIDE - 2 * EDGE) * (day - first) / (last - first)

    for number, tick in enumerate(figure.ticks):
        if number < len(figure.ticks) - 1:  # the last one only closes the line
            text(canvas.page, (at(tick.value), HEAD + AXIS - 2.0), tick.words, "sk-t-quiet")
    y = HEAD + AXIS
    for row, lines in zip(figure.rows, names, strict=True):
        for words in lines:
            y += LINE
            text(canvas.page, (EDGE, y - 1.0), words, "sk-t sk-strong")
        y += TRACK - 1.0
        for tick in figure.ticks:
            line(canvas.page, ((at(tick.value), y - TICK), (at(tick.value), y + TICK)), "sk-l-beyond")
        line(canvas.page, ((at(first), y), (at(last), y)), "sk-l-beyond")
        days = sorted(day for phase in row.days for day in phase)
        line(canvas.page, ((at(days[0]), y), (at(days[-1]), y)), "sk-l-cut")
        for mark, phase in zip(MARKS, row.days, strict=True):
            for day in phase:
                _mark(canvas.page, (at(day), y), mark)
        y += ROW
    return canvas


def _key(canvas: Canvas, figure: TimeLine) -> None:
    x = EDGE + MARK
    for mark, words in zip(MARKS, figure.phases, strict=True):
        _mark(canvas.page, (x, HEAD / 2), mark)
        text(canvas.page, (x + MARK + 1.5, HEAD / 2 + 1.2), words)
        x += MARK + 1.5 + text_width(words, TEXT) + 6.0


def _mark(page: Panel, at: Spot, form: str) -> None:
    (x, y), m = at, MARK
    if form == "half":  # a square on its point
        area(page, ((x - m - 0.3, y), (x, y - m - 0.3), (x + m + 0.3, y), (x, y + m + 0.3)), "sk-f-band-2 sk-l-cut")
    else:
        circle(page, at, m, "sk-f-page sk-l-cut" if form == "open" else "sk-f-wall sk-l-cut")

"""Parts of a whole in, a bar for each out, with what it is over it and how much it is beside it."""

from __future__ import annotations

from bookgen.model.chart import WIDE, Share, Shares
from bookgen.model.widths import text_width
from bookgen.render.charts.canvas import LINE, TEXT, Canvas, area, line, text, wrapped

# Millimetres.
EDGE = 2.0
BAR = 4.0
UNDER = 1.6  # from the baseline of a name to its bar
ROW = 5.0  # from a bar to the top of the next name
GAP = 2.0  # between a bar and its words


def shares(figure: Shares) -> Canvas:
    """Return the sheet: the longest bar takes what the words beside it leave."""
    names = [wrapped(row.what, WIDE - 2 * EDGE, strong=True) for row in figure.rows]
    beside = max(text_width(row.words, TEXT) for row in figure.rows) + GAP
    longest = max(WIDE - 2 * EDGE - beside, WIDE / 4)
    high = EDGE + sum(len(lines) * LINE + UNDER + BAR + ROW for lines in names) - ROW + EDGE
    canvas = Canvas(WIDE, high)
    most = figure.rows[0].part
    y = EDGE
    for row, lines in zip(figure.rows, names, strict=True):
        for words in lines:
            y += LINE
            text(canvas.page, (EDGE, y - 1.0), words, "sk-t sk-strong")
        y += UNDER
        _bar(canvas, row, y, longest * row.part / most)
        y += BAR + ROW
    return canvas


def _bar(canvas: Canvas, row: Share, top: float, long: float) -> None:
    corners = ((EDGE, top), (EDGE + long, top), (EDGE + long, top + BAR), (EDGE, top + BAR))
    area(canvas.page, corners, "sk-f-band-2")
    line(canvas.page, ((EDGE, top - 0.6), (EDGE, top + BAR + 0.6)), "sk-l-wall")
    text(canvas.page, (EDGE + long + GAP, top + BAR - 0.8), row.words)

"""Values along a run in, their profiles over one another out: steps, what is asked, and the stations below."""

from __future__ import annotations

from collections.abc import Sequence

from bookgen.model.chart import WIDE, AlongRun, Profile, Step, Tick
from bookgen.model.widths import CAP_HEIGHT, text_width
from bookgen.render.charts.canvas import LINE, TEXT, Canvas, Panel, area, line, text, wrapped

# Millimetres.
EDGE = 2.0
TITLE = 6.0  # from the top of a profile to the baseline of its title
HEAD = 9.0  # and to its panel
HIGH = 30.0  # of the panel itself
GAP = 2.0  # between the words of an axis and the panel
OVER = 1.4  # from a line up to the words on it
BELOW = 6.0  # from a panel to the baseline of the words below it
BETWEEN = 8.0  # from the words of one profile to the top of the next
SAMPLE = "– – "  # a piece of the line of what is asked, before its words
FILL, BLANK = "sk-f-band-4", "sk-f-page"


def profiles(figure: AlongRun) -> Canvas:
    """Return the sheet; every profile has the same stations, so that one can be read under the other."""
    left = EDGE + max(text_width(tick.words, TEXT) for one in figure.profiles for tick in one.ticks) + GAP
    wide = WIDE - EDGE - text_width(figure.ticks[-1].words, TEXT) / 2 - left
    asked = [wrapped(SAMPLE + one.limit.words, wide) if one.limit else () for one in figure.profiles]
    each = [HEAD + HIGH + (len(lines) * LINE + GAP if lines else 0.0) for lines in asked]
    foot = sum(each) + BETWEEN * (len(each) - 1)
    canvas = Canvas(WIDE, foot + BELOW + LINE + EDGE)
    top = 0.0
    for profile, lines, high in zip(figure.profiles, asked, each, strict=True):
        _profile(canvas, figure, profile, (left, top, wide))
        for number, words in enumerate(lines):
            text(canvas.page, (left, top + HEAD + HIGH + GAP + (number + 1) * LINE - 1.0), words, "sk-t-quiet")
        top += high + BETWEEN
    first, last = _ends(figure.ticks)
    for tick in figure.ticks:
        x = left + wide * (tick.value - first) / (last - first)
        text(canvas.page, (x, foot + BELOW), tick.words, "sk-t-quiet", "center")
    text(canvas.page, (left + wide / 2, foot + BELOW + LINE), figure.axis, "sk-t-quiet", "center")
    return canvas


def _ends(ticks: Sequence[Tick]) -> tuple[float, float]:
    return ticks[0].value, ticks[-1].value


def _profile(canvas: Canvas, figure: AlongRun, profile: Profile, place: tuple[float, float, float]) -> None:
    """Draw one profile; *place* is the left edge and width of its panel, and its top, in millimetres."""
    left, top, wide = place
    (first, last), (low, high) = _ends(figure.ticks), _ends(profile.ticks)
    panel = canvas.panel((left, top + HEAD), (wide, HIGH), ((first, low), (last, high)))
    text(canvas.page, (EDGE, top + TITLE), profile.title, "sk-t sk-strong")
    for tick in profile.ticks:
        line(panel, ((first, tick.value), (last, tick.value)), "sk-l-beyond")
        y = top + HEAD + HIGH * (high - tick.value) / (high - low)
        text(canvas.page, (left - GAP, y + TEXT * CAP_HEIGHT / 2), tick.words, "sk-t-quiet", "right")
    for step in profile.steps:
        base = high if profile.hangs else low
        corners = ((step.low, base), (step.high, base), (step.high, step.value), (step.low, step.value))
        area(panel, corners, FILL)
        line(panel, ((step.low, step.value), (step.high, step.value)), "sk-l-cut")
    if profile.limit is not None:
        line(panel, ((first, profile.limit.value), (last, profile.limit.value)), "sk-l-hidden")
    for step in profile.steps:
        _label(panel, step, ((last - first) / wide, (high - low) / HIGH), FILL if profile.hangs else BLANK)


def _label(panel: Panel, step: Step, millimetre: tuple[float, float], ground: str) -> None:
    """Write the value of a step over its line, on a ground that no other line runs through, if the step is long enough.

    Of a shorter one the axis and the description give the value. *millimetre* is how much of the data one is, each way.
    """
    across, up = millimetre
    half = (text_width(step.words, TEXT, strong=True) / 2 + 0.6) * across
    middle, base = (step.low + step.high) / 2, step.value + OVER * up
    if 2 * half > step.high - step.low:
        return
    low, high = base - 0.6 * up, base + (TEXT * CAP_HEIGHT + 0.6) * up
    area(panel, ((middle - half, low), (middle + half, low), (middle + half, high), (middle - half, high)), ground)
    text(panel, (middle, base), step.words, "sk-t sk-strong", "center")

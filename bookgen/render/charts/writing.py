"""A Chart in, its SVG out: classes on the site, resolved colours for print, alternative text in both."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

from bookgen.model.chart import AlongRun, Chart, HeadroomMap, Shares, TimeLine
from bookgen.render.charts.canvas import Canvas, Element
from bookgen.render.charts.level_map import level_map
from bookgen.render.charts.profiles import profiles
from bookgen.render.charts.shares import shares
from bookgen.render.charts.time_line import time_line
from bookgen.render.svg import FRACTION, UNITS
from bookgen.render.svg_palette import TYPE, Palette, print_css


def write_chart(chart: Chart, palette: Palette | None = None) -> str:
    """Return the SVG of a chart; with a *palette* it carries resolved colours and its true size, for print."""
    canvas = _drawn(chart)
    wide, high = (round(side * UNITS) for side in (canvas.wide, canvas.high))
    size = f' width="{wide / UNITS:g}mm" height="{high / UNITS:g}mm"' if palette else ""
    style = f"<style>{print_css(palette)}</style>" if palette else ""
    ids = f"{chart.key}-chart"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="sketch chart" role="img" viewBox="0 0 {wide} {high}"{size}'
        f' font-size="{TYPE}" aria-labelledby={quoteattr(f"{ids}-title {ids}-desc")}>'
        f"<title id={quoteattr(f'{ids}-title')}>{escape(chart.title)}</title>"
        f"<desc id={quoteattr(f'{ids}-desc')}>{escape(chart.desc)}</desc>{style}"
        f"{''.join(map(_written, canvas.elements()))}</svg>"
    )


def chart_size(chart: Chart) -> tuple[float, float]:
    """Return how wide and high a chart is on paper, in millimetres."""
    canvas = _drawn(chart)
    return canvas.wide, canvas.high


def _drawn(chart: Chart) -> Canvas:
    match chart.figure:
        case HeadroomMap():
            return level_map(chart.figure)
        case AlongRun():
            return profiles(chart.figure)
        case Shares():
            return shares(chart.figure)
        case TimeLine():
            return time_line(chart.figure)


def _written(element: Element) -> str:
    attributes = "".join(f" {name}={quoteattr(value)}" for name, value in element.attributes.items())
    head = f'<{element.name} class="{element.style}"{attributes}'
    if element.name != "text":
        return f"{head}/>"
    pieces = enumerate(FRACTION.split(element.words))
    spans = (f'<tspan class="sk-fr">{escape(one)}</tspan>' if n % 2 else escape(one) for n, one in pieces)
    return f"{head}>{''.join(spans)}</text>"

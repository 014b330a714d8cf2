"""A Chart in, its SVG out: classes on the site, resolved colours for print, alternative text in both."""

from __future__ import annotations

from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

from bookgen.model.chart import AlongRun, Chart, HeadroomMap, Shares, TimeLine
from bookgen.render.charts.canvas import Canvas, Element
from bookgen.render.charts.level_map import level_map
from bookgen.render.charts.profiles import profiles
from bookgen.render.charts.shares import shares
from bookgen.render.charts.time_line import time_line
from bookgen.render.svg import FRACTION, UNITS
from bookgen.render.svg_palette import TYPE, Palette, print_css


@dataclass(frozen=True, slots=True)
class DrawnChart:
    """A chart laid out, *wide* by *high* millimetres on paper."""

    chart: Chart
    wide: float
    high: float
    elements: tuple[Element, ...]

    def svg(self, palette: Palette | None = None) -> str:
        """Return its SVG; with a *palette* it carries resolved colours and its true size, for print."""
        wide, high = (round(side * UNITS) for side in (self.wide, self.high))
        size = f' width="{wide / UNITS:g}mm" height="{high / UNITS:g}mm"' if palette else ""
        style = f"<style>{print_css(palette)}</style>" if palette else ""
        title, desc = (f"chart-{self.chart.key}-{part}" for part in ("title", "desc"))
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="sketch chart" role="img" viewBox="0 0 {wide} {high}"{size}'
            f' font-size="{TYPE}" aria-labelledby={quoteattr(f"{title} {desc}")}>'
            f"<title id={quoteattr(title)}>{escape(self.chart.title)}</title>"
            f"<desc id={quoteattr(desc)}>{escape(self.chart.desc)}</desc>{style}"
            f"{''.join(map(_written, self.elements))}</svg>"
        )


def drawn_chart(chart: Chart) -> DrawnChart:
    """Return a chart laid out."""
    canvas = _canvas(chart)
    return DrawnChart(chart, canvas.wide, canvas.high, tuple(canvas.elements()))


def _canvas(chart: Chart) -> Canvas:
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

"""A Chart in, SVG text out: laid out by matplotlib, styled by the classes of the sketches; the same bytes each time."""

from bookgen.render.charts.writing import DrawnChart, drawn_chart

__all__ = ["DrawnChart", "drawn_chart"]

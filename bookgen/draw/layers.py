"""Sheets too thin to be drawn to scale in; the dashed lines that stand for them where a view cuts them, out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from bookgen.draw.eye import Eye
from bookgen.draw.outlines import Rect, rect_round
from bookgen.draw.pieces import Band
from bookgen.draw.shapes import spot
from bookgen.model.assembly import Assembly
from bookgen.model.geometry import Prism
from bookgen.model.sketch import LineKind, Stroke


def layer_lines(assemblies: Iterable[Assembly], eye: Eye, bands: Iterable[Band]) -> Iterator[Stroke]:
    """Yield a line for each stretch of a sheet that the view's plane cuts and one of its windows shows."""
    bands = tuple(bands)
    for assembly in assemblies:
        for layer in assembly.layers:
            for outline in layer.outlines:
                flat = Prism(outline, layer.axis, layer.at, layer.at)
                seen = eye.frame.solid_from_level(assembly.frame.solid_to_level(flat))
                for cut in eye.cut(seen):
                    yield from (line for band in bands if (line := _line(rect_round(cut), band)) is not None)


def _line(cut: Rect, band: Band) -> Stroke | None:
    """Return what a window shows of a sheet that is cut edge on; None where that is nothing."""
    window, up = band.window, band.shift
    left, right = max(cut.left, window.left), min(cut.right, window.right)
    bottom, top = max(cut.bottom, window.bottom), min(cut.top, window.top)
    if left > right or bottom > top or (left, bottom) == (right, top):
        return None
    return Stroke(LineKind.LAYER, (spot((left, bottom + up)), spot((right, top + up))))

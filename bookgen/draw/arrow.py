"""A sheet and a corner of it in; the north arrow with its letter, out."""

from __future__ import annotations

from bookgen.draw.paper import TEXT, Paper
from bookgen.model.sketch import Anchoring, Area, Label, LineKind, Shape, Spot, Stroke

# Millimetres on paper.
ARROW = (2.2, 9.0)  # half width and height of the north arrow
TO_LETTER = 1.4


def arrow(paper: Paper, right: float, top: float) -> tuple[Shape, ...]:
    """Return the north arrow with its letter; its right edge and top are given."""
    half, high = paper.inches(ARROW[0]), paper.inches(ARROW[1])
    x, foot = right - half, top - high
    point: Spot = (x, top)
    return (
        Area(None, LineKind.WALL, (point, (x - half, foot), (x, foot + high / 4)), outlined=False),
        Stroke(LineKind.BEYOND, (point, (x + half, foot), (x, foot + high / 4), point)),
        Label("N", (x, foot - paper.inches(TO_LETTER + TEXT * 0.66)), TEXT, Anchoring.MIDDLE, strong=True),
    )

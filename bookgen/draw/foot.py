"""Key entries, keyed notes and the title strip of a sketch in; all that stands under its drawing, out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bookgen.draw.key import drawn_key
from bookgen.draw.keyed import Keyed, keyed_rows
from bookgen.draw.paper import Paper
from bookgen.draw.strip import Strip, drawn_strip
from bookgen.model.sketch import KeyEntry, Shape

# Millimetres on paper, from one part down to the next.
TO_KEY, TO_KEYED, TO_STRIP = 6.0, 3.4, 4.0


@dataclass(frozen=True, slots=True)
class Foot:
    """What stands under a drawing; one that is not *scaled* has no scale bar."""

    entries: Sequence[KeyEntry]
    keyed: Sequence[Keyed]
    strip: Strip
    scaled: bool


@dataclass(frozen=True, slots=True)
class DrawnFoot:
    """The shapes under a drawing and the bottom of them."""

    shapes: tuple[Shape, ...]
    low: float


def drawn_foot(foot: Foot, paper: Paper, left: float, right: float, top: float) -> DrawnFoot:
    """Return the foot from *left* to *right* under *top*: scale bar and key, keyed notes, title strip."""
    shapes: tuple[Shape, ...] = ()
    low = top
    if foot.scaled or foot.entries:
        shapes, low = drawn_key(foot.entries, paper, left, right, low - paper.inches(TO_KEY))
    if foot.keyed:
        rows, low = keyed_rows(foot.keyed, paper, left, right, low - paper.inches(TO_KEYED))
        shapes += rows
    strip, low = drawn_strip(foot.strip, paper, left, right, low - paper.inches(TO_STRIP))
    return DrawnFoot((*shapes, *strip), low)

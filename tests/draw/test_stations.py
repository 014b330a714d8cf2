"""Where work is cut: each section of it shows something that no other one does."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import pytest

from bookgen.draw.stations import WIDE, shown
from bookgen.model.geometry import Point
from bookgen.model.sketch import Area, LineKind, Sketch, TagMark, View
from tests.draw.drawn import drawn_by_key

WORK = (Fraction(10), Fraction(270))
AT = Fraction(100)


def _told(sketch: Sketch) -> frozenset[object]:
    """Return what a section tells: each outline that it cuts, with its material, and its tags."""
    areas = (shape for shape in sketch.shapes if isinstance(shape, Area) and shape.line is LineKind.CUT)
    tags = (shape.tag for shape in sketch.shapes if isinstance(shape, TagMark))
    return frozenset((*((area.material, area.corners) for area in areas), *tags))


def test_no_two_sections_of_the_sample_are_alike() -> None:
    """Neither what changes outside what a section shows nor that less is hidden there is a reason to draw it again."""
    for views in drawn_by_key("sample").values():
        sections = [sketch for sketch in views if sketch.view is View.SECTION]
        for one, other in combinations(sections, 2):
            assert _told(one) != _told(other), f"{one.key} tells what {other.key} does"


@pytest.mark.parametrize(
    ("hidden", "access", "low"),
    [(None, None, 10), (200, None, 176), (268, None, 222), (12, None, 10), (200, 60, 36), (200, 190, 176)],
)
def test_wide_work_is_shown_round_what_it_hides(hidden: int | None, access: int | None, low: int) -> None:
    """A stretch of 48 in whose middle is what reaches furthest, inside the work; an access point is never left out."""
    far = None if hidden is None else Fraction(hidden)
    points = [] if access is None else [Point(AT, Fraction(access), Fraction(88))]
    assert shown(AT, WORK, far, points) == (Fraction(low), low + WIDE)


def test_narrow_work_is_shown_whole() -> None:
    """All of what a sheet holds, wherever what it hides lies."""
    assert shown(AT, (Fraction(0), WIDE), Fraction(40), ()) == (Fraction(0), WIDE)

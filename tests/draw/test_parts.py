"""The draw room's own arithmetic: widths, clipping, what is covered, which way one looks, words."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from PIL import ImageFont
from shapely import Point, box

from bookgen.draw.eye import elevation_eye, section_eye
from bookgen.draw.ground import CELL, Ground, cells_under
from bookgen.draw.meetings import lines_of
from bookgen.draw.outlines import Rect, clip, is_upright, uncovered
from bookgen.draw.paper import Paper
from bookgen.draw.words import listed, note_word, spoken
from bookgen.model.frame import Frame
from bookgen.model.geometry import Circle, Polygon
from bookgen.model.length import Length
from bookgen.model.sketch import Area, LineKind
from bookgen.model.widths import FACES, FILES, text_width
from bookgen.trade.tongue import tongue

SAY = tongue("en").say


def rect(left: int, bottom: int, right: int, top: int) -> Rect:
    """Return a rectangle of whole inches."""
    return Rect(Fraction(left), Fraction(bottom), Fraction(right), Fraction(top))


@pytest.mark.parametrize("strong", [False, True])
def test_widths_agree_with_another_reader_of_the_font(strong: bool) -> None:
    """FreeType, asked through Pillow, gives the same advance widths at 1000 units, kerning apart."""
    font = ImageFont.truetype(str(FILES / FACES[strong]), 1000)
    for text in ("minimum", "7″", "2×4", "every 16″", "6′ 4″ headroom"):
        assert text_width(text, 1000, strong=strong) == pytest.approx(font.getlength(text), rel=0.02)


def test_a_fraction_is_narrower_than_its_digits() -> None:
    """Small digits of a real fraction take less than full ones do."""
    assert text_width("15⁄16", 10) < text_width("15/16", 10)


def test_uncovered_takes_away_what_lies_over() -> None:
    """A 4 by 4 square with its middle 2 by 2 covered keeps 16 - 4 = 12 square inches; covered whole, none."""
    left = uncovered(rect(0, 0, 4, 4), [rect(1, 1, 3, 3)])
    assert sum(one.area() for one in left) == 12
    assert uncovered(rect(0, 0, 4, 4), [rect(0, 0, 4, 2), rect(0, 2, 4, 5)]) == ()


def test_clip_keeps_what_is_inside() -> None:
    """A right triangle of legs 4 clipped to its lower left quarter square keeps 4 square inches."""
    triangle = Polygon(((Fraction(0), Fraction(0)), (Fraction(4), Fraction(0)), (Fraction(0), Fraction(4))))
    clipped = clip(triangle, rect(0, 0, 2, 2))
    assert isinstance(clipped, Polygon)
    assert clipped.area() == 4
    assert is_upright(clipped)
    assert clip(triangle, rect(5, 5, 6, 6)) is None


def test_an_upright_rectangle_is_clipped_to_what_both_share() -> None:
    """A 6 by 2 board in a window of 4 by 4 that begins 3 in along it keeps 3 by 2 inches."""
    board = Polygon(rect(0, 0, 6, 2).corners())
    assert clip(board, rect(3, -1, 7, 3)) == Polygon(rect(3, 0, 6, 2).corners())


def test_only_lines_close_by_are_looked_at() -> None:
    """Of three lines the one that touches the box and the one whose own box covers it; not the one a step away."""
    touching, slanted, away = ((0.0, 4.0), (2.0, 4.0)), ((-1.0, -1.0), (9.0, 9.0)), ((5.0, 0.0), (5.0, 9.0))
    assert lines_of([touching, slanted, away]).near((1.0, 1.0, 4.0, 4.0)) == [touching, slanted]
    assert lines_of([]).near((0.0, 0.0, 1.0, 1.0)) == []


@pytest.mark.parametrize("thick", [0, 1])
def test_a_level_line_takes_the_cells_that_a_hardly_slanted_one_does(thick: int) -> None:
    """Level lines are taken as slices, slanted ones spot by spot; a thousandth of a millimetre makes no difference."""
    shape = (40, 40)
    level, slanted = np.zeros(shape, dtype=bool), np.zeros(shape, dtype=bool)
    for cells, up in ((level, 5.2), (slanted, 5.201)):
        for where in cells_under([(3.1, 5.2), (14.4, up)], shape, thick=thick):
            cells[where] = True
    assert level.sum() == (23 + 2 * thick) * (1 + 2 * thick)
    assert (level == slanted).all()


@pytest.mark.parametrize(
    ("middle", "radius"), [((5.3, 6.1), 3.2), ((0.4, 9.8), 2.0), ((9.9, 0.1), 0.3), ((40.0, 5.0), 1.0)]
)
def test_a_disc_takes_the_cells_that_it_covers(middle: tuple[float, float], radius: float) -> None:
    """As shapely has it: every cell that lies in it, none that it does not touch, nothing past the sheet."""
    ground, disc = Ground((0.0, 0.0), 1.0, 10.0, 10.0), Point(middle).buffer(radius, quad_segs=64)
    ground.add([Area(None, LineKind.CUT, (middle,), radius)])
    for (across, up), surface in np.ndenumerate(ground.raster().surfaces):
        cell = box(across * CELL, up * CELL, (across + 1) * CELL, (up + 1) * CELL)
        assert surface or not disc.contains(cell)
        assert not surface or disc.buffer(CELL / 4).intersects(cell)


def test_a_circle_inside_stays_one_and_a_cut_one_becomes_a_polygon() -> None:
    """Half of a circle of radius 1 has pi/2 square inches, less what 48 corners lose."""
    circle = Circle((Fraction(0), Fraction(0)), Fraction(1))
    assert clip(circle, rect(-2, -2, 2, 2)) == circle
    half = clip(circle, rect(0, -2, 2, 2))
    assert isinstance(half, Polygon)
    assert float(half.area()) == pytest.approx(1.5708, rel=0.01)


@pytest.mark.parametrize(
    ("along", "off", "section", "elevation"),
    [("x", -1, "east", "north"), ("x", 1, "west", "south"), ("y", 1, "north", "west"), ("y", -1, "south", "east")],
)
def test_which_way_one_looks(along: str, off: int, section: str, elevation: str) -> None:
    """With the wall to the left: north wall, east; south wall, west; west wall, north; east wall, south."""
    frame = Frame(along, Fraction(0), off, "wall")  # type: ignore[arg-type]
    assert section_eye(frame, Fraction(0)).looking == section
    assert elevation_eye(frame, Fraction(9)).looking == elevation


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ("12.5", "12 and 1/2 inches"),
        ("76.2", "6 feet 4 and 3/16 inches"),
        ("0.5", "1/2 inch"),
        ("1", "1 inch"),
        ("48", "4 feet"),
    ],
)
def test_lengths_read_aloud(value: str, words: str) -> None:
    """Sizes in the sentence for screen readers are words, not signs."""
    assert spoken(Length(Fraction(value)), Paper(12, "imperial")) == words


def test_lengths_read_aloud_in_both_units() -> None:
    """4 ft are 1219.2 mm."""
    assert spoken(Length(Fraction(48)), Paper(12, "both")) == "4 feet (1219 millimeters)"


def test_a_rail_is_another_thing_on_a_stair() -> None:
    """One word may mean two things: the ladder's rail and the hand rail."""
    assert note_word("wall soffit", "rail") == "Ladder"
    assert note_word("stair opening", "rail") == "Hand rail"
    assert note_word("chase", "tie") == "Tie"


def test_names_in_a_sentence() -> None:
    """Three names take a comma and an and."""
    assert listed(["a", "b", "c"], SAY) == "a, b and c"
    assert listed(["a"], SAY) == "a"
    assert listed([], SAY) == ""

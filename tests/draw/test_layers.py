"""A sheet behind the board is a line where a view cuts it: on the front of the studs, with its key."""

from __future__ import annotations

from bookgen.model.sketch import Label, LineKind, Stroke, View
from tests.draw.drawn import drawn_by_key


def test_a_section_shows_the_sheet_of_a_wall_where_its_board_is() -> None:
    """The studs end 4.1 in off the block, and the board starts there."""
    section = drawn_by_key("imperial")["steps"][0]
    lines = [one for one in section.shapes if isinstance(one, Stroke) and one.line is LineKind.LAYER]
    assert section.view is View.SECTION
    drawn, swatch = lines[:-1], lines[-1]
    assert drawn
    assert {u for line in drawn for u, _ in line.points} == {4.1}
    assert swatch.points[0][1] == swatch.points[1][1] < min(v for line in drawn for _, v in line.points)
    assert "vapor layer" in {one.text for one in section.shapes if isinstance(one, Label)}


def test_a_view_that_cuts_no_sheet_has_none_in_its_key() -> None:
    """Looking at the wall from the room one sees board and framing."""
    for sketch in drawn_by_key("imperial")["steps"]:
        if sketch.view is View.ELEVATION:
            assert not any(isinstance(one, Stroke) and one.line is LineKind.LAYER for one in sketch.shapes)

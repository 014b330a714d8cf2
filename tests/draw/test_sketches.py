"""Sketches of made-up soffits: sizes are those of the model, nothing overlaps, nothing leaves the sheet."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations, pairwise

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from bookgen.draw import plan, sketches
from bookgen.draw.meetings import crosses
from bookgen.draw.paper import Paper
from bookgen.draw.sheet import label_box
from bookgen.model.length import Length, show_feet, show_inches
from bookgen.model.sketch import (
    TAG_HIGH,
    TAG_LONG,
    Area,
    Dot,
    Label,
    LineKind,
    Sketch,
    Stroke,
    TagMark,
)
from tests.draw.house import BOARD, FLOOR, JOISTS, SoffitSizes, solved_house

SIXTEENTH = Fraction(1, 16)
Box = tuple[float, float, float, float]


def section_of(sizes: SoffitSizes | None = None, *, units: str = "imperial", tag: bool = False) -> Sketch:
    """Return the section of the small house's soffit."""
    found, problems = sketches(solved_house(sizes, units=units, tag=tag))
    assert not problems
    return found["drain"][0]


def paper_of(sketch: Sketch) -> Paper:
    """Return the paper of a sketch."""
    return Paper(int(sketch.scale), "imperial")


def boxes_of(sketch: Sketch) -> list[tuple[str, Box]]:
    """Return what each text and tag covers."""
    paper = paper_of(sketch)
    found = [(s.text, label_box(s, paper)) for s in sketch.shapes if isinstance(s, Label)]
    for mark in (s for s in sketch.shapes if isinstance(s, TagMark)):
        (u, v), long, half = mark.at, paper.inches(TAG_LONG), paper.inches(TAG_HIGH / 2)
        left = u - long if mark.flipped else u
        found.append((f"tag {mark.tag}", (left, v - half, left + long, v + half)))
    return found


def overlap(first: Box, second: Box) -> bool:
    """Tell whether two boxes share area."""
    return first[0] < second[2] and second[0] < first[2] and first[1] < second[3] and second[1] < first[3]


def lines_of(sketch: Sketch, *kinds: LineKind) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Return the segments of all strokes of these kinds."""
    strokes = (s for s in sketch.shapes if isinstance(s, Stroke) and s.line in kinds)
    return [pair for stroke in strokes for pair in pairwise(stroke.points)]


def assert_tidy(sketch: Sketch) -> None:
    """Check what holds for every sketch: texts apart, on the sheet, off the lines; leaders off one another."""
    boxes = boxes_of(sketch)
    for (one, first), (other, second) in combinations(boxes, 2):
        assert not overlap(first, second), f"{one} lies on {other}"
    for text, (left, low, right, high) in boxes:
        assert sketch.low[0] <= left, text
        assert right <= sketch.high[0], text
        assert sketch.low[1] <= low, text
        assert high <= sketch.high[1], text
    sizes = lines_of(sketch, LineKind.DIMENSION, LineKind.PLANNED)
    for text, (left, low, right, high) in boxes:
        for line in sizes:
            met = crosses(line, ((left, low), (right, high))) or crosses(line, ((left, high), (right, low)))
            assert not met, f"a dimension line runs through {text}"
    leaders = [s.points for s in sketch.shapes if isinstance(s, Stroke) and s.line is LineKind.LEADER]
    for first, second in combinations(leaders, 2):
        assert first[0] == second[0] or not any(crosses(a, b) for a in pairwise(first) for b in pairwise(second)), (
            "leaders cross"
        )
    for leader in leaders:
        assert not any(crosses(a, b) for a in pairwise(leader) for b in sizes), "a leader crosses a dimension"


def test_printed_sizes_are_distances_of_the_model() -> None:
    """The soffit of the example: 12 off the block and 77 up framed, so 12 1/2 over the board and 76.2 of headroom."""
    texts = [s.text for s in section_of().shapes if isinstance(s, Label)]
    assert show_inches(Length(Fraction("12.5"))) in texts
    assert f"{show_feet(Length(Fraction('76.2')))} headroom" in texts
    assert show_feet(Length(Fraction("76.2"))) == "6′\u00a04\u200a3⁄16″"  # 77 - 1/2 - 0.3 = 76.2, nearest 1/16: 76 3/16


def test_dimension_lines_are_as_long_as_they_say() -> None:
    """Flat dimension lines between ticks measure 12 1/2 and 7 7/8 inches: nothing is stretched."""
    flat = [abs(b[0] - a[0]) for a, b in lines_of(section_of(), LineKind.DIMENSION, LineKind.PLANNED) if a[1] == b[1]]
    assert any(length == pytest.approx(12.5) for length in flat)
    assert any(length == pytest.approx(7.9) for length in flat)


def test_metric_projects_print_millimetres() -> None:
    """12 1/2 inches are 317.5 mm and a half goes up; the scale is one of the metric series of ISO 5455."""
    sketch = section_of(units="metric")
    assert "318\u00a0mm" in [s.text for s in sketch.shapes if isinstance(s, Label)]
    assert sketch.scale in {10, 20, 25, 50}
    assert_tidy(sketch)


def test_north_wall_is_seen_looking_east() -> None:
    """With the north wall to the left and up up, one looks east; looking west it would be to the right."""
    assert section_of().title.endswith("looking east")


def test_title_strip_says_what_whose_how_large_and_when() -> None:
    """The strip carries project, obstacle, view, the architect's scale, the book's own date, no permit."""
    sketch = section_of()
    texts = [s.text for s in sketch.shapes if isinstance(s, Label)]
    for words in ("Small", "Main drain along the north wall", "1 in = 1 ft", "January\u00a02, 2026"):
        assert words in texts
    assert "Planned, not yet confirmed. Not for permit" in texts
    assert any(text.startswith("Section A at 8′") for text in texts)  # cut at station 100 = 8 ft 4 in
    assert "8′" in sketch.caption


def test_scale_is_standard_and_sheet_narrow() -> None:
    """The scale is one of the architect's; the sheet is narrow enough for 11 px type on a telephone 360 px wide."""
    sketch = section_of()
    wide, _ = sketch.paper_size()
    assert sketch.scale in {8, 12, 16, 24, 32, 48, 96}
    assert 360 / wide * 3.8 >= 11


def test_every_key_entry_is_used_and_every_hatch_has_one() -> None:
    """An entry of the key stands for a hatch or a line of the drawing itself, beside its own swatch."""
    sketch = section_of()
    cut = [s.material for s in sketch.shapes if isinstance(s, Area) and s.line is LineKind.CUT]
    drawn = {s.line for s in sketch.shapes if isinstance(s, Stroke)}
    for entry in sketch.entries:
        if entry.material is not None:
            assert cut.count(entry.material) >= 2, entry.words  # the swatch and at least one piece
        else:
            assert entry.line in drawn


def test_end_grain_is_crossed() -> None:
    """The two rails and the cleat, cut across their grain, carry both diagonals; the joist beyond carries none."""
    sketch = section_of()
    diagonals = [s for s in sketch.shapes if isinstance(s, Stroke) and s.line is LineKind.DETAIL]
    assert len(diagonals) >= 2 * 3


def test_hidden_pieces_are_left_out() -> None:
    """Fifteen rungs stand behind one another; only the nearest is drawn."""
    beyond = [s for s in section_of().shapes if isinstance(s, Area) and s.line is LineKind.BEYOND]
    assert len(beyond) < 12


def test_a_tag_takes_the_note_of_the_thing_it_is_on() -> None:
    """The cleanout's tag stands at its note, and the drain it sits on is not named twice."""
    sketch = section_of(tag=True)
    assert [s.tag for s in sketch.shapes if isinstance(s, TagMark)] == ["03"]
    texts = [s.text for s in sketch.shapes if isinstance(s, Label)]
    assert "Cleanout" in texts
    assert "Main drain" not in texts
    assert_tidy(sketch)


def test_same_input_same_sketch() -> None:
    """Two runs give equal sketches."""
    assert section_of() == section_of()


@settings(max_examples=5, deadline=None, phases=(Phase.explicit, Phase.generate))
@given(
    outside=st.integers(min_value=9 * 16, max_value=30 * 16),
    bottom=st.integers(min_value=70 * 16, max_value=82 * 16),
    pipe=st.integers(min_value=105, max_value=120),
)
def test_soffits_of_many_sizes_are_tidy(outside: int, bottom: int, pipe: int) -> None:
    """Whatever the reach and the drop: texts and leaders stay clear of one another and sizes stay true."""
    sizes = SoffitSizes(outside * SIXTEENTH, bottom * SIXTEENTH, pipe * SIXTEENTH, bottom * SIXTEENTH + 4)
    sketch = section_of(sizes)
    assert_tidy(sketch)
    texts = [s.text for s in sketch.shapes if isinstance(s, Label)]
    assert f"{show_feet(Length(sizes.bottom - BOARD - FLOOR))} headroom" in texts
    drop = Length(JOISTS - BOARD - (sizes.bottom - BOARD))
    assert show_inches(drop) in texts or show_feet(drop) in texts


def test_plan_names_rooms_and_tags_access_points() -> None:
    """The plan carries the room's name, the tag with its leader and dot, a scale bar and a north arrow."""
    sketch = plan(solved_house(tag=True))
    texts = [s.text for s in sketch.shapes if isinstance(s, Label)]
    assert "Family room" in texts
    assert "N" in texts
    assert [s.tag for s in sketch.shapes if isinstance(s, TagMark)] == ["03"]
    assert any(isinstance(s, Dot) for s in sketch.shapes)
    boxes = boxes_of(sketch)
    for (one, first), (other, second) in combinations(boxes, 2):
        assert not overlap(first, second), f"{one} lies on {other}"


def test_plan_draws_what_is_hidden_dashed() -> None:
    """The drain along the north wall is a dashed outline on the plan."""
    hidden = lines_of(plan(solved_house()), LineKind.HIDDEN)
    assert any(a[1] == b[1] and abs(b[0] - a[0]) == pytest.approx(150) for a, b in hidden)

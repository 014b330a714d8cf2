"""Every sketch of the sample house, as data and as parsed SVG: tidy, true, small, readable on a telephone."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations

import pytest
from bs4 import BeautifulSoup

from bookgen.draw.words import lower_first, size
from bookgen.model.assembly import Material
from bookgen.model.length import Length
from bookgen.model.sketch import (
    MILLIMETRES_PER_INCH,
    TAG_HIGH,
    Area,
    Dot,
    Label,
    LineKind,
    Sketch,
    Stroke,
    TagMark,
    View,
)
from bookgen.model.solved import Solved
from bookgen.render.svg import write_svg
from tests.draw.contact_sheet import page
from tests.draw.drawn import drawn_by_key, every, house
from tests.draw.test_sketches import assert_tidy, boxes_of, overlap

SIDE = 360  # pixels of the narrowest telephone
READABLE = 11  # pixels of type
FOUR = {View.SECTION, View.PLAN, View.ELEVATION, View.CUTAWAY}
LARGEST = 40_000  # bytes
SAID_OF_A_SIZE = re.compile(r" (framed|headroom|to the ceiling|from the (west|south)( block( wall)?)?)$")


@pytest.fixture(scope="module")
def solved() -> Solved:
    """Return the sample house, solved."""
    return house("sample")


@pytest.fixture(scope="module")
def drawn() -> dict[str, tuple[Sketch, ...]]:
    """Return all sketches by obstacle, the plan under an empty key."""
    return drawn_by_key("sample")


def each(drawn: dict[str, tuple[Sketch, ...]]) -> Iterator[Sketch]:
    """Yield every sketch."""
    for views in drawn.values():
        yield from views


def test_every_treatment_has_its_views(solved: Solved, drawn: dict[str, tuple[Sketch, ...]]) -> None:
    """All four views of each treatment, two of them for everybody; a section where nothing is built."""
    for obstacle in solved.obstacles:
        views = drawn[obstacle.key]
        if obstacle.assembly is None or not obstacle.assembly.parts:
            assert [sketch.view for sketch in views] == [View.SECTION]
            continue
        assert {sketch.view for sketch in views} == FOUR, obstacle.key
        assert [sketch.view for sketch in views if not sketch.further][1:] == [View.CUTAWAY], obstacle.key
        assert [sketch.further for sketch in views] == sorted(sketch.further for sketch in views)
    keys = [sketch.key for sketch in each(drawn)]
    assert len(keys) == len(set(keys))


def test_all_sketches_are_tidy(drawn: dict[str, tuple[Sketch, ...]]) -> None:
    """Texts apart, on the sheet and off the lines; leaders cross neither one another nor a size."""
    for sketch in each(drawn):
        if sketch.view is not View.PLAN:  # names and tags of a plan stand over thin dashed lines
            assert_tidy(sketch)
    boxes = boxes_of(drawn[""][0])
    for (one, first), (other, second) in combinations(boxes, 2):
        assert not overlap(first, second), f"{one} lies on {other}"


def test_leaders_do_not_run_through_words(drawn: dict[str, tuple[Sketch, ...]]) -> None:
    """No leader passes behind the words of a note, its own included."""
    for sketch in each(drawn):
        leaders = [s.points for s in sketch.shapes if isinstance(s, Stroke) and s.line is LineKind.LEADER]
        points_right = {f"tag {s.tag}": s.flipped for s in sketch.shapes if isinstance(s, TagMark)}
        shoulder = TAG_HIGH * 0.45 * float(sketch.scale) / MILLIMETRES_PER_INCH  # a tag's end is pointed
        for text, (left, low, right, high) in boxes_of(sketch):
            if text in points_right:
                left, right = (left, right - shoulder) if points_right[text] else (left + shoulder, right)
            for points in leaders:
                for share in range(1, 40):
                    u = points[0][0] + (points[1][0] - points[0][0]) * share / 40
                    v = points[0][1] + (points[1][1] - points[0][1]) * share / 40
                    assert not (left < u < right and low < v < high), f"{sketch.key}: a leader runs through {text}"


def test_every_printed_size_is_one_of_the_model(solved: Solved, drawn: dict[str, tuple[Sketch, ...]]) -> None:
    """A strong text that starts with a figure is a size: a measure of that treatment, or its distance from a wall."""
    for obstacle in solved.obstacles:
        if obstacle.assembly is None:
            continue
        known = {
            size(measure.value, units="imperial", tall=tall)
            for measure in obstacle.assembly.measures
            for tall in (0, 1)
        }
        known |= {
            size(Length(min(box.low.on(axis) for box in obstacle.assembly.boxes())), units="imperial", tall=True)
            for axis in ("x", "y")
        }
        for sketch in drawn[obstacle.key]:
            ticks = any(isinstance(s, Stroke) and s.line is LineKind.TICK for s in sketch.shapes)
            texts = [s.text for s in sketch.shapes if isinstance(s, Label) and s.strong and s.text[:1].isdigit()]
            assert not texts or ticks, sketch.key
            for text in texts:
                figure = SAID_OF_A_SIZE.sub("", text)
                assert figure in known, f"{sketch.key} prints {text}"


def test_type_is_readable_on_a_telephone(drawn: dict[str, tuple[Sketch, ...]]) -> None:
    """A sheet as wide as the narrowest telephone shows its smallest type at 11 pixels."""
    for sketch in each(drawn):
        wide, _ = sketch.paper_size()
        smallest = min(s.height for s in sketch.shapes if isinstance(s, Label))
        assert SIDE / wide * smallest >= READABLE, sketch.key


def test_drawings_are_small_and_carry_no_style(drawn: dict[str, tuple[Sketch, ...]]) -> None:
    """Under 40 kB each, whole numbers in the viewBox, no style attribute; the key's hatches are in the drawing."""
    for sketch in each(drawn):
        text = write_svg(sketch)
        assert len(text) < LARGEST, sketch.key
        soup = BeautifulSoup(text, "html.parser")
        assert not soup.find_all(style=True)
        cut = [s.material for s in sketch.shapes if isinstance(s, Area) and s.line is LineKind.CUT]
        for entry in sketch.entries:
            if isinstance(entry.material, Material):
                assert cut.count(entry.material) >= 2, f"{sketch.key}: {entry.words}"


def test_each_access_point_has_its_tag_on_the_plan(solved: Solved, drawn: dict[str, tuple[Sketch, ...]]) -> None:
    """Twenty tags on the sheet of the plan, each with its dot on the access point, none outside the house's width."""
    sheet = drawn[""][0]
    spots = {spot.tag: spot.at for obstacle in solved.obstacles for spot in obstacle.access}
    tags = [shape for shape in sheet.shapes if isinstance(shape, TagMark)]
    assert sorted(tag.tag for tag in tags) == sorted(spots)
    dots = {dot.at for dot in sheet.shapes if isinstance(dot, Dot)}
    assert dots == {(float(at.x), float(at.y)) for at in spots.values()}
    for tag in tags:
        assert sheet.low[0] < tag.at[0] < sheet.high[0]


def test_a_section_through_an_access_point_shows_its_tag(solved: Solved, drawn: dict[str, tuple[Sketch, ...]]) -> None:
    """A section that is cut for the sake of an access point carries the number of that one, however wide the work."""
    seen = 0
    for file in solved.project.obstacles:
        sections = [one for one in drawn[file.key] if one.view is View.SECTION] if file.key in drawn else []
        for point, sketch in ((point, one) for point in file.record.access for one in sections):
            if f", at {lower_first(point.what)}," in sketch.caption:
                assert point.tag in {mark.tag for mark in sketch.shapes if isinstance(mark, TagMark)}, sketch.key
                seen += 1
    assert seen >= 2


def test_cutaways_are_drawn_without_painting_over(drawn: dict[str, tuple[Sketch, ...]]) -> None:
    """What is hidden in a cutaway is not there at all: faces of different things never overlap."""
    from shapely import Polygon, union_all

    for sketch in each(drawn):
        if sketch.view is View.CUTAWAY:
            faces = [Polygon(s.corners) for s in sketch.shapes if isinstance(s, Area) and s.radius is None]
            total = sum(face.area for face in faces)
            assert total == pytest.approx(union_all([face.buffer(0) for face in faces]).area, rel=0.01), sketch.key


def test_the_contact_sheet_shows_everything() -> None:
    """One page with a figure for each sketch, twice over with another house on it, and every id on it once."""
    text = page((house("imperial"), house("metric")))
    assert text.count("<figure") == len(every(drawn_by_key("imperial"))) + len(every(drawn_by_key("metric")))
    ids = re.findall(r' id="([^"]+)"', text)
    assert len(ids) > 2 * text.count("<figure")  # a title and a sentence each, and hatches
    assert len(ids) == len(set(ids))

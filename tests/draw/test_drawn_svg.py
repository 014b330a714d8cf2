"""Sketches as parsed SVG, of the sample, of odd treatments and of made-up soffits: what a draughtsman would check."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import combinations, pairwise
from xml.etree.ElementTree import Element, fromstring

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from bookgen.draw.meetings import crosses
from bookgen.draw.plan import JOISTS
from bookgen.model.assembly import Material
from bookgen.model.length import Length, parse_length, show_inches
from bookgen.model.sketch import Area, Label, LineKind, Shape, Sketch, Stroke, View
from bookgen.model.solved import Solved
from bookgen.model.widths import CAP_HEIGHT, DESCENT, text_width
from bookgen.render.svg import write_svg
from bookgen.render.svg_hatch import is_hatched
from bookgen.solve import solve
from tests.draw.drawn import HOUSES, by_key, drawn_by_key, every, house
from tests.draw.houses import odd_house, stair_house, steps_house
from tests.draw.test_sample import LARGEST
from tests.draw.test_sketches import lines_of, overlap
from tests.generated import house as made_up

WHOLE = re.compile(r"-?\d+")
NEAR = Fraction(1, 16)  # inches: half a mark of the tape at either end
SUFFIX = re.compile(r" (framed|headroom|to the ceiling)$")
UPRIGHT = re.compile(r"rotate\(-90 (-?\d+) (-?\d+)\)")
HIDDEN_MATERIALS = frozenset({Material.PLASTIC, Material.COPPER, Material.SHEET, Material.CABLE})
KEYED_LINES = frozenset(
    {
        LineKind.HIDDEN,
        LineKind.CENTRE,
        LineKind.GHOST,
        LineKind.OVERHEAD,
        LineKind.PLANE,
        LineKind.LAYER,
        LineKind.FREE,
        LineKind.PLANNED,
    }
)
SIZE_LINES = (LineKind.DIMENSION, LineKind.PLANNED)


HOUSE = pytest.mark.parametrize("name", HOUSES)


def drawn(name: str) -> tuple[Sketch, ...]:
    """Return every sketch of a house, the level plan last."""
    return every(drawn_by_key(name))


@cache
def svg_of(sketch: Sketch) -> Element:
    """Return the parsed drawing, parsed once."""
    return fromstring(write_svg(sketch).replace(' xmlns="http://www.w3.org/2000/svg"', ""))  # noqa: S314 - our own


def texts_of(svg: Element) -> Iterator[tuple[str, tuple[float, float, float, float]]]:
    """Yield each text of a drawing with the box that it covers, in drawing units, y down."""
    for text in svg.iter("text"):
        words, strong = "".join(text.itertext()), "sk-strong" in text.get("class", "")
        high = float(text.get("font-size", svg.get("font-size", "")))
        wide, x, y = text_width(words, high, strong=strong), float(text.get("x", "")), float(text.get("y", ""))
        back = {"start": 0.0, "middle": wide / 2, "end": wide}[text.get("text-anchor", "start")]
        if UPRIGHT.fullmatch(text.get("transform", "")):
            yield words, (x - high * CAP_HEIGHT, y + back - wide, x + high * DESCENT, y + back)
        else:
            yield words, (x - back, y - high * CAP_HEIGHT, x - back + wide, y + high * DESCENT)


def assert_drawn_well(sketch: Sketch) -> None:
    """Check one drawing: texts apart and on the sheet, whole numbers, small."""
    svg = svg_of(sketch)
    left, top, wide, high = (int(part) for part in svg.get("viewBox", "").split())
    boxes = list(texts_of(svg))
    for words, box in boxes:
        assert left <= box[0], f"{sketch.key}: {words} leaves the sheet"
        assert top <= box[1], f"{sketch.key}: {words} leaves the sheet"
        assert box[2] <= wide + 1, f"{sketch.key}: {words} leaves the sheet"
        assert box[3] <= high + 1, f"{sketch.key}: {words} leaves the sheet"
    for (one, first), (other, second) in combinations(boxes, 2):
        assert not overlap(first, second), f"{sketch.key}: {one} lies on {other}"
    for element in svg.iter():
        for name in ("d", "x", "y", "cx", "cy", "r", "width", "height", "font-size"):
            for number in re.findall(r"[-\d.eE]+", element.get(name, "")):
                assert WHOLE.fullmatch(number), f"{sketch.key}: {element.tag} {name} {number}"
    assert len(write_svg(sketch)) < LARGEST, sketch.key


def sizes_of(sketch: Sketch) -> Iterator[tuple[str, float]]:
    """Yield the text of each dimension and how far its two ticks stand apart, in inches of the model."""
    ticks: list[Stroke] = []
    for shape in sketch.shapes:
        if isinstance(shape, Stroke) and shape.line is LineKind.TICK:
            ticks.append(shape)
        elif isinstance(shape, Label) and len(ticks) == 2:
            middles = [tuple((a + b) / 2 for a, b in zip(*tick.points, strict=True)) for tick in ticks]
            yield shape.text, max(abs(a - b) for a, b in zip(*middles, strict=True))
            ticks = []


def assert_sizes_are_true(sketch: Sketch) -> None:
    """Check that each dimension is as long in the drawing as it says; one over a break is longer than it is drawn."""
    broken = len({s.points[0] for s in sketch.shapes if isinstance(s, Stroke) and s.line is LineKind.BREAK}) > 1
    for text, drawn_length in sizes_of(sketch):
        says, *again = (parse_length(part).inches for part in SUFFIX.sub("", text).rstrip(")").split(" ("))
        assert all(abs(one - says) <= NEAR for one in again), f"{sketch.key}: {text}"
        if broken and text.endswith(("headroom", "to the ceiling")):
            assert says >= drawn_length - NEAR, f"{sketch.key}: {text}"
        elif not (broken and sketch.view is View.SECTION and says > drawn_length):
            assert abs(says - drawn_length) <= NEAR, f"{sketch.key}: {text} is drawn {drawn_length}"


def key_is_complete(sketch: Sketch) -> None:
    """Check that the key has an entry for each hatch and line of the drawing, and none for another."""
    swatches = {entry.material for entry in sketch.entries if entry.material is not None}
    lines = {entry.line for entry in sketch.entries if entry.line is not None}
    cut = [s.material for s in sketch.shapes if isinstance(s, Area) and s.line is LineKind.CUT]
    hatched = {material for material in cut if is_hatched(material)}
    assert hatched <= swatches, sketch.key
    assert all(cut.count(material) >= 2 for material in swatches), sketch.key
    layers = sketch.layers or ("",) * len(sketch.shapes)
    shown = [shape for shape, layer in zip(sketch.shapes, layers, strict=True) if layer != JOISTS]
    used = [s.line for s in shown if isinstance(s, (Area, Stroke)) and s.line in KEYED_LINES]
    assert set(used) == lines, sketch.key
    assert all(used.count(line) >= 2 for line in lines), sketch.key
    words = {text for text, _ in texts_of(svg_of(sketch))}
    assert {entry.words for entry in sketch.entries} <= words, sketch.key


def assert_hidden_is_not_solid(sketch: Sketch) -> None:
    """Check that nothing hidden has a solid outline or, where one looks at a finished face, any fill."""
    solid = {LineKind.CUT, LineKind.BEYOND, LineKind.WALL}

    def hidden(shape: Shape) -> bool:
        return isinstance(shape, Area) and shape.material in HIDDEN_MATERIALS

    found = [shape for shape in sketch.shapes if isinstance(shape, Area) and hidden(shape)]
    assert not [shape for shape in found if shape.line in solid], sketch.key
    if sketch.view is View.ELEVATION and "from below" not in sketch.title:
        assert not found, sketch.key


@HOUSE
def test_texts_stand_apart_on_the_sheet_and_numbers_are_whole(name: str) -> None:
    """Measured with the font's own widths: no two texts overlap, none leaves the viewBox; under 40 kB."""
    for sketch in drawn(name):
        assert_drawn_well(sketch)


@HOUSE
def test_every_dimension_is_as_long_as_it_says(name: str) -> None:
    """The distance between its ticks, taken back from the drawing, is the printed one to a sixteenth."""
    for sketch in drawn(name):
        assert_sizes_are_true(sketch)


@HOUSE
def test_dimension_lines_do_not_cross(name: str) -> None:
    """No dimension line runs through another one: chains lie in rows, overall sizes outside."""
    for sketch in drawn(name):
        assert_no_sizes_cross(sketch)


def assert_no_sizes_cross(sketch: Sketch) -> None:
    """Check that no level dimension line meets an upright one."""
    lines = [
        (stroke.points[0], stroke.points[1])
        for before, stroke in pairwise(sketch.shapes)
        if isinstance(stroke, Stroke) and stroke.line in SIZE_LINES and not _is_size(before)
    ]
    for first, second in combinations(lines, 2):
        level = [a[1] == b[1] for a, b in (first, second)]
        assert level[0] == level[1] or not crosses(first, second), sketch.key


def _is_size(before: Shape) -> bool:
    """Tell whether a dimension stroke after this shape is an extension line: the line itself comes first."""
    return isinstance(before, Stroke) and before.line in (*SIZE_LINES, LineKind.TICK)


@HOUSE
def test_the_key_names_what_is_drawn_and_nothing_else(name: str) -> None:
    """Each hatch and each line type of the drawing has its entry; each entry is used outside the key."""
    for sketch in drawn(name):
        key_is_complete(sketch)


@HOUSE
def test_nothing_hidden_is_drawn_solid(name: str) -> None:
    """What is hidden is a ghost in sections and plans and dashed in elevations; only a cutaway lays it open."""
    bare = {one.key for one in house(name).obstacles if one.assembly is None or not one.assembly.parts}
    for sketch in drawn(name):
        if sketch.view is not View.CUTAWAY and sketch.key.removesuffix("-section") not in bare:
            assert_hidden_is_not_solid(sketch)


@HOUSE
def test_each_cut_is_marked_where_it_is_seen_edge_on(name: str) -> None:
    """The letter of every section stands on the plan of the treatment, beside its cutting plane."""
    for obstacle in house(name).obstacles:
        own = [sketch for sketch in drawn(name) if sketch.key.startswith(f"{obstacle.key}-")]
        plans = [sketch for sketch in own if sketch.key == f"{obstacle.key}-plan"]
        titles = [sketch.title for sketch in own if sketch.view is View.SECTION and plans]
        letters = [match[1] for title in titles if (match := re.search(r": section (\w+) at ", title))]
        assert len(letters) == len(set(letters)) == len(titles)
        shown = {s.text for s in plans[0].shapes if isinstance(s, Label)} if plans else set()
        assert set(letters) <= shown, obstacle.key
        assert not plans or len(lines_of(plans[0], LineKind.PLANE)) > len(letters)  # one more in the key


@HOUSE
def test_a_screen_reader_hears_what_a_person_would_see(name: str) -> None:
    """Title and sentence name the obstacle, the view and, where there are sizes, the first of them."""
    for sketch in drawn(name):
        svg = svg_of(sketch)
        title, desc = svg.find("title"), svg.find("desc")
        assert svg.get("role") == "img"
        assert title is not None and desc is not None  # noqa: PT018 - one thing: both are there
        says = desc.text or ""
        assert sketch.view.value in (title.text or "").casefold(), sketch.key
        assert says.endswith("."), sketch.key
        sized = any(text in says for text in ("inch", "feet", "foot", "millimet"))
        assert sized or not list(sizes_of(sketch)), sketch.key


def test_the_same_house_gives_the_same_bytes() -> None:
    """Solved, drawn and written anew, every drawing is the same text."""
    anew = every(by_key(odd_house()))
    assert [write_svg(sketch) for sketch in anew] == [write_svg(sketch) for sketch in drawn("imperial")]


def assert_house_is_drawn_well(solved: Solved) -> None:
    """Check all drawings of a house: texts apart, sizes true, key complete, nothing hidden drawn solid."""
    for sketch in every(by_key(solved)):
        assert_drawn_well(sketch)
        assert_sizes_are_true(sketch)
        key_is_complete(sketch)
        if sketch.view is not View.CUTAWAY:
            assert_hidden_is_not_solid(sketch)


def test_a_made_up_level_is_drawn_well() -> None:
    """Soffits along a wall, round ducts and under a beam, and a wrapped post, of the generator's own measures."""
    project = made_up(4)
    record = project.record.model_copy(update={"units": "both"})
    found, problems = solve(replace(project, record=record))
    assert found is not None, problems
    assert_house_is_drawn_well(found)


def assert_stairs_are_drawn_well(tread: int, risers: int, way: str) -> None:
    """Check all drawings of an opened stair; its rail and cap stand on the nosings that each view draws."""
    solved = stair_house(tread, risers, way)
    assert_house_is_drawn_well(solved)
    found = {sketch.view: [text for text, _ in sizes_of(sketch)] for sketch in every(by_key(solved))}
    assert {"3′\u00a00″", "3″"} <= set(found[View.SECTION])
    rise = show_inches(Length(Fraction(100, risers)))
    assert {rise, show_inches(Length(Fraction(tread, 16)))} <= set(found[View.ELEVATION])


@settings(max_examples=2, deadline=None, phases=(Phase.explicit, Phase.generate))
@given(tread=st.integers(9 * 16, 11 * 16), risers=st.integers(12, 15), way=st.sampled_from(["east", "west"]))
def test_stairs_are_drawn_well(tread: int, risers: int, way: str) -> None:
    """Whichever way and however steeply they go up: texts apart, sizes true, key complete."""
    assert_stairs_are_drawn_well(tread, risers, way)


@pytest.mark.long
@settings(max_examples=60, deadline=None, phases=(Phase.generate,))
@given(tread=st.integers(9 * 16, 11 * 16), risers=st.integers(12, 15), way=st.sampled_from(["east", "west"]))
def test_many_stairs_are_drawn_well(tread: int, risers: int, way: str) -> None:
    """The same over dozens of stairs."""
    assert_stairs_are_drawn_well(tread, risers, way)


def assert_steps_are_drawn_well(outside: int, up: int) -> None:
    """Check all drawings of a soffit in steps."""
    assert_house_is_drawn_well(steps_house(outside, up))


@settings(max_examples=2, deadline=None, phases=(Phase.explicit, Phase.generate))
@given(outside=st.integers(12 * 16, 24 * 16), up=st.integers(78 * 16, 84 * 16))
def test_soffits_in_steps_are_drawn_well(outside: int, up: int) -> None:
    """Whatever the lower drain's place: texts apart, sizes true, key complete."""
    assert_steps_are_drawn_well(outside, up)


@pytest.mark.long
@settings(max_examples=60, deadline=None, phases=(Phase.generate,))
@given(outside=st.integers(12 * 16, 24 * 16), up=st.integers(78 * 16, 84 * 16))
def test_many_soffits_in_steps_are_drawn_well(outside: int, up: int) -> None:
    """The same over dozens of houses."""
    assert_steps_are_drawn_well(outside, up)

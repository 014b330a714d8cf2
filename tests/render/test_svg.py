"""Sketches written as SVG: whole units, classes, ids, resolved colours for print, the same bytes each time."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import font_source_sans_pro
import pikepdf
import pytest
import typst
from bs4 import BeautifulSoup, Tag

from bookgen.model.assembly import Material
from bookgen.model.length import Length, inches, show_inches
from bookgen.model.sketch import (
    Anchoring,
    Area,
    Dot,
    KeyEntry,
    Label,
    LineKind,
    Sketch,
    Stroke,
    TagMark,
    View,
)
from bookgen.render.svg import UNITS, sketch_css, tag_path, write_both, write_svg
from bookgen.render.svg_palette import DARK, LIGHT, PRINT

FONTS = Path(font_source_sans_pro.__file__).parent / "files"


@pytest.fixture
def sketch() -> Sketch:
    """A block, a board, a pipe, a dimension with a fraction, a note, a tag: 12 by 6 in at 1 in = 1 ft."""
    size = show_inches(Length(inches("12.9375").inches))
    return Sketch(
        key="drain-section",
        view=View.SECTION,
        title="Drain <&> soffit",
        desc="A drain in a soffit.",
        caption="1 in = 1 ft. Not for permit.",
        scale=inches(12).inches,
        low=(0.0, 0.0),
        high=(12.0, 6.0),
        shapes=(
            Area(Material.BLOCK, LineKind.CUT, ((0.0, 0.0), (2.0, 0.0), (2.0, 6.0), (0.0, 6.0))),
            Area(Material.BOARD, LineKind.CUT, ((2.0, 0.0), (2.5, 0.0), (2.5, 6.0), (2.0, 6.0)), outlined=False),
            Area(Material.LUMBER, LineKind.BEYOND, ((3.0, 0.0), (4.0, 0.0), (4.0, 1.0))),
            Area(Material.PLASTIC, LineKind.CUT, ((6.0, 3.0),), 1.75, 1.5),
            Stroke(LineKind.DIMENSION, ((3.0, 1.0), (9.0, 1.0))),
            Stroke(LineKind.DIMENSION, ((3.0, 2.0), (9.0, 2.5))),
            Label(size, (6.0, 1.2), 3.8, Anchoring.MIDDLE, turned=True, strong=True),
            Label("3 in PVC & more", (8.0, 4.0), 3.0, Anchoring.START, quiet=True),
            Dot((6.0, 3.0)),
            TagMark("03", (8.0, 5.0), flipped=True),
        ),
        entries=(KeyEntry("block wall", material=Material.BLOCK),),
    )


def soup_of(text: str) -> Tag:
    """Return the parsed drawing."""
    svg = BeautifulSoup(text, "html.parser").find("svg")
    assert isinstance(svg, Tag)
    return svg


def test_view_box_is_whole_and_true_to_scale(sketch: Sketch) -> None:
    """12 in at 1 in = 1 ft are 1 in on paper, 25.4 mm of 20 units each; no width or height on the site."""
    svg = soup_of(write_svg(sketch))
    assert svg["viewbox"] == f"0 0 {round(25.4 * UNITS)} {round(12.7 * UNITS)}"
    assert "width" not in svg.attrs


def test_print_has_its_true_size(sketch: Sketch) -> None:
    """On paper the drawing is as large as its scale says: 25.4 by 12.7 mm."""
    svg = soup_of(write_svg(sketch, PRINT))
    assert (svg["width"], svg["height"]) == ("25.4mm", "12.7mm")


def test_both_at_once_are_what_each_is_alone(sketch: Sketch) -> None:
    """For the site and for print, to the byte."""
    assert write_both(sketch, PRINT) == (write_svg(sketch), write_svg(sketch, PRINT))


def test_every_number_is_whole(sketch: Sketch) -> None:
    """Geometry is in whole units: no decimal point in any path, centre, radius or position."""
    svg = soup_of(write_svg(sketch))
    for element in svg.find_all(True):
        for name in ("d", "x", "y", "cx", "cy", "r", "transform"):
            assert "." not in element.get(name, ""), f"{element.name} {name}"


def test_screen_readers_get_title_and_sentence(sketch: Sketch) -> None:
    """The drawing is one image, named by its own title and desc; both are escaped."""
    svg = soup_of(write_svg(sketch))
    assert svg["role"] == "img"
    words = [svg.find(id=name) for name in str(svg["aria-labelledby"]).split()]
    assert [word.get_text() for word in words if word] == ["Drain <&> soffit", "A drain in a soffit."]


def test_ids_belong_to_the_sketch(sketch: Sketch) -> None:
    """Two sketches on one page can't take each other's hatches: every id starts with a letter and the sketch's key."""
    svg = soup_of(write_svg(sketch))
    ids = [str(element["id"]) for element in svg.find_all(id=True)]
    assert len(ids) == len(set(ids))
    assert all(one.startswith("sketch-drain-section-") for one in ids)
    used = set(re.findall(r"url\(#([^)]+)\)", str(svg)))
    assert used <= set(ids)


def test_only_hatches_in_use_are_carried(sketch: Sketch) -> None:
    """Block and board are cut here and bring a tile each; concrete does not; no tile holds text."""
    patterns = soup_of(write_svg(sketch)).find_all("pattern")
    named = {str(pattern["id"]).removeprefix("sketch-drain-section-") for pattern in patterns}
    assert named == {"block", "board"}
    assert len(patterns) == len(named)
    assert not [text for pattern in patterns for text in pattern.find_all("text")]


def test_site_drawing_holds_no_colour(sketch: Sketch) -> None:
    """Themes restyle by class: neither a colour nor a style sheet stands in the drawing itself."""
    text = write_svg(sketch)
    assert not re.search(r"#[0-9a-f]{6}\b", text)
    assert "<style" not in text


def test_print_drawing_holds_no_variable(sketch: Sketch) -> None:
    """Print engines know classes but no variables: all colours are resolved."""
    text = write_svg(sketch, PRINT)
    assert "var(" not in text
    assert PRINT.ink in text


def test_every_class_has_a_rule(sketch: Sketch) -> None:
    """Whatever class the writer uses, the site's style sheet knows it."""
    css = sketch_css(LIGHT, DARK)
    for element in soup_of(write_svg(sketch)).find_all(class_=re.compile("^sk-")):
        for name in element["class"]:
            assert f".{name}" in css, name


def test_dark_changes_every_line_and_page_but_keeps_names() -> None:
    """Dark has a value for each colour of light, and ink and page change places."""
    css = sketch_css(LIGHT, DARK)
    assert css.count("--sk-ink:") == 2
    assert "@media screen and (prefers-color-scheme:dark)" in css  # a page printed at night stays white


def test_no_inline_style(sketch: Sketch) -> None:
    """The site's content policy refuses style attributes: another type size is an attribute of its own."""
    svg = soup_of(write_svg(sketch))
    assert not svg.find_all(style=True)
    small = svg.find("text", string="3 in PVC & more")
    assert isinstance(small, Tag)
    assert small["font-size"] == "60"  # 3 mm of 20 units
    assert svg["font-size"] == "76"
    assert "font-size" not in sketch_css(LIGHT, DARK)  # a rule would win over the attribute


def test_fractions_are_spans_of_their_own(sketch: Sketch) -> None:
    """12 15/16: the fraction alone is marked, so that no whole digit is drawn into it."""
    spans = soup_of(write_svg(sketch)).find_all("tspan", class_="sk-fr")
    assert [span.get_text() for span in spans] == ["15⁄16"]


def test_turned_text_reads_from_the_right(sketch: Sketch) -> None:
    """Text on a standing dimension is turned a quarter to the left about its own spot."""
    text = soup_of(write_svg(sketch)).find("text", transform=True)
    assert isinstance(text, Tag)
    assert str(text["transform"]) == f"rotate(-90 {text['x']} {text['y']})"


def test_strokes_of_a_kind_share_a_path(sketch: Sketch) -> None:
    """Two dimension lines in a row become one path with two starts."""
    paths = soup_of(write_svg(sketch)).find_all("path", class_="sk-l-dimension")
    assert len(paths) == 1
    assert str(paths[0]["d"]).count("M") == 2


def test_tag_path_is_closed_and_within_its_size() -> None:
    """A hang tag 180 by 108 units: outline and hole are closed, and no number exceeds its length."""
    path = tag_path(180, 108)
    assert path.count("Z") == 2
    assert max(int(number) for number in re.findall(r"\d+", path)) == 180


def test_same_sketch_same_bytes(sketch: Sketch) -> None:
    """Two runs give the same text, for the site and for print."""
    assert write_svg(sketch) == write_svg(sketch)
    assert write_svg(sketch, PRINT) == write_svg(sketch, PRINT)


def test_print_engine_sets_it_in_our_font(sketch: Sketch, tmp_path: Path) -> None:
    """The print engine reads the drawing and, with system fonts shut out, finds Source Sans Pro for its text."""
    (tmp_path / "sketch.svg").write_text(write_svg(sketch, PRINT), encoding="utf-8")
    (tmp_path / "page.typ").write_text('#set page(width: auto, height: auto)\n#image("sketch.svg")\n', encoding="utf-8")
    data = typst.compile(tmp_path / "page.typ", font_paths=[FONTS], ignore_system_fonts=True)
    with pikepdf.open(BytesIO(data)) as pdf:
        names = {str(o.get("/BaseFont")) for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and "/BaseFont" in o}
    assert names
    assert all("SourceSansPro" in name for name in names)


def test_layers_are_groups_and_tags_lead_on(sketch: Sketch) -> None:
    """Shapes of one layer stand in groups of its class, in their place among the others; a named tag is a link."""
    line = Stroke(LineKind.BEYOND, ((0.0, 0.0), (9.0, 0.0)))
    shapes = (line, line, TagMark("01", (5.0, 5.0)), TagMark("02", (5.0, 9.0)), line)
    layered = replace(sketch, shapes=shapes, layers=("", "soil gas", "water", "water", ""))
    svg = soup_of(write_svg(layered, links={"01": ("chapters/one.html#tag-01", "Tag 01: valve & meter")}))
    assert [group["class"] for group in svg.find_all("g")] == [["layer", "layer-soil-gas"], ["layer", "layer-water"]]
    (link,) = svg.find_all("a")
    assert (link["href"], link["aria-label"]) == ("chapters/one.html#tag-01", "Tag 01: valve & meter")
    assert link.find("text").text == "01"
    assert svg["role"] == "group"
    assert soup_of(write_svg(layered))["role"] == "img"


def test_a_sheet_with_some_layers_keeps_what_always_shows(sketch: Sketch) -> None:
    """The plan with the water alone: what has no layer stays, all else goes, and the rest is the same sheet."""
    first, second, third = (Stroke(LineKind.BEYOND, ((0.0, y), (9.0, y))) for y in (0.0, 1.0, 2.0))
    layered = replace(sketch, shapes=(first, second, third), layers=("", "water", "gas"))
    alone = layered.only("water", name="water")
    assert alone.shapes == (first, second)
    assert alone.layers == ()
    assert alone.key != layered.key

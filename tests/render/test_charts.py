"""Charts written as SVG: classes and words only, whole units, texts apart and on the sheet, the same each time."""

from __future__ import annotations

import re
import warnings
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise
from xml.etree.ElementTree import Element, fromstring

import pytest

from bookgen.model.chart import (
    AlongRun,
    Chart,
    HeadroomMap,
    NamedSpot,
    Profile,
    Share,
    Shares,
    Step,
    Tick,
    TimeLine,
    Underside,
    WorkRow,
)
from bookgen.render.charts import drawn_chart
from bookgen.render.svg_palette import LIGHT, PRINT, sketch_css
from tests.draw.test_drawn_svg import texts_of
from tests.draw.test_sketches import overlap

LONG = "A name that goes on & on <b>, as names in other people's records do, and then some, " + "x" * 90
HALF = "6′ 4\u200a1\u20442″"


def _box(left: float, low: float, right: float, high: float) -> tuple[tuple[float, float], ...]:
    return (left, low), (right, low), (right, high), (left, high)


LEVEL = HeadroomMap(
    wide=432.0,
    high=288.0,
    bands=("6′ 4″ to 6′ 8″", "", "7′ 0″ to 7′ 4″", "7′ 4″ to 7′ 8″", "7′ 8″ to 8′ 0″", "8′ 0″ to 8′ 4″"),
    undersides=(Underside(_box(4, 4, 428, 284), 2), Underside(_box(4, 250, 428, 284), 0, planned=True)),
    walls=(((4.0, 4.0), (428.0, 4.0)),),
    stairs=(_box(84, 4, 204, 42),),
    stair="stair",
    planned="planned, not yet confirmed",
    spots=(NamedSpot("a", (200.0, 267.0), LONG, HALF), NamedSpot("b", (200.0, 100.0), "Family room, ceiling", "7′")),
)
RUN = AlongRun(
    "from the west block wall",
    tuple(Tick(48.0 * n, f"{4 * n}′ 0″") for n in range(6)),
    (
        Profile(
            "Headroom",
            (Step(4.0, 32.0, 76.5, HALF), Step(32.0, 36.0, 80.0, "6′ 8″"), Step(48.0, 200.0, 77.0, "6′ 5″")),
            tuple(Tick(75.0 + n, f"6′ {3 + n}″") for n in range(6)),
            Tick(76.0, f"asked: at least 6′ 4″, {LONG}"),
            hangs=True,
        ),
        Profile("Reach", (Step(4.0, 200.0, 8.0, "8″"),), (Tick(0.0, "0″"), Tick(12.0, "12″"))),
    ),
)
SHARES = Shares((Share(LONG, 0.995, "100 %, about 9,990 lb"), Share("2x4", 0.005, "1 %, about 10 lb")))
WORK = TimeLine(
    ("Before", "Framed", "Finished"),
    (Tick(100.0, "March 2026"), Tick(131.0, "April"), Tick(161.0, "May")),
    (WorkRow(LONG, ((101,), (120, 121), (150,))), WorkRow("Drain", ((), (), (140,)))),
)
FIGURES = {"map": LEVEL, "run": RUN, "shares": SHARES, "work": WORK}
EACH = pytest.mark.parametrize("name", FIGURES)


def chart(name: str) -> Chart:
    """Return a chart with words that a page must escape."""
    return Chart(name, f"{name} <title> & more", "Says <what> is seen & more.", "Caption", FIGURES[name])


@cache
def svg(name: str) -> str:
    """Return the drawing of a chart for the site."""
    return drawn_chart(chart(name)).svg()


def parsed(name: str) -> Element:
    """Return the drawing, parsed."""
    return fromstring(svg(name).replace(' xmlns="http://www.w3.org/2000/svg"', ""))  # noqa: S314 - our own


@EACH
def test_a_chart_is_the_same_text_each_time(name: str) -> None:
    """Neither the day nor the run is in it."""
    assert drawn_chart(chart(name)).svg() == svg(name)
    assert "matplotlib" not in svg(name).casefold()


@EACH
def test_a_chart_carries_classes_and_no_look_of_its_own(name: str) -> None:
    """A page that refuses inline style shows it, and each class is in the style sheet of the sketches."""
    known = set(re.findall(r"\.(sk-[a-z0-9-]+)", sketch_css()))
    for element in parsed(name).iter():
        assert element.tag in {"svg", "title", "desc", "path", "text", "tspan"}
        assert not {"style", "fill", "stroke", "id"} & set(element.attrib) or element.tag in {"title", "desc"}
        classes = set(element.get("class", "").split()) - {"sketch", "chart"}
        assert classes <= known, classes - known


@EACH
def test_words_stand_apart_on_the_sheet_in_whole_units(name: str) -> None:
    """Measured with the font's own widths, names of any length among them."""
    drawing = parsed(name)
    _, _, wide, high = (int(part) for part in drawing.get("viewBox", "").split())
    boxes = list(texts_of(drawing))
    for words, box in boxes:
        assert box[0] >= 0, words
        assert box[1] >= 0, words
        assert box[2] <= wide + 1, words
        assert box[3] <= high + 1, words
    for (one, first), (other, second) in combinations(boxes, 2):
        assert not overlap(first, second), f"{one} lies on {other}"
    for element in drawing.iter():
        for attribute in ("d", "x", "y"):
            assert "." not in element.get(attribute, "")


@EACH
def test_a_chart_says_in_words_what_is_seen(name: str) -> None:
    """Title and sentence are escaped, its own, and named by the drawing."""
    drawing = parsed(name)
    named = drawing.get("aria-labelledby", "").split()
    assert drawing.get("role") == "img"
    assert [one.get("id") for one in (drawing.find("title"), drawing.find("desc")) if one is not None] == named
    assert drawing.findtext("desc") == "Says <what> is seen & more."


def test_every_word_of_a_chart_is_text() -> None:
    """Names, values and limits are there to be read and copied; a fraction is set as one."""
    words = " ".join("".join(text.itertext()) for text in parsed("run").iter("text"))
    assert HALF in words
    assert "IRC" not in words
    assert "at least 6′ 4″" in words
    assert [one.text for one in parsed("run").iter("tspan") if one.get("class") == "sk-fr"] == ["1\u20442"]


def test_a_sign_that_no_font_has_is_nothing_to_warn_of() -> None:
    """A name of stacked marks or of a script that is not carried: it stands there as written, and nothing is told."""
    name = "Z\u0351\u036b\u0343 \u1200\u1300 \U0001f6b0"
    odd = replace(LEVEL, spots=(NamedSpot("a", (200.0, 267.0), name, HALF),))
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        drawn = drawn_chart(Chart("odd", "Odd", "Odd", "Odd", odd))
    assert name.split()[-1] in drawn.svg()


def test_a_value_on_a_step_that_is_too_short_is_left_to_the_axis() -> None:
    """Words wider than their step would run over its neighbours."""
    words = ["".join(text.itertext()) for text in parsed("run").iter("text")]
    assert words.count("6′ 8″") == 1  # on the axis alone


def test_for_print_a_chart_has_its_true_size_and_its_colours() -> None:
    """The print engine knows no variables; 124 mm are 2480 units."""
    drawn = drawn_chart(chart("shares"))
    printed = drawn.svg(PRINT)
    assert f'width="124mm" height="{drawn.high:g}mm"' in printed
    assert "var(" not in printed
    assert 'viewBox="0 0 2480 ' in printed


def test_bands_grow_paler_with_height_and_stay_apart_in_black_and_white() -> None:
    """By their luminance, each band of a photocopy is lighter than the one below it."""
    colours = LIGHT.colours()
    found = [int(colours[f"band_{n}"][1:3], 16) * 0.3 + int(colours[f"band_{n}"][3:5], 16) * 0.59 for n in range(6)]
    assert all(high - low > 8 for low, high in pairwise(found))

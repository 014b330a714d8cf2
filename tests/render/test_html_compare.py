"""Finished walls to look through, before and finished, and marks: with a script, without one, by every hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from bookgen.cache import known_cache
from bookgen.model.book import Book, PictureMark, SeeThrough
from bookgen.model.evidence import Homography, Pane
from bookgen.render.drawings import Figures, drawings_of
from bookgen.render.html import render_site
from bookgen.render.themes import load_theme
from tests.render.book_fixture import BOOK, CORNER, picture
from tests.render.site_fixture import picture_sets

MARKS = (
    PictureMark("point", "03", True, "Drain plug", ((45.0, 72.0),), "40 in east", "measured on the photo"),
    PictureMark("box", "A", False, "Cover", ((60.0, 80.0), (40.0, 60.0))),
    PictureMark("arrow", "B", False, "Main <drain>", ((20.0, 20.0), (30.0, 25.0))),
)
FINISHED, FRAMED = picture("corner-finished", "The finished corner"), picture("corner-framed", "The framed corner")
SEE = SeeThrough(
    "framed-finished",
    FINISHED,
    replace(FRAMED, marks=MARKS),
    (Pane(Homography(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))),),
    "The white pipe behind the board",
    "The framed wall laid over the finished one.",
    "What lies deeper may look 1 in off.",
    MARKS,
)
BEFORE = picture("corner-before", "The bare corner")
COMPARED = replace(CORNER, see_throughs=(SEE,), before_after=(BEFORE, FINISHED))
PAGE = "chapters/03-drain-and-stack.html"


def bound(folder: Path) -> Path:
    """Write the site of a book with one see-through; return the page of its chapter."""
    book: Book = replace(BOOK, chapters=tuple(COMPARED if one is CORNER else one for one in BOOK.chapters))
    sets = picture_sets(book, folder / "pictures")
    overlay = picture_sets(
        replace(BOOK, chapters=(replace(COMPARED, hero=replace(FINISHED, digest=SEE.key)),)), folder / "pictures"
    )
    sets[SEE.key] = overlay[SEE.key]
    figures = Figures(sets, drawings_of(book))
    render_site(book, load_theme(book.theme), figures, folder, (), known_cache().sort("fonts"))
    return folder / PAGE


@pytest.fixture(scope="module")
def page_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of the chapter with the see-through."""
    return bound(tmp_path_factory.mktemp("compare"))


@pytest.fixture
def page(page_file: Path) -> BeautifulSoup:
    """The same page, parsed."""
    return BeautifulSoup(page_file.read_text("utf-8"), "html5lib")


def test_both_pictures_have_words(page: BeautifulSoup) -> None:
    """Without a script the finished picture and the one with the framing stand side by side, each with its words."""
    first, second = page.select(".through .compare img")
    assert first["alt"] == FINISHED.alt
    assert second["alt"] == SEE.alt
    assert SEE.shift in page.select_one(".through figcaption").get_text()


def test_marks_are_named_for_those_who_cannot_see_them(page: BeautifulSoup) -> None:
    """The drawing says all marks in one line; the list under it says where the measured one is, and how known."""
    drawing = page.select_one(".through svg.marks")
    assert drawing["role"] == "img"
    assert all(f"{mark.label} {mark.what}" in drawing["aria-label"] for mark in MARKS)
    rows = [row.get_text(" ", strip=True) for row in page.select(".through .mark-list li")]
    assert len(rows) == len(MARKS)
    assert "40 in east" in rows[0]
    assert "measured on the photo" in rows[0]


def test_no_style_is_inline(page: BeautifulSoup) -> None:
    """The content security policy of the page lets none in."""
    assert page.select(".through [style], .phases [style], .compare [style]") == []


def test_before_and_finished_wait_for_the_script(page: BeautifulSoup) -> None:
    """The phases below show both pictures anyway, so without a script the slider's own are not shown twice."""
    assert page.select_one("#phases ~ .compare").has_attr("hidden")


@pytest.mark.browser
def test_keys_fade_and_wipe(browser, page_file: Path) -> None:
    """The slider is reached by tab and moved by arrow; fade changes how solid the framing is, wipe how much is cut."""
    context = browser.new_context(viewport={"width": 1000, "height": 800})
    tab = context.new_page()
    said: list[str] = []
    tab.on("console", lambda message: said.append(message.text))
    tab.goto(page_file.as_uri())
    slider = tab.get_by_role("slider").first
    slider.focus()
    tab.keyboard.press("Home")
    solid = "getComputedStyle(document.querySelector('.through .compare-second picture')).opacity"
    assert tab.evaluate(solid) == "0"
    tab.keyboard.press("End")
    assert tab.evaluate(solid) == "1"
    tab.keyboard.press("ArrowLeft")
    assert slider.get_attribute("aria-valuetext") == "99 %"
    tab.get_by_role("button", name="Wipe").focus()
    tab.keyboard.press("Enter")
    assert tab.get_by_role("button", name="Wipe").get_attribute("aria-pressed") == "true"
    cut = "getComputedStyle(document.querySelector('.through .compare-second picture')).clipPath"
    assert tab.evaluate(cut).startswith("inset(0px 1%")
    assert tab.locator("#phases ~ .compare").is_visible()
    context.close()
    assert said == []


@pytest.mark.browser
def test_mouse_and_finger_move_it(browser, page_file: Path) -> None:
    """A press on the picture at a quarter of its width shows a quarter; the same by a finger drawn across."""
    context = browser.new_context(viewport={"width": 390, "height": 800}, has_touch=True)
    tab = context.new_page()
    tab.goto(page_file.as_uri())
    sheet, slider = tab.locator(".through .compare-sheet"), tab.get_by_role("slider").first
    sheet.scroll_into_view_if_needed()
    box = sheet.bounding_box()
    tab.mouse.click(box["x"] + box["width"] / 4, box["y"] + 40)
    assert abs(int(slider.input_value()) - 25) <= 1
    for kind, share in (("pointerdown", 0.5), ("pointermove", 0.75)):
        x = box["x"] + box["width"] * share
        tab.evaluate(
            """([kind, x, y]) => document.querySelector('.through .compare-sheet').dispatchEvent(
                new PointerEvent(kind, {clientX: x, clientY: y, buttons: 1, pointerType: 'touch', bubbles: true}))""",
            [kind, x, box["y"] + 40],
        )
    assert abs(int(slider.input_value()) - 75) <= 1
    assert tab.evaluate("document.documentElement.scrollWidth") <= 390
    context.close()


@pytest.mark.browser
def test_without_a_script_there_are_two_pictures_and_no_control(browser, page_file: Path) -> None:
    """They stand side by side on a wide screen; nothing is offered that would not work."""
    context = browser.new_context(viewport={"width": 1200, "height": 800}, java_script_enabled=False)
    tab = context.new_page()
    tab.goto(page_file.as_uri())
    first, second = (
        tab.locator(".through .compare-first").bounding_box(),
        tab.locator(".compare-second").first.bounding_box(),
    )
    assert first["x"] + first["width"] <= second["x"]
    assert abs(first["y"] - second["y"]) < 1
    assert tab.get_by_role("slider").count() == 0
    assert not tab.locator("#phases ~ .compare").is_visible()
    context.close()

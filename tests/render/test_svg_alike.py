"""The same sketches in the browser and in the print engine, compared as pictures."""

from __future__ import annotations

import base64
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import font_source_sans_pro
import numpy as np
import pytest
import typst
from numpy.typing import NDArray
from PIL import Image, ImageFilter
from playwright.sync_api import Browser

from bookgen.model.sketch import MILLIMETRES_PER_INCH, Label, Sketch, View
from bookgen.render.svg import write_svg
from bookgen.render.svg_palette import PRINT
from tests.draw.drawn import drawn_by_key, every

FONTS = Path(font_source_sans_pro.__file__).parent / "files"
FACES = ((400, "SourceSansPro-Regular.ttf"), (600, "SourceSansPro-Semibold.ttf"))
PIXELS_PER_INCH = 192
# How far may the pictures differ? Both smooth edges their own way, so each is blurred by a pixel or two first.
BLUR = 1.6
MEAN = 3.0  # grey steps of 255 on average: a third of a pixel of shift
FAR, SHARE = 70, 0.0003  # grey steps that count as another thing, and the share of pixels that may be so

Grey = NDArray[np.int16]


def in_browser(sketch: Sketch, browser: Browser) -> Image.Image:
    """Return the drawing as the browser shows it."""
    rules = "".join(
        f'@font-face{{font-family:"Source Sans Pro";font-weight:{weight};'
        f"src:url(data:font/ttf;base64,{base64.b64encode((FONTS / name).read_bytes()).decode()})}}"
        for weight, name in FACES
    )
    page = browser.new_page(device_scale_factor=PIXELS_PER_INCH / 96)
    try:
        page.set_content(f"<style>{rules}body{{margin:0}}svg{{display:block}}</style>{write_svg(sketch, PRINT)}")
        page.evaluate("document.fonts.ready")
        return Image.open(BytesIO(page.locator("svg").screenshot()))
    finally:
        page.close()


def in_print(sketch: Sketch, folder: Path) -> Image.Image:
    """Return the drawing as the print engine sets it, in our fonts only."""
    (folder / "sketch.svg").write_text(write_svg(sketch, PRINT), encoding="utf-8")
    page = '#set page(width: auto, height: auto, margin: 0pt, fill: white)\n#image("sketch.svg")\n'
    (folder / "page.typ").write_text(page, encoding="utf-8")
    data = typst.compile(
        folder / "page.typ", font_paths=[FONTS], ignore_system_fonts=True, format="png", ppi=PIXELS_PER_INCH
    )
    assert isinstance(data, bytes)
    return Image.open(BytesIO(data))


def grey(picture: Image.Image, size: tuple[int, int]) -> Grey:
    """Return a picture as blurred grey steps, cut to a size: a screenshot takes in the part of a pixel at its edge."""
    plain = picture.convert("RGB").crop((0, 0, *size)).convert("L")
    return np.asarray(plain.filter(ImageFilter.GaussianBlur(BLUR)), dtype=np.int16)


def far_apart(first: Grey, second: Grey) -> tuple[float, float]:
    """Return the mean difference in grey steps, and the share of pixels that show another thing."""
    off = np.abs(first - second)
    return float(off.mean()), float((off > FAR).mean())


@pytest.mark.parametrize("view", [View.SECTION, View.CUTAWAY, View.PLAN])
def test_browser_and_print_show_the_same_drawing(view: View, browser: Browser, tmp_path: Path) -> None:
    """A stepped soffit with hatches, ghosts, dimensions, fractions, tags and notes: alike to the tolerance."""
    sketch = next(one for one in every(drawn_by_key("imperial")) if one.view is view)
    pictures = in_browser(sketch, browser), in_print(sketch, tmp_path)
    wide, high = (round(side / MILLIMETRES_PER_INCH * PIXELS_PER_INCH) for side in sketch.paper_size())
    for picture in pictures:
        assert picture.size == pytest.approx((wide, high), abs=3)
    first, second = (grey(picture, (wide, high)) for picture in pictures)
    mean, share = far_apart(first, second)
    assert mean < MEAN
    assert share < SHARE


def test_the_comparison_sees_a_word_that_is_missing(browser: Browser, tmp_path: Path) -> None:
    """The same drawing without one of its notes is told from it: the tolerance is not too wide."""

    sketch = next(one for one in every(drawn_by_key("imperial")) if one.view is View.SECTION)
    longest = max((s for s in sketch.shapes if isinstance(s, Label)), key=lambda label: len(label.text))
    less = replace(sketch, shapes=tuple(shape for shape in sketch.shapes if shape is not longest))
    whole, lacking = in_browser(sketch, browser), in_print(less, tmp_path)
    _, share = far_apart(grey(whole, whole.size), grey(lacking, whole.size))
    assert share > SHARE

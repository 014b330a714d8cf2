"""The same sketches in the browser and in the print engine, compared as pictures."""

from __future__ import annotations

import base64
import re
from contextlib import closing
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import font_source_sans_pro
import numpy as np
import pypdfium2
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
POINTS_PER_INCH = 72
# How far may the pictures differ? Both smooth edges their own way, so each is blurred by a pixel or two first.
BLUR = 1.6
MEAN = 3.0  # grey steps of 255 on average: a third of a pixel of shift
AFAR, TONE = 16.0, 12  # pixels of blur in which a hatch becomes a tone, and how many grey steps such tones may differ
FAR, SHARE = 70, 0.0003  # grey steps that count as another thing, and the share of pixels that may be so

Grey = NDArray[np.int16]


def in_browser(svg: str, browser: Browser) -> Image.Image:
    """Return the drawing as the browser shows it."""
    rules = "".join(
        f'@font-face{{font-family:"Source Sans Pro";font-weight:{weight};'
        f"src:url(data:font/ttf;base64,{base64.b64encode((FONTS / name).read_bytes()).decode()})}}"
        for weight, name in FACES
    )
    page = browser.new_page(device_scale_factor=PIXELS_PER_INCH / 96)
    try:
        page.set_content(f"<style>{rules}body{{margin:0}}svg{{display:block}}</style>{svg}")
        page.evaluate("document.fonts.ready")
        return Image.open(BytesIO(page.locator("svg").screenshot()))
    finally:
        page.close()


def in_print(svg: str, folder: Path) -> Image.Image:
    """Return the drawing as the print engine sets it, in our fonts only."""
    (folder / "sketch.svg").write_text(svg, encoding="utf-8")
    page = '#set page(width: auto, height: auto, margin: 0pt, fill: white)\n#image("sketch.svg")\n'
    (folder / "page.typ").write_text(page, encoding="utf-8")
    data = typst.compile(folder / "page.typ", font_paths=[FONTS], ignore_system_fonts=True)
    assert isinstance(data, bytes)
    # By way of the PDF, as a book is printed.
    with closing(pypdfium2.PdfDocument(data)) as document:
        return document[0].render(scale=PIXELS_PER_INCH / POINTS_PER_INCH).to_pil()


def in_tints(sketch: Sketch) -> str:
    """Return a sketch as SVG without the lines of its hatches: each viewer begins their tiles where it likes."""
    return re.sub(r"(<pattern[^>]*><rect[^>]*/>).*?(</pattern>)", r"\1\2", write_svg(sketch, PRINT))


def grey(picture: Image.Image, size: tuple[int, int], blur: float = BLUR) -> Grey:
    """Return a picture as blurred grey steps, cut to a size: a screenshot takes in the part of a pixel at its edge."""
    plain = picture.convert("RGB").crop((0, 0, *size)).convert("L")
    return np.asarray(plain.filter(ImageFilter.GaussianBlur(blur)), dtype=np.int16)


def far_apart(first: Grey, second: Grey) -> tuple[float, float]:
    """Return the mean difference in grey steps, and the share of pixels that show another thing."""
    off = np.abs(first - second)
    return float(off.mean()), float((off > FAR).mean())


def first_of(view: View) -> Sketch:
    """Return the first sketch of a stepped soffit with hatches, ghosts, dimensions, fractions, tags and notes."""
    return next(one for one in every(drawn_by_key("imperial")) if one.view is view)


@pytest.mark.parametrize("view", [View.SECTION, View.CUTAWAY, View.PLAN])
def test_browser_and_print_show_the_same_drawing(view: View, browser: Browser, tmp_path: Path) -> None:
    """All lines and words are alike to the tolerance."""
    sketch = first_of(view)
    pictures = in_browser(in_tints(sketch), browser), in_print(in_tints(sketch), tmp_path)
    wide, high = (round(side / MILLIMETRES_PER_INCH * PIXELS_PER_INCH) for side in sketch.paper_size())
    for picture in pictures:
        assert picture.size == pytest.approx((wide, high), abs=3)
    first, second = (grey(picture, (wide, high)) for picture in pictures)
    mean, share = far_apart(first, second)
    assert mean < MEAN
    assert share < SHARE


def test_browser_and_print_hatch_alike(browser: Browser, tmp_path: Path) -> None:
    """Seen from afar every hatch is as dark in one as in the other, and darker than its tint alone."""
    sketch = first_of(View.SECTION)
    hatched = write_svg(sketch, PRINT)
    screen, paper = in_browser(hatched, browser), in_print(hatched, tmp_path)
    tints = in_print(in_tints(sketch), tmp_path)
    seen, printed, plain = (grey(picture, screen.size, AFAR) for picture in (screen, paper, tints))
    assert np.abs(seen - printed).max() < TONE
    assert np.abs(plain - printed).max() > TONE


def test_the_comparison_sees_a_word_that_is_missing(browser: Browser, tmp_path: Path) -> None:
    """The same drawing without one of its notes is told from it: the tolerance is not too wide."""
    sketch = first_of(View.SECTION)
    longest = max((s for s in sketch.shapes if isinstance(s, Label)), key=lambda label: len(label.text))
    less = replace(sketch, shapes=tuple(shape for shape in sketch.shapes if shape is not longest))
    whole, lacking = in_browser(in_tints(sketch), browser), in_print(in_tints(less), tmp_path)
    _, share = far_apart(grey(whole, whole.size), grey(lacking, whole.size))
    assert share > SHARE

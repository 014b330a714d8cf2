"""The print book shows the finished wall with the framing as a ghost, the marks on it, and says what they are."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pikepdf
from PIL import Image

from bookgen.render.drawings import Figures, drawings_of
from bookgen.render.pictures import PictureFile, PictureSet
from bookgen.render.themes import load_theme
from tests.render.book_fixture import BOOK, CORNER
from tests.render.printing import print_book
from tests.render.test_html_compare import COMPARED, FRAMED, MARKS, SEE
from tests.render.test_print import OWNER, pages


def test_the_ghost_is_printed_with_its_marks(tmp_path: Path) -> None:
    """Caption, shift and every mark with its place; the ghost is the print copy of the see-through, and no other."""
    assert any(one is CORNER for one in BOOK.chapters)
    phases = tuple(
        replace(phase, pictures=(replace(FRAMED, marks=MARKS),)) if phase.name == "framed" else phase
        for phase in COMPARED.phases
    )
    terms = {**OWNER.terms, "see through": "See through the finished wall"}
    book = replace(OWNER, chapters=(replace(COMPARED, phases=phases),), terms=terms)
    (tmp_path / "pictures").mkdir()
    sets = {}
    for key in (SEE.key, *(one.digest for one in book.pictures())):
        name = f"{key[:12]}-print.jpg"
        Image.new("RGB", (40, 30), "#998877").save(tmp_path / "pictures" / name)
        sets[key] = PictureSet(key, 1600, 1200, (PictureFile(name, 40, 30, "jpeg", "print"),))

    print_book(book, load_theme("chalkline"), Figures(sets, drawings_of(book)), tmp_path, {})

    text = " ".join("".join(pages(tmp_path / "book.pdf")).split())
    for words in ("See through the finished wall", SEE.caption, SEE.shift, *(mark.what for mark in MARKS)):
        assert words in text
    assert text.count("40 in east") == 2  # on the ghost and on the framed picture of its phase
    assert _said(tmp_path / "book.pdf", SEE.alt)


def _said(file: Path, words: str) -> bool:
    """Tell whether some figure of the file has *words* for those who can't see it."""
    with pikepdf.open(file) as pdf:
        return any(isinstance(one, pikepdf.Dictionary) and str(one.get("/Alt", "")) == words for one in pdf.objects)

"""What belongs together stands on one page of print: heads and what they head, photos and their words; none is bare."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pikepdf
import pypdfium2
import pytest

from bookgen.bind import bind
from bookgen.compose.terms import terms
from bookgen.model.book import Edition
from tests.render.test_print import bookmarks

PROJECTS = Path(__file__).parents[2] / "projects"


HEAD_AND_FOOT = 20  # mm of a page at its top, and at its foot, that the running head and the number stand in
PAPER = 250  # of 255; what is lighter is the sheet itself
LEAST_FILLED = 0.15  # how far down a page its type goes, the least of it

FEW = 2  # sentences that stand between a head and what it heads


def parted(file: Path) -> list[tuple[str, int]]:
    """Return the kind and page of each head, head of a table, or figure whose next words stand on another page.

    So too of a figure or table that is parted from its head and a sentence or two; a chapter's title stands on a page
    of its own. Plans of one system each have their words above them, so that theirs are not asked for.
    """
    marks = bookmarks(file)
    plans = marks.get(terms("en")["plan"], 0)
    after_plans = min((page for page in marks.values() if page > plans), default=plans)
    with pikepdf.open(file) as pdf:
        numbers = {page.objgen: number for number, page in enumerate(pdf.pages, 1)}
        steps = [*_steps(pdf.Root.StructTreeRoot, numbers, 0), ("", 0)]
    found, above, since = [], 0, FEW + 1
    for place, (kind, page) in enumerate(steps):
        if not kind:
            above = page
            continue
        below = next(page for kind, page in steps[place:] if not kind)
        head = kind[0] == "H" and kind[1:].isdigit()
        late = kind in ("+Figure", "+Table") and since <= FEW
        since = (
            0
            if head and kind != "H1"
            else FEW + 1
            if kind in ("+Figure", "+Table")
            else since + (kind in ("P", "Span"))
        )
        captioned = kind == "Figure" and not plans <= above < after_plans
        if (head or late or kind == "THead" or captioned) and below not in (0, above):
            found.append((kind, above))
    return found


def _steps(element: Any, numbers: dict[tuple[int, int], int], page: int) -> Iterator[tuple[str, int]]:
    """Yield, in reading order, "" and its page for each piece of content; each kind as it begins (+) and ends."""
    page = numbers[element.Pg.objgen] if "/Pg" in element else page
    kind = str(element.get("/S", "")).removeprefix("/")
    if kind:
        yield f"+{kind}", page
    held = element.get("/K", [])
    for kid in held if isinstance(held, pikepdf.Array) else [held]:
        if not isinstance(kid, pikepdf.Dictionary):
            yield "", page
        elif kid.get("/Type") == "/MCR":
            yield "", numbers[kid.Pg.objgen] if "/Pg" in kid else page
        elif kid.get("/Type") != "/OBJR":
            yield from _steps(kid, numbers, page)
    if kind:
        yield kind, page


def nearly_empty(file: Path) -> list[tuple[int, int]]:
    """Return each page whose words and pictures end in the uppermost part of its type, and how far down, in percent.

    A page on which nothing stands is one that duplex printing leaves free.
    """
    found = []
    with closing(pypdfium2.PdfDocument(file)) as document:
        for number, page in enumerate(document, 1):
            shown = page.render(scale=0.5, grayscale=True).to_pil().convert("L")
            edge = round(HEAD_AND_FOOT * 72 / 25.4 / 2)
            ink = shown.crop((0, edge, shown.width, shown.height - edge)).point(lambda tone: 255 * (tone < PAPER))
            used = ink.getbbox()
            if used and used[3] < ink.height * LEAST_FILLED:
                found.append((number, 100 * used[3] // ink.height))
    return found


@pytest.mark.parametrize(
    ("name", "edition"),
    [
        ("heron", Edition.TRADE),
        pytest.param("heron", Edition.OWNER, marks=pytest.mark.long),
        *(pytest.param("tamarack", edition, marks=pytest.mark.long) for edition in Edition),
    ],
)
def test_nothing_is_parted_from_what_it_belongs_to(name: str, edition: Edition, tmp_path: Path) -> None:
    """No head at the foot of a page, no table parted from it, no caption overleaf: the tree of ISO 32000-1, 14.7.

    Nor does a page have a few lines at its top and nothing below them.
    """
    bound = bind(PROJECTS / name, edition, tmp_path / "book", lambda *_: None)

    assert bound.target is not None
    assert parted(bound.target / "book.pdf") == []
    assert nearly_empty(bound.target / "book.pdf") == []

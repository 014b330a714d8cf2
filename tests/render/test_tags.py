"""The label sheets: every code decoded from the printed page, nothing private in it, each tag once, the same bytes."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
import zxingcpp
from PIL import Image, ImageFilter

from bookgen.compose.terms import terms
from bookgen.model.book import Book, RegisterRow
from bookgen.render.tags import code_text, write_tags
from bookgen.render.themes import load_theme
from tests.render.book_fixture import BOOK, DANGER, TERMS

PRINT = 300 / 72  # pixels of a 300 dpi printer for each point
SHEET = replace(BOOK, terms={**TERMS, **terms("en").words})
LONG = "Behind the third panel from the left, at knee height, where the old doorway to the coal cellar once was. " * 2


def row(tag: str, what: str = "Valve", **changes: str) -> RegisterRow:
    """Return one line of the register."""
    first = RegisterRow(tag, what, "", "Hall", "north wall", "5 ft", "", "", "", "measured", "water-service", 1)
    return replace(first, **changes)


def sheet(*rows: RegisterRow, of: Book = SHEET) -> Book:
    """Return the book with just these lines in its register."""
    return replace(of, register=rows)


def written(book: Book, folder: Path) -> Path:
    """Return the file of the label sheets."""
    target = folder / "tags.pdf"
    write_tags(book, load_theme("chalkline"), target)
    return target


def pages(file: Path) -> Iterator[pypdfium2.PdfPage]:
    """Yield the pages of a PDF, by the engine of a browser."""
    with closing(pypdfium2.PdfDocument(file)) as document:
        for page in document:
            yield page
            page.close()


def printed(file: Path) -> list[Image.Image]:
    """Return the pages as a 300 dpi printer would put them on paper."""
    return [page.render(scale=PRINT).to_pil().convert("L") for page in pages(file)]


def decoded(images: list[Image.Image]) -> list[str]:
    """Return the text of every code on the pages, from top to bottom and left to right."""
    found = [
        (number, code.position.top_left.y // 100, code.position.top_left.x, code.text)
        for number, image in enumerate(images)
        for code in zxingcpp.read_barcodes(image)
    ]
    return [text for *_, text in sorted(found)]


def words(file: Path) -> str:
    """Return the text of all pages in one line."""
    found = []
    for page in pages(file):
        textpage = page.get_textpage()
        found.append(textpage.get_text_range())
        textpage.close()
    return " ".join(" ".join(found).split())


def test_every_code_reads_at_print_size(tmp_path: Path) -> None:
    """At 300 dpi an independent reader finds one code for each tag, with the book's id; no tag, no code."""
    assert decoded(printed(written(SHEET, tmp_path))) == [
        "BOOK tamarack-2 TAG 01 Main water valve",
        "BOOK tamarack-2 TAG 03 Drain plug",
        "BOOK tamarack-2 TAG 12 Shelf backing",
    ]


def test_codes_lead_to_the_book_on_the_web_where_there_is_one(tmp_path: Path) -> None:
    """With a web address in the record each code is a link to that page and its tag; still no house's address in it."""
    online = replace(SHEET, web="https://book.test/tamarack.html")
    assert decoded(printed(written(online, tmp_path))) == [
        f"https://book.test/tamarack.html#tag-{tag}" for tag in ("01", "03", "12")
    ]


def test_codes_read_when_the_print_is_poor(tmp_path: Path) -> None:
    """Blurred by a millimetre's fifth and photographed grey on grey at 150 dpi, each code still reads."""
    poor = []
    for image in printed(written(SHEET, tmp_path)):
        small = image.filter(ImageFilter.GaussianBlur(2.4)).resize((image.width // 2, image.height // 2))
        poor.append(small.point(lambda value: 70 + value * 110 // 255))
    assert len(decoded(poor)) == 3


def test_code_is_big_enough_and_has_its_quiet_zone(tmp_path: Path) -> None:
    """Each code is at least 17 mm wide with four light modules round it (ISO/IEC 18004, 6.3.8, from memory)."""
    image = printed(written(sheet(row("01")), tmp_path))[0]
    (code,) = zxingcpp.read_barcodes(image)
    corners = code.position
    wide = corners.top_right.x - corners.top_left.x
    assert wide / 300 * 25.4 >= 17
    quiet = round(wide / 25 * 3.5)  # a code of version 2 is 25 modules wide, and larger ones have smaller modules
    box = (
        corners.top_left.x - quiet,
        corners.top_left.y - quiet,
        corners.top_left.x - 3,
        corners.bottom_left.y + quiet,
    )
    assert image.crop(box).getextrema()[0] > 250


def test_nothing_private_is_in_a_code_or_on_a_label(tmp_path: Path) -> None:
    """Neither owner, address, street, key box nor phone: not in a code, not in the words, not in the file's data."""
    file = written(SHEET, tmp_path)
    said = " ".join((*decoded(printed(file)), words(file), *_metadata(file)))
    for secret in ("Verhoeven", "Tamarack Lane", "Pell Harbor", "4417", "555-"):
        assert secret not in said


def _metadata(file: Path) -> list[str]:
    with pikepdf.open(file) as pdf, pdf.open_metadata() as metadata:
        return [str(metadata), *(str(value) for value in dict(pdf.docinfo).values())]


def test_each_tag_stands_once_and_says_what_and_where(tmp_path: Path) -> None:
    """Number, name, trade word, room and place stand on the label beside the book's id, and who it was printed for."""
    said = words(written(SHEET, tmp_path))
    for once in ("Main water valve", "Drain plug", "Shelf backing", "Guest room. east wall", "tag 03"):
        assert said.count(once) == 1, once
    assert "Junction box" not in said
    assert "Owner edition · Revision 2, 15 June 2026" in said


def test_a_caution_of_its_own_is_on_the_label(tmp_path: Path) -> None:
    """The caution that belongs to the thing stands with its signal word; the chapter's others stay in the book."""
    said = words(written(sheet(row("01", caution=DANGER)), tmp_path))
    assert "DANGER: Leave at once" in said
    assert "bookcase" not in said
    assert "DANGER" not in words(written(sheet(row("02")), tmp_path))


def test_a_shutoff_says_how_it_is_closed(tmp_path: Path) -> None:
    """Whoever stands before an open cover needs the turn, not the book."""
    assert "A quarter turn clockwise" in words(written(sheet(row("01", turn="A quarter turn clockwise")), tmp_path))


def test_a_tag_without_a_chapter_has_no_caution(tmp_path: Path) -> None:
    """A tagged thing that belongs to no chapter still gets its label."""
    assert decoded(printed(written(sheet(row("31", chapter="")), tmp_path))) == ["BOOK tamarack-2 TAG 31 Valve"]


def test_long_words_stay_inside_the_cutting_line(tmp_path: Path) -> None:
    """However long name, place and caution are, the label grows; none runs into the next one, all codes read."""
    long = replace(DANGER, avoidance=LONG)
    rows = [row(f"{n:02}", f"Valve number {n} of the long row", where=LONG, caution=long) for n in range(1, 9)]
    file = written(sheet(*rows), tmp_path)
    assert decoded(printed(file)) == [code_text(SHEET, one) for one in rows]
    assert words(file).count("coal cellar once was.") == 8 * 4


def test_many_tags_run_over_pages_and_none_is_cut(tmp_path: Path) -> None:
    """Forty tags: several sheets, each code once, in the order of the register."""
    rows = [row(f"{n:02}", f"Valve {n}") for n in range(1, 41)]
    file = written(sheet(*rows), tmp_path)
    images = printed(file)
    assert len(images) > 2
    assert decoded(images) == [f"BOOK tamarack-2 TAG {n:02} Valve {n}" for n in range(1, 41)]


def test_markup_of_the_print_engine_stands_as_written(tmp_path: Path) -> None:
    """Stars, hashes, dollars and brackets in an owner's words are words."""
    odd = "#pagebreak() *bold* _it_ $x^2$ <tag> @ref [a] \\n // no"
    file = written(sheet(row("01", odd, where=odd)), tmp_path)
    assert words(file).count(odd) == 2
    assert decoded(printed(file)) == [f"BOOK tamarack-2 TAG 01 {odd}"]


def test_words_of_any_alphabet_go_into_a_code(tmp_path: Path) -> None:
    """Umlauts, accents and fractions come back as they were."""
    what = "Válvula ½, Hauptabsperrhahn für Kälte, 3\u20444 in"
    assert decoded(printed(written(sheet(row("01", what)), tmp_path))) == [f"BOOK tamarack-2 TAG 01 {what}"]


@pytest.mark.parametrize(("paper", "points"), [("letter", (612, 792)), ("A4", (595, 842))])
def test_paper_is_the_books(paper: str, points: tuple[int, int], tmp_path: Path) -> None:
    """US letter is 8.5 x 11 in, A4 210 x 297 mm (ISO 216)."""
    file = written(replace(SHEET, paper=paper), tmp_path)
    assert [(round(page.get_width()), round(page.get_height())) for page in pages(file)] == [points]


def test_no_tags_make_a_sheet_all_the_same(tmp_path: Path) -> None:
    """A book without a tag gets a sheet without labels, so that no link to it is broken."""
    assert decoded(printed(written(sheet(), tmp_path))) == []


def test_same_book_same_bytes(tmp_path: Path) -> None:
    """Nothing of the clock, the machine or the folder gets in."""
    first = written(SHEET, tmp_path).read_bytes()
    (tmp_path / "other").mkdir()
    assert written(SHEET, tmp_path / "other").read_bytes() == first


def test_sheet_is_archival_and_tagged(tmp_path: Path) -> None:
    """PDF/A-3a and PDF/UA-1 are declared, the codes have words for those who can't see them, the title is set."""
    with pikepdf.open(written(SHEET, tmp_path)) as pdf:
        with pdf.open_metadata() as metadata:
            assert metadata.pdfa_status == "3A"
            assert metadata["pdfuaid:part"] == "1"
            assert metadata["dc:title"] == SHEET.terms["tags title"]
        assert pdf.Root.MarkInfo.Marked
        alts = [str(o.Alt) for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/S") == "/Figure"]
    assert sorted(alts) == ["QR code of tag 01", "QR code of tag 03", "QR code of tag 12"]

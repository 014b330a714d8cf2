"""The print book, read back by other libraries: archival, tagged, its links, heads and fonts; words as they were."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import closing
from dataclasses import dataclass, fields, is_dataclass, replace
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf
import pypdfium2
import pytest
from PIL import Image

from bookgen.compose.terms import terms
from bookgen.model.book import Block, Book, Phase, RoomTab, Run, WalkGroup
from bookgen.render.drawings import Figures, drawings_of
from bookgen.render.engine import set_pdf
from bookgen.render.pictures import PictureFile, PictureSet
from bookgen.render.themes import load_theme
from tests.render.book_fixture import BEAM, BOOK, TERMS, sample_book, trade_book
from tests.render.printing import print_book

WORDS = {**TERMS, **terms("en").words}
OWNER = replace(BOOK, terms=WORDS)
PARTS = (
    "Shutoffs first",
    WORDS["when something is wrong"],
    WORDS["register"],
    "Plan of the level",
    *(chapter.title for chapter in OWNER.chapters),
    "Before you hang or drill",
    "Upkeep",
    "Materials and finishes",
    "Papers",
    WORDS["walk"],
    "Record of later work",
    "Index",
)
HALF = 82.8 / 25.4  # inches: half of what the page is divided into
# Signs that the fonts lack, and words that print sets otherwise: a record inside is no page, and keeps its bytes.
RECORDS = {
    "project.yaml": "project: Sample 1⁄2\n",
    "obstacles/01-drain.yaml": "obstacle: ☂ drain\n",
    "notes/a.md": "# A\n",
}


def printed(book: Book, folder: Path, theme: str = "chalkline") -> Path:
    """Print a book with a small picture for each photo, and return the file."""
    (folder / "pictures").mkdir(parents=True, exist_ok=True)
    sets = {}
    for number, one in enumerate(book.pictures()):
        name, size = f"{one.digest[:12]}-print.jpg", (one.width // 40, one.height // 40)
        Image.new("RGB", size, (20 * number % 256, 90, 120)).save(folder / "pictures" / name, quality=80)
        sets[one.digest] = PictureSet(one.digest, one.width, one.height, (PictureFile(name, *size, "jpeg", "print"),))
    print_book(book, load_theme(theme), Figures(sets, drawings_of(book)), folder, RECORDS)
    return folder / "book.pdf"


@pytest.fixture(scope="module")
def owner(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The owner edition, printed once for all tests that only read it."""
    return printed(OWNER, tmp_path_factory.mktemp("owner"))


def pages(file: Path) -> list[str]:
    """Return the text of each page, blanks and line ends as one blank, words broken over two lines as one."""
    with closing(pypdfium2.PdfDocument(file)) as document:
        return [" ".join(_text(page).split()) for page in document]


def _text(page: pypdfium2.PdfPage) -> str:
    textpage = page.get_textpage()
    text: str = textpage.get_text_range().replace("\ufffe", "")  # how this engine tells a hyphen that print put in
    textpage.close()
    page.close()
    return text


def bookmarks(file: Path) -> dict[str, int]:
    """Return the page number of each bookmark of the first rank, pages counted from 1."""
    with pikepdf.open(file) as pdf, pdf.open_outline() as outline:
        return {one.title: _page_number(pdf, one.destination[0]) for one in outline.root}


def _page_number(pdf: pikepdf.Pdf, page: Any) -> int:
    return next(number for number, other in enumerate(pdf.pages, 1) if other.objgen == page.objgen)


@dataclass(frozen=True, slots=True)
class Jump:
    """A link: the page it stands on, what is printed there, and the page it leads to."""

    page: int
    words: str
    target: int


def jumps(file: Path) -> Iterator[Jump]:
    """Yield every link within the book."""
    with pikepdf.open(file) as pdf, closing(pypdfium2.PdfDocument(file)) as document:
        names = pikepdf.NameTree(pdf.Root.Names.Dests) if "/Names" in pdf.Root else {}
        for number, page in enumerate(pdf.pages, 1):
            shown = document[number - 1]
            textpage = shown.get_textpage()
            for note in page.get("/Annots", []):
                left, bottom, right, top = (float(side) for side in note.Rect)
                dest = note.Dest if "/Dest" in note else note.A.D
                dest = names[str(dest)] if isinstance(dest, pikepdf.String) else dest
                array = dest.D if isinstance(dest, pikepdf.Dictionary) else dest
                words = " ".join(textpage.get_text_bounded(left, bottom, right, top).split())
                yield Jump(number, words, _page_number(pdf, array[0]))
            textpage.close()
            shown.close()


def fonts(file: Path) -> dict[str, bool]:
    """Return each font of the file without its subset's tag, and whether it is embedded."""
    with pikepdf.open(file) as pdf:
        made = [o for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/Type") == "/FontDescriptor"]
        named = [o for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/Type") == "/Font"]
        found = {_plain(str(o.FontName)): any(f"/FontFile{n}" in o for n in ("", "2", "3")) for o in made}
        return {**{_plain(str(o.BaseFont)).removesuffix("-Identity-H"): False for o in named}, **found}


def _plain(name: str) -> str:
    return re.sub(r"^/(?:[A-Z]{6}\+)?", "", name)


def test_it_is_archival_and_accessible(owner: Path) -> None:
    """PDF/A-3a and PDF/UA-1 stand in its XMP data (ISO 19005-3, ISO 14289-1); it is tagged, with language and title."""
    with pikepdf.open(owner) as pdf:
        with pdf.open_metadata() as metadata:
            assert metadata.pdfa_status == "3A"
            assert metadata["pdfuaid:part"] == "1"
            assert metadata["dc:title"] == "Tamarack Lane – The lower level, and what is behind its walls"
            assert metadata["dc:language"] == {"en"} or metadata["dc:language"] == ["en"]
        assert pdf.Root.MarkInfo.Marked
        assert str(pdf.Root.Lang) == "en"
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        assert "/StructTreeRoot" in pdf.Root
        assert "/OutputIntents" in pdf.Root
        assert "/Encrypt" not in pdf.trailer


def test_its_date_is_the_books_and_not_the_clocks(owner: Path) -> None:
    """Made and changed on the book's date, in the file's data and in its XMP."""
    with pikepdf.open(owner) as pdf:
        assert str(pdf.docinfo["/CreationDate"]).startswith("D:20260615000000")
        with pdf.open_metadata() as metadata:
            assert metadata["xmp:CreateDate"].startswith("2026-06-15")
        said = " ".join(map(str, dict(pdf.docinfo).values()))
    assert "Owner edition" in said
    assert "Revision 2" in said


def test_every_figure_has_words(owner: Path) -> None:
    """Each photo and sketch is a Figure with an Alt text: the photo's own, the sketch's title and description."""
    with pikepdf.open(owner) as pdf:
        figures = [o for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/S") == "/Figure"]
        said = {str(figure.get("/Alt", "")) for figure in figures}
    assert "" not in said
    assert {one.alt for one in OWNER.pictures()} <= said
    sketches = [sketch for chapter in OWNER.chapters for sketch in chapter.sketches]
    assert {f"{one.title}. {one.desc}" for one in sketches} <= said


def test_every_part_and_chapter_has_a_bookmark_and_starts_its_page(owner: Path) -> None:
    """The bookmarks are the parts in the order of the book; each leads to the page that carries its heading."""
    found, text = bookmarks(owner), pages(owner)
    assert tuple(found) == PARTS
    assert list(found.values()) == sorted(found.values())
    for title, number in found.items():
        assert title in text[number - 1]


def test_page_references_are_the_pages_they_lead_to(owner: Path) -> None:
    """Where `p. 6` is printed, or 6 in contents and index, the link leads to page 6, and that page's number is 6."""
    found, text = list(jumps(owner)), pages(owner)
    assert len(found) >= 20
    for jump in found:
        assert jump.words.split()[-1] == str(jump.target), jump
        assert re.search(rf"(?:^|\s){jump.target}(?:\s|$)", text[jump.target - 1]), jump


def test_a_tag_leads_to_the_page_that_says_how_to_reach_it(owner: Path) -> None:
    """The register's page of a thing with a tag is not where its chapter starts but where the way to it is told."""
    text, starts = pages(owner), set(bookmarks(owner).values())
    register = range(bookmarks(owner)[WORDS["register"]], bookmarks(owner)["Plan of the level"])
    targets = {jump.target for jump in jumps(owner) if jump.page in register}
    reaches = {reach.tag: reach for chapter in OWNER.chapters for reach in chapter.reaches}
    told = [reaches[row.tag] for row in OWNER.register if row.tag in reaches]
    assert told
    for reach in told:
        there = {number for number, page in enumerate(text, 1) if reach.steps and reach.steps[0] in page} - starts
        assert there & targets, reach.what


def test_the_index_leads_to_where_each_word_is_said(owner: Path) -> None:
    """Behind a word stand pages of its chapters that say it; where none does, those on which they start."""
    text, at = pages(owner), bookmarks(owner)
    ends = dict(zip(at, [*list(at.values())[1:], len(text) + 1], strict=True))
    for row in OWNER.index:
        said = re.search(rf"(?:^| ){re.escape(row.word)} ((?:\d+(?:, )?)+)", text[at["Index"] - 1])
        assert said, row.word
        within = {number for _, _, title in row.chapters for number in range(at[title], ends[title])}
        assert {int(number) for number in said[1].split(", ")} <= within


def test_every_page_says_which_book_it_is_of(owner: Path) -> None:
    """Edition, revision and date stand on the cover and on every page, so that a loose leaf can be put back."""
    for number, text in enumerate(pages(owner), 1):
        assert "Owner edition · Revision 2, 15 June 2026" in text, number


def test_every_page_has_its_number_and_running_head(owner: Path) -> None:
    """From the second page on: the page's number in the foot; in the head the book's title on the left page.

    Where no heading opens the page, the head names the part that it goes on with. A photo up to the edge has no head.
    """
    found = {number: title for title, number in bookmarks(owner).items()}
    bleeding = {number for number, title in found.items() for one in OWNER.chapters if one.title == title and one.hero}
    text = pages(owner)
    running = ""
    for number in range(2, len(text) + 1):
        page = text[number - 1]
        running = found.get(number, running)
        assert re.search(rf"(?:^|\s){number}(?:\s|$)", page), number
        if number % 2 == 0:
            assert ("Tamarack Lane · The lower level" in page) == (number not in bleeding), number
        if number not in found and number + 1 not in bleeding:  # a page left free before a photo is for notes
            assert running in page, number


def test_chapters_with_a_photo_open_on_a_left_page(owner: Path) -> None:
    """The finished photo lies on an even page, with section and way to reach it on the right one beside it."""
    at = bookmarks(owner)
    assert all(at[chapter.title] % 2 == 0 for chapter in OWNER.chapters if chapter.hero)


@pytest.mark.parametrize("theme", ["chalkline", "showroom"])
def test_a_finished_photo_has_its_words_and_faces_the_section(theme: str, tmp_path: Path) -> None:
    """A photo never stands alone: its caption is with it, and the first sketch of what it hides faces it."""
    file = printed(OWNER, tmp_path, theme)
    text, at = pages(file), bookmarks(file)
    opened = [chapter for chapter in OWNER.chapters if chapter.hero]
    assert len(opened) > 1
    for chapter in opened:
        left = text[at[chapter.title] - 1]
        assert chapter.hero is not None
        assert " ".join(chapter.hero.caption.split()) in left
        assert chapter.sentence in left
        for sketch in chapter.sketches[:1]:
            assert " ".join(sketch.caption.split())[:40] in text[at[chapter.title]]


def test_only_the_two_families_are_in_it_and_embedded(owner: Path, tmp_path: Path) -> None:
    """No font of the machine or the engine gets in, whatever the words hold; every font that is named is embedded."""
    signs = "⅛ → ≥ Ω Ж ∮ ☃ \u4e2d"
    blocks = (Block("paragraph", (Run(signs, "emphasis"), Run(signs, "strong"), Run(signs, "code"))),)
    odd = replace(BEAM, title=signs, phases=(Phase("before", signs, "", (), blocks),))
    for file in (owner, printed(replace(OWNER, chapters=(odd,), faces=()), tmp_path)):
        found = fonts(file)
        assert {name.split("-")[0] for name in found} == {"SourceSerifPro", "SourceSansPro"}
        assert all(found.values()), found


def test_a_sign_that_no_font_has_is_named(tmp_path: Path) -> None:
    """An emoji in a caption neither stops the book nor is lost; an accent typed apart is put on its letter."""
    title = "Shower \U0001f6bf\ufe0f, le re\u0301gulateur"
    file = printed(replace(OWNER, chapters=(replace(BEAM, title=title),), faces=(), index=()), tmp_path)
    assert "Shower [shower], le régulateur" in pages(file)[bookmarks(file)["Shower [shower], le régulateur"] - 1]


def test_fractions_are_set_and_still_read_as_text(owner: Path) -> None:
    """A copied dimension keeps its whole number apart from its fraction: 12 1/2, never 121/2."""
    text = " ".join(pages(owner)).replace("\u2044", "/")
    assert re.search(r"12\s?\u200a?\s?(?:1/2|½)\s?\u2033", text)


def test_no_line_parts_a_length_from_its_fraction(tmp_path: Path) -> None:
    """14′ 2 3⁄4″ at the end of a line goes to the next one whole: 14′ 2 alone would be read as a length."""
    facts = tuple(f"{'m' * letters} " + "14′ 2 3⁄4″ " * 40 for letters in range(1, 9))
    chapter = replace(OWNER.chapters[0], facts=facts)
    file = printed(replace(OWNER, chapters=(chapter, *OWNER.chapters[1:])), tmp_path)
    with closing(pypdfium2.PdfDocument(file)) as document:
        lines = [line for page in document for line in page.get_textpage().get_text_range().splitlines()]
    lengths = [line for line in lines if line.count("14′") > 3]
    assert len(lengths) > 20
    assert [line for line in lengths if not line.rstrip().endswith("″")] == []


def test_pictures_are_the_clean_copies_and_nothing_else(owner: Path, tmp_path: Path) -> None:
    """Each JPEG in the file is one of the copies made for print, byte for byte: no EXIF, no place, no comment."""
    copies = {path.read_bytes() for path in (owner.parent / "pictures").iterdir()}
    with pikepdf.open(owner) as pdf:
        images = [
            o.read_raw_bytes()
            for o in pdf.objects
            if isinstance(o, pikepdf.Stream) and o.get("/Subtype") == "/Image" and o.get("/Filter") == "/DCTDecode"
        ]
        assert set(pdf.attachments) == set(RECORDS)
    assert images
    assert set(images) <= copies
    for image in images:
        opened = Image.open(BytesIO(image))
        assert not opened.getexif()
        assert "comment" not in opened.info
    assert tmp_path.name not in str(owner.read_bytes())


def test_nothing_of_the_machine_is_in_it(owner: Path) -> None:
    """No path of a temporary folder, a home or the theme."""
    with pikepdf.open(owner) as pdf:
        said = pdf.Root.Metadata.read_bytes() + " ".join(map(str, dict(pdf.docinfo).values())).encode()
    for part in (b"bookgen-print", b"/tmp", b"/home", b"site-packages"):
        assert part not in said
        assert part not in owner.read_bytes()


def test_same_book_same_bytes(owner: Path, tmp_path: Path) -> None:
    """Printed again elsewhere it is the same file."""
    assert printed(OWNER, tmp_path).read_bytes() == owner.read_bytes()


def test_a_missing_term_fails(tmp_path: Path) -> None:
    """A word that the template needs and the language lacks stops the build, and is named."""
    without = {key: words for key, words in WORDS.items() if key != "how to reach it"}
    with pytest.raises(RuntimeError, match="how to reach it"):
        printed(replace(OWNER, terms=without), tmp_path)
    assert not (tmp_path / "book.pdf").exists()


@pytest.mark.parametrize(("paper", "points"), [("letter", (612, 792)), ("A4", (595, 842))])
def test_paper_is_the_books(paper: str, points: tuple[int, int], tmp_path: Path) -> None:
    """US letter is 8.5 x 11 in, A4 210 x 297 mm (ISO 216), for every page; nothing is printed off it.

    Nor where a binder's holes are punched, left on a right page and right on a left one: within 17 mm of that edge
    (ISO 838 and the three-hole pattern, from memory).
    """
    file = printed(replace(OWNER, paper=paper), tmp_path)
    holes = 17 * 72 / 25.4
    with closing(pypdfium2.PdfDocument(file)) as document:
        for number, page in enumerate(document, 1):
            free = (holes, points[0]) if number % 2 else (0, points[0] - holes)
            assert (round(page.get_width()), round(page.get_height())) == points
            textpage = page.get_textpage()
            for index in range(textpage.count_rects()):
                left, bottom, right, top = textpage.get_rect(index)
                assert free[0] <= left <= right <= free[1] + 1
                assert 0 <= bottom <= top <= page.get_height()
            textpage.close()
            page.close()


def test_a_tab_stands_at_the_outer_edge_of_its_chapter(tmp_path: Path) -> None:
    """Thumbed through, a book shows the room on the pages of its chapter and on no other; lower for each room."""
    tabs = tuple(RoomTab(f"Room {one.number}", (one.slug,)) for one in OWNER.chapters)
    file = printed(replace(OWNER, tabs=tabs), tmp_path)
    at = bookmarks(file)
    starts = [at[chapter.title] for chapter in OWNER.chapters]
    ends = [*starts[1:], at["Before you hang or drill"]]
    with closing(pypdfium2.PdfDocument(file)) as document:
        for number, page in enumerate(document, 1):
            edge, wide, high = 8 * 72 / 25.4, page.get_width(), page.get_height()
            textpage = page.get_textpage()
            sides = (wide - edge, wide) if number % 2 else (0, edge)
            told = textpage.get_text_bounded(sides[0], 0, sides[1], high).strip()
            textpage.close()
            page.close()
            rooms = [tab.room for tab, start, end in zip(tabs, starts, ends, strict=True) if start <= number < end]
            assert "".join(told.split()) in {"", "".join("".join(rooms).split())}, number
            assert told or number not in starts, number


def test_a_book_of_one_chapter_without_photos(tmp_path: Path) -> None:
    """The least book there is: no cover photo, no part but one chapter with one thing in it."""
    empty = {field.name: () for field in fields(Book) if isinstance(getattr(BOOK, field.name), tuple)}
    least = replace(
        OWNER, **empty | {"chapters": (replace(BEAM, cautions=(), title="Beam"),)}, plan=None, about_pictures="",
        cover=replace(OWNER.cover, picture=None, lines=()),
    )  # fmt: skip
    file = printed(least, tmp_path)
    assert tuple(bookmarks(file)) == ("Beam", "Record of later work")
    assert "The beam under the house is boxed" in pages(file)[2]


def test_sample_edition_tells_nothing_private(tmp_path: Path) -> None:
    """Neither owner, address, code nor tag number is anywhere in it."""
    file = printed(replace(sample_book(), terms=WORDS), tmp_path)
    text = " ".join(pages(file))
    for secret in ("Verhoeven", "14 Tamarack", "4417", "DEMO-0000", "PH-26"):
        assert secret not in text
    assert "Sample edition · Revision 2, 15 June 2026" in text


def test_one_look_at_the_contents_leads_to_every_part(owner: Path) -> None:
    """Behind the cover each part and chapter stands as a link with its page; beside that leaf are the shutoffs."""
    leaf = [jump for jump in jumps(owner) if jump.page == 2]
    starts = bookmarks(owner)
    assert WORDS["contents"] in pages(owner)[1]
    assert OWNER.revision in pages(owner)[0]  # the last words of the cover are still on it
    assert starts["Shutoffs first"] == 3
    said = [(jump.words, jump.target) for jump in leaf]
    for title, page in starts.items():
        assert any(words.endswith(f"{title} {page}") and target == page for words, target in said), title
    assert {target for _, target in said} == set(starts.values())


def test_first_shutoffs_stand_on_one_page(owner: Path) -> None:
    """Water, gas and electricity with turn, place, way and what never to do all face the contents."""
    page = pages(owner)[2]
    for panel in (one for one in OWNER.shutoffs if one.first):
        for words in (panel.turn, panel.place, *panel.way, *panel.never):
            assert words in page


@pytest.mark.parametrize("groups", [3, 4])
def test_nobody_signs_an_empty_page(groups: int, tmp_path: Path) -> None:
    """Where the walk-through runs over, what was shown last stands on the page that is signed."""
    walk = tuple(WalkGroup(f"Part {n}", tuple(f"Thing {n}.{one}" for one in range(20))) for n in range(groups))
    signed = next(page for page in pages(printed(replace(OWNER, walk=walk), tmp_path)) if WORDS["walk open"] in page)
    assert all(words in signed for words in walk[-1].items)


# Which words of the book are keys for programs, never read by a person?
KEYS = {
    "key", "edition", "language", "paper", "theme", "iso_date", "digest", "phase", "date", "slug", "chapter", "sure",
    "kind", "style", "href", "word", "supply", "uid", "terms", "view", "book_id", "tag", "name",
}  # fmt: skip
# Which does print leave out, and why?
LEFT_OUT = {
    "plan.title", "plan.desc", "layers.sketch.title", "layers.sketch.desc",
    "chapters.sketches.title", "chapters.sketches.desc", "cover.picture.alt",
    "chapters.hero.alt", "chapters.framed_hero.alt", "chapters.phases.pictures.alt",
    "chapters.reaches.sketch.title", "chapters.reaches.sketch.desc",
    "faces.picture.alt", "faces.sketch.title", "faces.sketch.desc",
    "takeoff.sketches.title", "takeoff.sketches.desc",
    "shutoffs.picture.alt",  # up to here for those who can't see: in the Alt of the figure
    "layers.sketch.caption",  # it is that of the plan
    "cover.picture.caption",  # the cover has its own words
    "shutoffs.title",  # of a second valve of the same supply: its name says it
    "shutoffs.facts.term", "shutoffs.facts.words",  # the way there says where; the first page has no more room
    "register.cover",  # of a thing without a tag, which has none to open
    "chapters.upkeep.when", "chapters.upkeep.by",  # in the upkeep table
    "checks.sets.rows.severity",  # the group says it
    "index.chapters",  # the word and its pages say it
    "index.letter",  # the columns of a page are short enough to be looked down without
}  # fmt: skip


def _marked(value: Any, path: tuple[str, ...], marks: dict[str, str]) -> Any:
    """Return *value* with a mark full of the print engine's markup behind every word that a person reads."""
    if isinstance(value, str):
        if not value or path[-1] in KEYS:
            return value
        mark = f"#f({len(marks)})*b*_i_`c`$x^2$@r<l>[d]{{e}}\\n//--~\"q\"'s'="
        marks[mark] = ".".join(path)
        return f"{value} {mark}"
    if is_dataclass(value) and not isinstance(value, type):
        if type(value).__name__ == "Label":
            return value
        return replace(
            value, **{f.name: _marked(getattr(value, f.name), (*path, f.name), marks) for f in fields(value)}
        )  # type: ignore[type-var]
    if isinstance(value, tuple):
        return tuple(_marked(one, path, marks) for one in value)
    return dict(value) if isinstance(value, Mapping) else value


def test_users_words_are_never_markup_and_none_is_lost(tmp_path: Path) -> None:
    """Stars, hashes, dollars, labels, references and backslashes stand as written, behind every word of the book.

    So every field that a person reads is shown to be printed, but for those that print leaves out on purpose.
    """
    marks: dict[str, str] = {}
    book = _marked(replace(trade_book(), terms=WORDS), (), marks)
    book = replace(book, edition=OWNER.edition, terms=WORDS)
    text = "".join("".join(pages(printed(book, tmp_path))).split())
    lost = sorted({path for mark, path in marks.items() if "".join(mark.split()) not in text})
    assert len(marks) > 200
    # What `search.` holds is for the search of the site alone.
    assert [path for path in lost if not path.startswith("search.")] == sorted(LEFT_OUT)


def test_the_records_are_inside(owner: Path) -> None:
    """Each record lies in the file under its own path, byte for byte, as a source of the book (PDF/A-3, 6.8)."""
    with pikepdf.open(owner) as pdf:
        inside = {name: attached.get_file().read_bytes().decode() for name, attached in pdf.attachments.items()}
        kinds = {str(attached.obj.AFRelationship) for attached in pdf.attachments.values()}

    assert inside == RECORDS
    assert kinds == {"/Source"}


def test_a_picture_on_half_the_page_has_fewer_pixels(tmp_path: Path) -> None:
    """A photo wider than half the page is the large copy, any other the narrow one, which still has 200 to the inch."""
    (tmp_path / "pictures").mkdir()
    sets, large, narrow = {}, (180, 135), (96, 72)  # a tenth of what they stand for
    for one in OWNER.pictures():
        files = []
        for (wide, high), use in ((narrow, "screen"), ((160, 120), "screen"), (large, "print")):
            name = f"{one.digest[:12]}-{wide}-{use}.jpg"
            Image.new("RGB", (wide, high), "tan").save(tmp_path / "pictures" / name)
            files.append(PictureFile(name, 10 * wide, 10 * high, "jpeg", use))
        sets[one.digest] = PictureSet(one.digest, one.width, one.height, tuple(files))
    print_book(OWNER, load_theme("chalkline"), Figures(sets, drawings_of(OWNER)), tmp_path, RECORDS)
    seen = set()
    with closing(pypdfium2.PdfDocument(tmp_path / "book.pdf")) as document:
        for page in document:
            for shown in page.get_objects([pypdfium2.raw.FPDF_PAGEOBJ_IMAGE]):
                left, _, right, _ = shown.get_bounds()
                wide = (right - left) / 72  # inches
                pixels = tuple(shown.get_px_size())
                assert pixels == (large if wide > HALF else narrow)
                assert 10 * pixels[0] / wide > 200
                seen.add(pixels)
    assert seen == {large, narrow}


def test_pages_that_never_settle_are_no_book(tmp_path: Path) -> None:
    """Where each setting of the book moves its own page numbers once more, they would be wrong: nothing is written."""
    source = tmp_path / "book.typ"
    source.write_text(
        '#set document(title: "Wild")\n#let count = state("count", 0)\n#context count.update(count.final() + 1)\n'
        "#context count.final()\n",
        encoding="utf-8",
    )
    with pytest.raises(RuntimeError, match="converge"):
        set_pdf(source, tmp_path / "book.pdf", load_theme("chalkline"), "2026-06-15")
    assert not (tmp_path / "book.pdf").exists()

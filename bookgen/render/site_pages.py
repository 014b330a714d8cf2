"""A Book in, the pages of its site out, in the order of the book; a part without content has no page."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from bookgen.model.book import Book, Chapter, Edition, FacePage, IndexRow
from bookgen.model.chart import WIDE, Chart
from bookgen.model.sketch import MILLIMETRES_PER_INCH, Sketch
from bookgen.render.words import element_id

Say = Callable[[str], str]
PIXELS_PER_INCH = 96  # CSS pixels to the inch, CSS Values and Units Level 3, section 5.2
EASY = 0.85  # how much of its size on paper does a sketch need, for its notes to be read on a telephone?
STEP = 80  # pixels between the widths that the style sheet knows
WIDEST = 1200  # pixels; the widest of them


@dataclass(frozen=True, slots=True)
class Page:
    """One page of the site: where it lies in the book's folder, its template and title; *chapter* if it is one."""

    href: str
    kind: str
    title: str
    chapter: Chapter | None = None

    @property
    def template(self) -> str:
        """Name of its template."""
        return f"{self.kind}.html"

    @property
    def root(self) -> str:
        """What leads from the page back to the book's folder."""
        return "../" * self.href.count("/")


def book_pages(book: Book, say: Say) -> tuple[Page, ...]:
    """Return the pages of *book* in reading order; *say* gives the fixed words for a key."""
    checked = bool(book.checks)
    later = book.edition is not Edition.SAMPLE
    front = (
        ("index.html", "index", True, book.cover.title),
        ("shutoffs.html", "shutoffs", bool(book.shutoffs or book.emergencies), say("shutoffs first")),
        ("register.html", "register", bool(book.register), say("register")),
        ("plan.html", "plan", book.plan is not None, say("plan")),
    )
    back = (
        ("drill.html", "drill", bool(book.faces), say("drill")),
        ("upkeep.html", "upkeep", bool(book.upkeep), say("upkeep")),
        ("materials.html", "materials", bool(book.materials), say("materials and finishes")),
        ("work.html", "work", book.work is not None, say("work")),
        ("papers.html", "papers", bool(book.papers or book.people or book.hazards), say("papers")),
        ("walk-through.html", "walk", bool(book.walk), say("walk")),
        ("takeoff.html", "takeoff", bool(book.takeoff), say("takeoff")),
        ("checks.html", "checks", book.edition is Edition.TRADE and checked, say("checks")),
        ("what-is-checked.html", "reference", bool(book.check_reference), say("check reference")),
        ("later-work.html", "later", later, say("later work")),
        ("find.html", "find", bool(book.search.entries), say("find")),
        ("index-of-words.html", "words", bool(book.index), say("index")),
    )
    chapters = (Page(chapter_href(chapter), "chapter", chapter.title, chapter) for chapter in book.chapters)
    return (*_there(front), *chapters, *_there(back))


def _there(parts: Iterable[tuple[str, str, bool, str]]) -> Iterable[Page]:
    return (Page(href, kind, title) for href, kind, there, title in parts if there)


def chapter_href(chapter: Chapter) -> str:
    """Return where the page of *chapter* lies; a slug that starts with the number already gets no second one."""
    number = f"{chapter.number:02d}-"
    return f"chapters/{number}{chapter.slug.removeprefix(number)}.html"


def tag_href(chapter: Chapter, tag: str) -> str:
    """Return where *chapter* says how to reach *tag*; its head when it says nothing of that tag."""
    there = f"#tag-{element_id(tag)}" if tag in chapter_tags(chapter) else ""
    return chapter_href(chapter) + there


def neighbours(pages: tuple[Page, ...], page: Page) -> tuple[Page | None, Page | None]:
    """Return the pages before and after *page*; None at either end of the book."""
    place = pages.index(page)
    return (pages[place - 1] if place else None, pages[place + 1] if place + 1 < len(pages) else None)


def reading_sketches(chapter: Chapter) -> tuple[Sketch, ...]:
    """Return the sketches that everybody reads."""
    return tuple(sketch for sketch in chapter.sketches if not sketch.further)


def framing_sketches(chapter: Chapter) -> tuple[Sketch, ...]:
    """Return the sketches for the trades."""
    return tuple(sketch for sketch in chapter.sketches if sketch.further)


def chapter_tags(chapter: Chapter) -> tuple[str, ...]:
    """Return the tag numbers of *chapter*, each once, in order."""
    return tuple(dict.fromkeys(reach.tag for reach in chapter.reaches if reach.tag))


def sheet_width(drawing: Sketch | Chart) -> int:
    """Return the least width, in CSS pixels, at which the words of a drawing can be read on a telephone."""
    wide = drawing.paper_size()[0] if isinstance(drawing, Sketch) else WIDE
    inches = wide / MILLIMETRES_PER_INCH
    steps = -(-inches * PIXELS_PER_INCH * EASY // STEP)
    return min(WIDEST, max(STEP, int(steps) * STEP))


def letters(index: tuple[IndexRow, ...]) -> tuple[tuple[str, tuple[IndexRow, ...]], ...]:
    """Return the rows of *index* under their letters, in the order given."""
    found: dict[str, list[IndexRow]] = {}
    for row in index:
        found.setdefault(row.letter, []).append(row)
    return tuple((letter, tuple(rows)) for letter, rows in found.items())


def by_room(faces: tuple[FacePage, ...]) -> tuple[tuple[str, tuple[FacePage, ...]], ...]:
    """Return *faces* under the rooms they look into, rooms and faces in the order given."""
    found: dict[str, list[FacePage]] = {}
    for face in faces:
        found.setdefault(face.room, []).append(face)
    return tuple((room, tuple(pages)) for room, pages in found.items())


def face_id(faces: tuple[FacePage, ...], place: int) -> str:
    """Return the element's id of the face at *place* in *faces*, as `by_room` numbers rooms and faces."""
    face = faces[place]
    rooms = list(dict.fromkeys(other.room for other in faces))
    within = sum(1 for other in faces[: place + 1] if other.room == face.room)
    return f"face-{rooms.index(face.room) + 1}-{within}"

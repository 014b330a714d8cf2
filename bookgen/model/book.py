"""The book as data, for one edition: finished words, pictures by digest, sketches; renderers only set it.

Words may hold a fraction written with U+2044 (12 hair-space 1/2), which renderers set as a real fraction. Nothing
here is HTML or markup of any kind.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Literal

from bookgen.model.evidence import Pane
from bookgen.model.listing import Listing
from bookgen.model.sketch import Sketch


class Edition(Enum):
    """For whom the book is bound."""

    OWNER = "owner"
    SAMPLE = "sample"
    TRADE = "trade"


MarkShape = Literal["point", "arrow", "box"]
Percent = tuple[float, float]
"""A point of a picture, in percent of its width from the left and of its height from the top."""


@dataclass(frozen=True, slots=True)
class PictureMark:
    """Something pointed out on a picture: *label* stands on it and before *what* in the list below the picture.

    *dots*: the point; the tail of an arrow and its tip; two opposite corners of a box. *tag* is true where the label is
    the number of a hang tag. *where* says where it was measured to be, *known* how that is known; both may be "".
    """

    shape: MarkShape
    label: str
    tag: bool
    what: str
    dots: tuple[Percent, ...]
    where: str = ""
    known: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo in the book: *digest* of its original, words for those who can't see it, caption; upright size."""

    digest: str
    alt: str
    caption: str
    width: int
    height: int
    phase: str
    date: str
    marks: tuple[PictureMark, ...] = ()


@dataclass(frozen=True, slots=True)
class SeeThrough:
    """A finished wall that can be looked through: *panes* map the *framed* picture onto the *finished* one.

    *key* names the pictures made of both. *alt* says what is seen through the board, *shift* how far off what lies
    deeper may seem. The *marks* are those of the framed picture where they lie on the finished one.
    """

    key: str
    finished: Picture
    framed: Picture
    panes: tuple[Pane, ...]
    alt: str
    caption: str
    shift: str
    marks: tuple[PictureMark, ...]


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of a paragraph: plain, emphasis, strong, code or a link within the text."""

    text: str
    style: str = "plain"
    href: str = ""


@dataclass(frozen=True, slots=True)
class Block:
    """A block of a note: paragraph, heading, bullet list, ordered list, quote; *items* for lists."""

    kind: str
    runs: tuple[Run, ...] = ()
    items: tuple[tuple[Run, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of a list of facts."""

    term: str
    words: str


@dataclass(frozen=True, slots=True)
class SignalPanel:
    """A caution: signal word, hazard, consequence, avoidance, whom to call."""

    word: str  # DANGER, WARNING, CAUTION, NOTICE
    hazard: str
    consequence: str
    avoidance: str
    call: str


@dataclass(frozen=True, slots=True)
class SignalPart:
    """Cautions of one signal word that stand before the same act: what the reader is about to do, and each hazard.

    A panel without `call` calls whom the next one calls.
    """

    act: str
    panels: tuple[SignalPanel, ...]


@dataclass(frozen=True, slots=True)
class SignalGroup:
    """All cautions of one signal word on a page."""

    word: str  # DANGER, WARNING, CAUTION, NOTICE
    parts: tuple[SignalPart, ...]


@dataclass(frozen=True, slots=True)
class Reach:
    """How to reach one thing: its tag, what, where, facts, steps. *tag* is empty in a sample edition.

    *sketch* is a small plan with the tapes to it, where it is the first thing at its place.
    """

    tag: str
    what: str
    trade_word: str
    where: str
    facts: tuple[Fact, ...]
    steps: tuple[str, ...]
    sketch: Sketch | None = None


@dataclass(frozen=True, slots=True)
class Phase:
    """Before, framed or finished: pictures and the note."""

    name: str
    title: str
    date: str
    pictures: tuple[Picture, ...]
    note: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class HiddenRow:
    """One line of `what is inside`: the owner's word, the trade size, where, how known.

    *key* tells it from all others, so that the register can lead to it.
    """

    what: str
    trade: str
    where: str
    known: str
    sure: str  # measured, photo, assumed, planned
    key: str = ""


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """One line of materials: what, what to buy, where it is used."""

    what: str
    buy: str
    where: str


@dataclass(frozen=True, slots=True)
class CutRow:
    """One line of a cut list."""

    role: str
    stock: str
    length: str
    count: str


@dataclass(frozen=True, slots=True)
class CheckRow:
    """One finding as printed: severity word, what, where, measured, asked, source, what to do.

    *answered* says who has settled it; "" where nobody has.
    """

    severity: str
    says: str
    where: str
    measured: str
    asked: str
    source: str
    hint: str
    answered: str = ""


@dataclass(frozen=True, slots=True)
class CheckSet:
    """Findings of one check; what all its rows share stands here once, and is "" in the rows."""

    check: str
    asked: str
    source: str
    hint: str
    rows: tuple[CheckRow, ...]


@dataclass(frozen=True, slots=True)
class CheckGroup:
    """Findings of one severity by their checks, under a title that counts them."""

    title: str
    says: str
    sets: tuple[CheckSet, ...]


@dataclass(frozen=True, slots=True)
class CheckFigure:
    """One figure that a check holds things against: what is asked, of what, and by whom."""

    asks: str
    of: str
    source: str


@dataclass(frozen=True, slots=True)
class CheckEntry:
    """One check of the appendix: its name, what it finds, what it passes over, what it finds, its notes and figures."""

    check: str
    says: str
    quiet: tuple[str, ...]
    found: tuple[str, ...]
    notes: str
    figures: tuple[CheckFigure, ...]


@dataclass(frozen=True, slots=True)
class UpkeepRow:
    """One line of the upkeep table."""

    do: str
    every: str
    when: str
    how: str
    part: str
    by: str
    tag: str
    chapter: str  # slug of the chapter, or ""
    months: int
    first_month: int
    uid: str


@dataclass(frozen=True, slots=True)
class MonthRow:
    """What is due in one month, or in one year: its name, and what there is to do then."""

    when: str
    jobs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DatedRow:
    """Something that comes once, such as the end of a warranty: what, the day in words and as 2026-06-15, the paper."""

    what: str
    day: str
    iso_date: str
    where: str
    uid: str


@dataclass(frozen=True, slots=True)
class Chapter:
    """One chapter: an obstacle, or several that people see as one thing."""

    number: int
    slug: str
    title: str
    sentence: str
    room: str
    treatment: str
    hero: Picture | None
    framed_hero: Picture | None
    sketches: tuple[Sketch, ...]
    reaches: tuple[Reach, ...]
    hidden: tuple[HiddenRow, ...]
    cautions: tuple[SignalGroup, ...]
    upkeep: tuple[UpkeepRow, ...]
    sizes: tuple[Fact, ...]
    facts: tuple[str, ...]  # short sentences that are good to know
    questions: tuple[str, ...]
    differences: tuple[str, ...]
    phases: tuple[Phase, ...]
    materials: tuple[MaterialRow, ...]
    summary: tuple[str, ...]  # material summary in plain words
    cut_list: tuple[CutRow, ...]  # trade edition only
    checks: tuple[CheckRow, ...]  # trade edition only
    see_throughs: tuple[SeeThrough, ...] = ()
    before_after: tuple[Picture, Picture] | None = None  # of the same shape, so that one can be laid on the other


@dataclass(frozen=True, slots=True)
class ShutoffPanel:
    """One supply on the first page."""

    supply: str  # water, gas, electric
    title: str
    tag: str
    what: str
    stops: str
    turn: str
    tool: str
    way: tuple[str, ...]
    never: tuple[str, ...]
    facts: tuple[Fact, ...]
    picture: Picture | None
    chapter: str  # slug
    first: bool
    warning: str = ""  # what comes before anything else
    place: str = ""  # room and face in one line, for whoever has time for one only


@dataclass(frozen=True, slots=True)
class EmergencyNote:
    """What to do when something is wrong: in order, short."""

    title: str
    steps: tuple[str, ...]
    panel: SignalPanel | None


@dataclass(frozen=True, slots=True)
class RegisterRow:
    """One line of the register: a tagged thing or a hidden one without a tag."""

    tag: str
    what: str
    trade_word: str
    room: str
    where: str
    height: str
    ties: str
    cover: str
    known: str
    sure: str
    chapter: str  # slug
    number: int
    turn: str = ""  # how a shutoff is closed
    caution: SignalPanel | None = None  # what its tag warns of
    tied: str = ""  # the best tapes to it, worked out, and how near they lead
    tool: str = ""
    key: str = ""  # of a hidden thing without a tag: its line in the chapter


@dataclass(frozen=True, slots=True)
class FaceRow:
    """One thing behind a face: what, from where to where along and up, depth to it behind the board, how known.

    *mark* is the letter that it has on the face's drawing.
    """

    what: str
    along: str
    up: str
    depth: str
    known: str
    sure: str
    mark: str = ""


@dataclass(frozen=True, slots=True)
class FacePage:
    """One surface of the level, before somebody hangs or drills on it.

    *screw* says how long a screw may be, or why no length is told; *picture* shows what was there before the board.
    """

    title: str
    room: str
    summary: str
    rows: tuple[FaceRow, ...]
    chapter: str
    along_head: str = ""  # what the first distance is taped from
    up_head: str = ""
    screw: str = ""
    sketch: Sketch | None = None
    picture: Picture | None = None


@dataclass(frozen=True, slots=True)
class PlanLayer:
    """One choice of what the level plan shows: all systems, one of them, or the joists.

    *key* is the layer's own, or "all", which is the first; *sketch* is the plan with just that.
    """

    key: str
    words: str
    sketch: Sketch


@dataclass(frozen=True, slots=True)
class PaperRow:
    """One paper: what, number, date, where it is."""

    what: str
    number: str
    date: str
    where: str


@dataclass(frozen=True, slots=True)
class PaperGroup:
    """Papers of one kind."""

    title: str
    rows: tuple[PaperRow, ...]


@dataclass(frozen=True, slots=True)
class PersonRow:
    """A trade on the job."""

    role: str
    name: str
    phone: str
    licence: str


@dataclass(frozen=True, slots=True)
class IndexRow:
    """One word of the index and the chapters it leads to: (number, slug, title)."""

    word: str
    chapters: tuple[tuple[int, str, str], ...]


@dataclass(frozen=True, slots=True)
class SearchEntry:
    """One answer of the search: what it is called, where it is, and where in the book it is told.

    *phrases* are its own names and what people ask when they look for it; *words* are loose words about it. *kind* is
    the kind of place (shutoff, emergency, tag, hidden, chapter, room, face, upkeep, material, paper, person, hazards,
    keys, page); *chapter* is a slug, or ""; *part* says which of its kind: a tag, a uid, a kind of page, or a count
    from 1 in the order of the book. *digest* is a picture of the book, or "". Of two that fit alike the one with the
    greater *weight* (1 to 9) stands first.
    """

    title: str
    where: str
    phrases: tuple[str, ...]
    words: str
    kind: str
    chapter: str
    part: str
    tag: str
    digest: str
    weight: int


@dataclass(frozen=True, slots=True)
class SearchIndex:
    """What the search of a book knows: its answers, words that stand for one another, words that say nothing."""

    entries: tuple[SearchEntry, ...] = ()
    alike: tuple[tuple[str, ...], ...] = ()
    skip: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Cover:
    """The cover: title, subtitle, picture, lines under it."""

    title: str
    subtitle: str
    picture: Picture | None
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Book:
    """The whole book for one edition. An empty tuple means that the part is left out.

    *terms* are the fixed words that templates print, by key, in the book's language; a missing one fails the build.
    """

    key: str
    edition: Edition
    edition_words: str
    language: str
    paper: str
    theme: str
    revision: str
    date: str
    iso_date: str
    book_id: str
    cover: Cover
    owner_lines: tuple[str, ...]
    security: tuple[str, ...]  # key boxes and codes: owner edition only
    about_pictures: str
    disclaimer: str
    shutoffs: tuple[ShutoffPanel, ...]
    emergencies: tuple[EmergencyNote, ...]
    register: tuple[RegisterRow, ...]
    plan: Sketch | None
    chapters: tuple[Chapter, ...]
    faces: tuple[FacePage, ...]
    upkeep: tuple[UpkeepRow, ...]
    materials: tuple[MaterialRow, ...]
    papers: tuple[PaperGroup, ...]
    people: tuple[PersonRow, ...]
    hazards: tuple[str, ...]
    takeoff: tuple[Listing, ...]  # trade edition only
    checks: tuple[CheckGroup, ...]
    index: tuple[IndexRow, ...]
    terms: Mapping[str, str]
    search: SearchIndex = SearchIndex()
    drill_cautions: tuple[SignalGroup, ...] = ()  # before a wall or ceiling is drilled
    check_reference: tuple[CheckEntry, ...] = ()  # the appendix of the trade edition
    layers: tuple[PlanLayer, ...] = ()
    months: tuple[MonthRow, ...] = ()  # what is due, month by month for a year, then what comes more seldom by year
    dates: tuple[DatedRow, ...] = ()  # ends of warranties
    web: str = ""  # where the book can be read on the web; the codes of its tags lead there
    unrecorded: tuple[str, ...] = ()  # supplies whose shutoff nobody has recorded, as sentences with room to write

    def pictures(self) -> tuple[Picture, ...]:
        """Return every picture the book shows, each once, in the order of the book."""
        found: dict[str, Picture] = {}
        groups: list[Picture | None] = [self.cover.picture, *(panel.picture for panel in self.shutoffs)]
        for chapter in self.chapters:
            groups += [chapter.hero, chapter.framed_hero]
            groups += [picture for phase in chapter.phases for picture in phase.pictures]
            groups += [picture for see in chapter.see_throughs for picture in (see.finished, see.framed)]
        groups += [face.picture for face in self.faces]
        for picture in groups:
            if picture is not None:
                found.setdefault(picture.digest, picture)
        return tuple(found.values())

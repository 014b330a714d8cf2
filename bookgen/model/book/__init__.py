"""The book as data, for one edition: finished words, pictures by digest, sketches; renderers only set it.

Words may hold a fraction written with U+2044 (12 hair-space 1/2), which renderers set as a real fraction. Nothing
here is HTML or markup of any kind.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from enum import Enum

from bookgen.model.book.checks import CheckEntry, CheckFigure, CheckGroup, CheckRow, CheckSet
from bookgen.model.book.finding import (
    EmergencyNote,
    FacePage,
    FaceRow,
    IndexRow,
    PlanLayer,
    RegisterRow,
    SearchEntry,
    SearchIndex,
    ShutoffPanel,
)
from bookgen.model.book.pictures import MarkShape, Percent, Picture, PictureMark, SeeThrough
from bookgen.model.book.tables import (
    CutRow,
    DatedRow,
    HiddenRow,
    LineRow,
    MaterialRow,
    MonthRow,
    PaperGroup,
    PaperRow,
    PersonRow,
    UpkeepRow,
    WalkGroup,
)
from bookgen.model.book.words import Block, Fact, Run, SignalGroup, SignalPanel, SignalPart
from bookgen.model.chart import Chart
from bookgen.model.frozen import dataclass
from bookgen.model.listing import Listing
from bookgen.model.sketch import Sketch

__all__ = [
    "Block",
    "Book",
    "Brand",
    "Chapter",
    "CheckEntry",
    "CheckFigure",
    "CheckGroup",
    "CheckRow",
    "CheckSet",
    "Cover",
    "CutRow",
    "DatedRow",
    "Edition",
    "EmergencyNote",
    "FacePage",
    "FaceRow",
    "Fact",
    "HiddenRow",
    "IndexRow",
    "LineRow",
    "MarkShape",
    "MaterialRow",
    "MonthRow",
    "PaperGroup",
    "PaperRow",
    "Percent",
    "PersonRow",
    "Phase",
    "Picture",
    "PictureMark",
    "PlanLayer",
    "Reach",
    "RegisterRow",
    "RoomTab",
    "Run",
    "SearchEntry",
    "SearchIndex",
    "SeeThrough",
    "ShutoffPanel",
    "SignalGroup",
    "SignalPanel",
    "SignalPart",
    "UpkeepRow",
    "WalkGroup",
]


class Edition(Enum):
    """For whom the book is bound."""

    OWNER = "owner"
    SAMPLE = "sample"
    TRADE = "trade"


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
    reasons: tuple[str, ...] = ()  # what was decided when the treatment was worked out, and why; never in a sample
    lines: tuple[LineRow, ...] = ()  # what the line as built takes beside another; trade edition only
    charts: tuple[Chart, ...] = ()  # headroom and reach of what is framed down, for the trades

    @property
    def shown_once(self) -> bool:
        """Tell whether the picture that it opens with stands nowhere else, so that its words stand there too."""
        return self.hero is not None and all(self.hero not in phase.pictures for phase in self.phases)


@dataclass(frozen=True, slots=True)
class Cover:
    """The cover: title, subtitle, picture, lines under it."""

    title: str
    subtitle: str
    picture: Picture | None
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Brand:
    """What its maker puts on a book: name, picture, and colours of the theme by name, as #rrggbb."""

    name: str = ""
    picture: Picture | None = None
    colours: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class RoomTab:
    """A room and the slugs of its chapters, for a tab on the outer edge of their pages."""

    room: str
    chapters: tuple[str, ...]


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
    search: SearchIndex = field(default_factory=SearchIndex)
    drill_cautions: tuple[SignalGroup, ...] = ()  # before a wall or ceiling is drilled
    check_reference: tuple[CheckEntry, ...] = ()  # the appendix of the trade edition
    layers: tuple[PlanLayer, ...] = ()
    months: tuple[MonthRow, ...] = ()  # what is due, month by month for a year, then what comes more seldom by year
    dates: tuple[DatedRow, ...] = ()  # ends of warranties
    web: str = ""  # where the book can be read on the web; the codes of its tags lead there
    headroom: Chart | None = None  # over the whole level
    shares: tuple[Chart, ...] = ()  # what the material is made up of
    work: Chart | None = None  # when what was photographed
    walk: tuple[WalkGroup, ...] = ()  # what is shown when the house is handed over: owner edition only
    brand: Brand = field(default_factory=Brand)
    tabs: tuple[RoomTab, ...] = ()  # only where the project asks for a tab strip
    unrecorded: tuple[str, ...] = ()  # supplies whose shutoff nobody has recorded, as sentences with room to write

    def pictures(self) -> tuple[Picture, ...]:
        """Return every picture the book shows, each once, in the order of the book."""
        found: dict[str, Picture] = {}
        groups: list[Picture | None] = [
            self.cover.picture,
            self.brand.picture,
            *(panel.picture for panel in self.shutoffs),
        ]
        for chapter in self.chapters:
            groups += [chapter.hero, chapter.framed_hero]
            groups += [picture for phase in chapter.phases for picture in phase.pictures]
            groups += [picture for see in chapter.see_throughs for picture in (see.finished, see.framed)]
        groups += [face.picture for face in self.faces]
        for picture in groups:
            if picture is not None:
                found.setdefault(picture.digest, picture)
        return tuple(found.values())

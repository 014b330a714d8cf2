"""Pages that find things as data: the register, faces and what is behind them, layers of the plan, index, search."""

from __future__ import annotations

from bookgen.model.book.pictures import Picture
from bookgen.model.book.words import Fact, SignalPanel
from bookgen.model.frozen import dataclass
from bookgen.model.sketch import Sketch


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
    told: tuple[str, ...] = ()  # of a wall or ceiling that has no chapter: what fills it, and what was built otherwise


@dataclass(frozen=True, slots=True)
class PlanLayer:
    """One choice of what the level plan shows: all systems, one of them, or the joists.

    *key* is the layer's own, or "all", which is the first; *sketch* is the plan with just that.
    """

    key: str
    words: str
    sketch: Sketch


@dataclass(frozen=True, slots=True)
class IndexRow:
    """One word of the index, the chapters it leads to: (number, slug, title), and the letter that it stands under."""

    word: str
    chapters: tuple[tuple[int, str, str], ...]
    letter: str


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

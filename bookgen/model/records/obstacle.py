"""The obstacle record: what is in the way, how it is hidden, how it is reached, and what the owner must know."""

from __future__ import annotations

from typing import ClassVar, Literal, Self

from pydantic import Field, model_validator

from bookgen.model.records.base import Record
from bookgen.model.records.inside import At, Hidden, Known, System, Wall
from bookgen.model.records.seeing import Mark, SeeThrough, Tied
from bookgen.model.records.treatments import Treatment
from bookgen.model.records.values import (
    Count,
    Day,
    IntervalText,
    LengthText,
    Line,
    SizeText,
    Tag,
    Words,
    YesNo,
    wrong,
)

Kind = Literal[
    "panel",
    "drain",
    "stack",
    "duct",
    "beam",
    "post",
    "appliance",
    "pit",
    "lines",
    "stair",
    "water service",
    "vent riser",
    "window well",
    "hidden work",
]


class Run(Record):
    """The line an obstacle follows; stations on it are plan positions, so a tape from the corner serves."""

    along: Wall | Literal["east", "north"]
    """A wall, or for something away from walls the way the run goes."""
    from_: LengthText
    """Station where it starts, such as `40 in`."""
    to: LengthText
    """Station where it ends, such as `204 in`."""

    @model_validator(mode="after")
    def _forward(self) -> Self:
        if self.to <= self.from_:
            wrong("run-backward", "the run ends before it starts", "write the smaller station as from")
        return self


class Tie(Record):
    """A tape distance from a mark that will still be there."""

    from_: Line
    """Key of the mark, such as `family-nw`."""
    is_: LengthText
    """The distance as taped, straight, at the height of the thing."""
    note: Line | None = None
    """How it was taped, if that matters: `taped in a hurry`."""


class Shutoff(Record):
    """What a valve or breaker stops and how it is worked; it goes on the first page of the book."""

    of: Literal["water", "gas", "electric"]
    """Which supply."""
    stops: Line
    """What stops when it is closed: `all water in the house`."""
    turn: Line
    """How it is closed, which way and how far: `a quarter turn clockwise`."""
    tool: Line = "none"
    """The tool it needs: `none`."""
    get_there: tuple[Line, ...] = Field(min_length=1)
    """The way there, step by step, for somebody who has never seen the house: `Go down the stair`."""
    never: tuple[Line, ...] = ()
    """What not to do, such as `never force it`."""
    picture: Line | None = None
    """Photo that really shows it, by its name in the photos folder, such as `water-finished.jpg`; none where no photo
    does.
    """
    first: YesNo = False
    """yes on the one to close first, where a supply has several."""


class Cover(Record):
    """What closes an access point."""

    kind: Literal["hinged door", "lift-out panel", "magnetic panel", "cover plate", "grille", "room door", "none"]
    """How it opens."""
    size: SizeText | None = None
    """Wide by high; none for a room door."""
    at: At | None = None
    """Where it is; along as a stretch."""
    opens: Line
    """How to open it, in a few words: `pull at the left side`."""
    tool: Line = "none"
    """The tool it needs: `screwdriver`."""


class AccessPoint(Record):
    """One thing to reach: its tag, where it is, its cover, its ties."""

    tag: Tag
    """The number on the hang tag; it stays the same for good."""
    what: Line
    """The owner's word for it: `Main water valve`."""
    trade_word: Line | None = None
    """What a tradesman calls it: `ball valve`."""
    room: Line | None = None
    """Key of the room it is reached from, such as `guest`, if not the obstacle's own."""
    outside: YesNo = False
    """yes where it is outside the house; no height is printed then."""
    where: Line
    """The face it is in, in a few words: `white cover near the floor`."""
    system: System
    """What it belongs to."""
    at: At
    """The middle of the thing itself."""
    cover: Cover
    """What closes it."""
    steps: tuple[Line, ...] = ()
    """How to reach it, step by step, where opening the cover is not enough: `Move the ladder aside`."""
    keep_clear: Line | None = None
    """How much room to leave in front of it: `3 ft`."""
    ties: tuple[Tie, ...] = ()
    """Tape distances from marks."""
    shutoff: Shutoff | None = None
    """For a valve or breaker that stops a supply."""
    known: Known
    """How its place is known."""


class Caution(Record):
    """A hazard that stands where the reader acts: a key of the table of cautions, or own words."""

    hazard: Line
    """Key of the table of cautions, such as `sewage-at-cleanout`; `bookgen explain` lists them."""
    add: Words | None = None
    """One more sentence for this house: `The letter is on file`."""


class Upkeep(Record):
    """Something to do again and again."""

    do: Line
    """What to do: `Change the furnace filter`."""
    every: IntervalText
    """How often, such as `3 months`."""
    at_most: IntervalText | None = None
    """The longest it may wait, where the maker says so."""
    month: Count | None = None
    """The month of the year it belongs in, 1 to 12."""
    how: Words
    """How, in a sentence or two: `Switch the furnace off, and mind the arrow`."""
    part: Line | None = None
    """What to buy, with its size: `filter 16 x 25 x 4`."""
    by: Line = "owner"
    """Who does it: `owner`."""
    tag: Tag | None = None
    """The access point it is done at."""


class Material(Record):
    """Something that may have to be bought again."""

    what: Line
    """What it is: `Wall paint`."""
    buy: Line
    """What to ask for, by size, color, make, number: `warm grey, eggshell`."""
    where: Line | None = None
    """Where it is used, or where the rest of it is stored: `2 boxes under the stair`."""


class PhotoUse(Record):
    """One photo in the book."""

    file: Line
    """Name in the photos folder: `corner-before.jpg`."""
    shows: Words
    """What a person who can't see it should know; it is read aloud by screen readers: `A white pipe along a block
    wall`.
    """
    caption: Words | None = None
    """What stands under it; the phase and date are added: `The drain before any work`."""
    on: Day | None = None
    """The day, where the file does not hold it."""
    share: YesNo = False
    """yes lets it into a sample edition."""
    tied: Tied | None = None
    """Points that tie it to a wall, so that places can be measured on it and the board looked through."""
    marks: tuple[Mark, ...] = ()
    """What to point out on it."""


class Photos(Record):
    """Photos by phase."""

    shown: ClassVar[tuple[str, ...]] = ("before",)

    before: tuple[PhotoUse, ...] = ()
    """Before any work."""
    framed: tuple[PhotoUse, ...] = ()
    """Framed, not boarded."""
    finished: tuple[PhotoUse, ...] = ()
    """Finished; the first one opens the chapter."""
    see_through: tuple[SeeThrough, ...] = ()
    """Framed photos to be seen through finished ones."""

    @property
    def pointed(self) -> bool:
        """Tell whether any photo has points by which something is worked out."""
        return bool(self.see_through) or any(use.tied for use in (*self.before, *self.framed, *self.finished))


class Notes(Record):
    """Notes by phase, in Markdown files of the notes folder."""

    shown: ClassVar[tuple[str, ...]] = ("before",)

    before: Line | None = None
    """Notes file about what was there: `drain-before.md`."""
    framed: Line | None = None
    """Notes file about the framing: `drain-framed.md`."""
    finished: Line | None = None
    """Notes file about the finished work: `drain-finished.md`."""


class AsBuilt(Record):
    """Choices that turned out otherwise than planned; they replace those of `treatment`."""

    treatment: Treatment
    """The treatment as it stands."""
    known: Known
    """How that is known."""

    @model_validator(mode="after")
    def _decided(self) -> Self:
        if self.treatment.propose is not None:
            wrong("built-undecided", "what stands there is a treatment", "write the one that was built")
        return self


class Answer(Record):
    """Who settled a finding, when, on which paper."""

    finding: Line
    """Name of the check, as `bookgen check` prints it: `valve-shut-in`."""
    about: Line | None = None
    """Which one, where the check finds several things in the record: `tag 18, Second water valve`."""
    by: Line
    """Who says so: `Tern Engineering (demo)`."""
    on: Day
    """When."""
    paper: Line
    """Which paper it is on: `letter on file`."""


class Obstacle(Record):
    """One obstacle record, one file of the obstacles folder."""

    obstacle: Line
    """The owner's name for it, such as `Main drain along the north wall`; the chapter's title."""
    kind: Kind
    """What sort of obstacle it is."""
    room: Line
    """Key of the room it is in, such as `family`."""
    sentence: Words
    """One or two sentences on what is behind it: `The drain of the whole house runs here`."""
    chapter: Line | None = None
    """Title of a chapter that gathers several records that people see as one thing: `Drain and stack`."""
    run: Run | None = None
    """The line it follows."""
    inside: tuple[Hidden, ...] = ()
    """What is hidden."""
    treatment: Treatment | None = None
    """How it is hidden, or `propose`; none for hidden work that an ordinary wall or ceiling covers."""
    as_built: AsBuilt | None = None
    """What stands there, where it differs from the plan."""
    known: Known
    """How the framing is known; planned until somebody has confirmed it."""
    access: tuple[AccessPoint, ...] = ()
    """What has to be reached."""
    cautions: tuple[Caution, ...] = ()
    """What can hurt somebody here."""
    upkeep: tuple[Upkeep, ...] = ()
    """What has to be done again and again."""
    materials: tuple[Material, ...] = ()
    """What may have to be bought again."""
    facts: tuple[Line, ...] = ()
    """Short facts for the owner, of settings, ages, sizes: `Softener set to 18 grains per gallon`."""
    questions: tuple[Line, ...] = ()
    """What is still open, and whom to ask: `Ask the plumber about an expansion tank`."""
    notes: Notes | None = None
    """Notes files by phase."""
    photos: Photos = Photos()
    """Photos by phase."""
    answered: tuple[Answer, ...] = ()
    """Findings that somebody has settled."""
    section_at: LengthText | None = None
    """Station of the section sketch, where the governing one is not the one to show."""
    share: YesNo = False
    """yes lets a sample edition show this chapter: name, sentence, sketch, sizes, shared photos."""

    @property
    def undecided(self) -> bool:
        """Tell whether a treatment is still to be chosen."""
        return self.as_built is None and self.treatment is not None and self.treatment.propose is not None

    @model_validator(mode="after")
    def _run_where_needed(self) -> Self:
        if self.run is None and self.treatment is not None:
            wrong("run-missing", "a treatment follows a run", "write run: with along, from and to")
        return self

"""The treatments as records: the choices a contractor makes; everything that follows from them is worked out."""

from __future__ import annotations

from typing import ClassVar, Literal, Self

from pydantic import model_validator

from bookgen.model.records.base import Record
from bookgen.model.records.inside import At
from bookgen.model.records.overhead import BeamSoffit, Furring, HungSoffit, WallSoffit
from bookgen.model.records.values import (
    AreaText,
    Count,
    HeightText,
    LengthText,
    Line,
    OffsetText,
    PositiveLength,
    SizeText,
    SpanText,
    YesNo,
    wrong,
)

UNDECIDED = "propose"  # written in place of a treatment, it asks for all of them


class Door(Record):
    """A door or a pair of doors in a wall."""

    leaf: SizeText
    """Width and height of one leaf, such as `30 x 76 in`."""
    leaves: Count = 1
    """1, or 2 for a pair."""
    rough_opening: SpanText
    """Where the framed opening is, along its wall."""
    head: HeightText
    """Underside of the header."""
    hinges: Literal["east", "west", "north", "south", "both sides"]
    """The side or sides that the hinges are on."""
    swings: Literal["in", "out"]
    """Out of the hidden space, or into it."""
    header: Line = "2x6"
    """Stock of the header; two of it: `2x6`."""
    header_laid: Literal["on edge", "flat"] = "on edge"
    """How the two of it lie; flat, one on the other, where there is no room for them on edge."""
    louvres: Line | None = None
    """Openings for air in the leaf, such as `in the lower panel`."""
    louvre_area: AreaText | None = None
    """Free area of the upper louvres, and the same again of the lower ones, of all leaves; the maker says it."""


class Landing(Record):
    """A rail or a half wall that ends on the side of a post wrap."""

    what: Line
    """What it is, such as `Half wall` or `Rail`."""
    side: Literal["east", "west", "north", "south"]
    """The side of the wrap that it lands on."""
    top: HeightText
    """Its top."""
    bottom: HeightText | None = None
    """Its underside; a half wall, which stands on the slab, has none."""
    wide: PositiveLength
    """How wide it is, from side to side, without its board."""


class PostWrap(Record):
    """Boards round a post, plumb and square, over its base and cap plates."""

    form: Literal["flats", "four-sided"] = "flats"
    """Four flats laid against the post, or a frame of uprights and ties that stands free of it on four sides."""
    flats: Line = "2x6"
    """Stock laid flat against the post on each side: `2x6`."""
    framing: Line = "2x2"
    """Stock of the uprights and ties of a four-sided frame: `2x2`."""
    finished: PositiveLength
    """Over the board, each way."""
    finished_deep: PositiveLength | None = None
    """Over the board across the run, where a four-sided frame is not square."""
    top: HeightText
    """Underside of what it meets: the beam soffit's framing."""
    lands: tuple[Landing, ...] = ()
    """Rails and half walls that end on it."""


class Chase(Record):
    """A boxed-out piece of wall round an upright pipe, floor to joists."""

    form: Literal["wall", "corner", "free"] = "wall"
    """Against a wall, in a corner, or standing free."""
    along: SpanText
    """Outside faces of the framing, along the run."""
    front: OffsetText | None = None
    """Outside face of the framing in front; where it is left out, the furthest fitting sets it, and behind a cover the
    nut of the cleanout's plug."""
    framing: Line = "2x2"
    """Stock of the uprights and ties: `2x2`."""
    finished: SizeText | None = None
    """Sizes over the board, where they were taped: `14 x 14 in`."""


class Closet(Record):
    """A closed space built round a panel or boards on a wall, with room to stand in front of them."""

    along: SpanText
    """Outer faces of the side walls, along the run."""
    inside: SpanText
    """Bare inside, along the run."""
    deep: OffsetText
    """Inside face of the front wall's framing."""
    framing: Line = "2x4"
    """Stock of its walls: `2x4`."""
    door: Door
    """Its door."""
    lined: Literal["bare", "boarded"] = "boarded"
    """Whether the inside is boarded or left as bare studs."""


class UtilityRoom(Record):
    """A room left unfinished round appliances, shut with doors wide enough to take the largest one out."""

    wall: Line
    """Key of the partition that the doors are in: `P3`."""
    door: Door
    """Its doors."""
    largest: Line
    """Name of the largest thing that has to come out one day: `Furnace`."""


class Grip(Record):
    """What a hand goes round on a stair's handrail: its diameter, or its width and height."""

    shown: ClassVar[tuple[str, ...]] = ("diameter",)

    diameter: PositiveLength | None = None
    """Across a round one."""
    wide: PositiveLength | None = None
    """Across one that is not round."""
    high: PositiveLength | None = None
    """Up and down one that is not round."""
    off_the_wall: PositiveLength | None = None
    """Clear between it and the wall beside it, where it is fixed to one."""

    @model_validator(mode="after")
    def _whole(self) -> Self:
        flat = self.wide and self.high and not self.diameter
        round_one = self.diameter and not (self.wide or self.high)
        if not (flat or round_one):
            wrong("size-incomplete", "a grip has a diameter, or a width and a height", "add what is missing")
        return self


class StairOpening(Record):
    """A closed stair opened on one side: a sloped plate on short studs, posts, a rail and balusters."""

    shown: ClassVar[tuple[str, ...]] = ("opening",)

    rise: PositiveLength
    """Total rise, floor to floor."""
    risers: Count
    """How many."""
    tread: PositiveLength
    """Depth of each tread, nosing to nosing."""
    bottom_nosing: LengthText
    """Station of the lowest nosing."""
    goes_up: Literal["east", "west", "north", "south"]
    """The way the stair rises."""
    stair: SpanText
    """From side to side of the stair, across the run."""
    opening: SpanText | None = None
    """Between the posts, along the run."""
    opened_to: Count | None = None
    """The nosing that it is opened to, counted from the lowest; instead of opening, from the lowest nosing on."""
    plate_above_nosings: PositiveLength
    """Top of the sloped plate above the nosing line, straight up."""
    rail: PositiveLength
    """Top of the rail above the nosing line, straight up."""
    cap: PositiveLength
    """Top of the cap on the plate above the nosing line, straight up."""
    balusters: Count | None = None
    """How many between the posts, or on each tread; the fewest that a sphere can't pass where it is left out."""
    baluster: PositiveLength
    """Thickness of one."""
    spaced: Literal["along the rake", "on each tread"] = "along the rake"
    """Evenly from post to post, or alike on every tread, with the first of each at its nosing."""
    well: SpanText | None = None
    """Where the floor above is open over the stair, along the run; headroom is measured where it is written."""
    nosing: PositiveLength | None = None
    """How far each tread stands out over the riser below it."""
    open_risers: YesNo = False
    """yes where there is no board between the treads."""
    grip: Grip | None = None
    """The handrail that a hand goes round."""
    beneath: Literal["open", "shut off", "storage"] | None = None
    """What the space under the stair is; storage is any closed space that somebody can get into."""
    beneath_board: PositiveLength | None = None
    """Thickness of the gypsum board on the inside of that space, on walls and under the stair."""

    @model_validator(mode="after")
    def _opened(self) -> Self:
        if (self.opening is None) == (self.opened_to is None):
            wrong("opening-count", "the side is opened either between two stations or to a nosing", "keep one of them")
        return self


class AccessOpening(Record):
    """A framed opening in a wall or ceiling, closed by a cover, where somebody has to reach in."""

    opening: SizeText | None = None
    """Clear opening, wide by high; where it is left out, its place as two stretches says it, or what passes."""
    at: At
    """Where it is; along as a stretch, or its middle."""
    what_passes: Line
    """What has to pass, such as `two hands and a wrench`: a plug, a rod, a filter, a valve key."""
    passes: tuple[Line, ...] = ()
    """What has to pass, by the names of the table: `hand`, two hands, look, valve key, plug, rod, filter, part."""


class Propose(Record):
    """Nothing is chosen yet: `bookgen check` tries every treatment and shows what each one costs.

    It is written as one word, `treatment: propose`. Until a treatment is chosen the obstacle is drawn as open work.
    """


class Treatment(Record):
    """How an obstacle is hidden: exactly one treatment with its choices, or the word propose."""

    shown: ClassVar[tuple[str, ...]] = ("wall_soffit",)

    wall_soffit: WallSoffit | None = None
    """A boxed-down ceiling along a wall."""
    hung_soffit: HungSoffit | None = None
    """A boxed-down ceiling away from walls."""
    beam_soffit: BeamSoffit | None = None
    """A box round a beam."""
    furring: Furring | None = None
    """Strips under the joists."""
    post_wrap: PostWrap | None = None
    """Boards round a post."""
    chase: Chase | None = None
    """A boxed-out piece of wall round an upright pipe."""
    closet: Closet | None = None
    """A closed space round a panel or boards."""
    utility_room: UtilityRoom | None = None
    """A room left unfinished round appliances."""
    stair_opening: StairOpening | None = None
    """A closed stair opened on one side."""
    access_opening: AccessOpening | None = None
    """A framed opening closed by a cover."""
    propose: Propose | None = None
    """None is chosen yet; `bookgen check` shows what would serve."""

    @model_validator(mode="before")
    @classmethod
    def _undecided(cls, value: object) -> object:
        return {UNDECIDED: {}} if value == UNDECIDED else _fixed(value)

    @model_validator(mode="after")
    def _one(self) -> Self:
        if len(self.chosen()) != 1:
            wrong("treatment-count", "an obstacle has exactly one treatment", "keep one, or split the record in two")
        return self

    def chosen(self) -> tuple[tuple[str, Record], ...]:
        """Return the treatments that are written, as (name, choices)."""
        written = self.model_fields_set  # asked of every record by every other; most of the fields are never written
        names = (name for name in type(self).model_fields if name in written) if len(written) > 1 else written
        pairs = ((name.replace("_", " "), getattr(self, name)) for name in names)
        return tuple((name, choices) for name, choices in pairs if choices is not None)


def _fixed(value: object) -> object:
    """Return a value with its lists as tuples: a validator that looks first gets JSON as lists, which are refused."""
    if isinstance(value, dict):
        return {key: _fixed(one) for key, one in value.items()}
    return tuple(map(_fixed, value)) if isinstance(value, list) else value

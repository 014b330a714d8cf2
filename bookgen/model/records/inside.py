"""What is hidden: things by trade name, where each is, and how that is known."""

from __future__ import annotations

from typing import ClassVar, Literal, Self

from pydantic import model_validator

from bookgen.model.records.base import Record
from bookgen.model.records.values import (
    Count,
    Day,
    HeatText,
    LengthOrSpan,
    LengthText,
    Line,
    PositiveLength,
    RiseText,
    YesNo,
    wrong,
)

Wall = Literal["north wall", "south wall", "east wall", "west wall"]
Way = Literal["east", "north"]
System = Literal["water", "waste", "gas", "power", "air", "data", "structure", "soil gas"]


class Known(Record):
    """How a located fact is known, and since when: `{how: measured, on: 2026-03-10}`."""

    shown: ClassVar[tuple[str, ...]] = ("on",)

    how: Literal["measured", "photo", "assumed", "planned"]
    """measured with a tape, seen on a photo, assumed, or planned and not yet confirmed by anybody."""
    on: Day | None = None
    """The day it was measured or photographed; assumed and planned need none."""
    by: Line | None = None
    """Who says so, where that matters: `Brightwater Plumbing (demo)`."""

    @model_validator(mode="after")
    def _dated(self) -> Self:
        if self.how in {"measured", "photo"} and self.on is None:
            wrong("evidence-undated", "a fact known by tape or photo has its day", "add on: and the day")
        return self


class At(Record):
    """Where a thing is: one entry for each direction, each with its datum in its name.

    A single length is the middle of the thing; a stretch (`84 in to 104 in`) is from one side to the other.
    Horizontally either `east` and `north` (plan positions from the west and south block faces), or `along` (station
    on the run) and an offset. Vertically one of `above slab`, `above floor`, `below joists`.
    """

    shown: ClassVar[tuple[str, ...]] = ("along", "off_the_block", "above_slab")

    wall: Wall | None = None
    """The wall that `along` and the offsets are measured on, where it is not the run's own."""
    east: LengthOrSpan | None = None
    """East of the west block face."""
    north: LengthOrSpan | None = None
    """North of the south block face."""
    along: LengthOrSpan | None = None
    """Along the run, measured from the same corner as the run itself."""
    off_the_block: LengthOrSpan | None = None
    """From the face of the block into the room."""
    off_the_finished_wall: LengthOrSpan | None = None
    """From the finished face of the wall into the room."""
    above_slab: LengthOrSpan | None = None
    """Up from the concrete."""
    above_floor: LengthOrSpan | None = None
    """Up from the finished floor."""
    below_joists: LengthOrSpan | None = None
    """Down from the underside of the joists."""
    rises: RiseText | None = None
    """How it falls or rises along its length; the height given is at the low end of the stretch."""

    @model_validator(mode="after")
    def _one_of_each(self) -> Self:
        heights = [h for h in (self.above_slab, self.above_floor, self.below_joists) if h is not None]
        if len(heights) != 1:
            wrong(
                "height-missing",
                "exactly one height belongs here",
                "write one of above slab, above floor, below joists",
            )
        offs = [o for o in (self.off_the_block, self.off_the_finished_wall) if o is not None]
        plan = self.east is not None and self.north is not None and self.along is None and not offs
        run = self.along is not None and len(offs) == 1 and self.east is None and self.north is None
        if not (plan or run):
            wrong(
                "position-incomplete",
                "a place on the plan needs two directions",
                "write east and north, or along and off the block",
            )
        return self


class Body(Record):
    """Outside sizes of a thing that no table lists; give wide, deep and high, or diameter and high."""

    shown: ClassVar[tuple[str, ...]] = ("wide", "deep", "high")

    wide: PositiveLength | None = None
    """Along the run, or east-west."""
    deep: PositiveLength | None = None
    """Off the wall, or north-south."""
    high: PositiveLength | None = None
    """Up and down."""
    diameter: PositiveLength | None = None
    """Across a round one."""

    @model_validator(mode="after")
    def _whole(self) -> Self:
        flat = self.wide and self.deep and self.high and not self.diameter
        round_one = self.diameter and self.high and not (self.wide or self.deep)
        if not (flat or round_one):
            wrong("size-incomplete", "a body has three sizes, or a diameter and a height", "add what is missing")
        return self


class Station(Record):
    """Reach and hang as taped at one station, for an obstacle that is measured as a whole."""

    along: LengthText
    """Where along the run."""
    reach: PositiveLength
    """How far its far side stands off the block."""
    hang: PositiveLength
    """How far its underside hangs below the joists."""


class DryerDuct(Record):
    """What a clothes dryer's duct is made of; length and elbows that are left out are counted from its path."""

    shown: ClassVar[tuple[str, ...]] = ("length", "elbow")

    length: PositiveLength | None = None
    """Its whole length as taped, from the dryer's connection to the outside, where the path is not all of it."""
    elbows_90: Count | None = None
    """How many square elbows it has, where the path does not show them."""
    elbows_45: Count | None = None
    """How many half elbows it has, where the path does not show them."""
    elbow: Literal["mitred", "smooth 6 in", "smooth 8 in", "smooth 10 in"] | None = None
    """Whether its elbows are mitred, or smooth and bent to which radius."""
    label: YesNo = False
    """yes where its length stands on a lasting label near the dryer."""
    maker_allows: PositiveLength | None = None
    """The length that the dryer's maker allows, where that is what counts."""


class Hidden(Record):
    """One hidden thing: its name, its size by trade name, where it is and how that is known."""

    shown: ClassVar[tuple[str, ...]] = ("pipe", "at")

    what: Line
    """The owner's name for it: `Main drain`."""
    pipe: Line | None = None
    """Trade size of a pipe or tube, such as `3 in PVC drain` or `3/4 in copper`."""
    duct: Line | None = None
    """Trade size of a duct, such as `20 x 8` or `6 in round`.

    A size without its unit counts in inches, in a project with `units: metric` in millimetres: `500 x 200`.
    """
    cable: Line | None = None
    """Trade size of a cable, such as `12-2 NM` or `RG6 coax`."""
    post: Line | None = None
    """Trade size of a post, such as `3-1/2 in round steel`."""
    fitting: Line | None = None
    """Trade name of a box, valve, meter or pit, such as `3/4 in ball valve`."""
    body: Body | None = None
    """Outside sizes, for everything that has no trade size."""
    stations: tuple[Station, ...] = ()
    """Reach and hang at stations, for something measured as a whole."""
    at: At | None = None
    """Where it is."""
    path: tuple[At, ...] = ()
    """Points of its axis in order, for something that turns."""
    couplings: tuple[LengthText, ...] = ()
    """Stations where a coupling or hub makes a pipe thicker."""
    clearance: PositiveLength | None = None
    """What has to stay free round it; asked by its maker or its listing."""
    front: Literal["east", "west", "north", "south"] | None = None
    """The side that its controls or its door are on; somebody has to stand before it."""
    input_: HeatText | None = None
    """What it burns, as its label says, such as `80,000 Btu/h`; only for what burns fuel."""
    air_from: Literal["the room", "outside"] | None = None
    """Where the air comes from that it burns; outside where a pipe of its own brings it in."""
    vent: Literal["type B", "single wall", "plastic", "chimney"] | None = None
    """What a pipe for burnt gas is made as: double-walled type B, single-walled metal, plastic, or a brick chimney."""
    dryer: DryerDuct | None = None
    """For the duct of a clothes dryer: what it is made of."""
    shock_guard: YesNo | None = None
    """For an outlet: yes where it or its breaker has a shock guard (GFCI), as its test button shows; no where not."""
    drains_into: Line | None = None
    """Where the water goes that it makes or carries away, such as `floor drain of the mechanical room`."""
    system: System
    """What it belongs to."""
    known: Known
    """How its place is known."""
    share: YesNo = False
    """yes lets a sample edition name and draw it."""

    @model_validator(mode="after")
    def _one_size(self) -> Self:
        sizes = [
            s
            for s in (self.pipe, self.duct, self.cable, self.post, self.fitting, self.body, self.stations or None)
            if s
        ]
        if len(sizes) != 1:
            wrong(
                "size-missing",
                "a hidden thing has exactly one size",
                "write one of pipe, duct, cable, post, fitting, body, stations",
            )
        if self.stations:
            if self.at or self.path:
                wrong("place-twice", "stations already say where it is", "delete at and path")
        elif bool(self.at) == bool(self.path):
            wrong("place-missing", "a hidden thing has a place", "write at, or path with its points in order")
        return self

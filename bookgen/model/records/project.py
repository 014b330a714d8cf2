"""The project record: the house, the people, the level with its rooms, walls, openings and marks."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, model_validator

from bookgen.model.records.base import Record
from bookgen.model.records.book import BookRecord
from bookgen.model.records.inside import Known, Wall, Way
from bookgen.model.records.obstacle import Answer, Material, Upkeep
from bookgen.model.records.values import (
    Count,
    Day,
    HeightText,
    LengthText,
    Line,
    OffsetText,
    PlanPoint,
    PositiveLength,
    Spacing,
    SpanText,
    Words,
    YesNo,
    wrong,
)
from bookgen.model.tape import Units


class House(Record):
    """The house; nothing here names its owner."""

    kind: Line
    """What sort of house: `raised ranch`, row house."""
    built: Count
    """The year it was built; it decides which old materials to expect."""
    note: Words | None = None
    """What a later worker must know of its age: `Built after the 1978 ban on lead house paint`."""


class Private(Record):
    """What never leaves the owner edition."""

    owner: Line
    """Name or names, such as `Marguerite Oduya`."""
    address: Line
    """Where the house is: `2 Plover Street, Pell Harbor`."""
    phone: Line | None = None
    """The owner's phone: `555-0100`."""
    security: tuple[Line, ...] = ()
    """Key boxes, codes, alarms, such as `key box by the side gate`; in no edition but the owner's own site and print
    book."""


class Person(Record):
    """A trade on the job."""

    role: Line
    """`Contractor`, plumber, electrician."""
    name: Line
    """Firm or person: `Halfmoon Carpentry (demo)`."""
    phone: Line | None = None
    """Where to reach them: `555-0190`."""
    licence: Line | None = None
    """License number: `DEMO-0000`."""
    share: YesNo = False
    """yes lets a sample edition name them."""


class LocalLimit(Record):
    """A figure that the place itself asks for, instead of the one in the code's own edition."""

    limit: Line
    """Key of the limit, such as `egress-sill`."""
    is_: Line
    """What is asked, with its unit, such as `48 in`."""
    ordinance: Line
    """The ordinance or notice that says so, as findings name it: `City of Fargo, lower level finishing guide`."""


class Codes(Record):
    """Which codes and editions the authority works from."""

    authority: Line
    """The building department: `Pell Harbor`."""
    building: Line
    """Building code and edition, such as `IRC 2021`."""
    electrical: Line
    """Electrical code and edition, such as `NEC 2023`."""
    plumbing: Line | None = None
    """Plumbing code and edition, such as `IPC 2021`, where it is not the building code."""
    jurisdiction: Line | None = None
    """State or city whose own changes to the code count, where the tables hold them, such as `Minnesota`."""
    local: tuple[LocalLimit, ...] = ()
    """Figures of a local ordinance; each goes before the one of the code."""


class Work(Record):
    """The days of the job."""

    started: Day
    """First day."""
    framed: Day | None = None
    """Framing done."""
    finished: Day | None = None
    """Work done."""


class BlockSize(Record):
    """Inside of the foundation walls."""

    east_west: PositiveLength
    """From the west to the east block face."""
    north_south: PositiveLength
    """From the south to the north block face."""


class Joists(Record):
    """The floor joists overhead."""

    size: Line
    """Stock, such as `2x10`."""
    spacing: Spacing
    """Centre to centre."""
    run: Way
    """The way they run."""
    underside: HeightText
    """Their underside."""
    kind: Literal["sawn", "I-joist", "truss", "laminated"] = "sawn"
    """What they are: sawn lumber, or made ones that only their maker lets anybody cut."""
    first: LengthText
    """Middle of one joist, east (or north) of the block face; the others follow at the spacing."""
    insulation: Line | None = None
    """What fills the bays between them over the plain ceilings, such as `R-19 batt`."""
    vapour_layer: Line | None = None
    """The sheet between them and the board of the plain ceilings, such as `6 mil polyethylene`."""
    known: Known | None = None
    """How their places are known; planned where it is left out, and then no screw is promised to meet one."""


class WallLining(Record):
    """The stud wall in front of the block."""

    stud: Line
    """Stock, such as `2x4`."""
    back: OffsetText
    """Back of the studs."""
    spacing: Spacing
    """Centre to centre."""
    board: PositiveLength
    """Thickness of the board in front."""
    layout_from: Literal["south-west", "south-east", "north-west", "north-east"] = "south-west"
    """The corner of the block that the spacing of the studs is counted from."""
    insulation: Line | None = None
    """What fills it between the studs, such as `R-13 batt`."""
    vapour_layer: Line | None = None
    """The sheet between studs and board, such as `6 mil polyethylene`."""
    studs: dict[Wall, tuple[LengthText, ...]] = Field(default_factory=dict)
    """Middles of the studs as they stand, wall by wall, from its west or south end, such as
    `{north wall: [5 in, 21 in]}`; they replace the layout.
    """
    known: Known | None = None
    """How the places of its studs are known; planned where it is left out, and then none of them is printed."""


class Finishes(Record):
    """What the rooms are finished with; thicknesses count in every height."""

    floor: Line
    """What the floor is: `plank, oak look`."""
    floor_thick: PositiveLength
    """Slab to finished floor."""
    ceiling_board: PositiveLength
    """Thickness of ceiling board."""
    wall_board: PositiveLength
    """Thickness of wall board."""
    base: PositiveLength | None = None
    """Height of the baseboard."""


class Level(Record):
    """The level: its shell, joists, walls and finishes."""

    name: Line
    """What people call it: `Lower level`."""
    inside_of_block: BlockSize
    """Its size."""
    joists: Joists
    """What is overhead."""
    wall_lining: WallLining
    """What stands in front of the block."""
    finishes: Finishes
    """What covers it all."""


class Room(Record):
    """A room, as an outline of its finished faces."""

    name: Line
    """What people call it: `Family room`."""
    use: Literal["living", "sleeping", "hall", "bath", "laundry", "storage", "clothes closet", "utility"]
    """What it is used for; headroom rules hang on it."""
    outline: tuple[PlanPoint, ...] = Field(min_length=4)
    """Corners in order, each [east, north] of the block faces: `[[4.6 in, 4.6 in], [204 in, 4.6 in], [204 in, 283.4
    in], [4.6 in, 283.4 in]]`.
    """
    ceiling: HeightText | None = None
    """Its finished ceiling, where it is boarded."""


class Opening(Record):
    """A doorway or door in a partition."""

    what: Line
    """`Doorway`, guest room door."""
    along: SpanText
    """From jamb to jamb, along the wall."""
    head: HeightText
    """Top of the opening."""


class Partition(Record):
    """A stud wall between rooms."""

    stud: Line
    """Stock, such as `2x4`."""
    runs: Way
    """The way it runs."""
    thick: SpanText
    """From face to face of its studs, across its run."""
    along: SpanText
    """From end to end."""
    openings: tuple[Opening, ...] = ()
    """Its doorways."""
    layout_from: Literal["west", "east", "south", "north"] | None = None
    """The end that the spacing of the studs is counted from; the block wall where it is left out."""
    insulation: Line | None = None
    """What fills it between the studs, such as `sound batt`."""
    vapour_layer: Line | None = None
    """The sheet between its studs and its board, such as `6 mil polyethylene`, beside a shower or a cold room."""
    vapour_side: Literal["east", "west", "north", "south"] | None = None
    """The side of its studs that the sheet is on; both sides where it is left out."""
    studs: tuple[LengthText, ...] = ()
    """Middles of the studs as they stand, from the west or south block face; they replace the layout."""
    known: Known | None = None
    """How the places of its studs are known; planned where it is left out, and then none of them is printed."""
    bears: YesNo | None = None
    """yes where it carries the floor above, no where somebody who may say so has said that it carries nothing."""

    @model_validator(mode="after")
    def _sided(self) -> Self:
        sides = ("east", "west") if self.runs == "north" else ("north", "south")
        if self.vapour_side is not None and self.vapour_side not in sides:
            wrong("side-along-wall", f"the wall runs {self.runs}, so that it has no {self.vapour_side} side",
                  f"write {sides[0]} or {sides[1]}")  # fmt: skip
        return self


class Backing(Record):
    """Wood set between the studs for something that will hang there: a shelf, a rail, a screen."""

    what: Line
    """What it is for, such as `Grab rail` or `Screen`."""
    wall: Line
    """Key of the partition it is in, or the outside wall, such as `north wall`."""
    side: Literal["east", "west", "north", "south"] | None = None
    """The side of a partition that it is flush with."""
    along: SpanText
    """From where to where, along the wall."""
    middle: HeightText
    """The middle of it, up."""
    stock: Line = "2x6"
    """Stock, laid flat between the studs: `2x6`."""
    known: Known | None = None
    """How its place is known; as the wall's own framing where it is left out."""


class Well(Record):
    """The well before a window that lies under the ground outside."""

    out: PositiveLength
    """How far it stands out from the house wall, inside."""
    wide: PositiveLength
    """Its width along the wall, inside."""
    bottom: HeightText
    """Its floor."""
    top: HeightText
    """Its rim, at the ground or a little over it."""
    ladder: YesNo = False
    """yes where a ladder or steps lead out of it."""


class Window(Record):
    """A window in an outside wall."""

    what: Line
    """What people call it: `Guest room window`."""
    wall: Wall
    """The wall it is in."""
    along: SpanText
    """From jamb to jamb."""
    sill: HeightText
    """Bottom of the opening."""
    head: HeightText
    """Top of the opening."""
    egress: YesNo = False
    """yes for a way out in an emergency; nothing may shut it in."""
    well: Well | None = None
    """The well outside it, where the ground is higher than its sill."""


class Mark(Record):
    """A fixed feature that will still be there in twenty years."""

    what: Line
    """How a person would find it: `north-west corner of the family room`."""
    at: PlanPoint
    """[east, north] of the block faces."""


class Paper(Record):
    """A paper that goes with the house."""

    what: Line
    """Permit, inspection, warranty, manual, report: `Building permit`."""
    number: Line | None = None
    """Its number: `DEMO-0311`."""
    on: Day | None = None
    """Its date."""
    ends: Day | None = None
    """The day on which it ends, as a warranty does; it goes into the calendar: `2028-06-12`."""
    where: Line | None = None
    """Where the paper itself is: `on file`."""
    kind: Literal["permit", "inspection", "warranty", "manual", "report"]
    """Which list it belongs in."""
    contact: Line | None = None
    """Who answers for it, as of a warranty, and how to reach them: `Brightwater Plumbing (demo), 555-0161`."""
    file: Line | None = None
    """The paper itself, a PDF in the folder papers, such as `heater-manual.pdf`; it goes into the owner's book."""
    for_trades: YesNo = False
    """yes puts the file into the trade edition too; no sample edition ever has it."""


class Project(Record):
    """The project record: project.yaml."""

    project: Line
    """Short name of the job, such as `Tamarack`."""
    language: Literal["en", "es"] = "en"
    """The language of the book: `en` or `es`; texts of records may be written in several, each under its code."""
    units: Units = "imperial"
    """How lengths are printed: feet and inches, millimeters, or both, as in 1-1/2 in (38 mm)."""
    book: BookRecord
    """The book itself."""
    house: House
    """The house."""
    private: Private
    """What never leaves the owner edition."""
    people: tuple[Person, ...] = ()
    """The trades on the job."""
    codes: Codes
    """Which codes the authority works from."""
    work: Work
    """The days of the job."""
    level: Level
    """The level."""
    rooms: dict[str, Room]
    """Rooms by key."""
    partitions: dict[str, Partition] = Field(default_factory=dict)
    """Stud walls between rooms, by key."""
    windows: dict[str, Window] = Field(default_factory=dict)
    """Windows, by key."""
    backing: tuple[Backing, ...] = ()
    """Wood between the studs for what will hang there."""
    marks: dict[str, Mark] = Field(default_factory=dict)
    """Marks, by key."""
    upkeep: tuple[Upkeep, ...] = ()
    """Upkeep that belongs to no one obstacle."""
    materials: tuple[Material, ...] = ()
    """Paint, board, floor: what to buy again."""
    papers: tuple[Paper, ...] = ()
    """Permits, inspections, warranties, manuals, reports."""
    hazards_that_remain: tuple[Words, ...] = ()
    """What a later worker has to know before opening anything: `Live cables run under the joists`."""
    answered: tuple[Answer, ...] = ()
    """Findings on this record that somebody has settled."""

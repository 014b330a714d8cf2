"""Treatments overhead as records: soffits along a wall, hung and round a beam, and strips under the joists."""

from __future__ import annotations

from typing import ClassVar, Literal, Self

from pydantic import Field, model_validator

from bookgen.model.records.base import Record
from bookgen.model.records.values import (
    HeightText,
    LengthText,
    Line,
    OffsetText,
    PositiveLength,
    Spacing,
    SpanText,
    wrong,
)

UNDECIDED = "propose"  # written in place of a treatment, it asks for all of them


class Light(Record):
    """A down light in the bottom of a soffit."""

    what: Line
    """What it is, such as `4 in thin down light`."""
    diameter: PositiveLength
    """Hole in the board."""
    deep: PositiveLength
    """How far its housing goes up above the face of the board."""
    east: LengthText
    """East of the west block face, to its centre."""
    north: LengthText
    """North of the south block face, to its centre."""


class Register(Record):
    """A register or grille in the bottom of a soffit."""

    what: Line
    """What it is, such as `12 x 6 register`."""
    east: SpanText
    """From its west to its east edge."""
    north: SpanText
    """From its south to its north edge."""


class WallStep(Record):
    """One step of a wall soffit that does not go in one straight line."""

    along: SpanText
    """Where it starts and ends; the next one starts where it ends."""
    outside: OffsetText
    """Outside face of its framing."""
    framing_bottom: HeightText | None = None
    """Underside of its framing, if not that of the whole soffit."""


class WallSoffit(Record):
    """A boxed-down ceiling along a wall: a ladder hung from the joists, a cleat on the wall, crossers between.

    Its outer line is straight for the whole run, set by the furthest obstacle, unless the record asks for steps.
    """

    shown: ClassVar[tuple[str, ...]] = ("outside", "framing_bottom")

    outside: OffsetText | None = None
    """Outside face of the framing; where it is left out, the furthest obstacle with its clearance sets it."""
    framing_bottom: HeightText | None = None
    """Underside of the framing; where it is left out, the lowest obstacle with its clearance sets it."""
    along: SpanText | None = None
    """Where the soffit starts and ends, if not where the run does."""
    line: Literal["straight", "steps"] = "straight"
    """One straight outer line for the whole run, or steps that follow what it hides; `outside` is the furthest step."""
    bottom: Literal["level", "steps"] = "level"
    """One height for the whole run, or steps as in the line; `framing bottom` is the lowest step."""
    steps: tuple[WallStep, ...] = ()
    """The steps one by one, where they are to be said or were built; left out, they are worked out."""
    ladder: Line = "2x2"
    """Stock of rails, rungs and crossers: `2x2`."""
    rungs: PositiveLength | None = None
    """Spacing of rungs and crossers, centre to centre; 16 in where it is left out."""

    @model_validator(mode="after")
    def _one_line(self) -> Self:
        if self.line == "straight" and (self.steps or self.bottom == "steps"):
            wrong("steps-on-straight-line", "it asks for steps and for one straight line", "write line: steps")
        return self


class HungSoffit(Record):
    """A boxed-down ceiling away from walls: a ladder on both sides, crossers under what hangs between."""

    between: SpanText
    """Outside faces of the framing, measured across the run from the block face that its plan positions start at."""
    framing_bottom: HeightText
    """Underside of the framing."""
    along: SpanText | None = None
    """Where the soffit starts and ends, if not where the run does."""
    ladder: Line = "2x2"
    """Stock of rails, rungs and crossers: `2x2`."""
    rungs: PositiveLength | None = None
    """Spacing of rungs and crossers, centre to centre; 16 in where it is left out."""
    lights: tuple[Light, ...] = ()
    """Down lights in its bottom."""
    registers: tuple[Register, ...] = ()
    """Registers in its bottom."""


class BeamSoffit(Record):
    """A box round a beam: a ladder on each side, tied to the beam by blocks, closed below it."""

    framing_bottom: HeightText
    """Underside of the framing, below the beam by enough that the board passes under it."""
    finished_width: PositiveLength
    """Over the board, side to side."""
    along: SpanText | None = None
    """Where the soffit starts and ends, if not where the run does."""
    ladder: Line = "2x2"
    """Stock of rails, rungs and crossers: `2x2`."""
    rungs: PositiveLength | None = None
    """Spacing of rungs and crossers, centre to centre; 16 in where it is left out."""


class StripArea(Record):
    """One ceiling that gets strips."""

    room: Line
    """Key of the room: `guest`."""
    rows: tuple[LengthText, ...] = ()
    """Middle of each row across the strips; where left out, rows are laid out at the spacing, clear of every line."""
    edge_strips: tuple[LengthText, ...] = ()
    """Middle of each strip added along a wall."""
    along: SpanText
    """Where the strips start and end."""
    across: SpanText
    """From wall to wall, the way the rows are counted."""


class Furring(Record):
    """Strips fixed flat under the joists, so that lines that hang a little disappear above a flat ceiling."""

    strip: Line = "2x4"
    """Stock of the strips, laid flat: `2x4`."""
    runs: Literal["east", "north"]
    """The way the strips run; across the joists."""
    spacing: Spacing
    """Rows centre to centre, at most."""
    margin: PositiveLength | None = None
    """How much more than the lines hang the strip must be thick; 1/4 in where it is left out."""
    areas: tuple[StripArea, ...] = Field(min_length=1)
    """The ceilings that get strips."""

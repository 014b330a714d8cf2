"""Ties: tape distances from marks, the position they lead to, and the marks that are best taped from; inches."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Point
from bookgen.model.length import Length

PlanDot = tuple[Fraction, Fraction]
"""East and north of the block faces, in inches."""
Side = Literal["north", "east", "south", "west"]

TieRefusalCode = Literal[
    "ties-too-few",
    "marks-coincide",
    "ties-apart",
    "ties-flat",
    "side-needed",
    "side-blind",
    "side-contradicts",
    "marks-out-of-sight",
    "marks-flat",
]


@dataclass(frozen=True, slots=True)
class TieRefusal:
    """Why ties lead to no position, or a position has no ties. *says* and *repair* have no full stop.

    ties-too-few        fewer than two
    marks-coincide      all of them from one and the same place
    ties-apart          the two tapes never meet, or one ends inside the other
    ties-flat           they run so nearly in one line that they don't tell how far off that line the thing lies
    side-needed         two points answer, one on each side of the line through the marks
    side-blind          the side stated does not tell these two points apart
    side-contradicts    the ties lead to the other side of the line than stated
    marks-out-of-sight  fewer than two marks can be taped from, straight and within one tape
    marks-flat          those that can be taped from all lie in much the same direction
    """

    code: TieRefusalCode
    says: str
    repair: str


@dataclass(frozen=True, slots=True)
class TapedTie:
    """One tape distance, straight and level: from the mark *name* at *mark*; *sigma* is its standard deviation."""

    name: str
    mark: PlanDot
    distance: Length
    sigma: Length


@dataclass(frozen=True, slots=True)
class TieResidual:
    """How much longer the tape read than the position found is away from the mark; *used* in it, or left out."""

    name: str
    off: Length
    used: bool


@dataclass(frozen=True, slots=True)
class TiedPosition:
    """Where ties lead to, in inches east and north of the block faces.

    *rms* is the standard deviation of the position, both ways together; *longest* and *shortest* are those along the
    axes of its ellipse. *suspects* names the ties of which one is wrong: none where all agree, one where the others
    tell which (it is then left out), several where they can't. *proven* is true where more ties than two were used.
    """

    east: Length
    north: Length
    rms: Length
    longest: Length
    shortest: Length
    residuals: tuple[TieResidual, ...]
    suspects: tuple[str, ...]

    @property
    def proven(self) -> bool:
        """Tell whether some tie was more than needed, and so checked the others."""
        return sum(residual.used for residual in self.residuals) > 2


@dataclass(frozen=True, slots=True)
class ChosenTie:
    """A tie worth writing down: from the mark *key*, its *length* on the plan, and *printed* as a tape is read.

    Along a face it runs to the point straight before the thing, as far as the mark stands in that face or near it.
    """

    key: str
    what: str
    at: PlanDot
    length: Length
    printed: Length


@dataclass(frozen=True, slots=True)
class TieChoice:
    """The best ties of one position, shortest first; all but the first two are there to check them.

    *angle* is that between the first two tapes where they meet, in degrees. *error* is the standard deviation to expect
    of the position when it is taped again from *printed*. *side* is where the thing lies off the line from the first
    mark to the second. *face* names the side of the room whose face the thing is in, where the ties run along that
    face: then *angle* is between the tape and the way straight into the face, *error* is along the face, and *side* is
    the face's own.
    """

    ties: tuple[ChosenTie, ...]
    angle: float
    error: Length
    side: Side
    face: Side | None


@dataclass(frozen=True, slots=True)
class SpotTies:
    """The ties to print for one thing: a tag, or the key of a hidden thing that has none; *at* is its middle.

    *room* is the key of the room that it is taped in.
    """

    key: str
    at: Point
    room: str
    choice: TieChoice

"""What a photo shows, in records: points whose place on a wall is known, marks, and faces to see through."""

from __future__ import annotations

from typing import ClassVar, Literal, Self

from pydantic import Field, model_validator

from bookgen.model.records.base import Record
from bookgen.model.records.inside import Wall
from bookgen.model.records.values import LengthText, Line, PixelText, PositiveLength, Tag, Words, YesNo, wrong


class KnownSpot(Record):
    """A point of the wall whose place is known by tape, and where the photo shows it."""

    shown: ClassVar[tuple[str, ...]] = ("along", "above_slab")

    what: Line
    """What it is, such as `soffit meets chase`."""
    along: LengthText | None = None
    """Along the wall, from the same block corner as a run's stations."""
    above_slab: LengthText | None = None
    """Up from the concrete."""
    above_floor: LengthText | None = None
    """Up from the finished floor."""
    east: LengthText | None = None
    """On a ceiling or the underside of a soffit: east of the west block face."""
    north: LengthText | None = None
    """On a ceiling or the underside of a soffit: north of the south block face."""
    in_front: PositiveLength | None = None
    """How far it stands in front of the plane that the photo is tied to; of a ceiling, below it."""
    behind: PositiveLength | None = None
    """How far it stands behind that plane; of a ceiling, above it."""
    at: PixelText
    """Where the photo shows it: pixels to the right and down from the top left corner, the photo upright."""

    @model_validator(mode="after")
    def _one_of_each(self) -> Self:
        flat, upright = (self.east, self.north), (self.along, self.above_slab, self.above_floor)
        if all(flat) and not any(upright):
            _one_side(self.in_front, self.behind)
            return self
        if any(flat) or self.along is None:
            wrong(
                "spot-half-placed",
                "a point of a wall has along and a height, a point of a ceiling has east and north",
                "write along and above slab, or east and north",
            )
        if (self.above_slab is None) == (self.above_floor is None):
            wrong("height-missing", "exactly one height belongs here", "write one of above slab, above floor")
        _one_side(self.in_front, self.behind)
        return self


class Tied(Record):
    """What ties a photo to a wall: four points or more of one flat face, far apart, each taped and found on the photo.

    Six or more tell which one is wrong, if one is.
    """

    to: Wall | Literal["east", "north", "ceiling"]
    """The wall that the face is parallel to, or for something away from walls the way it runs; `ceiling` for any level
    face seen from below, such as the underside of a soffit: its points have east and north.
    """
    plane: Line
    """The flat face that the points lie in, such as `front of the framing, 12 in off the block`."""
    points: tuple[KnownSpot, ...] = Field(min_length=1)
    """The points."""

    @model_validator(mode="after")
    def _points_of_its_plane(self) -> Self:
        if any((spot.along is None) != (self.to == "ceiling") for spot in self.points):
            wrong(
                "spot-other-plane",
                "the points of a ceiling have east and north, those of a wall along and a height",
                "write to: ceiling, or give the points as those of a wall",
            )
        return self


class Mark(Record):
    """Something to point out on a photo: a point; with `from` an arrow to it; with `to` a box."""

    what: Line
    """What it is, such as `Main valve`; it is listed under the photo."""
    at: PixelText
    """Where it is, the tip of its arrow, or one corner of its box; pixels of the upright photo."""
    from_: PixelText | None = None
    """Where its arrow begins."""
    to: PixelText | None = None
    """The opposite corner of its box."""
    tag: Tag | None = None
    """The access point it shows; its hang tag is drawn."""
    measure: YesNo = False
    """yes works its place on the wall out; the photo must be tied."""
    in_front: PositiveLength | None = None
    """How far it stands in front of the plane that the photo is tied to, for a mark that is measured."""
    behind: PositiveLength | None = None
    """How far it stands behind that plane, for a mark that is measured."""

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        if self.from_ and self.to:
            wrong("mark-two-shapes", "a mark is an arrow or a box, not both", "delete from or to")
        if self.measure and self.to:
            wrong("mark-box-measured", "a box is no point, so it can't be measured", "delete to, or measure")
        _one_side(self.in_front, self.behind)
        return self


class PhotoPair(Record):
    """A feature that shows in both photos, in the same place of the same flat face."""

    what: Line
    """What it is, such as `upper left corner of the window`."""
    framed: PixelText
    """Where the framed photo shows it; pixels of the upright photo."""
    finished: PixelText
    """Where the finished photo shows it; pixels of the upright photo."""


class SeeThrough(Record):
    """A framed and a finished photo of the same wall, for looking through the board.

    Where both photos are tied, nothing more is needed; else four pairs of points or more.
    """

    framed: Line
    """A photo of this record, listed under framed: `corner-framed.jpg`."""
    finished: Line
    """A photo of this record, listed under finished: `corner-finished.jpg`."""
    deepest: PositiveLength | None = None
    """How far behind the face the deepest thing lies that will be looked for."""
    outline: tuple[PixelText, ...] = ()
    """Corners of the flat face on the finished photo, in order round it: `[[654, 336], [1400, 336], [1400, 900], [654,
    900]]`; without them the whole photo is taken.
    """
    pairs: tuple[PhotoPair, ...] = ()
    """Points that show in both, where the photos are not tied to the same wall."""
    says: Words | None = None
    """What it shows, for a person who can't see it: `The ladder behind the board`."""


def _one_side(in_front: object, behind: object) -> None:
    if in_front is not None and behind is not None:
        wrong("side-twice", "a thing stands in front of the plane or behind it", "delete one of in front, behind")

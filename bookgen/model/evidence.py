"""Photos as evidence: pairs of points, the plane map fitted to them, the camera behind it, and what was measured."""

from __future__ import annotations

from typing import Literal

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length

Dot = tuple[float, float]
"""Two numbers on a plane: pixels of an upright picture (right, down, 0 at the top left corner of the first pixel),
or inches on a wall (along, up)."""
Row = tuple[float, float, float]

RefusalCode = Literal[
    "pairs-too-few",
    "pairs-doubled",
    "pairs-in-line",
    "pairs-crossed",
    "pairs-mirrored",
    "pairs-disagree",
    "pairs-ill-placed",
    "point-beyond",
]


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why points can't be used. *says* and *repair* are sentences without a full stop.

    pairs-too-few      fewer than four
    pairs-doubled      two of them are the same point
    pairs-in-line      so many stand in one line that the plane is not settled
    pairs-crossed      they don't follow one another the same way round in both
    pairs-mirrored     one picture would show the wall from behind
    pairs-disagree     no plane fits enough of them
    pairs-ill-placed   a slip of one pixel would move the result by many
    point-beyond       the point is no point of the wall: it lies on or past the wall's vanishing line
    """

    code: RefusalCode
    says: str
    repair: str


@dataclass(frozen=True, slots=True)
class PointPair:
    """One feature seen in two places: *source* and *target*, each in its own plane's units."""

    name: str
    source: Dot
    target: Dot


@dataclass(frozen=True, slots=True)
class KnownPoint:
    """A point of a wall whose place is known: *place* in inches along and up, *pixel* where a picture shows it.

    *off* is how far, in inches, it stands in front of the plane that the picture is tied to; behind it is negative.
    """

    name: str
    place: Dot
    pixel: Dot
    off: float = 0.0


@dataclass(frozen=True, slots=True)
class Homography:
    """A map from plane to plane that keeps lines straight: a 3 x 3 matrix, by rows; its scale means nothing.

    The matrix is taken with the sign that makes the third coordinate positive on the useful side of the source plane.
    """

    rows: tuple[Row, Row, Row]

    def at(self, dot: Dot) -> Dot | None:
        """Return where *dot* goes, or None on and past the line that goes to infinity."""
        x, y, w = (a * dot[0] + b * dot[1] + c for a, b, c in self.rows)
        return (x / w, y / w) if w > 0 else None

    def inverse(self) -> Homography:
        """Return the map back, positive where this one is. Raises ZeroDivisionError for a matrix without one."""
        (a, b, c), (d, e, f), (g, h, i) = self.rows
        first, second, third = e * i - f * h, f * g - d * i, d * h - e * g
        whole = a * first + b * second + c * third
        return Homography(
            (
                (first / whole, (c * h - b * i) / whole, (b * f - c * e) / whole),
                (second / whole, (a * i - c * g) / whole, (c * d - a * f) / whole),
                (third / whole, (b * g - a * h) / whole, (a * e - b * d) / whole),
            )
        )

    def after(self, first: Homography) -> Homography:
        """Return the map that does *first* and then this one."""
        columns = tuple(zip(*first.rows, strict=True))
        one, two, three = (tuple(sum(p * q for p, q in zip(row, c, strict=True)) for c in columns) for row in self.rows)
        return Homography(((one[0], one[1], one[2]), (two[0], two[1], two[2]), (three[0], three[1], three[2])))


@dataclass(frozen=True, slots=True)
class PairResidual:
    """How far, in the target's units, the map puts a pair's source from its target; *used* in the fit or left out."""

    name: str
    off: float
    used: bool


@dataclass(frozen=True, slots=True)
class Fit:
    """The plane map fitted to *pairs*; *residuals* also name those left out, in the order given.

    *rms* is over the pairs used. *amplifies* is how far a slip of one pixel in every target moves the map between the
    points, at worst; about 1.4 is as good as it gets with four. Four pairs fit without a residual whatever they say, so
    then nothing is *proven*.
    """

    homography: Homography
    pairs: tuple[PointPair, ...]
    residuals: tuple[PairResidual, ...]
    rms: float
    amplifies: float

    @property
    def bad(self) -> tuple[str, ...]:
        """Return the names of the pairs left out."""
        return tuple(residual.name for residual in self.residuals if not residual.used)

    @property
    def proven(self) -> bool:
        """Tell whether there are more pairs than a plane needs."""
        return len(self.pairs) > 4


FocalKnown = Literal["given", "worked out", "assumed"]


@dataclass(frozen=True, slots=True)
class Camera:
    """Where a picture was taken from: inches along the wall, up, and off its plane; focal length in pixels."""

    along: float
    up: float
    off: float
    focal: float
    focal_known: FocalKnown


@dataclass(frozen=True, slots=True)
class Shift:
    """How far something off the plane seems moved, at most: *amount* in pixels or inches, at the *worst* dot."""

    amount: float
    worst: Dot


@dataclass(frozen=True, slots=True)
class Sighting:
    """A marked point's place on a wall, off a photo; each true distance lies within its bound about 19 times in 20.

    *along* and *up* are in the frame of the known points that the photo was tied to.
    """

    name: str
    along: Length
    up: Length
    along_within: Length
    up_within: Length


@dataclass(frozen=True, slots=True)
class Pane:
    """One flat face that can be looked through: *onto* maps the framed picture's pixels to the finished one's.

    *outline* goes round the face in the finished picture, in its pixels; without one, the whole picture is taken.
    """

    onto: Homography
    outline: tuple[Dot, ...] = ()


@dataclass(frozen=True, slots=True)
class MarkSighting:
    """Where a measured mark is: mark number *index* of photo *file* in the record *obstacle*.

    *along* and *up* of its *sighting* are a plan position, east or north of the block faces as *way* says, and a height
    above the slab; where *way* is level, on a ceiling or the underside of a soffit, they are east and north.
    """

    obstacle: str
    file: str
    index: int
    way: Literal["east", "north", "level"]
    sighting: Sighting


@dataclass(frozen=True, slots=True)
class Overlay:
    """The photo *framed* of a record, laid over its photo *finished*, seen through the *panes*.

    *deepest* is how far behind the panes' plane somebody will look for things; *shift* is by how many inches of the
    wall such a thing seems moved at most, None where the photos are not tied to inches.
    """

    obstacle: str
    framed: str
    finished: str
    panes: tuple[Pane, ...]
    says: str
    deepest: Length | None = None
    shift: Length | None = None


@dataclass(frozen=True, slots=True)
class PhotoEvidence:
    """What the photos of a project tell: places of measured marks, and framed photos laid over finished ones."""

    marks: tuple[MarkSighting, ...] = ()
    overlays: tuple[Overlay, ...] = ()

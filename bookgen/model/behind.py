"""What lies behind a finished face, where nothing may be driven into it, how long a screw may be elsewhere; inches."""

from __future__ import annotations

from fractions import Fraction
from math import floor
from typing import Literal

from bookgen.model.assembly import Material
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Outline, Polygon
from bookgen.model.length import MILLIMETRES_PER_INCH, Length
from bookgen.model.records.inside import Known, Way

Stretch = tuple[Fraction, Fraction]
Looking = Literal["north", "east", "south", "west", "up"]
SURE = frozenset({"measured", "photo"})
"""The ways of knowing a place that a depth may be printed from; what is planned or assumed may be anywhere."""


LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def letter(number: int) -> str:
    """Return what marks the thing at a place, from 0, among those behind a face: A to Z, then AA, AB and so on."""
    whole, rest = divmod(number, len(LETTERS))
    return (letter(whole - 1) if whole else "") + LETTERS[rest]


def told_depth(depth: Fraction, *, metric: bool) -> Length:
    """Return a depth as it is told: to 1/8 in or 1 mm and rounded down, so that nobody trusts in more than there is."""
    step = 1 / MILLIMETRES_PER_INCH if metric else Fraction(1, 8)
    return Length(floor(depth / step) * step)


def is_sure(known: Known) -> bool:
    """Tell whether somebody measured a place or saw it on a photo."""
    return known.how in SURE


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece in the plane of a face: its stretch along and up the face, in level inches, and its near side's depth.

    *depth* is from the finished surface. *outline* is the whole piece, which may reach past the face.
    """

    along: Stretch
    up: Stretch
    depth: Fraction
    outline: Outline


@dataclass(frozen=True, slots=True)
class Behind:
    """One hidden thing behind a face: the stretch it takes along and up, how deep its near side is, and its pieces."""

    what: str
    trade: str
    along: Stretch
    up: Stretch
    depth: Fraction
    known: Known
    material: Material
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Framed:
    """One piece of wood right behind the board of a face; *upright* where it is longer up the face than along it."""

    role: str
    piece: Piece

    @property
    def upright(self) -> bool:
        """Tell whether it is placed along the face: a stud, a rung, a row of strips that runs up the face."""
        (left, right), (low, high) = self.piece.along, self.piece.up
        return high - low >= right - left

    @property
    def middle(self) -> Fraction:
        """Return its middle: along the face for an upright one, else up the face."""
        low, high = self.piece.along if self.upright else self.piece.up
        return (low + high) / 2


@dataclass(frozen=True, slots=True)
class Barred:
    """A part of a face where nothing may be driven in, because of what lies behind it there."""

    along: Stretch
    up: Stretch


NoScrew = Literal["framing", "things", "board", ""]


@dataclass(frozen=True, slots=True)
class FaceBehind:
    """One finished face and what is behind it.

    *at* is where its plane lies on the axis across it. *outline* is the face itself, in `along` and `up`; *overhead* is
    true for a ceiling, where `along` is east and `up` is north. *looking* is the way somebody looks who stands before
    it. *framing* is the wood right behind the board, *framing_known* how the face and its framing are known.

    Nothing may be driven in where *barred* says so. Elsewhere a screw may be as long as *screw*, the board's thickness
    included; it is None where none may be told, and *no_screw* says why: the framing is planned or assumed, something
    behind or near is (*unsure* names it), or there is no board to fix to.
    """

    name: str
    room: str
    obstacle: str
    overhead: bool
    along_way: Way
    looking: Looking
    at: Fraction
    along: Stretch
    up: Stretch
    outline: Polygon
    framing: tuple[Framed, ...]
    framing_known: Known
    things: tuple[Behind, ...]
    barred: tuple[Barred, ...]
    screw: Length | None
    no_screw: NoScrew
    unsure: tuple[str, ...]

    @property
    def sure(self) -> bool:
        """Tell whether the face itself is where it is said to be, so that a depth behind it means something."""
        return is_sure(self.framing_known)

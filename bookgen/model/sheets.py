"""Board on faces and sheets from the yard: what is to be covered, and the plan of joints, cuts and sheets."""

from __future__ import annotations

from fractions import Fraction

from bookgen.model.cutting import NOTHING, Aim
from bookgen.model.frozen import dataclass
from bookgen.model.length import Length


@dataclass(frozen=True, slots=True)
class Patch:
    """A rectangle on a face or a sheet, from its lower left corner."""

    left: Length
    right: Length
    foot: Length
    top: Length

    def wide(self) -> Length:
        """Return the width."""
        return self.right - self.left

    def high(self) -> Length:
        """Return the height."""
        return self.top - self.foot

    def area(self) -> Fraction:
        """Return the area in square inches."""
        return self.wide().inches * self.high().inches

    def holds(self, other: Patch) -> bool:
        """Tell whether *other* lies within this patch, edges included."""
        return (
            self.left <= other.left and other.right <= self.right and self.foot <= other.foot and other.top <= self.top
        )


@dataclass(frozen=True, slots=True)
class BoardFace:
    """One rectangle to be boarded: *wide* across its framing, *high* along it, in one layer of one board.

    *members* are the middles of studs, rungs, crossers or strips behind it, from its left end; its own edges are taken
    to lie on framing. *openings* need no board; board that lies wholly within one is left out.
    """

    name: str
    wide: Length
    high: Length
    members: tuple[Length, ...]
    openings: tuple[Patch, ...] = ()

    def __post_init__(self) -> None:
        if min(self.wide, self.high) <= NOTHING:
            raise ValueError(f"{self.name}: a face of {self.wide.inches} by {self.high.inches} in")


@dataclass(frozen=True, slots=True)
class SheetSize:
    """A size of board that a yard sells, and its price in the project's money, where that is known."""

    wide: Length
    long: Length
    price: Fraction | None = None

    def __post_init__(self) -> None:
        if min(self.wide, self.long) <= NOTHING or (self.price is not None and self.price <= 0):
            raise ValueError(f"a sheet of {self.wide.inches} by {self.long.inches} in for {self.price}")

    def area(self) -> Fraction:
        """Return the area in square inches."""
        return self.wide.inches * self.long.inches


@dataclass(frozen=True, slots=True)
class FaceLayout:
    """How one face is boarded: its pieces, from the top course down and from left to right.

    *joints* are the butt joints from the left end, one for each course that has it. *unbacked* are those with no
    member behind: they need a backing block. *staggered* is false where joints of neighbouring courses had to fall
    on the same member. *seams* is the running length of all joints within the face.
    """

    face: BoardFace
    pieces: tuple[Patch, ...]
    joints: tuple[Length, ...]
    unbacked: tuple[Length, ...]
    staggered: bool
    seams: Length


@dataclass(frozen=True, slots=True)
class SheetCut:
    """A piece on a sheet, its left to right along the sheet's length; *goes_to* names face and piece, one a sheet."""

    patch: Patch
    goes_to: tuple[str, ...]


def named(cuts: tuple[SheetCut, ...]) -> tuple[tuple[str, SheetCut], ...]:
    """Return the pieces of a sheet with the letters that tell them apart on its drawing and in its table: a, b … aa."""
    letters = "abcdefghijklmnopqrstuvwxyz"
    count = len(letters)
    names = ((letters[n // count - 1] if n >= count else "") + letters[n % count] for n in range(len(cuts)))
    return tuple(zip(names, cuts, strict=True))


@dataclass(frozen=True, slots=True)
class BoughtSheet:
    """One cutting diagram: *count* sheets cut alike. All cuts can be made from edge to edge."""

    size: SheetSize
    count: int
    cuts: tuple[SheetCut, ...]

    def used(self) -> Fraction:
        """Return the area of the pieces of one sheet, in square inches."""
        return sum((cut.patch.area() for cut in self.cuts), Fraction(0))


@dataclass(frozen=True, slots=True)
class BoardPlan:
    """How all faces of one board are laid out, cut and bought.

    *value* is the cost or the area bought, by *aim*. The plan is a good one, not a proven best: *bound* is what the
    bare area of the pieces would take, without any waste. *impossible* says in words why a face is not in the plan.
    """

    layouts: tuple[FaceLayout, ...]
    sheets: tuple[BoughtSheet, ...]
    aim: Aim
    value: Fraction
    bound: Fraction
    impossible: tuple[str, ...]

    def buying(self) -> tuple[tuple[SheetSize, int], ...]:
        """Return each size to buy and how many, the longest first."""
        counts: dict[SheetSize, int] = {}
        for sheet in self.sheets:
            counts[sheet.size] = counts.get(sheet.size, 0) + sheet.count
        return tuple(sorted(counts.items(), key=lambda row: (row[0].long, row[0].wide), reverse=True))

    def by_cost(self) -> bool:
        """Tell whether the plan goes by cost."""
        return self.aim is Aim.COST

    def bought(self) -> Fraction:
        """Return the area of all sheets, in square inches."""
        return sum((sheet.size.area() * sheet.count for sheet in self.sheets), Fraction(0))

    def used(self) -> Fraction:
        """Return the area of all pieces, in square inches."""
        return sum((piece.area() for layout in self.layouts for piece in layout.pieces), Fraction(0))

    def wasted(self) -> Fraction:
        """Return the part of the board bought that is not on a face."""
        return 1 - self.used() / self.bought() if self.sheets else Fraction(0)

    def joints(self) -> int:
        """Return how many butt joints there are."""
        return sum(len(layout.joints) for layout in self.layouts)


@dataclass(frozen=True, slots=True)
class Quantity:
    """How much of a finishing material: the usual amount between the least and the most that handbooks give.

    *unit* is ft, gal, each or sq ft. All three amounts are equal where the thing is measured or counted.
    """

    what: str
    unit: str
    least: Fraction
    usual: Fraction
    most: Fraction
    source: str
    sure: str

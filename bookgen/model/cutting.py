"""Cutting and buying sticks: what is asked of the saw and what the yard sells, and the plan made of both."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from fractions import Fraction

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length

NOTHING = Length(Fraction(0))
KERF = Length(Fraction(1, 8))  # of a common blade; from memory
KEEP = Length(Fraction(24))  # our choice: long enough for blocking between joists 24 in apart


class Aim(Enum):
    """What a plan was made to have the least of."""

    COST = "cost"  # the money of all sticks bought; every length has its price
    LENGTH = "length"  # inches of all sticks bought; at least one length has no price
    AREA = "area"  # square inches of all sheets bought; at least one size has no price


class Proof(Enum):
    """How it is known that nothing less will do."""

    BOUND = "bound"  # a lower bound, worked out in whole numbers, meets the plan
    SEARCH = "search"  # the integer program over every pattern that could do better found none
    OPEN = "open"  # not known: at most the stated gap lies between this plan and the best there is


@dataclass(frozen=True, slots=True, order=True)
class Piece:
    """Equal pieces that somebody wants: their length, how many, and where they go (obstacle and role, in words).

    Raises ValueError for no length or a count under one: a part without length is our own bug.
    """

    length: Length
    count: int
    label: str

    def __post_init__(self) -> None:
        if self.length <= NOTHING or self.count < 1:
            raise ValueError(f"{self.label}: {self.count} pieces of {self.length.inches} in")


@dataclass(frozen=True, slots=True)
class Stick:
    """A length that a yard sells, and its price in the project's money, where that is known.

    Raises ValueError unless the length and the price are over nothing; a record's price is looked at where it is read.
    """

    length: Length
    price: Fraction | None = None

    def __post_init__(self) -> None:
        if self.length <= NOTHING or (self.price is not None and self.price <= 0):
            raise ValueError(f"a stick of {self.length.inches} in for {self.price}")


@dataclass(frozen=True, slots=True)
class SawRules:
    """How sticks are cut.

    *kerf* is what the saw takes between two pieces. *trim* comes off each of *trimmed_ends* ends (0, 1 or 2) of every
    stick bought, its saw cut included. A leftover as long as *keep* or longer is worth putting aside.
    """

    kerf: Length = KERF
    trim: Length = NOTHING
    trimmed_ends: int = 0
    keep: Length = KEEP

    def __post_init__(self) -> None:
        if min(self.kerf, self.trim, self.keep) < NOTHING or self.trimmed_ends not in (0, 1, 2):
            raise ValueError(f"no saw works so: {self}")

    def trimmed(self) -> Length:
        """Return what trimming takes off a stick."""
        return Length(self.trim.inches * self.trimmed_ends)

    def usable(self, stick: Length) -> Length:
        """Return what is left of a stick for pieces and the cuts between them; it may be nothing or less."""
        return stick - self.trimmed()


@dataclass(frozen=True, slots=True)
class Share:
    """How many of some equal pieces go to one place."""

    label: str
    count: int


@dataclass(frozen=True, slots=True)
class Cut:
    """One piece on a cutting diagram; *shares* says where the piece goes, over all sticks cut alike."""

    length: Length
    shares: tuple[Share, ...]


@dataclass(frozen=True, slots=True)
class BoughtStick:
    """One cutting diagram: *count* sticks cut alike, the pieces from the trimmed end on, longest first.

    stick = trimmed + all cuts + sawn + left, exactly. *left* is in one piece, at the far end.
    """

    stick: Stick
    count: int
    cuts: tuple[Cut, ...]
    trimmed: Length
    sawn: Length
    left: Length

    def used(self) -> Length:
        """Return the length of the pieces of one stick."""
        return Length(sum((cut.length.inches for cut in self.cuts), Fraction(0)))


@dataclass(frozen=True, slots=True)
class Offcut:
    """Equal leftovers worth putting aside."""

    length: Length
    count: int


@dataclass(frozen=True, slots=True)
class Impossible:
    """Pieces that no stick on sale holds: *longest* is the most that one gives, None where none is sold.

    *says* is a sentence without a full stop, *repair* another; lengths are left to whoever knows the reader's units.
    """

    piece: Piece
    longest: Length | None
    says: str
    repair: str


@dataclass(frozen=True, slots=True)
class CuttingPlan:
    """What to buy of one stock and how to cut it.

    *value* is the cost, or the inches bought, by *aim*; no plan at all can have less than *bound*. *rounded_up* is
    None where lengths were packed as they are, else the mark that pieces were rounded up to for packing (their
    lengths here stay exact). *impossible* holds the pieces that are not in the plan.
    """

    sticks: tuple[BoughtStick, ...]
    rules: SawRules
    aim: Aim
    value: Fraction
    bound: Fraction
    proof: Proof
    rounded_up: Length | None
    impossible: tuple[Impossible, ...]

    def gap(self) -> Fraction:
        """Return how much better a plan might still be, as a part of this one; 0 where nothing better exists."""
        return Fraction(0) if self.proof is not Proof.OPEN else (self.value - self.bound) / self.value

    def buying(self) -> tuple[tuple[Stick, int], ...]:
        """Return each length to buy and how many, the longest first."""
        counts: dict[Stick, int] = {}
        for bought in self.sticks:
            counts[bought.stick] = counts.get(bought.stick, 0) + bought.count
        return tuple(sorted(counts.items(), key=lambda row: row[0].length, reverse=True))

    def offcuts(self) -> tuple[Offcut, ...]:
        """Return the leftovers worth keeping, the longest first."""
        counts: dict[Length, int] = {}
        for bought in self.sticks:
            if bought.left >= self.rules.keep and bought.left > NOTHING:
                counts[bought.left] = counts.get(bought.left, 0) + bought.count
        return tuple(Offcut(length, counts[length]) for length in sorted(counts, reverse=True))

    def bought(self) -> Length:
        """Return the length of all sticks."""
        return _total(self.sticks, lambda row: row.stick.length)

    def used(self) -> Length:
        """Return the length of all pieces in the plan."""
        return _total(self.sticks, BoughtStick.used)

    def wasted(self) -> Length:
        """Return what becomes neither a piece nor an offcut worth keeping: trimmings, sawdust, short ends."""
        kept = sum((row.length.inches * row.count for row in self.offcuts()), Fraction(0))
        return self.bought() - self.used() - Length(kept)

    def cost(self) -> Fraction | None:
        """Return what all sticks cost; None where one of them has no price."""
        total = Fraction(0)
        for bought in self.sticks:
            if bought.stick.price is None:
                return None
            total += bought.stick.price * bought.count
        return total


@dataclass(frozen=True, slots=True)
class Saving:
    """What a plan saves beside the plain way of buying, each in the same measure: money, inches or square inches.

    *way* says in words how the plain way goes. *saved* is below nothing where the plain way would buy too little.
    """

    way: str
    plain: Fraction
    planned: Fraction

    def saved(self) -> Fraction:
        """Return how much less is bought than in the plain way."""
        return self.plain - self.planned

    def share(self) -> Fraction:
        """Return the saving as a part of the plain way."""
        return self.saved() / self.plain if self.plain else Fraction(0)


def _total(sticks: tuple[BoughtStick, ...], of: Callable[[BoughtStick], Length]) -> Length:
    return Length(sum((of(row).inches * row.count for row in sticks), Fraction(0)))

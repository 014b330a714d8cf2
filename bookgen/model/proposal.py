"""What might hide an obstacle: each treatment tried, with what it leaves and costs, or why it does not serve."""

from __future__ import annotations

from fractions import Fraction

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.model.place import Place


@dataclass(frozen=True, slots=True)
class Cost:
    """What a treatment leaves and takes. Areas in square inches.

    *headroom* is over the finished floor under its underside, None where it has none overhead. *floor* is the plan that
    stands on the floor and is lost to it, *under* the plan of its undersides, *board* the board's area, *sticks* the
    lengths of all its sticks put together.
    """

    headroom: Length | None
    floor: Fraction
    under: Fraction
    board: Fraction
    sticks: Length
    pieces: int


@dataclass(frozen=True, slots=True)
class Proposal:
    """One treatment as it was tried: *lines* are what to write in the record, without the word treatment.

    *cost* is None where it does not serve, and then *why* says what stands in its way. *access* says of each thing that
    has to be reached how it is reached, or what shuts it in, and *shuts_in* whether anything does. All of them are
    finished sentences.
    """

    treatment: str
    form: str
    lines: tuple[str, ...]
    cost: Cost | None
    access: tuple[str, ...]
    why: tuple[str, ...]
    shuts_in: bool = False

    @property
    def serves(self) -> bool:
        """Tell whether it can be built."""
        return self.cost is not None


@dataclass(frozen=True, slots=True)
class Choice:
    """An obstacle whose treatment is still to be chosen, with everything tried; what serves comes first."""

    key: str
    obstacle: str
    place: Place
    proposals: tuple[Proposal, ...]

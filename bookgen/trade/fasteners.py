"""A board, a joint or a tool -> the screws, nails and spacings for it, each with its source."""

from __future__ import annotations

from functools import cache

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.trade.board import Surface
from bookgen.trade.tables import Sure, TableError, read_rows

TABLE = "fasteners.toml"


@dataclass(frozen=True, slots=True)
class ScrewSpacing:
    """The most the screws of a board may be apart, by where it hangs and how far apart its framing is."""

    surface: Surface
    framing: Length
    spacing: Length
    source: str
    sure: Sure


@dataclass(frozen=True, slots=True)
class Screw:
    """A board screw by the lengths it is sold in."""

    length: Length
    source: str
    sure: Sure


@dataclass(frozen=True, slots=True)
class FastenerRule:
    """One rule of fastening; `value` is its figure where it has a single one, `words` says what it is of."""

    id: str
    about: str
    value: Length | None
    words: str
    source: str
    sure: Sure


@dataclass(frozen=True, slots=True)
class Nailing:
    """How one joint of the framing is nailed."""

    id: str
    joint: str
    nails: str
    source: str
    sure: Sure


@cache
def fastener_rules() -> tuple[FastenerRule, ...]:
    """Return every rule: board edges, bead and trim, penetration, powder-actuated tools, treated wood."""
    return read_rows(TABLE, "rule", FastenerRule)


def fastener_rule(id: str) -> FastenerRule | None:  # noqa: A002 (an id is what it is)
    """Return the rule called *id*; None if there is none."""
    return next((row for row in fastener_rules() if row.id == id), None)


@cache
def nailing() -> tuple[Nailing, ...]:
    """Return the nailing of the joints in a framed soffit or wall."""
    return read_rows(TABLE, "nailing", Nailing)


@cache
def screws() -> tuple[Screw, ...]:
    """Return the board screws sold, shortest first."""
    return read_rows(TABLE, "screw", Screw)


@cache
def screw_spacings() -> tuple[ScrewSpacing, ...]:
    """Return the screw spacings, closest framing first."""
    return read_rows(TABLE, "screw_spacing", ScrewSpacing)


def screw_spacing(surface: Surface, framing: Length) -> ScrewSpacing | None:
    """Return the screw spacing on *surface* for framing that is *framing* apart; None if the framing is too far apart.

    Framing between two rows takes the wider row, whose screws are the closer.
    """
    rows = [row for row in screw_spacings() if row.surface == surface and framing <= row.framing]
    return min(rows, key=lambda row: row.framing, default=None)


def board_screw(thickness: Length) -> Screw | None:
    """Return the shortest stock screw that goes through *thickness* of board and far enough into wood.

    None where no stock screw is long enough. How far is enough is the rule `screw-into-wood`.
    """
    into_wood = fastener_rule("screw-into-wood")
    if into_wood is None or into_wood.value is None:
        raise TableError(f"{TABLE}: no figure for screw-into-wood")
    needed = thickness + into_wood.value
    return next((screw for screw in screws() if screw.length >= needed), None)

"""The board of a job in, what finishing it takes out: as a range where handbooks differ, counted where it can be.

Published factors differ by up to twice, so each amount is a range; only what can be measured on the faces is a single
figure.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import ceil

from bookgen.model.assembly import HiddenThing
from bookgen.model.geometry import AXES
from bookgen.model.length import Length
from bookgen.model.sheets import FaceLayout, Quantity
from bookgen.model.solved import Solved
from bookgen.trade.board import Surface, finishing_factors
from bookgen.trade.fasteners import fastener_rule, screw_spacing
from bookgen.trade.tables import Sure, TableError

SQUARE_INCHES_PER_SQUARE_FOOT = 144
INCHES_PER_FOOT = 12
PIPED = frozenset({"water", "waste", "gas", "air", "soil gas"})  # systems that run in pipes and ducts
PER = 1000  # square feet, which the published factors are for


def by_factor(board_area: Fraction) -> tuple[Quantity, ...]:
    """Return tape, compound and screws for so many square inches of board, each with its published range."""
    thousands = board_area / SQUARE_INCHES_PER_SQUARE_FOOT / PER
    return tuple(
        Quantity(
            row.id,
            row.unit,
            row.least * thousands,
            row.per_1000_square_feet * thousands,
            row.most * thousands,
            row.source,
            row.sure.value,
        )
        for row in finishing_factors()
    )


def coats(finished_area: Fraction, paint: int = 2, primer: int = 1) -> tuple[Quantity, ...]:
    """Return the area to prime and to paint, in square feet, every coat counted; how far a can goes is on the can."""
    square_feet = finished_area / SQUARE_INCHES_PER_SQUARE_FOOT
    return tuple(
        _measured(what, "sq ft", square_feet * count) for what, count in (("primer", primer), ("wall-paint", paint))
    )


def bead(edges: Iterable[Length]) -> Quantity:
    """Return the running length of outside corners, in feet."""
    inches = sum((edge.inches for edge in edges), Fraction(0))
    return _measured("corner-bead", "ft", inches / INCHES_PER_FOOT)


def seams(layouts: Iterable[FaceLayout]) -> Quantity:
    """Return the running length of the joints within faces, in feet; corners between faces come on top."""
    inches = sum((layout.seams.inches for layout in layouts), Fraction(0))
    return _measured("joints-within-faces", "ft", inches / INCHES_PER_FOOT)


def screws(layout: FaceLayout, surface: Surface, framing: Length) -> Quantity | None:
    """Return the screws of one face, counted on its framing; None where the framing is too far apart for the table.

    Each piece gets a row of screws at its ends and over each member, the first and the last screw at the least distance
    from its edge.
    """
    rule, edge = screw_spacing(surface, framing), fastener_rule("fastener-from-edge-least")
    if edge is None or edge.value is None:
        raise TableError("fasteners.toml: no figure for fastener-from-edge-least")
    if rule is None:
        return None
    count = 0
    for piece in layout.pieces:
        rows = {piece.left, piece.right, *(at for at in layout.face.members if piece.left < at < piece.right)}
        between = max(piece.high().inches - 2 * edge.value.inches, Fraction(0))
        count += len(rows) * (ceil(between / rule.spacing.inches) + 1)
    number = Fraction(count)
    return Quantity("board-screws", "each", number, number, number, rule.source, rule.sure.value)


def packs(amount: Fraction, spare: Fraction, holds: Fraction) -> int:
    """Return how many packs that hold *holds* cover *amount* with *spare* (a part of it) added."""
    return ceil(amount * (1 + spare) / holds)


def sealant(solved: Solved) -> Quantity | None:
    """Return the bead round each pipe and duct where it leaves a hidden space, in feet; None where none does.

    Round the box of each thing, once at the least, and twice where it is closed at both ends.
    """
    inches = Fraction(0)
    for obstacle in solved.obstacles:
        if obstacle.assembly is not None:
            inches += sum((2 * _round(thing) for thing in obstacle.hidden if thing.system in PIPED), Fraction(0))
    if not inches:
        return None
    feet = inches / INCHES_PER_FOOT
    source = "once or twice round each pipe and duct, where it enters and leaves"
    return Quantity("fire-rated caulk", "ft", feet / 2, feet, feet, source, Sure.COMPUTED.value)


def _round(thing: HiddenThing) -> Fraction:
    """Return how far it is round a pipe or duct: round the box of its thickest piece."""
    boxes = [solid.bounds() for solid in thing.solids]
    return max(
        (2 * sum(sorted(box.size(axis) for axis in AXES)[:2], Fraction(0)) for box in boxes), default=Fraction(0)
    )


def _measured(what: str, unit: str, amount: Fraction) -> Quantity:
    return Quantity(what, unit, amount, amount, amount, "measured on the faces", Sure.COMPUTED.value)

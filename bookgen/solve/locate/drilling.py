"""What is behind a face in; where nothing may be driven into it, and the longest screw elsewhere, out.

The rule is plain and on the safe side. Round whatever lies near the surface nothing is driven in. Elsewhere a screw
may go as far into the wood as the electrical code keeps cables back from it, so that one which nobody recorded is out
of its reach too. Where the face, or anything behind or near it, is only planned or assumed, no length is told at all.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import floor

from bookgen.model.behind import Barred, Behind, NoScrew, Piece, Stretch, is_sure
from bookgen.model.frozen import dataclass
from bookgen.model.length import MILLIMETRES_PER_INCH, Length
from bookgen.model.records.inside import Known
from bookgen.trade.cable import SETBACK

NEAR = Fraction(4)  # inches behind the surface that a long screw or a drill still reaches; common practice, no source
# How far round a thing is nothing driven in, in inches? As far as its place may be off; common practice, no source.
ROUND = {"measured": Fraction(2), "photo": Fraction(4), "planned": Fraction(16), "assumed": Fraction(16)}
STEPS = {"imperial": Fraction(1, 4), "both": Fraction(1, 4), "metric": 5 / MILLIMETRES_PER_INCH}


@dataclass(frozen=True, slots=True)
class Drilling:
    """Where not, how long elsewhere, and if no length is told, why; the fields are those of `FaceBehind`."""

    barred: tuple[Barred, ...]
    screw: Length | None
    no_screw: NoScrew
    unsure: tuple[str, ...]


def drilling(
    whole: tuple[Stretch, Stretch],
    known: Known,
    board: Fraction | None,
    things: Iterable[Behind],
    unsure: Iterable[str],
    step: Fraction,
) -> Drilling:
    """Return what a face allows; *whole* is its stretch along and up, *known* how it and its framing are known.

    *board* is how thick its board is, None without one; *unsure* names what is planned or assumed behind or near it.
    A screw is told in whole steps of *step* inches, rounded down.
    """
    doubted = tuple(dict.fromkeys(unsure))
    if not is_sure(known):
        return Drilling((Barred(*whole),), None, "framing", doubted)
    barred = tuple(
        dict.fromkeys(
            zone
            for thing in things
            for piece in thing.pieces
            if piece.depth <= NEAR or not is_sure(thing.known)
            for zone in [_round(piece, ROUND[thing.known.how], whole)]
        )
    )
    if board is None:
        return Drilling(barred, None, "board", doubted)
    if doubted:
        return Drilling(barred, None, "things", doubted)
    return Drilling(barred, Length(floor((board + SETBACK.inches) / step) * step), "", ())


def _round(piece: Piece, by: Fraction, whole: tuple[Stretch, Stretch]) -> Barred:
    return Barred(_within(piece.along, by, whole[0]), _within(piece.up, by, whole[1]))


def _within(stretch: Stretch, by: Fraction, whole: Stretch) -> Stretch:
    """Return a stretch with *by* more at both ends, as far as the face goes."""
    return max(stretch[0] - by, whole[0]), min(stretch[1] + by, whole[1])

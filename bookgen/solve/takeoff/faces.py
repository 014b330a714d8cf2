"""Treatments and walls in, every rectangle to be boarded out: its framing behind, the way it hangs, its true area."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from itertools import pairwise

from bookgen.model.assembly import Assembly, Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import ACROSS, Axis, Box
from bookgen.model.length import Length
from bookgen.model.sheets import BoardFace
from bookgen.solve.takeoff.count import area
from bookgen.solve.takeoff.joinery import SHEETS
from bookgen.trade.board import Surface

TOUCHING = Fraction(1, 8)  # inches: wood this near behind a board carries it
JOIST = "joist"
NOT_FRAMING = frozenset({"board", "door", "cover", "jamb", "light", "register", "cap", "rail", "baluster"})


@dataclass(frozen=True, slots=True)
class Covered:
    """One rectangle of board: the record it belongs to, its stock, and how it hangs.

    *apart* is the widest bay of the closer row of its framing, middle to middle; None where there is less than a bay.
    *area* is what is seen of it, square inches: less than its rectangle where an edge is cut on a slope. *gypsum* is
    false for panels.
    """

    obstacle: str
    stock: str
    face: BoardFace
    surface: Surface
    apart: Length | None
    area: Fraction
    gypsum: bool


@dataclass(frozen=True, slots=True)
class _Placed:
    assembly: Assembly
    part: Part
    box: Box


def covered(assemblies: Iterable[Assembly], shell: Iterable[Part]) -> tuple[Covered, ...]:
    """Return every piece of board of the project, in the order of the model; *shell* holds the joists overhead."""
    placed = [
        _Placed(assembly, part, box)
        for assembly in assemblies
        for part, box in zip(assembly.parts, assembly.boxes(), strict=True)
    ]
    wood = [one.box for one in placed if one.part.stock and one.part.role not in NOT_FRAMING]
    wood += [part.solid.bounds() for part in shell if part.role == JOIST]
    return tuple(_covered(one, wood) for one in placed if one.part.stock and one.part.material in SHEETS)


def _covered(one: _Placed, wood: Iterable[Box]) -> Covered:
    thin: Axis = min(("x", "y", "z"), key=one.box.size)
    grown = one.box.grown(TOUCHING)
    behind = [box for box in wood if grown.overlaps(box)]
    rows = [(_centres(one.box, behind, thin, axis), axis) for axis in ACROSS[thin]]
    # The closer row carries the board; of equals the one along the wall, so that sheets lie as people expect.
    centres, across = max(rows, key=lambda row: len(row[0]))
    along = next(axis for axis in ACROSS[thin] if axis != across)
    low = one.box.low.on(across)
    face = BoardFace(
        f"{one.assembly.key} {one.part.name}",
        Length(one.box.size(across)),
        Length(one.box.size(along)),
        tuple(Length(centre - low) for centre in centres),
    )
    bays = [max(high - low for low, high in pairwise(row)) for row, _ in rows if len(row) > 1]
    return Covered(
        one.assembly.key,
        one.part.stock,
        face,
        Surface.CEILING if thin == "z" else Surface.WALL,
        Length(min(bays)) if bays else None,
        area(one.part),
        one.part.material is Material.BOARD,
    )


def _centres(board: Box, behind: Iterable[Box], thin: Axis, across: Axis) -> list[Fraction]:
    """Return the middles, along *across*, of the wood that runs the other way, within the board."""
    other = next(axis for axis in ACROSS[thin] if axis != across)
    found = {(box.low.on(across) + box.high.on(across)) / 2 for box in behind if box.size(other) > box.size(across)}
    return sorted(at for at in found if board.low.on(across) <= at <= board.high.on(across))

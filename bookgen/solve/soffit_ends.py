"""An end of a soffit that meets no wall in, the frame and the board that close it out."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from bookgen.model.assembly import Part
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch, around, layout, stick
from bookgen.solve.site import Site
from bookgen.solve.soffits import Shape, sheets, through

SHORTEST = Fraction(3)  # inches; a shorter leftover of an end rail is not cut


@dataclass(frozen=True, slots=True)
class OpenEnd:
    """An end to close: its station, which way it looks (+1, -1), and what to call it.

    *across* are the outside faces of the soffit's framing, *inside* the faces that the end's frame fits between.
    """

    at: Fraction
    way: int
    name: str
    across: Stretch
    inside: Stretch

    def slice(self, thick: Fraction) -> Stretch:
        """Return the stretch of the run that a frame *thick* inches deep takes up."""
        return (self.at - thick, self.at) if self.way > 0 else (self.at, self.at + thick)


def end_frame(site: Site, shape: Shape, end: OpenEnd) -> tuple[Part, ...]:
    """Return the rail under the joists and the uprights on the last crosser; both leave out what passes through."""
    size, (_, high) = shape.timber, shape.rungs()
    low = shape.bottom + max(size.thick, size.wide)
    run = end.slice(size.thick)
    taken = _across(site, run, end.inside, (high, shape.top))
    rails = [
        stick(f"{end.name} rail {number}", "end rail", size.stock, "y", piece, (run[0], high), "z")
        for number, piece in enumerate(_left(end.inside, taken), 1)
    ]
    centres = layout(*end.across, shape.spacing, size.wide)
    centres = around(centres, _across(site, run, end.inside, (low, high)), size.wide)
    half = size.wide / 2
    inner = [c for c in centres if end.inside[0] <= c - half and c + half <= end.inside[1]]
    uprights = [
        stick(f"{end.name} upright {number}", "end upright", size.stock, "z", (low, high), (run[0], c - half), "y")
        for number, c in enumerate(inner, 1)
        if any(piece[0] <= c - half and c + half <= piece[1] for piece in _left(end.inside, taken))
    ]
    return (*rails, *uprights)


def end_board(site: Site, end: OpenEnd, across: Stretch, up: Stretch) -> tuple[Part, ...]:
    """Return the board over an end; *across* and *up* are its finished edges."""
    thick = site.level.wall_board
    plane = (end.at, end.at + thick) if end.way > 0 else (end.at - thick, end.at)
    holes = through((*site.hidden, *site.others), "x", plane)
    return sheets(f"{end.name} board", "x", end.at, end.way, Rectangle(across, up), holes, thick)


def _across(site: Site, run: Stretch, across: Stretch, up: Stretch) -> list[Stretch]:
    """Return the stretches across the run that hidden things take up in a slice of it."""
    found = []
    for thing in (*site.hidden, *site.others):
        for solid in thing.solids:
            room = solid.bounds().grown(thing.clearance)
            crossed = room.low.x < run[1] and run[0] < room.high.x and room.low.z < up[1] and up[0] < room.high.z
            if crossed and room.low.y < across[1] and across[0] < room.high.y:
                found.append((room.low.y, room.high.y))
    return found


def _left(whole: Stretch, taken: list[Stretch]) -> list[Stretch]:
    from_low = whole[0]
    left = []
    for low, high in sorted(taken):
        if low - from_low >= SHORTEST:
            left.append((from_low, low))
        from_low = max(from_low, high)
    if whole[1] - from_low >= SHORTEST:
        left.append((from_low, whole[1]))
    return left

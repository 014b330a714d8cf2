"""The pieces of a wall soffit in, each with its line, its height and its ends; framing, board and faces out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import Face, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box, Point, Polygon
from bookgen.solve import compass
from bookgen.solve.cropped import cropped
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch
from bookgen.solve.neighbours import ceiling_over
from bookgen.solve.parted import parted
from bookgen.solve.sheathing import outlined
from bookgen.solve.site import Site
from bookgen.solve.soffit_ends import FAR, Beside, OpenEnd, end_board, end_covers, end_frame, end_outline
from bookgen.solve.soffit_holes import SHORTEST, Closed, Hole, crossers, ladder
from bookgen.solve.soffits import Shape, counted, nailers, plate, sheets, through, upright
from bookgen.solve.studwork import left_of
from bookgen.solve.treatments.wall_line import Bay
from bookgen.solve.walls_met import Ends, stud_face

PAST = Fraction(2)  # inches past the ends of a piece within which things still go through the board over them


@dataclass(frozen=True, slots=True)
class Piece:
    """A straight piece: its ends, the outer face of its framing off the block, its shape, its name among the others.

    *before* and *after* are the next steps at its low and its high end, where it has any, or what it stops at there and
    hangs lower than.
    """

    ends: Ends
    outside: Fraction
    shape: Shape
    name: str
    before: Beside | None = None
    after: Beside | None = None

    def run(self) -> Stretch:
        """Return both stations."""
        return self.ends.run()

    def label(self, text: str) -> str:
        """Return what a part of this piece is called."""
        return f"{self.name} {text}" if self.name else text

    def beside(self) -> Beside:
        """Return what the next piece sees of this one."""
        return Beside(self.outside, self.shape.bottom)


def pieces(site: Site, met: Ends, bays: tuple[Bay, ...], shape: Shape) -> tuple[Piece, ...]:
    """Return the pieces of a soffit between its *met* ends: one a bay, each parted by what it gives way to."""
    found: list[Piece] = []
    for number, bay in enumerate(bays):
        first, last = number == 0, number == len(bays) - 1
        own = Ends(
            met.low if first else bay.low,
            met.high if last else bay.high,
            met.low_meets and first,
            met.high_meets and last,
        )
        across, own_shape = (stud_face(site), bay.outside), replace(shape, bottom=bay.bottom)
        rows = [
            Piece(one.ends, bay.outside, own_shape, "", one.before, one.after)
            for one in parted(site, own, across, own_shape)
        ]
        if rows and not first and rows[0].ends.low == bay.low and not rows[0].ends.low_meets and not rows[0].before:
            rows[0] = replace(rows[0], before=Beside(bays[number - 1].outside, bays[number - 1].bottom))
        if rows and not last and rows[-1].ends.high == bay.high and not rows[-1].ends.high_meets and not rows[-1].after:
            rows[-1] = replace(rows[-1], after=Beside(bays[number + 1].outside, bays[number + 1].bottom))
        found += rows
    names = compass.stretches(site.frame, len(found))
    return tuple(replace(piece, name=name) for piece, name in zip(found, names, strict=True))


@dataclass(frozen=True, slots=True)
class Cuts:
    """The openings of a piece: *under* it, in its *side*, and in its closed *ends* by their stations."""

    under: tuple[Hole, ...] = ()
    side: tuple[Hole, ...] = ()
    ends: tuple[tuple[Fraction, Hole], ...] = ()


WHOLE = Cuts()


def closed(site: Site, piece: Piece) -> tuple[Closed, ...]:
    """Return the finished faces that a cover may lie in, and what the framing leaves for it: bottom, side, ends."""
    size, (low_z, _) = piece.shape.timber, side_up(site, piece, piece.ends.low)
    along = (piece.ends.low + 2 * size.wide, piece.ends.high - 2 * size.wide)
    across = (stud_face(site) + size.thick, piece.outside - size.thick)
    level = site.level
    return (
        Closed("z", low_z, -1, level.ceiling_board, Rectangle(along, across)),
        Closed("y", finished_outside(site, piece), 1, level.wall_board, Rectangle(along, piece.shape.rungs())),
        *end_covers(site, piece.shape, open_ends(site, piece)),
    )


def inside_room(site: Site, piece: Piece) -> Box:
    """Return the room in a piece."""
    (low, high), foot = piece.run(), piece.shape.bottom - site.level.ceiling_board
    return Box(Point(low, site.level.wall_face, foot), Point(high, finished_outside(site, piece), piece.shape.top))


def framing(site: Site, piece: Piece, cuts: Cuts) -> list[Part]:
    """Return framing and board of one piece, framed and cut round its openings."""
    near = (piece.ends.low - PAST, piece.ends.high + PAST)
    site = replace(site, hidden=cropped(site.hidden, near), others=cropped(site.others, near))
    shape, run, size = piece.shape, piece.run(), piece.shape.timber
    face, front = stud_face(site), piece.label(compass.side(site.frame, 1))
    across = (piece.outside - size.thick, piece.outside)
    inside = (face + size.thick, across[0])
    parts = [
        *ladder(front, site, shape, run, across, 1, cuts.side),
        *_cleats(site, piece, cuts),
        *crossers(piece.label(""), site, shape, run, inside, cuts.under),
        *nailers(piece.label(""), site, shape, run, (across,)),
        *_boards(site, piece, cuts),
    ]
    for end in open_ends(site, piece, cuts):
        finished = (site.level.wall_face, finished_outside(site, piece))
        parts += (*end_frame(site, shape, end), *end_board(site, end, finished, side_up(site, piece, end.at)))
    return parts


def _cleats(site: Site, piece: Piece, cuts: Cuts) -> Iterator[Part]:
    """Yield the cleat on the wall, in pieces where a chase stands before it."""
    face = stud_face(site)
    left = tuple(left_of(piece.run(), [hole.u for hole in cuts.under if hole.v[0] <= face], SHORTEST))
    for added, stretch in counted(left):
        yield from plate(piece.label(f"cleat{added}"), "cleat", site, piece.shape, stretch, face)


def open_ends(site: Site, piece: Piece, cuts: Cuts = WHOLE) -> Iterable[OpenEnd]:
    """Yield the ends that have to be closed: those in the room, and those that show beside the next step."""
    face = stud_face(site)
    across, inside = (face, piece.outside), (face, piece.outside - piece.shape.timber.thick)
    low, high = (piece.ends.low, piece.ends.low_meets), (piece.ends.high, piece.ends.high_meets)
    for (at, meets), way, beside in ((low, -1, piece.before), (high, 1, piece.after)):
        if meets or (beside and beside.outside >= piece.outside and beside.bottom <= piece.shape.bottom):
            continue
        holes = tuple(hole for station, hole in cuts.ends if station == at)
        yield OpenEnd(at, way, piece.label(compass.end(site.frame, way)), across, inside, beside, holes)


def _boards(site: Site, piece: Piece, cuts: Cuts) -> list[Part]:
    shape, level, things = piece.shape, site.level, (*site.hidden, *site.others)
    under = Rectangle(piece.run(), (stud_face(site), piece.outside))
    under_holes = (
        *through(things, "z", (shape.bottom - level.ceiling_board, shape.bottom)),
        *(hole.patch() for hole in cuts.under),
    )
    front, over = _front(site, piece, piece.run())
    front_holes = (
        *through(things, "y", (piece.outside, piece.outside + level.wall_board)),
        *(hole.patch() for hole in cuts.side),
    )
    name = piece.label(f"{compass.side(site.frame, 1)} board")
    return [
        *sheets(piece.label("bottom board"), "z", shape.bottom, -1, under, under_holes, level.ceiling_board),
        *sheets(name, "y", piece.outside, 1, front, front_holes, level.wall_board, over),
    ]


def finished_outside(site: Site, piece: Piece) -> Fraction:
    """Return the finished side off the block."""
    return piece.outside + site.level.wall_board


def side_up(site: Site, piece: Piece, station: Fraction) -> Stretch:
    """Return from the finished bottom to the ceiling in front of the piece, or to the joists where there is none."""
    spot = Point(station, piece.outside + site.level.wall_board + 1, site.level.joists)
    ceiling = ceiling_over(site, spot)
    return piece.shape.bottom - site.level.ceiling_board, site.level.joists if ceiling is None else ceiling


def faces(site: Site, piece: Piece, cuts: Cuts = WHOLE) -> list[Face]:
    """Return what a person sees of a piece: bottom, side and closed ends, each as one surface less its openings."""
    room, out, thick = site.file.record.room, finished_outside(site, piece), site.level.wall_board
    low_z = piece.shape.bottom - site.level.ceiling_board
    ends = tuple(open_ends(site, piece, cuts))
    run = (
        piece.ends.low - (thick if any(end.way < 0 and end.beside is None for end in ends) else 0),
        piece.ends.high + (thick if any(end.way > 0 and end.beside is None for end in ends) else 0),
    )
    label, front = f", {piece.name}" if piece.name else "", compass.side(site.frame, 1)
    across, (side, over) = (site.level.wall_face, out), _front(site, piece, run)
    found = [
        Face(f"bottom{label}", "z", low_z, -1, _less(Rectangle(run, across), cuts.under), room),
        Face(f"{front}{label}", "y", out, 1, _less(side, cuts.side, over), room),
    ]
    for end in ends:
        step = end.beside is not None and end.beside.outside < FAR
        kind = _step(site, end) if step else compass.end(site.frame, end.way)
        outline = end_outline(site, end, across, side_up(site, piece, end.at))
        found.append(Face(f"{kind}{label}", "x", end.at + end.way * thick, end.way, outline, room))
    return found


def _less(patch: Rectangle, holes: Iterable[Hole], over: Iterable[Rectangle] = ()) -> Polygon:
    return outlined(patch, [*over, *(hole.patch() for hole in holes)])


def _front(site: Site, piece: Piece, run: Stretch) -> tuple[Rectangle, tuple[Rectangle, ...]]:
    """Return the board in front of a piece over a stretch, and what lower ceilings take of it."""
    return upright(site, run, finished_outside(site, piece) + 1, piece.shape.bottom - site.level.ceiling_board)


def _step(site: Site, end: OpenEnd) -> str:
    return f"{compass.looks(site.frame, 'x', end.way)} face of the step"

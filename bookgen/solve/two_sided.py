"""A soffit with a ladder on both sides in, its framing, board, faces, anchors and sizes out, in the run's frame."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import Face, Measure, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box, Point
from bookgen.solve import compass
from bookgen.solve.cropped import cropped
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch
from bookgen.solve.neighbours import ceiling_over
from bookgen.solve.parted import parted, soffit_room
from bookgen.solve.sheathing import outlined
from bookgen.solve.sideways import bared, met_at, patches
from bookgen.solve.site import Envelope, Site
from bookgen.solve.soffit_ends import Beside, OpenEnd, end_board, end_covers, end_frame, end_outline
from bookgen.solve.soffit_holes import Closed, Hole, crossers, ladder
from bookgen.solve.soffit_words import sizes
from bookgen.solve.soffits import Shape, nailers, sheets, through, upright
from bookgen.solve.studwork import overlap
from bookgen.solve.walls_met import Ends

SIZES = (
    ("framed width", "framed", "framing low side", "framing high side", "y"),
    ("finished width", "finished", "finished low side", "finished high side", "y"),
    ("framed drop", "framed", "joists", "framing bottom", "z"),
    ("finished drop", "finished", "ceiling", "finished bottom", "z"),
    ("headroom", "headroom", "finished floor", "finished bottom", "z"),
)


PAST = Fraction(2)  # inches past the ends of a piece within which things still go through the board over them


@dataclass(frozen=True, slots=True)
class TwoSided:
    """Shape, ends, and the outside faces of the framing across the run, in inches.

    A piece of one that is parted has a *name* among the others; *before* and *after* are what it stops at and hangs
    lower than. *beside* are the finished boxes of what stands at its sides and has taken a part of its width.
    """

    shape: Shape
    ends: Ends
    across: Stretch
    name: str = ""
    before: Beside | None = None
    after: Beside | None = None
    beside: tuple[Box, ...] = ()

    @property
    def run(self) -> Stretch:
        """Return both ends of the framing."""
        return self.ends.run()

    def inside(self) -> Stretch:
        """Return the inner faces of the two ladders."""
        return self.across[0] + self.shape.timber.thick, self.across[1] - self.shape.timber.thick

    def against(self, way: int) -> tuple[Box, ...]:
        """Return what stands against its side that looks to *way*."""
        return met_at(self.beside, self.across[0] if way < 0 else self.across[1])

    def label(self, text: str) -> str:
        """Return what a part of this piece is called."""
        return f"{self.name} {text}" if self.name else text


@dataclass(frozen=True, slots=True)
class Openings:
    """What is cut in a two-sided soffit: framed holes in its bottom and in both sides, the low side first.

    *ends* are those in the closed ends, by their stations. *cut* is cut out of the bottom board without framing, along
    and across; crossers step aside for *aside*.
    """

    bottom: tuple[Hole, ...] = ()
    sides: tuple[tuple[Hole, ...], tuple[Hole, ...]] = ((), ())
    ends: tuple[tuple[Fraction, Hole], ...] = ()
    cut: tuple[Rectangle, ...] = ()
    aside: tuple[Stretch, ...] = ()

    def under(self) -> tuple[Rectangle, ...]:
        """Return everything that is cut out of the bottom board."""
        return (*(hole.patch() for hole in self.bottom), *self.cut)

    def within(self, run: Stretch) -> Openings:
        """Return those that lie in a stretch of the run."""
        low, high = ((tuple(hole for hole in side if overlap(hole.u, run))) for side in self.sides)
        return Openings(
            tuple(hole for hole in self.bottom if overlap(hole.u, run)),
            (low, high),
            tuple((station, hole) for station, hole in self.ends if run[0] <= station <= run[1]),
            tuple(patch for patch in self.cut if overlap(patch.u, run)),
            tuple(stretch for stretch in self.aside if overlap(stretch, run)),
        )


def pieces(site: Site, plan: TwoSided) -> tuple[TwoSided, ...]:
    """Return what is left of a soffit between all that it gives way to: itself where that is nothing."""
    rows = parted(site, plan.ends, plan.across, plan.shape)
    names = compass.stretches(site.frame, len(rows))
    return tuple(
        replace(plan, ends=row.ends, name=name, before=row.before, after=row.after)
        for row, name in zip(rows, names, strict=True)
    )


def piece_at(found: Iterable[TwoSided], station: Fraction) -> TwoSided:
    """Return the piece that a station lies in, else the nearest."""
    return min(found, key=lambda one: (max(one.run[0] - station, station - one.run[1], Fraction(0)), one.run))


def room(site: Site, plan: TwoSided) -> Envelope:
    """Return the room that a soffit fills, whatever interrupts it."""
    thick = site.level.wall_board
    over = (plan.across[0] - thick, plan.across[1] + thick)
    return soffit_room(site, plan.ends, plan.across, over, plan.shape.bottom)


def framing(site: Site, plan: TwoSided, openings: Openings) -> tuple[Part, ...]:
    """Return both ladders, crossers, nailers, board and closed ends, framed and cut round the openings.

    What is left of a soffit that gives way to something is framed piece by piece.
    """
    found = pieces(site, plan)
    if len(found) == 1:
        return _framing(site, found[0], openings.within(found[0].run))
    parts: list[Part] = []
    for piece in found:
        near = (piece.run[0] - PAST, piece.run[1] + PAST)
        own = replace(site, hidden=cropped(site.hidden, near), others=cropped(site.others, near))
        parts += _framing(own, piece, openings.within(piece.run))
    return tuple(parts)


def _framing(site: Site, plan: TwoSided, openings: Openings) -> tuple[Part, ...]:
    shape, run, inside = plan.shape, plan.run, plan.inside()
    across = ((plan.across[0], inside[0]), (inside[1], plan.across[1]))
    parts: list[Part] = []
    for name, faces_, way, holes in zip(sides(site), across, (-1, 1), openings.sides, strict=True):
        held = (Hole((at, at), shape.rungs()) for at in bared(plan.against(way), run))
        parts += ladder(plan.label(name), site, shape, run, faces_, way, (*holes, *held))
    parts += nailers(plan.label(""), site, shape, run, across)
    parts += crossers(plan.label(""), site, shape, run, inside, openings.bottom, openings.aside)
    parts += _boards(site, plan, openings)
    for end in _open_ends(site, plan, openings):
        thick = site.level.wall_board
        wide = _finished_width(plan, thick, end.at)
        up = (_finished_bottom(site, plan), min(_top(site, plan, side, end.at) for side in (-1, 1)))
        parts += (*end_frame(site, shape, end), *end_board(site, end, wide, up))
    return tuple(parts)


def _finished_width(plan: TwoSided, thick: Fraction, station: Fraction) -> Stretch:
    """Return the finished sides at a station: where something stands against one, there is no board on it."""
    low, high = (any(box.low.x < station < box.high.x for box in plan.against(way)) for way in (-1, 1))
    return plan.across[0] - (0 if low else thick), plan.across[1] + (0 if high else thick)


def sides(site: Site) -> tuple[str, str]:
    """Return what the two long sides are called, the low one first."""
    return compass.side(site.frame, -1), compass.side(site.frame, 1)


def _open_ends(site: Site, plan: TwoSided, openings: Openings) -> list[OpenEnd]:
    found = []
    low, high = (plan.ends.low, plan.ends.low_meets), (plan.ends.high, plan.ends.high_meets)
    for (at, meets), way, beside in ((low, -1, plan.before), (high, 1, plan.after)):
        if not meets:
            name = plan.label(compass.end(site.frame, way))
            holes = tuple(hole for station, hole in openings.ends if station == at)
            found.append(OpenEnd(at, way, name, plan.across, plan.inside(), beside, holes))
    return found


def _boards(site: Site, plan: TwoSided, openings: Openings) -> list[Part]:
    shape, level, things = plan.shape, site.level, (*site.hidden, *site.others)
    under = Rectangle(plan.run, plan.across)
    cut = (*openings.under(), *through(things, "z", (shape.bottom - level.ceiling_board, shape.bottom)))
    parts = [*sheets(plan.label("bottom board"), "z", shape.bottom, -1, under, cut, level.ceiling_board)]
    for name, at, way, holes in zip(sides(site), plan.across, (-1, 1), openings.sides, strict=True):
        side, over = upright(site, plan.run, at + way, _finished_bottom(site, plan))
        plane = (at - level.wall_board, at) if way < 0 else (at, at + level.wall_board)
        cut = (*(hole.patch() for hole in holes), *through(things, "y", plane))
        taken = (*over, *patches(plan.against(way), side))
        parts += sheets(plan.label(f"{name} board"), "y", at, way, side, cut, level.wall_board, taken)
    return parts


def _finished_bottom(site: Site, plan: TwoSided) -> Fraction:
    return plan.shape.bottom - site.level.ceiling_board


def _top(site: Site, plan: TwoSided, way: int, station: Fraction) -> Fraction:
    """Return the ceiling beside the soffit on one side of it, or the joists where there is none."""
    beside = plan.across[0] - 1 if way < 0 else plan.across[1] + 1
    ceiling = ceiling_over(site, Point(station, beside, site.level.joists))
    return site.level.joists if ceiling is None else ceiling


def faces(site: Site, plan: TwoSided, openings: Openings) -> tuple[Face, ...]:
    """Return what a person sees: bottom, two sides, and the ends that meet no wall; openings are left out of them."""
    return tuple(face for piece in pieces(site, plan) for face in _faces(site, piece, openings.within(piece.run)))


def _faces(site: Site, plan: TwoSided, openings: Openings) -> list[Face]:
    room, thick, low_z = site.file.record.room, site.level.wall_board, _finished_bottom(site, plan)
    ends, label = _open_ends(site, plan, openings), f", {plan.name}" if plan.name else ""
    lapped = {end.way for end in ends if end.beside is None}
    run = (plan.run[0] - (thick if -1 in lapped else 0), plan.run[1] + (thick if 1 in lapped else 0))
    across = _finished_width(plan, thick, sum(plan.run) / Fraction(2))
    found = [Face(f"bottom{label}", "z", low_z, -1, outlined(Rectangle(run, across), openings.under()), room)]
    outer = (plan.across[0] - thick, plan.across[1] + thick)
    for name, at, way, holes in zip(sides(site), outer, (-1, 1), openings.sides, strict=True):
        patch, over = upright(site, run, at + way, low_z)
        cut = (*over, *patches(plan.against(way), patch), *(hole.patch() for hole in holes))
        if patch not in cut:
            found.append(Face(f"{name}{label}", "y", at, way, outlined(patch, cut), room))
    for end in ends:
        outline = end_outline(site, end, across, (low_z, min(_top(site, plan, side, end.at) for side in (-1, 1))))
        name = f"{compass.end(site.frame, end.way)}{label}"
        found.append(Face(name, "x", end.at + end.way * thick, end.way, outline, room))
    return found


def closed(site: Site, plan: TwoSided) -> tuple[Closed, ...]:
    """Return the finished faces that a cover may lie in, and what the framing leaves for it: bottom, sides, ends."""
    size, level, (low, high) = plan.shape.timber, site.level, plan.shape.rungs()
    along = (plan.run[0] + 2 * size.wide, plan.run[1] - 2 * size.wide)
    bottom = Closed("z", _finished_bottom(site, plan), -1, level.ceiling_board, Rectangle(along, plan.inside()))
    thick = level.wall_board
    return (
        bottom,
        Closed("y", plan.across[0] - thick, -1, thick, Rectangle(along, (low, high))),
        Closed("y", plan.across[1] + thick, 1, thick, Rectangle(along, (low, high))),
        *end_covers(site, plan.shape, _open_ends(site, plan, Openings())),
    )


def inside_room(site: Site, plan: TwoSided) -> Box:
    """Return the room in the soffit."""
    (low, high), foot = plan.across, _finished_bottom(site, plan)
    return Box(Point(plan.run[0], low, foot), Point(plan.run[1], high, plan.shape.top))


def anchors(site: Site, plan: TwoSided, section: Fraction) -> dict[str, Point]:
    """Return the named points of the section; the drop is taken from the lower of the ceilings beside it."""
    shape, thick, low_z = plan.shape, site.level.wall_board, _finished_bottom(site, plan)
    (low, high), outer = plan.across, _finished_width(plan, thick, section)
    return {
        "block": Point(section, Fraction(0), low_z),
        "framing low side": Point(section, low, shape.bottom),
        "framing high side": Point(section, high, shape.bottom),
        "framing bottom": Point(section, high, shape.bottom),
        "finished low side": Point(section, outer[0], low_z),
        "finished high side": Point(section, outer[1], low_z),
        "finished bottom": Point(section, outer[1], low_z),
        "joists": Point(section, high, shape.top),
        "ceiling": Point(section, high + thick, min(_top(site, plan, way, section) for way in (-1, 1))),
        "finished floor": Point(section, high + thick, site.level.floor),
    }


def measures(points: Mapping[str, Point]) -> tuple[Measure, ...]:
    """Return the printed sizes."""
    return sizes(points, SIZES)

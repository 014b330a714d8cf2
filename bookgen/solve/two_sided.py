"""A soffit with a ladder on both sides in, its framing, board, faces, anchors and sizes out, in the run's frame."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from bookgen.model.assembly import Face, Measure, Part
from bookgen.model.geometry import Box, Point
from bookgen.solve import compass
from bookgen.solve.board import rectangle
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch
from bookgen.solve.neighbours import ceiling_over
from bookgen.solve.sheathing import outlined
from bookgen.solve.site import Site
from bookgen.solve.soffit_ends import OpenEnd, end_board, end_frame
from bookgen.solve.soffit_holes import Closed, Hole, crossers, ladder
from bookgen.solve.soffit_words import sizes
from bookgen.solve.soffits import Shape, nailers, sheets, through
from bookgen.solve.walls_met import Ends

SIZES = (
    ("framed width", "framed", "framing low side", "framing high side", "y"),
    ("finished width", "finished", "finished low side", "finished high side", "y"),
    ("framed drop", "framed", "joists", "framing bottom", "z"),
    ("finished drop", "finished", "ceiling", "finished bottom", "z"),
    ("headroom", "headroom", "finished floor", "finished bottom", "z"),
)


@dataclass(frozen=True, slots=True)
class TwoSided:
    """Shape, ends, and the outside faces of the framing across the run, in inches."""

    shape: Shape
    ends: Ends
    across: Stretch

    @property
    def run(self) -> Stretch:
        """Return both ends of the framing."""
        return self.ends.run()

    def inside(self) -> Stretch:
        """Return the inner faces of the two ladders."""
        return self.across[0] + self.shape.timber.thick, self.across[1] - self.shape.timber.thick


@dataclass(frozen=True, slots=True)
class Openings:
    """What is cut in a two-sided soffit: framed holes in its bottom and in both sides, the low side first.

    *cut* is cut out of the bottom board without framing, along and across; crossers step aside for *aside*.
    """

    bottom: tuple[Hole, ...] = ()
    sides: tuple[tuple[Hole, ...], tuple[Hole, ...]] = ((), ())
    cut: tuple[Rectangle, ...] = ()
    aside: tuple[Stretch, ...] = ()

    def under(self) -> tuple[Rectangle, ...]:
        """Return everything that is cut out of the bottom board."""
        return (*(hole.patch() for hole in self.bottom), *self.cut)


def framing(site: Site, plan: TwoSided, openings: Openings) -> tuple[Part, ...]:
    """Return both ladders, crossers, nailers, board and closed ends, framed and cut round the openings."""
    shape, run, inside = plan.shape, plan.run, plan.inside()
    across = ((plan.across[0], inside[0]), (inside[1], plan.across[1]))
    parts: list[Part] = []
    for name, faces_, way, holes in zip(sides(site), across, (-1, 1), openings.sides, strict=True):
        parts += ladder(name, site, shape, run, faces_, way, holes)
    parts += nailers("", site, shape, run, across)
    parts += crossers("", site, shape, run, inside, openings.bottom, openings.aside)
    parts += _boards(site, plan, openings)
    for end in _open_ends(site, plan):
        thick = site.level.wall_board
        wide = (plan.across[0] - thick, plan.across[1] + thick)
        up = (_finished_bottom(site, plan), min(_top(site, plan, side, end.at) for side in (-1, 1)))
        parts += (*end_frame(site, shape, end), *end_board(site, end, wide, up))
    return tuple(parts)


def sides(site: Site) -> tuple[str, str]:
    """Return what the two long sides are called, the low one first."""
    return compass.side(site.frame, -1), compass.side(site.frame, 1)


def _open_ends(site: Site, plan: TwoSided) -> list[OpenEnd]:
    found = []
    for at, way, meets in ((plan.ends.low, -1, plan.ends.low_meets), (plan.ends.high, 1, plan.ends.high_meets)):
        if not meets:
            found.append(OpenEnd(at, way, compass.end(site.frame, way), plan.across, plan.inside()))
    return found


def _boards(site: Site, plan: TwoSided, openings: Openings) -> list[Part]:
    shape, level, things = plan.shape, site.level, (*site.hidden, *site.others)
    under = Rectangle(plan.run, plan.across)
    cut = (*openings.under(), *through(things, "z", (shape.bottom - level.ceiling_board, shape.bottom)))
    parts = [*sheets("bottom board", "z", shape.bottom, -1, under, cut, level.ceiling_board)]
    middle = sum(plan.run) / Fraction(2)
    for name, at, way, holes in zip(sides(site), plan.across, (-1, 1), openings.sides, strict=True):
        side = Rectangle(plan.run, (_finished_bottom(site, plan), _top(site, plan, way, middle)))
        plane = (at - level.wall_board, at) if way < 0 else (at, at + level.wall_board)
        cut = (*(hole.patch() for hole in holes), *through(things, "y", plane))
        parts += sheets(f"{name} board", "y", at, way, side, cut, level.wall_board)
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
    room, thick, low_z = site.file.record.room, site.level.wall_board, _finished_bottom(site, plan)
    run = (plan.run[0] - (0 if plan.ends.low_meets else thick), plan.run[1] + (0 if plan.ends.high_meets else thick))
    across = (plan.across[0] - thick, plan.across[1] + thick)
    middle = sum(plan.run) / Fraction(2)
    tops = (_top(site, plan, -1, middle), _top(site, plan, 1, middle))
    found = [Face("bottom", "z", low_z, -1, outlined(Rectangle(run, across), openings.under()), room)]
    for name, at, way, top, holes in zip(sides(site), across, (-1, 1), tops, openings.sides, strict=True):
        patch = Rectangle(run, (low_z, top))
        found.append(Face(name, "y", at, way, outlined(patch, [hole.patch() for hole in holes]), room))
    end = rectangle("x", y=across, z=(low_z, min(tops)))
    found += [
        Face(one.name, "x", run[0] if one.way < 0 else run[1], one.way, end, room) for one in _open_ends(site, plan)
    ]
    return tuple(found)


def closed(site: Site, plan: TwoSided) -> tuple[Closed, ...]:
    """Return the finished faces that a cover may lie in, and what the framing leaves for it: bottom, then the sides."""
    size, level, (low, high) = plan.shape.timber, site.level, plan.shape.rungs()
    along = (plan.run[0] + 2 * size.wide, plan.run[1] - 2 * size.wide)
    bottom = Closed("z", _finished_bottom(site, plan), -1, level.ceiling_board, Rectangle(along, plan.inside()))
    thick = level.wall_board
    return (
        bottom,
        Closed("y", plan.across[0] - thick, -1, thick, Rectangle(along, (low, high))),
        Closed("y", plan.across[1] + thick, 1, thick, Rectangle(along, (low, high))),
    )


def inside_room(site: Site, plan: TwoSided) -> Box:
    """Return the room in the soffit."""
    (low, high), foot = plan.across, _finished_bottom(site, plan)
    return Box(Point(plan.run[0], low, foot), Point(plan.run[1], high, plan.shape.top))


def anchors(site: Site, plan: TwoSided, section: Fraction) -> dict[str, Point]:
    """Return the named points of the section; the drop is taken from the lower of the ceilings beside it."""
    shape, thick, low_z = plan.shape, site.level.wall_board, _finished_bottom(site, plan)
    low, high = plan.across
    return {
        "block": Point(section, Fraction(0), low_z),
        "framing low side": Point(section, low, shape.bottom),
        "framing high side": Point(section, high, shape.bottom),
        "framing bottom": Point(section, high, shape.bottom),
        "finished low side": Point(section, low - thick, low_z),
        "finished high side": Point(section, high + thick, low_z),
        "finished bottom": Point(section, high + thick, low_z),
        "joists": Point(section, high, shape.top),
        "ceiling": Point(section, high + thick, min(_top(site, plan, way, section) for way in (-1, 1))),
        "finished floor": Point(section, high + thick, site.level.floor),
    }


def measures(points: Mapping[str, Point]) -> tuple[Measure, ...]:
    """Return the printed sizes."""
    return sizes(points, SIZES)

"""A soffit with a ladder on both sides in, its framing, board, faces, anchors and sizes out, in the run's frame."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from bookgen.model.assembly import Face, Measure, Part
from bookgen.model.geometry import Point
from bookgen.solve import compass
from bookgen.solve.board import rectangle
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch, around
from bookgen.solve.neighbours import ceiling_over
from bookgen.solve.site import Site
from bookgen.solve.soffit_ends import OpenEnd, end_board, end_frame
from bookgen.solve.soffit_words import sizes
from bookgen.solve.soffits import Shape, crossers, ladder, nailers, rows, sheets, through
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


def framing(
    site: Site, plan: TwoSided, fittings: Iterable[Stretch] = (), holes: Iterable[Rectangle] = ()
) -> tuple[Part, ...]:
    """Return both ladders, crossers, nailers, board and closed ends.

    Crossers step aside for *fittings*, stretches of the run; *holes* are cut out of the bottom board, along and across,
    and have a crosser at both sides.
    """
    shape, run, inside = plan.shape, plan.run, plan.inside()
    names = sides(site)
    ladders = ((names[0], (plan.across[0], inside[0])), (names[1], (inside[1], plan.across[1])))
    holes = tuple(holes)
    level = (shape.bottom, shape.bottom + shape.timber.thick)
    centres = rows(site, shape, run, inside, level, [hole.u for hole in holes])
    centres = around(centres, fittings, shape.timber.wide)
    parts: list[Part] = []
    for name, across in ladders:
        parts += (*ladder(name, site, shape, run, across), *nailers(name, site, shape, run, across))
    parts += crossers("", shape, centres, inside)
    parts += _boards(site, plan, holes)
    for end in _open_ends(site, plan):
        thick = site.level.wall_board
        across = (plan.across[0] - thick, plan.across[1] + thick)
        up = (_finished_bottom(site, plan), min(_top(site, plan, side, end.at) for side in (-1, 1)))
        parts += (*end_frame(site, shape, end), *end_board(site, end, across, up))
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


def _boards(site: Site, plan: TwoSided, holes: Iterable[Rectangle]) -> list[Part]:
    shape, level, things = plan.shape, site.level, (*site.hidden, *site.others)
    under = Rectangle(plan.run, plan.across)
    cut = (*holes, *through(things, "z", (shape.bottom - level.ceiling_board, shape.bottom)))
    parts = [*sheets("bottom board", "z", shape.bottom, -1, under, cut, level.ceiling_board)]
    middle = sum(plan.run) / Fraction(2)
    for name, at, way in zip(sides(site), plan.across, (-1, 1), strict=True):
        side = Rectangle(plan.run, (_finished_bottom(site, plan), _top(site, plan, way, middle)))
        plane = (at - level.wall_board, at) if way < 0 else (at, at + level.wall_board)
        parts += sheets(f"{name} board", "y", at, way, side, through(things, "y", plane), level.wall_board)
    return parts


def _finished_bottom(site: Site, plan: TwoSided) -> Fraction:
    return plan.shape.bottom - site.level.ceiling_board


def _top(site: Site, plan: TwoSided, way: int, station: Fraction) -> Fraction:
    """Return the ceiling beside the soffit on one side of it, or the joists where there is none."""
    beside = plan.across[0] - 1 if way < 0 else plan.across[1] + 1
    ceiling = ceiling_over(site, Point(station, beside, site.level.joists))
    return site.level.joists if ceiling is None else ceiling


def faces(site: Site, plan: TwoSided) -> tuple[Face, ...]:
    """Return what a person sees: bottom, two sides, and the ends that meet no wall."""
    room, thick, low_z = site.file.record.room, site.level.wall_board, _finished_bottom(site, plan)
    run = (plan.run[0] - (0 if plan.ends.low_meets else thick), plan.run[1] + (0 if plan.ends.high_meets else thick))
    across = (plan.across[0] - thick, plan.across[1] + thick)
    middle = sum(plan.run) / Fraction(2)
    tops = (_top(site, plan, -1, middle), _top(site, plan, 1, middle))
    found = [
        Face("bottom", "z", low_z, -1, rectangle("z", x=run, y=across), room),
        Face(sides(site)[0], "y", across[0], -1, rectangle("y", x=run, z=(low_z, tops[0])), room),
        Face(sides(site)[1], "y", across[1], 1, rectangle("y", x=run, z=(low_z, tops[1])), room),
    ]
    end = rectangle("x", y=across, z=(low_z, min(tops)))
    found += [
        Face(one.name, "x", run[0] if one.way < 0 else run[1], one.way, end, room) for one in _open_ends(site, plan)
    ]
    return tuple(found)


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

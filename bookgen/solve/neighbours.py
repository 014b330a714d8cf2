"""The other records of a level in, the places where their treatments interrupt a soffit out, in the run's frame."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import pairwise

from bookgen.model.assembly import HiddenThing
from bookgen.model.geometry import Box, Point
from bookgen.model.project import ObstacleFile
from bookgen.model.records.overhead import Furring
from bookgen.model.records.treatments import PostWrap
from bookgen.solve.choices import chosen
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.positions import run_frame
from bookgen.solve.site import Site

SHORT_OF_WALL = Fraction(3)  # inches: strips that stop this near a wall serve a ceiling that goes on to it


def wrapped_posts(site: Site) -> Iterator[Rectangle]:
    """Yield the plan of each wrapped post of another record, over its board."""
    for file, choices in _others(site):
        if isinstance(choices, PostWrap):
            halves = choices.finished.inches / 2, (choices.finished_deep or choices.finished).inches / 2
            turned = file.record.run is not None and run_frame(file.record.run, site.level).along != site.frame.along
            x, y = halves[::-1] if turned else halves
            for middle in _posts(site.others, file.key):
                yield Rectangle((middle.x - x, middle.x + x), (middle.y - y, middle.y + y))


def ceiling_over(site: Site, point: Point) -> Fraction | None:
    """Return the finished ceiling over a point of the run's frame, above the slab; None where no board is overhead.

    Strips under the joists bring it down where a record has them; else it is board on the joists, in a room that has
    a ceiling.
    """
    level = site.level
    spot = site.frame.to_level(point)
    for choices, plan in _furred(site):
        if _within(spot.x, plan.u) and _within(spot.y, plan.v):
            strip = (true_size(choices.strip) or (Fraction(0), Fraction(0)))[0]
            return level.joists - strip - level.ceiling_board
    room = site.project.record.rooms.get(site.file.record.room)
    return None if room is None or room.ceiling is None else level.joists - level.ceiling_board


def ceilings_along(site: Site, run: Stretch, across: Fraction) -> tuple[tuple[Stretch, Fraction | None], ...]:
    """Return the stretches of a line along the run, at *across* of it, each with the finished ceiling over it."""
    edges = {edge for _, plan in _furred(site) for edge in (plan.u if site.frame.along == "x" else plan.v)}
    row = sorted({*run, *(edge for edge in edges if run[0] < edge < run[1])})
    found: list[tuple[Stretch, Fraction | None]] = []
    for low, high in pairwise(row):
        over = ceiling_over(site, Point((low + high) / 2, across, site.level.joists))
        start = found.pop()[0][0] if found and found[-1][1] == over else low
        found.append(((start, high), over))
    return tuple(found)


def _furred(site: Site) -> Iterator[tuple[Furring, Rectangle]]:
    """Yield each ceiling of strips with its plan on the level, east by north, out to the studs of walls near it."""
    for choices in _furrings(site):
        for area in choices.areas:
            spans = [(span.low.inches, span.high.inches) for span in (area.along, area.across)]
            x, y = spans if choices.runs == "east" else spans[::-1]
            room = site.project.record.rooms.get(area.room)
            if room is not None:
                board = site.level.wall_board
                x = out_to_walls(x, (east.inches for east, _ in room.outline), board)
                y = out_to_walls(y, (north.inches for _, north in room.outline), board)
            yield choices, Rectangle(x, y)


def out_to_walls(stretch: Stretch, faces: Iterable[Fraction], past: Fraction) -> Stretch:
    """Return a stretch of strips out to the walls that it stops just short of, and *past* their *faces*."""
    (low, high), row = stretch, tuple(faces)
    first, last = min(row) - past, max(row) + past
    return (first if 0 < low - first <= SHORT_OF_WALL else low), (last if 0 < last - high <= SHORT_OF_WALL else high)


def _furrings(site: Site) -> Iterator[Furring]:
    """Yield the strips under joists that records choose, each as built where it is built."""
    for record in (file.record for file in site.project.obstacles):
        treatment = record.treatment if record.as_built is None else record.as_built.treatment
        if treatment is not None and treatment.furring is not None:
            yield treatment.furring


def _within(value: Fraction, stretch: Stretch) -> bool:
    return stretch[0] <= value <= stretch[1]


def _others(site: Site) -> Iterator[tuple[ObstacleFile, object]]:
    for file in site.project.obstacles:
        pick = chosen(file.record)
        if file.key != site.file.key and pick is not None:
            yield file, pick.choices


def _posts(things: tuple[HiddenThing, ...], key: str) -> Iterator[Point]:
    """Yield the middle of each post of a record; its plates stand round the same middle."""
    seen: set[Stretch] = set()
    for thing in things:
        if thing.key.rpartition("-")[0] == key and thing.system == "structure":
            for solid in thing.solids:
                box: Box = solid.bounds()
                middle = Point((box.low.x + box.high.x) / 2, (box.low.y + box.high.y) / 2, box.low.z)
                if (middle.x, middle.y) not in seen:
                    seen.add((middle.x, middle.y))
                    yield middle

"""The other records of a level in, the places where their treatments interrupt a soffit out, in the run's frame."""

from __future__ import annotations

from collections.abc import Iterator
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
    for choices in _furrings(site):
        strip = (true_size(choices.strip) or (Fraction(0), Fraction(0)))[0]
        for area in choices.areas:
            along, across = (spot.x, spot.y) if choices.runs == "east" else (spot.y, spot.x)
            if _within(along, area.along.low.inches, area.along.high.inches) and _within(
                across, area.across.low.inches, area.across.high.inches
            ):
                return level.joists - strip - level.ceiling_board
    room = site.project.record.rooms.get(site.file.record.room)
    return None if room is None or room.ceiling is None else level.joists - level.ceiling_board


def ceilings_along(site: Site, run: Stretch, across: Fraction) -> tuple[tuple[Stretch, Fraction | None], ...]:
    """Return the stretches of a line along the run, at *across* of it, each with the finished ceiling over it."""
    edges = {
        end.inches
        for choices in _furrings(site)
        for area in choices.areas
        for span in (area.along if (choices.runs == "east") == (site.frame.along == "x") else area.across,)
        for end in (span.low, span.high)
    }
    row = sorted({*run, *(edge for edge in edges if run[0] < edge < run[1])})
    found: list[tuple[Stretch, Fraction | None]] = []
    for low, high in pairwise(row):
        over = ceiling_over(site, Point((low + high) / 2, across, site.level.joists))
        start = found.pop()[0][0] if found and found[-1][1] == over else low
        found.append(((start, high), over))
    return tuple(found)


def _furrings(site: Site) -> Iterator[Furring]:
    """Yield the strips under joists that records choose, each as built where it is built."""
    for record in (file.record for file in site.project.obstacles):
        treatment = record.treatment if record.as_built is None else record.as_built.treatment
        if treatment is not None and treatment.furring is not None:
            yield treatment.furring


def _within(value: Fraction, low: Fraction, high: Fraction) -> bool:
    return low <= value <= high


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

"""Findings in, the same out, each with where on the level it is, in words that lead somebody there with a tape.

East is counted from the west block face, north from the south one, up from the finished floor; to the inch or 10 mm.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from math import floor

from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, Box, Point, box_round
from bookgen.model.length import MILLIMETRES_PER_INCH
from bookgen.model.place import Place
from bookgen.model.problem import Finding
from bookgen.model.project import PROJECT_FILE
from bookgen.model.records.project import Window
from bookgen.solve.checks.sight import Sight
from bookgen.solve.site import height_above_slab, wall_frame

SMALL = Fraction(18)  # inches: of what is no longer than this the middle is told, else both ends
ROUGH_MILLIMETRES = 10
LOW = Fraction(2)  # inches over the floor that are at the floor


@dataclass(frozen=True, slots=True)
class _Where:
    """The key or name of a room, and a box of the level; None where the room is all that can be told."""

    room: str
    box: Box | None


def with_spots(sight: Sight, found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings with where on the level each is; "" where its place in the records is no place there."""
    exact, files = dict(_exact(sight)), dict(_files(sight))
    found = tuple(found)
    spots = {place: _spot(sight, place, exact, files) for place in {one.place for one in found}}
    told = ((one, spots[one.place]) for one in found)
    return tuple(replace(one, spot="" if spot == one.where else spot) for one, spot in told)


def _spot(sight: Sight, place: Place, exact: Mapping[Place, _Where], files: Mapping[str, _Where]) -> str:
    where = exact.get(place) or files.get(place.file)
    if where is None:
        return ""
    room = sight.room(where.room)
    name = where.room if room is None else room.name
    if where.box is None:
        return name
    box, zero = where.box, sight.level.floor
    east, north = (_stretch(sight, box, axis, Fraction(0)) for axis in ("x", "y"))
    at = {"room": name, "east": east, "north": north}
    if box.high.z - zero <= LOW:
        return sight.say("{room}, {east} east, {north} north, at the floor", **at)
    up = _stretch(sight, box, "z", zero)
    return sight.say("{room}, {east} east, {north} north, {up} up", up=up, **at)


def _exact(sight: Sight) -> Iterator[tuple[Place, _Where]]:
    """Yield the places of what findings point at itself: rooms, windows, walls, treatments, things, access points."""
    places, record = sight.project.places, sight.project.record
    for key in record.rooms:
        for field in ((), ("use",), ("ceiling",)):
            yield places.of(PROJECT_FILE, "rooms", key, *field), _Where(key, None)
    shared = Counter(wall.place for wall in sight.level.linings)  # the linings of all block walls have one place
    for wall in (wall for wall in sight.level.linings if shared[wall.place] == 1):
        yield wall.place, _Where(sight.tongue.name(wall.title), None)
    for key, window in record.windows.items():
        where = _Where(window.what, _window(sight, window))
        for field in ((), ("along",), ("sill",), ("head",), ("well",)):
            yield places.of(PROJECT_FILE, "windows", key, *field), where
    for file, where in _files(sight):
        built = next(one for one in sight.obstacles if one.place.file == file).assembly
        if built is not None:
            yield built.place, where
    for seen in sight.things:
        yield seen.thing.place, _Where(seen.file.record.room, seen.box)
    for one in sight.access:
        here = _Where(one.point.room or one.file.record.room, Box(one.at, one.at))
        yield one.place, here
        for number in range(len(one.point.ties)):
            index = one.file.record.access.index(one.point)
            yield places.of(one.file.file, "access", index, "ties", number), here


def _files(sight: Sight) -> Iterator[tuple[str, _Where]]:
    """Yield each record's file with the box round its treatment, or round its things where it has none."""
    built = {assembly.place.file: parts for assembly, parts in sight.by_assembly() if assembly.place.file}
    for file in sight.project.obstacles:
        own = [seen.box for seen in built.get(file.file, ())]
        own = own or [seen.box for seen in sight.things if seen.file is file]
        if own:
            yield file.file, _Where(file.record.room, box_round(own))


def _window(sight: Sight, window: Window) -> Box:
    frame = wall_frame(window.wall, (sight.level.east_west, sight.level.north_south))
    up = [height_above_slab(height, sight.level) for height in (window.sill, window.head)]
    ends = [
        Point(along.inches, Fraction(0), z) for along, z in zip((window.along.low, window.along.high), up, strict=True)
    ]
    return box_round([Box(point, point) for point in map(frame.to_level, ends)])


def _stretch(sight: Sight, box: Box, axis: Axis, zero: Fraction) -> str:
    low, high = box.low.on(axis) - zero, box.high.on(axis) - zero
    if high - low <= SMALL:
        return _rough(sight, (low + high) / 2)
    return sight.say("{low} to {high}", low=_rough(sight, low), high=_rough(sight, high))


def _rough(sight: Sight, value: Fraction) -> str:
    step = ROUGH_MILLIMETRES / MILLIMETRES_PER_INCH if sight.tape.metric else Fraction(1)
    return sight.tape.long(floor(value / step + Fraction(1, 2)) * step)

"""A solved level in, the ties that are printed for everything on it that is a place rather than a run, out.

Only for what somebody measured or saw on a photo: a tape distance to a place that is assumed would be trusted.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import HiddenThing
from bookgen.model.behind import is_sure
from bookgen.model.geometry import Box, Point
from bookgen.model.solved import Solved
from bookgen.model.ties import SpotTies, TieRefusal
from bookgen.solve.locate.tape_lines import in_the_way
from bookgen.solve.locate.tie_choice import ties_in

COMPACT = Fraction(36)  # inches east and north: what is longer is a run, and told by its stretch


def printed_ties(solved: Solved) -> tuple[SpotTies, ...]:
    """Return the ties of each access point inside the house and of each compact hidden thing, where there are any."""
    found = []
    rooms = {room.key: room for room in solved.rooms}
    solids = {key: in_the_way(solved, room) for key, room in rooms.items()}
    for key, at, room in _places(solved):
        choice = ties_in(solved, at, rooms[room], solids[room])
        if not isinstance(choice, TieRefusal):
            found.append(SpotTies(key, at, room, choice))
    return tuple(found)


def _places(solved: Solved) -> Iterator[tuple[str, Point, str]]:
    """Yield the key, the middle and the room of each place."""
    for file, worked in zip(solved.project.obstacles, solved.obstacles, strict=True):
        spots = {spot.tag: spot.at for spot in worked.access}
        for point in file.record.access:
            if is_sure(point.known) and not point.outside:
                yield point.tag, spots[point.tag], point.room or file.record.room
        for thing in worked.hidden:
            box = _whole(thing)
            if is_sure(thing.known) and box.size("x") <= COMPACT and box.size("y") <= COMPACT:
                low, high = box.low, box.high
                middle = Point((low.x + high.x) / 2, (low.y + high.y) / 2, (low.z + high.z) / 2)
                yield thing.key, middle, file.record.room


def _whole(thing: HiddenThing) -> Box:
    whole, *others = (solid.bounds() for solid in thing.solids)
    for box in others:
        whole = whole.joined(box)
    return whole

"""A room in, the rooms that share its air out: through doorways without doors, and through one louvred wall."""

from __future__ import annotations

from fractions import Fraction

from bookgen.model.frozen import dataclass
from bookgen.model.records.project import Opening, Partition
from bookgen.model.solved import SolvedRoom
from bookgen.solve.checks.sight import Sight
from bookgen.trade.called import called

BEYOND = Fraction(2)  # inches past a wall's studs: inside the board of the room beyond
HAS_DOOR = "door"  # a doorway or an opening has none


@dataclass(frozen=True, slots=True)
class Joined:
    """Rooms whose air is one, in the order they were reached."""

    rooms: tuple[SolvedRoom, ...]


def joined(sight: Sight, start: SolvedRoom, through: str) -> Joined:
    """Return the rooms joined to *start*; *through* is a partition whose doors let air pass, or ""."""
    found = [start]
    for room in found:
        for key, wall in sight.project.record.partitions.items():
            for opening in wall.openings:
                if key != through and called(HAS_DOOR).search(opening.what):
                    continue
                sides = _sides(sight, wall, opening)
                if room in sides:
                    found += [other for other in sides if other not in found]
    return Joined(tuple(found))


def volume(sight: Sight, rooms: Joined) -> Fraction:
    """Return the cubic inches of rooms, under their ceilings or the joists."""
    bare = sight.level.joists - sight.level.floor
    inches = (room.outline.area() * (bare if room.ceiling is None else room.ceiling.inches) for room in rooms.rooms)
    return sum(inches, Fraction(0))


def _sides(sight: Sight, wall: Partition, opening: Opening) -> list[SolvedRoom]:
    """Return the rooms at both sides of an opening."""
    along = (opening.along.low.inches + opening.along.high.inches) / 2
    found = []
    for across in (wall.thick.low.inches - BEYOND, wall.thick.high.inches + BEYOND):
        spot = (along, across) if wall.runs == "east" else (across, along)
        found += [room for room in sight.rooms if sight.holds(room, spot)]
    return found

"""Where a soffit goes through a wall each room has a face of its own; sizes as worked out by hand.

The family room ends at 203-1/2 in east, partition P1 with its board reaches from there to 208, where the guest room
begins. The soffit is framed 25 in wide from 40 to 400, its finished bottom is 78-1/2 up.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

import pytest

from bookgen.model.assembly import Assembly, Face
from bookgen.model.solved import Solved
from tests.generated import ducts, level
from tests.invariants import doubled, pieces, seen
from tests.meeting_houses import LONG
from tests.solve.house import ROOMS
from tests.solve.level_fixture import P1, solved

F = Fraction
DOOR = {"P1": P1["P1"] | {"openings": [{"what": "Door", "along": "200 in to 232 in", "head": "74 in above slab"}]}}


@cache
def house(*, doorway: bool = False) -> Solved:
    """Return the level with the soffit over the partition, or over a doorway in it."""
    walls = DOOR if doorway else P1
    return solved(ducts("a", 40, 400, north=205), level=level(LONG), rooms=ROOMS, partitions=walls)


def soffit(of: Solved) -> Assembly:
    """Return the soffit."""
    found = of.obstacle("a").assembly
    assert found is not None
    return found


def called(name: str, *, doorway: bool = False) -> Face:
    """Return one face of the soffit."""
    return next(face for face in soffit(house(doorway=doorway)).faces if face.name == name)


@pytest.mark.parametrize("doorway", [False, True])
def test_each_room_sees_its_own_part_of_a_soffit(doorway: bool) -> None:
    """26 in wide over its board: from 39-1/2 to the wall at 203-1/2, 164 in, and from 208 to 400-1/2, 192-1/2 in."""
    west, east = (called(f"bottom, in the {room}", doorway=doorway) for room in ("Family room", "Guest room"))

    assert (west.room, west.outline.area()) == ("family", 164 * 26)
    assert (east.room, east.outline.area()) == ("guest", F("192.5") * 26)


def test_its_sides_and_ends_belong_to_the_room_before_them() -> None:
    """The sides are split as the bottom is; of the ends the west one looks into the family room."""
    names = {face.name: face.room for face in soffit(house()).faces}

    assert names == {
        "bottom, in the Family room": "family", "bottom, in the Guest room": "guest",
        "south side, in the Family room": "family", "south side, in the Guest room": "guest",
        "north side, in the Family room": "family", "north side, in the Guest room": "guest",
        "west end": "family", "east end": "guest",
    }  # fmt: skip
    west, east = (called(f"south side, in the {room}").outline.bounds() for room in ("Family room", "Guest room"))
    assert (west[0][0], west[1][0], east[0][0], east[1][0]) == (F("39.5"), F("203.5"), 208, F("400.5"))


@pytest.mark.parametrize("doorway", [False, True])
def test_the_wall_is_framed_up_to_the_board_that_passes_over_it(doorway: bool) -> None:
    """The soffit takes 202 to 228 of it with its board, and hangs to 78-1/2: nothing there of the wall is higher."""
    found = house(doorway=doorway)
    wall = next(one for one in found.level.linings if one.key == "partition-P1")
    boxes = [part.solid.bounds() for part in wall.parts]
    under = [box for box in boxes if box.low.x < 228 and box.high.x > 202]

    assert max(box.high.z for box in under) == F("78.5")
    assert not [*doubled(pieces(found)), *seen(found, pieces(found))]
    assert "It passes from the Family room into the Guest room; the walls between are framed up to its board." in (
        soffit(found).remarks
    )


def test_what_is_behind_is_told_for_each_room() -> None:
    """Both faces of the bottom are among those that a person looks up before a drill, each under its room."""
    found = house()
    told = {(face.name, face.room) for face in found.faces if face.obstacle == "a" and face.overhead}

    assert told == {("bottom, in the Family room", "family"), ("bottom, in the Guest room", "guest")}
    assert all(face.things for face in found.faces if face.obstacle == "a" and face.overhead)

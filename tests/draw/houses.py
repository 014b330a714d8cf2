"""Small solved houses with what the sample lacks: a stepped soffit, a corner and a free chase, a cover in a wall."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from bookgen.model.project import ObstacleFile
from bookgen.model.solved import Solved
from tests.solve.house import LEVEL
from tests.solve.level_fixture import DRAIN, MEASURED, P1, record, solved

_DRAIN = DRAIN | {
    "what": "Drain", "at": {"along": "10 in to 198 in", "off the block": "7 in", "above slab": "86 in"},
    "couplings": [],
}  # fmt: skip
_DUCT = _DRAIN | {
    "what": "Old drain", "at": {"along": "140 in to 190 in", "off the block": "16 in", "above slab": "82 in"},
}  # fmt: skip


def odd_house(units: str = "imperial") -> Solved:
    """Return a level with a wall soffit in steps, a corner chase, a free chase and a framed opening in a lining.

    Its linings are filled, with a sheet behind their board.
    """
    filled = LEVEL["wall lining"] | {"insulation": "R-13 batt", "vapour layer": "6 mil polyethylene"}
    level = LEVEL | {"wall lining": filled}
    return solved(_steps(), _corner(), _free(), _opening(), partitions=P1, units=units, level=level)


def steps_house(outside: int, up: int, units: str = "imperial") -> Solved:
    """Return a level with a soffit in steps whose lower drain lies *outside* off the block and *up*, in sixteenths."""
    at = {"along": "140 in to 190 in", "off the block": f"{outside}/16 in", "above slab": f"{up}/16 in"}
    return solved(_steps(_DUCT | {"at": at}), partitions=P1, units=units)


def stair_house(tread: int, risers: int, way: str) -> Solved:
    """Return a level with a stair of 100 in whose treads are *tread* sixteenths deep, opened between two posts."""
    bottom, opening = ("84 in", "86.75 in to 126.25 in") if way == "east" else ("204 in", "161.75 in to 201.25 in")
    choices = {
        "rise": "100 in", "risers": str(risers), "tread": f"{tread}/16 in", "bottom nosing": bottom, "goes up": way,
        "stair": "4.6 in to 42.6 in", "opening": opening, "plate above nosings": "2 in", "rail": "36 in",
        "cap": "3 in", "baluster": "1-1/4 in",
    }  # fmt: skip
    run = {"along": "south wall", "from": "60 in", "to": "204 in"}
    file = record([], {"stair opening": choices}, run=run)
    return solved(replace(file, record=file.record.model_copy(update={"kind": "stair"})))


def _named(key: str, name: str, file: ObstacleFile) -> ObstacleFile:
    read = file.record.model_copy(update={"obstacle": name})
    return replace(file, key=key, file=f"obstacles/{key}.yaml", record=read)


def _steps(lower: dict[str, Any] | None = None) -> ObstacleFile:
    choices = {"along": "4.1 in to 204 in", "line": "steps", "bottom": "steps"}
    run = {"along": "north wall", "from": "10 in", "to": "198 in"}
    return _named("steps", "Two drains", record([_DRAIN, lower or _DUCT], {"wall soffit": choices}, run=run))


def _pipe(east: str, north: str, what: str, trade: str) -> dict[str, Any]:
    at = {"east": east, "north": north, "above slab": "0 in to 89.5 in"}
    return {"what": what, "pipe": trade, "system": "waste", "known": MEASURED, "at": at}


def _corner() -> ObstacleFile:
    choices = {"form": "corner", "along": "207.5 in to 221.5 in", "front": "18.1 in off the block"}
    run = {"along": "north wall", "from": "207.5 in", "to": "221.5 in"}
    pipe = _pipe("214 in", "278 in", "Vent riser", "4 in PVC drain")
    return _named("corner", "Riser in the corner", record([pipe], {"chase": choices}, run=run, room="guest"))


def _free() -> ObstacleFile:
    choices = {"form": "free", "along": "94 in to 106 in", "front": "106 in off the block"}
    run = {"along": "east", "from": "90 in", "to": "110 in"}
    pipe = _pipe("100 in", "100 in", "Drain stack", "3 in PVC drain")
    return _named("free", "Stack in the room", record([pipe], {"chase": choices}, run=run))


def _opening() -> ObstacleFile:
    at = {"along": "163 in to 177 in", "off the block": "4.6 in", "above slab": "26.5 in to 44.5 in"}
    choices = {"opening": "14 x 18 in", "at": at, "what passes": "a hand"}
    run = {"along": "east wall", "from": "163 in", "to": "177 in"}
    pipe = DRAIN | {
        "what": "Water service", "pipe": "3/4 in copper", "system": "water", "couplings": [],
        "at": {"along": "170 in", "off the block": "1.9 in", "above slab": "35.5 in to 98 in"},
    }  # fmt: skip
    where = {"along": "170 in", "off the block": "1.9 in", "above slab": "35.5 in"}
    cover = {"kind": "hinged door", "size": "14 x 18 in", "at": at, "opens": "pull"}
    access = {
        "tag": "01", "what": "Water valve", "where": "white door", "system": "water", "at": where, "known": MEASURED,
        "cover": cover,
    }  # fmt: skip
    file = record([pipe], {"access opening": choices}, run=run, room="guest", access=[access])
    return _named("opening", "Valve in the wall", file)

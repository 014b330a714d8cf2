"""Whole invented levels: how many obstacles, how many stations and lines in, a Project out, as large as anybody asks.

Obstacles stand in cells of a long level, four to a cell: a drain along the north wall in a soffit, ducts in a hung
soffit, a beam in its soffit, and the post under it.
"""

from __future__ import annotations

import json
from typing import Any

from bookgen.model.project import ObstacleFile, Project
from bookgen.model.records import Obstacle
from tests.solve.house import LEVEL
from tests.solve.level_fixture import MEASURED, project

CELL = 120  # inches of the level that one set of four takes up
WIDE = 288


def obstacle(key: str, kind: str, run: dict[str, str], inside: list[dict[str, Any]], **more: Any) -> ObstacleFile:
    """Return a record; *more* are its other fields."""
    fields = {
        "obstacle": key, "kind": kind, "room": "family", "sentence": "Something.", "known": MEASURED,
        "run": run, "inside": inside,
    } | more  # fmt: skip
    return ObstacleFile(key, f"obstacles/{key}.yaml", Obstacle.model_validate_json(json.dumps(fields)))


def thing(what: str, system: str, at: dict[str, str], **more: Any) -> dict[str, Any]:
    """Return one thing of an `inside` list."""
    return {"what": what, "system": system, "known": MEASURED, "at": at} | more


def drain(key: str, low: float, high: float, off: float = 7, up: float = 82) -> ObstacleFile:
    """Return a drain that falls a quarter inch a foot, in a soffit along the north wall."""
    at = {
        "along": f"{low} in to {high} in", "off the block": f"{off} in", "above slab": f"{up} in",
        "rises": "1/4 in per ft to the east",
    }  # fmt: skip
    run = {"along": "north wall", "from": f"{low} in", "to": f"{high} in"}
    return obstacle(
        key, "drain", run, [thing("Drain", "waste", at, pipe="3 in PVC drain")], treatment={"wall soffit": {}}
    )


def ducts(key: str, low: float, high: float, north: float = 84, drop: float = 9) -> ObstacleFile:
    """Return a duct 20 in wide in a hung soffit that runs east; it ends 4 in before the soffit does."""
    bottom = 89.5 - drop
    at = {
        "east": f"{low + 4} in to {high - 4} in", "north": f"{north} in to {north + 20} in",
        "above slab": f"{bottom} in to {bottom + 8} in",
    }  # fmt: skip
    hung = {"between": f"{north - 2.5} in to {north + 22.5} in", "framing bottom": f"{bottom - 1.5} in above slab"}
    run = {"along": "east", "from": f"{low} in", "to": f"{high} in"}
    return obstacle(key, "duct", run, [thing("Duct", "air", at, duct="20 in x 8 in")], treatment={"hung soffit": hung})


def beam(key: str, low: float, high: float, north: float = 144) -> ObstacleFile:
    """Return a steel beam 8 in high in its soffit."""
    at = {
        "east": f"{low} in to {high} in", "north": f"{north - 2} in to {north + 2} in",
        "above slab": "81.5 in to 89.5 in",
    }  # fmt: skip
    body = {"wide": f"{high - low} in", "deep": "4 in", "high": "8 in"}
    run = {"along": "east", "from": f"{low} in", "to": f"{high} in"}
    box = {"framing bottom": "80 in above slab", "finished width": "11 in"}
    return obstacle(key, "beam", run, [thing("Beam", "structure", at, body=body)], treatment={"beam soffit": box})


def post(key: str, east: float, north: float = 144, wide: float = 8) -> ObstacleFile:
    """Return a round steel post in a wrap that reaches up to the beam's soffit."""
    at = {"east": f"{east} in", "north": f"{north} in", "above slab": "0 in to 81.5 in"}
    run = {"along": "east", "from": f"{east - 4} in", "to": f"{east + 4} in"}
    wrap = {"flats": "2x6", "finished": f"{wide} in", "top": "80 in above slab"}
    inside = [thing("Post", "structure", at, post="3-1/2 in round steel")]
    return obstacle(key, "post", run, inside, treatment={"post wrap": wrap})


def stack(key: str, east: float, off: float = 7, front: float = 12) -> ObstacleFile:
    """Return a drain stack in a chase on the north wall."""
    at = {"along": f"{east} in", "off the block": f"{off} in", "above slab": "0 in to 89.5 in"}
    run = {"along": "north wall", "from": f"{east - 7.5} in", "to": f"{east + 7.5} in"}
    chase = {"form": "wall", "along": f"{east - 7.5} in to {east + 7.5} in", "front": f"{front} in off the block"}
    inside = [thing("Stack", "waste", at, pipe="3 in PVC stack")]
    return obstacle(key, "stack", run, inside, treatment={"chase": chase})


def level(long: float, **more: Any) -> dict[str, Any]:
    """Return the level of the small house, so many inches from west to east."""
    return LEVEL | {"inside of block": {"east west": f"{long} in", "north south": f"{WIDE} in"}} | more


def rooms(long: float) -> dict[str, Any]:
    """Return one room over the whole level, without a ceiling of its own."""
    corners = [(4.6, 4.6), (long - 4.6, 4.6), (long - 4.6, WIDE - 4.6), (4.6, WIDE - 4.6)]
    outline = [[f"{east} in", f"{north} in"] for east, north in corners]
    return {"family": {"name": "Family room", "use": "living", "outline": outline}}


def house(count: int) -> Project:
    """Return a level of so many obstacles."""
    files: list[ObstacleFile] = []
    for number in range(count):
        cell, sort = divmod(number, 4)
        low, high = 12 + cell * CELL, 12 + (cell + 1) * CELL - 16
        make = (
            lambda key, low=low, high=high: drain(key, low, high),
            lambda key, low=low, high=high: ducts(key, low, high),
            lambda key, low=low, high=high: beam(key, low, high),
            lambda key, low=low: post(key, low + 50),
        )[sort]
        files.append(make(f"{number:03}"))
    long = 12 + ((count + 3) // 4) * CELL + 12
    return project(*files, level=level(long), rooms=rooms(long))


def long_run(stations: int, lines: int) -> Project:
    """Return a soffit along a wall whose reach and hang were taped at so many stations, with so many lines in it."""
    step = 6  # inches from station to station
    long = stations * step + 40
    rows = [
        {
            "along": f"{20 + number * step} in",
            "reach": f"{6 + (number * 7) % 5} in",
            "hang": f"{8 + (number * 3) % 4} in",
        }
        for number in range(stations)
    ]
    last = 20 + (stations - 1) * step
    inside: list[dict[str, Any]] = [
        {"what": "Drain as taped", "system": "waste", "known": MEASURED, "stations": rows},
        *(
            thing(
                f"Line {number}",
                "water",
                {
                    "along": f"{20 + number} in to {last - number} in", "off the block": f"{5 + number % 5} in",
                    "below joists": f"{1 + (number // 5) * 0.5} in",
                },
                pipe="1/2 in copper",
            )
            for number in range(lines)
        ),
    ]  # fmt: skip
    run = {"along": "north wall", "from": "20 in", "to": f"{last} in"}
    file = obstacle("long", "lines", run, inside, treatment={"wall soffit": {}})
    return project(file, level=level(long), rooms=rooms(long))

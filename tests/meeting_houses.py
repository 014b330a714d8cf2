"""Small levels in which two treatments meet, one for each way that they do; what to ask of them stands in the tests.

The level is 36 ft by 24 ft inside the block, joists at 89-1/2 in run north. Studs of the linings reach to 4.1 in off
the block, board on them and on all work is 1/2 in.
"""

from __future__ import annotations

from typing import Any

from bookgen.model.project import ObstacleFile, Project
from tests.generated import level, obstacle, rooms, thing
from tests.solve.level_fixture import project

LONG = 432


def house(*files: ObstacleFile, **more: Any) -> Project:
    """Return a level of some obstacles; *more* replaces keys of the project."""
    return project(*files, **({"level": level(LONG), "rooms": rooms(LONG)} | more))


def along_wall(
    key: str,
    wall: str,
    low: float,
    high: float,
    *,
    off: float = 7,
    bottom: float = 77,
    outside: float = 12,
    **more: Any,
) -> ObstacleFile:
    """Return a level pipe along a wall in a soffit, framed out to *outside* off the block and down to *bottom*."""
    at = {"along": f"{low} in to {high} in", "off the block": f"{off} in", "above slab": f"{bottom + 5} in"}
    run = {"along": wall, "from": f"{low} in", "to": f"{high} in"}
    choices = {"outside": f"{outside} in off the block", "framing bottom": f"{bottom} in above slab"} | more
    pipe = thing("Drain", "waste", at, pipe="3 in PVC drain")
    return obstacle(key, "drain", run, [pipe], treatment={"wall soffit": choices})


def ducts_north(
    key: str, low: float, high: float, east: float, bottom: float, wide: float = 20, up: float = 81
) -> ObstacleFile:
    """Return a duct 7 in high and *up* in over the slab in a hung soffit that runs north.

    It is framed from *east* on, 5 in wider than the duct, which ends 4 in before it.
    """
    at = {
        "north": f"{low + 4} in to {high - 4} in", "east": f"{east + 2.5} in to {east + 2.5 + wide} in",
        "above slab": f"{up} in to {up + 7} in",
    }  # fmt: skip
    hung = {"between": f"{east} in to {east + wide + 5} in", "framing bottom": f"{bottom} in above slab"}
    run = {"along": "north", "from": f"{low} in", "to": f"{high} in"}
    duct = thing("Branch", "air", at, duct=f"{wide} in x 7 in")
    return obstacle(key, "duct", run, [duct], treatment={"hung soffit": hung})


def roomy(
    key: str, low: float, high: float, between: tuple[float, float], bottom: float, south: float, deep: float = 6
) -> ObstacleFile:
    """Return a duct 10 in wide from *south* on and *deep* in high, in a hung soffit that runs east and has room."""
    at = {
        "east": f"{low + 4} in to {high - 4} in", "north": f"{south} in to {south + 10} in",
        "above slab": f"{bottom + 2} in to {bottom + 2 + deep} in",
    }  # fmt: skip
    hung = {"between": f"{between[0]} in to {between[1]} in", "framing bottom": f"{bottom} in above slab"}
    run = {"along": "east", "from": f"{low} in", "to": f"{high} in"}
    duct = thing("Duct", "air", at, duct=f"10 in x {deep} in")
    return obstacle(key, "duct", run, [duct], treatment={"hung soffit": hung})


def opening(key: str, run: dict[str, str], at: dict[str, str], size: str = "14 x 14 in") -> ObstacleFile:
    """Return a valve behind an access opening, wherever that is."""
    treatment = {"access opening": {"opening": size, "at": at, "what passes": "a hand"}}
    return obstacle(key, "hidden work", run, [], treatment=treatment)


def tall_post(key: str, east: float, north: float) -> ObstacleFile:
    """Return a round steel post from slab to joists in a wrap 8 in wide over its board."""
    at = {"east": f"{east} in", "north": f"{north} in", "above slab": "0 in to 89.5 in"}
    run = {"along": "east", "from": f"{east - 4} in", "to": f"{east + 4} in"}
    wrap = {"flats": "2x6", "finished": "8 in", "top": "89.5 in above slab"}
    inside = [thing("Post", "structure", at, post="3-1/2 in round steel")]
    return obstacle(key, "post", run, inside, treatment={"post wrap": wrap})


def stair(key: str) -> ObstacleFile:
    """Return a stair along the south wall, opened between posts at 86-3/4 and 136-1/4 in."""
    run = {"along": "south wall", "from": "84 in", "to": "204 in"}
    opening = {
        "rise": "100 in", "risers": "13", "tread": "10 in", "bottom nosing": "84 in", "goes up": "east",
        "stair": "4.6 in to 42.6 in", "opening": "86.75 in to 136.25 in", "plate above nosings": "2 in",
        "rail": "36 in", "cap": "3 in", "baluster": "1-1/4 in",
    }  # fmt: skip
    return obstacle(key, "stair", run, [], treatment={"stair opening": opening})


def plant(key: str) -> ObstacleFile:
    """Return a furnace east of partition P3, behind a pair of doors from 39 to 101 in that end under 77 in."""
    at = {"east": "316 in to 344 in", "north": "60 in to 81 in", "above slab": "2 in to 48 in"}
    furnace = thing("Furnace", "gas", at, body={"wide": "28 in", "deep": "21 in", "high": "46 in"})
    door = {
        "leaf": "30 x 75 in", "leaves": "2", "rough opening": "39 in to 101 in", "head": "77 in above slab",
        "hinges": "both sides", "swings": "out", "header": "2x4", "header laid": "flat",
    }  # fmt: skip
    run = {"along": "north", "from": "4.1 in", "to": "283.9 in"}
    room = {"wall": "P3", "largest": "Furnace", "door": door}
    return obstacle(key, "appliance", run, [furnace], treatment={"utility room": room}, room="mechanical")


P3 = {"P3": {"stud": "2x4", "runs": "north", "thick": "300 in to 303.5 in", "along": "4.1 in to 283.9 in"}}
PARTED = {
    "family": rooms(304.1)["family"],
    "mechanical": {
        "name": "Mechanical room", "use": "utility",
        "outline": [["304 in", "4.6 in"], ["427.4 in", "4.6 in"], ["427.4 in", "283.4 in"], ["304 in", "283.4 in"]],
    },
}  # fmt: skip


def closet(key: str, low: float, high: float, deep: float = 40, wall: str = "north wall") -> ObstacleFile:
    """Return an electrical panel in a closet on a wall, outside from *low* to *high*, bare inside, 4 in walls."""
    middle = (low + high) / 2
    at = {"along": f"{middle} in", "off the block": "2 in", "above slab": "40 in to 70 in"}
    run = {"along": wall, "from": f"{low} in", "to": f"{high} in"}
    choices = {
        "along": f"{low} in to {high} in",
        "inside": f"{low + 4} in to {high - 4} in",
        "deep": f"{deep} in off the block",
        "lined": "bare",
        "door": {
            "leaf": "24 x 67 in", "rough opening": f"{middle - 12.75} in to {middle + 12.75} in",
            "head": "69 in above slab", "swings": "out",
            "hinges": "east" if wall in {"north wall", "south wall"} else "north",
        },
    }  # fmt: skip
    body = {"wide": "14 in", "deep": "4 in", "high": "30 in"}
    return obstacle(key, "panel", run, [thing("Panel", "power", at, body=body)], treatment={"closet": choices})


def flat(key: str, along: tuple[float, float], across: tuple[float, float]) -> ObstacleFile:
    """Return cables under the joists behind strips that run east, over a part of the family room."""
    run = {"along": "east", "from": f"{along[0]} in", "to": f"{along[1]} in"}
    at = {
        "east": f"{along[0] + 10} in to {along[1] - 10} in", "north": f"{across[0] + 20} in",
        "below joists": "1/2 in",
    }  # fmt: skip
    area = {
        "room": "family", "along": f"{along[0]} in to {along[1]} in", "across": f"{across[0]} in to {across[1]} in",
    }  # fmt: skip
    strips = {"strip": "2x4", "runs": "east", "spacing": "16 in", "areas": [area]}
    pipe = thing("Water line", "water", at, pipe="1/2 in copper")
    return obstacle(key, "lines", run, [pipe], treatment={"furring": strips})

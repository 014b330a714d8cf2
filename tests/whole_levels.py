"""Levels with many treatments that meet, drawn by hypothesis: a few numbers a treatment in, a Project out.

Each treatment is a row of plain values, so that a house that breaks a rule can be told in a line and kept in a test.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from hypothesis import strategies as st

from bookgen.model.project import ObstacleFile, Project
from tests.generated import beam, ducts, post, rooms, stack
from tests.meeting_houses import LONG, along_wall, closet, ducts_north, flat, house, roomy

Row = tuple[Any, ...]
Drawn = tuple[str, tuple[Row, ...]]  # which rooms there are, and the treatments
Files = tuple[ObstacleFile, ...]
CEILING = {"ceiling": "89 in above slab"}
WALLS = {"north wall": 432, "south wall": 432, "west wall": 288, "east wall": 288}


def _soffit(key: str, wall: str, low: float, long: float, off: float, wide: float, bottom: float) -> Files:
    high = min(low + long, WALLS[wall] - 4)
    return (along_wall(key, wall, low, high, off=off, outside=off + 4 + wide, bottom=bottom),)


def _ducts(key: str, low: float, long: float, north: float, drop: float) -> Files:
    return (ducts(key, low, min(low + long, LONG - 4), north, drop),)


def _ducts_north(key: str, low: float, long: float, east: float, bottom: float, wide: float) -> Files:
    return (ducts_north(key, low, min(low + long, 284), east, bottom, wide, up=max(bottom + 2, 81)),)


def _roomy(key: str, low: float, long: float, north: float, bottom: float, south: float, spare: float) -> Files:
    between = (north, north + 13 + south + spare)
    return (roomy(key, low, min(low + long, LONG - 4), between, bottom, north + 1.5 + south),)


def _beam(key: str, low: float, long: float, north: float, post_at: float) -> Files:
    high = min(low + long, LONG - 4)
    return beam(key, low, high, north), post(f"{key}-post", low + post_at * (high - low), north)


def _stack(key: str, east: float, off: float, front: float) -> Files:
    return (stack(key, east, off, front),)


def _closet(key: str, wall: str, low: float, wide: float, deep: float) -> Files:
    return (closet(key, low, low + wide, deep, wall),)


def _flat(key: str, east: float) -> Files:
    return (flat(key, (4.6, east), (4.6, 283.4)),)


MAKERS: dict[str, Callable[..., Files]] = {
    "wall soffit": _soffit,
    "hung soffit east": _ducts,
    "hung soffit north": _ducts_north,
    "roomy soffit": _roomy,
    "beam soffit": _beam,
    "stack": _stack,
    "closet": _closet,
    "furring": _flat,
}


def _inches(low: float, high: float, step: float = 1) -> st.SearchStrategy[float]:
    """Draw a place on the marks of a tape."""
    return st.integers(0, int((high - low) / step)).map(lambda number: low + number * step)


def _rows() -> st.SearchStrategy[Row]:
    wall, drop = st.sampled_from(sorted(WALLS)), _inches(74, 80, 0.5)
    return st.one_of(
        st.tuples(st.just("wall soffit"), wall, _inches(4, 150), _inches(60, 400), _inches(6, 9, 0.5),
                  _inches(1, 12, 0.5), drop),
        st.tuples(st.just("hung soffit east"), _inches(4, 250), _inches(40, 400), _inches(20, 240),
                  _inches(8, 12, 0.5)),
        st.tuples(st.just("hung soffit north"), _inches(4, 180), _inches(40, 280), _inches(20, 390), drop,
                  _inches(8, 24, 4)),
        st.tuples(st.just("roomy soffit"), _inches(4, 250), _inches(40, 400), _inches(20, 250), drop,
                  _inches(0, 12, 0.5), _inches(0, 12, 0.5)),
        st.tuples(st.just("beam soffit"), _inches(4, 100), _inches(100, 420), _inches(100, 180),
                  st.sampled_from((0.25, 0.5, 0.75))),
        st.tuples(st.just("stack"), _inches(20, 400), _inches(6, 10, 0.5), _inches(12, 24, 0.5)),
        st.tuples(st.just("closet"), wall, _inches(20, 220), _inches(40, 64), _inches(30, 48)),
        st.tuples(st.just("furring")),
    )  # fmt: skip


def levels(most: int = 9) -> st.SearchStrategy[Drawn]:
    """Draw which rooms there are, and up to *most* treatments."""
    rows = st.lists(_rows(), min_size=2, max_size=most)
    return st.tuples(st.sampled_from(("bare", "ceiling", "two rooms")), rows).map(_apart)


def _apart(drawn: tuple[str, list[Row]]) -> Drawn:
    """Return the rows without those that stand where another one or a wall does: nobody builds two there."""
    sort, rows = drawn
    kept: list[Row] = []
    taken = [((211.0, 221.0), (0.0, 288.0))] if sort == "two rooms" else []
    for row in rows:
        plan = _plan(row)
        if row == ("furring",) and row in kept:
            continue
        if plan is None or not any(_overlap(plan, other) for other in taken):
            kept.append(row)
            taken += [] if plan is None else [plan]
    return sort, tuple(kept)


Plan = tuple[tuple[float, float], tuple[float, float]]


def _overlap(one: Plan, other: Plan) -> bool:
    return all(a[0] < b[1] and b[0] < a[1] for a, b in zip(one, other, strict=True))


def _plan(row: Row) -> Plan | None:
    """Return the ground that a row takes up, east and north, with a little room round it; None for what hangs."""
    name, *values = row
    if name == "stack":
        east, _, front = values
        return (east - 9, east + 9), (287 - front, 288)
    if name == "beam soffit":
        low, long, north, share = values
        middle = low + share * (min(low + long, LONG - 4) - low)
        return (middle - 6, middle + 6), (north - 6, north + 6)
    if name == "closet":
        wall, low, wide, deep = values
        along, out = (low - 1, low + wide + 1), (0.0, deep + 6)
        across = (WALLS["west wall" if wall in {"north wall", "south wall"} else "north wall"] - out[1], 500.0)
        off = out if wall in {"south wall", "west wall"} else across
        return (along, off) if wall in {"north wall", "south wall"} else (off, along)
    return None


def whole(sort: str, treatments: Sequence[Row]) -> Project:
    """Return the level of some rows: one room, bare or with a ceiling, or two of which the east one has a ceiling."""
    east = 213.75 if sort == "two rooms" else LONG - 4.6
    files = [
        file
        for number, (name, *values) in enumerate(treatments)
        for file in MAKERS[name]("abcdefghi"[number], *(values if name != "furring" else (east,)))
    ]
    if sort == "bare":
        return house(*files)
    if sort == "ceiling":
        return house(*files, rooms={"family": rooms(LONG)["family"] | CEILING})
    wall = {"stud": "2x4", "runs": "north", "thick": "214.25 in to 217.75 in", "along": "4.1 in to 283.9 in"}
    door = {"what": "Doorway", "along": "130 in to 164 in", "head": "82.5 in above slab"}
    return house(
        *files,
        rooms={"family": _room("Family room", 4.6, east), "den": _room("Den", 218.25, LONG - 4.6) | CEILING},
        partitions={"P1": wall | {"openings": [door]}},
    )


def _room(name: str, west: float, east: float) -> dict[str, Any]:
    corners = ((west, 4.6), (east, 4.6), (east, 283.4), (west, 283.4))
    return {"name": name, "use": "living", "outline": [[f"{x} in", f"{y} in"] for x, y in corners]}

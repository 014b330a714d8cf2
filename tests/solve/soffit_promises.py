"""What every soffit promises, as functions that name the parts that break it; outlines by shapely, an outside library.

Boards that lie in one plane are one surface here: only its outer edge, and that of a large hole, has to land on wood.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from shapely import MultiPolygon, Polygon
from shapely import box as flat_box
from shapely.ops import unary_union

from bookgen.model.assembly import Assembly, Part
from bookgen.model.geometry import ACROSS, Axis, Box, Prism
from bookgen.trade.lumber import lumber

EDGE = 2.0  # inches from a board's edge within which wood still takes its screws
CORNER = 4.0  # inches that a corner may stand out past the last wood; common practice
LIP = 1.0  # inches that board goes on past the corner of its framing
SMALL = 9.0  # inches; a smaller hole is cut between two members and needs none of its own
ROUNDING = 1e-6  # inches, of the floats that shapely takes
NO_WOOD = {"board", "light", "register", "cover"}

Rect = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Surface:
    """Boards in one plane: their outline in the two coordinates across *axis*, and the wood that touches them."""

    name: str
    axis: Axis
    shape: Polygon
    wood: tuple[Rect, ...]


def surfaces(found: Assembly) -> Iterator[Surface]:
    """Yield each flat surface of board."""
    planes: dict[tuple[Axis, object, object], list[Part]] = {}
    for part in found.parts:
        if part.role == "board":
            axis, room = thin(part), part.solid.bounds()
            planes.setdefault((axis, room.low.on(axis), room.high.on(axis)), []).append(part)
    for (axis, _, _), boards in planes.items():
        united = unary_union([flat_box(*rect(part.solid.bounds(), axis)) for part in boards])
        wood = tuple(rect(box, axis) for box in wood_behind(boards[0], found.parts))
        for shape in united.geoms if isinstance(united, MultiPolygon) else [united]:
            yield Surface(boards[0].name, axis, shape, wood)


def rect(box: Box, axis: Axis) -> Rect:
    """Return a box as seen along an axis."""
    first, second = ACROSS[axis]
    return float(box.low.on(first)), float(box.low.on(second)), float(box.high.on(first)), float(box.high.on(second))


def wood_behind(board: Part, parts: Iterable[Part]) -> list[Box]:
    """Return the boxes of the members that touch the plane of a board's back, or of its face."""
    room, axis = board.solid.bounds(), thin(board)
    boxes = [part.solid.bounds() for part in parts if part.role not in NO_WOOD]
    return [
        wood for wood in boxes if wood.high.on(axis) == room.low.on(axis) or wood.low.on(axis) == room.high.on(axis)
    ]


def thin(board: Part) -> Axis:
    """Return the axis through a board."""
    assert isinstance(board.solid, Prism)
    return board.solid.axis


def loose_edges(found: Assembly, spacing: float) -> list[str]:
    """Return each edge of board that is not held on wood at the spacing, or near its corners."""
    loose = []
    for surface in surfaces(found):
        rings = [surface.shape.exterior, *(r for r in surface.shape.interiors if _large(r.bounds))]
        for ring in rings:
            for start, end in pairwise(ring.coords):
                if not _held(surface, start, end, spacing):
                    loose.append(f"{surface.name}: {start} to {end} across {surface.axis}")
    return loose


def _large(bounds: Rect) -> bool:
    return max(bounds[2] - bounds[0], bounds[3] - bounds[1]) > SMALL


def _held(surface: Surface, start: tuple[float, ...], end: tuple[float, ...], spacing: float) -> bool:
    """Tell whether wood lies within reach of a straight edge, all along it."""
    along = 0 if start[1] == end[1] else 1
    low, high = sorted((start[along], end[along]))
    at = start[1 - along]
    held = sorted(
        (wood[along], wood[along + 2])
        for wood in surface.wood
        if wood[1 - along] < at + EDGE
        and at - EDGE < wood[3 - along]
        and wood[along] < high
        and low < wood[along + 2]
        and surface.shape.intersects(flat_box(*wood))
    )
    if not held or held[0][0] > low + CORNER:
        return high - low <= CORNER
    reached = held[0][1]
    for first, last in held[1:]:
        if first - reached > spacing + ROUNDING:
            return False
        reached = max(reached, last)
    return high - reached <= CORNER


def wide_bays(found: Assembly, spacing: float) -> list[str]:
    """Return the surfaces with a spot of board more than half a spacing from wood, both along and across."""
    half = spacing / 2 + ROUNDING
    wide = []
    for surface in surfaces(found):
        held = [
            flat_box(*reach)
            for low, foot, high, top in surface.wood
            for reach in ((low - half, foot, high + half, top), (low, foot - half, high, top + half))
        ]
        if surface.shape.buffer(-LIP).difference(unary_union(held)).area > ROUNDING:
            wide.append(surface.name)
    return wide


def too_long_to_buy(found: Assembly) -> list[str]:
    """Return the sticks longer than the longest that is sold of their stock."""
    return [
        part.name
        for part in found.parts
        if (row := lumber(part.stock)) is not None and part.length() > max(row.lengths)
    ]


def board_area(found: Assembly, axis: Axis) -> float:
    """Return the area of all boards across one axis; shapely's figure, a place covered twice counts once a plane."""
    return sum(surface.shape.area for surface in surfaces(found) if surface.axis == axis)

"""A solved level in, whether a tape can be drawn straight from one place on its plan to another out.

The framing and boards are cut at the height where the tape is held; a line that runs through one of these outlines is
not clear. Doors and covers open, so they count for nothing.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from bookgen.model.geometry import Circle, Outline, Polygon, Solid, distance_squared, root_above
from bookgen.model.solved import Solved, SolvedLevel, SolvedRoom
from bookgen.model.ties import PlanDot, Side

LOWEST = Fraction(6)  # inches over the floor: a tape to something in the floor is held over the baseboard, and plumbed
HIGHEST = Fraction(60)  # inches over the floor: to something overhead it is held at the shoulder, and plumbed
OPENING_ROLES = frozenset({"door", "cover", "register", "light"})
AT_THE_MARK = Fraction(1)  # inches: the tape's hook holds on to the corner itself
PROUD = Fraction(3)  # inches that a knob, plate or valve stands in front of the face it is in; common practice
IN_FRONT = Fraction(16)  # inches before the thing: its cover opens, and an arm reaches in; common practice


def in_the_way(solved: Solved, room: SolvedRoom) -> tuple[Solid, ...]:
    """Return the framing and board in *room* that a tape may meet, on the level's axes."""
    worked = [one.assembly for one in solved.obstacles if one.assembly is not None]
    low, high = solved.level.floor + LOWEST, solved.level.floor + HIGHEST
    found: list[Solid] = []
    for assembly in (*worked, *solved.level.linings):
        for part in assembly.parts:
            bounds = part.solid.bounds()  # every frame is upright, so heights need no turning
            if part.role not in OPENING_ROLES and bounds.low.z <= high and low < bounds.high.z:
                solid = assembly.frame.solid_to_level(part.solid)
                box = solid.bounds()
                if _in_box(((box.low.x, box.low.y), (box.high.x, box.high.y)), room.outline.bounds()):
                    found.append(solid)
    return tuple(found)


def footprints(solids: tuple[Solid, ...], level: SolvedLevel, height: Fraction) -> tuple[Polygon, ...]:
    """Return the outlines of *solids* that a tape meets, held as near *height* above the slab as people can."""
    held = min(max(height, level.floor + LOWEST), level.floor + HIGHEST)
    return tuple(
        _polygon(cut)
        for solid in solids
        if solid.bounds().low.z <= held < solid.bounds().high.z
        for cut in solid.cut("z", held)
    )


def taped_from(mark: PlanDot, at: PlanDot, room: SolvedRoom, walls: tuple[Polygon, ...]) -> bool:
    """Tell whether a tape runs straight from *mark* to the thing *at* a place that is reached from *room*.

    Both have to be of that room: a tape through a doorway is seldom straight. The thing may be up to 16 in behind a
    face of the room; the tape then ends at that face. The last 16 in before it are taken as free.
    """
    end = onto_room(at, room)
    if _square(end, at) > IN_FRONT**2 or distance_squared(room.outline, mark) > AT_THE_MARK**2:
        return False
    length = root_above(_square(mark, end))
    if length <= AT_THE_MARK + IN_FRONT:
        return True
    stretch = (_between(mark, end, AT_THE_MARK / length), _between(mark, end, 1 - IN_FRONT / length))
    return not any(_runs_through(wall, *stretch) for wall in walls)


def onto_room(at: PlanDot, room: SolvedRoom) -> PlanDot:
    """Return the point of a room's floor that is nearest to *at*: itself, where it is in the room."""
    if distance_squared(room.outline, at) == 0:
        return at
    return min((_nearest(at, start, end) for start, end in _edges(room.outline)), key=lambda on: _square(at, on))


def face_in(at: PlanDot, room: SolvedRoom) -> Side | None:
    """Return the side of *room* whose face something is in: behind it, or no more than 3 in in front of it.

    None away from walls, at a wall that runs neither north nor east, and where two faces are equally near.
    """
    (square, start, end), (next_square, _, _) = sorted(
        (_square(at, _nearest(at, start, end)), start, end) for start, end in _edges(room.outline)
    )[:2]
    deepest = IN_FRONT if distance_squared(room.outline, at) else PROUD
    if square > deepest**2 or square == next_square or (start[0] != end[0] and start[1] != end[1]):
        return None
    (low_east, low_north), (high_east, high_north) = room.outline.bounds()
    if start[0] == end[0]:
        return "west" if 2 * start[0] < low_east + high_east else "east"
    return "south" if 2 * start[1] < low_north + high_north else "north"


def _in_box(one: tuple[PlanDot, PlanDot], other: tuple[PlanDot, PlanDot]) -> bool:
    return all(one[0][n] < other[1][n] and other[0][n] < one[1][n] for n in (0, 1))


def _runs_through(wall: Polygon, start: PlanDot, end: PlanDot) -> bool:
    """Tell whether a stretch lies inside an outline anywhere; along its edge is not inside."""
    low, high = wall.bounds()
    if any(max(start[n], end[n]) <= low[n] or min(start[n], end[n]) >= high[n] for n in (0, 1)):
        return False
    shares = {share for edge in _edges(wall) for share in _crossing(start, end, edge) if 0 < share < 1}
    stops = sorted({Fraction(0), *shares, Fraction(1)})
    return any(_strictly_inside(wall, _between(start, end, (one + two) / 2)) for one, two in pairwise(stops))


def _crossing(start: PlanDot, end: PlanDot, edge: tuple[PlanDot, PlanDot]) -> tuple[Fraction, ...]:
    """Return where along a line it meets an edge; nothing where they are parallel."""
    (ax, ay), (bx, by) = edge
    way, side = (end[0] - start[0], end[1] - start[1]), (bx - ax, by - ay)
    turn = way[0] * side[1] - way[1] * side[0]
    if turn == 0:
        return ()
    off = (ax - start[0], ay - start[1])
    along_edge = (off[0] * way[1] - off[1] * way[0]) / turn
    return ((off[0] * side[1] - off[1] * side[0]) / turn,) if 0 <= along_edge <= 1 else ()


def _strictly_inside(polygon: Polygon, point: PlanDot) -> bool:
    if any(_square(point, _nearest(point, *edge)) == 0 for edge in _edges(polygon)):
        return False
    return distance_squared(polygon, point) == 0


def _edges(polygon: Polygon) -> tuple[tuple[PlanDot, PlanDot], ...]:
    return tuple(zip(polygon.corners, polygon.corners[1:] + polygon.corners[:1], strict=True))


def _nearest(point: PlanDot, start: PlanDot, end: PlanDot) -> PlanDot:
    way, off = (end[0] - start[0], end[1] - start[1]), (point[0] - start[0], point[1] - start[1])
    square = way[0] ** 2 + way[1] ** 2
    share = (off[0] * way[0] + off[1] * way[1]) / square if square else Fraction(0)
    return _between(start, end, max(Fraction(0), min(Fraction(1), share)))


def _between(start: PlanDot, end: PlanDot, share: Fraction) -> PlanDot:
    return (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))


def _square(one: PlanDot, two: PlanDot) -> Fraction:
    return (one[0] - two[0]) ** 2 + (one[1] - two[1]) ** 2


def _polygon(outline: Outline) -> Polygon:
    """Return an outline as corners; a round one as the square round it."""
    if isinstance(outline, Circle):
        (u1, v1), (u2, v2) = outline.bounds()
        return Polygon(((u1, v1), (u2, v1), (u2, v2), (u1, v2)))
    return outline

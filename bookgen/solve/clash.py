"""Parts and hidden things in, those that share volume out, the deepest overlap of each pair of kinds first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from bookgen.model.assembly import HiddenThing, Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import AXES, Axis, Box, Point, Polygon, Prism, Rod, Solid
from bookgen.model.meeting import meet
from bookgen.solve.crowd import crowd

FloatBox = tuple[float, float, float, float, float, float]
LEAN = Fraction(1, 8)  # inches that the end of a sloping pipe leans past its station without being felt
ROUNDING = 1e-6  # inches added to every side of a rough box, so that a rough miss is a true miss


@dataclass(frozen=True, slots=True)
class Clash:
    """A part inside a hidden thing's room, and how deep: the least way to move it clear, in inches."""

    part: Part
    thing: HiddenThing
    depth: Fraction


def clashes(parts: Iterable[Part], things: Iterable[HiddenThing]) -> tuple[Clash, ...]:
    """Return, for each thing and each role of part, the deepest clash.

    A cable does not clash: it is drawn where it was seen and is moved, or goes through a hole.
    """
    row = tuple(parts)
    boxes = crowd(part.solid.bounds() for part in row)
    worst: dict[tuple[str, str], Clash] = {}
    for thing in things:
        if thing.material is Material.CABLE:
            continue
        for solid in thing.solids:
            room = solid.bounds().grown(thing.clearance)
            other = grown(solid, thing.clearance) if thing.clearance else solid
            for part in (row[number] for number in boxes.near(room)):
                if not meet(part.solid, other) or (not thing.clearance and _leans(solid, part)):
                    continue
                clash = Clash(part, thing, _depth(part.solid.bounds(), room))
                key = (thing.key, part.role)
                if key not in worst or worst[key].depth < clash.depth:
                    worst[key] = clash
    return tuple(sorted(worst.values(), key=lambda clash: (clash.thing.key, -clash.depth, clash.part.name)))


def _leans(solid: Solid, part: Part) -> bool:
    room = part.solid.bounds()
    return any(
        stops_short(solid, axis, at, way)
        for axis in AXES
        for at, way in ((room.low.on(axis), 1), (room.high.on(axis), -1))
    )


def stops_short(solid: Solid, axis: Axis, at: Fraction, way: int) -> bool:
    """Tell whether a sloping pipe ends at or before a plane across *axis*, which only its leaning end reaches beyond.

    *way* is the side that the plane is on, +1 or -1.
    """
    if not isinstance(solid, Rod) or solid.runs() is not None:
        return False
    reach = (solid.bounds().high if way > 0 else solid.bounds().low).on(axis)
    end = max(way * solid.start.on(axis), way * solid.end.on(axis))
    return end <= way * at and way * reach - way * at < LEAN


def parts_that_meet(parts: Iterable[Part]) -> Iterator[tuple[Part, Part]]:
    """Yield each two parts that share volume."""
    rows = sorted(((rough(part.solid.bounds()), part) for part in parts), key=lambda row: row[0])
    for index, (box, part) in enumerate(rows):
        for other_box, other in rows[index + 1 :]:
            if other_box[0] >= box[3]:
                break
            if not apart(box, other_box) and meet(part.solid, other.solid):
                yield part, other


def rough(box: Box) -> FloatBox:
    """Return a box in floats, never smaller than the exact one: low x, y, z, then high x, y, z."""
    low, high = box.low, box.high
    return (
        float(low.x) - ROUNDING,
        float(low.y) - ROUNDING,
        float(low.z) - ROUNDING,
        float(high.x) + ROUNDING,
        float(high.y) + ROUNDING,
        float(high.z) + ROUNDING,
    )


def apart(first: FloatBox, second: FloatBox) -> bool:
    """Tell whether two rough boxes surely have nothing in common."""
    return (
        first[0] >= second[3]
        or second[0] >= first[3]
        or first[1] >= second[4]
        or second[1] >= first[4]
        or first[2] >= second[5]
        or second[2] >= first[5]
    )


def grown(solid: Solid, by: Fraction) -> Solid:
    """Return a solid with the free space round it: a rod gets thicker and longer, a prism becomes its box, grown."""
    if isinstance(solid, Rod):
        way = solid.end.minus(solid.start)
        if sum(1 for axis in AXES if way.on(axis)) == 1:
            axis = next(axis for axis in AXES if way.on(axis))
            step = by if way.on(axis) > 0 else -by
            shift = Point(*(step if a == axis else Fraction(0) for a in AXES))
            start = Point(solid.start.x - shift.x, solid.start.y - shift.y, solid.start.z - shift.z)
            end = Point(solid.end.x + shift.x, solid.end.y + shift.y, solid.end.z + shift.z)
            return Rod(start, end, solid.radius + by)
        return Rod(solid.start, solid.end, solid.radius + by)
    room = solid.bounds().grown(by)
    corners = (
        (room.low.x, room.low.y),
        (room.high.x, room.low.y),
        (room.high.x, room.high.y),
        (room.low.x, room.high.y),
    )
    return Prism(Polygon(corners), "z", room.low.z, room.high.z)


def _depth(first: Box, second: Box) -> Fraction:
    return min(min(first.high.on(a), second.high.on(a)) - max(first.low.on(a), second.low.on(a)) for a in AXES)

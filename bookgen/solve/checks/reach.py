"""What a person has to reach in; whether board or framing shuts it in, and whether its cover opens onto it, out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import SOFFITS
from bookgen.model.geometry import AXES, Axis, Box, Point
from bookgen.model.problem import Problem
from bookgen.model.project import ObstacleFile, Step
from bookgen.model.records.obstacle import AccessPoint
from bookgen.solve.checks.sight import Reached, SeenFace, SeenThing, Sight
from bookgen.solve.positions import Spot, ground, locate

# Which treatments are closed all round, so that what is in them can't be reached from the room?
CLOSED = SOFFITS | {"chase", "post wrap"}
DEEPEST = Fraction(16)  # inches behind a face that still belong to it
NEAR = Fraction(3)  # inches: an access point this near a thing is the thing's own
BOX = "box"
CLEANOUT = "cleanout"
VALVE = "valve"


def with_access(sight: Sight) -> Sight:
    """Return the sight with its access points, and what bars the way to each."""
    closed = replace(sight, shut=_enclosures(sight))
    return replace(closed, access=tuple(_reached(closed)))


def _reached(sight: Sight) -> Iterator[Reached]:
    spots = {(spot.obstacle, spot.tag): spot.at for one in sight.obstacles for spot in one.access}
    for file in sight.project.obstacles:
        for index, point in enumerate(file.record.access):
            at = spots[file.key, point.tag]
            place = sight.project.places.of(file.file, "access", index)
            yield Reached(file, point, at, place, _barred(sight, file, (index, point), at))


def _enclosures(sight: Sight) -> tuple[tuple[str, Box], ...]:
    """Return the box round each treatment that is closed all round, with its name."""
    found: dict[str, tuple[str, Box]] = {}
    for seen in sight.parts:
        if seen.assembly is not None and seen.assembly.treatment in CLOSED:
            key = seen.assembly.key
            whole = found[key][1].joined(seen.box) if key in found else seen.box
            found[key] = (sight.say("the {title}", title=sight.title(seen.assembly)), whole)
    return tuple(found.values())


def shut_in_by(sight: Sight, at: Point) -> str:
    """Return what closes in a point of the level: a soffit or chase, a ceiling or a boarded wall; "" for nothing."""
    for name, box in sight.shut:
        if all(box.low.on(axis) < at.on(axis) < box.high.on(axis) for axis in AXES):
            return name
    for face in sight.faces:
        depth = face.depth(at)
        if depth is not None and 0 < depth <= _thickness(sight, face):
            return sight.say("the board of the {face}", face=sight.tongue.name(face.face.name))
    for room in sight.rooms:
        over = room.ceiling is not None and at.z > sight.level.floor + room.ceiling.inches
        if over and at.z < sight.level.joists + sight.level.joist_depth and sight.holds(room, (at.x, at.y)):
            return sight.say("the ceiling of the {room}", room=room.name)
    return ""


def way_to(sight: Sight, one: Reached) -> str:
    """Return what is in the way of an access point, or that nothing is, in words."""
    return one.barred or sight.say("no board or framing of the plan is between it and a hand")


def face_before(sight: Sight, at: Point) -> tuple[SeenFace, Fraction] | None:
    """Return the nearest face in front of a point, with how deep behind it the point lies; None for none near."""
    found = [
        (depth, number)
        for number, face in enumerate(sight.faces)
        if (depth := face.depth(at)) is not None and 0 <= depth <= DEEPEST
    ]
    return (sight.faces[min(found)[1]], min(found)[0]) if found else None


def access_to(seen: SeenThing, points: tuple[Reached, ...]) -> Reached | None:
    """Return the access point of a hidden thing: the one that lies in it or right beside it."""
    whole = seen.box.grown(NEAR)
    for one in points:
        if all(whole.low.on(axis) <= one.at.on(axis) <= whole.high.on(axis) for axis in AXES):
            return one
    return None


def middle(seen: SeenThing) -> Point:
    """Return the middle of a hidden thing."""
    box = seen.box
    return Point((box.low.x + box.high.x) / 2, (box.low.y + box.high.y) / 2, (box.low.z + box.high.z) / 2)


def cover_spot(sight: Sight, file: ObstacleFile, index: int, point: AccessPoint) -> Spot | None:
    """Return where the cover of an access point is; None where its record does not say it apart."""
    if point.cover.at is None:
        return None
    path: tuple[Step, ...] = ("access", index, "cover", "at")
    spot = locate(point.cover.at, ground(sight.project, file, sight.level), path)
    return None if isinstance(spot, Problem) else spot


def opening(spot: Spot, point: AccessPoint, axis: Axis) -> tuple[Fraction, Fraction]:
    """Return the stretch of a cover's opening on an axis: as written, or its size round its middle."""
    low, high = spot.on(axis)
    if low < high or point.cover.size is None:
        return low, high
    size = point.cover.size.high if axis == "z" else point.cover.size.wide
    return low - size.inches / 2, high + size.inches / 2


def _barred(sight: Sight, file: ObstacleFile, numbered: tuple[int, AccessPoint], at: Point) -> str:
    index, point = numbered
    by = shut_in_by(sight, at)
    if not by:
        return ""
    if point.cover.kind in {"none", "room door"}:
        return sight.say("it is behind {by}, and nothing opens onto it", by=by)
    spot = cover_spot(sight, file, index, point)
    if spot is None:
        return ""  # the cover is at the thing itself
    away = sight.say("it is behind {by}, and its cover does not open onto it", by=by)
    inside = [axis for axis in AXES if (o := opening(spot, point, axis))[0] <= at.on(axis) <= o[1]]
    flat = [axis for axis in AXES if axis not in spot.stretched()]
    if len(flat) == 1 and not all(axis in inside for axis in AXES if axis not in flat):
        return away
    return "" if len(inside) >= 2 else away


def _thickness(sight: Sight, face: SeenFace) -> Fraction:
    """Return how far behind a wall's face something is still inside the wall; 0 for the faces of treatments."""
    key = face.assembly.key
    if key.startswith("lining-"):
        return sight.level.wall_face
    wall = sight.project.record.partitions.get(key.removeprefix("partition-"))
    if wall is not None:
        return wall.thick.size().inches + sight.level.wall_board
    if face.assembly.treatment == "furring" and face.axis == "z":
        return sight.level.joist_depth + sight.level.joists - face.at
    return Fraction(0)

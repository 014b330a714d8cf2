"""The joists of the shell and what is hidden in, the joists as they are cut for headers and the stair's well out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import HiddenThing, Material, Part
from bookgen.model.geometry import Axis, Box, Prism
from bookgen.model.project import Project
from bookgen.model.records.treatments import StairOpening
from bookgen.model.solved import SolvedLevel
from bookgen.solve.choices import chosen
from bookgen.solve.framing import Stretch
from bookgen.solve.positions import run_frame

SHORTEST = Fraction(3)  # inches of joist between two headers that are worth a piece


def headed(project: Project, level: SolvedLevel, things: Iterable[HiddenThing]) -> tuple[Part, ...]:
    """Return the shell with each joist cut where a header crosses it.

    A piece that hangs over the stair, or over a pipe or duct that goes up there, has been taken away.
    """
    things = tuple(things)
    headers = [
        room
        for thing in things
        if thing.system == "structure"
        for solid in thing.solids
        if (room := solid.bounds()).high.z > level.joists
    ]
    through = [
        room
        for thing in things
        if thing.system != "structure" and thing.material is not Material.CABLE
        for solid in thing.solids
        if (room := solid.bounds()).high.z >= level.joists
    ]
    wells = stair_wells(project, level)
    parts: list[Part] = []
    for part in level.shell:
        parts += _cut(part, headers, through, wells) if part.role == "joist" else (part,)
    return tuple(parts)


def stair_wells(project: Project, level: SolvedLevel) -> list[tuple[Stretch, Stretch]]:
    """Return the plan of each stair: east and west, north and south."""
    found = []
    for file in project.obstacles:
        pick, run = chosen(file.record), file.record.run
        if pick is not None and run is not None and isinstance(pick.choices, StairOpening):
            along = (run.from_.inches, run.to.inches)
            stair = (pick.choices.stair.low.inches, pick.choices.stair.high.inches)
            frame = run_frame(run, level)
            found.append((along, stair) if frame.along == "x" else (stair, along))
    return found


def _cut(joist: Part, headers: list[Box], through: list[Box], wells: list[tuple[Stretch, Stretch]]) -> tuple[Part, ...]:
    solid, room = joist.solid, joist.solid.bounds()
    crossing = [box for box in headers if box.overlaps(room)]
    if not isinstance(solid, Prism) or not crossing:
        return (joist,)
    axis = solid.axis
    start, pieces = solid.start, []
    for low, high in sorted((box.low.on(axis), box.high.on(axis)) for box in crossing):
        pieces.append((start, low))
        start = max(start, high)
    pieces.append((start, solid.end))
    left = [replace(solid, start=low, end=high) for low, high in pieces if high - low >= SHORTEST]
    kept = [one for one in left if not any(_under(one, room) for room in through) and not _over(one, axis, wells)]
    if len(kept) == 1:
        return (replace(joist, solid=kept[0]),)
    return tuple(replace(joist, name=f"{joist.name}, piece {n}", solid=one) for n, one in enumerate(kept, 1))


def _under(piece: Prism, room: Box) -> bool:
    """Tell whether something that reaches the joists stands under a piece, so that the piece is in its way up."""
    own = piece.bounds()
    return room.low.x < own.high.x and own.low.x < room.high.x and room.low.y < own.high.y and own.low.y < room.high.y


def _over(piece: Prism, axis: Axis, wells: list[tuple[Stretch, Stretch]]) -> bool:
    """Tell whether the middle of a piece lies over a stair."""
    room = piece.bounds()
    across: Axis = "y" if axis == "x" else "x"
    middle = {axis: (piece.start + piece.end) / 2, across: (room.low.on(across) + room.high.on(across)) / 2}
    return any(x[0] <= middle["x"] <= x[1] and y[0] <= middle["y"] <= y[1] for x, y in wells)

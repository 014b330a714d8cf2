"""The access points of a record in, each placed on the level out."""

from __future__ import annotations

from bookgen.model.length import Length
from bookgen.model.problem import Problem
from bookgen.model.solved import AccessSpot
from bookgen.solve.positions import Ground, locate


def access_spots(on: Ground) -> tuple[tuple[AccessSpot, ...], tuple[Problem, ...]]:
    """Return where each access point is; one that can't be placed has its Problem, as `locate` says."""
    spots: list[AccessSpot] = []
    problems: list[Problem] = []
    for index, point in enumerate(on.file.record.access):
        spot = locate(point.at, on, ("access", index, "at"))
        if isinstance(spot, Problem):
            problems.append(spot)
            continue
        middle = spot.middle()
        spots.append(AccessSpot(point.tag, on.file.key, middle, Length(middle.z - on.level.floor)))
    return tuple(spots), tuple(problems)

"""A small invented level for tests: records as plain mappings in, the solved level or its problems out."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from bookgen.model.assembly import Assembly, HiddenThing
from bookgen.model.problem import Problem
from bookgen.model.project import ObstacleFile, Places, Project
from bookgen.model.records import Obstacle
from bookgen.model.records import Project as ProjectRecord
from bookgen.model.solved import Solved
from bookgen.solve import solve
from bookgen.solve.choices import chosen
from bookgen.solve.hidden import hidden_things
from bookgen.solve.level import solve_level
from bookgen.solve.positions import Ground, ground
from bookgen.solve.site import Site, moved
from bookgen.solve.treatments import TREATMENTS
from tests.solve.house import LEVEL, ROOMS

MEASURED = {"how": "measured", "on": "2026-03-10"}
DRAIN = {
    "what": "Main drain", "pipe": "3 in PVC drain", "system": "waste", "known": MEASURED, "couplings": ["128 in"],
    "at": {"along": "40 in to 192 in", "off the block": "7 in", "above slab": "82 in",
           "rises": "1/4 in per ft to the east"},
}  # fmt: skip
SUPPLY = {
    "what": "Supply duct", "duct": "20 x 8", "system": "air", "known": MEASURED,
    "at": {"east": "60 in to 316 in", "north": "84 in to 104 in", "above slab": "80.5 in to 88.5 in"},
}  # fmt: skip
BEAM = {
    "what": "Steel beam", "body": {"wide": "432 in", "deep": "4 in", "high": "8 in"}, "system": "structure",
    "known": MEASURED,
    "at": {"east": "0 in to 432 in", "north": "142 in to 146 in", "above slab": "81.5 in to 89.5 in"},
}  # fmt: skip
P1 = {
    "P1": {"stud": "2x4", "runs": "north", "thick": "204 in to 207.5 in", "along": "4.1 in to 283.9 in"}
}  # fmt: skip


def record(inside: list[dict[str, Any]], treatment: dict[str, Any] | None, **more: Any) -> ObstacleFile:
    """Return an obstacle record; *more* adds or replaces keys, with _ for a blank."""
    fields: dict[str, Any] = {
        "obstacle": "Thing", "kind": "drain", "room": "family", "sentence": "Something.", "known": MEASURED,
        "inside": inside, "run": {"along": "north wall", "from": "40 in", "to": "192 in"},
    }  # fmt: skip
    if treatment is not None:
        fields["treatment"] = treatment
    fields |= {key.replace("_", " "): value for key, value in more.items()}
    return ObstacleFile("one", "obstacles/one.yaml", Obstacle.model_validate_json(json.dumps(fields)))


def project(*files: ObstacleFile, **more: Any) -> Project:
    """Return a project on the small level; *more* replaces keys of its record."""
    fields = {
        "project": "Test", "book": {"title": "Test", "subtitle": "Test", "date": "2026-06-15"},
        "house": {"kind": "ranch", "built": "1984"}, "private": {"owner": "Nobody", "address": "Nowhere"},
        "codes": {"authority": "Pell Harbor", "building": "IRC 2021", "electrical": "NEC 2023"},
        "work": {"started": "2026-03-09"}, "level": LEVEL, "rooms": ROOMS,
    }  # fmt: skip
    read = ProjectRecord.model_validate_json(json.dumps(fields | more))
    return Project(Path("test"), "test", read, files, {}, {}, Places({}))


def solved(*files: ObstacleFile, **more: Any) -> Solved:
    """Return the solved level; problems fail the test."""
    found, problems = solve(project(*files, **more))
    assert found is not None, [str(problem) for problem in problems]
    return found


def solved_one(file: ObstacleFile, **more: Any) -> tuple[Assembly, tuple[HiddenThing, ...]]:
    """Return the treatment of one record in its run's frame, and what it hides there, without walls round it."""
    on = on_ground(file, **more)
    things, problems = hidden_things(on)
    pick, run = chosen(file.record), file.record.run
    assert not problems
    assert on.frame is not None
    assert pick is not None
    assert run is not None
    inside = tuple(moved(thing, on.frame) for thing in things)
    where = Site(on.project, file, on.level, on.frame, (run.from_.inches, run.to.inches), inside, ())
    found, problems = dict(TREATMENTS)[pick.name](where, pick.choices)
    assert found is not None, [str(problem) for problem in problems]
    return found, inside


def codes(*files: ObstacleFile, **more: Any) -> list[str]:
    """Return the codes of the problems met."""
    _, problems = solve(project(*files, **more))
    return [problem.code for problem in problems]


def on_ground(file: ObstacleFile, **more: Any) -> Ground:
    """Return what a record's positions are measured on; *more* replaces keys of the project."""
    whole = project(file, **more)
    level, problems = solve_level(whole)
    assert level is not None, problems
    return ground(whole, file, level)


def hidden(*inside: dict[str, Any], **more: Any) -> tuple[Any, tuple[Problem, ...]]:
    """Return the hidden things of one record and their problems."""
    return hidden_things(on_ground(record(list(inside), None, **more)))

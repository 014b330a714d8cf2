"""A small invented level for the tests of the walls: records as mappings in, a Site out."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from bookgen.model.assembly import Assembly, HiddenThing, Material
from bookgen.model.geometry import ACROSS, Box, Prism, Rod, Solid
from bookgen.model.meeting import meet
from bookgen.model.place import Place
from bookgen.model.problem import Problem
from bookgen.model.project import ObstacleFile, Places, Project
from bookgen.model.records import Obstacle
from bookgen.model.records import Project as ProjectRecord
from bookgen.model.records.inside import Known
from bookgen.model.solved import SolvedLevel
from bookgen.solve.level import solve_level
from bookgen.solve.positions import run_frame
from bookgen.solve.site import Site

FILE = "obstacles/one.yaml"
KNOWN = {"how": "assumed"}

LEVEL: dict[str, Any] = {
    "name": "Lower level",
    "inside of block": {"east west": "432 in", "north south": "288 in"},
    "joists": {
        "size": "2x10", "spacing": "16 in", "run": "north", "underside": "89.5 in above slab", "first": "8 in",
    },
    "wall lining": {"stud": "2x4", "back": "0.6 in off the block", "spacing": "16 in", "board": "1/2 in"},
    "finishes": {"floor": "plank", "floor thick": "0.3 in", "ceiling board": "1/2 in", "wall board": "1/2 in"},
}  # fmt: skip
FAMILY = [["4.6 in", "4.6 in"], ["203.5 in", "4.6 in"], ["203.5 in", "283.4 in"], ["4.6 in", "283.4 in"]]
GUEST = [["208 in", "146.25 in"], ["427.4 in", "146.25 in"], ["427.4 in", "283.4 in"], ["208 in", "283.4 in"]]
PLANT = [["304 in", "4.6 in"], ["427.4 in", "4.6 in"], ["427.4 in", "141.75 in"], ["304 in", "141.75 in"]]
ROOMS = {
    "family": {"name": "Family room", "use": "living", "outline": FAMILY},
    "guest": {"name": "Guest room", "use": "sleeping", "outline": GUEST, "ceiling": "87.5 in above slab"},
    "mechanical": {"name": "Mechanical room", "use": "utility", "outline": PLANT},
}


def project(*records: ObstacleFile, **more: Any) -> Project:
    """Return a project with the small level; *more* replaces keys of its record."""
    record = {
        "project": "Test", "book": {"title": "Test", "subtitle": "Test", "date": "2026-06-15"},
        "house": {"kind": "ranch", "built": "1984"}, "private": {"owner": "Nobody", "address": "Nowhere"},
        "codes": {"authority": "Pell Harbor", "building": "IRC 2021", "electrical": "NEC 2023"},
        "work": {"started": "2026-03-09"}, "level": LEVEL, "rooms": ROOMS,
    }  # fmt: skip
    read = ProjectRecord.model_validate_json(json.dumps(record | more))
    return Project(Path("test"), "test", read, records, {}, {}, Places({}))


def level(of: Project) -> SolvedLevel:
    """Return the solved level without its linings."""
    solved, problems = solve_level(of)
    assert solved is not None, problems
    return solved


def record(run: Mapping[str, str], treatment: Mapping[str, Any], key: str = "one", **more: Any) -> ObstacleFile:
    """Return an obstacle record with one treatment."""
    fields = {
        "obstacle": "Thing", "kind": "hidden work", "room": "family", "sentence": "Something.", "run": dict(run),
        "treatment": dict(treatment), "known": KNOWN,
    }  # fmt: skip
    return ObstacleFile(key, FILE, Obstacle.model_validate_json(json.dumps(fields | more)))


def site(file: ObstacleFile, *hidden: HiddenThing, **more: Any) -> Site:
    """Return the site of one record; *hidden* are given in the run's frame."""
    whole = project(file, **more)
    solved = level(whole)
    run = file.record.run
    assert run is not None
    return Site(whole, file, solved, run_frame(run, solved), (run.from_.inches, run.to.inches), hidden, ())


def thing(what: str, *solids: Solid, clearance: str = "0", material: Material = Material.STEEL) -> HiddenThing:
    """Return one hidden thing."""
    known, place = Known.model_validate(KNOWN), Place(FILE, 1, 1)
    return HiddenThing(f"one-{what}", what, "", "structure", solids, material, Fraction(clearance), known, place, False)


def span(low: str | int, high: str | int) -> tuple[Fraction, Fraction]:
    """Return a stretch of exact inches."""
    return Fraction(low), Fraction(high)


def clashes(assembly: Assembly) -> list[tuple[str, str]]:
    """Return the pairs of parts that share volume."""
    parts = sorted(assembly.parts, key=lambda p: p.solid.bounds().low.x)
    found = []
    for index, one in enumerate(parts):
        edge = one.solid.bounds().high.x
        for other in parts[index + 1 :]:
            if other.solid.bounds().low.x >= edge:
                break
            if meet(one.solid, other.solid):
                found.append((one.name, other.name))
    return found


def held(assembly: Assembly, things: tuple[HiddenThing, ...]) -> list[tuple[str, str]]:
    """Return the parts that enter the clearance of a hidden thing given in the run's frame."""
    return [
        (part.name, one.what)
        for part in assembly.parts
        for one in things
        for solid in one.solids
        if _near(part.solid, solid, one.clearance)
    ]


def _near(part: Solid, solid: Solid, clearance: Fraction) -> bool:
    if clearance:
        return part.bounds().overlaps(solid.bounds().grown(clearance))
    return meet(part, solid)


def measures_hold(assembly: Assembly) -> bool:
    """Tell whether every measure is the distance between its anchors along its axis."""
    return all(
        m.value.inches == abs(assembly.anchors[m.end].on(m.axis) - assembly.anchors[m.start].on(m.axis))
        for m in assembly.measures
    )


def roles(assembly: Assembly) -> dict[str, int]:
    """Return how many parts each role has."""
    found: dict[str, int] = {}
    for part in assembly.parts:
        found[part.role] = found.get(part.role, 0) + 1
    return found


def loose_boards(assembly: Assembly, spacing: Fraction) -> list[str]:
    """Return the boards with a bay wider than *spacing* behind them, or an edge further than a stud from wood.

    Only bays along the board are looked at; boards narrower than a bay between two members are held by their edges.
    """
    wood = [part.solid.bounds() for part in assembly.parts if part.role != "board"]
    return [p.name for p in assembly.parts if p.role == "board" and _loose(p.solid, wood, spacing)]


def _loose(solid: Solid, wood: list[Box], spacing: Fraction) -> bool:
    assert isinstance(solid, Prism)
    along, board = ACROSS[solid.axis][0], solid.bounds()
    behind = sorted((b.low.on(along), b.high.on(along)) for b in wood if _touches(b, board, solid))
    reached = board.low.on(along)
    for low, high in behind:
        if low - reached > spacing:
            return True
        reached = max(reached, high)
    return board.high.on(along) - reached > spacing


def _touches(wood: Box, board: Box, solid: Prism) -> bool:
    axis = solid.axis
    side = wood.high.on(axis) == board.low.on(axis) or wood.low.on(axis) == board.high.on(axis)
    return side and all(wood.low.on(a) <= board.high.on(a) and board.low.on(a) <= wood.high.on(a) for a in ACROSS[axis])


def off_size(assembly: Assembly) -> list[str]:
    """Return the sticks whose section across the grain is not the true size of their stock, PS 20 dry."""
    found = []
    for part in assembly.parts:
        size = DRY.get(part.stock.removesuffix(" treated"))
        if size is None or isinstance(part.solid, Rod) or part.role == "sole":
            continue
        (u1, v1), (u2, v2) = part.solid.profile.bounds()
        if part.solid.profile.area() == (u2 - u1) * (v2 - v1) and sorted((u2 - u1, v2 - v1)) != list(size):
            found.append(part.name)
    return found


# American Softwood Lumber Standard PS 20-20, table 3: dry, dressed sizes
DRY = {
    "2x2": (Fraction(3, 2), Fraction(3, 2)),
    "2x4": (Fraction(3, 2), Fraction(7, 2)),
    "2x6": (Fraction(3, 2), Fraction(11, 2)),
    "2x8": (Fraction(3, 2), Fraction(29, 4)),
    "4x4": (Fraction(7, 2), Fraction(7, 2)),
}


def codes(problems: Iterable[Problem]) -> list[str]:
    """Return the codes of problems."""
    return [problem.code for problem in problems]


def inches_between(low: str | int, high: str | int, parts: int = 16) -> st.SearchStrategy[Fraction]:
    """Draw a length on the marks of a tape, or on thirds of them: records may be metric."""
    first, last = Fraction(low), Fraction(high)
    return st.integers(0, int((last - first) * parts)).map(lambda n: first + Fraction(n, parts))


def text(value: Fraction) -> str:
    """Return an exact length as a record writes it."""
    return f"{value.numerator}/{value.denominator} in" if value.denominator > 1 else f"{value.numerator} in"

"""The windows of a project in; the wells outside them as solids of the shell, and what can't be so as Problems, out."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import Material, Part
from bookgen.model.geometry import Point, box
from bookgen.model.problem import Problem, said
from bookgen.model.project import PROJECT_FILE, Project, Step
from bookgen.model.records.project import Well, Window
from bookgen.model.solved import SolvedLevel
from bookgen.solve.framing import Stretch
from bookgen.solve.site import height_above_slab, wall_frame

STEEL = Fraction(1, 4)  # inches of corrugated steel, drawn; makers' wells are thinner, and deeper in their waves


def well_parts(project: Project, level: SolvedLevel, block: Fraction) -> Iterator[Part]:
    """Yield the three sides and the floor of each well, on the level's axes; *block* is how thick the house wall is."""
    for key, window in project.record.windows.items():
        if window.well is not None:
            yield from _sides(level, key, window, window.well, block)


def _sides(level: SolvedLevel, key: str, window: Window, well: Well, block: Fraction) -> Iterator[Part]:
    frame = wall_frame(window.wall, (level.east_west, level.north_south))
    middle = (window.along.low.inches + window.along.high.inches) / 2
    low, high = middle - well.wide.inches / 2, middle + well.wide.inches / 2
    near, far = -block, -block - well.out.inches
    foot, rim = height_above_slab(well.bottom, level), height_above_slab(well.top, level)
    rows: tuple[tuple[str, Stretch, Stretch, Stretch], ...] = (
        ("low side", (low - STEEL, low), (far, near), (foot, rim)),
        ("high side", (high, high + STEEL), (far, near), (foot, rim)),
        ("far side", (low - STEEL, high + STEEL), (far - STEEL, far), (foot, rim)),
    )
    for name, x, y, z in rows:
        one, other = frame.to_level(Point(x[0], y[0], z[0])), frame.to_level(Point(x[1], y[1], z[1]))
        xs, ys = sorted((one.x, other.x)), sorted((one.y, other.y))
        solid = box((xs[0], xs[1]), (ys[0], ys[1]), z, "z")
        yield Part(f"window well of {key}, {name}", "window well", solid, Material.STEEL, "")


def well_problems(project: Project, level: SolvedLevel) -> Iterator[Problem]:
    """Yield `well-past-window` and `well-upside-down` Problems: it lies before its window, its floor under the sill."""
    for key, window in project.record.windows.items():
        well = window.well
        if well is None:
            continue
        path: tuple[Step, ...] = ("windows", key, "well")
        foot, rim = height_above_slab(well.bottom, level), height_above_slab(well.top, level)
        if well.wide < window.along.size():
            rule = f"its window is {project.tape.short(window.along.size())} wide"
            value = project.tape.short(well.wide)
            yield _problem(project, "well-past-window", (*path, "wide"), value, rule, "measure both again")
        if foot > height_above_slab(window.sill, level):
            rule = (
                f"the sill of its window is {project.tape.short(height_above_slab(window.sill, level))} above the slab"
            )
            repair = "measure its floor from the same mark as the sill"
            yield _problem(project, "well-past-window", (*path, "bottom"), project.tape.short(foot), rule, repair)
        if rim <= foot:
            rule, repair = f"its floor is at {project.tape.short(foot)}", "write the rim over the floor of the well"
            yield _problem(project, "well-upside-down", (*path, "top"), project.tape.short(rim), rule, repair)


def _problem(project: Project, code: str, path: tuple[Step, ...], value: str, rule: str, repair: str) -> Problem:
    return Problem(project.places.of(PROJECT_FILE, *path), code, said(path), value, rule, repair)

"""The hidden things of a record in, each as named solids on the level's axes out, with what is wrong about them."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from bookgen.model.assembly import HiddenThing, Material
from bookgen.model.geometry import Solid
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.inside import Hidden
from bookgen.solve.bodies import body_solids, is_wood, post_solids, station_solids
from bookgen.solve.ducts import duct_solids
from bookgen.solve.fitting_bodies import fitting_solids
from bookgen.solve.pipes import cable_solids, pipe_material, pipe_solids
from bookgen.solve.positions import Ground
from bookgen.solve.speech import tongue_of

Worked = tuple[Solid, ...] | Problem
# Which field gives the size, and what works the solids out from it?
MAKERS: tuple[tuple[str, Callable[[Hidden, Ground, tuple[Step, ...]], Worked]], ...] = (
    ("pipe", pipe_solids),
    ("duct", duct_solids),
    ("cable", cable_solids),
    ("post", post_solids),
    ("fitting", fitting_solids),
    ("body", body_solids),
    ("stations", station_solids),
)
# What is a thing of this system mostly made of, where its size does not say so?
MATERIALS = {
    "water": Material.STEEL,
    "waste": Material.PLASTIC,
    "gas": Material.STEEL,
    "power": Material.STEEL,
    "air": Material.SHEET,
    "data": Material.PANEL,
    "structure": Material.STEEL,
    "soil gas": Material.PLASTIC,
}


def hidden_things(on: Ground) -> tuple[tuple[HiddenThing, ...], tuple[Problem, ...]]:
    """Return the record's hidden things in order; one that can't be placed is left out and has its Problem.

    Problems come from `locate`, or are `unknown-size`, `no-length`, `size-disagrees`, `path-too-short`,
    `path-point-stretch`, `path-doubles`, `path-skew`, `rise-across`, `rise-disagrees`, `coupling-off-pipe`,
    `couplings-not-pipe`, `stations-too-few`, `station-twice`, `wall-missing`.
    """
    things: list[HiddenThing] = []
    problems: list[Problem] = []
    for index, hidden in enumerate(on.file.record.inside):
        path: tuple[Step, ...] = ("inside", index)
        field, make = next(row for row in MAKERS if getattr(hidden, row[0]))
        solids = _misplaced_couplings(hidden, on, path) or make(hidden, on, path)
        if isinstance(solids, Problem):
            problems.append(solids)
        else:
            things.append(_thing(hidden, on, index, field, solids))
    return tuple(things), tuple(problems)


def _misplaced_couplings(hidden: Hidden, on: Ground, path: tuple[Step, ...]) -> Problem | None:
    if not hidden.couplings or hidden.pipe:
        return None
    rule, repair = "only a pipe has couplings", "delete the line, or give the size as pipe:"
    return on.problem("couplings-not-pipe", (*path, "couplings"), "", rule, repair)


def _thing(hidden: Hidden, on: Ground, index: int, field: str, solids: tuple[Solid, ...]) -> HiddenThing:
    size = getattr(hidden, field)
    return HiddenThing(
        key=f"{on.file.key}-{index + 1}",
        what=hidden.what,
        trade=tongue_of(on.project).name(size) if isinstance(size, str) else "",
        system=hidden.system,
        solids=solids,
        material=_material(hidden, field),
        clearance=hidden.clearance.inches if hidden.clearance is not None else Fraction(0),
        known=hidden.known,
        place=on.project.places.of(on.file.file, "inside", index),
        share=hidden.share,
    )


def _material(hidden: Hidden, field: str) -> Material:
    if hidden.pipe:
        return pipe_material(hidden.pipe)
    if field == "duct":
        return Material.SHEET
    if field == "cable":
        return Material.CABLE
    if hidden.system == "structure" and is_wood(hidden):
        return Material.LUMBER
    return MATERIALS[hidden.system]

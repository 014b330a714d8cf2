"""What the records put between joists and against them in, batts and sheets over a plain ceiling out."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from bookgen.model.assembly import HiddenThing, Layer, Material, Part
from bookgen.model.geometry import Box, Prism, box
from bookgen.model.project import Project
from bookgen.model.solved import SolvedLevel
from bookgen.solve.cutout import Rectangle, cut_out
from bookgen.solve.framing import Stretch
from bookgen.solve.speech import say_of, tongue_of

LEAST = Fraction(3, 2)  # inches each way: a narrower rest of a bay is stuffed with what was cut off


def joist_batts(
    project: Project, level: SolvedLevel, pieces: Iterable[Rectangle], things: Iterable[HiddenThing]
) -> list[Part]:
    """Return what fills the bays over the *pieces* of a ceiling, as deep as the joists, round all that is in them."""
    name = project.record.level.joists.insulation
    if name is None:
        return []
    deep = level.joists, level.joists + level.joist_depth
    solids = [solid for thing in things if thing.material is not Material.CABLE for solid in thing.solids]
    boxes = [solid.bounds() for solid in (*(part.solid for part in level.shell), *solids)]
    taken = [_plan(one) for one in boxes if one.low.z < deep[1] and deep[0] < one.high.z]
    found: list[Part] = []
    for patch in (patch for piece in pieces for patch in cut_out(piece, taken)):
        if min(patch.u[1] - patch.u[0], patch.v[1] - patch.v[0]) >= LEAST:
            solid = box(patch.u, patch.v, deep, "z")
            found.append(Part(f"{name} {len(found) + 1}", "batt", solid, Material.INSULATION, ""))
    return found


def vapour_layers(project: Project, level: SolvedLevel, boards: Iterable[Part]) -> tuple[Layer, ...]:
    """Return the sheet between the joists and the *boards* of a ceiling, where the record has one."""
    name = project.record.level.joists.vapour_layer
    outlines = tuple(part.solid.profile for part in boards if isinstance(part.solid, Prism))
    return (Layer(name, "z", level.joists, outlines),) if name is not None and outlines else ()


def filling_remarks(project: Project, parts: Iterable[Part], layers: Iterable[Layer]) -> tuple[str, ...]:
    """Return what is said of a ceiling's insulation and of the sheet over its board, with their areas."""
    area = sum((p.solid.profile.area() for p in parts if p.role == "batt" and isinstance(p.solid, Prism)), Fraction(0))
    name, tape, say = project.record.level.joists.insulation, project.tape, say_of(project)
    said = (
        []
        if name is None or not area
        else [
            say(
                "Between the joists over it lies {name}, {area} of it.",
                name=name,
                area=tongue_of(project).name(tape.area(area)),
            )
        ]
    )
    said += [
        say(
            "Between joists and board lies {name}, {area} of it.",
            name=one.name,
            area=tongue_of(project).name(tape.area(one.area())),
        )
        for one in layers
    ]
    return tuple(said)


def _plan(one: Box) -> Rectangle:
    across: Stretch = one.low.x, one.high.x
    return Rectangle(across, (one.low.y, one.high.y))

"""The level plan in, its layers with their names out, in the order of a register."""

from __future__ import annotations

from bookgen.compose.show import Show
from bookgen.model.book import PlanLayer
from bookgen.model.sketch import Sketch

SYSTEMS = ("water", "waste", "gas", "power", "air", "data", "structure", "soil gas")
JOISTS = "joists"  # over everything: they show only when asked for


def plan_layers(plan: Sketch, show: Show) -> tuple[PlanLayer, ...]:
    """Return the plan with all systems, then a layer for each that it holds something of, and one for the joists."""
    there = [key for key in (*SYSTEMS, JOISTS) if key in plan.layers]
    systems = [key for key in there if key != JOISTS]
    layers = {"all": tuple(systems), **{key: (key,) for key in there}}
    return tuple(
        PlanLayer(key, show.terms[f"layer {key}"], plan.only(*shown, name=show.terms[f"layer {key}"].lower()))
        for key, shown in layers.items()
    )

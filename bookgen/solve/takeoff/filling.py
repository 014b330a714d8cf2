"""Assemblies in, how much of each insulation and of each sheet between framing and board they take out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from fractions import Fraction

from bookgen.model.assembly import Assembly
from bookgen.model.geometry import Prism
from bookgen.model.sheets import Quantity
from bookgen.trade.tables import Sure

SQUARE_INCHES_PER_SQUARE_FOOT = 144
BATTS = "measured between the members, as they are cut"
SHEET = "measured behind the board; laps come on top"


def filling(assemblies: Iterable[Assembly]) -> Iterator[Quantity]:
    """Yield the area of each, in square feet, by the name that the record gives it."""
    areas: dict[tuple[str, str], Fraction] = {}
    for assembly in assemblies:
        for part in assembly.parts:
            if part.role == "batt" and isinstance(part.solid, Prism):
                key = (re.sub(r" \d+$", "", part.name), BATTS)
                areas[key] = areas.get(key, Fraction(0)) + part.solid.profile.area()
        for layer in assembly.layers:
            key = (layer.name, SHEET)
            areas[key] = areas.get(key, Fraction(0)) + layer.area()
    for (name, source), area in areas.items():
        feet = area / SQUARE_INCHES_PER_SQUARE_FOOT
        yield Quantity(name, "sq ft", feet, feet, feet, source, Sure.COMPUTED.value)

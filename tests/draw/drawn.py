"""The houses of the drawing tests and all their sketches, each solved and drawn once a run."""

from __future__ import annotations

from functools import cache

from bookgen.draw import plan, sketches
from bookgen.model.sketch import Sketch
from bookgen.model.solved import Solved
from tests.draw.houses import odd_house
from tests.sample_house import sample_house

HOUSES = ("sample", "imperial", "metric", "both")


@cache
def house(name: str) -> Solved:
    """Return one of the houses: the sample, or the odd one in imperial, metric or both units."""
    if name != "sample":
        return odd_house(name)
    return sample_house()


@cache
def drawn_by_key(name: str) -> dict[str, tuple[Sketch, ...]]:
    """Return every sketch of a house by obstacle, its level plan under an empty key."""
    return by_key(house(name))


def by_key(solved: Solved) -> dict[str, tuple[Sketch, ...]]:
    """Return every sketch of a solved house by obstacle, its level plan under an empty key."""
    found, problems = sketches(solved)
    assert not problems
    return {**found, "": (plan(solved),)}


def every(found: dict[str, tuple[Sketch, ...]]) -> tuple[Sketch, ...]:
    """Return the sketches of a house in one row."""
    return tuple(sketch for views in found.values() for sketch in views)

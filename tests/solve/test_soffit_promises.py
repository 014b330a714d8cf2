"""Each promise of the soffits is broken on purpose, and seen to be broken: what guards the model can fail."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from bookgen.model.assembly import Assembly, HiddenThing, Part
from bookgen.model.geometry import Prism
from bookgen.solve.clash import clashes, parts_that_meet
from tests.solve.level_fixture import DRAIN, P1, record, solved_one
from tests.solve.soffit_promises import loose_edges, too_long_to_buy, wide_bays


@cache
def whole() -> tuple[Assembly, tuple[HiddenThing, ...]]:
    """Return a wall soffit with an open end, which keeps every promise."""
    at = {"along": "40 in to 140 in", "off the block": "7 in", "above slab": "82 in"}
    choices = {"outside": "30 in off the block", "framing bottom": "60 in above slab", "along": "4.1 in to 160 in"}
    return solved_one(record([DRAIN | {"at": at}], {"wall soffit": choices}), partitions=P1)


def without(*starts: str) -> Assembly:
    """Return the soffit without the parts whose names begin so."""
    found, _ = whole()
    return replace(found, parts=tuple(part for part in found.parts if not part.name.startswith(starts)))


def moved(name: str, along: Fraction, up: Fraction = Fraction(0)) -> Assembly:
    """Return the soffit with one upright or flat part pushed along the run, or up."""
    found, _ = whole()

    def push(part: Part) -> Part:
        solid = part.solid
        if part.name != name or not isinstance(solid, Prism):
            return part
        index = {"x": None, "y": 0, "z": 0}[solid.axis]
        if index is None:
            return replace(part, solid=replace(solid, start=solid.start + along, end=solid.end + along))
        corners = tuple((u + along, v + (up if solid.axis == "y" else 0)) for u, v in solid.profile.corners)
        return replace(part, solid=replace(solid, profile=replace(solid.profile, corners=corners)))

    return replace(found, parts=tuple(map(push, found.parts)))


def test_the_whole_soffit_keeps_every_promise() -> None:
    """What is broken below is whole to begin with."""
    found, inside = whole()
    assert not list(parts_that_meet(found.parts))
    assert not clashes(found.parts, inside)
    assert not loose_edges(found, 16)
    assert not wide_bays(found, 16)
    assert not too_long_to_buy(found)


@pytest.mark.parametrize(
    ("broken", "breaks"),
    [
        (lambda: without("cleat", "crosser"), loose_edges),
        (lambda: without("south side bottom rail"), loose_edges),
        (lambda: without("east end upright", "east end rail"), loose_edges),
        (lambda: without("crosser 5"), wide_bays),
        (lambda: without("south side rung 4"), wide_bays),
        (lambda: moved("crosser 5", Fraction(3)), wide_bays),
    ],
    ids=[
        "no cleat, no crossers",
        "no bottom rail",
        "no end frame",
        "a crosser left out",
        "a rung left out",
        "a crosser moved",
    ],
)
def test_board_that_is_not_held_is_seen(
    broken: Callable[[], Assembly], breaks: Callable[[Assembly, float], list[str]]
) -> None:
    """A member left out, or set too far from the next, leaves an edge or a bay of board loose."""
    assert breaks(broken(), 16)


def test_parts_that_meet_are_seen() -> None:
    """A crosser pushed onto the next shares volume with it."""
    assert list(parts_that_meet(moved("crosser 5", Fraction(16)).parts))


def test_a_part_in_a_pipe_is_seen() -> None:
    """A crosser raised to the drain's height goes through it."""
    _, inside = whole()
    assert clashes(moved("crosser 5", Fraction(0), Fraction(21)).parts, inside)


def test_a_stick_that_nobody_sells_is_seen() -> None:
    """A cleat in one piece over the whole run of 155.9 in is longer than the 96 in that a 2x2 is sold in."""
    found, _ = whole()
    cleat = next(part for part in found.parts if part.role == "cleat")
    assert isinstance(cleat.solid, Prism)
    long = replace(cleat, solid=replace(cleat.solid, start=found.run[0], end=found.run[1]))
    assert too_long_to_buy(replace(found, parts=(long,)))

"""Two beams with wrapped posts under them, steel and built-up wood: every answer worked by hand beside it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from bookgen.model.assembly import Assembly, Material
from bookgen.model.project import ObstacleFile
from bookgen.model.solved import Solved
from bookgen.solve.takeoff.buy import buy
from tests.invariants import crowded, doubled, hidden, pieces, seen
from tests.solve.level_fixture import MEASURED, P1, record, solved

POSTS = ("68 in", "136 in")
FINISHED = Fraction(8)


def named(key: str, file: ObstacleFile) -> ObstacleFile:
    """Return a record under another key."""
    return replace(file, key=key, file=f"obstacles/{key}.yaml")


def post(number: int, size: str, under: str, top: str) -> ObstacleFile:
    """Return a post that stands up to the beam, boxed 8 by 8 up to the framing of the soffit."""
    east = POSTS[number]
    thing = {"what": f"Post {number}", "post": size, "system": "structure", "known": MEASURED,
             "at": {"east": east, "north": "144 in", "above slab": f"0 in to {under}"}}  # fmt: skip
    middle = int(east.split()[0])
    run = {"along": "east", "from": f"{middle - 4} in", "to": f"{middle + 4} in"}
    wrap = {"form": "four-sided", "finished": "8 in", "top": f"{top} above slab"}
    return named(f"post-{number}", record([thing], {"post wrap": wrap}, run=run, kind="post"))


def beam(what: str, deep: str, high: str, under: str, **choices: str) -> ObstacleFile:
    """Return a beam along the middle of the level, its soffit from wall to wall of the family room."""
    thing = {"what": what, "body": {"wide": "432 in", "deep": deep, "high": high}, "system": "structure",
             "known": MEASURED,
             "at": {"east": "0 in to 432 in", "north": "144 in", "above slab": f"{under} to 89.5 in"}}  # fmt: skip
    written = {"along": "4.1 in to 204 in"} | {key.replace("_", " "): one for key, one in choices.items()}
    run = {"along": "east", "from": "0 in", "to": "432 in"}
    return named("beam", record([thing], {"beam soffit": written}, run=run, kind="beam"))


def steel() -> Solved:
    """A W8 as the site notes of Tamarack have it: 8 in deep, 4 in flange, underside 81.5 in up."""
    posts = [post(number, "3-1/2 in steel post", "81.5 in", "80 in") for number in (0, 1)]
    choices = {"framing_bottom": "80 in above slab", "finished_width": "11 in"}
    return solved(beam("Steel beam", "4 in", "8 in", "81.5 in", **choices), *posts, partitions=P1)


def wood() -> Solved:
    """Three 2x10 side by side, 4-1/2 by 9-1/4 in (PS 20), so that their underside is 80-1/4 in up."""
    posts = [post(number, "4x4", "80.25 in", "78.5 in") for number in (0, 1)]
    choices = {"framing_bottom": "78.5 in above slab", "finished_width": "12 in"}
    return solved(
        beam("Built-up beam, three 2x10", "4-1/2 in", "9-1/4 in", "80.25 in", **choices), *posts, partitions=P1
    )


def soffit(house: Solved) -> Assembly:
    """Return the soffit of a house."""
    found = house.obstacle("beam").assembly
    assert found is not None
    return found


def spans(found: Assembly, role: str, axis: Any) -> set[tuple[Fraction, Fraction]]:
    """Return the stretches that the parts of a role take up on an axis."""
    boxes = [part.solid.bounds() for part in found.parts if part.role == role]
    return {(box.low.on(axis), box.high.on(axis)) for box in boxes}


def test_the_soffit_of_a_built_up_beam_by_hand() -> None:
    """Faces of the framing 144 -+ 5-1/2; ladders 1-1/2 in; the beam's sides 144 -+ 2-1/4; so blocks of 1-3/4 in.

    Rungs reach from 78.5 + 1.5 to 89.5 - 1.5, 8 in; crossers from 140 to 148, 8 in; the board lies 1/2 in under the
    framing, so the headroom is 78 less the floor's 0.3.
    """
    found = soffit(wood())
    inside = {(Fraction(140), Fraction(148))}
    assert spans(found, "bottom rail", "y") == {(Fraction("138.5"), Fraction(140)), (Fraction(148), Fraction("149.5"))}
    assert spans(found, "rung", "z") == {(Fraction(80), Fraction(88))}
    assert spans(found, "crosser", "y") == inside
    assert spans(found, "block", "y") == {
        (Fraction(140), Fraction("141.75")), (Fraction("146.25"), Fraction(148)),
    }  # fmt: skip
    assert found.measure("headroom").inches == Fraction("77.7")
    assert found.measure("finished width").inches == 12


def test_the_soffit_of_a_steel_beam_by_hand() -> None:
    """Faces 144 -+ 5; ladders 1-1/2 in; the web 1/4 in thick: blocks reach from 140.5 to 143.875, 3-3/8 in."""
    found = soffit(steel())
    assert spans(found, "block", "y") == {
        (Fraction("140.5"), Fraction("143.875")), (Fraction("144.125"), Fraction("147.5")),
    }  # fmt: skip
    assert spans(found, "rung", "z") == {(Fraction("81.5"), Fraction(88))}
    assert found.measure("headroom").inches == Fraction("79.2")


@pytest.mark.parametrize("house", [steel, wood])
def test_the_bottom_is_cut_round_the_wraps_and_nothing_meets(house: Any) -> None:
    """A wrap of 8 in round a post at 68 takes 64 to 72: crossers stand right beside it, and none in it."""
    level = house()
    found = soffit(level)
    crossers = spans(found, "crosser", "x")
    for middle in (68, 136):
        low, high = middle - FINISHED / 2, middle + FINISHED / 2
        assert {low, high} <= {edge for span in crossers for edge in span}
        assert not [span for span in crossers if span[0] < high and low < span[1]]
    for number in (0, 1):
        wrap = level.obstacle(f"post-{number}").assembly
        assert wrap is not None
        assert max(box.high.z for box in wrap.boxes()) <= found.anchors["framing bottom"].z
    every = pieces(level)
    assert [*doubled(every), *crowded(every, hidden(level)), *seen(level, every)] == []


def test_wood_is_drawn_as_wood_and_gets_no_pins_for_steel() -> None:
    """A built-up beam and a 4x4 are lumber, which the blocks are screwed to; only steel asks for pins."""
    for house, material, pinned in ((wood(), Material.LUMBER, False), (steel(), Material.STEEL, True)):
        assert {thing.material for one in house.obstacles for thing in one.hidden} == {material}
        buying = buy(house).takeoff.buying
        assert buying is not None
        assert any("pins in steel" in row.what for row in buying.hardware) == pinned

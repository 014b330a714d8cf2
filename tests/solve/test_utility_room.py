"""Utility rooms: a pair of doors in a partition, and whether the largest thing can leave through it."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings

from bookgen.model.assembly import HiddenThing
from bookgen.model.geometry import box
from bookgen.model.records.treatments import UtilityRoom
from bookgen.solve.site import Worked
from bookgen.solve.treatments.stud_wall import linings
from bookgen.solve.treatments.utility_room import solve
from tests.solve.house import (
    clashes,
    codes,
    inches_between,
    level,
    measures_hold,
    off_size,
    project,
    record,
    roles,
    site,
    span,
    text,
    thing,
)

RUN = {"along": "north", "from": "4.1 in", "to": "142.25 in"}
DOOR = {
    "leaf": "30 x 75 in", "leaves": "2", "rough opening": "39 in to 101 in", "head": "77 in above slab",
    "hinges": "both sides", "swings": "out", "header": "2x4", "header laid": "flat",
}  # fmt: skip
CHOICES = {"wall": "P3", "largest": "Furnace", "door": DOOR}
P3 = {"P3": {"stud": "2x4", "runs": "north", "thick": "300 in to 303.5 in", "along": "4.1 in to 142.25 in"}}
# in the run's frame x goes north and y east
FURNACE = thing("Furnace", box(span("85.5", "106.5"), span(316, 344), span(2, 48), "z"))


def worked(choices: dict[str, Any], *things: HiddenThing, run: dict[str, str] | None = None) -> Worked:
    """Return a utility room worked out."""
    file = record(run or RUN, {"utility room": choices}, room="mechanical")
    assert file.record.treatment is not None
    room = file.record.treatment.utility_room
    assert isinstance(room, UtilityRoom)
    return solve(site(file, *things, partitions=P3), room)


def test_the_doors_of_the_sample_house() -> None:
    """A pair of 30 in leaves between jambs at 40 and 100; header of two flat 2x4 from 77 to 80, as noted."""
    found, problems = worked(CHOICES, FURNACE)
    assert found is not None, problems
    leaves = sorted((p.solid.bounds().low.x, p.solid.bounds().high.x) for p in found.parts if p.role == "door")
    assert leaves == [(40, 70), (70, 100)]
    headers = sorted((p.solid.bounds().low.z, p.solid.bounds().high.z) for p in found.parts if p.role == "header")
    assert headers == [(77, Fraction("78.5")), (Fraction("78.5"), 80)]


def test_the_clear_opening_counts_the_open_leaves() -> None:
    """Two leaves of 1-3/8 in stand in the 60 in between the jambs when they are open: 57-1/4 in are left."""
    found, _ = worked(CHOICES, FURNACE)
    assert found is not None
    assert found.measure("clear opening").inches == Fraction("57.25")
    assert any("Furnace is 21″" in remark for remark in found.remarks)


def test_the_leaves_swing_away_from_the_room() -> None:
    """The mechanical room lies east of P3: swinging out is swinging west."""
    found, _ = worked(CHOICES, FURNACE)
    assert found is not None
    assert found.anchors["door 1 edge, open"].y < 300


def test_the_stud_wall_leaves_head_and_jacks_to_the_doorway() -> None:
    """Partition and doorway together have every member once."""
    file = record(RUN, {"utility room": CHOICES}, room="mechanical")
    whole = project(file, partitions=P3)
    found, _ = worked(CHOICES, FURNACE)
    assert found is not None
    walls, problems = linings(whole, level(whole), (), (found,))
    assert problems == ()
    wall = next(one for one in walls if one.key == "partition-P3")
    assert "header" not in roles(wall)
    assert roles(wall)["king stud"] == 2
    theirs = [found.frame.solid_to_level(part.solid).bounds() for part in found.parts]
    ours = [wall.frame.solid_to_level(part.solid).bounds() for part in wall.parts]
    assert not any(one.overlaps(other) for one in ours for other in theirs)


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"wall": "P9"}, "unknown-partition"),
        ({"largest": "Boiler"}, "unknown-thing"),
        ({"door": DOOR | {"leaf": "11 x 75 in", "rough opening": "58 in to 82 in"}}, "largest-cannot-leave"),
        ({"door": DOOR | {"leaf": "11 x 75 in"}}, "door-smaller-than-opening"),
        ({"door": DOOR | {"leaf": "30 x 40 in"}}, "largest-cannot-leave"),
        ({"door": DOOR | {"leaf": "31 x 75 in"}}, "door-wider-than-opening"),
        ({"door": DOOR | {"head": "76 in above slab"}}, "door-taller-than-opening"),
        ({"door": DOOR | {"head": "86 in above slab"}}, "header-above-plate"),
        ({"door": DOOR | {"hinges": "south"}}, "hinge-side-wrong"),
        ({"door": DOOR | {"rough opening": "5 in to 67 in"}}, "opening-past-wall"),
    ],
)
def test_what_can_not_be_built_is_a_problem(change: dict[str, Any], code: str) -> None:
    """One Problem with its own code, and no Assembly."""
    found, problems = worked(CHOICES | change, FURNACE)
    assert found is None
    assert set(codes(problems)) == {code}


def test_a_run_across_the_wall_is_a_problem() -> None:
    """P3 runs north, so does the record's run."""
    _, problems = worked(CHOICES, FURNACE, run={"along": "east", "from": "304 in", "to": "427 in"})
    assert codes(problems) == ["run-across-wall"]


DRAWN = given(inches_between(8, 60), inches_between(12, 36), inches_between(60, 80))


def hold_together(low: Fraction, leaf: Fraction, tall: Fraction) -> None:
    """Check one drawn case: what holds for every one of them."""
    opening = low, low + 2 * leaf + 2
    door = DOOR | {
        "leaf": f"{text(leaf)} x {text(tall)}", "rough opening": f"{text(opening[0])} to {text(opening[1])}",
        "head": f"{text(tall + 2)} above slab",
    }  # fmt: skip
    found, problems = worked(CHOICES | {"door": door}, FURNACE)
    if found is None:
        assert set(codes(problems)) <= {"opening-past-wall", "largest-cannot-leave"}
        return
    assert found.measure("clear opening").inches >= 21
    assert clashes(found) == []
    assert off_size(found) == []
    assert measures_hold(found)


@settings(max_examples=30)
@DRAWN
def test_every_doorway_holds_together(low: Fraction, leaf: Fraction, tall: Fraction) -> None:
    """Parts only touch, sticks are true sizes, measures are distances; a thing too wide is always refused."""
    hold_together(low, leaf, tall)


@pytest.mark.long
@settings(max_examples=3000)
@DRAWN
def test_thousands_of_doorways_hold_together(low: Fraction, leaf: Fraction, tall: Fraction) -> None:
    """The same, many times over."""
    hold_together(low, leaf, tall)

"""Closets: walls, door and board round a panel, as the site notes of the sample house have them."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookgen.model.assembly import HiddenThing
from bookgen.model.geometry import box
from bookgen.model.records.treatments import Closet
from bookgen.solve.site import Worked
from bookgen.solve.treatments.closet import solve
from tests.solve.house import (
    clashes,
    codes,
    held,
    inches_between,
    loose_boards,
    measures_hold,
    off_size,
    record,
    roles,
    site,
    span,
    text,
    thing,
)

RUN = {"along": "west wall", "from": "49.5 in", "to": "118.5 in"}
DOOR = {
    "leaf": "30 x 76 in", "rough opening": "68.25 in to 99.75 in", "head": "78 in above slab", "hinges": "south",
    "swings": "out", "header": "2x6",
}  # fmt: skip
CHOICES = {
    "along": "49.5 in to 118.5 in", "inside": "53.5 in to 114.5 in", "deep": "42 in off the block", "lined": "bare",
    "door": DOOR,
}  # fmt: skip
PANEL = thing("Panel", box(span(60, "74.5"), span(0, "3.9"), span(45, 75), "z"))


def worked(choices: dict[str, Any], *things: HiddenThing, run: dict[str, str] | None = None) -> Worked:
    """Return a closet worked out."""
    file = record(run or RUN, {"closet": choices})
    assert file.record.treatment is not None
    closet = file.record.treatment.closet
    assert isinstance(closet, Closet)
    return solve(site(file, *things), closet)


def test_the_closet_of_the_sample_house() -> None:
    """Inside 61 along the wall and 42 deep; outside 49.5 to 118.5 and 46 off the block, where its corner is marked."""
    found, problems = worked(CHOICES, PANEL)
    assert found is not None, problems
    assert found.measure("inside width").inches == 61
    assert found.measure("inside depth, from the block").inches == 42
    assert found.measure("width over the board").inches == 69
    assert found.measure("depth over the board, off the block").inches == 46
    assert held(found, (PANEL,)) == []


def test_its_header_is_two_2x6_on_edge() -> None:
    """A 2x6 is 5-1/2 in wide (PS 20): from the head at 78 the header ends at 83-1/2."""
    found, _ = worked(CHOICES)
    assert found is not None
    headers = [part.solid.bounds() for part in found.parts if part.role == "header"]
    assert [(b.low.z, b.high.z) for b in headers] == [(78, Fraction("83.5"))] * 2


def test_the_leaf_fits_its_jambs_and_stays_under_the_head() -> None:
    """30 in of leaf and two jambs of 3/4 in fill the rough opening of 31-1/2; its top is 76.9 up in the notes."""
    found, _ = worked(CHOICES)
    assert found is not None
    leaf = next(part for part in found.parts if part.role == "door").solid.bounds()
    assert (leaf.low.x, leaf.high.x) == (69, 99)
    assert abs(leaf.high.z - Fraction("76.9")) <= Fraction(1, 8)
    assert found.anchors["door hinge"].x == 69
    assert found.anchors["door edge, open"].y == 76


def test_a_lined_closet_is_boarded_on_both_sides() -> None:
    """Walls of 2x4 with board on both sides are 4-1/2 in thick, and nothing meets inside the corners."""
    found, problems = worked(CHOICES | {"lined": "boarded", "inside": "54 in to 114 in"})
    assert found is not None, problems
    assert len(found.faces) == 6
    assert clashes(found) == []


def test_the_section_cuts_the_door_and_the_panel() -> None:
    """The panel is at 60 to 74.5 and the rough opening at 68.25 to 99.75: the station lies in both."""
    found, _ = worked(CHOICES, PANEL)
    assert found is not None
    assert Fraction("68.25") < found.section_at < Fraction("74.5")


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"framing": "2x5"}, "unknown-stock"),
        ({"inside": "54 in to 114 in"}, "closet-walls-disagree"),
        ({"deep": "4 in off the block"}, "closet-too-shallow"),
        ({"door": DOOR | {"leaf": "32 x 76 in"}}, "door-wider-than-opening"),
        ({"door": DOOR | {"leaf": "30 x 80 in"}}, "door-taller-than-opening"),
        ({"door": DOOR | {"head": "84 in above slab"}}, "header-above-plate"),
        ({"door": DOOR | {"header laid": "flat"}}, "header-thicker-than-wall"),
        ({"door": DOOR | {"header": "2x5"}}, "unknown-stock"),
        ({"door": DOOR | {"rough opening": "50 in to 81.5 in"}}, "opening-past-wall"),
        ({"door": DOOR | {"rough opening": "53.25 in to 84.75 in"}}, "opening-past-wall"),
        ({"door": DOOR | {"hinges": "east"}}, "hinge-side-wrong"),
        ({"door": DOOR | {"leaves": "3", "leaf": "9 x 76 in"}}, "leaves-not-one-or-two"),
    ],
)
def test_what_can_not_be_built_is_a_problem(change: dict[str, Any], code: str) -> None:
    """One Problem with its own code, and no Assembly."""
    found, problems = worked(CHOICES | change)
    assert found is None
    assert set(codes(problems)) == {code}


def test_a_closet_away_from_walls_is_a_problem() -> None:
    """It would have no back."""
    _, problems = worked(CHOICES, run={"along": "north", "from": "49.5 in", "to": "118.5 in"})
    assert codes(problems) == ["closet-needs-wall"]


def test_something_in_the_front_wall_is_a_problem() -> None:
    """A pipe that stands where the front wall goes can't be closed in by it."""
    pipe = thing("Pipe", box(span(110, 112), span(43, 45), span(0, "89.5"), "z"))
    found, problems = worked(CHOICES, pipe)
    assert found is None
    assert set(codes(problems)) == {"part-meets-obstacle"}


DRAWN = given(
    inches_between(6, 60),
    inches_between(40, 90),
    inches_between(12, 60),
    st.sampled_from(["bare", "boarded"]),
    inches_between(8, 40),
)


def hold_together(low: Fraction, wide: Fraction, deep: Fraction, lined: str, start: Fraction) -> None:
    """Check one drawn case: what holds for every one of them."""
    wall = Fraction(4) if lined == "bare" else Fraction("4.5")
    opening = low + start, low + start + Fraction("25.5")
    door = DOOR | {"leaf": "24 x 76 in", "rough opening": f"{text(opening[0])} to {text(opening[1])}"}
    choices = {
        "along": f"{text(low)} to {text(low + wide)}", "inside": f"{text(low + wall)} to {text(low + wide - wall)}",
        "deep": f"{text(deep)} off the block", "lined": lined, "door": door,
    }  # fmt: skip
    found, problems = worked(choices)
    if found is None:
        assert set(codes(problems)) <= {"opening-past-wall"}
        return
    assert clashes(found) == []
    assert off_size(found) == []
    assert loose_boards(found, Fraction(16)) == []
    assert measures_hold(found)
    assert roles(found)["door"] == 1


@settings(max_examples=30)
@DRAWN
def test_every_closet_holds_together(
    low: Fraction, wide: Fraction, deep: Fraction, lined: str, start: Fraction
) -> None:
    """Parts only touch, sticks are true sizes, board is held every 16 in, measures are distances."""
    hold_together(low, wide, deep, lined, start)


@pytest.mark.long
@settings(max_examples=3000)
@DRAWN
def test_thousands_of_closets_hold_together(
    low: Fraction, wide: Fraction, deep: Fraction, lined: str, start: Fraction
) -> None:
    """The same, many times over."""
    hold_together(low, wide, deep, lined, start)

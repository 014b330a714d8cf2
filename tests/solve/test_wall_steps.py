"""A wall soffit that follows what it hides in steps, and what the straight line costs against it."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookgen.choosing import line_words, plain_lines
from bookgen.model.assembly import Assembly
from bookgen.model.project import ObstacleFile
from bookgen.solve.clash import clashes, parts_that_meet
from tests.solve.level_fixture import DRAIN, P1, codes, record, solved, solved_one
from tests.solve.soffit_promises import board_area, loose_edges, too_long_to_buy, wide_bays

NEAR = DRAIN | {"what": "Drain", "at": {"along": "10 in to 198 in", "off the block": "7 in", "above slab": "86 in"},
                "couplings": []}  # fmt: skip
FAR = DRAIN | {"what": "Duct", "at": {"along": "140 in to 190 in", "off the block": "16 in", "above slab": "82 in"},
               "couplings": []}  # fmt: skip
RUN = {"along": "north wall", "from": "10 in", "to": "198 in"}


def soffit(*inside: dict[str, Any], **choices: Any) -> ObstacleFile:
    """Return a record with a wall soffit over the whole wall."""
    written = {"along": "4.1 in to 204 in"} | {key.replace("_", " "): one for key, one in choices.items()}
    return record(list(inside), {"wall soffit": written}, run=RUN)


def sides(found: Assembly) -> list[tuple[Fraction, Fraction, Fraction]]:
    """Return the finished sides along the run: from, to, how far off the block."""
    rows = [f for f in found.faces if f.axis == "y"]
    return sorted((f.outline.bounds()[0][0], f.outline.bounds()[1][0], f.at) for f in rows)


def kept(found: Assembly, inside: Any, spacing: float = 16) -> None:
    """Assert what every soffit promises."""
    assert not [(a.name, b.name) for a, b in parts_that_meet(found.parts)]
    assert not clashes(found.parts, inside)
    assert not loose_edges(found, spacing)
    assert not wide_bays(found, spacing)
    assert not too_long_to_buy(found)


def test_steps_follow_the_furthest_thing_only_where_it_is() -> None:
    """A 3 in pipe is 3-1/2 in (ASTM D2665): 16 in off it needs 16 + 1-3/4 + 1/2 + 1-1/2 = 19-3/4; at 7 in 10-3/4."""
    found, inside = solved_one(soffit(NEAR, FAR, line="steps"), partitions=P1)

    (west, east) = sides(found)
    assert (west[2], east[2]) == (Fraction("11.25"), Fraction("20.25"))  # with the board on it
    assert west[1] == east[0] <= 140 - 2
    kept(found, inside)


def test_the_bottom_follows_only_where_the_record_asks() -> None:
    """A level bottom is the default; in steps the shallower stretch stays higher and leaves more headroom."""
    level, _ = solved_one(soffit(NEAR, FAR, line="steps"), partitions=P1)
    stepped, inside = solved_one(soffit(NEAR, FAR, line="steps", bottom="steps"), partitions=P1)

    assert len({face.at for face in level.faces if face.axis == "z"}) == 1
    assert {face.at for face in stepped.faces if face.axis == "z"} == {Fraction("77.75"), Fraction("81.75")}
    assert stepped.measure("headroom") == level.measure("headroom")  # it is that of the lowest step
    kept(stepped, inside)


def test_the_straight_line_says_what_it_costs() -> None:
    """The floor it covers more is the strip between both lines; the straight one is what the areas of its faces say."""
    straight, _ = solved_one(soffit(NEAR, FAR), partitions=P1)
    built, other = straight.costs
    stepped, _ = solved_one(soffit(NEAR, FAR, line="steps", bottom="steps"), partitions=P1)

    assert (built.name, other.name, other.corners) == ("straight line", "steps", 2)
    (west, _) = sides(stepped)
    assert built.floor - other.floor == 9 * (west[1] - west[0])
    assert float(built.board) == pytest.approx(sum(float(face.outline.area()) for face in straight.faces))
    assert any("straight line covers" in says for says in straight.remarks)


def test_check_lays_both_lines_before_a_person() -> None:
    """Straight, it covers 199.9 by 15.65 in: 4.1 to 204 in along, from the wall at 4.6 in to 20.25 in off the block."""
    house = solved(soffit(NEAR, FAR), partitions=P1)
    head, straight, stepped = line_words(house, Path("house"))
    (told,) = plain_lines(house)

    assert head.startswith("house/obstacles/one.yaml:")
    assert straight.strip().startswith("Straight line, as written: 21.7 sq ft of floor under it, ")
    assert straight.endswith("no corner")
    assert stepped.strip().startswith("Steps: ")
    assert stepped.endswith("2 corners")
    assert [row["line"] for row in told["lines"]] == ["straight line", "steps"]


def test_where_nothing_differs_no_step_is_made() -> None:
    """One pipe along the whole wall: the steps are one piece, and the remark says that they save nothing."""
    found, _ = solved_one(soffit(NEAR, line="steps", bottom="steps"), partitions=P1)

    assert len(sides(found)) == 1
    assert any("not save enough" in says for says in found.remarks)
    assert not found.lines()


def test_a_falling_drain_is_followed_where_it_falls_far_enough() -> None:
    """At 1 in per foot over 188 in the drain falls 15-2/3 in; each step of the bottom lies under its own stretch."""
    falling = NEAR | {"at": NEAR["at"] | {"above slab": "70 in", "rises": "1 in per ft to the east"}}
    found, inside = solved_one(soffit(falling, line="steps", bottom="steps"), partitions=P1)

    bottoms = [f.at for f in sorted((f for f in found.faces if f.axis == "z"), key=lambda f: f.outline.bounds()[0])]
    assert len(bottoms) > 1
    assert all(after - before >= 3 for before, after in pairwise(bottoms))
    kept(found, inside)


@pytest.mark.parametrize(
    ("from_", "spots"),
    [
        ("8 in", [(10, 60), (7, 60), (7, 63)]),  # no room for an upright between the wall and the pipes
        ("20 in", [(28, 77), (30, 76), (24, 66)]),  # the pipes go on past the end and cut the upright at 12 + 12 in
    ],
)
def test_where_pipes_cut_an_upright_its_board_is_still_held(from_: str, spots: list[tuple[int, int]]) -> None:
    """At 12 in, no spot of board is more than 6 in from wood, also where 3 in pipes cut an upright of an open end."""
    inside = [
        DRAIN | {"what": f"Pipe {off} {up}", "couplings": [],
                 "at": {"along": "8 in to 60 in", "off the block": f"{off} in", "above slab": f"{up} in"}}
        for off, up in spots
    ]  # fmt: skip
    found, hidden = solved_one(soffit(*inside, line="steps", rungs="12 in", along=f"{from_} to 204 in"), partitions=P1)

    kept(found, hidden, 12)


def test_a_duct_that_goes_on_past_an_open_end_has_its_hole() -> None:
    """A box of 8 x 6 goes through the board over the end, which is cut round it with 1/4 in to spare."""
    at = {"along": "110 in to 190 in", "off the block": "14 in to 22 in", "above slab": "80 in to 86 in"}
    duct = {"what": "Duct", "duct": "8 x 6", "system": "air", "known": DRAIN["known"], "at": at}
    found, inside = solved_one(soffit(NEAR, duct, line="steps", along="4.1 in to 180 in"), partitions=P1)

    kept(found, inside)
    ends = [p.solid.bounds() for p in found.parts if p.name.startswith("east part east end board")]
    assert not [b for b in ends if b.low.y < 22 and b.high.y > 14 and b.low.z < 86 and b.high.z > 80]


def test_recorded_steps_are_taken_as_they_are() -> None:
    """As built: 14 in off to 120 in, 22 in from there, with a lower bottom."""
    steps = [
        {"along": "4.1 in to 120 in", "outside": "14 in off the block"},
        {"along": "120 in to 204 in", "outside": "22 in off the block", "framing bottom": "76 in above slab"},
    ]
    written = {"line": "steps", "steps": steps, "framing bottom": "79 in above slab"}
    found, inside = solved_one(record([NEAR, FAR], {"wall soffit": written}, run=RUN), partitions=P1)

    assert [row[2] for row in sides(found)] == [Fraction("14.5"), Fraction("22.5")]
    assert {face.at for face in found.faces if face.axis == "z"} == {Fraction("75.5"), Fraction("78.5")}
    assert "west face of the step, east part" in {face.name for face in found.faces}
    kept(found, inside)


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"steps": [{"along": "4.1 in to 120 in", "outside": "14 in off the block"},
                    {"along": "126 in to 204 in", "outside": "22 in off the block"}]}, "steps-not-joined"),
        ({"steps": [{"along": "40 in to 204 in", "outside": "22 in off the block"}]}, "steps-not-joined"),
        ({"steps": [{"along": "4.1 in to 204 in", "outside": "6 in off the block"}]}, "soffit-too-narrow"),
        ({"steps": [{"along": "4.1 in to 204 in", "outside": "22 in off the block",
                     "framing bottom": "88 in above slab"}]}, "soffit-too-shallow"),
    ],
)  # fmt: skip
def test_steps_that_can_not_be_built_are_a_problem(change: dict[str, Any], code: str) -> None:
    """Steps with a gap, steps that do not fill the run, and steps without room for their framing."""
    assert set(codes(soffit(NEAR, FAR, line="steps", **change), partitions=P1)) == {code}


@st.composite
def stepped_records(draw: st.DrawFn) -> ObstacleFile:
    """Draw two to four pipes of different reach, hang and slope, and a soffit in steps over them."""
    inside = []
    for number in range(draw(st.integers(2, 4))):
        low = draw(st.integers(8, 120))
        at = {
            "along": f"{low} in to {low + draw(st.integers(20, 78))} in",
            "off the block": f"{draw(st.integers(7, 30))} in",
            "above slab": f"{draw(st.integers(60, 83))} in",
        }
        if draw(st.booleans()):
            at["rises"] = draw(st.sampled_from(["1/4 in per ft to the east", "1/2 in per ft to the west"]))
        inside.append(DRAIN | {"what": f"Pipe {number}", "at": at, "couplings": []})
    spacing = draw(st.sampled_from(["12 in", "16 in", "24 in"]))
    wall = draw(st.sampled_from(["north wall", "south wall"]))
    choices = {"line": "steps", "bottom": draw(st.sampled_from(["level", "steps"])), "rungs": spacing,
               "along": draw(st.sampled_from(["4.1 in to 204 in", "5 in to 200 in", "8 in to 204 in"]))}  # fmt: skip
    return record(inside, {"wall soffit": choices}, run=RUN | {"along": wall})


def promises(file: ObstacleFile) -> None:
    """Assert that a stepped soffit keeps its promises, and costs no more floor or board than the straight line."""
    found, inside = solved_one(file, partitions=P1)
    assert file.record.treatment is not None
    assert file.record.treatment.wall_soffit is not None
    assert file.record.treatment.wall_soffit.rungs is not None
    kept(found, inside, float(file.record.treatment.wall_soffit.rungs.inches))
    built, other = found.costs
    assert built.floor <= other.floor
    assert built.floor == sum(face.outline.area() for face in found.faces if face.axis == "z")
    under = board_area(found, "z")
    lips = float(found.run[1] - found.run[0] + 10) * 1.0
    assert abs(under - float(built.floor)) <= lips  # board stops at the framing, the face at the finished surfaces


@given(stepped_records())
@settings(max_examples=20, derandomize=True)
def test_every_stepped_soffit_keeps_the_promises_of_the_model(file: ObstacleFile) -> None:
    """No part meets a part or a pipe, every board edge lands on wood, no stick is too long to buy."""
    promises(file)


@pytest.mark.long
@given(stepped_records())
@settings(max_examples=2000)
def test_thousands_of_stepped_soffits_keep_them(file: ObstacleFile) -> None:
    """The same, for long."""
    promises(file)

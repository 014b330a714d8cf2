"""Post wraps: four flats in a pinwheel, and what the plates of the post do to them."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookgen.model.assembly import HiddenThing
from bookgen.model.geometry import Point, Rod, box
from bookgen.model.records.treatments import PostWrap
from bookgen.solve.site import Worked
from bookgen.solve.treatments.post_wrap import solve
from tests.solve.house import (
    clashes,
    codes,
    held,
    inches_between,
    measures_hold,
    off_size,
    record,
    site,
    text,
    thing,
)

RUN = {"along": "east", "from": "64 in", "to": "72 in"}
CHOICES = {"flats": "2x6", "finished": "8 in", "top": "80 in above slab"}
POST = {
    "what": "Post",
    "post": "3-1/2 in round steel",
    "at": {"east": "68 in", "north": "144 in", "above slab": "0 in"},
}


def post(x: str | Fraction = "68", y: str | Fraction = "144", radius: str = "1.75", base: str = "3.5") -> HiddenThing:
    """Return a round post with its base plate 3/8 in thick; *base* is half the plate's width."""
    x, y, half = Fraction(x), Fraction(y), Fraction(base)
    foot = Fraction(3, 8)
    shaft = Rod(Point(x, y, foot), Point(x, y, Fraction("81.5")), Fraction(radius))
    plate = box((x - half, x + half), (y - half, y + half), (Fraction(0), foot), "z")
    return thing("Post", shaft, plate)


def worked(one: HiddenThing, **changes: Any) -> tuple[Worked, HiddenThing]:
    """Return the wrap of one post, worked out from the sample's choices with *changes*."""
    choices = CHOICES | {key.replace("_", " "): value for key, value in changes.items()}
    run = choices.pop("run", RUN)
    inside = [POST | {"system": "structure", "known": {"how": "assumed"}}]
    file = record(run, {"post wrap": choices}, inside=inside)
    assert file.record.treatment is not None
    wrap = file.record.treatment.post_wrap
    assert isinstance(wrap, PostWrap)
    return solve(site(file, one), wrap), one


def test_four_2x6_flats_make_7_in_and_8_in_over_the_board() -> None:
    """A 2x6 is 1-1/2 x 5-1/2 in (PS 20): 5-1/2 + 1-1/2 = 7, and two boards of 1/2 in make 8, as the notes have it."""
    (found, problems), _ = worked(post())
    assert found is not None, problems
    assert found.measure("width over the board").inches == 8
    assert found.measure("depth of the framing").inches == 7
    flats = [part.solid.bounds() for part in found.parts if part.role == "flat"]
    assert {(b.size("x"), b.size("y")) for b in flats} == {
        (Fraction("5.5"), Fraction("1.5")),
        (Fraction("1.5"), Fraction("5.5")),
    }


def test_the_flats_stand_on_a_base_plate_that_is_as_wide_as_they_are() -> None:
    """The sample's plate is 7 x 7 x 3/8: a pinwheel is hollow for 4 x 4 only, so the flats start 3/8 up; it is said."""
    (found, _), one = worked(post())
    assert found is not None
    assert {part.solid.bounds().low.z for part in found.parts if part.role == "flat"} == {Fraction(3, 8)}
    assert any("3⁄8″ above the slab" in remark for remark in found.remarks)
    assert held(found, (one,)) == []


def test_a_small_plate_leaves_the_flats_on_the_slab() -> None:
    """Between the flats there are 4 x 4 in: a plate of 4 in hides there."""
    (found, _), _ = worked(post(base="2"))
    assert found is not None
    assert {part.solid.bounds().low.z for part in found.parts if part.role == "flat"} == {Fraction(0)}


def test_the_faces_look_the_four_ways() -> None:
    """Each finished side is named by the way it looks, and stands 4 in off the middle of the post."""
    (found, _), _ = worked(post())
    assert found is not None
    at = {face.name.split(", ")[1]: face.at for face in found.faces}
    assert at == {"south face": 140, "north face": 148, "west face": 64, "east face": 72}


def framed(**changes: Any) -> dict[str, Any]:
    """Return the choices of a four-sided frame 11 in over the board."""
    return {"form": "four-sided", "finished": "11 in"} | changes


def test_a_four_sided_frame_stands_free_of_the_post_round_its_plates() -> None:
    """11 in over two boards of 1/2 leave 10 of framing, and 7 between uprights: a plate of 7 in just fits."""
    (found, problems), one = worked(post(), **framed())
    assert found is not None, problems
    assert found.measure("width over the board").inches == 11
    uprights = [part.solid.bounds() for part in found.parts if part.role == "upright"]
    assert len(uprights) == 4
    assert {(b.low.z, b.high.z) for b in uprights} == {(Fraction("1.5"), Fraction(80))}
    assert held(found, (one,)) == []
    assert clashes(found) == []
    assert off_size(found) == []
    assert measures_hold(found)


def test_a_plate_that_is_larger_than_the_frame_governs() -> None:
    """A plate of 8 in needs 8 + 2 x 1-1/2 + 2 x 1/2 = 12 in over the board, and the problem says so."""
    (found, problems), _ = worked(post(base="4"), **framed())
    assert found is None
    assert [p.code for p in problems] == ["plate-shows"]
    assert problems[0].repair == "write a finished size of at least 12″"


def test_a_frame_need_not_be_square() -> None:
    """11 by 14 in over the board."""
    (found, _), _ = worked(post(), **framed(finished_deep="14 in"))
    assert found is not None
    assert found.measure("width over the board").inches == 11
    assert found.measure("depth over the board").inches == 14


def test_a_square_post_is_wrapped_like_a_round_one() -> None:
    """A 4x4 is 3-1/2 in square (PS 20) and fits the 4 in that four 2x6 flats leave; a 6x6, 5-1/2 in, does not."""
    for half, code in (("1.75", None), ("2.75", "post-too-thick")):
        side = Fraction(half)
        wood = thing("Post", box((68 - side, 68 + side), (144 - side, 144 + side), (Fraction(0), Fraction(81)), "z"))
        (found, problems), _ = worked(wood)
        assert (found is None) == (code is not None)
        assert codes(problems) == ([code] if code else [])


def test_a_size_as_taped_may_miss_the_sticks_by_a_little() -> None:
    """203 mm are 7.99 in, and the sticks make 8: it is no problem, and a check says what they make."""
    (found, problems), _ = worked(post(), finished="203 mm")
    assert found is not None, problems
    assert found.measure("width over the board").inches == 8


def test_a_half_wall_stands_against_the_framing_and_a_rail_on_a_block() -> None:
    """The board is open where a half wall of 2x4 (3-1/2 in) meets it; behind a rail lies a flat 2x6 (PS 20)."""
    lands = [
        {"what": "Half wall", "side": "east", "top": "42 in above slab", "wide": "3-1/2 in"},
        {"what": "Rail", "side": "south", "top": "36 in above slab", "bottom": "34-1/2 in above slab", "wide": "2 in"},
    ]
    (found, problems), _ = worked(post(), **framed(lands=lands))
    assert found is not None, problems
    east = [part.solid.bounds() for part in found.parts if part.role == "board" and "east face" in part.name]
    assert not any(
        b.low.y < 144 + Fraction("1.75") and b.high.y > 144 - Fraction("1.75") and b.low.z < 42 for b in east
    )
    (block,) = (part.solid.bounds() for part in found.parts if part.role == "block")
    assert (block.low.z + block.high.z) / 2 == Fraction("35.25")
    assert block.size("z") == Fraction("5.5")
    assert clashes(found) == []
    assert any("Half wall" in remark for remark in found.remarks)


@pytest.mark.parametrize(
    ("changes", "one", "code"),
    [
        ({"finished": "7 in"}, post(), "finished-not-flats"),
        ({"flats": "2x5"}, post(), "unknown-stock"),
        ({}, post(radius="2.25"), "post-too-thick"),
        ({}, post(base="5"), "plate-shows"),
        ({"top": "1/4 in above slab"}, post(), "wrap-too-low"),
        ({"top": "1000 in above slab"}, post(), "wrap-above-joists"),
        (framed(framing="2x5"), post(), "unknown-stock"),
        (framed(finished="6 in"), post(base="1"), "post-too-thick"),
        (
            {"lands": [{"what": "Wall", "side": "east", "top": "42 in above slab", "wide": "9 in"}]},
            post(),
            "landing-past-wrap",
        ),
        (
            {"lands": [{"what": "Wall", "side": "east", "top": "92 in above slab", "wide": "3 in"}]},
            post(),
            "landing-past-wrap",
        ),
        ({"run": RUN | {"from": "80 in", "to": "90 in"}}, post(), "no-post"),
    ],
)
def test_what_can_not_be_built_is_a_problem(changes: dict[str, Any], one: HiddenThing, code: str) -> None:
    """No traceback, no clamping: one Problem with its own code."""
    (found, problems), _ = worked(one, **changes)
    assert found is None
    assert codes(problems) == [code]


DRAWN = given(
    inches_between(64, 72),
    inches_between(100, 200),
    st.sampled_from(["2x4", "2x6", "2x8"]),
    st.sampled_from(["1", "1.75", "2"]),
    inches_between(40, 89),
)


def hold_together(x: Fraction, y: Fraction, flats: str, radius: str, top: Fraction) -> None:
    """Check one drawn case: what holds for every one of them."""
    width = {"2x4": Fraction("3.5"), "2x6": Fraction("5.5"), "2x8": Fraction("7.25")}[flats]
    made = text(width + Fraction(5, 2))
    (found, problems), one = worked(post(x, y, radius), flats=flats, finished=made, top=f"{text(top)} above slab")
    if found is None:
        assert set(codes(problems)) <= {"post-too-thick", "plate-shows"}
        return
    assert clashes(found) == []
    assert held(found, (one,)) == []
    assert off_size(found) == []
    assert measures_hold(found)


@settings(max_examples=30)
@DRAWN
def test_every_wrap_holds_together(x: Fraction, y: Fraction, flats: str, radius: str, top: Fraction) -> None:
    """No part meets another or the post, sticks are true sizes, measures are distances between anchors."""
    hold_together(x, y, flats, radius, top)


@pytest.mark.long
@settings(max_examples=3000)
@DRAWN
def test_thousands_of_wraps_hold_together(x: Fraction, y: Fraction, flats: str, radius: str, top: Fraction) -> None:
    """The same, many times over."""
    hold_together(x, y, flats, radius, top)

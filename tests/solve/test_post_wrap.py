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


@pytest.mark.parametrize(
    ("changes", "one", "code"),
    [
        ({"finished": "7 in"}, post(), "finished-not-flats"),
        ({"flats": "2x5"}, post(), "unknown-stock"),
        ({}, post(radius="2.25"), "post-too-thick"),
        ({}, post(base="5"), "plate-shows"),
        ({"top": "1/4 in above slab"}, post(), "wrap-too-low"),
        ({"top": "1000 in above slab"}, post(), "wrap-above-joists"),
        ({"run": RUN | {"from": "80 in", "to": "90 in"}}, post(), "no-post"),
    ],
)
def test_what_can_not_be_built_is_a_problem(changes: dict[str, Any], one: HiddenThing, code: str) -> None:
    """No traceback, no clamping: one Problem with its own code."""
    (found, problems), _ = worked(one, **changes)
    assert found is None
    assert codes(problems) == [code]


@settings(max_examples=100, deadline=None)
@given(
    inches_between(64, 72),
    inches_between(100, 200),
    st.sampled_from(["2x4", "2x6", "2x8"]),
    st.sampled_from(["1", "1.75", "2"]),
    inches_between(40, 89),
)
def test_every_wrap_holds_together(x: Fraction, y: Fraction, flats: str, radius: str, top: Fraction) -> None:
    """No part meets another or the post, sticks are true sizes, measures are distances between anchors."""
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

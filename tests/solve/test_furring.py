"""Furring: strips across the joists, clear of every line, and the flat ceiling under them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookgen.model.assembly import HiddenThing
from bookgen.model.geometry import Point, Rod, box
from bookgen.model.records.overhead import Furring
from bookgen.solve.site import Worked
from bookgen.solve.treatments.furring import solve
from tests.solve.house import (
    clashes,
    codes,
    held,
    inches_between,
    measures_hold,
    off_size,
    record,
    site,
    span,
    text,
    thing,
)

RUN = {"along": "east", "from": "4.1 in", "to": "427.9 in"}
GUEST = {"room": "guest", "along": "207.5 in to 425.5 in", "across": "145.75 in to 283.9 in"}
ROWS = {"rows": ["266 in", "242 in", "218 in", "194 in", "170 in"], "edge strips": ["282.15 in", "148 in"]}
CHOICES = {"strip": "2x4", "runs": "east", "spacing": "24 in", "areas": [GUEST]}


def line(y: str | Fraction, hang: str = "1", low: str = "210", high: str = "424") -> HiddenThing:
    """Return a 3/4 in copper line along x, 7/8 in thick, its underside *hang* below the joists at 89.5."""
    z, radius = Fraction("89.5") - Fraction(hang) + Fraction(7, 16), Fraction(7, 16)
    return thing("Line", Rod(Point(Fraction(low), Fraction(y), z), Point(Fraction(high), Fraction(y), z), radius))


def across(x: str | Fraction) -> HiddenThing:
    """Return a line that crosses the strips."""
    z = Fraction(89)
    return thing(
        "Crossing", Rod(Point(Fraction(x), Fraction(150), z), Point(Fraction(x), Fraction(280), z), Fraction(3, 8))
    )


def worked(choices: dict[str, Any], *things: HiddenThing, run: dict[str, str] | None = None, **more: Any) -> Worked:
    """Return furring worked out."""
    file = record(run or RUN, {"furring": choices}, room="guest", **more)
    assert file.record.treatment is not None
    furring = file.record.treatment.furring
    assert isinstance(furring, Furring)
    return solve(site(file, *things), furring)


def cover(north: str) -> dict[str, Any]:
    """Return an access point with an 8 x 8 cover in the guest room's ceiling."""
    at = {"east": "296 in to 304 in", "north": north, "above slab": "87.5 in"}
    return {
        "tag": "08", "what": "Tap", "where": "ceiling", "system": "water", "at": at, "known": {"how": "assumed"},
        "cover": {"kind": "lift-out panel", "size": "8 x 8 in", "at": at, "opens": "push up"},
    }  # fmt: skip


def test_the_guest_room_of_the_sample_house() -> None:
    """Joists at 89.5, strips of 1-1/2 (PS 20) and 1/2 in board: strips at 88, ceiling at 87.5, as the notes have it."""
    found, problems = worked(CHOICES | {"areas": [GUEST | ROWS]}, line("254"), line("258"))
    assert found is not None, problems
    assert found.anchors["underside of the strips"].z == 88
    assert found.anchors["finished ceiling"].z == Fraction("87.5")
    assert found.measure("headroom").inches == Fraction("87.2")  # over the floor, which is 0.3 thick
    middles = {(p.solid.bounds().low.y + p.solid.bounds().high.y) / 2 for p in found.parts if p.role == "strip"}
    assert middles == {Fraction(v) for v in ("266", "242", "218", "194", "170", "282.15", "148")}


def test_strips_are_joined_on_joists() -> None:
    """A 2x4 is sold to 16 ft; a joint hangs on a joist, which stand at 8 and every 16 in."""
    found, _ = worked(CHOICES | {"areas": [GUEST | ROWS]})
    assert found is not None
    strips = [part.solid.bounds() for part in found.parts if part.role == "strip"]
    assert all(b.size("x") <= 192 for b in strips)
    joints = {b.high.x for b in strips} - {Fraction("425.5")}
    assert joints
    assert all((joint - 8) % 16 == 0 for joint in joints)


def test_the_ceiling_goes_on_to_the_wall_that_the_strips_stop_short_of() -> None:
    """The strips stop at 425.5, short of the cold line; the board runs to the wall's studs at 427.9."""
    found, _ = worked(CHOICES | {"areas": [GUEST | ROWS]})
    assert found is not None
    assert max(p.solid.bounds().high.x for p in found.parts if p.role == "board") == Fraction("427.9")


def test_a_line_across_the_strips_breaks_them() -> None:
    """Each row stops at both sides of it."""
    one = across("312")
    found, problems = worked(CHOICES | {"areas": [GUEST | ROWS]}, one)
    assert found is not None, problems
    assert held(found, (one,)) == []


def test_rows_are_laid_out_clear_of_lines_where_none_are_listed() -> None:
    """A line at every fourth row's place is stepped round, and no bay is wider than 24 in."""
    lines = (line("169.75"), line("193.75"))
    found, problems = worked(CHOICES, *lines)
    assert found is not None, problems
    assert held(found, lines) == []


@pytest.mark.parametrize(
    ("change", "things", "code"),
    [
        ({"strip": "2x5"}, (), "unknown-stock"),
        ({"runs": "north", "areas": [GUEST]}, (), "strips-along-joists"),
        ({}, (line("254", hang="1.5"),), "line-below-strips"),
        ({"areas": [GUEST | ROWS]}, (line("242"),), "strip-on-line"),
        ({"areas": [GUEST | {"rows": ["146 in", "170 in"]}]}, (), "row-outside-ceiling"),
        ({"areas": [GUEST | {"rows": ["150 in", "176 in"]}]}, (), "rows-too-far-apart"),
        ({"areas": [GUEST | {"rows": ["150 in", "152 in"]}]}, (), "rows-overlap"),
        ({"areas": [GUEST | {"room": "gest"}]}, (), "unknown-room"),
        ({"areas": [GUEST | {"along": "209 in to 230 in"}]}, (), "strip-piece-short"),
    ],
)
def test_what_can_not_be_built_is_a_problem(change: dict[str, Any], things: tuple[HiddenThing, ...], code: str) -> None:
    """One kind of Problem, and no Assembly."""
    found, problems = worked(CHOICES | change, *things)
    assert found is None
    assert set(codes(problems)) == {code}


def test_what_hangs_too_low_names_the_treatment_that_serves() -> None:
    """Strips of 1-1/2 in less a margin of 1/4 hide what hangs 1-1/4; the rest asks for a hung soffit."""
    assert worked(CHOICES, line("254", hang="1.25"))[0] is not None
    (problem,) = worked(CHOICES, line("254", hang="1.3"))[1]
    assert "hung soffit" in problem.repair


@pytest.mark.parametrize(
    ("low", "system", "strip", "words"),
    [
        (line("254", hang="1.3"), "water", "2x4", "hung soffit there, 4\u200a7⁄8″ wide"),
        (line("276", hang="3"), "water", "2x4", "wall soffit along the north wall"),
        (line("254", hang="1"), "water", "1x3", "strips of 2x4"),
        (thing("Beam", box(span(210, 424), span(250, 254), span(82, 90), "x")), "structure", "2x4", "beam soffit"),
    ],
)
def test_the_treatment_that_serves_goes_by_the_line(low: HiddenThing, system: str, strip: str, words: str) -> None:
    """Under a wall a wall soffit, a beam a beam soffit, a little too low thicker strips, else a hung soffit."""
    problems = worked(CHOICES | {"strip": strip}, replace(low, system=system))[1]
    assert {p.code for p in problems} == {"line-below-strips"}
    assert words in problems[0].repair


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"margin": "1-1/2 in"}, "margin-too-large"),
        ({"areas": [GUEST | {"across": "145.75 in to 300 in"}]}, "outside-the-level"),
        ({"areas": [GUEST | {"along": "207.5 in to 440 in"}]}, "outside-the-level"),
    ],
)
def test_a_slip_of_the_pen_is_a_problem_at_its_field(change: dict[str, Any], code: str) -> None:
    """A margin as thick as the strip, and a ceiling that goes on past the house: 432 by 288 in."""
    assert set(codes(worked(CHOICES | change)[1])) == {code}


def test_a_point_over_the_ceiling_without_a_cover_in_it_is_never_silent() -> None:
    """A panel without a size is a Problem, and so is a plate where no box is recorded under it."""
    bare = cover("256 in to 264 in") | {"at": {"east": "300 in", "north": "260 in", "above slab": "89 in"}}
    no_size = bare | {"cover": {"kind": "lift-out panel", "opens": "push up"}}
    assert codes(worked(CHOICES, access=[no_size])[1]) == ["cover-size-missing"]
    plate = bare | {"cover": {"kind": "cover plate", "opens": "screws"}}
    assert codes(worked(CHOICES, access=[plate])[1]) == ["cover-size-missing"]


def test_a_cover_on_a_strip_is_a_problem_and_between_strips_it_is_a_hole() -> None:
    """The sample's tap: 256 to 264 lies between the rows at 242 and 266."""
    rows = CHOICES | {"areas": [GUEST | ROWS]}
    _, problems = worked(rows, access=[cover("248 in to 256 in")])
    assert problems == ()
    _, problems = worked(rows, access=[cover("240 in to 248 in")])
    assert codes(problems) == ["cover-on-strip"]
    found, _ = worked(rows, access=[cover("256 in to 264 in")])
    assert found is not None
    hole = box(span(296, 304), span(256, 264), (Fraction("87.5"), Fraction(88)), "z").bounds()
    assert not any(p.solid.bounds().overlaps(hole) for p in found.parts if p.role == "board")


@settings(max_examples=100)
@given(
    st.lists(inches_between(150, 280), max_size=3),
    st.lists(inches_between(240, 400), max_size=2),
    st.sampled_from(["16 in", "24 in"]),
)
def test_every_ceiling_holds_together(along: list[Fraction], over: list[Fraction], spacing: str) -> None:
    """No strip meets a line, rows are within the spacing, sticks are true sizes, measures are distances."""
    things = tuple(line(y) for y in along) + tuple(across(x) for x in over)
    found, problems = worked(CHOICES | {"spacing": spacing}, *things)
    if found is None:
        assert set(codes(problems)) <= {"rows-too-far-apart", "rows-overlap", "strip-piece-short"}
        return
    assert clashes(found) == []
    assert held(found, things) == []
    assert off_size(found) == []
    assert measures_hold(found)
    boxes = [part.solid.bounds() for part in found.parts if part.role == "strip"]
    middles = sorted({(b.low.y + b.high.y) / 2 for b in boxes})
    assert all(high - low <= Fraction(spacing.split()[0]) for low, high in pairwise(middles))


@settings(max_examples=20)
@given(inches_between(100, 150))
def test_a_ceiling_is_the_same_from_any_wall(north: Fraction) -> None:
    """A run along the north wall measures off it and still lays the strips east."""
    area = {"room": "guest", "along": "207.5 in to 425.5 in", "across": f"{text(north)} to 283.9 in"}
    run = {"along": "north wall", "from": "207.5 in", "to": "425.5 in"}
    one, _ = worked(CHOICES | {"areas": [area]})
    other, _ = worked(CHOICES | {"areas": [area]}, run=run)
    assert one is not None
    assert other is not None
    first = sorted(one.frame.solid_to_level(p.solid).bounds().low for p in one.parts if p.role == "strip")
    second = sorted(other.frame.solid_to_level(p.solid).bounds().low for p in other.parts if p.role == "strip")
    assert len(first) == len(second)

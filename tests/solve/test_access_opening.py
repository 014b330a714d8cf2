"""Access openings: trimmers and blocking between studs, and what passes behind them."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings

from bookgen.model.assembly import HiddenThing
from bookgen.model.geometry import Point, Rod, box
from bookgen.model.records.treatments import AccessOpening
from bookgen.solve.site import Worked
from bookgen.solve.treatments.access_opening import solve
from bookgen.solve.treatments.stud_wall import linings
from tests.solve.house import (
    clashes,
    codes,
    held,
    inches_between,
    level,
    measures_hold,
    off_size,
    project,
    record,
    site,
    span,
    text,
    thing,
)

RUN = {"along": "east wall", "from": "163 in", "to": "177 in"}
AT = {"along": "163 in to 177 in", "off the block": "4.6 in", "above slab": "26.5 in to 44.5 in"}
CHOICES = {"opening": "14 x 18 in", "at": AT, "what passes": "a hand"}
PIPE = thing(
    "Pipe",
    Rod(
        Point(Fraction(170), Fraction("1.9"), Fraction("35.5")),
        Point(Fraction(170), Fraction("1.9"), Fraction(98)),
        Fraction(7, 16),
    ),
)


def worked(
    choices: dict[str, Any],
    *things: HiddenThing,
    run: dict[str, str] | None = None,
    access: tuple[dict[str, Any], ...] | list[dict[str, Any]] = (),
    **more: Any,
) -> Worked:
    """Return an access opening worked out."""
    file = record(run or RUN, {"access opening": choices}, room="guest", access=list(access))
    assert file.record.treatment is not None
    opening = file.record.treatment.access_opening
    assert isinstance(opening, AccessOpening)
    return solve(site(file, *things, **more), opening)


def test_the_water_cover_of_the_sample_house() -> None:
    """14 x 18 from 163 to 177 and 26.5 to 44.5 up, framed between studs that stand flush with both sides."""
    found, problems = worked(CHOICES)
    assert found is not None, problems
    assert found.measure("width of the opening").inches == 14
    assert found.measure("height of the opening").inches == 18
    studs = sorted(part.solid.bounds().low.x for part in found.parts if part.role == "stud")
    assert studs == [Fraction("161.5"), 177]
    blocks = sorted((p.solid.bounds().low.z, p.solid.bounds().high.z) for p in found.parts if p.role == "block")
    assert blocks == [(25, Fraction("26.5")), (Fraction("44.5"), 46)]


def test_a_block_lies_in_front_of_a_pipe_that_passes_there() -> None:
    """The pipe stands 1.9 in off the block, in the depth of the studs: the upper block is a 2x2 before it."""
    found, problems = worked(CHOICES, PIPE)
    assert found is not None, problems
    assert [part.stock for part in found.parts if part.role == "block"] == ["2x4", "2x2"]
    assert held(found, (PIPE,)) == []


def test_the_lining_gives_way_to_the_opening() -> None:
    """The stud on the 16 in mark at 176 is left out; neither studs nor board of the lining meet the opening."""
    found, _ = worked(CHOICES)
    assert found is not None
    whole = project()
    lining = next(one for one in linings(whole, level(whole), (), (found,))[0] if one.key == "lining-east-wall")
    ours = [part.solid.bounds() for part in lining.parts]
    assert not any(one.overlaps(part.solid.bounds()) for one in ours for part in found.parts)
    studs = [part.solid.bounds() for part in lining.parts if part.role == "stud"]
    assert not any(stud.low.x < 178 and stud.high.x > 162 for stud in studs)
    assert not any(
        stud.high.x == Fraction("161.5") or stud.low.x == Fraction("178.5") for stud in studs
    )  # none doubled


def test_an_opening_in_a_partition_stands_in_its_studs() -> None:
    """Its cover is on the side that its place is on."""
    walls = {"P1": {"stud": "2x4", "runs": "north", "thick": "204 in to 207.5 in", "along": "4.1 in to 283.9 in"}}
    at = {"east": "203.5 in", "north": "163 in to 177 in", "above slab": "26.5 in to 44.5 in"}
    run = {"along": "north", "from": "163 in", "to": "177 in"}
    found, problems = worked(CHOICES | {"at": at}, run=run, partitions=walls)
    assert found is not None, problems
    assert [(face.at, face.toward) for face in found.faces] == [(Fraction("203.5"), -1)]


def test_an_opening_in_a_ceiling_has_a_flat_ring() -> None:
    """The hand hole of the sample house: 8 x 8, two blocks along and two across."""
    at = {"east": "156 in to 164 in", "north": "72 in to 80 in", "above slab": "89 in"}
    run = {"along": "east", "from": "156 in", "to": "164 in"}
    found, problems = worked(CHOICES | {"opening": "8 x 8 in", "at": at}, run=run)
    assert found is not None, problems
    assert found.measure("width of the opening").inches == 8
    assert found.measure("depth of the opening").inches == 8
    assert clashes(found) == []


def test_an_opening_in_a_plain_ceiling_is_framed_between_joists() -> None:
    """Joists stand at 152 and 168 in, 1-1/2 in thick (PS 20): blocks of 14-1/2 in go from one to the other."""
    at = {"east": "156 in to 164 in", "north": "72 in to 80 in", "above slab": "89 in"}
    run = {"along": "east", "from": "156 in", "to": "164 in"}
    found, problems = worked(CHOICES | {"opening": "8 x 8 in", "at": at}, run=run)
    assert found is not None, problems
    across = [part.solid.bounds() for part in found.parts if part.name in {"near block", "far block"}]
    assert {(b.low.x, b.high.x, b.low.z) for b in across} == {
        (Fraction("152.75"), Fraction("167.25"), Fraction("89.5"))
    }
    joists = [part.solid.bounds() for part in level(project()).shell if part.role == "joist"]
    assert not any(b.overlaps(part.solid.bounds()) for b in joists for part in found.parts)


def test_a_size_that_is_left_out_follows_from_what_passes() -> None:
    """Two hands need 8 x 8 and a drain rod 12 x 12, as the trade cuts them: the smallest stock cover is 12 x 12."""
    at = {"along": "170 in", "off the block": "4.6 in", "above slab": "35 in"}
    choices = {"at": at, "what passes": "a rod", "passes": ["two hands", "rod"]}
    found, problems = worked(choices)
    assert found is not None, problems
    assert found.measure("width of the opening").inches == 12
    assert found.measure("bottom of the opening over the floor").inches == Fraction("28.7")
    assert "smallest stock cover" in found.remarks[1]


@pytest.mark.parametrize(
    ("kind", "depth", "material"),
    [
        ("hinged door", ("4.1", "4.85"), "wood panel"),
        ("lift-out panel", ("4.1", "4.85"), "wood panel"),
        ("grille", ("4.1", "4.85"), "steel"),
        ("magnetic panel", ("4.1", "4.6"), "gypsum board"),
    ],
)
def test_each_kind_of_cover_is_made_as_it_is_sold(kind: str, depth: tuple[str, str], material: str) -> None:
    """Doors and grilles reach through the board and stand before it; a panel of board lies flush, held by magnets."""
    point = {"tag": "01", "what": "Valve", "where": "hip height", "system": "water", "known": {"how": "assumed"},
             "at": {"along": "170 in", "off the block": "2 in", "above slab": "35 in"},
             "cover": {"kind": kind, "opens": "pull"}}  # fmt: skip
    found, problems = worked(CHOICES, access=[point])
    assert found is not None, problems
    (closed,) = (part for part in found.parts if part.role == "cover")
    room = closed.solid.bounds()
    assert (room.low.y, room.high.y) == (Fraction(depth[0]), Fraction(depth[1]))
    assert closed.material.value == material
    assert clashes(found) == []


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"opening": "14 x 20 in"}, "opening-size-disagrees"),
        ({"at": AT | {"off the block": "30 in"}}, "no-wall-there"),
        ({"at": AT | {"above slab": "1 in to 19 in"}}, "opening-past-plates"),
        ({"at": AT | {"above slab": "900 in to 918 in"}}, "outside-the-level"),
        ({"at": AT | {"along": "-10 in to 4 in"}}, "opening-past-wall"),
        ({"passes": ["a foot"]}, "unknown-passing"),
    ],
)
def test_what_can_not_be_built_is_a_problem(change: dict[str, Any], code: str) -> None:
    """One Problem with its own code, and no Assembly."""
    found, problems = worked(CHOICES | change)
    assert found is None
    assert set(codes(problems)) == {code}


def test_an_opening_in_a_doorway_or_under_a_joist_is_a_problem() -> None:
    """A cover can't hang in a doorway, and no joist is cut for one."""
    door = {"what": "Doorway", "along": "160 in to 190 in", "head": "75.85 in above slab"}
    walls = {"P1": {"stud": "2x4", "runs": "north", "thick": "204 in to 207.5 in", "along": "4.1 in to 283.9 in",
                    "openings": [door]}}  # fmt: skip
    at = {"east": "203.5 in", "north": "163 in to 177 in", "above slab": "26.5 in to 44.5 in"}
    run = {"along": "north", "from": "163 in", "to": "177 in"}
    assert codes(worked(CHOICES | {"at": at}, run=run, partitions=walls)[1]) == ["openings-meet"]
    at = {"east": "148 in to 156 in", "north": "72 in to 80 in", "above slab": "89 in"}
    run = {"along": "east", "from": "148 in", "to": "156 in"}
    assert codes(worked(CHOICES | {"opening": "8 x 8 in", "at": at}, run=run)[1]) == ["opening-cuts-joist"]


def test_an_opening_without_a_size_is_a_problem() -> None:
    """Its middle alone, and nobody says what passes."""
    at = {"along": "170 in", "off the block": "4.6 in", "above slab": "35 in"}
    assert codes(worked({"at": at, "what passes": "a hand"})[1]) == ["opening-unsized"]


def test_a_trimmer_in_a_pipe_is_a_problem() -> None:
    """What stands where a trimmer has to stand can't be framed round."""
    stack = thing("Stack", box(span(160, 164), span(1, 3), span(0, "89.5"), "z"))
    assert set(codes(worked(CHOICES, stack)[1])) == {"part-meets-obstacle"}


DRAWN = given(inches_between(150, 200), inches_between(4, 30), inches_between(4, 60), inches_between(4, 24))


def hold_together(low: Fraction, wide: Fraction, foot: Fraction, tall: Fraction) -> None:
    """Check one drawn case: what holds for every one of them."""
    at = {
        "along": f"{text(low)} to {text(low + wide)}", "off the block": "4.6 in",
        "above slab": f"{text(foot)} to {text(foot + tall)}",
    }  # fmt: skip
    found, problems = worked({"opening": f"{text(wide)} x {text(tall)}", "at": at, "what passes": "a hand"}, PIPE)
    if found is None:
        assert set(codes(problems)) <= {"part-meets-obstacle"}
        return
    assert clashes(found) == []
    assert held(found, (PIPE,)) == []
    assert off_size(found) == []
    assert measures_hold(found)


@settings(max_examples=30)
@DRAWN
def test_every_opening_holds_together(low: Fraction, wide: Fraction, foot: Fraction, tall: Fraction) -> None:
    """Parts only touch, nothing meets the pipe behind, sticks are true sizes, measures are distances."""
    hold_together(low, wide, foot, tall)


@pytest.mark.long
@settings(max_examples=3000)
@DRAWN
def test_thousands_of_openings_hold_together(low: Fraction, wide: Fraction, foot: Fraction, tall: Fraction) -> None:
    """The same, many times over."""
    hold_together(low, wide, foot, tall)

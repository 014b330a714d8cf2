"""What leaves a soffit and what is let into it: branches, registers, lights, covers; framed, cut out, or refused."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookgen.model.assembly import Assembly
from bookgen.model.problem import Problem
from bookgen.model.project import ObstacleFile
from bookgen.solve import solve
from bookgen.solve.clash import clashes, parts_that_meet
from tests.solve.level_fixture import BEAM, DRAIN, MEASURED, P1, SUPPLY, project, record, solved_one
from tests.solve.soffit_promises import board_area, loose_edges, too_long_to_buy, wide_bays

EAST = {"along": "east", "from": "58 in", "to": "300 in"}
HUNG = {"between": "81.5 in to 122.5 in", "framing bottom": "79 in above slab", "along": "58 in to 200 in"}
LIGHT = {"what": "light", "diameter": "4 in", "deep": "1-1/2 in", "east": "100 in", "north": "112 in"}


SHORT = DRAIN | {"at": {"along": "40 in to 150 in", "off the block": "7 in", "above slab": "84 in"}, "couplings": []}
FREE_END = {"outside": "24 in off the block", "framing bottom": "77 in above slab", "along": "10 in to 160 in"}


def duct(what: str, size: str, **at: str) -> dict[str, Any]:
    """Return a duct."""
    spans = {key.replace("_", " "): one for key, one in at.items()}
    return {"what": what, "duct": size, "system": "air", "known": MEASURED, "at": spans}


def hung(*more: dict[str, Any], access: list[dict[str, Any]] | None = None, **choices: Any) -> ObstacleFile:
    """Return the supply duct of the sample, shortened, with its soffit and more inside."""
    supply = SUPPLY | {"at": SUPPLY["at"] | {"east": "60 in to 190 in"}}
    return record(
        [supply, *more], {"hung soffit": HUNG | choices}, run=EAST, kind="duct", access=access or []
    )  # fmt: skip


def wall(*more: dict[str, Any], access: list[dict[str, Any]] | None = None) -> ObstacleFile:
    """Return the drain of the sample with its soffit and more inside."""
    choices = {"outside": "24 in off the block", "framing bottom": "77 in above slab", "along": "4.1 in to 204 in"}
    return record([DRAIN, *more], {"wall soffit": choices}, access=access or [])


def cover(kind: str = "lift-out panel", size: str | None = "12 x 12 in", **at: str) -> dict[str, Any]:
    """Return an access point right over its cover."""
    spans = {key.replace("_", " "): one for key, one in at.items()}
    shut = {"kind": kind, "at": spans, "opens": "push"} | ({"size": size} if size else {})
    return {"tag": "07", "what": "Damper", "where": "soffit", "system": "air", "at": spans, "cover": shut,
            "known": MEASURED}  # fmt: skip


def refused(file: ObstacleFile) -> Problem:
    """Return the only Problem of a record."""
    found, problems = solve(project(file, partitions=P1))
    assert found is None
    (problem,) = problems
    return problem


def kept(file: ObstacleFile, spacing: float = 16) -> Assembly:
    """Return a soffit that keeps what every soffit promises."""
    found, inside = solved_one(file, partitions=P1)
    assert not [(a.name, b.name) for a, b in parts_that_meet(found.parts)]
    assert not clashes(found.parts, inside)
    assert not loose_edges(found, spacing)
    assert not wide_bays(found, spacing)
    assert not too_long_to_buy(found)
    return found


def spans(found: Assembly, role: str, axis: Any) -> list[tuple[Fraction, Fraction]]:
    """Return the stretches that the parts of a role take up on an axis."""
    boxes = [part.solid.bounds() for part in found.parts if part.role == role]
    return sorted({(box.low.on(axis), box.high.on(axis)) for box in boxes})


def test_a_branch_that_leaves_through_the_side_is_headed() -> None:
    """A 20 x 6 branch under the joists, 20 in wide: its top rail stops at it, a header lies under it between rungs."""
    at = {"east": "120 in to 140 in", "north": "94 in to 140 in", "above_slab": "83.5 in to 89.5 in"}
    branch = duct("Branch", "20 x 6", **at)
    found = kept(hung(branch, **{"framing bottom": "75 in above slab"}))

    rails = [part.solid.bounds() for part in found.parts if part.name.startswith("north side top rail")]
    assert not [rail for rail in rails if rail.low.x < 140 and rail.high.x > 120]
    (header,) = [part.solid.bounds() for part in found.parts if part.name.startswith("north side header")]
    assert (header.low.x, header.high.x, header.high.z) == (120, 140, Fraction("83.5"))
    short = [b for b in spans(found, "rung", "z") if b[1] < Fraction("83.5")]
    assert short  # rungs under the header
    boards = [part.solid.bounds() for part in found.parts if part.name.startswith("north side board")]
    assert not [b for b in boards if b.low.x < 139 and b.high.x > 121 and b.high.z > 84]


def test_a_narrow_branch_is_stepped_round() -> None:
    """A 6 in round one at mid height: a rung at both sides, rails whole, no header."""
    branch = {"what": "Branch", "duct": "6 in round", "system": "air", "known": MEASURED, "path": [
        {"east": "130 in", "north": "100 in", "above slab": "84.5 in"},
        {"east": "130 in", "north": "150 in", "above slab": "84.5 in"}]}  # fmt: skip
    found = kept(hung(branch))

    assert not [part for part in found.parts if part.role == "header"]
    rungs = [part.solid.bounds() for part in found.parts if part.name.startswith("north side rung")]
    assert not [rung for rung in rungs if rung.low.x < 133 and rung.high.x > 127]
    assert {127, 133} <= {edge for rung in rungs for edge in (rung.low.x, rung.high.x)}


def test_what_comes_down_through_the_bottom_interrupts_the_crossers() -> None:
    """A wide drop of 30 x 6 through the wall soffit's bottom: crossers stop at headers at both its sides."""
    drop = duct("Drop", "30 x 6", along="100 in to 130 in", off_the_block="14 in to 20 in", above_slab="60 in to 80 in")
    found = kept(wall(drop))

    stubs = [span for span in spans(found, "crosser", "y") if span[1] - span[0] < 12]
    assert stubs
    assert len([part for part in found.parts if part.role == "header"]) == 2


def test_a_large_register_is_framed_and_cut_out_of_board_and_face() -> None:
    """30 x 10 in: crossers stop at headers at its long edges; board and face lose its 300 square inches."""
    plain, cut = kept(hung()), kept(hung(registers=[{"what": "grille", "east": "112 in to 142 in",
                                                     "north": "106 in to 116 in"}]))  # fmt: skip

    assert board_area(plain, "z") - board_area(cut, "z") == pytest.approx(300)
    areas = [next(f.outline.area() for f in found.faces if f.name == "bottom") for found in (plain, cut)]
    assert areas[0] - areas[1] == 300
    assert len([part for part in cut.parts if part.role == "header"]) == 2


def test_a_light_has_its_hole() -> None:
    """Nothing of the board lies over the middle of a light, and its rod begins at the finished face."""
    found = kept(hung(lights=[LIGHT]))

    boards = [part.solid.bounds() for part in found.parts if part.name.startswith("bottom board")]
    assert not [b for b in boards if b.low.x < 100 < b.high.x and b.low.y < 112 < b.high.y]
    (light,) = [part for part in found.parts if part.role == "light"]
    assert light.solid.bounds().low.z == Fraction("78.5")


def test_a_light_that_is_too_deep_is_told_where_there_is_room() -> None:
    """A 4 in can under the duct at 102 north has 2 in; the duct ends at 104, so that 4 in north of it one fits."""
    deep = LIGHT | {"deep": "4 in", "north": "102 in"}
    problem = refused(hung(lights=[deep]))
    assert problem.code == "light-too-deep"
    move = re.search(r"move it (\d+)″ north", problem.repair)
    assert move, problem.repair
    kept(hung(lights=[deep | {"north": f"{102 + int(move[1])} in"}]))


@pytest.mark.parametrize(("north", "moved"), [("82 in", "3″ north"), ("121 in", "2″ south")])
def test_a_light_outside_the_ladders_is_told_how_far_to_move(north: str, moved: str) -> None:
    """The ladders leave 83 to 121; a 4 in light's middle has to stay between 85 and 119."""
    problem = refused(hung(lights=[LIGHT | {"north": north}]))
    assert problem.code == "fitting-outside"
    assert moved in problem.repair


def test_two_fittings_in_one_place_are_told_how_far_apart() -> None:
    """A light 2 in into a register has to go 2 in, and the rim of 1/4 in if that is along the run."""
    grille = {"what": "grille", "east": "88 in to 118 in", "north": "106 in to 112 in"}
    problem = refused(hung(lights=[LIGHT], registers=[grille]))
    assert problem.code == "fittings-meet"
    assert "move it 2″ north" in problem.repair


def test_a_damper_in_the_soffit_gets_an_opening_with_a_cover() -> None:
    """A panel of 12 x 12 in in the bottom: headers all round, board cut out, the cover in its place."""
    found = kept(hung(access=[cover(east="100 in to 112 in", north="106 in to 118 in", above_slab="78.5 in")]))

    (panel,) = [part.solid.bounds() for part in found.parts if part.role == "cover"]
    assert (panel.size("x"), panel.size("y")) == (12, 12)
    assert len([part for part in found.parts if part.role == "header"]) == 2
    crossers = [part.solid.bounds() for part in found.parts if part.role == "crosser"]
    assert not [b for b in crossers if b.low.x < 112 and b.high.x > 100 and b.low.y < 118 and b.high.y > 106]


def test_a_cover_in_the_side_of_a_wall_soffit() -> None:
    """The side that looks south, 24-1/2 in off the north block: rungs at both sides of the panel, headers over it."""
    at = {"along": "100 in to 108 in", "off_the_block": "24.5 in", "above_slab": "79 in to 87 in"}
    found = kept(wall(access=[cover("magnetic panel", "8 x 8 in", **at)]))

    rungs = [part.solid.bounds() for part in found.parts if part.role == "rung"]
    assert not [b for b in rungs if b.low.x < 108 and b.high.x > 100 and b.low.z < 87 and b.high.z > 79]
    assert [part for part in found.parts if part.role == "cover"]


@pytest.mark.parametrize("sort", ["hung", "wall"])
def test_a_cover_in_the_closed_end_of_a_soffit(sort: str) -> None:
    """Its board ends 1/2 in past the framing: the panel of 10 x 4 in lies there, an upright at each side of it."""
    if sort == "hung":
        at = {"east": "57.5 in", "north": "96 in to 106 in", "above_slab": "82 in to 86 in"}
        plain, found = kept(hung()), kept(hung(access=[cover(size="10 x 4 in", **at)]))
    else:
        at = {"along": "9.5 in", "off_the_block": "10 in to 20 in", "above_slab": "82 in to 86 in"}
        plain, found = (
            kept(record([SHORT], {"wall soffit": FREE_END}, access=access))
            for access in ([], [cover(size="10 x 4 in", **at)])
        )
    (panel,) = [part.solid.bounds() for part in found.parts if part.role == "cover"]
    assert (panel.size("y"), panel.size("z")) == (10, 4)
    uprights = [part.solid.bounds() for part in found.parts if part.role == "end upright"]
    edges = [edge for b in uprights if b.low.x < panel.high.x + 2 for edge in (b.low.y, b.high.y)]
    assert {panel.low.y, panel.high.y} <= set(edges)
    assert not [b for b in uprights if b.low.x < panel.high.x + 2 and b.low.y < panel.high.y and panel.low.y < b.high.y]
    assert len([part for part in found.parts if part.role == "header"]) == 2
    areas = [sum(f.outline.area() for f in one.faces if f.axis == "x") for one in (plain, found)]
    assert areas[0] - areas[1] == 40 == board_area(plain, "x") - board_area(found, "x")


def test_a_plate_without_a_size_is_as_large_as_the_box_under_it() -> None:
    """A 4 in square box, 1-1/2 in deep (NEC table 314.16(A)), brought out to the face: its 16 sq in are cut out."""
    box = {"what": "Junction box", "fitting": "4 in square box", "system": "power", "known": MEASURED,
           "at": {"east": "70 in", "north": "112 in", "below joists": "10.25 in"}}  # fmt: skip
    plate = cover("cover plate", None, east="70 in", north="112 in", above_slab="78.5 in")
    found, _ = solved_one(hung(box, access=[plate]), partitions=P1)
    (piece,) = [part.solid.bounds() for part in found.parts if part.role == "cover"]
    assert (piece.low.x, piece.high.x, piece.low.y, piece.high.y) == (68, 72, 110, 114)
    plain, _ = solved_one(hung(), partitions=P1)
    areas = [next(f.outline.area() for f in one.faces if f.name == "bottom") for one in (plain, found)]
    assert areas[0] - areas[1] == 16
    crossers = [part.solid.bounds() for part in found.parts if part.role == "crosser"]
    assert not [b for b in crossers if b.low.x < 72 and b.high.x > 68 and b.low.y < 114 and b.high.y > 110]
    assert refused(hung(access=[plate])).code == "cover-size-missing"


@pytest.mark.parametrize(
    ("point", "code"),
    [
        (
            cover(size="12 x 6 in", east="100 in to 112 in", north="118 in to 124 in", above_slab="78.5 in"),
            "cover-past-soffit",
        ),
        (cover(east="58 in to 70 in", north="106 in to 118 in", above_slab="78.5 in"), "cover-past-soffit"),
        (cover(size=None, east="106 in", north="112 in", above_slab="84 in"), "cover-size-missing"),
        (cover(east="106 in", north="112 in", above_slab="84 in"), "cover-in-no-face"),
    ],
)
def test_an_access_point_that_can_not_be_framed_is_never_silent(point: dict[str, Any], code: str) -> None:
    """A cover on a ladder, one at the end of the run, one without a size, and one in the middle of the cavity."""
    assert refused(hung(access=[point])).code == code


@pytest.mark.parametrize("run", ["east", "north"])
def test_the_ladders_of_all_three_soffits_hang_on_blocks_where_they_run_along_the_joists(run: str) -> None:
    """The joists run north: a run that goes north between two of them hangs on flat 2x4 from joist to joist."""
    along = {"along": run, "from": "58 in", "to": "200 in"}
    across = "north" if run == "east" else "east"
    own = duct("Duct", "14 x 8", **{run: "60 in to 190 in", across: "92 in to 106 in", "above_slab": "81 in to 89 in"})
    between = {"hung soffit": {"between": "90 in to 108.5 in", "framing bottom": "79 in above slab"}}
    beam = BEAM | {
        "body": {"wide": "4 in" if run == "north" else "200 in", "deep": "200 in", "high": "8 in"},
        "at": {run: "40 in to 240 in", across: "97.5 in to 101.5 in", "above slab": "81.5 in to 89.5 in"},
    }
    if run == "east":
        beam["body"] = {"wide": "200 in", "deep": "4 in", "high": "8 in"}
    box = {"beam soffit": {"framing bottom": "80 in above slab", "finished width": "11 in"}}
    wall_run = {"along": "west wall" if run == "north" else "north wall", "from": "58 in", "to": "200 in"}
    pipe = DRAIN | {"at": {"along": "60 in to 190 in", "off the block": "7 in", "above slab": "82 in"},
                    "couplings": []}  # fmt: skip
    sided = {"wall soffit": {"framing bottom": "77 in above slab", "outside": "15 in off the block"}}
    for file in (
        record([own], between, run=along, kind="duct"),
        record([beam], box, run=along, kind="beam"),
        record([pipe], sided, run=wall_run),
    ):
        found, _ = solved_one(file)
        blocks = [part.solid.bounds() for part in found.parts if part.role == "nailer"]
        assert bool(blocks) == (run == "north"), found.treatment
        assert all(box.low.z == Fraction("89.5") for box in blocks)
        tops = [part.solid.bounds() for part in found.parts if part.role == "top rail"]
        for rail in tops if blocks else ():
            over = [b for b in blocks if b.low.y < rail.high.y and b.high.y > rail.low.y]
            assert max(b.high.x for b in over) >= rail.high.x - 1


@st.composite
def opened_records(draw: st.DrawFn) -> ObstacleFile:
    """Draw a hung soffit with a branch through a side, a register, a light and a cover that do not meet."""
    at = draw(st.integers(66, 90))
    wide = draw(st.sampled_from([6, 12, 20, 30]))
    up = draw(st.sampled_from(["80.5 in to 86.5 in", "83.5 in to 89.5 in"]))
    side = draw(st.sampled_from(["106 in to 150 in", "60 in to 82.9 in"]))
    side = "104 in to 150 in" if side.startswith("106") else "60 in to 84 in"
    branch = duct("Branch", f"{wide} x 6", east=f"{at} in to {at + wide} in", north=side, above_slab=up)
    low = draw(st.integers(126, 140))
    register = {"what": "grille", "east": f"{low} in to {low + draw(st.sampled_from([4, 12, 30]))} in",
                "north": f"{draw(st.integers(86, 100))} in to {draw(st.integers(106, 118))} in"}  # fmt: skip
    light = LIGHT | {"east": f"{draw(st.integers(176, 190))} in"}
    spacing = draw(st.sampled_from(["12 in", "16 in", "24 in"]))
    return hung(branch, lights=[light], registers=[register], rungs=spacing)


def promises(file: ObstacleFile) -> None:
    """Assert the promises, and that board and face lose the same area."""
    assert file.record.treatment is not None
    assert file.record.treatment.hung_soffit is not None
    assert file.record.treatment.hung_soffit.rungs is not None
    kept(file, float(file.record.treatment.hung_soffit.rungs.inches))


@given(opened_records())
@settings(max_examples=12, derandomize=True)
def test_every_opened_soffit_keeps_the_promises_of_the_model(file: ObstacleFile) -> None:
    """Whatever leaves it or is let into it: nothing meets, every edge of board is held."""
    promises(file)


@pytest.mark.long
@given(opened_records())
@settings(max_examples=2000)
def test_thousands_of_opened_soffits_keep_them(file: ObstacleFile) -> None:
    """The same, for long."""
    promises(file)

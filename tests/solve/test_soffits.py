from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookgen.model.assembly import Assembly, Part
from bookgen.model.length import inches
from bookgen.model.project import ObstacleFile
from bookgen.solve import solve
from bookgen.solve.clash import clashes, parts_that_meet
from tests.solve.level_fixture import BEAM, DRAIN, MEASURED, P1, SUPPLY, codes, project, record, solved_one
from tests.solve.soffit_promises import loose_edges, too_long_to_buy, wide_bays

WALL = {"outside": "12 in off the block", "framing bottom": "77 in above slab", "along": "4.1 in to 204 in"}
HUNG = {"between": "81.5 in to 122.5 in", "framing bottom": "79 in above slab"}
BOX = {"framing bottom": "80 in above slab", "finished width": "11 in", "along": "4.1 in to 204 in"}
EAST = {"along": "east", "from": "58 in", "to": "300 in"}
WHOLE = {"along": "east", "from": "0 in", "to": "432 in"}
POST = {
    "what": "Steel post", "post": "3-1/2 in steel post", "system": "structure", "known": MEASURED,
    "at": {"east": "68 in", "north": "144 in", "above slab": "0 in to 81.5 in"},
}  # fmt: skip


def assembly(file: ObstacleFile, **more: Any) -> Assembly:
    """Return the treatment of the only record."""
    return solved_one(file, **more)[0]


def wall_soffit(**choices: Any) -> ObstacleFile:
    """Return the sample's drain with its soffit, choices replaced."""
    return record([DRAIN], {"wall soffit": WALL | {key.replace("_", " "): one for key, one in choices.items()}})


def hung_soffit(**choices: Any) -> ObstacleFile:
    """Return the sample's supply duct with its soffit, choices replaced."""
    written = HUNG | {key.replace("_", " "): one for key, one in choices.items()}
    return record([SUPPLY], {"hung soffit": written}, run=EAST, kind="duct")


def beam_soffit(*more: dict[str, Any], **choices: Any) -> ObstacleFile:
    """Return the sample's beam with its soffit, choices replaced, and more things inside."""
    written = BOX | {key.replace("_", " "): one for key, one in choices.items()}
    return record([BEAM, *more], {"beam soffit": written}, run=WHOLE, kind="beam")


def by_role(found: Assembly, role: str) -> list[Part]:
    """Return the parts with that role, along the run."""
    return sorted((p for p in found.parts if p.role == role), key=lambda part: part.solid.bounds().low.x)


def test_the_wall_soffit_of_the_sample_has_the_sizes_of_its_site_notes() -> None:
    """Framing 12 off the block and 77 up: finished 12-1/2 off, 76.2 over a floor 0.3 thick (site notes of Tamarack)."""
    found = assembly(wall_soffit(), partitions=P1)

    assert found.measure("framed off the block") == inches(12)
    assert found.measure("finished off the block") == inches("12.5")
    assert found.measure("framed drop") == inches("12.5")
    assert found.measure("headroom") == inches("76.2")
    assert found.run == (Fraction("4.1"), 204)


def test_a_wall_soffit_hangs_from_the_joists_and_stands_on_its_cleat() -> None:
    """Rails, rungs, cleat and crossers lie where a framer puts them, at the true size of a 2x2."""
    found = assembly(wall_soffit(), partitions=P1)

    top, *_ = by_role(found, "top rail")
    bottom, *_ = by_role(found, "bottom rail")
    cleat, *_ = by_role(found, "cleat")
    assert top.solid.bounds().high.z == Fraction("89.5")
    assert (top.solid.bounds().low.y, top.solid.bounds().high.y) == (Fraction("10.5"), 12)
    assert bottom.solid.bounds().low.z == 77
    assert (cleat.solid.bounds().low.y, cleat.solid.bounds().high.y) == (Fraction("4.1"), Fraction("5.6"))
    for crosser in by_role(found, "crosser"):
        assert (crosser.solid.bounds().low.y, crosser.solid.bounds().high.y) == (Fraction("5.6"), Fraction("10.5"))
    assert not by_role(found, "end rail")


def test_an_end_in_the_open_is_closed() -> None:
    """A soffit that stops short of a wall gets a frame and a board over its end; one that meets it gets none."""
    at = {"along": "40 in to 140 in", "off the block": "7 in", "above slab": "82 in"}
    file = record([DRAIN | {"at": at}], {"wall soffit": WALL | {"along": "4.1 in to 150 in"}})
    found = assembly(file, partitions=P1)

    ends = [part for part in found.parts if part.name.startswith("east end")]
    assert ends
    assert not [part for part in found.parts if part.name.startswith("west end")]
    (board,) = [part for part in ends if part.role == "board"]
    assert (board.solid.bounds().low.x, board.solid.bounds().high.x) == (150, Fraction("150.5"))
    assert {face.name for face in found.faces} == {"bottom", "south side", "east end"}


def test_sizes_left_out_follow_from_the_furthest_and_the_lowest() -> None:
    """The coupling reaches 9 in and the pipe hangs to 80-1/4: with 1/2 in free and a 2x2 each, 11 off and 78-1/4 up."""
    file = record([DRAIN], {"wall soffit": {"along": "4.1 in to 204 in"}})
    found = assembly(file, partitions=P1)

    assert found.measure("framed off the block") == inches(11)
    assert found.anchors["framing bottom"].z == Fraction("78.25")


def test_the_section_is_cut_where_the_thing_is_furthest_out_and_no_rung_stands() -> None:
    """The coupling at 128 in governs: the plane goes through it, and between rungs, crossers and joists."""
    found = assembly(wall_soffit(), partitions=P1)

    assert 126 < found.section_at < 130
    assert not [p for p in (*by_role(found, "rung"), *by_role(found, "crosser")) if p.solid.cut("x", found.section_at)]


def test_the_records_own_station_overrides() -> None:
    """section at: is taken as it is."""
    file = record([DRAIN], {"wall soffit": WALL}, section_at="100 in")

    assert assembly(file, partitions=P1).section_at == 100


def test_the_run_along_the_joists_gets_blocks_to_hang_from() -> None:
    """On the west wall the rail lies between two joists, 8 and 24 in east: blocks of flat 2x4 span that bay."""
    at = {"along": "40 in to 192 in", "off the block": "7 in", "above slab": "84 in"}
    file = record(
        [DRAIN | {"at": at}],
        {"wall soffit": WALL | {"along": "40 in to 200 in", "outside": "14 in off the block"}},
        run={"along": "west wall", "from": "40 in", "to": "192 in"},
    )
    found = assembly(file)

    nailers = by_role(found, "nailer")
    assert len(nailers) > 5
    assert {(b.low.y, b.high.y) for b in (part.solid.bounds() for part in nailers)} == {
        (Fraction("8.75"), Fraction("23.25"))
    }
    assert {part.solid.bounds().low.z for part in nailers} == {Fraction("89.5")}


def test_a_rail_right_under_a_joist_needs_no_blocks() -> None:
    """With its outer face 8-1/2 in off the west wall the rail lies under the joist at 8 in."""
    at = {"along": "40 in to 192 in", "off the block": "5 in", "above slab": "84 in"}
    small = DRAIN | {"at": at, "pipe": "1-1/2 in PVC drain", "couplings": []}
    file = record(
        [small],
        {"wall soffit": {"framing bottom": "77 in above slab", "outside": "8-1/2 in off the block"}},
        run={"along": "west wall", "from": "40 in", "to": "192 in"},
    )

    assert not by_role(assembly(file), "nailer")


def test_the_hung_soffit_of_the_sample_has_the_sizes_of_its_site_notes() -> None:
    """Sides at 81.5 and 122.5, bottom at 79: finished 81 and 123, 78.2 over the floor (site notes of Tamarack)."""
    found = assembly(hung_soffit())

    sides = {face.name: face.at for face in found.faces}
    assert (sides["south side"], sides["north side"]) == (81, 123)
    assert found.measure("finished width") == inches(42)
    assert found.measure("headroom") == inches("78.2")


def test_crossers_step_round_lights_and_registers() -> None:
    """A light on a crosser's station moves it; both sides of a register have one hard by it."""
    light = {"what": "light", "diameter": "4 in", "deep": "1-1/2 in", "east": "90 in", "north": "102 in"}
    register = {"what": "register", "east": "132 in to 144 in", "north": "91.5 in to 97.5 in"}
    found = assembly(hung_soffit(lights=[light], registers=[register]))

    rooms = [part.solid.bounds() for part in by_role(found, "crosser")]
    assert not [room for room in rooms if room.low.x < 92 and room.high.x > 88]
    assert {132, 144} <= {edge for room in rooms for edge in (room.low.x, room.high.x)}
    assert len([part for part in found.parts if part.role in {"light", "register"}]) == 2


def test_the_beam_soffit_of_the_sample_has_the_sizes_of_its_site_notes() -> None:
    """Finished 11 in wide round a 4 in flange, framing bottom 80, 1-1/2 in below the beam (site notes of Tamarack)."""
    found = assembly(beam_soffit(), partitions=P1)

    assert found.measure("finished width") == inches(11)
    assert found.measure("framed width") == inches(10)
    assert found.measure("headroom") == inches("79.2")
    (low, high) = sorted({part.solid.bounds().low.y for part in by_role(found, "bottom rail")})
    assert (low, high) == (139, Fraction("147.5"))


def test_blocks_reach_from_the_ladders_to_the_web() -> None:
    """They fit between the flanges and end at the steel, at no more than 48 in apart where rungs stand at 16."""
    found = assembly(beam_soffit(), partitions=P1)

    blocks = [part for part in by_role(found, "block") if part.name.startswith("south side")]
    assert {part.solid.bounds().low.y for part in blocks} == {Fraction("140.5")}
    assert {part.solid.bounds().high.y for part in blocks} == {Fraction("143.875")}
    middles = [part.solid.bounds().low.x for part in blocks]
    assert all(after - before <= 48 for before, after in pairwise(middles))


def test_crossers_stand_clear_of_a_post_and_the_board_is_cut_round_it() -> None:
    """A post of 3-1/2 in goes down through the bottom: nothing of the soffit meets it."""
    found = assembly(beam_soffit(POST), partitions=P1)

    assert not [
        p for p in by_role(found, "crosser") if p.solid.bounds().low.x < 69.75 and p.solid.bounds().high.x > 66.25
    ]
    under = [part for part in found.parts if part.role == "board" and part.name.startswith("bottom board")]
    assert len(under) > 1


def test_the_ladder_may_be_of_wider_stock() -> None:
    """A 2x4 ladder stands on edge: its rails are 3-1/2 in high and 1-1/2 in thick."""
    found = assembly(wall_soffit(ladder="2x4"), partitions=P1)

    rail, *_ = by_role(found, "bottom rail")
    assert (rail.solid.bounds().size("y"), rail.solid.bounds().size("z")) == (Fraction("1.5"), Fraction("3.5"))


def test_unknown_stock_is_a_problem_of_the_record() -> None:
    """2x7 is sold nowhere."""
    assert codes(wall_soffit(ladder="2x7"), partitions=P1) == ["unknown-stock"]


def test_a_problem_says_how_deep_and_what_to_choose() -> None:
    """The crossers would go 1/4 in into the drain's lowest end; the repair names the height that clears it."""
    _, problems = solve(project(wall_soffit(framing_bottom="79 in above slab"), partitions=P1))

    (problem,) = problems
    assert problem.code == "part-meets-obstacle"
    assert "Main drain" in problem.rule
    assert "78\u200a3\u20444\u2033 above slab" in problem.repair


def test_clearance_counts_as_part_of_the_thing() -> None:
    """With 2 in asked for round the pipe, the crossers 1-3/4 in under it are too near."""
    file = record([DRAIN | {"clearance": "2 in"}], {"wall soffit": WALL})

    assert set(codes(file, partitions=P1)) == {"part-meets-obstacle"}


@pytest.mark.parametrize("file", [wall_soffit(), hung_soffit(), beam_soffit(POST)], ids=["wall", "hung", "beam"])
def test_the_same_record_gives_the_same_soffit(file: ObstacleFile) -> None:
    """Nothing depends on what was solved before, nor on the order of a set."""
    assert assembly(file, partitions=P1) == assembly(file, partitions=P1)


tapes = st.integers(min_value=0, max_value=64).map(lambda n: Fraction(n, 16))


@st.composite
def wall_records(draw: st.DrawFn) -> ObstacleFile:
    """Draw a drain and a wall soffit that clears it."""
    off = 7 + draw(tapes)
    up = 80 + draw(tapes)
    start = draw(st.integers(5, 120))
    length = draw(st.integers(24, 90))
    at = {
        "along": f"{start} in to {start + length} in", "off the block": f"{off} in", "above slab": f"{up} in",
        "rises": draw(st.sampled_from(["1/4 in per ft to the east", "1/8 in per ft to the west"])),
    }  # fmt: skip
    pipe = DRAIN | {"at": at, "couplings": [f"{start + length // 2} in"]}
    choices: dict[str, Any] = {"rungs": draw(st.sampled_from(["12 in", "16 in", "24 in"]))}
    if draw(st.booleans()):
        choices |= {"outside": f"{off + 2 + Fraction(3, 2) + draw(tapes)} in off the block"}
        choices |= {"framing bottom": f"{up - 2 - Fraction(3, 2) - draw(tapes)} in above slab"}
    if draw(st.booleans()):
        choices |= {"along": f"{draw(st.integers(5, 20))} in to 204 in"}
    run = {"along": draw(st.sampled_from(["north wall", "south wall"])), "from": f"{start} in", "to": "204 in"}
    return record([pipe], {"wall soffit": choices}, run=run)


@st.composite
def hung_records(draw: st.DrawFn) -> ObstacleFile:
    """Draw a duct and a hung soffit that clears it, along or across the joists, with a light under it."""
    wide, high = draw(st.sampled_from([(20, 8), (14, 8), (10, 6)]))
    under = 78 + draw(tapes) / 2
    way = draw(st.sampled_from(["east", "north"]))
    low = draw(st.integers(80, 110))
    start, end = draw(st.integers(10, 60)), draw(st.integers(110, 200))
    along, across = ("east", "north") if way == "east" else ("north", "east")
    duct = SUPPLY | {
        "duct": f"{wide} x {high}",
        "at": {along: f"{start} in to {end} in", across: f"{low} in to {low + wide} in",
               "above slab": f"{under} in to {under + high} in"},
    }  # fmt: skip
    slack = [Fraction(3, 2) + draw(tapes) for _ in range(3)]
    choices: dict[str, Any] = {
        "between": f"{low - slack[0]} in to {low + wide + slack[1]} in",
        "framing bottom": f"{under - slack[2]} in above slab",
        "rungs": draw(st.sampled_from(["12 in", "16 in", "24 in"])),
        "lights": [{"what": "light", "diameter": "4 in", "deep": "1-1/2 in",
                    along: f"{draw(st.integers(start, end))} in", across: f"{low + wide // 2} in"}],
    }  # fmt: skip
    run = {"along": way, "from": f"{start - 4} in", "to": f"{end + 4} in"}
    return record([duct], {"hung soffit": choices}, run=run, kind="duct")


@st.composite
def beam_records(draw: st.DrawFn) -> ObstacleFile:
    """Draw a beam with a post under it, and a beam soffit that clears both."""
    post = POST | {"at": POST["at"] | {"east": f"{draw(st.integers(20, 180))} in"}}
    choices = {
        "framing bottom": f"{80 - draw(tapes)} in above slab",
        "finished width": f"{8 + draw(tapes)} in",
        "along": f"{draw(st.integers(4, 15))} in to {draw(st.integers(190, 210))} in",
        "rungs": draw(st.sampled_from(["12 in", "16 in", "24 in"])),
    }
    return record([BEAM, post], {"beam soffit": choices}, run=WHOLE, kind="beam")


ALL = pytest.mark.parametrize("records", [wall_records(), hung_records(), beam_records()], ids=["wall", "hung", "beam"])


def promised(file: ObstacleFile) -> None:
    """Assert what every soffit promises of a record."""
    found, inside = solved_one(file, partitions=P1)
    assert not [(a.name, b.name) for a, b in parts_that_meet(found.parts)]
    assert not clashes(found.parts, inside)
    ((_, choices),) = file.record.treatment.chosen() if file.record.treatment is not None else ()
    spacing = float(choices.rungs.inches)  # type: ignore[attr-defined]
    assert not loose_edges(found, spacing)
    assert not wide_bays(found, spacing)
    assert not too_long_to_buy(found)
    for measure in found.measures:
        ends = (found.anchors[measure.start].on(measure.axis), found.anchors[measure.end].on(measure.axis))
        assert measure.value.inches == abs(ends[0] - ends[1])


@ALL
def test_every_soffit_keeps_the_promises_of_the_model(records: st.SearchStrategy[ObstacleFile]) -> None:
    """No part meets a part or a hidden thing, every board is held, a size is the distance it says."""
    settings(max_examples=15, derandomize=True)(given(records)(promised))()


@pytest.mark.long
@ALL
def test_thousands_of_soffits_keep_them(records: st.SearchStrategy[ObstacleFile]) -> None:
    """The same, for long."""
    settings(max_examples=3000)(given(records)(promised))()

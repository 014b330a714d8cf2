"""What the trade meets in a lower level, each as a small record that solves: meter, pit, boxes, well, low duct."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from bookgen.model.assembly import HiddenThing
from bookgen.model.geometry import Box, box
from bookgen.model.problem import Severity
from bookgen.solve.level import solve_level
from bookgen.solve.treatments.stud_wall import linings
from bookgen.trade.fitting import fitting, fittings
from tests.solve.house import level, span, thing
from tests.solve.level_fixture import MEASURED, P1, codes, hidden, project, record, solved

ACCESS = {"what": "Valve", "where": "behind the cover", "known": MEASURED}


def one(**more: Any) -> HiddenThing:
    """Return the one hidden thing of a record with those keys."""
    (found,), problems = hidden({"what": "Thing", "system": "water", "known": MEASURED} | more)
    assert problems == (), [str(problem) for problem in problems]
    return found


def room(found: HiddenThing) -> Box:
    """Return the box round the first solid of a thing."""
    return found.solids[0].bounds()


def test_a_meter_stands_in_an_upright_pipe_and_lies_in_one_along_the_wall() -> None:
    """A 5/8 in meter is 7-1/2 in long between its unions (AWWA C700, from memory), whichever way its pipe goes."""
    at = {"along": "100 in", "off the block": "6 in", "above slab": "40 in"}
    upright = room(one(fitting="5/8 in water meter", at=at))
    assert (upright.size("z"), upright.low.z) == (Fraction("7.5"), Fraction("36.25"))
    lying = room(one(fitting="5/8 in water meter", at=at | {"along": "96 in to 104 in"}))
    assert (lying.size("x"), lying.size("z")) == (Fraction("7.5"), 4)


def test_a_main_valve_is_solved_behind_its_opening() -> None:
    """Meter and valve on one line behind the lining, and a cover sized by the part that has to come out: 12 x 16."""
    inside = [
        {"what": "Main valve", "fitting": "3/4 in ball valve", "system": "water", "known": MEASURED,
         "at": {"along": "170 in", "off the block": "1.6 in", "above slab": "30 in"}},
        {"what": "Water meter", "fitting": "5/8 in water meter", "system": "water", "known": MEASURED,
         "at": {"along": "170 in", "off the block": "2.1 in", "above slab": "40 in"}},
    ]  # fmt: skip
    at = {"along": "170 in", "off the block": "4.6 in", "above slab": "36 in"}
    opening = {"access opening": {"at": at, "what passes": "the meter", "passes": ["part"]}}
    run = {"along": "east wall", "from": "160 in", "to": "180 in"}
    found = solved(record(inside, opening, run=run, room="guest", kind="water service"))
    built = found.obstacles[0].assembly
    assert built is not None
    sides = sorted(built.measure(f"{name} of the opening").inches for name in ("width", "height"))
    assert sides[0] >= 12
    assert sides[1] >= 16


def test_an_ejector_pit_goes_down_under_its_lid() -> None:
    """A 24 in pit, 24 deep: its lid lies on the slab, its basin under it."""
    at = {"east": "410 in", "north": "20 in", "above slab": "0 in"}
    lid, basin = one(fitting="24 in ejector pit", at=at, system="waste").solids
    assert lid.bounds().size("x") == 24
    assert (basin.bounds().low.z, basin.bounds().high.z) == (-24, 0)


def test_a_junction_box_under_the_joists_lies_flat() -> None:
    """4 x 4 x 1-1/2 in, as NEC table 314.16(A) names it: its depth goes up from the ceiling."""
    at = {"east": "262 in", "north": "200 in", "below joists": "3/4 in"}
    found = room(one(fitting='4" square box', at=at, system="power"))
    assert (found.size("x"), found.size("y"), found.size("z")) == (4, 4, Fraction("1.5"))
    assert found.high.z == Fraction("89.5")


def test_an_outdoor_tap_is_shut_off_above_a_board_ceiling() -> None:
    """Its valve lies over the plain ceiling between two joists, and the cover under it is framed there."""
    spot = {"east": "299 in to 301 in", "north": "100 in", "above slab": "94 in"}
    valve = {"what": "Outdoor tap", "fitting": "1/2 in stop and waste valve", "system": "water", "known": MEASURED}
    hall = {"hall": {"name": "Hall", "use": "hall", "ceiling": "89 in above slab", "outline": [
        ["208 in", "4.6 in"], ["427 in", "4.6 in"], ["427 in", "141.75 in"], ["208 in", "141.75 in"]]}}  # fmt: skip
    at = {"east": "304 in", "north": "100 in", "above slab": "89 in"}
    opening = {"access opening": {"at": at, "what passes": "a hand", "passes": ["two hands"]}}
    run = {"along": "east", "from": "290 in", "to": "320 in"}
    found = solved(record([valve | {"at": spot}], opening, run=run, room="hall", kind="lines"), rooms=hall)
    built = found.obstacles[0].assembly
    assert built is not None
    hole = next(part.solid.bounds() for part in built.parts if part.role == "cover")
    ceilings = [p.solid.bounds() for a in found.level.linings if a.treatment == "plain ceiling" for p in a.parts]
    assert ceilings
    assert not any(board.overlaps(hole) for board in ceilings)


@pytest.mark.parametrize("row", fittings(), ids=lambda row: row.name)
def test_every_fitting_is_found_by_its_name_and_has_a_body(row: Any) -> None:
    """Names are as they are bought; no size is nothing."""
    assert fitting(row.name) is row
    assert min(row.wide, row.high, row.deep).inches > 0


def test_an_unknown_fitting_is_a_problem_with_the_nearest_names() -> None:
    """A slip of the pen is answered with what the table has."""
    _, problems = hidden({"what": "Valve", "system": "water", "known": MEASURED, "fitting": "3/4 in bal valve",
                          "at": {"east": "1 in", "north": "1 in", "above slab": "1 in"}})  # fmt: skip
    assert [problem.code for problem in problems] == ["unknown-size"]
    assert "3/4 in ball valve" in problems[0].repair


WINDOW = {
    "what": "Egress", "wall": "east wall", "along": "214 in to 250 in", "sill": "40 in above slab",
    "head": "82 in above slab", "egress": "yes",
    "well": {"out": "36 in", "wide": "42 in", "bottom": "36 in above slab", "top": "76 in above slab"},
}  # fmt: skip


def test_a_window_well_stands_outside_the_block() -> None:
    """8 in block is 7-5/8 in (ASTM C90): the well goes from there 36 in further out, 3 in past the window each way."""
    found, problems = solve_level(project(windows={"egress": WINDOW}))
    assert found is not None, problems
    sides = [part.solid.bounds() for part in found.shell if part.role == "window well"]
    assert len(sides) == 3
    assert min(b.low.x for b in sides) == Fraction("432") + Fraction("7.625")
    assert max(b.high.x for b in sides) == Fraction("439.625") + 36 + Fraction(1, 4)
    assert (min(b.low.y for b in sides), max(b.high.y for b in sides)) == (Fraction("210.75"), Fraction("253.25"))


@pytest.mark.parametrize(
    ("change", "code"),
    [({"wide": "30 in"}, "well-past-window"), ({"bottom": "50 in above slab"}, "well-past-window"),
     ({"top": "30 in above slab"}, "well-upside-down")],
)  # fmt: skip
def test_a_well_that_can_not_be_is_a_problem(change: dict[str, Any], code: str) -> None:
    """Narrower than its window, over its sill, or with its rim under its floor."""
    window = WINDOW | {"well": dict(WINDOW["well"]) | change}  # type: ignore[call-overload]
    assert codes(windows={"egress": window}) == [code]


def test_a_well_too_small_to_climb_out_of_is_found() -> None:
    """36 x 42 in is 10.5 sq ft; 30 x 42 is 8.75, under the 9 sq ft and 36 in of IRC R310 (Greenwood Village)."""
    small = WINDOW | {"well": dict(WINDOW["well"]) | {"out": "30 in"}}  # type: ignore[call-overload]
    for window, grave in ((WINDOW, 0), (small, 2)):
        found = [f for f in solved(windows={"egress": window}).findings if f.code == "window-well-small"]
        assert sum(f.severity is not Severity.WITHIN for f in found) == grave


def test_a_low_duct_across_a_doorway_says_how_high_its_head_may_be() -> None:
    """A duct 74 in up: under it 1-1/2 of header and 3/4 of jamb leave 71-3/4 in for the doorway."""
    door = {"what": "Doorway", "along": "60 in to 92 in", "head": "75.85 in above slab"}
    walls = {"P1": P1["P1"] | {"openings": [door]}}
    duct = thing("Duct", box(span(100, 300), span(70, 90), span(74, 82), "x"))
    whole = project(partitions=walls)
    (problem,) = linings(whole, level(whole), (duct,))[1]
    assert (problem.code, problem.field) == ("doorway-crossed", "partitions > P1 > openings > 1 > head")
    assert "5\u2032\u00a011\u200a3\u20444\u2033" in problem.repair
    higher = thing("Duct", box(span(100, 300), span(70, 90), span("80.5", "88.5"), "x"))
    assert linings(whole, level(whole), (higher,))[1] == ()


@pytest.mark.parametrize(
    ("code", "fitting", "system", "kind", "height"),
    [
        ("box-shut-in", "4 in square box", "power", "hidden work", "92 in"),
        ("valve-shut-in", "5/8 in water meter", "water", "water service", "95 in"),
        ("pit-lid-covered", "24 in ejector pit", "waste", "pit", "0 in"),
    ],
)
def test_checks_know_a_fitting_by_its_trade_name(code: str, fitting: str, system: str, kind: str, height: str) -> None:
    """A box or a meter over a board ceiling is found whatever the owner calls it, and a pit by its trade name."""
    inside = {"what": "It", "fitting": fitting, "system": system, "known": MEASURED,
              "at": {"east": "300 in", "north": "100 in", "above slab": height}}  # fmt: skip
    hall = [["208 in", "4.6 in"], ["427 in", "4.6 in"], ["427 in", "141.75 in"], ["208 in", "141.75 in"]]
    rooms = {"hall": {"name": "Hall", "use": "hall", "ceiling": "89 in above slab", "outline": hall}}
    found = solved(record([inside], None, run=None, kind=kind, room="hall"), rooms=rooms).findings
    said = [one for one in found if one.code == code and one.where.startswith("It")]
    assert said
    assert not any("no lid is recorded" in one.says for one in said)

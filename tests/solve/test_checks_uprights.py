"""What checks say of sizes as taped, of openings too small for what passes, and of board that can't lie flush."""

from __future__ import annotations

from typing import Any

import pytest

from bookgen.model.problem import Finding, Severity
from tests.solve.level_fixture import BEAM, MEASURED, record, solved

POST = {
    "what": "Post", "post": "3-1/2 in round steel", "system": "structure", "known": MEASURED,
    "at": {"east": "68 in", "north": "144 in", "above slab": "0 in to 81 in"},
}  # fmt: skip
RUN = {"along": "east", "from": "64 in", "to": "72 in"}


def found(code: str, inside: list[dict[str, Any]], treatment: dict[str, Any] | None, **more: Any) -> list[Finding]:
    """Return what one check says of one record on the small level; *level* replaces keys of the project."""
    of = more.pop("level", {})
    return [one for one in solved(record(inside, treatment, **more), **of).findings if one.code == code]


@pytest.mark.parametrize(
    ("finished", "severity", "apart"),
    [("8 in", Severity.WITHIN, "0″"), ("203 mm", Severity.WITHIN, "0″"), ("7-7/8 in", Severity.NOTE, "1⁄8″")],
)
def test_a_taped_size_that_the_sticks_do_not_make_is_found(finished: str, severity: Severity, apart: str) -> None:
    """Four 2x6 flats and two boards make 5-1/2 + 1-1/2 + 1 = 8 in (PS 20); a tape reads 203.2 mm as 203."""
    wrap = {"post wrap": {"flats": "2x6", "finished": finished, "top": "80 in above slab"}}
    (one,) = found("taped-size-differs", [POST], wrap, run=RUN, kind="post")
    assert one.severity is severity
    assert one.measured == f"{apart} apart"


@pytest.mark.parametrize(("passes", "severity"), [("two hands", Severity.WITHIN), ("rod", Severity.ASK)])
def test_an_opening_too_small_for_what_passes_is_found(passes: str, severity: Severity) -> None:
    """Two hands go through 8 x 8 in; a drain rod with the hands that feed it wants 12 x 12, as the trade leaves it."""
    at = {"along": "166 in to 174 in", "off the block": "4.6 in", "above slab": "30 in to 38 in"}
    opening = {"access opening": {"opening": "8 x 8 in", "at": at, "what passes": "it", "passes": [passes]}}
    run = {"along": "east wall", "from": "163 in", "to": "177 in"}
    (one,) = found("opening-too-small", [], opening, run=run, room="guest")
    assert one.severity is severity


def test_a_beam_wider_than_its_wall_leaves_no_plane() -> None:
    """4 in of flange in the head of a wall of 3-1/2: centred, 1/4 in is left for board of 1/2, so it stands 1/4 out."""
    wall = {"P2": {"stud": "2x4", "runs": "east", "thick": "142.25 in to 145.75 in", "along": "207.5 in to 427.9 in"}}
    (one,) = found("board-not-flush", [BEAM], None, level={"partitions": wall}, kind="beam", run=None, room="guest")
    assert one.severity is Severity.ASK
    assert "1⁄4″ before" in one.says


@pytest.mark.parametrize(("clearance", "severity"), [({}, Severity.ASK), ({"clearance": "1 in"}, Severity.WITHIN)])
def test_a_boxed_vent_without_a_clearance_is_asked_about(clearance: dict[str, str], severity: Severity) -> None:
    """The listing of a double-wall gas vent asks 1 in to what burns; nobody can frame round it who does not know."""
    at = {"along": "100 in", "off the block": "10 in", "above slab": "0 in to 89.5 in"}
    vent = {
        "what": "Furnace vent",
        "duct": "6 in round",
        "vent": "type B",
        "system": "gas",
        "known": MEASURED,
        "at": at,
    }
    chase = {"chase": {"along": "94 in to 106 in"}}
    run = {"along": "north wall", "from": "94 in", "to": "106 in"}
    (one,) = found("vent-without-clearance", [vent | clearance], chase, run=run, kind="vent riser")
    assert one.severity is severity


@pytest.mark.parametrize(
    ("more", "asked", "label"),
    [
        ({}, "at least 6″", True),
        ({"clearance": "2 in"}, "at least 2″", False),
        ({"vent": "type B"}, "at least 1″", False),
        ({"vent": "type B", "clearance": "2 in"}, "at least 2″", False),
        ({"vent": "single wall", "clearance": "1 in"}, "at least 6″", False),
    ],
)
def test_one_flue_is_asked_one_figure(more: dict[str, str], asked: str, label: bool) -> None:
    """The label's own clearance goes before an unknown make's figure, and before a smaller one of a make known.

    6 in for single wall and 1 in for type B: table rows of the limits. What the label wants is asked for once only:
    where the make is not known, by flue-too-near alone.
    """
    at = {"along": "100 in", "off the block": "10 in", "above slab": "0 in to 89.5 in"}
    vent = {"what": "Furnace vent", "duct": "6 in round", "system": "gas", "known": MEASURED, "at": at} | more
    chase = {"chase": {"along": "88 in to 112 in"}}
    run = {"along": "north wall", "from": "88 in", "to": "112 in"}
    near = found("flue-too-near", [vent], chase, run=run, kind="vent riser")
    boxed = found("vent-without-clearance", [vent], chase, run=run, kind="vent riser")

    assert {one.asked for one in near if "from it" in one.says} == {asked}
    assert all(("no record says" in one.says) is label for one in near if "from it" in one.says)
    assert any(one.severity is Severity.ASK for one in boxed) is (more == {"vent": "type B"})


@pytest.mark.parametrize(
    ("off", "says", "severity"),
    [
        ("2.35 in", "from the nearer edge", Severity.WITHIN),
        ("3.2 in", "from the nearer edge", Severity.STOP),  # 0.55 in of wood left; 5/8 is asked (IRC R602.6)
        ("4 in", "out of an edge", Severity.WITHIN),  # a notch of 0.4 in, where 2/5 of 3-1/2 in is the most
    ],
)
def test_a_cable_through_studs_is_a_hole_or_a_notch(off: str, says: str, severity: Severity) -> None:
    """The studs stand 0.6 to 4.1 in off the block, and 6-3 NM is 0.7 in thick."""
    at = {"along": "20 in to 100 in", "off the block": off, "above slab": "30 in"}
    cable = {"what": "Range cable", "cable": "6-3 NM", "system": "power", "known": MEASURED, "at": at}
    run = {"along": "north wall", "from": "20 in", "to": "100 in"}
    (one,) = found("stud-cut-too-far", [cable], None, run=run, kind="lines")
    assert one.severity is severity
    assert says in one.says


def test_a_cable_up_through_a_top_plate_is_measured_across_it() -> None:
    """0.7 in of a plate 3-1/2 in wide is less than half (IRC R602.6.1, from memory)."""
    at = {"along": "60 in", "off the block": "2.35 in", "above slab": "30 in to 95 in"}
    cable = {"what": "Range cable", "cable": "6-3 NM", "system": "power", "known": MEASURED, "at": at}
    run = {"along": "north wall", "from": "20 in", "to": "100 in"}
    (one,) = found("stud-cut-too-far", [cable], None, run=run, kind="lines")
    assert one.severity is Severity.WITHIN
    assert "top plate 3\N{HAIR SPACE}1\N{FRACTION SLASH}2" in one.says

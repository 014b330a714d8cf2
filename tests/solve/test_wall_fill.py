"""What a stud wall holds besides its studs: backing, batts, and studs as somebody found them."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from bookgen.model.assembly import Assembly
from bookgen.model.geometry import Prism
from bookgen.solve.takeoff.buy import buy
from bookgen.solve.treatments.stud_wall import linings
from tests.solve.house import LEVEL, clashes, codes, level, project
from tests.solve.level_fixture import MEASURED, record, solved

P1: dict[str, Any] = {
    "stud": "2x4", "runs": "north", "thick": "204 in to 207.5 in", "along": "4.1 in to 283.9 in",
    "openings": [{"what": "Doorway", "along": "60 in to 92 in", "head": "75.85 in above slab"}],
}  # fmt: skip
SCREEN = {"what": "Screen", "wall": "P1", "side": "west", "along": "120 in to 180 in", "middle": "52 in above slab"}


def wall(key: str = "partition-P1", lining: dict[str, Any] | None = None, **more: Any) -> Assembly:
    """Return one wall of a project with P1 and *more* keys in its record, and with keys of its linings replaced."""
    level_record = LEVEL | {"wall lining": LEVEL["wall lining"] | (lining or {})}
    whole = project(**({"partitions": {"P1": P1}, "level": level_record} | more))
    walls, problems = linings(whole, level(whole))
    assert problems == ()
    return next(one for one in walls if one.key == key)


def middles(found: Assembly) -> list[Fraction]:
    """Return the middles of the plain studs of a wall."""
    boxes = [part.solid.bounds() for part in found.parts if part.role == "stud"]
    return sorted((box.low.x + box.high.x) / 2 for box in boxes)


def test_backing_lies_flush_between_the_studs() -> None:
    """A 2x6 (1-1/2 x 5-1/2, PS 20) flat on the west side of P1, between the studs over 60 in."""
    found = wall(backing=[SCREEN])
    pieces = [part.solid.bounds() for part in found.parts if part.role == "backing"]
    assert {(b.low.y, b.high.y) for b in pieces} == {(204, Fraction("205.5"))}
    assert {(b.low.z, b.high.z) for b in pieces} == {(Fraction("49.25"), Fraction("54.75"))}
    studs = [part.solid.bounds() for part in found.parts if part.role == "stud"]
    crossed = sum(min(s.high.x, 180) - max(s.low.x, 120) for s in studs if s.high.x > 120 and s.low.x < 180)
    assert sum(b.size("x") for b in pieces) == 60 - crossed
    assert clashes(found) == []


def test_backing_of_a_lining_is_flush_with_its_front() -> None:
    """The studs of the north wall end 4.1 in off the block."""
    rail = {"what": "Rail", "wall": "north wall", "along": "100 in to 140 in", "middle": "36 in above floor"}
    found = wall("lining-north-wall", backing=[rail])
    assert {part.solid.bounds().high.y for part in found.parts if part.role == "backing"} == {Fraction("4.1")}


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"wall": "P9"}, "unknown-partition"),
        ({"stock": "2x5"}, "unknown-stock"),
        ({"along": "120 in to 380 in"}, "backing-past-wall"),
        ({"middle": "88 in above slab"}, "backing-past-wall"),
    ],
)
def test_backing_that_can_not_be_set_is_a_problem(change: dict[str, Any], code: str) -> None:
    """One Problem with its own code, at the field."""
    whole = project(partitions={"P1": P1}, backing=[SCREEN | change])
    _, problems = linings(whole, level(whole))
    assert codes(problems) == [code]


def test_batts_fill_what_the_members_leave() -> None:
    """By volume: plates, studs, header and batts make up the wall, less the doorway; nothing is filled twice."""
    found = wall(partitions={"P1": P1 | {"insulation": "Sound batt"}})
    assert clashes(found) == []
    inside = [p.solid.bounds() for p in found.parts if p.role != "board"]
    held = sum(b.size("x") * b.size("y") * b.size("z") for b in inside)
    # the rough opening is 33-1/2 in wide and 76.6 high, jambs of 3/4 in round 32 by 75.85
    whole = Fraction("3.5") * (Fraction("279.8") * Fraction("89.5") - Fraction("33.5") * Fraction("76.6"))
    assert 0 <= whole - held < whole / 100  # bits under 1-1/2 in wide or 3 in high stay empty
    assert any("Sound batt" in remark for remark in found.remarks)


def test_a_sheet_lies_between_studs_and_board_and_both_are_bought() -> None:
    """On the front of the studs, 4.1 in off the block, as large as the board before it; a partition has none."""
    filled = LEVEL["wall lining"] | {"insulation": "R-13 batt", "vapour layer": "6 mil polyethylene"}
    house = solved(partitions={"P1": P1}, level=LEVEL | {"wall lining": filled})
    north = next(one for one in house.level.linings if one.key == "lining-north-wall")
    (sheet,) = north.layers
    boards = [part.solid for part in north.parts if part.role == "board"]
    assert (sheet.name, sheet.axis, sheet.at) == ("6 mil polyethylene", "y", Fraction("4.1"))
    assert sheet.area() == sum(solid.profile.area() for solid in boards if isinstance(solid, Prism))
    assert not next(one for one in house.level.linings if one.key == "partition-P1").layers

    buying = buy(house).takeoff.buying
    assert buying is not None
    bought = {one.amount.what: one.amount.usual for one in buying.finishing}
    everywhere = [one for wall in house.level.linings for one in wall.layers]
    assert bought["6 mil polyethylene"] == sum(one.area() for one in everywhere) / 144
    batts = [p.solid.bounds() for wall in house.level.linings for p in wall.parts if p.role == "batt"]
    volume = sum(b.size("x") * b.size("y") * b.size("z") for b in batts)
    assert bought["R-13 batt"] == volume / Fraction("3.5") / 144  # as deep as a 2x4 is wide, PS 20


@pytest.mark.parametrize(("side", "faces"), [({}, ["204", "207.5"]), ({"vapour side": "west"}, ["204"])])
def test_a_partition_has_its_sheet_on_the_side_that_the_record_says(side: dict[str, str], faces: list[str]) -> None:
    """Between studs and board at 204 and 207-1/2 in, as large as the board there; where none is said, on both sides."""
    house = solved(partitions={"P1": P1 | {"vapour layer": "6 mil polyethylene"} | side})
    partition = next(one for one in house.level.linings if one.key == "partition-P1")
    boards = [part.solid for part in partition.parts if part.role == "board" and isinstance(part.solid, Prism)]

    assert [sheet.at for sheet in partition.layers] == list(map(Fraction, faces))
    for sheet in partition.layers:
        behind = [solid for solid in boards if sheet.at in {solid.start, solid.end}]
        assert sheet.area() == sum(solid.profile.area() for solid in behind) > 0
    assert "6 mil polyethylene" in " ".join(partition.remarks)


def test_the_layout_may_be_counted_from_any_corner() -> None:
    """From the north end of P1, at 283.9 in, studs stand at 267.9, 251.9 and so on, 16 in apart."""
    found = middles(wall(partitions={"P1": P1 | {"layout from": "north"}}))
    assert {Fraction("267.9"), Fraction("251.9"), Fraction("235.9")} <= set(found)
    turned = middles(wall("lining-north-wall", {"layout from": "north-east"}))
    assert {Fraction(416), Fraction(400)} <= set(turned)


def test_studs_as_found_replace_the_layout_and_are_as_sure_as_their_record() -> None:
    """Nobody measured a wall of the plan; where somebody has, those places stand, and the difference is said."""
    spots = ["4.85 in", "20 in", "37 in", "120 in", "131 in", "283.15 in"]
    found = wall(partitions={"P1": P1 | {"studs": spots, "known": MEASURED}})
    assert {Fraction(20), Fraction(37), Fraction(120), Fraction(131)} <= set(middles(found))
    assert Fraction(16) not in middles(found)
    assert found.known.how == "measured"
    assert [one.field for one in found.differences] == ["Studs"]
    assert clashes(found) == []


@pytest.mark.parametrize(("studs", "code"), [(["480 in"], "stud-past-wall"), (["30 in", "31 in"], "studs-overlap")])
def test_studs_that_can_not_stand_so_are_a_problem(studs: list[str], code: str) -> None:
    """Past the wall, or one in another."""
    whole = project(partitions={"P1": P1 | {"studs": studs}})
    assert codes(linings(whole, level(whole))[1]) == [code]


def test_a_chase_has_a_stud_laid_flat_at_each_of_its_edges() -> None:
    """The wall's board ends at 32 and 48 in: 3-1/2 in of flat 2x4 take both edges and the upright."""
    stack = {"what": "Stack", "pipe": "3 in PVC stack", "system": "waste", "known": MEASURED,
             "at": {"along": "40 in", "off the block": "7 in", "above slab": "0 in to 89.5 in"}}  # fmt: skip
    chase = {"chase": {"along": "32.5 in to 47.5 in", "front": "12 in off the block"}}
    run = {"along": "north wall", "from": "32.5 in", "to": "47.5 in"}
    found = solved(record([stack], chase, run=run, kind="stack"))
    north = next(one for one in found.level.linings if one.key == "lining-north-wall")
    covered = [p.solid.bounds() for p in north.parts if p.role in {"backing", "stud"}]
    for edge in (32, 48):
        assert any(b.low.x <= edge <= b.high.x and b.high.y == Fraction("4.1") for b in covered)
    assert clashes(north) == []

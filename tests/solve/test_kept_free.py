"""What treatments keep free: working space, service space, room over a pit, and the swing of doors."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
import shapely.geometry as planar

from bookgen.model.assembly import Space
from bookgen.model.geometry import Prism
from bookgen.model.problem import Finding, Severity
from bookgen.model.project import ObstacleFile
from tests.solve.level_fixture import MEASURED, SUPPLY, record, solved

PANEL = {
    "what": "Electrical panel", "body": {"wide": "14-1/2 in", "deep": "3.9 in", "high": "30 in"}, "system": "power",
    "known": MEASURED,
    "at": {"along": "60 in to 74.5 in", "off the block": "0 in to 3.9 in", "above slab": "45 in to 75 in"},
}  # fmt: skip
DOOR = {
    "leaf": "30 x 76 in", "rough opening": "68.25 in to 99.75 in", "head": "78 in above slab", "hinges": "south",
    "swings": "out",
}  # fmt: skip
CLOSET = {
    "along": "49.5 in to 118.5 in", "inside": "53.5 in to 114.5 in", "deep": "42 in off the block", "lined": "bare",
    "door": DOOR,
}  # fmt: skip
RUN = {"along": "west wall", "from": "49.5 in", "to": "118.5 in"}
DUCTS = {"hung soffit": {"between": "81.5 in to 122.5 in", "framing bottom": "79 in above slab"}}


def closet(**changes: Any) -> ObstacleFile:
    """Return the sample's closet round its panel, with choices of its door replaced."""
    choices = CLOSET | {"door": DOOR | {key.replace("_", " "): value for key, value in changes.items()}}
    return record([PANEL], {"closet": choices}, run=RUN, kind="panel")


def other(inside: list[dict[str, Any]], treatment: dict[str, Any] | None, **more: Any) -> ObstacleFile:
    """Return a second record of the level."""
    return replace(record(inside, treatment, **more), key="two", file="obstacles/two.yaml")


def spaces(*files: ObstacleFile) -> dict[str, Space]:
    """Return the spaces of the first record by name."""
    built = solved(*files).obstacles[0].assembly
    assert built is not None
    return {space.name: space for space in built.spaces}


def said(code: str, *files: ObstacleFile) -> list[Finding]:
    """Return what one check says."""
    return [one for one in solved(*files).findings if one.code == code]


def test_the_working_space_of_a_panel_is_a_solid() -> None:
    """36 in deep, 30 wide and 78 high (NEC 110.26(A)), beginning at the panel's front and inside the closet."""
    room = spaces(closet())["working space before Electrical panel"].solid.bounds()
    assert (room.low.y, room.size("y")) == (Fraction("3.9"), 36)
    assert (room.low.x, room.size("x")) == (Fraction("53.5"), 30)
    assert room.size("z") == 78


def test_the_swing_of_a_door_holds_its_quarter_circle() -> None:
    """By an independent geometry library: a quarter of 30 in radius lies in the solid, which is less than 3% larger."""
    solid = spaces(closet())["swing of the door"].solid
    assert isinstance(solid, Prism)
    swept = planar.Polygon([(float(u), float(v)) for u, v in solid.profile.corners])
    circle = planar.Point(69, 46).buffer(30, quad_segs=256)
    quarter = circle.intersection(planar.box(69, 46, 99, 76))
    assert quarter.difference(swept).area == pytest.approx(0, abs=1e-6)
    assert swept.area < quarter.area * 1.03


@pytest.mark.parametrize(("leaf", "head", "severity"), [("76", "78", Severity.WITHIN), ("80", "82", Severity.ASK)])
def test_a_leaf_that_would_hit_the_soffit_is_found(leaf: str, head: str, severity: Severity) -> None:
    """As the site notes of Tamarack say: an 80 in leaf would hit the duct soffit as it swings, a 76 in one does not."""
    ducts = other([SUPPLY], DUCTS, run={"along": "east", "from": "58 in", "to": "200 in"}, kind="duct")
    file = closet(leaf=f"30 x {leaf} in", head=f"{head} in above slab", header="2x4")
    (one,) = said("door-swing-blocked", file, ducts)
    assert one.severity is severity


def test_a_recorded_thing_in_the_working_space_is_found() -> None:
    """A softener's tank stands 20 in before the panel, in a record of its own: 36 in are asked."""
    tank = {"what": "Brine tank", "body": {"diameter": "16 in", "high": "34 in"}, "system": "water", "known": MEASURED,
            "at": {"east": "32 in", "north": "67 in", "above slab": "0 in to 34 in"}}  # fmt: skip
    found = said("panel-working-space", closet(), other([tank], None, run=None, kind="appliance"))
    assert any(one.severity is not Severity.WITHIN and "Brine tank" in one.says for one in found)
    assert all(one.severity is Severity.WITHIN for one in said("panel-working-space", closet()))


def test_a_sump_in_a_closet_keeps_the_room_over_its_lid() -> None:
    """A pit of 18 in (IRC P3303.1.2) stands in the closet's floor: its pump is lifted out through the room over it."""
    pit = {"what": "Sump", "fitting": "18 in sump pit", "system": "waste", "known": MEASURED,
           "at": {"along": "84 in", "off the block": "20 in", "above slab": "0 in"}}  # fmt: skip
    file = record([pit], {"closet": CLOSET}, run=RUN, kind="pit")
    room = spaces(file)["room over Sump"].solid.bounds()
    assert (room.size("x"), room.size("z")) == (18, 60)


def test_a_shelf_before_an_appliance_is_found() -> None:
    """A shelf 16 in before the heater's front, in a record of its own: 30 in of floor are asked (IRC M1305.1)."""
    heater = {"what": "Water heater", "body": {"diameter": "20 in", "high": "60 in"}, "system": "gas", "front": "west",
              "input": "40,000 Btu/h", "air from": "outside", "known": MEASURED,
              "at": {"east": "380 in", "north": "70 in", "above slab": "0 in to 60 in"}}  # fmt: skip
    shelf = {"what": "Shelf", "body": {"wide": "12 in", "deep": "48 in", "high": "70 in"}, "system": "structure",
             "known": MEASURED, "at": {"east": "348 in", "north": "70 in", "above slab": "0 in to 70 in"}}  # fmt: skip
    alone = record([heater], None, run=None, kind="appliance", room="mechanical")
    shelved = other([shelf], None, run=None, kind="hidden work", room="mechanical")
    assert [one.severity for one in said("appliance-service-space", alone)] == [Severity.WITHIN]
    (one,) = said("appliance-service-space", alone, shelved)
    assert one.severity is not Severity.WITHIN
    assert "Shelf" in one.says

"""The checks on panels, reach, appliances and ways out: each figure at its edge, and how grave a miss may be."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from bookgen.model.assembly import Material
from bookgen.model.problem import Finding, Severity
from bookgen.model.project import ObstacleFile
from bookgen.solve.checks import findings as all_findings
from bookgen.solve.checks import sight, untreated_on_concrete
from bookgen.solve.checks.sight import Sight
from bookgen.trade.tables import Sure
from tests.solve.house import ROOMS
from tests.solve.level_fixture import DRAIN, MEASURED, P1, record, solved

LOUVRES = {"leaf": "30 x 75 in", "leaves": "2", "rough opening": "39 in to 101 in", "head": "77 in above slab",
           "hinges": "both sides", "swings": "out", "header": "2x4", "header laid": "flat"}  # fmt: skip


def findings(code: str, *files: ObstacleFile, **more: Any) -> list[Finding]:
    """Return what one check found."""
    return [finding for finding in solved(*files, **more).findings if finding.code == code]


def second(file: ObstacleFile) -> ObstacleFile:
    """Return a record under another name, so that two stand in one project."""
    return replace(file, key="two", file="obstacles/two.yaml")


def body(what: str, east: str, north: str, up: str, system: str, **more: str) -> dict[str, Any]:
    """Return a hidden box between the stretches given."""
    sizes = {"wide": size(east), "deep": size(north), "high": size(up)}
    at = {"east": east, "north": north, "above slab": up}
    keys = {key.replace("_", " "): value for key, value in more.items()}
    return {"what": what, "body": sizes, "at": at, "system": system, "known": MEASURED, **keys}


def size(stretch: str) -> str:
    """Return how long a stretch such as `4 in to 8 in` is."""
    low, high = (float(end.removesuffix(" in")) for end in stretch.split(" to "))
    return f"{high - low:.4f} in"


def panel(room: str = "family", **more: Any) -> ObstacleFile:
    """Return a panel on the finished west wall, its front 8-1/2 in off the block."""
    box = body("Electrical panel", "4.6 in to 8.5 in", "60 in to 74.5 in", "45 in to 75 in", "power", front="east")
    return record([box], None, kind="panel", room=room, **more)


def post(east: str) -> ObstacleFile:
    """Return a square post of 4 in before the panel, its west side that far east."""
    low = float(east)
    return second(
        record([body("Post", f"{low} in to {low + 4} in", "64 in to 68 in", "0 in to 89 in", "structure")], None)
    )


@pytest.mark.parametrize(("side", "severity"), [("44.5", Severity.WITHIN), ("44.4", Severity.ASK)])
def test_a_panel_has_36_inches_before_it(side: str, severity: Severity) -> None:
    """NEC 110.26(A)(1): 36 in from the front of the box; of this edition it is known from memory, so nobody stops."""
    (depth,) = [found for found in findings("panel-working-space", panel(), post(side)) if "in front" in found.says]

    assert depth.severity is severity
    assert depth.sure == Sure.MEMORY


@pytest.mark.parametrize(("side", "severity"), [("23", Severity.WITHIN), ("22.9", Severity.ASK)])
def test_the_door_of_a_panel_needs_its_own_width(side: str, severity: Severity) -> None:
    """NEC 110.26(A)(2): a leaf of 14-1/2 in swings to a right angle within 14-1/2 in."""
    (found,) = findings("panel-door-blocked", panel(), post(side))

    assert found.severity is severity


def test_a_pipe_beside_a_panel_is_no_pipe_over_it() -> None:
    """The space kept is as wide and deep as the panel, and ends at the joists (NEC 110.26(E)(1), quoted)."""
    over = DRAIN | {"at": {"east": "6 in", "north": "50 in to 90 in", "above slab": "82 in"}}
    beside = DRAIN | {"at": {"east": "12 in", "north": "50 in to 90 in", "above slab": "82 in"}}

    for pipe, severity in ((over, Severity.STOP), (beside, Severity.WITHIN)):
        (found,) = findings("panel-space-above", panel(), second(record([pipe | {"couplings": []}], None)))
        assert found.severity is severity


@pytest.mark.parametrize(
    ("use", "severities"),
    [
        ("living", [Severity.WITHIN, Severity.WITHIN]),
        ("bath", [Severity.ASK, Severity.WITHIN]),  # NEC 240.24(E), a paraphrase
        ("storage", [Severity.ASK, Severity.WITHIN]),  # NEC 240.24(D), a paraphrase
    ],
)
def test_breakers_are_in_no_bath_and_among_no_clothes(use: str, severities: list[Severity]) -> None:
    """The room's use decides; a figure that was retold never says stop."""
    rooms = {"family": ROOMS["family"] | {"use": use}}

    assert [found.severity for found in findings("breakers-misplaced", panel(), rooms=rooms)] == severities


def cable(north: str, how: str = "measured", system: str = "power") -> dict[str, Any]:
    """Return a cable under the joists, its middle that far north."""
    at = {"east": "20 in to 180 in", "north": north, "below joists": "1/4 in"}
    known = {"how": how} if how == "assumed" else {"how": how, "on": "2026-03-10"}
    return {"what": "Cable", "cable": "12-2 NM", "at": at, "system": system, "known": known}


def strips(*inside: dict[str, Any]) -> ObstacleFile:
    """Return lines above strips whose middles are 274, 250 and 226 in north."""
    area = {"room": "family", "rows": ["274 in", "250 in", "226 in"], "along": "4.1 in to 204 in"}
    choices = {"runs": "east", "spacing": "24 in", "areas": [area | {"across": "215 in to 283.9 in"}]}
    return record(list(inside), {"furring": choices}, run={"along": "east", "from": "4.1 in", "to": "204 in"})


@pytest.mark.parametrize(
    ("line", "severity"),
    [
        (cable("238 in"), Severity.WITHIN),
        (cable("246.78 in"), Severity.WITHIN),
        (cable("246.79 in"), Severity.STOP),  # NEC 300.4(D), quoted
        (cable("246.79 in", "assumed"), Severity.ASK),  # nobody stops for what nobody measured
        (cable("246.79 in", "measured", "data"), Severity.ASK),
    ],
)
def test_a_cable_beside_a_strip_needs_a_plate(line: dict[str, Any], severity: Severity) -> None:
    """The strip's edge lies at 248.25 in and 12-2 NM is 0.43 in wide (cable table): 1-1/4 in are left at 246.785 in."""
    found = findings("plate-needed", strips(line))

    assert [one.severity for one in found] == [severity], found[0].says


def appliance(burns: str, louvres: dict[str, Any] | None = None, **more: str) -> ObstacleFile:
    """Return a heater in the mechanical room of 873 cu ft, with louvred doors where they are given."""
    heater = body("Heater", "340 in to 360 in", "40 in to 60 in", "0 in to 60 in", "gas", input=burns, **more)
    treatment = None
    if louvres is not None:
        treatment = {"utility room": {"wall": "P3", "largest": "Heater", "door": LOUVRES | louvres}}
    run = {"along": "north", "from": "4.1 in", "to": "142.25 in"}
    return record([heater], treatment, kind="appliance", room="mechanical", run=run)


HALL = [["208 in", "4.6 in"], ["299.5 in", "4.6 in"], ["299.5 in", "141.75 in"], ["208 in", "141.75 in"]]
P3 = {
    "P3": {
        "stud": "2x4", "runs": "north", "thick": "300 in to 303.5 in", "along": "4.1 in to 142.25 in",
        "openings": [{"what": "Pair of doors", "along": "40 in to 100 in", "head": "75.85 in above slab"}],
    }
}  # fmt: skip
BOTH = {"louvres": "in the upper and the lower panels", "louvre area": "100 sq in"}


@pytest.mark.parametrize(
    ("file", "severities"),
    [
        # 123.4 x 137.15 x 89.2 in are 873.6 cu ft, and 50 cu ft are asked for each 1,000 Btu/h (IFGC 304.5.1, quoted).
        (appliance("17,000 Btu/h", air_from="the room"), [Severity.WITHIN]),
        (appliance("18,000 Btu/h", air_from="the room"), [Severity.STOP]),
        (appliance("18,000 Btu/h"), [Severity.ASK]),  # it may have air from outside: no record says
        (appliance("18,000 Btu/h", air_from="outside"), []),
        # With the hall, 647.8 cu ft more: 100 sq in are the least that each louvre leaves free (G2407.5.3.1, quoted).
        (appliance("30,000 Btu/h", BOTH, air_from="the room"), [Severity.WITHIN, Severity.WITHIN]),
        (appliance("31,000 Btu/h", BOTH, air_from="the room"), [Severity.STOP, Severity.WITHIN]),
        (
            appliance("30,000 Btu/h", BOTH | {"louvre area": "99 sq in"}, air_from="the room"),
            [Severity.WITHIN, Severity.STOP],
        ),
        (
            appliance("30,000 Btu/h", BOTH | {"louvres": "in the lower panels"}, air_from="the room"),
            [Severity.WITHIN, Severity.ASK],
        ),
    ],
)
def test_what_burns_has_air_to_burn(file: ObstacleFile, severities: list[Severity]) -> None:
    """Its own room counts, then the room beyond louvres in both halves of the doors."""
    rooms = {"mechanical": ROOMS["mechanical"], "hall": {"name": "Hall", "use": "hall", "outline": HALL}}

    found = [one for one in solved(file, rooms=rooms, partitions=P3).findings if one.code == "burning-air-short"]

    assert sorted(one.severity.value for one in found) == sorted(severity.value for severity in severities)


def test_a_room_joined_by_a_bare_doorway_gives_its_air() -> None:
    """A doorway without a door joins two rooms; one with a door does not."""
    rooms = {"mechanical": ROOMS["mechanical"], "hall": {"name": "Hall", "use": "hall", "outline": HALL}}
    bare = {"P3": P3["P3"] | {"openings": [P3["P3"]["openings"][0] | {"what": "Doorway"}]}}  # type: ignore[index]
    file = appliance("30,000 Btu/h", air_from="the room")

    for walls, severity in ((P3, Severity.STOP), (bare, Severity.WITHIN)):
        (found,) = findings("burning-air-short", file, rooms=rooms, partitions=walls)
        assert found.severity is severity


@pytest.mark.parametrize(("north", "severity"), [("30 in to 40 in", Severity.WITHIN), ("50 in to 60 in", Severity.ASK)])
def test_an_appliance_has_30_inches_before_its_front(north: str, severity: Severity) -> None:
    """IRC M1305.1 asks 30 x 30 in; of this edition that is known from memory."""
    heater = body(
        "Heater", "100 in to 130 in", "80 in to 100 in", "0 in to 60 in", "gas", front="south", air_from="outside"
    )
    tank = body("Tank", "100 in to 130 in", north, "0 in to 60 in", "water")

    (found,) = findings("appliance-service-space", record([heater, tank], None, kind="appliance"))

    assert found.severity is severity


def test_what_is_wider_than_the_doors_has_no_way_out() -> None:
    """The doors leave 57-1/4 in by 75-1/2 in; IRC M1305.1 of this edition is known from memory."""
    file = appliance("20,000 Btu/h", BOTH, air_from="the room")
    wide = body("Boiler", "310 in to 370 in", "70 in to 130 in", "0 in to 40 in", "air")
    inside = (*file.record.inside, *record([wide], None, kind="appliance", room="mechanical").record.inside)
    crowded = replace(file, record=file.record.model_copy(update={"inside": inside}))
    rooms = {"mechanical": ROOMS["mechanical"], "hall": {"name": "Hall", "use": "hall", "outline": HALL}}

    found = findings("appliance-way-out", crowded, rooms=rooms, partitions=P3)

    assert [(one.where, one.severity) for one in found] == [("Boiler", Severity.ASK), ("Heater", Severity.WITHIN)]


def test_a_soffit_is_divided_every_10_feet() -> None:
    """IRC R302.11, a paraphrase: a soffit of 160 in is divided once, at its middle."""
    choices = {"between": "81.5 in to 122.5 in", "framing bottom": "79 in above slab", "along": "20 in to 180 in"}
    soffit = record([], {"hung soffit": choices}, run={"along": "east", "from": "20 in", "to": "180 in"})
    run = {"along": "east", "from": "20 in", "to": "180 in"}
    short = record([], {"hung soffit": choices | {"along": "20 in to 100 in"}}, run=run)

    assert "across its inside at" in findings("fireblock-places", soffit)[0].says
    assert not findings("fireblock-places", short)  # board closes both its ends
    assert not findings("fireblock-places", record([DRAIN], None))


CLEANOUT = {
    "tag": "03", "what": "Cleanout", "where": "cover", "system": "waste", "known": MEASURED,
    "at": {"along": "40 in", "off the block": "12-1/4 in", "above slab": "17 in"},
    "cover": {"kind": "lift-out panel", "size": "12 x 14 in", "opens": "lift",
              "at": {"along": "34 in to 46 in", "off the block": "12.5 in", "above slab": "10 in to 24 in"}},
}  # fmt: skip


def stack() -> ObstacleFile:
    """Return a stack in its chase, with a cleanout whose plug lies 275-3/4 in north."""
    pipe = {"what": "Stack", "pipe": "3 in PVC stack", "system": "waste", "known": MEASURED,
            "at": {"along": "40 in", "off the block": "7 in", "above slab": "0 in to 89.5 in"}}  # fmt: skip
    tee = pipe | {
        "what": "Tee",
        "pipe": "3 in PVC drain",
        "at": {"along": "40 in", "off the block": "7 in to 12-1/4 in", "above slab": "17 in"},
    }
    run = {"along": "north wall", "from": "32.5 in", "to": "47.5 in"}
    chase = {"chase": {"along": "32.5 in to 47.5 in", "front": "12 in off the block"}}
    return record([pipe, tee], chase, kind="stack", run=run, access=[CLEANOUT])


@pytest.mark.parametrize(("north", "severity"), [("257.7", Severity.WITHIN), ("257.8", Severity.ASK)])
def test_a_rod_needs_18_inches_before_a_cleanout(north: str, severity: Severity) -> None:
    """IRC 2021 P3005.2.9, from memory: 18 in from the plug's face, which lies at 275.75 in."""
    high = float(north)
    tank = body("Tank", "30 in to 50 in", f"{high - 10} in to {high} in", "0 in to 60 in", "water")

    (found,) = findings("cleanout-clearance", stack(), second(record([tank], None)))

    assert found.severity is severity


def test_a_chase_before_a_way_out_is_seen() -> None:
    """The chase of the stack stands 30 to 50 in east; a window behind it can't be climbed out of."""
    window = {
        "what": "Window",
        "wall": "north wall",
        "sill": "40 in above slab",
        "head": "82 in above slab",
        "egress": "yes",
    }

    for along, severity in (("44 in to 80 in", Severity.ASK), ("84 in to 120 in", Severity.WITHIN)):
        found = findings("egress-shut-in", stack(), windows={"w": window | {"along": along}})
        assert next(one.severity for one in found if one.asked.startswith("nothing")) is severity


def test_alarms_that_are_recorded_are_asked_for_no_more() -> None:
    """One in the room to sleep in, one outside it; a place that has none is asked for."""
    smoke = body("Smoke alarm", "300 in to 304 in", "200 in to 204 in", "86 in to 87 in", "power")
    near = record([smoke], None, room="guest")
    outside = second(record([smoke | {"what": "Smoke and carbon monoxide alarm"}], None, room="family"))

    assert [one.severity for one in findings("alarm-not-recorded", near)] == [Severity.ASK, Severity.WITHIN]
    assert {one.severity for one in findings("alarm-not-recorded", near, outside)} == {Severity.WITHIN}


def whole_sight(*files: ObstacleFile, **more: Any) -> Sight:
    """Return what the checks look at."""
    found = solved(*files, **more)
    return sight(found.project, found.level, found.rooms, found.obstacles)


def test_plain_wood_on_the_slab_stops() -> None:
    """IRC R317.1, quoted: a sill on the slab is treated; the walls of the level are, until one is made plain."""
    seen = whole_sight(record([DRAIN], None))
    plain = replace(
        seen,
        parts=tuple(
            replace(one, part=replace(one.part, material=Material.LUMBER)) if one.part.role == "bottom plate" else one
            for one in seen.parts
        ),
    )

    assert {one.severity for one in untreated_on_concrete.check(seen)} == {Severity.WITHIN}
    assert {one.severity for one in untreated_on_concrete.check(plain)} == {Severity.STOP}


def test_an_answer_keeps_the_severity_and_says_who_settled_it() -> None:
    """A finding that somebody has settled stays in the list, with the name, the day and the paper."""
    answer = {
        "finding": "panel-space-above",
        "by": "Tern Electric (demo)",
        "on": "2026-04-02",
        "paper": "report",
    }
    pipe = DRAIN | {"couplings": [], "at": {"east": "6 in", "north": "50 in to 90 in", "above slab": "82 in"}}

    (before,) = findings("panel-space-above", panel(), second(record([pipe], None)))
    (after,) = findings("panel-space-above", panel(answered=[answer]), second(record([pipe], None)))

    assert after.severity is before.severity is Severity.STOP
    assert str(after.answered) == "answered by Tern Electric (demo) on 2026-04-02: report"
    assert (before.answered, before.hint) == (None, after.hint)


def test_nobody_stops_for_a_figure_that_was_remembered_or_retold() -> None:
    """Of much that is wrong at once, what says stop was seen or quoted; every hint defers to the local code."""
    files = (panel(), post("10"), strips(cable("246.79 in")), appliance("500,000 Btu/h", air_from="the room"))
    keyed = [replace(file, key=f"k{number}", file=f"obstacles/{number}.yaml") for number, file in enumerate(files)]

    found = all_findings(whole_sight(*keyed, partitions=P1))

    stops = {one.sure for one in found if one.severity is Severity.STOP}
    assert stops <= {Sure.OFFICIAL.value, Sure.QUOTED.value, Sure.COMPUTED.value}
    for one in found:
        assert "local code" in one.hint or one.code.startswith(("tie-", "obstacle-", "piece-"))
        assert not {"complies", "approved", "safe"} & set(f"{one.says} {one.hint}".lower().split())

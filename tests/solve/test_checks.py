from __future__ import annotations

from typing import Any

import pytest

from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks import CHECKS
from tests.solve.house import ROOMS
from tests.solve.level_fixture import DRAIN, MEASURED, P1, record, solved

MARKS = {
    "nw": {"what": "north-west corner", "at": ["4.6 in", "283.4 in"]},
    "ne": {"what": "corner of the guest room", "at": ["427.4 in", "283.4 in"]},
}
CODES = {"authority": "Pell Harbor", "electrical": "NEC 2023"}


def findings(code: str, *files: Any, **more: Any) -> list[Finding]:
    """Return what one check found."""
    return [finding for finding in solved(*files, **more).findings if finding.code == code]


def under(height: str) -> Any:
    """Return a hung soffit with nothing in it, its framing that high above the slab."""
    choices = {"between": "81.5 in to 122.5 in", "framing bottom": f"{height} above slab", "along": "20 in to 180 in"}
    return record([], {"hung soffit": choices}, run={"along": "east", "from": "20 in", "to": "180 in"})


@pytest.mark.parametrize(
    ("edition", "use", "bottom", "severity"),
    [
        ("IRC 2021", "living", "77 in", Severity.NOTE),  # 76.2: over 76 of the exception, under 84 of the room
        ("IRC 2021", "living", "75 in", Severity.ASK),  # 74.2, and the exception is known from memory only
        ("IRC 2015", "living", "77 in", Severity.ASK),  # that edition holds the room's 84 under ducts too
        ("IRC 2015", "utility", "77 in", Severity.NOTE),  # R305.1.1: 76 under ducts where nobody lives
        ("IRC 2015", "utility", "76 in", Severity.STOP),  # 75.2, and that row was seen quoted
        ("IRC 2015", "utility", "81-1/2 in", Severity.WITHIN),  # 80.7
        ("IRC 1990", "living", "77 in", Severity.ASK),  # no figure of that edition is held
    ],
)
def test_headroom_is_judged_by_use_and_edition(edition: str, use: str, bottom: str, severity: Severity) -> None:
    """Each use and edition asks its own figure (IRC R305.1 and R305.1.1)."""
    rooms = {"family": ROOMS["family"] | {"use": use}}
    found = findings("headroom-low", under(bottom), rooms=rooms, codes=CODES | {"building": edition})

    (soffit,) = [finding for finding in found if "soffit" in finding.says]
    assert soffit.severity is severity
    assert "local code" in soffit.hint
    assert soffit.source


def test_a_ceiling_is_judged_by_the_figure_of_the_room() -> None:
    """A ceiling at 84 in over the slab leaves 83.7: less than the 84 of a room lived in (IRC 2021 R305.1, quoted)."""
    rooms = {"family": ROOMS["family"] | {"ceiling": "84 in above slab"}}

    (found,) = findings("headroom-low", record([DRAIN], None), rooms=rooms)

    assert found.severity is Severity.STOP


def access(east: str, north: str, *ties: dict[str, str]) -> Any:
    """Return a record with one access point and its ties."""
    point = {
        "tag": "03", "what": "Cleanout", "where": "cover", "system": "waste", "known": MEASURED, "ties": list(ties),
        "at": {"east": east, "north": north, "above slab": "17 in"}, "cover": {"kind": "none", "opens": "pull"},
    }  # fmt: skip
    return record([DRAIN], None, access=[point])


@pytest.mark.parametrize(
    ("taped", "severity"),
    [
        ("40 in", Severity.WITHIN),  # 3-4-5: 24 east and 32 north of the mark
        ("40.65 in", Severity.WITHIN),  # 1/2 in and 0.5 % of it
        ("40.75 in", Severity.ASK),
        ("39.25 in", Severity.ASK),
    ],
)
def test_a_tie_may_miss_by_what_a_tape_does(taped: str, severity: Severity) -> None:
    """The distance on the plan is 40 in; 1/2 in and 0.5 % of the tape may be missing."""
    (found,) = findings(
        "tie-disagrees", access("28.6 in", "251.4 in", {"from": "nw", "is": taped}), marks=MARKS, partitions=P1
    )

    assert found.severity is severity


def test_no_tape_goes_through_a_partition() -> None:
    """A mark in the next room is seen by no tape; one in the same room is."""
    file = access("28.6 in", "251.4 in", {"from": "nw", "is": "40 in"}, {"from": "ne", "is": "400 in"})

    (found,) = findings("tie-through-wall", file, marks=MARKS, partitions=P1)

    assert "P1" in found.says


def test_a_doorway_lets_a_tape_through() -> None:
    """The line crosses the wall inside its doorway, and under the head."""
    door = {"what": "Doorway", "along": "240 in to 276 in", "head": "80 in above slab"}
    wall = {"P1": P1["P1"] | {"openings": [door]}}
    file = access("28.6 in", "251.4 in", {"from": "ne", "is": "400 in"})

    assert not findings("tie-through-wall", file, marks=MARKS, partitions=wall)


def test_a_drain_that_comes_out_of_the_end_is_seen() -> None:
    """The soffit stops at 150 in the open room, the drain goes on to 192."""
    choices = {"outside": "12 in off the block", "framing bottom": "77 in above slab", "along": "4.1 in to 150 in"}
    (found,) = findings("obstacle-goes-on", record([DRAIN], {"wall soffit": choices}))

    assert found.severity is Severity.NOTE
    assert "Main drain" in found.says
    assert not findings("obstacle-goes-on", record([DRAIN], {"wall soffit": choices | {"along": "4.1 in to 204 in"}}))


def test_findings_stand_gravest_first() -> None:
    """A stop is read before a note."""
    order = [Severity.STOP, Severity.ASK, Severity.NOTE, Severity.WITHIN]
    found = [order.index(finding.severity) for finding in solved(under("75 in")).findings]

    assert found == sorted(found)


@pytest.mark.parametrize(("code", "check"), CHECKS)
def test_every_check_explains_itself(code: str, check: Any) -> None:
    """Its module begins with its code and shows what passes and what fails."""
    text = __import__(check.__module__, fromlist=["check"]).__doc__

    assert text.startswith(f"{code}: ")
    assert "    PASS   " in text
    assert "    FAIL   " in text

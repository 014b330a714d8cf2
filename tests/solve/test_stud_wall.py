"""Linings and partitions: counts that others worked out, and what must hold for every wall."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookgen.model.assembly import Assembly
from bookgen.model.geometry import box
from bookgen.solve.cutout import Rectangle
from bookgen.solve.studwork import FramedOpening, Header, StudWall, frame
from bookgen.solve.treatments.stud_wall import linings
from tests.solve.house import (
    clashes,
    codes,
    inches_between,
    level,
    loose_boards,
    measures_hold,
    off_size,
    project,
    roles,
    span,
    text,
    thing,
)

SPACING = Fraction(16)
P1: dict[str, Any] = {
    "stud": "2x4", "runs": "north", "thick": "204 in to 207.5 in", "along": "4.1 in to 283.9 in",
    "openings": [{"what": "Doorway", "along": "60 in to 92 in", "head": "75.85 in above slab"}],
}  # fmt: skip
EGRESS = {
    "what": "Egress", "wall": "east wall", "along": "214 in to 250 in", "sill": "40 in above slab",
    "head": "82 in above slab", "egress": "yes",
}  # fmt: skip


def wall(low: str, high: str) -> StudWall:
    """Return a plain 2x4 wall from slab to joists."""
    return StudWall("x", span(low, high), span(0, "3.5"), span(0, "89.5"), "2x4", SPACING, Fraction(low))


def built(of: Any, *things: Any) -> dict[str, Assembly]:
    """Return the walls of a project by their keys."""
    walls, problems = linings(of, level(of), things)
    assert problems == ()
    return {one.key: one for one in walls}


def test_a_wall_of_14_feet_6_has_12_studs() -> None:
    """174 in at 16 in on centre: 174 / 16 = 10.875, so 11 bays and 12 studs (vbhomerepair.com, stud counting)."""
    parts = frame(wall("0", "174"), ())
    assert sum(part.role == "stud" for part in parts) == 12


def test_studs_stand_on_whole_spacings_from_the_corner() -> None:
    """Centres at 16, 32, 48: where the edge of a 4 ft sheet has to land."""
    studs = [part.solid.bounds() for part in frame(wall("0", "100"), ()) if part.role == "stud"]
    centres = [(b.low.x + b.high.x) / 2 for b in studs]
    assert centres == [Fraction(3, 4), 16, 32, 48, 64, 80, 96, Fraction(397, 4)]


def test_a_doorway_is_framed_as_the_site_notes_have_it() -> None:
    """P1 of the sample house: jambs at 60 and 92 make a rough opening from 59.25 to 92.75 in."""
    parts = built(project(partitions={"P1": P1}))["partition-P1"].parts
    jacks = sorted(part.solid.bounds().low.x for part in parts if part.role == "jack stud")
    assert jacks == [Fraction("57.75"), Fraction("92.75")]
    plates = sorted(part.solid.bounds().low.x for part in parts if part.role == "bottom plate")
    assert plates[:2] == [Fraction("4.1"), Fraction("92.75")]


def test_the_finished_face_of_the_lining_is_where_the_site_notes_have_it() -> None:
    """Studs from 0.6 to 4.1 off the block and 1/2 in board: 4.6 in."""
    north = built(project())["lining-north-wall"]
    assert {face.at for face in north.faces} == {Fraction("4.6")}
    assert north.measure("thickness of the studs").inches == Fraction("3.5")


def test_a_window_gets_header_sill_and_cripples() -> None:
    """Egress window of the sample house: 214 to 250, sill 40, head 82; the header bears on jacks, from 212.5."""
    found = built(project(windows={"e": EGRESS}))["lining-east-wall"]
    header = next(part for part in found.parts if part.role == "header").solid.bounds()
    assert (header.low.x, header.high.x, header.low.z) == (Fraction("212.5"), Fraction("251.5"), 82)
    sill = next(part for part in found.parts if part.role == "sill").solid.bounds()
    assert (sill.low.z, sill.high.z) == (Fraction("38.5"), 40)
    assert roles(found)["cripple"] >= 4


def test_board_leaves_the_window_free_and_the_face_has_the_area_of_its_board() -> None:
    """The outline goes round the window by a slit, so its area is that of the board."""
    found = built(project(windows={"e": EGRESS}))["lining-east-wall"]
    sheets = [part.solid for part in found.parts if part.role == "board"]
    hole = box(span(214, 250), (Fraction("4.1"), Fraction("4.6")), span(40, 82), "y")
    assert not any(solid.bounds().overlaps(hole.bounds()) for solid in sheets)
    assert sum(s.profile.area() for s in sheets) == sum(f.outline.area() for f in found.faces)  # type: ignore[union-attr]


def test_a_utility_room_keeps_bare_studs_on_its_own_side() -> None:
    """No face of any wall looks into the mechanical room."""
    walls = built(project(partitions={"P1": P1}))
    assert {face.room for one in walls.values() for face in one.faces} == {"family", "guest"}


def test_plates_are_cut_in_lengths_that_are_sold_and_joined_over_studs() -> None:
    """The longest 2x4 is 16 ft; a wall of 36 ft takes three plates."""
    plates = [p for p in built(project())["lining-north-wall"].parts if p.role == "top plate"]
    assert [plate.length().inches <= 192 for plate in plates] == [True] * 3
    assert {plate.solid.bounds().high.x % 16 for plate in plates[:-1]} == {0}


def test_a_beam_over_a_partition_lowers_it() -> None:
    """P2 of the sample house stands under the beam, 81.5 up; 1/4 in is left for board of 1/2 over it."""
    under = {"stud": "2x4", "runs": "east", "thick": "142.25 in to 145.75 in", "along": "207.5 in to 427.9 in"}
    beam = thing("beam", box(span(0, 432), span(142, 146), span("81.5", "89.5"), "x"))
    found = built(project(partitions={"P2": under}), beam)["partition-P2"]
    assert found.measure("height of the wall").inches == Fraction("81.5")
    assert any("stands 1⁄4″ before the wall below" in remark for remark in found.remarks)


def test_ducts_through_a_partition_get_a_crosspiece_and_a_cut_top_plate() -> None:
    """Ducts of the sample house, underside 80.5: studs end under a crosspiece, and no part enters their room."""
    ducts = [
        thing(name, box(span(60, 316), span(*north), span("80.5", "88.5"), "x"), clearance="1/4")
        for name, north in (("supply", ("84", "104")), ("return", ("106", "120")))
    ]
    found = built(project(partitions={"P1": P1}), *ducts)["partition-P1"]
    for duct in ducts:
        for solid in duct.solids:
            room = solid.bounds().grown(duct.clearance)
            parts = [found.frame.solid_to_level(part.solid).bounds() for part in found.parts]
            assert not any(part.overlaps(room) for part in parts)
    assert roles(found)["crosspiece"] == 1


def test_a_partition_of_another_thickness_is_refused() -> None:
    """2x4 is 3-1/2 in; faces 4 in apart are a slip."""
    of = project(partitions={"P1": P1 | {"thick": "204 in to 208 in"}})
    walls, problems = linings(of, level(of))
    assert codes(problems) == ["wall-thickness-disagrees"]
    assert len(walls) == 4


def test_a_window_that_is_not_in_its_wall_is_refused() -> None:
    """An opening past the corner, and one whose header would be in the plate."""
    for change, code in (
        ({"along": "4 in to 40 in"}, "opening-past-wall"),
        ({"head": "88 in above slab"}, "opening-above-wall"),
    ):
        of = project(windows={"e": EGRESS | change})
        assert codes(linings(of, level(of))[1]) == [code]


@st.composite
def framed(draw: st.DrawFn) -> tuple[StudWall, tuple[FramedOpening, ...], tuple[Rectangle, ...]]:
    """Draw a wall with up to two openings and up to two things through it."""
    length = draw(inches_between(150, 400))
    whole = StudWall(
        "x", (Fraction(0), length), span(0, "3.5"), span(0, "89.5"), "2x4", SPACING, draw(inches_between(0, 16))
    )
    openings = []
    for index in range(draw(st.integers(0, 2))):
        low = index * length / 2 + draw(inches_between(4, 20))
        foot = draw(st.sampled_from([Fraction(0), Fraction(40)]))
        header = draw(st.sampled_from([Header("2x4", 2, True), Header("2x6", 2, False), Header("2x4", 1, True)]))
        openings.append(FramedOpening("o", (low, low + draw(inches_between(12, 48))), (foot, Fraction(78)), header))
    voids = []
    for index in range(draw(st.integers(0, 2))):
        low, foot = index * length / 2 + draw(inches_between(1, 70)), draw(inches_between(82, 86))
        voids.append(Rectangle((low, low + draw(inches_between(1, 30))), (foot, Fraction(89))))
    return whole, tuple(openings), tuple(voids)


@settings(max_examples=40)
@given(framed())
def test_no_member_meets_another_an_opening_or_what_passes(case: tuple[Any, Any, Any]) -> None:
    """Every wall comes together: members only touch, and openings and voids stay free."""
    whole, openings, voids = case
    parts = frame(whole, openings, voids)
    boxes = [part.solid.bounds() for part in parts]
    for index, one in enumerate(boxes):
        assert not any(one.overlaps(other) for other in boxes[index + 1 :])
    rooms = [(o.along, o.up) for o in openings] + [(v.u, v.v) for v in voids]
    free = [box(u, span(0, "3.5"), v, "x").bounds() for u, v in rooms]
    assert not any(one.overlaps(room) for one in boxes for room in free)


@settings(max_examples=40)
@given(framed())
def test_no_bay_is_wider_than_the_spacing_where_nothing_interrupts(case: tuple[Any, Any, Any]) -> None:
    """At mid height every bay that is no opening is at most 16 in, centre to centre."""
    whole, openings, voids = case
    height = Fraction(60)
    uprights = sorted(
        (p.solid.bounds().low.x, p.solid.bounds().high.x)
        for p in frame(whole, openings, voids)
        if p.solid.bounds().low.z <= height < p.solid.bounds().high.z and p.role not in {"header", "sill"}
    )
    taken = [o.along for o in openings if o.up[0] <= height < o.up[1]]
    for one, after in pairwise(uprights):
        if not any(low == one[1] for low, _ in taken):
            assert (after[0] + after[1]) / 2 - (one[0] + one[1]) / 2 <= SPACING


DRAWN = given(inches_between(20, 150), inches_between(24, 40), inches_between(70, 80))


def hold_together(low: Fraction, wide: Fraction, head: Fraction) -> None:
    """Check the walls of one drawn house."""
    door = {"what": "Doorway", "along": f"{text(low)} to {text(low + wide)}", "head": f"{text(head)} above slab"}
    for one in built(project(partitions={"P1": P1 | {"openings": [door]}}, windows={"e": EGRESS})).values():
        assert clashes(one) == []
        assert measures_hold(one)
        assert off_size(one) == []
        assert loose_boards(one, SPACING) == []


@settings(max_examples=10)
@DRAWN
def test_every_wall_of_a_house_holds_together(low: Fraction, wide: Fraction, head: Fraction) -> None:
    """No clash, measures are distances, sticks are true sizes, board lands on wood at most 16 in apart."""
    hold_together(low, wide, head)


@pytest.mark.long
@settings(max_examples=2000)
@DRAWN
def test_thousands_of_houses_hold_together(low: Fraction, wide: Fraction, head: Fraction) -> None:
    """The same, many times over."""
    hold_together(low, wide, head)

"""Two treatments that meet are trimmed to each other: lengths, areas and volumes as worked out by hand.

All of it stands on the level of `tests.meeting_houses`: joists 89-1/2 in up, board 1/2 in, ladders of 2x2 (1-1/2 in
square, PS 20), and soffits made of `ducts` 25 in wide over the framing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache

import manifold3d as mesh
import pytest

from bookgen.model.assembly import Assembly, Material, Part
from bookgen.model.geometry import Axis, Box, Prism
from bookgen.model.project import Project
from bookgen.model.solved import Solved
from bookgen.solve import solve, whole
from bookgen.solve.site import Taken
from tests.generated import beam, drain, ducts, post, rooms, stack
from tests.invariants import (
    built,
    crowded,
    doubled,
    hidden,
    miscounted,
    mismeasured,
    pieces,
    pieces_of,
    seen,
    unclad,
    unheld,
)
from tests.meeting_houses import (
    LONG,
    P3,
    PARTED,
    along_wall,
    closet,
    ducts_north,
    flat,
    house,
    opening,
    plant,
    roomy,
    stair,
    tall_post,
)
from tests.model.test_meeting import solid_of

F = Fraction
BOARDED = {"family": rooms(LONG)["family"] | {"ceiling": "89 in above slab"}}
STEPPED = [
    {"along": f"{ends} in", "outside": "12 in off the block", "framing bottom": f"{bottom} in above slab"}
    for ends, bottom in (("4.1 in to 150", 78.5), ("150 in to 300", 75))
]
HOUSES: dict[str, Project] = {
    "soffit crosses soffit": house(ducts("a", 40, 400), ducts_north("b", 20, 200, 150, bottom=77)),
    "soffit crosses a lower one": house(ducts("a", 40, 400), ducts_north("b", 20, 200, 150, bottom=79.5)),
    "soffit ends at soffit": house(ducts("a", 40, 400), ducts_north("b", 95, 250, 150, bottom=79.5)),
    "soffit ends at a higher one": house(ducts("a", 40, 400), ducts_north("b", 95, 250, 150, bottom=77)),
    "soffits in a corner": house(
        along_wall("a", "north wall", 4.1, 200), along_wall("b", "west wall", 100, 284, bottom=78, outside=14)
    ),
    "closet under a soffit": house(
        along_wall("a", "north wall", 20, 300, bottom=78, outside=20), closet("b", 100, 160)
    ),
    "soffits side by side": house(
        roomy("a", 40, 200, (84, 109), bottom=78, south=87), roomy("b", 100, 400, (100, 125), bottom=76, south=111)
    ),
    "soffit beside a beam soffit": house(
        roomy("a", 40, 200, (84, 109), bottom=78, south=87), beam("b", 20, 120, north=110)
    ),
    "furring against a soffit": house(ducts("a", 40, 400), flat("b", (4.6, 427.4), (4.6, 283.4))),
    "plain ceiling against soffits": house(
        ducts("a", 40, 400), ducts_north("b", 95, 250, 150, bottom=79.5), rooms=BOARDED
    ),
    "lining behind a soffit": house(along_wall("a", "north wall", 4.1, 300)),
    "lining behind a stepped soffit": house(along_wall("a", "north wall", 4.1, 300, line="steps", steps=STEPPED)),
    "soffit ends at a chase": house(ducts("a", 40, 400, north=256), stack("b", 120, off=20, front=40)),
    "chase in a soffit": house(along_wall("a", "north wall", 40, 200, outside=19, bottom=78), stack("b", 120)),
    "chase in the side of a soffit": house(
        roomy("a", 40, 200, (230, 275), bottom=78, south=233.5), stack("b", 120, off=20, front=24)
    ),
    "stair under a soffit": house(roomy("a", 100, 300, (30, 60), bottom=85, south=33, deep=2), stair("b")),
    "utility room under a soffit": house(
        roomy("a", 200, 400, (60, 85), bottom=81.5, south=63), plant("b"), partitions=P3, rooms=PARTED
    ),
    "wrap in the side of a soffit": house(
        roomy("a", 40, 200, (84, 109), bottom=78, south=87), tall_post("b", 120, 109), rooms=BOARDED
    ),
    "opening in the bottom of a soffit": house(
        roomy("a", 40, 200, (84, 109), bottom=78, south=87),
        opening(
            "b", {"along": "east", "from": "100 in", "to": "114 in"},
            {"east": "100 in to 114 in", "north": "89 in to 103 in", "above slab": "77.5 in"},
        ),
    ),
    "opening in the side of a soffit": house(
        along_wall("a", "north wall", 40, 200, outside=19, bottom=72),
        opening(
            "b", {"along": "north wall", "from": "100 in", "to": "114 in"},
            {"along": "100 in to 114 in", "off the block": "19.5 in", "above slab": "75 in to 83 in"}, "14 x 8 in",
        ),
    ),
    "opening in a chase": house(
        stack("a", 120),
        opening(
            "b", {"along": "north wall", "from": "115 in", "to": "125 in"},
            {"along": "120 in", "off the block": "12.5 in", "above slab": "20 in"}, "10 x 12 in",
        ),
    ),
    "wrap under a soffit": house(ducts("a", 40, 400, north=134), post("b", 100)),
    "wrap under a beam soffit": house(beam("a", 20, 400), post("b", 100)),
}  # fmt: skip


@cache
def solved(name: str) -> Solved:
    """Return one house worked out."""
    found, problems = solve(HOUSES[name])
    assert found is not None, [str(problem) for problem in problems]
    return found


def work(name: str, key: str) -> Assembly:
    """Return one treatment of a house."""
    found = solved(name).obstacle(key).assembly
    assert found is not None
    return found


def lining(name: str, key: str) -> Assembly:
    """Return one wall or ceiling of a house."""
    return next(one for one in solved(name).level.linings if one.key == key)


def total(parts: Iterable[Part], axis: Axis) -> Fraction:
    """Return the length of all of some parts along an axis of the run's frame, in inches."""
    return sum((part.solid.bounds().size(axis) for part in parts), F(0))


def called(assembly: Assembly, role: str, name: str = "") -> list[Part]:
    """Return the parts of a role whose name holds some words."""
    return [part for part in assembly.parts if part.role == role and name in part.name]


def area(parts: Iterable[Part]) -> Fraction:
    """Return the area of some boards, square inches."""
    return sum((p.solid.profile.area() for p in parts if isinstance(p.solid, Prism)), F(0))


def reach(parts: Iterable[Part]) -> Box:
    """Return the box round some parts."""
    boxes = [part.solid.bounds() for part in parts]
    whole_ = boxes[0]
    for box in boxes[1:]:
        whole_ = whole_.joined(box)
    return whole_


@pytest.mark.parametrize("name", HOUSES)
def test_nothing_is_doubled_bare_or_loose_where_two_meet(name: str) -> None:
    """No part stands in another or in what is hidden, nothing is seen, every edge is held, and the count is right."""
    found = solved(name)
    every = pieces(found)

    assert not [*doubled(every), *crowded(every, hidden(found)), *unheld(every)]
    assert not [*seen(found, every), *unclad(found, every)]
    assert not [*miscounted(found), *(said for one in built(found) for said in mismeasured(one))]
    assert "work-meets-work" not in {finding.code for finding in found.findings}


# Walls and plain ceilings are laid out round the rest in any case, the record ends that wrap at the beam's soffit, and
# openings give way to nothing.
UNTOUCHED = {
    "lining behind a soffit", "lining behind a stepped soffit", "plain ceiling against soffits",
    "wrap under a beam soffit",
    *(name for name in HOUSES if name.startswith("opening")),
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(HOUSES.keys() - UNTOUCHED))
def test_untrimmed_the_same_houses_are_doubled(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the rule of precedence put out of action the work of the two stands in one another, and it is told."""

    def never(_: object) -> Mapping[str, tuple[Taken, ...]]:
        return {}

    monkeypatch.setattr(whole, "gives_way", never)
    found, problems = solve(HOUSES[name])

    if found is None:
        assert {problem.code for problem in problems} == {"part-meets-obstacle"}
        return
    assert list(doubled(pieces(found)))
    assert "work-meets-work" in {finding.code for finding in found.findings}


@pytest.mark.parametrize("name", ["soffit crosses soffit", "soffits in a corner", "closet under a soffit"])
def test_the_volume_of_the_work_is_that_of_its_parts(name: str) -> None:
    """Joined by an independent library (manifold) the parts have the volume of each added up: none lies double."""
    parts = [
        piece.part
        for key in ("a", "b")
        for piece in pieces_of(work(name, key))
        if piece.part.material in (Material.LUMBER, Material.TREATED, Material.BOARD, Material.BLOCKING)
    ]
    solids = [part.solid for part in parts if isinstance(part.solid, Prism)]
    joined = mesh.Manifold.batch_boolean([solid_of(solid) for solid in solids], mesh.OpType.Add)

    assert len(solids) == len(parts)
    assert float(joined.volume()) == pytest.approx(float(sum(solid.volume() for solid in solids)), abs=1e-3)


def test_the_end_of_a_rising_drain_makes_no_hole_in_the_board_past_it() -> None:
    """The drain ends where its soffit does; rising 1/4 in a foot, its square end leans 0.04 in past that."""
    found, problems = solve(house(drain("a", 40, 200)))
    assert found is not None, problems
    soffit = found.obstacle("a").assembly
    assert soffit is not None

    assert [part.name for part in soffit.parts if part.role == "board" and "end" in part.name] == [
        "west end board", "east end board",
    ]  # fmt: skip
    assert not [*crowded(pieces(found), hidden(found)), *seen(found, pieces(found))]


@pytest.mark.parametrize(
    ("name", "key", "board"),
    [
        ("soffit ends at a higher one", "b", "south end board"),
        ("soffit crosses soffit", "a", "west part bottom board"),
        ("soffit crosses soffit", "b", "west side board 1"),
        ("soffits in a corner", "b", "bottom board"),
        ("wrap under a soffit", "b", "Post, north face"),
    ],
)
def test_a_gap_at_a_meeting_is_told(name: str, key: str, board: str) -> None:
    """Without one board, the wood behind it is seen from the room."""
    found, trimmed = solved(name), work(name, key)
    parts = tuple(part for part in trimmed.parts if part.name != board)
    bare = tuple(replace(o, assembly=replace(trimmed, parts=parts)) if o.key == key else o for o in found.obstacles)
    spoilt = replace(found, obstacles=bare)

    assert len(parts) == len(trimmed.parts) - 1
    assert list(unclad(spoilt, pieces(spoilt)))


def test_of_two_soffits_that_cross_the_lower_goes_through() -> None:
    """The duct soffit *a* (down to 79) goes from 40 to 400, *b* (down to 77) is framed from 150 to 175.

    With 1/2 in board on both sides *b* takes 149-1/2 to 175-1/2: of *a* are left 109-1/2 and 224-1/2, and its two
    bottom rails are 2 x 334 long together; those of *b* keep 2 x 180. The board under both is that of the two plans,
    360 x 25 + 180 x 25, less the 25 x 25 that they share, less 2 strips of 1/2 x 25 that are the sides of *b*.
    """
    a, b = work("soffit crosses soffit", "a"), work("soffit crosses soffit", "b")

    assert total(called(a, "bottom rail"), "x") == 2 * 334
    assert total(called(b, "bottom rail"), "x") == 2 * 180
    west, east = reach(called(a, "bottom rail", "west part")), reach(called(a, "bottom rail", "east part"))
    assert (west.low.x, west.high.x, east.low.x, east.high.x) == (40, F("149.5"), F("175.5"), 400)
    under = area(called(a, "board", "bottom")) + area(called(b, "board", "bottom"))
    assert under == 360 * 25 + 180 * 25 - 25 * 25 - 2 * F(1, 2) * 25
    assert {face.name for face in a.faces} >= {"bottom, west part", "bottom, east part"}


def test_a_soffit_that_crosses_a_lower_one_is_the_one_to_stop() -> None:
    """Here *b* comes down to 79-1/2 only, *a* to 79 and, over its board, from 81 to 107: of *b* are left 61 and 93."""
    a, b = work("soffit crosses a lower one", "a"), work("soffit crosses a lower one", "b")

    assert total(called(a, "bottom rail"), "x") == 2 * 360
    assert total(called(b, "bottom rail"), "x") == 2 * (61 + 93)


def test_a_soffit_that_ends_in_another_stops_at_its_side() -> None:
    """*b* was to start at 95, inside *a*, whose finished side is at 107: its rails go from there to 250, 143 in.

    It hangs 1/2 in higher than *a*, so that there is nothing to close under it. It has one open end left, the north
    one, and a rung and a crosser stand hard by the side of *a*.
    """
    b = work("soffit ends at soffit", "b")

    assert total(called(b, "bottom rail"), "x") == 2 * 143
    assert {face.name for face in b.faces} == {"bottom", "west side", "east side", "north end"}
    assert reach(called(b, "rung")).low.x == 107
    assert reach(called(b, "crosser")).low.x == 107
    assert "It stops at the finished side of the hung soffit of a." in b.remarks


def test_a_lower_soffit_that_ends_in_another_is_closed_under_it() -> None:
    """Down to 77 it shows under *a*: its end is boarded from 76-1/2 up to the finished bottom of *a* at 78-1/2.

    That is 26 in wide over the board, 52 square inches.
    """
    b = work("soffit ends at a higher one", "b")
    end = called(b, "board", "south end")

    assert area(end) == 26 * 2
    assert (reach(end).low.z, reach(end).high.z) == (F("76.5"), F("78.5"))
    assert next(face for face in b.faces if face.name == "south end").outline.area() == 26 * 2


def test_of_two_soffits_side_by_side_the_higher_moves_over() -> None:
    """*a* was to be framed from 84 to 109, *b* lower from 100 on: its finished side is at 99-1/2, and so is *a*'s.

    Its crossers are 99-1/2 - 84 less two ladders of 1-1/2 long, its bottom board is 160 by 15-1/2. Its side has board
    up to the end of *b* at 100 less 1/2, and two rungs hold that edge; *b* keeps its 25 in and both its sides.
    """
    a, b = work("soffits side by side", "a"), work("soffits side by side", "b")

    assert {part.length().inches for part in called(a, "crosser")} == {F("12.5")}
    assert area(called(a, "board", "bottom")) == 160 * F("15.5")
    (side,) = called(a, "board", "north side")
    assert (side.solid.bounds().low.x, side.solid.bounds().high.x) == (40, F("99.5"))
    at = {(box.low.x, box.high.x) for box in (part.solid.bounds() for part in called(a, "rung", "north"))}
    assert {(98, F("99.5")), (F("99.5"), 101)} <= at
    assert area(called(b, "board", "bottom")) == 300 * 25
    assert area(called(b, "board", "side")) == 2 * 300 * 14
    words = "It is framed up to the finished side of the hung soffit of b, which takes a part of its width."
    assert words in a.remarks


def test_a_soffit_moves_over_for_a_beam_that_is_boxed_higher() -> None:
    """The box of the beam, 11 in wide over the board round 110, comes down to 80, *a* to 78 up to its side at 104-1/2.

    Past the end of the box at 120-1/2 its side goes from 77-1/2 up to the joists, before it from 77-1/2 to 79-1/2.
    """
    a, b = work("soffit beside a beam soffit", "a"), work("soffit beside a beam soffit", "b")

    assert total(called(b, "bottom rail"), "x") == 2 * 100
    assert {part.length().inches for part in called(a, "crosser")} == {F("104.5") - 84 - 3}
    assert area(called(a, "board", "north side")) == F("80.5") * 2 + F("79.5") * 12


def test_in_a_corner_the_lower_soffit_goes_into_it() -> None:
    """*a* along the north wall (down to 77) goes on to the studs of the west wall at 4.1: to 200 that is 195.9.

    Its finished side stands 12-1/2 in off the block, at 275-1/2 in north, where *b* along the west wall stops: from 100
    that is 175-1/2. What is left of *b* is 9.9 in wide between its cleat and its outer line, as is its bottom board.
    """
    a, b = work("soffits in a corner", "a"), work("soffits in a corner", "b")

    assert total(called(a, "bottom rail"), "x") == total(called(a, "cleat"), "x") == F("195.9")
    assert total(called(b, "bottom rail"), "x") == total(called(b, "cleat"), "x") == F("175.5")
    assert area(called(b, "board", "bottom")) == F("175.5") * F("9.9")


def test_the_walls_of_a_closet_are_framed_up_to_the_soffit() -> None:
    """The soffit takes its walls from the studs at 4.1 to 20-1/2 off the block, and down to 77-1/2.

    The top plates of both side walls go on from there to 40, 19-1/2; behind the soffit 3-1/2 are left in the lining.
    The stud at 16 stands on a plate of 1-1/2 and ends under a crosspiece of 1-1/2: 77-1/2 - 3 = 74-1/2. The board loses
    16.4 x 12 of 39.4 x 89. The front wall is left whole, 59 in over its studs.
    """
    b = work("closet under a soffit", "b")

    for side in ("west side wall", "east side wall"):
        assert [part.solid.bounds().size("y") for part in called(b, "top plate", side)] == [F("3.5"), F("19.5")]
        assert [part.solid.bounds().size("y") for part in called(b, "crosspiece", side)] == [F("16.4")]
        assert [part.length().inches for part in called(b, "cripple", side)] == [F("74.5")]
        assert area(called(b, "board", side)) == F("39.4") * 89 - F("16.4") * 12
        face = next(one for one in b.faces if one.name.startswith(side))
        assert face.outline.area() == area(called(b, "board", side))
    assert reach(called(b, "top plate", "front wall")).size("x") == 59


def test_strips_and_their_board_go_up_to_a_soffit() -> None:
    """Rows stand 16 in apart from 6.35 on; the 6th and 7th, at 86.35 and 102.35, run into the soffit at 40 and 400.

    Of each are left 35.4 and 27.4. A strip goes along each side, 360 in. Of the board, laid out to the studs of the
    walls, 423.8 by 279.8, the framing of the soffit takes 360 by 25; of what is seen between the walls, 422.8 by 278.8,
    the soffit with its board takes 361 by 26.
    """
    b = work("furring against a soffit", "b")
    parted = [part for row in (6, 7) for part in called(b, "strip", f"strip {row}.")]

    assert [part.length().inches for part in parted] == 2 * [F("35.4"), F("27.4")]
    assert total(called(b, "strip", "beside"), "x") == 2 * 360
    whole_ = F("423.8") * F("279.8")
    assert area(called(b, "board")) == whole_ - 360 * 25
    (face,) = b.faces
    assert face.outline.area() == F("422.8") * F("278.8") - 361 * 26


def test_a_plain_ceiling_goes_round_both_soffits() -> None:
    """Its board is laid out to the studs, 423.8 by 279.8, less 361 by 26 for *a* and 143-1/2 by 26 for *b*."""
    ceiling = lining("plain ceiling against soffits", "ceiling-family")

    assert area(ceiling.parts) == F("423.8") * F("279.8") - 361 * 26 - F("143.5") * 26


def test_the_lining_has_no_board_behind_a_soffit() -> None:
    """Over its board the soffit comes down to 76-1/2: up to 300 in along, the board goes from 1/2 up to there.

    Beyond it goes on to 89-1/2. Between the board of the walls across, 4.6 to 427.4, that is 295.4 x 76 and 127.4 x 89.
    """
    wall = lining("lining behind a soffit", "lining-north-wall")

    assert area(called(wall, "board")) == F("295.4") * 76 + F("127.4") * 89


def test_the_lining_goes_up_to_each_step_of_a_soffit() -> None:
    """Over its board the first step comes down to 78, the second, from 150 on, to 74-1/2; past 300 there is none."""
    wall = lining("lining behind a stepped soffit", "lining-north-wall")

    assert area(called(wall, "board")) == F("145.4") * F("77.5") + 150 * 74 + F("127.4") * 89


def test_a_soffit_stops_at_both_sides_of_a_chase() -> None:
    """The chase is framed 15 in wide round 120, over its board from 112 to 128: of the soffit are left 72 and 272."""
    a = work("soffit ends at a chase", "a")

    assert total(called(a, "bottom rail"), "x") == 2 * (72 + 272)
    assert {face.name for face in a.faces if "end" in face.name} == {"west end, west part", "east end, east part"}


def test_the_post_of_an_opened_stair_ends_under_a_soffit() -> None:
    """The one at the wall was to go up to the joists at 89-1/2; under the soffit's board it is 84-1/2 long."""
    b = work("stair under a soffit", "b")

    assert [part.length().inches for part in called(b, "post", "at the wall")] == [F("84.5")]
    assert "The post at the wall ends under the hung soffit of a." in b.remarks


def test_the_wall_over_the_doors_of_a_utility_room_is_framed_up_to_a_soffit() -> None:
    """Over its board the soffit takes 59-1/2 to 85-1/2 of the wall, down to 81; the header lies at 77 to 80.

    Cripples on the spacing at 48 and 96 go up from 80 to the plate at 88; those at 64 and 80 have no room left.
    """
    b = work("utility room under a soffit", "b")

    boxes = [part.solid.bounds() for part in called(b, "cripple")]
    assert not [box for box in boxes if box.high.z > 81 and F("59.5") < box.high.x and box.low.x < F("85.5")]
    assert {box.high.z for box in boxes if box.high.x < 59} == {88}


def test_a_soffit_down_in_the_header_of_a_utility_room_is_told() -> None:
    """Framed down to 79 it would lie in the header between 77 and 80."""
    low = house(roomy("a", 200, 400, (60, 85), bottom=79, south=63), plant("b"), partitions=P3, rooms=PARTED)
    found, problems = solve(low)

    assert found is None
    assert "doorway-crossed" in {problem.code for problem in problems}


def test_a_hung_soffit_moves_over_for_a_wrap_in_its_side() -> None:
    """The wrap takes 105 to 113 over its board and goes up to the joists: crossers of 105 - 84 - 3 are left."""
    a, b = work("wrap in the side of a soffit", "a"), work("wrap in the side of a soffit", "b")

    assert {part.length().inches for part in called(a, "crosser")} == {105 - 84 - 3}
    assert area(called(a, "board", "north side")) == (160 - 8) * F("11.5")
    assert {part.length().inches for part in called(b, "flat")} == {F("89.5")}


def test_an_opening_in_a_soffit_is_headed_off_by_it() -> None:
    """14 x 14 in its bottom: headers at 87-1/2 and 103 between crossers at 98-1/2 and 114, and its board lacks 196."""
    a, b = work("opening in the bottom of a soffit", "a"), work("opening in the bottom of a soffit", "b")

    headers = [part for part in called(a, "header") if part.name.startswith("header")]
    assert [(part.solid.bounds().low.y, part.length().inches) for part in headers] == [(F("87.5"), 14), (103, 14)]
    assert {F("98.5"), 114} <= {part.solid.bounds().low.x for part in called(a, "crosser")}
    assert area(called(a, "board", "bottom")) == 160 * 25 - 14 * 14
    assert [part.role for part in b.parts] == ["cover"]
    (face,) = b.faces
    assert (face.axis, face.at, face.toward, face.outline.area()) == ("z", F("77.5"), -1, 14 * 14)
    assert "It is framed in a face of the hung soffit of a." in b.remarks


def test_an_opening_in_a_chase_is_framed_by_it() -> None:
    """10 x 12 round 120 and 20 up in its front: ties under 14 and over 26, and its board, 16 by 89, lacks 120."""
    a, b = work("opening in a chase", "a"), work("opening in a chase", "b")

    assert {F("12.5"), 26} <= {part.solid.bounds().low.z for part in called(a, "tie", "front")}
    assert area(called(a, "board", "front")) == 16 * 89 - 120
    assert b.measure("bottom of the opening over the floor").inches == 14 - F("0.3")


def test_an_opening_too_large_for_its_soffit_is_told_where_it_is_written() -> None:
    """24 in across a soffit whose crossers are 22 long leaves no room: a Problem of the opening's own record."""
    at = {"east": "100 in to 124 in", "north": "84.5 in to 108.5 in", "above slab": "77.5 in"}
    large = opening("b", {"along": "east", "from": "100 in", "to": "124 in"}, at, "24 x 24 in")
    found, problems = solve(house(roomy("a", 40, 200, (84, 109), bottom=78, south=87), large))

    assert found is None
    assert [(problem.code, problem.place.file) for problem in problems] == [("cover-past-soffit", "obstacles/b.yaml")]


def test_a_chase_stands_in_the_bottom_of_a_deeper_soffit() -> None:
    """Over its board it takes 112 to 128 along and comes 12-1/2 off the block; the soffit is framed from 4.1 to 19.

    The cleat ends at both sides of it, 72 in each; the outer rail goes on. A header lies before it from crosser to
    crosser, 16 in, and the bottom board loses 16 by 8.4 in.
    """
    a = work("chase in a soffit", "a")

    assert [part.length().inches for part in called(a, "cleat")] == [72, 72]
    assert total(called(a, "bottom rail"), "x") == 160
    (header,) = (part for part in called(a, "header") if part.name.startswith("header"))
    assert (header.length().inches, header.solid.bounds().low.y) == (16, F("12.5"))
    assert area(called(a, "board", "bottom")) == 160 * F("14.9") - 16 * F("8.4")
    assert [face.name for face in a.faces] == ["bottom", "south side", "west end", "east end"]


def test_a_hung_soffit_moves_over_for_a_chase_in_its_side() -> None:
    """The chase stands 24-1/2 in off the block over its board, at 263-1/2: from 230 on crossers of 30-1/2 are left."""
    a = work("chase in the side of a soffit", "a")

    assert {part.length().inches for part in called(a, "crosser")} == {F("263.5") - 230 - 3}
    assert total(called(a, "bottom rail"), "x") == 2 * 160


@pytest.mark.parametrize(
    ("name", "flats", "board"), [("wrap under a soffit", "78.5", "78.5"), ("wrap under a beam soffit", "80", "79.5")]
)
def test_a_wrap_ends_under_a_soffit(name: str, flats: str, board: str) -> None:
    """It was to go up to 80: under the duct soffit it ends at the board, 79 - 1/2; a beam's is cut round its flats."""
    wrap = work(name, "b")

    assert {part.solid.bounds().high.z for part in called(wrap, "flat")} == {F(flats)}
    assert {part.solid.bounds().high.z for part in called(wrap, "board")} == {F(board)}

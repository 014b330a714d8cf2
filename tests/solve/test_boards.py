"""Board on faces: joints on framing, courses, cuts from edge to edge, counts from an estimating textbook, finishing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookgen.model.cutting import Aim
from bookgen.model.length import Length, inches
from bookgen.model.sheets import BoardFace, BoardPlan, Patch, SheetSize
from bookgen.solve.takeoff.boards import plan_boards
from bookgen.solve.takeoff.compare import sheets_by_area
from bookgen.solve.takeoff.finishing import bead, by_factor, coats, packs, screws, seams
from bookgen.solve.takeoff.layouts import course, lay_out
from bookgen.trade.board import Surface

FOOT = 12
SQUARE_FOOT = 144
YARD = tuple(SheetSize(inches(48), inches(FOOT * feet)) for feet in (8, 10, 12))


def _studs(wide: Fraction, apart: int = 16) -> tuple[Length, ...]:
    return tuple(Length(Fraction(at)) for at in range(apart, int(wide) + 1, apart))


def _face(wide: str, high: str, apart: int = 16) -> BoardFace:
    return BoardFace(f"face {wide} x {high}", inches(wide), inches(high), _studs(Fraction(wide), apart))


def _inches(lengths: Iterable[Length]) -> list[Fraction]:
    return [length.inches for length in lengths]


def _bought(plan: BoardPlan) -> dict[Fraction, int]:
    return {size.long.inches: count for size, count in plan.buying()}


@pytest.mark.parametrize(
    ("square_feet", "sheets"),
    [
        (148 * 8, 37),
        (149 * 8 * 2, 75),
        (24 * 50, 38),
        (1080, 34),
    ],
)
def test_sheets_by_area(square_feet: int, sheets: int) -> None:
    """4x8 sheets of a textbook house's walls and ceiling (estimating textbook, example 16-3) and of a trade page."""
    assert sheets_by_area(Fraction(square_feet), Fraction(32), Fraction(0)) == sheets


def test_textbook_house_with_waste() -> None:
    """The same house with 5 % added: 118 wall sheets and 40 ceiling sheets (estimating textbook, example 16-3)."""
    assert packs(Fraction(37 + 75), Fraction(5, 100), Fraction(1)) == 118
    assert packs(Fraction(38), Fraction(5, 100), Fraction(1)) == 40


def test_finishing_of_a_textbook_house() -> None:
    """7,000 square feet take 2,660 ft of tape (59 rolls of 50 ft with a tenth more), 35 gal, 7,000 screws (16-3)."""
    tape, compound, screwed = by_factor(Fraction(7000 * SQUARE_FOOT))
    assert (tape.usual, compound.usual, screwed.usual) == (2660, 35, 7000)
    assert packs(tape.usual, Fraction(1, 10), Fraction(50)) == 59
    assert compound.most == 2 * compound.least  # handbooks differ by a factor of two
    assert all(row.least <= row.usual <= row.most and row.source for row in (tape, compound, screwed))


def test_joints_land_on_members_and_stagger() -> None:
    """A wall of two courses, longer than a sheet: each joint on a stud, the two on different studs."""
    layout = lay_out(_face("200", "96"), inches(48), inches(144))
    assert _inches(layout.joints) == [144, 128]
    assert (layout.unbacked, layout.staggered) == ((), True)
    assert layout.seams == inches(48 + 48 + 200)
    assert sum(piece.area() for piece in layout.pieces) == 200 * 96


def test_a_joint_that_can_only_fall_on_one_member_is_told() -> None:
    """Where the one stud in reach serves both courses, the joints are not staggered, and the layout says so."""
    face = BoardFace("wall", inches(180), inches(96), (inches(100),))
    layout = lay_out(face, inches(48), inches(120))
    assert _inches(layout.joints) == [100, 100]
    assert not layout.staggered
    assert layout.unbacked == ()


def test_a_joint_without_a_member_is_told() -> None:
    """Where no stud is in reach the joint stands at the end of the sheet and asks for a backing block."""
    layout = lay_out(BoardFace("wall", inches(180), inches(40), ()), inches(48), inches(120))
    assert _inches(layout.unbacked) == _inches(layout.joints) == [120]


@pytest.mark.parametrize(
    ("across", "longest", "members", "avoid", "joints"),
    [
        (96, 96, [48], [], ()),
        (97, 96, [48, 80], [], (80,)),
        (200, 96, [80, 90, 96, 110], [], (96, 110)),
        (200, 96, [90, 96, 110], [96], (90, 110)),
        (200, 96, [96, 110], [96], (96, 110)),
        (300, 96, [96], [], (96, 192, 288)),
    ],
)
def test_course(across: int, longest: int, members: list[int], avoid: list[int], joints: tuple[int, ...]) -> None:
    """Joints: on a member before anything, then off the neighbour's, then few, then long pieces first (worked out)."""
    found = course(
        Fraction(across), Fraction(longest), [Fraction(at) for at in members], [Fraction(at) for at in avoid]
    )
    assert found.joints == joints
    assert found.unbacked == tuple(joint for joint in joints if joint not in members)
    assert found.over == len(set(joints) & set(avoid))


def test_a_sliver_of_a_course_is_shared() -> None:
    """A wall of 97 in gets no last course of 1 in, but two that share what the first leaves."""
    layout = lay_out(_face("90", "97"), inches(48), inches(144))
    assert [piece.high().inches for piece in layout.pieces] == [48, Fraction(49, 2), Fraction(49, 2)]


def test_a_narrow_tall_face_is_covered_upright() -> None:
    """The side of a chase, narrower than a sheet, takes one upright board and no joint."""
    layout = lay_out(BoardFace("chase", inches(30), inches(91), (inches(15),)), inches(48), inches(96))
    assert (len(layout.pieces), layout.joints, layout.seams.inches) == (1, (), 0)


def test_board_within_an_opening_is_left_out() -> None:
    """A doorway as wide as a whole piece saves that piece; a smaller one is cut out of the board around it."""
    wide = Patch(inches(0), inches(96), inches(48), inches(96))
    face = BoardFace("wall", inches(192), inches(96), _studs(Fraction(192)), (wide,))
    assert len(lay_out(face, inches(48), inches(96)).pieces) == 4
    narrow = Patch(inches(20), inches(52), inches(0), inches(80))
    face = BoardFace("wall", inches(192), inches(96), _studs(Fraction(192)), (narrow,))
    assert len(lay_out(face, inches(48), inches(96)).pieces) == 5


def test_strips_of_a_soffit_are_ripped_from_sheets() -> None:
    """Four strips of 12 in and three of 16 in, all 12 ft long, are two sheets of 12 ft, without joint or waste."""
    faces = [_face("144", high) for high in ("12",) * 4 + ("16",) * 3]
    plan = plan_boards(faces, YARD)
    assert _bought(plan) == {Fraction(144): 2}
    assert (plan.joints(), plan.wasted(), plan.value) == (0, 0, plan.bound)


def test_sheets_cut_alike_stand_together() -> None:
    """Two equal sheets are one diagram with a count, and each cut says where it goes on either."""
    plan = plan_boards([BoardFace(f"side {n}", inches(96), inches(24), ()) for n in range(4)], YARD)
    (sheet,) = plan.sheets
    assert (sheet.count, sheet.used()) == (2, 48 * 96)
    assert sorted(name for cut in sheet.cuts for name in cut.goes_to) == [f"side {n}" for n in range(4)]


def test_prices_decide_where_all_are_known() -> None:
    """With a price for each size the cheapest board is bought, else the least area."""
    faces = [_face("144", "48")]
    dear = (SheetSize(inches(48), inches(96), Fraction(10)), SheetSize(inches(48), inches(144), Fraction(40)))
    by_cost = plan_boards(faces, dear)
    assert (by_cost.aim, by_cost.value, _bought(by_cost)) == (Aim.COST, 20, {Fraction(96): 2})
    by_area = plan_boards(faces, YARD)
    assert (by_area.aim, by_area.value, by_area.bound) == (Aim.AREA, 144 * 48, 144 * 48)


def test_no_sheet_on_sale_is_told() -> None:
    """Faces without sheets are returned in words; no faces make an empty plan."""
    assert "no sheet" in plan_boards([_face("100", "40")], ()).impossible[0]
    empty = plan_boards((), YARD)
    assert (empty.value, empty.wasted(), empty.impossible) == (0, 0, ())


def test_order_of_sheets_does_not_matter() -> None:
    """The same faces and sizes in another order of sizes give the same plan."""
    faces = [_face("200", "91"), _face("130", "14"), _face("60", "97")]
    assert plan_boards(faces, YARD) == plan_boards(faces, YARD[::-1])


def test_screws_are_counted_on_the_framing() -> None:
    """A 4x8 board across studs 16 in apart: 7 studs, each with 4 screws 16 in apart at most (worked by hand)."""
    layout = lay_out(_face("96", "48"), inches(48), inches(96))
    found = screws(layout, Surface.WALL, inches(16))
    assert found is not None
    assert (found.least, found.most) == (7 * 4, 7 * 4)
    ceiling = screws(layout, Surface.CEILING, inches(16))
    assert ceiling is not None
    assert ceiling.usual == 7 * 5
    assert screws(layout, Surface.WALL, inches(30)) is None


def test_what_is_measured_is_one_figure() -> None:
    """Bead, seams and coats of paint are measured, so their least and most are equal."""
    assert bead([inches(96), inches(24)]).usual == 10
    assert seams([lay_out(_face("200", "96"), inches(48), inches(144))]).usual == Fraction(296, 12)
    primer, paint = coats(Fraction(100 * SQUARE_FOOT))
    assert (primer.usual, paint.least, paint.most) == (100, 200, 200)


SIDES = st.fractions(min_value=4, max_value=230, max_denominator=16)
FACES = st.lists(st.tuples(SIDES, SIDES, st.sampled_from([16, 24])), min_size=1, max_size=7)
SIZES = st.lists(
    st.tuples(st.sampled_from([48, 54]), st.sampled_from([96, 108, 120, 144, 192])), min_size=1, max_size=3, unique=True
)


def _overlap(one: Patch, other: Patch) -> bool:
    return (
        one.left < other.right and other.left < one.right and one.foot < other.top and other.foot < one.top
    )  # fmt: skip


def _edge_to_edge(patches: list[Patch]) -> bool:
    """Tell whether the patches can be cut apart by cuts that each go right through what is left."""
    if len(patches) <= 1:
        return True
    for at in {patch.right for patch in patches}:
        if all(patch.right <= at or patch.left >= at for patch in patches):
            parts = [patch for patch in patches if patch.right <= at], [p for p in patches if p.left >= at]
            if all(parts) and all(map(_edge_to_edge, parts)):
                return True
    for at in {patch.top for patch in patches}:
        if all(patch.top <= at or patch.foot >= at for patch in patches):
            parts = [patch for patch in patches if patch.top <= at], [p for p in patches if p.foot >= at]
            if all(parts) and all(map(_edge_to_edge, parts)):
                return True
    return False


@settings(max_examples=50)
@given(FACES, SIZES)
def test_every_board_plan_holds(faces: list[tuple[Fraction, Fraction, int]], sizes: list[tuple[int, int]]) -> None:
    """Faces are covered once, joints lie on members, each piece is cut once from a sheet, from edge to edge."""
    listed = [
        BoardFace(f"face {number}", Length(wide), Length(high), _studs(wide, apart))
        for number, (wide, high, apart) in enumerate(faces)
    ]
    plan = plan_boards(listed, [SheetSize(inches(wide), inches(long)) for wide, long in sizes])
    wanted: Counter[tuple[Fraction, ...]] = Counter()
    for layout in plan.layouts:
        assert sum(piece.area() for piece in layout.pieces) == layout.face.wide.inches * layout.face.high.inches
        assert not any(_overlap(a, b) for n, a in enumerate(layout.pieces) for b in layout.pieces[:n])
        landings = {*layout.face.members, *layout.unbacked}
        upright = len(layout.pieces) == 1 or layout.pieces[0].wide() == layout.face.wide
        assert upright or all(joint in landings for joint in layout.joints)
        for piece in layout.pieces:
            wanted[tuple(sorted((piece.wide().inches, piece.high().inches)))] += 1
    made: Counter[tuple[Fraction, ...]] = Counter()
    for sheet in plan.sheets:
        whole = Patch(inches(0), sheet.size.long, inches(0), sheet.size.wide)
        patches = [cut.patch for cut in sheet.cuts]
        assert all(whole.holds(patch) for patch in patches)
        assert not any(_overlap(a, b) for n, a in enumerate(patches) for b in patches[:n])
        assert _edge_to_edge(patches)
        for cut in sheet.cuts:
            assert len(cut.goes_to) == sheet.count
            made[tuple(sorted((cut.patch.wide().inches, cut.patch.high().inches)))] += sheet.count
    assert made == wanted
    assert plan.used() <= plan.bound <= plan.value == plan.bought()

"""Ends off square, notches and rips of single pieces, against sizes worked out by hand."""

from __future__ import annotations

from fractions import Fraction

from bookgen.model.assembly import Material, Part
from bookgen.model.geometry import Corner, Polygon, Prism, box
from bookgen.model.joinery import SQUARE, EndCut, Joinery, Notch
from bookgen.model.length import inches
from bookgen.solve.takeoff.joinery import joinery

ZERO = Fraction(0)


def piece(corners: tuple[Corner, ...], thick: str = "3.5", stock: str = "2x4") -> Part:
    """Return a piece with this profile in x and z, pushed across the run."""
    return Part("one", "stud", Prism(Polygon(corners), "y", ZERO, Fraction(thick)), Material.LUMBER, stock)


def points(*pairs: tuple[str | int, str | int]) -> tuple[Corner, ...]:
    """Return corners."""
    return tuple((Fraction(u), Fraction(v)) for u, v in pairs)


def test_a_whole_stick_is_cut_square() -> None:
    """A stud of full section has nothing told of it, whichever axis it stands on."""
    stud = box((ZERO, Fraction("1.5")), (ZERO, Fraction("3.5")), (ZERO, Fraction(90)), "z")

    assert joinery(Part("one", "stud", stud, Material.LUMBER, "2x4")) == SQUARE


def test_a_stud_under_a_slope_is_bevelled_on_top() -> None:
    """1-1/2 in wide, 3/4 in higher on one side: atan(1/2) is 26.57 degrees, so the saw is set to 26-1/2."""
    stud = piece(points((0, 0), ("1.5", 0), ("1.5", 40), (0, "39.25")))

    assert joinery(stud) == Joinery(ends=(EndCut("high", "bevel", 53, joinery(stud).ends[0].leans),))


def test_a_plate_on_a_slope_has_two_parallel_ends() -> None:
    """Cut plumb at both ends on a 3-4-5 slope: each is off square by the slope, atan(3/4) = 36.87, to the half 37."""
    low, up = Fraction(40), Fraction(30)
    rise = Fraction("1.875")  # 1.5 in across the grain is 1.5 / cos = 1.875 in straight up
    plate = piece(((ZERO, ZERO), (low, up), (low, up + rise), (ZERO, rise)))
    first, second = joinery(plate).ends

    assert (first.kind, first.half_degrees, second.half_degrees) == ("bevel", 74, 74)
    assert first.leans == second.leans
    assert joinery(plate).ripped is None


def test_a_wide_face_is_mitred() -> None:
    """The same cut seen across 3-1/2 in of a piece 1-1/2 in thick crosses its wide face: a mitre of 45 degrees."""
    brace = piece(points((0, 0), (30, 0), ("26.5", "3.5"), (0, "3.5")), thick="1.5")

    assert [(end.end, end.kind, end.half_degrees) for end in joinery(brace).ends] == [("high", "mitre", 90)]


def test_mirrored_ends_lean_apart() -> None:
    """A trapezoid has two ends off square that are not parallel."""
    brace = piece(points((0, 0), (30, 0), ("26.5", "3.5"), ("3.5", "3.5")), thick="1.5")
    first, second = joinery(brace).ends

    assert first.half_degrees == second.half_degrees == 90
    assert first.leans != second.leans


def test_a_ripped_piece_says_to_what() -> None:
    """A sole of 1-1/2 by 1-1/2 in has to be ripped from a 2x4."""
    sole = box((ZERO, Fraction(15)), (ZERO, Fraction("1.5")), (ZERO, Fraction("1.5")), "x")

    assert joinery(Part("one", "sole", sole, Material.TREATED, "2x4 treated")).ripped == (inches("1.5"), inches("1.5"))


def test_a_short_piece_of_full_section_is_not_ripped() -> None:
    """A cripple 3 in long is shorter than its stick is wide; its section is whole."""
    cripple = box((ZERO, Fraction("1.5")), (ZERO, Fraction("3.5")), (ZERO, Fraction(3)), "z")

    assert joinery(Part("one", "cripple", cripple, Material.LUMBER, "2x4")) == SQUARE


def test_notches_at_an_end_and_in_an_edge() -> None:
    """A corner cut out 3-1/2 by 1-1/2 in; and a slot 2 in long and 1 in deep in the middle of an edge."""
    end = piece(points((0, 0), (90, 0), (90, 2), ("86.5", 2), ("86.5", "3.5"), (0, "3.5")), thick="1.5")
    slot = piece(
        points((0, 0), (90, 0), (90, "3.5"), (42, "3.5"), (42, "2.5"), (40, "2.5"), (40, "3.5"), (0, "3.5")),
        thick="1.5",
    )

    assert joinery(end).notches == (Notch(inches("3.5"), inches("1.5")),)
    assert joinery(slot).notches == (Notch(inches(2), inches(1)),)


def test_board_has_no_joinery() -> None:
    """A sheet is scored to its size; it is neither ripped lumber nor notched."""
    sheet = box((ZERO, Fraction(40)), (ZERO, Fraction("0.5")), (ZERO, Fraction(40)), "y")

    assert joinery(Part("one", "board", sheet, Material.BOARD, "1/2 in gypsum board")) == SQUARE

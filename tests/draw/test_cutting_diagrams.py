"""Cutting diagrams as data: every stick and board drawn to scale, and no word wider than what it stands in."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from bookgen.draw.boarding import layout_sketches, sheet_sketches
from bookgen.draw.cutting import stick_sketches
from bookgen.draw.paper import Paper
from bookgen.model.buying import Sheets, Sticks
from bookgen.model.cutting import Piece, Saving, SawRules, Stick
from bookgen.model.length import Length, inches
from bookgen.model.sheets import BoardFace, SheetSize
from bookgen.model.sketch import Anchoring, Area, Label, LineKind, Sketch
from bookgen.model.tape import Tape, Units
from bookgen.solve.takeoff.boards import plan_boards
from bookgen.solve.takeoff.cutting import plan_cuts

NOTHING_SAVED = Saving("", Fraction(1), Fraction(1))


@pytest.fixture(scope="module")
def sticks() -> Sticks:
    """Return a plan with long and short pieces, whole sticks and one that leaves a good deal over."""
    pieces = [
        Piece(inches(96), 2, "a rail"),
        Piece(inches("37.5"), 7, "a crosser"),
        Piece(inches("4.875"), 23, "a tie"),
    ]
    return Sticks("2x2", plan_cuts(pieces, [Stick(inches(96))], SawRules()), NOTHING_SAVED)


@pytest.fixture(scope="module")
def sheets() -> Sheets:
    """Return a plan of two walls and a strip."""
    members = tuple(Length(Fraction(at)) for at in range(8, 200, 16))
    faces = [
        BoardFace("a wall", inches(200), inches(90), members),
        BoardFace("b wall", inches(100), inches(90), members[:6]),
        BoardFace("c strip", inches(80), inches(7), members[:5]),
    ]
    sold = [SheetSize(inches(48), inches(12 * feet)) for feet in (8, 12)]
    return Sheets("1/2 in gypsum board", plan_boards(faces, sold), Fraction(1), NOTHING_SAVED)


def areas(sketch: Sketch, kind: LineKind) -> list[tuple[float, float, float, float]]:
    """Return left, foot, right and top of the rectangles of a kind."""
    return [
        (shape.corners[0][0], shape.corners[0][1], shape.corners[2][0], shape.corners[2][1])
        for shape in sketch.shapes
        if isinstance(shape, Area) and shape.line is kind
    ]


def test_every_piece_of_every_way_is_drawn_at_its_length(sticks: Sticks) -> None:
    """The bars hold the plan's pieces, each once, as long as they are cut; what is left is drawn at its length."""
    drawn = [
        right - left
        for sketch in stick_sketches(sticks, Tape())
        for left, _, right, _ in areas(sketch, LineKind.BEYOND)
    ]
    left = [
        right - left
        for sketch in stick_sketches(sticks, Tape())
        for left, _, right, _ in areas(sketch, LineKind.HIDDEN)
    ]

    assert sorted(drawn) == pytest.approx(
        sorted(float(cut.length.inches) for row in sticks.plan.sticks for cut in row.cuts)
    )
    assert sorted(left) == pytest.approx(
        sorted(float(row.left.inches) for row in sticks.plan.sticks if row.left.inches)
    )


def test_pieces_on_a_bar_do_not_overlap(sticks: Sticks) -> None:
    """From left to right each begins where the saw has left the one before, and the last ends within the stick."""
    for sketch in stick_sketches(sticks, Tape()):
        rows: dict[float, list[tuple[float, float]]] = {}
        for left, foot, right, _ in areas(sketch, LineKind.BEYOND):
            rows.setdefault(foot, []).append((left, right))
        for spans in rows.values():
            assert spans == sorted(spans)
            assert all(before[1] <= after[0] + 1e-9 for before, after in pairwise(spans))
            assert spans[-1][1] <= 96 + 1e-9


@pytest.mark.parametrize("units", ["imperial", "metric", "both"])
def test_words_stay_inside_what_they_name(sticks: Sticks, sheets: Sheets, units: Units) -> None:
    """A label in the middle of a rectangle is narrower than it; every label is within its sketch."""
    tape = Tape(units)
    for sketch in (*stick_sketches(sticks, tape), *sheet_sketches(sheets, tape), *layout_sketches(sheets, tape)):
        paper = Paper(int(sketch.scale), units)
        boxes = areas(sketch, LineKind.BEYOND) + areas(sketch, LineKind.HIDDEN)
        for label in (shape for shape in sketch.shapes if isinstance(shape, Label)):
            wide, (x, y) = paper.width(label.text, label.height, strong=label.strong), label.at
            assert sketch.low[1] <= y <= sketch.high[1]
            if label.anchor is Anchoring.MIDDLE:
                holding = [b for b in boxes if b[0] <= x - wide / 2 and x + wide / 2 <= b[2] and b[1] <= y <= b[3]]
                assert holding, label.text
            else:
                assert x + wide <= sketch.high[0] + 1e-6


def test_sheets_and_faces_are_drawn_whole(sheets: Sheets) -> None:
    """Every piece of every way is on a sheet of its size; of the faces those with several boards are drawn."""
    drawn = sum(len(areas(sketch, LineKind.BEYOND)) for sketch in sheet_sketches(sheets, Tape()))
    faces = layout_sketches(sheets, Tape())

    assert drawn == sum(len(row.cuts) for row in sheets.plan.sheets)
    assert sum(len(areas(sketch, LineKind.BEYOND)) for sketch in faces) == sum(
        len(layout.pieces) for layout in sheets.plan.layouts if len(layout.pieces) > 1
    )
    assert "a wall" in faces[0].desc
    assert "c strip" not in faces[0].desc


def test_a_diagram_stands_on_a_page() -> None:
    """However many ways there are, a sketch is never higher than a page has room for."""
    pieces = [Piece(Length(Fraction(400 + 7 * n, 16)), 1, "x") for n in range(120)]
    many = Sticks("2x4", plan_cuts(pieces, [Stick(inches(96))], SawRules()), NOTHING_SAVED)

    for sketch in stick_sketches(many, Tape()):
        assert sketch.paper_size()[1] < 230

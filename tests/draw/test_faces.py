"""The sheets of `before you hang or drill`: what is confirmed looks otherwise than what is not; marks hold."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest

from bookgen.draw.face_marks import strokes
from bookgen.draw.faces import face_sketches
from bookgen.draw.outlines import Rect
from bookgen.draw.paper import SHEET_WIDE, Paper
from bookgen.model.behind import FaceBehind, letter, told_depth
from bookgen.model.records.inside import Known
from bookgen.model.sketch import Area, Label, LineKind, Sketch, Stroke, TagMark
from bookgen.model.solved import Solved
from tests.draw.test_sketches import boxes_of, overlap
from tests.sample_house import sample_house

FILLED = (LineKind.BEYOND,)


@pytest.fixture(scope="module")
def solved() -> Solved:
    """Return the sample house."""
    return sample_house()


@pytest.fixture(scope="module")
def drawn(solved: Solved) -> list[tuple[FaceBehind, Sketch]]:
    """Return each face that is drawn, with its sheet."""
    pairs = zip(solved.faces, face_sketches(solved), strict=True)
    return [(face, sketch) for face, sketch in pairs if sketch is not None]


def words(sketch: Sketch) -> list[str]:
    """Return the texts of a sheet."""
    return [shape.text for shape in sketch.shapes if isinstance(shape, Label)]


def lines(sketch: Sketch, kind: LineKind) -> int:
    """Return how many strokes of a kind there are."""
    return sum(isinstance(shape, Stroke) and shape.line is kind for shape in sketch.shapes)


def test_every_thing_has_its_letter_and_its_depth_only_if_confirmed(drawn: list[tuple[FaceBehind, Sketch]]) -> None:
    """A to Z in the order of the table; a question mark stands where thing or face is planned or assumed."""
    for face, sketch in drawn:
        texts = words(sketch)
        doubts = 0
        for number, thing in enumerate(face.things):
            assert letter(number) in texts
            doubts += not (face.sure and thing.known.how in ("measured", "photo"))
        assert texts.count("?") == doubts, sketch.title


def test_what_nobody_confirmed_is_dashed_and_never_filled(drawn: list[tuple[FaceBehind, Sketch]]) -> None:
    """A planned face holds no filled wood and no filled thing; dashes, and strokes all over it."""
    planned = [(face, sketch) for face, sketch in drawn if not face.sure]
    assert planned
    for face, sketch in planned:
        assert not [s for s in sketch.shapes if isinstance(s, Area) and s.material is not None]
        assert lines(sketch, LineKind.HIDDEN) >= len(face.framing)
        assert lines(sketch, LineKind.BARRED) > 3


def test_a_thing_that_turns_assumed_changes_its_look(solved: Solved) -> None:
    """The same face with its evidence taken away: fills become dashes, the depth a question mark, the length goes."""
    assumed = Known.model_validate({"how": "assumed"})
    number = next(n for n, face in enumerate(solved.faces) if face.things and face.screw is not None)
    face = solved.faces[number]
    doubted = replace(face, things=tuple(replace(thing, known=assumed) for thing in face.things), screw=None)
    faces = (*solved.faces[:number], doubted, *solved.faces[number + 1 :])
    before, after = (face_sketches(one)[number] for one in (solved, replace(solved, faces=faces)))
    assert before is not None
    assert after is not None
    assert lines(after, LineKind.HIDDEN) > lines(before, LineKind.HIDDEN)
    assert "?" in words(after)
    assert "?" not in words(before)
    assert "No screw longer" not in after.desc


def test_texts_stand_apart_and_on_the_sheet(drawn: list[tuple[FaceBehind, Sketch]]) -> None:
    """No two texts meet, none leaves the sheet, and no sheet is wider than its page."""
    for _, sketch in drawn:
        boxes = boxes_of(sketch)
        assert not [(a[0], b[0]) for a, b in combinations(boxes, 2) if overlap(a[1], b[1])], sketch.title
        for _, (left, low, right, high) in boxes:
            assert sketch.low[0] <= left <= right <= sketch.high[0], sketch.title
            assert sketch.low[1] <= low <= high <= sketch.high[1], sketch.title
        assert sketch.paper_size()[0] <= SHEET_WIDE + 2


def test_a_cover_carries_the_number_that_is_in_the_register(
    solved: Solved, drawn: list[tuple[FaceBehind, Sketch]]
) -> None:
    """Every cover of the sample with a tag is marked on a sheet, in the middle of it."""
    covers = {
        part.name.removeprefix("cover ")
        for one in solved.obstacles
        for part in (one.assembly.parts if one.assembly else ())
        if part.role == "cover"
    }
    marks = [(sketch, mark) for _, sketch in drawn for mark in sketch.shapes if isinstance(mark, TagMark)]

    assert {mark.tag for _, mark in marks} == covers >= {"01", "03", "08", "14", "16"}
    stack = next(mark for sketch, mark in marks if mark.tag == "03")
    assert stack.at[1] == pytest.approx(17 - 0.3)  # from 10 to 24 above the slab, the floor 0.3 thick: site notes


def test_south_and_east_walls_are_seen_from_the_room(drawn: list[tuple[FaceBehind, Sketch]]) -> None:
    """Somebody who looks north or west has the end that is taped from at the left, all others at the right."""
    seen = set()
    for face, sketch in drawn:
        numbers = [s for s in sketch.shapes if isinstance(s, Label) and s.turned]
        if len(numbers) > 2:
            spots = [one.at[0] for one in numbers]
            zero = next(one.at[0] for one in numbers if one.text == "0\u2033")
            assert zero == (min if face.looking in ("north", "west", "up") else max)(spots), sketch.title
            seen.add(face.looking)
    assert {"north", "south", "east", "west", "up"} == seen


@pytest.mark.parametrize(
    ("depth", "inches", "millimetres"),
    [(Fraction(1), Fraction(1), 25), (Fraction(249, 250), Fraction(7, 8), 25), (Fraction(1, 16), Fraction(0), 1)],
)
def test_depths_are_rounded_down(depth: Fraction, inches: Fraction, millimetres: int) -> None:
    """0.996 in is told as 7/8 in or 25 mm: nobody may trust in more than there is."""
    assert told_depth(depth, metric=False).inches == inches
    assert told_depth(depth, metric=True).inches * Fraction("25.4") == millimetres


def test_strokes_stay_inside_the_outline() -> None:
    """Over a wall with a doorway the slanted strokes leave the doorway free and keep to the rectangle asked for."""
    outline = [(0.0, 0.0), (30.0, 0.0), (30.0, 60.0), (60.0, 60.0), (60.0, 0.0), (90.0, 0.0), (90.0, 80.0), (0.0, 80.0)]
    rect = Rect(Fraction(0), Fraction(0), Fraction(90), Fraction(70))
    found = [shape for shape in strokes(rect, outline, Paper(32, "imperial")) if isinstance(shape, Stroke)]
    assert len(found) > 20
    for shape in found:
        (u1, v1), (u2, v2) = shape.points
        middle = ((u1 + u2) / 2, (v1 + v2) / 2)
        assert not (30 < middle[0] < 60 and middle[1] < 60)
        assert max(v1, v2) <= 70 + 1e-9
        assert u1 + v1 == pytest.approx(u2 + v2)


def test_letters_go_on_after_z() -> None:
    """The twenty-seventh thing is AA."""
    assert [letter(n) for n in (0, 25, 26, 27, 52)] == ["A", "Z", "AA", "AB", "BA"]

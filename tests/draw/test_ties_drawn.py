"""The small plans that say where to tape a thing from: each number is read, and stands off what it does not measure."""

from __future__ import annotations

from itertools import combinations, pairwise

from bookgen.draw.meetings import crosses, meet, runs_through
from bookgen.draw.paper import Paper
from bookgen.draw.sheet import label_box, tag_box
from bookgen.draw.tie_labels import Field, Tape, numbered
from bookgen.draw.ties import tie_sketches
from bookgen.draw.words import size
from bookgen.model.sketch import Area, Label, LineKind, Shape, Sketch, Stroke, TagMark
from tests.draw.drawn import house

PAPER = Paper(48, "imperial")


def words_of(shapes: tuple[Shape, ...], paper: Paper) -> list[tuple[str, tuple[float, float, float, float]]]:
    """Return texts and tags with the boxes that they cover."""
    labels = [(one.text, label_box(one, paper)) for one in shapes if isinstance(one, Label)]
    return [*labels, *((one.tag, tag_box(one, paper)) for one in shapes if isinstance(one, TagMark))]


def paper_of(sketch: Sketch) -> Paper:
    """Return the paper that a sketch of the sample house is drawn on."""
    return Paper(int(sketch.scale), "imperial")


def test_each_tie_is_written_once_and_nothing_lies_on_it() -> None:
    """All printed lengths of a choice stand on its plan; no two texts meet, none leaves the sheet."""
    solved = house("sample")
    choices = {one.key: one.choice for one in solved.ties}
    for key, sketch in tie_sketches(solved).items():
        found = words_of(sketch.shapes, paper_of(sketch))
        lengths = sorted(size(tie.printed, units="imperial") for tie in choices[key].ties)
        assert sorted(text for text, _ in found if text in lengths) == lengths, key
        for (one, first), (other, second) in combinations(found, 2):
            assert not meet(first, second), f"{key}: {one} lies on {other}"
        for text, (left, low, right, high) in found:
            assert sketch.low[0] <= left < right <= sketch.high[0], f"{key}: {text}"
            assert sketch.low[1] <= low < high <= sketch.high[1], f"{key}: {text}"


def test_no_tape_runs_through_a_tag_or_through_two_numbers() -> None:
    """A number may stand on its own tape, on one only; a tag on none."""
    for key, sketch in tie_sketches(house("sample")).items():
        strokes = [one for one in sketch.shapes if isinstance(one, Stroke) and one.line is LineKind.CENTRE]
        tapes = [pair for stroke in strokes for pair in pairwise(stroke.points)]
        for text, box in words_of(sketch.shapes, paper_of(sketch)):
            through = sum(runs_through(tape, box) for tape in tapes)
            assert through <= (text != key), f"{key}: {text}"


def test_the_clear_ground_under_a_number_leaves_the_walls_whole() -> None:
    """Where a number stands on its tape the tape is left out, never a piece of a wall beside it."""
    grounds = 0
    for key, sketch in tie_sketches(house("sample")).items():
        strokes = [one for one in sketch.shapes if isinstance(one, Stroke) and one.line is LineKind.CUT]
        walls = [pair for stroke in strokes for pair in pairwise(stroke.points)]
        bare = [one for one in sketch.shapes if isinstance(one, Area) and not one.outlined]
        for area in (one for one in bare[1:] if len(one.corners) == 4):  # the room comes first, the arrow has three
            (left, low), _, (right, high), _ = area.corners
            assert not any(runs_through(wall, (left, low, right, high)) for wall in walls), key
            grounds += 1
    assert grounds > 8


def test_two_tapes_side_by_side_keep_their_numbers_apart() -> None:
    """Two upright tapes 12 in apart at 1/4 in to the foot, too close for words between: leaders that do not cross."""
    tapes = [Tape("10′", (0.0, 0.0), (0.0, 120.0)), Tape("11′", (12.0, -12.0), (12.0, 120.0))]
    lines = tuple((tape.mark, tape.end) for tape in tapes)
    field = Field((-120.0, -120.0, 240.0, 240.0), (), lines, ())
    shapes = tuple(numbered(tapes, (6.0, 130.0), "09", field, PAPER))
    words = words_of(shapes, PAPER)
    assert [text for text, _ in words] == ["10′", "11′", "09"]
    for (_, first), (_, second) in combinations(words, 2):
        assert not meet(first, second)
    leaders = [one.points for one in shapes if isinstance(one, Stroke) and one.line is LineKind.LEADER]
    assert not any(crosses((a, b), (c, d)) for (a, b), (c, d) in combinations([(p[0], p[1]) for p in leaders], 2))

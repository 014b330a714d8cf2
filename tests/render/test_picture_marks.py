"""Where marks and their labels are drawn on a picture: in percent, and no label on another where there is room."""

from __future__ import annotations

from bookgen.model.book import MarkShape, Percent, PictureMark
from bookgen.render.picture_marks import drawn_marks


def mark(shape: MarkShape, *dots: Percent) -> PictureMark:
    """Return a mark with the label 01."""
    return PictureMark(shape, "01", tag=True, what="A valve", dots=dots)


def test_a_box_may_be_given_by_any_two_corners() -> None:
    """Its lower corner and its size follow, whichever corner was written first."""
    (drawn,) = drawn_marks([mark("box", (50, 40), (30, 60))])
    assert (drawn.low, drawn.size, drawn.tail) == ((30, 40), (20, 20), None)


def test_the_label_of_an_arrow_stands_at_its_tail() -> None:
    """The tip is left free, so that what it points at can be seen."""
    (drawn,) = drawn_marks([mark("arrow", (20, 20), (50, 50))])
    assert (drawn.at, drawn.tail, drawn.low) == ((20, 20), (20, 20), None)


def test_labels_stand_to_the_right_until_the_edge() -> None:
    """A label never leaves the picture."""
    assert [one.leftward for one in drawn_marks([mark("point", (50, 50)), mark("point", (95, 10))])] == [False, True]


def test_labels_of_marks_over_one_another_take_turns() -> None:
    """Four valves on one pipe, 5 percent apart."""
    valves = [mark("point", (50, down)) for down in (40, 45, 50, 55)]
    assert [one.leftward for one in drawn_marks(valves)] == [False, True, False, True]


def test_a_label_does_not_move_onto_a_neighbour() -> None:
    """To the left of the second box stands the label of the first; to the right there is room."""
    boxes = [mark("box", (30, 29), (37, 49)), mark("box", (43, 32), (50, 48))]
    assert [one.leftward for one in drawn_marks(boxes)] == [False, False]

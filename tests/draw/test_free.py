"""What has to stay free is on the plan of its chapter: before a panel, before an appliance, under a door's swing."""

from __future__ import annotations

from bookgen.model.sketch import KeyEntry, LineKind, Sketch, Stroke, View
from tests.draw.drawn import drawn_by_key

KEPT_FREE = KeyEntry("kept free", line=LineKind.FREE)


def plan(key: str) -> Sketch:
    """Return the plan of a chapter of the sample."""
    return next(one for one in drawn_by_key("sample")[key] if one.view is View.PLAN)


def boxes(sketch: Sketch) -> set[tuple[float, float, float, float]]:
    """Return left, bottom, right and top of each space drawn; the swatch of the key is none."""
    lines = [one.points for one in sketch.shapes if isinstance(one, Stroke) and one.line is LineKind.FREE]
    closed = [points for points in lines if points[0] == points[-1]]
    return {(*map(min, zip(*points, strict=True)), *map(max, zip(*points, strict=True))) for points in closed}


def test_the_plan_of_a_closet_shows_the_working_space_and_the_swing() -> None:
    """The panel's face is 3.9 in off the block: 36 by 30 in before it (NEC 110.26(A)); a leaf of 30 in swings out."""
    sketch = plan("01-panel")
    assert boxes(sketch) == {(3.9, 53.5, 39.9, 83.5), (46, 69, 76, 99)}
    assert KEPT_FREE in sketch.entries


def test_the_plan_of_a_utility_room_shows_what_each_appliance_asks_for() -> None:
    """The furnace's front is at 316 in, facing west: 30 by 30 in before it (IRC M1305.1), below the cut."""
    sketch = plan("07-mechanical")
    assert (286, 81, 316, 111) in boxes(sketch)
    assert len(boxes(sketch)) == 3  # and two leaves


def test_no_other_sketch_has_it() -> None:
    """A section or an elevation has no room for it, and a soffit keeps nothing free."""
    for sketches in drawn_by_key("sample").values():
        for one in sketches:
            assert one.view is View.PLAN or KEPT_FREE not in one.entries

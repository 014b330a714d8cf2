"""Levels of many treatments, drawn by hypothesis: all their sketches are held against what a draughtsman checks."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from bookgen.model.sketch import View
from bookgen.solve import solve
from tests.draw.drawn import by_key, every
from tests.draw.test_drawn_svg import (
    assert_drawn_well,
    assert_hidden_is_not_solid,
    assert_no_sizes_cross,
    assert_sizes_are_true,
    key_is_complete,
)
from tests.draw.test_sketches import assert_tidy
from tests.whole_levels import Drawn, levels, whole

BATCHES, EACH = 40, 50  # about seven of ten levels can be built, with two treatments each: 3,000 sets of sketches
UNITS = ("imperial", "metric", "both")
# What was once drawn badly: a level, its units.
KEPT: tuple[tuple[Drawn, str], ...] = (
    # A size ran through words that stood in the duct itself.
    (
        ("ceiling", (("beam soffit", 48, 386, 101, 0.25), ("hung soffit north", 4, 142, 149, 79.0, 20), ("furring",))),
        "both",
    ),
    # Sizes of wide work stood in the wall beside it, with the only way for leaders to what is there.
    (
        ("bare", (("hung soffit east", 221, 252, 54, 9.5), ("furring",), ("hung soffit north", 9, 202, 253, 78.0, 8))),
        "imperial",
    ),
    (("bare", (("furring",), ("hung soffit north", 9, 67, 171, 76.5, 12))), "metric"),
    # What lies between two extension lines was shut in by them, where the drawing shows what is measured anyway.
    (
        (
            "ceiling",
            (("hung soffit north", 35, 217, 237, 79.0, 16), ("furring",), ("hung soffit north", 17, 277, 47, 74.5, 12)),
        ),
        "imperial",
    ),
)


def assert_level_is_drawn_well(drawn: Drawn, units: str) -> None:
    """Check every sketch of a level; one that can't be built has none."""
    project = whole(*drawn)
    solved, _ = solve(replace(project, record=project.record.model_copy(update={"units": units})))
    for sketch in every(by_key(solved)) if solved else ():
        assert_drawn_well(sketch)
        assert_sizes_are_true(sketch)
        assert_no_sizes_cross(sketch)
        key_is_complete(sketch)
        if sketch.view is not View.CUTAWAY:  # which lays open what is hidden
            assert_hidden_is_not_solid(sketch)
        if sketch.view is not View.PLAN:  # names and tags of a plan stand over thin dashed lines
            assert_tidy(sketch)


@pytest.mark.parametrize(("drawn", "units"), KEPT)
def test_what_was_drawn_badly_is_drawn_well(drawn: Drawn, units: str) -> None:
    """Levels that the long job has found: no text on a line, sizes true, the key complete."""
    assert_level_is_drawn_well(drawn, units)


@pytest.mark.long
@pytest.mark.parametrize("batch", range(BATCHES))
def test_many_levels_are_drawn_well(batch: int) -> None:
    """Up to three treatments that may meet, in one room or two, in all units; a batch has its own seed and an end."""
    drawn = given(levels(3), st.sampled_from(UNITS))(assert_level_is_drawn_well)
    phases, checks = (Phase.generate,), tuple(HealthCheck)
    seed(batch)(
        settings(max_examples=EACH, deadline=None, database=None, phases=phases, suppress_health_check=checks)(drawn)
    )()

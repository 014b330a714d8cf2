"""The sample house, read and solved once for all tests of a process that ask it something."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from bookgen.check import check
from bookgen.model.solved import Solved

SAMPLE = Path(__file__).parents[1] / "projects" / "tamarack"


@cache
def sample_house() -> Solved:
    """Return the sample house; it is never changed, so that all may share it."""
    checked = check(SAMPLE)
    assert checked.solved is not None, [str(problem) for problem in checked.problems]
    return checked.solved

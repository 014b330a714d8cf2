"""Records of the sample house with slips of the pen and spoilt bytes in them: bound, or refused in words."""

from __future__ import annotations

from pathlib import Path

import pytest

from bookgen.bind import composed_book
from bookgen.model.book import Edition
from tests.fuzzing import for_minutes, tried
from tests.hostile import hostile_project

LONG_MINUTES = 10


def test_slips_in_the_sample_are_refused_or_bound(tmp_path: Path) -> None:
    """Nine trials: never a traceback, and some of each end."""
    ends = tried(tmp_path / "trials", range(1, 10))
    assert sum(ends.values()) == 9
    assert min(ends["refused"], ends["bound"]) > 1


@pytest.mark.long
def test_many_more_slips(tmp_path: Path) -> None:
    """The same for ten minutes of processor time."""
    ends = tried(tmp_path / "trials", for_minutes(LONG_MINUTES, first=1000))
    assert min(ends["refused"], ends["bound"]) > 100
    assert ends["printed"] > 10


@pytest.mark.parametrize("name", ["W" * 120, "long" * 400, "many words " * 180 + "end"], ids=["wide", "long", "many"])
def test_a_name_wider_than_any_sheet_is_no_stumbling_block(tmp_path: Path, name: str) -> None:
    """The sketch has no room for such a name; the rest of it is drawn."""
    project = hostile_project(tmp_path / "smallest", lambda where, text: name if where == "Hidden.what" else text)
    composed, checked = composed_book(project, Edition.OWNER)
    assert composed is not None, checked.problems

"""Starting a project lays out records that pass as they are, and never touches what is there."""

from __future__ import annotations

from pathlib import Path

import pytest

from bookgen.desk.start import NotEmptyError, Start, lay_out
from bookgen.read import read


def test_the_example_passes_as_it_is(tmp_path: Path) -> None:
    """`start --quick` gives a folder without a problem, with comments that teach."""
    written = lay_out(tmp_path / "mine", Start())
    project, problems = read(tmp_path / "mine")
    assert problems == ()
    assert project is not None
    assert all(path.is_file() for path in written)
    assert "#" in (tmp_path / "mine" / "project.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize("nasty", ['Ann "Nan" O\'Hara', "back\\slash", "no", "a: b # c", "{x}", "012", "Zoë 家"])
def test_answers_stand_in_the_record_as_given(tmp_path: Path, nasty: str) -> None:
    """Whatever is answered is read back as that text."""
    lay_out(tmp_path / "mine", Start(title=nasty, house=nasty, built="1984", owner=nasty, contractor=nasty))
    project, problems = read(tmp_path / "mine")
    assert problems == ()
    assert project is not None
    record = project.record
    assert (record.book.title, record.house.kind, record.private.owner) == (nasty, nasty, nasty)
    assert (record.people[0].name, record.house.built) == (nasty, 1984)


def test_nothing_is_written_into_a_folder_that_holds_something(tmp_path: Path) -> None:
    """The message says so, and the folder is as it was."""
    (tmp_path / "plan.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(NotEmptyError, match="name a new folder"):
        lay_out(tmp_path, Start())
    assert [path.name for path in tmp_path.iterdir()] == ["plan.txt"]

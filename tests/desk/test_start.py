"""Starting a project lays out records that pass as they are, and never touches what is there."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from bookgen.cli import commands
from bookgen.desk.asking import WrongAnswerError, ask, beforehand
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


def answers(*typed: str) -> tuple[Start, list[str]]:
    """Return what `ask` makes of typed lines, and what it told."""
    lines, told = iter(typed), list[str]()
    return ask(lambda _words: next(lines), told.append, Start()), told


def test_enter_takes_the_default() -> None:
    """Seven times Enter is the example."""
    assert answers(*[""] * 7)[0] == Start()


def test_back_returns_to_the_question_before() -> None:
    """The answer before can be typed again; from the first question there is no way further back."""
    given, told = answers("back", "Mine", "Barn", "back", "back", "Ours", "", "1950", "Ann", "We", "es", "both")

    assert given == Start("Ours", "Barn", "1950", "Ann", "We", "es", "both")
    assert "This is the first question." in told


def test_a_wrong_answer_is_asked_again() -> None:
    """A year that is none and a language that there is not are told, with what to type."""
    given, told = answers("", "", "new", "1950", "", "", "xx", "en", "feet", "metric")

    assert (given.built, given.units) == ("1950", "metric")
    assert [words for words in told if "none of them" in words or "no year" in words] == told[1:]


def test_an_answer_given_beforehand_is_checked_too() -> None:
    """Options of the command go through the same rules."""
    with pytest.raises(WrongAnswerError, match="--built"):
        beforehand(Start(built="soon"))


def test_language_and_units_stand_in_the_record(tmp_path: Path) -> None:
    """Told by options, nothing is asked; the records read without a problem."""
    options = ["--language", "es", "--units", "both", "--title", "Calle Chorlito"]
    done = CliRunner().invoke(commands, ["start", str(tmp_path / "mine"), *options], catch_exceptions=False)
    project, problems = read(tmp_path / "mine")

    assert done.exit_code == 0
    assert problems == ()
    assert project is not None
    assert (project.record.language, project.record.units) == ("es", "both")
    assert project.record.book.title == "Calle Chorlito"


def test_nothing_is_left_of_an_interrupted_start(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither while questions are asked nor while files are written."""
    CliRunner().invoke(commands, ["start", str(tmp_path / "mine")], input="Mine\n")
    assert list(tmp_path.iterdir()) == []

    def interrupted(*_: object) -> str:
        raise KeyboardInterrupt

    monkeypatch.setattr("bookgen.desk.start._filled", interrupted)
    with pytest.raises(KeyboardInterrupt):
        lay_out(tmp_path / "mine", Start())
    assert list(tmp_path.iterdir()) == []

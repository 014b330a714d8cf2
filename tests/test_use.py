"""The commands as a contractor in a hurry uses them: wrong use says what to do, and nothing is lost by a slip."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from bookgen.bind import composed_book
from bookgen.cache import working_cache
from bookgen.cli import commands
from bookgen.desk.start import Start, lay_out
from bookgen.model.book import Edition
from bookgen.read.near import did_you_mean, nearest
from bookgen.render.publish import Contents, TargetRefusedError, staged

SYSTEMS = ("water", "waste", "gas", "power", "air", "data", "structure", "soil gas")


def run(*arguments: str | Path) -> Result:
    """Run a command within this process."""
    return CliRunner().invoke(commands, [str(argument) for argument in arguments])


@pytest.fixture
def house(tmp_path: Path) -> Path:
    """Return a project as `bookgen start --quick` lays it out."""
    lay_out(tmp_path / "house", Start())
    return tmp_path / "house"


def test_another_books_folder_is_not_written_over(tmp_path: Path) -> None:
    """A folder that holds another edition or project is refused, with its name and what to do; its own is renewed."""
    owner, trade = Contents("1 owner", "the owner edition of house"), Contents("1 trade", "the trade edition of house")
    with staged(tmp_path / "book", owner) as folder:
        (folder / "index.html").write_text("owner")

    with (
        pytest.raises(TargetRefusedError, match=r"holds the owner edition of house.*--out"),
        staged(tmp_path / "book", trade),
    ):
        pass
    with (
        pytest.raises(TargetRefusedError, match="another project of that name"),
        staged(tmp_path / "book", Contents("2 owner", owner.words)),
    ):
        pass
    with staged(tmp_path / "book", owner) as folder:
        (folder / "index.html").write_text("owner again")

    assert (tmp_path / "book" / "index.html").read_text() == "owner again"


def test_two_projects_of_one_name_are_not_bound_into_one_folder(house: Path, tmp_path: Path) -> None:
    """Before anything is bound, since one of the two books would be lost."""
    shutil.copytree(house, tmp_path / "other" / "house")

    result = run("bind", house, tmp_path / "other" / "house")

    assert result.exit_code == 2
    assert "--out" in result.output


def test_two_editions_at_once_are_wrong_use(house: Path) -> None:
    """The last one is not taken in silence."""
    result = run("bind", house, "--edition", "owner", "--edition", "trade")

    assert result.exit_code == 2
    assert "owner and trade" in result.output


def test_a_sample_of_nothing_is_not_bound(house: Path) -> None:
    """Where no record is shared, that is said, with what to write."""
    composed, checked = composed_book(house, Edition.SAMPLE)

    assert composed is None
    assert [one.code for one in checked.problems] == ["nothing-shared"]
    assert "share: yes" in checked.problems[0].repair


def test_an_unwritable_cache_is_told_and_gone_without(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The cache only saves time; under a file no folder can be made, for nobody."""
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("BOOKGEN_CACHE", str(tmp_path / "file" / "cache"))
    told: list[str] = []

    with working_cache(lambda words, _done, _of: told.append(words)) as store:
        store.sort("fonts").mkdir()

    assert "can't be written" in told[0]
    assert not store.folder.exists()


def test_check_says_what_was_not_done_only_where_something_was_to_be_done(house: Path) -> None:
    """`check` binds nothing anyway; places start where the person stands, for problems and findings alike."""
    found = run("check", house).output
    (house / "obstacles" / "01-drain.yaml").write_text("obstacle: Drain\n")
    wrong = run("check", house).output

    assert "nothing was bound" not in wrong
    assert f"{house / 'obstacles' / '01-drain.yaml'}:" in wrong
    assert f"{house / 'obstacles' / '01-drain.yaml'}:" in found
    assert "nothing was bound" in run("bind", house).output


def test_names_of_the_example_are_noticed(house: Path) -> None:
    """A book must not go out under the name of an invented owner; `check` says so until both are changed."""
    assert "Marguerite Oduya" in run("check", house).output
    assert len(json.loads(run("check", house, "--json").output)["notes"]) == 2

    lay_out(house.parent / "own", Start(owner="Somebody else", contractor="Another company"))
    assert json.loads(run("check", house.parent / "own", "--json").output)["notes"] == []


def test_a_word_that_is_not_near_gets_the_choices() -> None:
    """`sewer` is no slip for water, though it shares three of five letters; real slips are still understood."""
    assert did_you_mean("sewer", SYSTEMS) == f"write one of {', '.join(SYSTEMS)}"
    assert [nearest(word, SYSTEMS) for word in ("watre", "gaz", "wast", "pwer")] == ["water", "gas", "waste", "power"]


def test_a_missing_key_comes_with_the_form_to_write(house: Path) -> None:
    """`known` has keys of its own, and a newcomer can't guess them."""
    record = house / "obstacles" / "01-drain.yaml"
    lines = record.read_text("utf-8").splitlines(keepends=True)
    record.write_text("".join(line for line in lines if not line.startswith("known:")), "utf-8")

    assert "known: {how: measured, on: 2026-03-10}" in " ".join(run("check", house).output.split())


def test_an_intake_that_refuses_a_photo_counts_it_and_says_so(house: Path, tmp_path: Path) -> None:
    """A script, and a person who reads only the last line, must learn that something was left out."""
    (tmp_path / "broken.jpg").write_bytes(b"no picture")

    result = run("intake", house, tmp_path / "broken.jpg")

    assert result.exit_code == 1
    assert "1 not taken" in result.output

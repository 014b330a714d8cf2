"""What was worked out of a project is taken as it was, and only as long as nothing that it hangs on has changed."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from bookgen.check import Checked, check, look_over
from bookgen.compose import for_edition
from bookgen.memory import StoredMemory, remembering
from bookgen.model.bare import bare
from bookgen.model.book import Edition
from bookgen.model.place import Place
from bookgen.model.project import Places
from bookgen.model.wordless import wordless
from bookgen.read import read
from bookgen.render.kept import Store
from bookgen.render.kept_nouns import digest_of
from bookgen.solve import solve
from bookgen.solve.takeoff.buy import buy

PROJECTS = Path(__file__).parents[1] / "projects"
TAMARACK = PROJECTS / "tamarack"
DRAIN = "obstacles/02-drain.yaml"


@pytest.fixture
def house(tmp_path: Path) -> Path:
    """A copy of the sample house, to be changed."""
    return Path(shutil.copytree(TAMARACK, tmp_path / "house"))


@pytest.fixture
def worked(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, str]]:
    """What was really worked out: its sort, and the record that it is of."""
    found: list[tuple[str, str]] = []
    once = StoredMemory.once

    def told(
        self: StoredMemory,
        what: str,
        of: object,
        kind: type,
        make: Callable[[], object],
        *more: object,
        **named: object,
    ) -> object:
        def counted() -> object:
            found.append((what, of[0] if isinstance(of, tuple) else ""))
            return make()

        return once(self, what, of, kind, counted, *more, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(StoredMemory, "once", told)
    return found


def looked(house: Path, store: Store) -> Checked:
    """Look a project over with the memory that the store has of it."""
    with remembering(store, house) as memory:
        return look_over(house, memory)


def test_what_is_remembered_equals_what_is_worked_out(
    house: Path, tmp_path: Path, worked: list[tuple[str, str]]
) -> None:
    """Of an unchanged house nothing is worked out again, and all of it is as before, to which fields were written."""
    store = Store(tmp_path / "store", "1")
    first = looked(house, store)
    assert {what for what, _ in worked} == {"record", "photo points", "level"}
    worked.clear()
    again = looked(house, store)
    assert worked == []
    for other in (again, look_over(house)):
        assert (other.solved, other.problems) == (first.solved, ())
        assert other.project is not None
        assert first.project is not None
        for one, same in zip(first.project.obstacles, other.project.obstacles, strict=True):
            assert one.record.model_fields_set == same.record.model_fields_set


def test_only_what_hangs_on_a_change_is_worked_out_again(
    house: Path, tmp_path: Path, worked: list[tuple[str, str]]
) -> None:
    """A sentence asks for its record alone, a line more above the photos too; a floor for the level and all points."""
    store = Store(tmp_path / "store", "1")
    looked(house, store)
    drain, project = house / DRAIN, house / "project.yaml"
    pointed = sum(what == "photo points" for what, _ in worked)
    for path, text, new, asked in (
        (drain, "in one three-inch pipe", "in a three-inch pipe", {"record": 1}),
        (drain, "obstacle:", "# A line more.\nobstacle:", {"record": 1}),
        (project, "floor thick: 0.3 in", "floor thick: 0.4 in", {"record": 1, "level": 1, "photo points": pointed}),
    ):
        worked.clear()
        said = path.read_text("utf-8")
        assert text in said
        path.write_text(said.replace(text, new, 1), encoding="utf-8")
        found = looked(house, store)
        assert {what: sum(one == what for one, _ in worked) for what, _ in worked} == asked
        anew = look_over(house)
        assert (found.solved, found.problems) == (anew.solved, anew.problems)


@pytest.mark.parametrize("name", ["tamarack", "heron", "smallest"])
def test_what_is_remembered_stands_where_it_stands_now(name: str, tmp_path: Path) -> None:
    """Lines put in above everything else move all findings; all that is solved is as if it were worked out anew."""
    house = Path(shutil.copytree(PROJECTS / name, tmp_path / "house"))
    store = Store(tmp_path / "store", "1")
    with remembering(store, house) as memory:
        check(house, memory)
    for path in (house / "project.yaml", *(house / "obstacles").iterdir()):
        path.write_text("# A line more.\n" + path.read_text("utf-8"), encoding="utf-8")
    anew = check(house)
    for _ in range(2):
        with remembering(store, house) as memory:
            assert check(house, memory) == anew


def test_what_can_not_be_told_apart_is_worked_out_again() -> None:
    """Where two values stand at one place, nobody could say later which of them a finding is about."""
    here, there = Place("project.yaml", 1, 1), Place("project.yaml", 2, 1)
    for places, times in (
        ({("a",): here, ("b",): there}, 1),
        ({("a",): here, ("a", "en"): here}, 1),  # a text, and the same in one of its languages
        ({("a",): here, ("b",): here}, 2),
    ):
        memory, made = StoredMemory({}), []
        known = Places({("project.yaml", path): place for path, place in places.items()})
        for _ in range(2):
            found = memory.once("level", "oak", tuple, lambda: made.append(1) or (here,), places=known)  # noqa: B023
            assert found == (here,)
        assert len(made) == times


def test_a_look_in_between_forgets_nothing(house: Path, tmp_path: Path, worked: list[tuple[str, str]]) -> None:
    """What only a book asks for is still there after a check of a changed sentence, which does not ask for it."""
    store = Store(tmp_path / "store", "1")
    with remembering(store, house) as memory:
        check(house, memory)
    drain = house / DRAIN
    drain.write_text(drain.read_text("utf-8").replace("in one three-inch pipe", "in a pipe"), encoding="utf-8")
    looked(house, store)
    worked.clear()
    with remembering(store, house) as memory:
        found = check(house, memory)
    assert worked == []
    assert found == check(house)


@pytest.mark.parametrize("name", ["tamarack", "heron"])
def test_words_move_nothing_that_is_worked_out_or_drawn(name: str) -> None:
    """A house of whose words none are left is the same level to the last board, finding and line of a drawing."""
    project, _ = read(PROJECTS / name)
    assert project is not None
    plain = wordless(project)
    assert digest_of(plain) != digest_of(project)
    (solved, _), (bare_of_words, _) = solve(project), solve(plain)
    assert solved is not None
    assert bare_of_words is not None
    assert replace(bare_of_words, project=project) == solved
    for edition in Edition:
        bought = buy(solved) if edition is Edition.TRADE else solved
        told = (for_edition(replace(bought, project=of), edition) for of in (project, plain))
        assert len({digest_of(bare(one)) for one in told}) == 1


def test_what_is_wrong_is_told_where_it_stands_now(house: Path, tmp_path: Path) -> None:
    """Points that can't be used are never remembered, so a line more above them moves what is told of them."""
    store = Store(tmp_path / "store", "1")
    drain = house / DRAIN
    said = drain.read_text("utf-8")
    first, _, rest = said.partition("at: [")
    for line in ("", "# A line more.\n"):
        drain.write_text(f"{line}{first}at: [9{rest}", encoding="utf-8")
        anew = look_over(house).problems
        assert anew
        for _ in range(2):
            assert looked(house, store).problems == anew


def test_a_memory_that_is_none_is_done_without(house: Path, tmp_path: Path, worked: list[tuple[str, str]]) -> None:
    """Spoilt, of another version or where nothing can be kept, all is worked out; and kept again where it can be."""
    store = Store(tmp_path / "store", "1")
    looked(house, store)
    (entry,) = store.sort("worked").iterdir()
    everything = list(worked)
    for spoil in ("half", "nothing", "another's", "another version", "no folder"):
        worked.clear()
        assert looked(house, store).problems == ()
        assert worked == []
        match spoil:
            case "half":
                entry.write_bytes(entry.read_bytes()[:1000])
            case "nothing":
                entry.write_bytes(b"")
            case "another's":
                entry.write_bytes(b"Tax return 2025")
            case "another version":
                store = Store(tmp_path / "store", "2")
            case _:
                shutil.rmtree(entry.parent)
                entry.parent.write_text("no folder")
        assert looked(house, store).problems == ()
        assert worked == everything, spoil

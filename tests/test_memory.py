"""What was worked out of a project is taken as it was, and only as long as nothing that it hangs on has changed."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from bookgen.check import Checked, look_over
from bookgen.memory import StoredMemory, remembering
from bookgen.render.kept import Store

TAMARACK = Path(__file__).parents[1] / "projects" / "tamarack"
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
        self: StoredMemory, what: str, of: object, kind: type, make: Callable[[], object], *lasting: object
    ) -> object:
        def counted() -> object:
            assert isinstance(of, tuple)
            found.append((what, of[0]))
            return make()

        return once(self, what, of, kind, counted, *lasting)  # type: ignore[arg-type]

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
    assert {what for what, _ in worked} == {"record", "photo points"}
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
    """A sentence asks for its record alone, a line more above the photos too; a floor for all points over it."""
    store = Store(tmp_path / "store", "1")
    looked(house, store)
    drain, project = house / DRAIN, house / "project.yaml"
    pointed = sum(what == "photo points" for what, _ in worked)
    for path, text, new, asked in (
        (drain, "in one three-inch pipe", "in a three-inch pipe", {"record": 1}),
        (drain, "obstacle:", "# A line more.\nobstacle:", {"record": 1}),
        (project, "floor thick: 0.3 in", "floor thick: 0.4 in", {"record": 1, "photo points": pointed}),
    ):
        worked.clear()
        said = path.read_text("utf-8")
        assert text in said
        path.write_text(said.replace(text, new, 1), encoding="utf-8")
        found = looked(house, store)
        assert {what: sum(one == what for one, _ in worked) for what, _ in worked} == asked
        assert (found.solved, found.problems) == (look_over(house).solved, look_over(house).problems)


def test_what_is_wrong_is_told_where_it_stands_now(house: Path, tmp_path: Path) -> None:
    """Points that can't be used are never remembered, so a line more above them moves what is told of them."""
    store = Store(tmp_path / "store", "1")
    drain = house / DRAIN
    said = drain.read_text("utf-8")
    first, _, rest = said.partition("at: [")
    for line in ("", "# A line more.\n"):
        drain.write_text(f"{line}{first}at: [9{rest}", encoding="utf-8")
        for _ in range(2):
            found = looked(house, store)
            assert found.problems
            assert found.problems == look_over(house).problems


@pytest.mark.parametrize("spoil", ["another version", "half", "nothing", "another's", "no folder"])
def test_a_memory_that_is_none_is_done_without(
    house: Path, tmp_path: Path, worked: list[tuple[str, str]], spoil: str
) -> None:
    """Of another version, spoilt or where nothing can be kept, all is worked out."""
    store = Store(tmp_path / "store", "1")
    looked(house, store)
    (entry,) = store.sort("worked").iterdir()
    everything = list(worked)
    worked.clear()
    match spoil:
        case "another version":
            store = Store(tmp_path / "store", "2")
        case "half":
            entry.write_bytes(entry.read_bytes()[:1000])
        case "nothing":
            entry.write_bytes(b"")
        case "another's":
            entry.write_bytes(b"Tax return 2025")
        case _:
            shutil.rmtree(entry.parent)
            entry.parent.write_text("no folder")
    assert looked(house, store).problems == ()
    assert worked == everything

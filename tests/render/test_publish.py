"""All or nothing: a bound folder is the old book or the new one, whole."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bookgen.render import publish
from bookgen.render.disk import exchanged
from bookgen.render.publish import MANIFEST, TargetRefusedError, staged


def _bind(target: Path, text: str) -> None:
    with staged(target) as folder:
        (folder / "index.html").write_text(text, encoding="utf-8")


def test_a_new_book_replaces_the_old_one_whole(tmp_path: Path) -> None:
    """Files of the old book that the new one lacks are gone, and nothing is left beside it."""
    target = tmp_path / "book"
    with staged(target) as folder:
        (folder / "old.html").write_text("old", encoding="utf-8")
    _bind(target, "new")
    assert {path.name for path in target.iterdir()} == {"index.html", MANIFEST}
    assert [path.name for path in tmp_path.iterdir()] == ["book"]


def test_the_manifest_lists_every_file_with_its_digest(tmp_path: Path) -> None:
    """SHA-256 of the three letters "abc": FIPS 180-4, example of appendix B.1."""
    target = tmp_path / "book"
    _bind(target, "abc")
    listed = json.loads((target / MANIFEST).read_text(encoding="utf-8"))["files"]
    assert listed == {"index.html": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"}


def test_an_exception_leaves_the_old_book_alone(tmp_path: Path) -> None:
    """Whatever breaks while the new book is written, the old one stands and the staging folder is gone."""
    target = tmp_path / "book"
    _bind(target, "old")
    with pytest.raises(ZeroDivisionError), staged(target) as folder:
        (folder / "index.html").write_text(f"half {1 / 0}", encoding="utf-8")
    assert (target / "index.html").read_text(encoding="utf-8") == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["book"]


@pytest.mark.parametrize("failing", [1, 2])
def test_a_rename_that_fails_leaves_the_old_book_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, failing: int
) -> None:
    """Where folders can't be exchanged the swap takes two renames; when either is refused the old book is back."""
    target = tmp_path / "book"
    _bind(target, "old")
    real, calls = Path.replace, []

    def refuse(self: Path, other: Path) -> Path:
        calls.append(self)
        if len(calls) == failing:
            raise PermissionError(13, "Permission denied", str(other))
        return real(self, other)

    monkeypatch.setattr(publish, "exchanged", lambda *_: False)
    monkeypatch.setattr(publish.Path, "replace", refuse)
    with pytest.raises(PermissionError):
        _bind(target, "new")
    assert (target / "index.html").read_text(encoding="utf-8") == "old"


def test_a_bind_killed_between_its_renames_is_put_right_by_the_next(tmp_path: Path) -> None:
    """The retired old book comes back before anything else happens."""
    target = tmp_path / "book"
    _bind(target, "old")
    target.rename(tmp_path / f".book{publish.RETIRED}")
    (tmp_path / f".book{publish.STAGING}77").mkdir()
    with pytest.raises(ZeroDivisionError), staged(target):
        raise ZeroDivisionError
    assert (target / "index.html").read_text(encoding="utf-8") == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["book"]


def test_a_folder_of_somebody_else_is_never_cleared(tmp_path: Path) -> None:
    """A folder with files but without our manifest is refused before anything is written."""
    (tmp_path / "thesis.doc").write_text("mine", encoding="utf-8")
    with pytest.raises(TargetRefusedError, match="name another folder"), staged(tmp_path):
        pytest.fail("the block must not run")
    assert [path.name for path in tmp_path.iterdir()] == ["thesis.doc"]


def test_a_file_or_a_link_is_no_target(tmp_path: Path) -> None:
    """A target that is a file, or a link to a folder, is refused."""
    (tmp_path / "file").write_text("x", encoding="utf-8")
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "elsewhere")
    for name in ("file", "link"):
        with pytest.raises(TargetRefusedError, match="not a folder"), staged(tmp_path / name):
            pytest.fail("the block must not run")


def test_a_file_put_into_a_book_keeps_it_from_being_replaced(tmp_path: Path) -> None:
    """The files that no bind has written are named, links and files in folders too; the book stays as it is."""
    target = tmp_path / "book"
    _bind(target, "old")
    (target / "letters").mkdir()
    (target / "letters" / "mine.txt").write_text("mine", encoding="utf-8")
    (target / "elsewhere").symlink_to(tmp_path)
    with pytest.raises(TargetRefusedError, match=r"has written: elsewhere, letters/mine\.txt; move"), staged(target):
        pytest.fail("the block must not run")
    assert (target / "index.html").read_text(encoding="utf-8") == "old"
    assert (target / "letters" / "mine.txt").is_file()


def test_a_file_put_into_a_book_while_it_is_bound_is_not_lost(tmp_path: Path) -> None:
    """The target is looked through once more just before the swap."""
    target = tmp_path / "book"
    _bind(target, "old")
    with pytest.raises(TargetRefusedError, match=r"mine\.txt"), staged(target) as folder:  # noqa: PT012 - the way out
        (folder / "index.html").write_text("new", encoding="utf-8")
        (target / "mine.txt").write_text("mine", encoding="utf-8")
    assert (target / "index.html").read_text(encoding="utf-8") == "old"
    assert (target / "mine.txt").is_file()


def test_what_a_file_manager_leaves_is_no_file_of_somebody(tmp_path: Path) -> None:
    """A book that was looked at in a file manager can be bound again."""
    target = tmp_path / "book"
    _bind(target, "old")
    (target / ".DS_Store").write_bytes(b"\0")
    _bind(target, "new")
    assert {path.name for path in target.iterdir()} == {"index.html", MANIFEST}


@pytest.mark.parametrize("text", ["", "[]", "null", '{"files": 3}', '{"files": {}}x', "[" * 100_000, '{"files": [3]}'])
def test_a_manifest_that_cannot_be_read_clears_nothing(tmp_path: Path, text: str) -> None:
    """Nobody knows then whose files lie beside it."""
    target = tmp_path / "book"
    _bind(target, "old")
    (target / MANIFEST).write_text(text, encoding="utf-8")
    with pytest.raises(TargetRefusedError, match="can't be read"):
        _bind(target, "new")
    assert (target / "index.html").read_text(encoding="utf-8") == "old"


def test_only_leftovers_of_this_very_target_are_removed(tmp_path: Path) -> None:
    """A folder whose name begins like a leftover's, but is another target's or a person's, stays."""
    others = [".book.binding-12.binding-5", ".book.binding-x", ".book2.binding-5", "book.binding-5"]
    for name in [*others, ".book.binding-5"]:
        (tmp_path / name).mkdir()
    _bind(tmp_path / "book", "new")
    assert {path.name for path in tmp_path.iterdir()} == {"book", *others}


def test_a_drive_is_no_target(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The top of a drive can't be swapped for a folder: the message names a folder on it."""
    monkeypatch.setattr(publish.os.path, "ismount", lambda path: Path(path) == tmp_path)
    with pytest.raises(TargetRefusedError, match=f"such as {tmp_path}/book"):
        _bind(tmp_path, "new")
    _bind(tmp_path / "book", "new")


def test_the_target_may_be_where_the_program_stands(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`.` and `..` have a name, too."""
    (tmp_path / "book" / "inner").mkdir(parents=True)
    monkeypatch.chdir(tmp_path / "book" / "inner")
    _bind(Path(), "new")
    assert (tmp_path / "book" / "inner" / "index.html").is_file()
    assert [path.name for path in (tmp_path / "book").iterdir()] == ["inner"]


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="only there a descriptor has a path")
def test_all_is_on_the_disk_before_the_book_has_its_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every file and folder is waited for before the swap, the name itself after it: a power cut loses no book."""
    target = tmp_path / "book"
    _bind(target, "old")
    waited: list[str] = []
    real, swap = publish.os.fsync, publish.exchanged

    def note(descriptor: int) -> None:
        waited.append(Path(f"/proc/self/fd/{descriptor}").resolve().name)
        real(descriptor)

    def swapped(one: Path, other: Path) -> bool:
        waited.append("swap")
        return swap(one, other)

    monkeypatch.setattr(publish.os, "fsync", note)
    monkeypatch.setattr(publish, "exchanged", swapped)
    with staged(target) as folder:
        staging = folder.name
        (folder / "chapters").mkdir()
        (folder / "chapters" / "one.html").write_text("new", encoding="utf-8")
    before, after = waited[: waited.index("swap")], waited[waited.index("swap") + 1 :]
    assert sorted(before) == sorted(["one.html", MANIFEST, "chapters", staging])
    assert after == [tmp_path.name]


def test_folders_are_exchanged_in_one_step_here(tmp_path: Path) -> None:
    """Otherwise the fault tests would try the other way only."""
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
        (tmp_path / name / name).touch()
    if not exchanged(tmp_path / "one", tmp_path / "other"):
        pytest.skip("this file system knows no exchange")
    assert (tmp_path / "one" / "other").exists()
    assert (tmp_path / "other" / "one").exists()
    with pytest.raises(FileNotFoundError):
        exchanged(tmp_path / "one", tmp_path / "missing")

"""All or nothing: a bound folder is the old book or the new one, whole."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bookgen.render import publish
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
    """The swap takes two renames; when either is refused the old book is back under its name."""
    target = tmp_path / "book"
    _bind(target, "old")
    real, calls = Path.replace, []

    def refuse(self: Path, other: Path) -> Path:
        calls.append(self)
        if len(calls) == failing:
            raise PermissionError(13, "Permission denied", str(other))
        return real(self, other)

    monkeypatch.setattr(publish.Path, "replace", refuse)
    with pytest.raises(PermissionError):
        _bind(target, "new")
    assert (target / "index.html").read_text(encoding="utf-8") == "old"


def test_a_bind_killed_between_its_renames_is_put_right_by_the_next(tmp_path: Path) -> None:
    """The retired old book comes back before anything else happens."""
    target = tmp_path / "book"
    _bind(target, "old")
    target.rename(tmp_path / f".book{publish.RETIRED}")
    (tmp_path / f".book{publish.STAGING}").mkdir()
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

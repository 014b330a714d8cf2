"""The store of finished work: bounded, safe to delete, never in the way."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from bookgen.cache import DAY, trim, working_cache
from bookgen.render.kept import FRESH, keep_bytes, keep_set


def _aged(path: Path, seconds: int) -> Path:
    os.utime(path, (seconds, seconds))
    return path


def test_what_was_used_longest_ago_goes_first(tmp_path: Path) -> None:
    """Files and folders alike, of every sort, until as much is left as may be."""
    for age, name in enumerate(("print/a", "svg/b", "print/c"), start=1):
        keep_bytes(tmp_path / name, bytes(1000 - 32))
        _aged(tmp_path / name, age)
    fresh = tmp_path / "fresh"
    fresh.mkdir()
    (fresh / "one.jpg").write_bytes(bytes(5000))
    keep_set(fresh, tmp_path / "print" / "set")
    _aged(tmp_path / "print" / "set", 0)
    trim(tmp_path, 3000, now=0)
    assert sorted(path.name for path in tmp_path.glob("*/*")) == ["a", "b", "c"]
    trim(tmp_path, 2999, now=0)
    assert sorted(path.name for path in tmp_path.glob("*/*")) == ["b", "c"]
    trim(tmp_path, 0, now=0)
    assert list(tmp_path.glob("*/*")) == []


def test_a_file_that_two_entries_share_counts_once(tmp_path: Path) -> None:
    """As long as one of them is there, nothing is gained by removing the other."""
    keep_bytes(tmp_path / "print" / "a", bytes(1000 - 32))
    (tmp_path / "other").mkdir()
    os.link(tmp_path / "print" / "a", tmp_path / "other" / "b")
    trim(tmp_path, 1000, now=0)
    assert len(list(tmp_path.glob("*/*"))) == 2


def test_what_a_killed_bind_was_making_goes_after_a_day(tmp_path: Path) -> None:
    """Not sooner: another bind may be at it."""
    (tmp_path / "pictures" / f"{FRESH}abc").mkdir(parents=True)
    (tmp_path / "pictures" / f"{FRESH}abc" / "half.jpg").write_bytes(b"half")
    made = _aged(tmp_path / "pictures" / f"{FRESH}abc", 1000)
    trim(tmp_path, 10**9, now=1000 * 10**9 + DAY)
    assert made.is_dir()
    trim(tmp_path, 10**9, now=1000 * 10**9 + DAY + 1)
    assert not made.exists()


def test_the_limit_is_what_the_environment_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In megabytes; words that are no number are told, and the usual limit is taken."""
    monkeypatch.setenv("BOOKGEN_CACHE", str(tmp_path))
    told: list[str] = []
    for said, left in (("1", 1), ("much", 1), ("0", 0)):
        monkeypatch.setenv("BOOKGEN_CACHE_MB", said)
        with working_cache(lambda words, _done, _of: told.append(words)) as store:
            keep_bytes(store.sort("print") / "a", bytes(900_000))
        assert len(list(tmp_path.glob("*/*"))) == left
    assert [words.partition(";")[0] for words in told] == ["BOOKGEN_CACHE_MB: much is no whole number of megabytes"]

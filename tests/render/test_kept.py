"""What is kept between binds: whole or not there, and nothing but nouns come back."""

from __future__ import annotations

import os
import pickle
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from types import MappingProxyType

import pytest

from bookgen.model.length import Length
from bookgen.model.sketch import Anchoring, Dot, Label
from bookgen.render.kept import Store, copied_set, keep_bytes, keep_set, kept_bytes
from bookgen.render.kept_nouns import SpoiltError, bytes_of, value_from


def _cut_short(data: bytes) -> bytes:
    return data[:-1]


def _turned(data: bytes) -> bytes:
    return data[:-1] + bytes([data[-1] ^ 1])


def _emptied(_: bytes) -> bytes:
    return b""


SPOILT = pytest.mark.parametrize("spoil", [_cut_short, _turned, _emptied])


@SPOILT
def test_a_spoilt_entry_counts_as_none_and_is_made_anew(tmp_path: Path, spoil: Callable[[bytes], bytes]) -> None:
    """One bit is enough; the next use mends it."""
    store, made = Store(tmp_path, "this version"), []

    def make() -> bytes:
        made.append(1)
        return b"finished work"

    assert [store.once("print", "key", make) for _ in range(3)] == [b"finished work"] * 3
    assert len(made) == 1
    path = tmp_path / "print" / "key"
    path.write_bytes(spoil(path.read_bytes()))
    assert kept_bytes(path) is None
    assert store.once("print", "key", make) == b"finished work"
    assert len(made) == 2
    assert kept_bytes(path) == b"finished work"


def test_another_version_finds_nothing(tmp_path: Path) -> None:
    """The version is part of every key, and the parts of a key can't run into one another."""
    one, other = Store(tmp_path, "1"), Store(tmp_path, "2")
    assert one.key("a", "b") == one.key("a", b"b")
    assert len({one.key("a", "b"), other.key("a", "b"), one.key("ab"), one.key("ab", ""), one.key("", "ab")}) == 5


@SPOILT
def test_a_set_is_copied_whole_or_not_at_all(tmp_path: Path, spoil: Callable[[bytes], bytes]) -> None:
    """Where one file of it is spoilt, nothing of it is put out."""
    fresh, out = tmp_path / "fresh", tmp_path / "out"
    (fresh / "chapters").mkdir(parents=True)
    out.mkdir()
    names = ["index.html", "chapters/one.html"]
    for name in names:
        (fresh / name).write_text(name, encoding="utf-8")
    keep_set(fresh, tmp_path / "kept")
    assert copied_set(tmp_path / "kept", names, out)
    assert [(out / name).read_text("utf-8") for name in names] == names
    for name in names:
        (out / name).unlink()
    (tmp_path / "kept" / names[1]).write_bytes(spoil(names[1].encode()))
    assert not copied_set(tmp_path / "kept", names, out)
    assert [path for path in out.rglob("*") if path.is_file()] == []


def test_what_breaks_while_it_is_kept_leaves_what_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that refuses the last step leaves the old entry, and nothing half done beside it."""
    keep_bytes(tmp_path / "key", b"old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        keep_bytes(tmp_path / "key", b"new")
    assert kept_bytes(tmp_path / "key") == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["key"]


def test_nouns_come_back_as_they_were() -> None:
    """Exact numbers, nouns in nouns, locked mappings."""
    label = Label("⅜″", (1.5, 2.0), 2.5, Anchoring.START)
    value = {"a": (label, Dot((0.1, 0.2))), "b": MappingProxyType({"c": Length(Fraction(1, 64))})}
    back = value_from(bytes_of(value), dict)
    assert back == value
    assert isinstance(back["b"], MappingProxyType)


class _Acts:
    def __reduce__(self) -> tuple[object, ...]:
        return os.system, ("true",)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"no pickle",
        pickle.dumps([1])[:-2],
        pickle.dumps({"a": 1}),
        pickle.dumps((_Acts(),)),
        pickle.dumps((os.getcwd,)),
        pickle.dumps((Path.unlink,)),
        b"cbookgen.model.problem\ndatetime.datetime\n.",
        b"\x80\x04\x8c\x16bookgen.model.problem\x8c\x0bdataclasses\x93.",
        b"cbuiltins\neval\n(Vprint(1)\ntR.",
    ],
)
def test_nothing_but_nouns_comes_back(data: bytes) -> None:
    """What acts when it is made, what is another kind, and what is cut short is refused, and nothing of it is run."""
    with pytest.raises(SpoiltError):
        value_from(data, tuple)

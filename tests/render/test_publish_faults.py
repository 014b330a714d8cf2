"""Killed, refused or crowded at any moment, a bind leaves the old book or the new one, whole; trials are counted."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from bookgen.render.publish import TargetRefusedError, staged

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="a trial is a forked process")
ROOT = Path(__file__).parents[2]
HOLDER = """
import sys, time
from pathlib import Path
from bookgen.render.publish import staged
with staged(Path(sys.argv[1])) as folder:
    (folder / "half.html").write_text("half")
    print("holds", flush=True)
    time.sleep(60)
"""


def _ends(tmp_path: Path, *mode: str) -> dict[str, int]:
    """Run trials of `tiny_bind`, which judges each of them; return how many ended which way."""
    command = [sys.executable, "-m", "tests.render.tiny_bind", mode[0], str(tmp_path / "trials"), *mode[1:]]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)  # noqa: S603
    assert run.returncode == 0, run.stderr
    ends: dict[str, int] = json.loads(run.stdout)
    return ends


def test_two_hundred_kills_at_random_moments(tmp_path: Path) -> None:
    """From before the first to after the last step, with and without an old book: never half a book, never none."""
    ends = _ends(tmp_path, "random", "200")
    assert sum(ends.values()) == 200
    assert set(ends) <= {"killed: none", "killed: old", "killed: new", "done: new"}
    assert ends["killed: old"] > 20, "kills fall inside the bind"


@pytest.mark.parametrize("first", [(), ("first",)], ids=["an old book", "none"])
def test_a_kill_before_and_after_every_rename(tmp_path: Path, first: tuple[str, ...]) -> None:
    """One step gives the new book its name: the kill before it leaves what was, the kill after it the new book."""
    assert _ends(tmp_path, "renames", *first) == {"killed: none" if first else "killed: old": 1, "killed: new": 1}


def test_a_kill_at_every_rename_where_folders_cannot_be_exchanged(tmp_path: Path) -> None:
    """Two renames then: a kill between them leaves the old book whole beside its name; the next bind puts it back."""
    ends = _ends(tmp_path, "renames", "two steps")
    assert ends["killed: retired"] == 2, "after the first rename, before the second"
    assert set(ends) == {"killed: old", "killed: retired", "killed: new"}


@pytest.mark.parametrize("mode", [("ENOSPC",), ("EACCES", "lasting")], ids=["disk full once", "no permission any more"])
def test_a_refusal_at_every_call(tmp_path: Path, mode: tuple[str, ...]) -> None:
    """The disk refuses at the n-th look, write, wait or rename, for each n: the bind says so, or was not hindered."""
    ends = _ends(tmp_path, *mode)
    assert sum(ends.values()) > 60
    assert set(ends) <= {"refused: old", "refused: new", "done: new"}


def test_no_file_may_be_larger(tmp_path: Path) -> None:
    """The machine's own limit on the size of a file, from nothing up to enough."""
    ends = _ends(tmp_path, "limits")
    assert set(ends) == {"refused: old", "done: new"}


def test_four_binds_at_once_on_one_target(tmp_path: Path) -> None:
    """Each of 100 binds is done or told that another one is at it; one whole book stands, and nothing beside it."""
    ends = _ends(tmp_path, "at once")
    assert sum(ends.values()) == 100
    assert ends["done"] > 0
    assert ends["told"] > 0


def test_the_second_is_told_who_is_at_it_and_a_dead_holder_bars_nobody(tmp_path: Path) -> None:
    """The message gives the process number; after a kill the lock file is still there and holds nothing."""
    target = tmp_path / "book"
    command = [sys.executable, "-c", HOLDER, str(target)]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as holder:  # noqa: S603
        assert holder.stdout is not None
        assert holder.stdout.readline() == "holds\n"
        with pytest.raises(TargetRefusedError, match=f"process {holder.pid} at this moment"), staged(target):
            pytest.fail("the block must not run")
        holder.send_signal(signal.SIGKILL)
    assert {path.name for path in tmp_path.iterdir()} == {".book.binding-lock", f".book.binding-{holder.pid}"}
    with staged(target) as folder:
        (folder / "index.html").write_text("whole", encoding="utf-8")
    assert [path.name for path in tmp_path.iterdir()] == ["book"]
    assert not (target / "half.html").exists()


@pytest.mark.long
@pytest.mark.parametrize("way", [(), ("first",), ("two steps",)], ids=["an old book", "none", "in two steps"])
@pytest.mark.parametrize(
    "mode",
    [("lines",), ("calls",), ("EIO",), *((number, "lasting") for number in ("ENOSPC", "EACCES", "EROFS"))],
    ids=" ".join,
)
def test_every_line_and_call(tmp_path: Path, mode: tuple[str, ...], way: tuple[str, ...]) -> None:
    """A kill at every line of the publishing modules and round every call; other refusals, once and from then on."""
    ends = _ends(tmp_path, *mode, *way)
    assert sum(ends.values()) > 40
    before = {"none"} if way == ("first",) else {"old"}
    allowed = before | {"new"} | ({"retired"} if way == ("two steps",) else set())
    assert {end.split(": ")[1] for end in ends} <= allowed

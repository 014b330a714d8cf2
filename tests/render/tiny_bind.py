"""A bind of a tiny tree that is killed or refused at a stated moment; run as a program, it prints what it saw as JSON.

Every trial is a process of its own, forked from this one, so that a kill is a real kill. It starts from a whole old
book, or from none; after it the target must hold the old book or the new one, whole, and the next bind must work and
leave nothing beside the book.
"""

from __future__ import annotations

import errno
import hashlib
import io
import json
import os
import random
import resource
import signal
import sys
import time
import traceback
from collections import Counter
from collections.abc import Callable
from functools import partial
from pathlib import Path
from types import FrameType
from typing import Any

from bookgen.render import disk, holding, publish
from bookgen.render.publish import MANIFEST, TargetRefusedError, staged

OLD, NEW, NEXT = 1, 2, 3
FILES = ("index.html", "book.pdf", "chapters/one.html")
SIZE = 900  # bytes of each file
WATCHED = {publish.__file__, disk.__file__, holding.__file__}
RENAMING = (("os", "replace"), ("os", "rename"), ("publish", "exchanged"))
IN_OS = ("mkdir", "rmdir", "unlink", "open", "write", "ftruncate", "fsync", "scandir", "stat")
CALLS = (*RENAMING, *(("os", name) for name in IN_OS), ("io", "open"))
MODULES: dict[str, Any] = {"os": os, "io": io, "publish": publish}
MACHINE = 3  # exit code of a bind that the machine stopped
Moments = Callable[[Callable[[], None]], None]


def bind_tiny(target: Path, generation: int) -> None:
    """Bind a tree in which every file tells the same *generation*; one file's name tells it too."""
    with staged(target) as folder:
        for name in (*FILES, f"chapters/only-in-{generation}.html"):
            (folder / name).parent.mkdir(exist_ok=True)
            (folder / name).write_text(f"{generation}:{name}".ljust(SIZE), encoding="utf-8")


def generation_of(target: Path) -> int:
    """Return the generation of the book at *target*; raises AssertionError where it is not one whole book."""
    found = {path.relative_to(target).as_posix(): path.read_bytes() for path in target.rglob("*") if path.is_file()}
    listed = json.loads(found.pop(MANIFEST))["files"]
    assert listed == {name: hashlib.sha256(data).hexdigest() for name, data in found.items()}
    (generation,) = {int(data.split(b":")[0]) for data in found.values()}
    assert set(found) == {*FILES, f"chapters/only-in-{generation}.html"}
    return generation


def at_every_call(calls: tuple[tuple[str, str], ...], happens: Callable[[], None]) -> None:
    """Let *happens* be called before and after each of *calls*, in this process."""
    for module, name in calls:
        setattr(MODULES[module], name, partial(_watched, getattr(MODULES[module], name), happens))


def _watched(real: Callable[..., Any], happens: Callable[[], None], *given: Any, **named: Any) -> Any:
    happens()
    result = real(*given, **named)
    happens()
    return result


def before_every_call(calls: tuple[tuple[str, str], ...], happens: Callable[[], None]) -> None:
    """Let *happens* be called before each of *calls*, in this process; what it raises, the call raises."""
    for module, name in calls:
        setattr(MODULES[module], name, partial(_guarded, getattr(MODULES[module], name), happens))


def _guarded(real: Callable[..., Any], happens: Callable[[], None], *given: Any, **named: Any) -> Any:
    happens()
    return real(*given, **named)


def at_every_line(happens: Callable[[], None]) -> None:
    """Let *happens* be called at each line of the modules that publish, in this process."""

    def trace(frame: FrameType, event: str, _: object) -> Any:
        if frame.f_code.co_filename not in WATCHED:
            return None
        if event == "line":
            happens()
        return trace

    sys.settrace(trace)


def die() -> None:
    """Kill this process as a power cut would: nothing is tidied up."""
    os.kill(os.getpid(), signal.SIGKILL)


def refuse(number: int) -> None:
    """Raise what the machine raises when it refuses."""
    raise OSError(number, os.strerror(number), "injected")


def in_a_process(work: Callable[[], None]) -> int:
    """Do *work* in a process forked from this one; return its status as `os.waitpid` gives it."""
    child = os.fork()
    if child == 0:
        try:
            work()
        except OSError:
            os._exit(MACHINE)
        except BaseException:  # noqa: BLE001 - nothing may get out of a forked process
            traceback.print_exc()
            os._exit(99)
        os._exit(0)
    return os.waitpid(child, 0)[1]


def judged(parent: Path, first: bool) -> str:
    """Say what stands in *parent* after a trial, bind once more, and see that nothing is left beside the book."""
    target, retired = parent / "book", parent / f".book{publish.RETIRED}"
    if target.exists():
        seen = {OLD: "old", NEW: "new"}[generation_of(target)]
    elif retired.exists():
        assert generation_of(retired) == OLD, "between two renames the old book is whole under its retired name"
        seen = "retired"
    else:
        assert first, "no book at all"
        seen = "none"
    bind_tiny(target, NEXT)
    assert generation_of(target) == NEXT
    assert [path.name for path in parent.iterdir()] == ["book"]
    return seen


def tried(parent: Path, work: Callable[[Path], None], first: bool) -> str:
    """Do *work* on a target in *parent* in a process of its own; say what stands afterwards and how it ended."""
    parent.mkdir()
    if not first:
        bind_tiny(parent / "book", OLD)
    status = in_a_process(lambda: work(parent / "book"))
    ended = "killed" if os.WIFSIGNALED(status) else {0: "done", MACHINE: "refused"}[os.WEXITSTATUS(status)]
    return f"{ended}: {judged(parent, first)}"


def at_each_moment(
    scratch: Path, moments: Moments, acts: Callable[[], None], first: bool, lasting: bool = False
) -> Counter[str]:
    """Bind once for each of the *moments* of a bind, and act at that one, or from that one on; count the ends."""
    count, seen = _count(scratch / "counted", moments, first), Counter[str]()
    for moment in range(1, count + 1):
        passed = 0

        def happens(chosen: int = moment) -> None:
            nonlocal passed
            passed += 1
            if passed == chosen or (lasting and passed > chosen):
                acts()

        def work(target: Path, happens: Callable[[], None] = happens) -> None:
            moments(happens)
            bind_tiny(target, NEW)

        seen[tried(scratch / str(moment), work, first)] += 1
    return seen


def _count(parent: Path, moments: Moments, first: bool) -> int:
    """Return how many moments a bind has that nothing happens to."""
    note = os.open(parent.with_name("count"), os.O_RDWR | os.O_CREAT)
    write = os.write

    def work(target: Path) -> None:
        passed = 0

        def happens() -> None:
            nonlocal passed
            passed += 1

        moments(happens)
        bind_tiny(target, NEW)
        sys.settrace(None)
        write(note, str(passed).encode())

    assert tried(parent, work, first) == "done: new"
    return int(os.pread(note, 20, 0))


def at_random_moments(scratch: Path, trials: int) -> Counter[str]:
    """Kill a bind at random moments of its life, some of them after its end."""
    chance, seen = random.Random(10), Counter[str]()
    began = time.monotonic()
    tried(scratch / "timed", lambda target: bind_tiny(target, NEW), first=False)
    lasts = (time.monotonic() - began) / 3  # three binds went by
    for trial in range(trials):
        wait = chance.uniform(0, 1.5 * lasts)

        def work(target: Path, wait: float = wait) -> None:
            signal.signal(signal.SIGALRM, signal.SIG_DFL)
            signal.signal(signal.SIGALRM, lambda *_: die())
            signal.setitimer(signal.ITIMER_REAL, max(wait, 1e-6))
            bind_tiny(target, NEW)
            signal.setitimer(signal.ITIMER_REAL, 0)

        seen[tried(scratch / str(trial), work, first=trial % 4 == 0)] += 1
    return seen


def with_files_no_larger_than(scratch: Path) -> Counter[str]:
    """Bind under every limit to the size of a file, a real refusal of the machine, from 0 bytes in steps of 50."""
    seen = Counter[str]()
    for limit in range(0, SIZE + 200, 50):

        def work(target: Path, limit: int = limit) -> None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, resource.RLIM_INFINITY))
            bind_tiny(target, NEW)

        seen[tried(scratch / str(limit), work, first=False)] += 1
    return seen


def four_at_once(scratch: Path) -> Counter[str]:
    """Let four processes bind one target over and over; each bind is done or told that another one is at it."""
    target, tally = scratch / "book", os.open(scratch / "tally", os.O_RDWR | os.O_CREAT | os.O_APPEND)

    def work() -> None:
        for turn in range(25):
            try:
                bind_tiny(target, OLD + turn % 2)
                os.write(tally, b"d")
            except TargetRefusedError as error:
                assert "is being bound by" in str(error)  # noqa: PT017 - this process is no test
                os.write(tally, b"r")
                time.sleep(0.002)

    children = []
    for _ in range(4):
        child = os.fork()
        if child == 0:
            os._exit(in_a_process(work) and 1)
        children.append(child)
    assert [os.waitpid(child, 0)[1] for child in children] == [0] * 4
    assert generation_of(target) in (OLD, NEW)
    os.unlink(scratch / "tally")  # noqa: PTH108
    assert [path.name for path in scratch.iterdir()] == ["book"]
    said = os.pread(tally, 1000, 0)
    return Counter({"done": said.count(b"d"), "told": said.count(b"r")})


def _no_wait(_: int) -> None:
    """Stand in for a wait for the disk."""


def main(mode: str, scratch: Path, *more: str) -> Counter[str]:
    """Run one sort of trial in *scratch*; `two steps` takes the exchange of folders away, `first` the old book."""
    first = "first" in more
    if "two steps" in more:
        publish.exchanged = lambda *_: False
    os.fsync = _no_wait  # a killed process, unlike a power cut, loses nothing that was written; waiting takes most time
    scratch.mkdir()
    match mode:
        case "random":
            return at_random_moments(scratch, int(more[0]))
        case "lines":
            return at_each_moment(scratch, at_every_line, die, first)
        case "renames":
            return at_each_moment(scratch, partial(at_every_call, RENAMING), die, first)
        case "calls":
            return at_each_moment(scratch, partial(at_every_call, CALLS), die, first)
        case "limits":
            return with_files_no_larger_than(scratch)
        case "at once":
            return four_at_once(scratch)
    acts = partial(refuse, getattr(errno, mode))
    return at_each_moment(scratch, partial(before_every_call, CALLS), acts, first, "lasting" in more)


if __name__ == "__main__":
    print(json.dumps(main(sys.argv[1], Path(sys.argv[2]), *sys.argv[3:])))  # noqa: T201 - what the test reads

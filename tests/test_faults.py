"""The program itself killed, refused room, crowded or aimed at somebody else's files: always one whole book, counted.

Two versions of the least project, whose books are known to the byte, take turns to be bound into one target. The same
is tried with a tiny tree at every line of the modules that publish, daily, in `tests/render/test_publish_faults.py`.
"""

from __future__ import annotations

import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.running import with_fonts

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="signals and limits are those of a Unix")
ROOT = Path(__file__).parents[1]
OTHER_DISK = Path("/dev/shm")  # noqa: S108 - a file system in memory, where a machine has one
# What moves or removes a name; the exchange of two folders is known by the name under which it is looked up.
RENAMING = frozenset({"os.rename", "renameat2", "renamex_np"})
ALL = RENAMING | {"os.link", "os.remove", "os.rmdir", "os.mkdir", "os.truncate"}
DIES = """
import os, signal, sys
events, left = set(sys.argv.pop(1).split()), int(sys.argv.pop(1))
def passing(event, given):
    global left
    if (given[1] if event == "ctypes.dlsym" else event) in events:
        left -= 1
        if left == 0:
            os.kill(os.getpid(), signal.SIGKILL)
sys.addaudithook(passing)
from bookgen.cli import main
main()
"""
# In a namespace of its own: a small disk with the old book on it, a bind there, and what then stands, outside.
SMALL_DISK = """
mount -t tmpfs -o size=$1k none "$2" || exit 90
cp -r "$3" "$2/book" || exit 91
"$4" -m bookgen bind "$5" --out "$2/book"
code=$?
ls -A "$2" > "$6.names"
cp -r "$2/book" "$6"
exit $code
"""
SMALL_CACHE = """
mount -t tmpfs -o size=$1k none "$BOOKGEN_CACHE" || exit 90
"$2" -m bookgen bind "$3" --out "$4"
"""


class Bench:
    """Two versions of the least project, the books they give, and one target that they take turns to be bound into."""

    def __init__(self, place: Path, cache: Path) -> None:
        self.place = place
        self.cache = with_fonts(cache, place / "cache")
        self.target = place / "out" / "book"
        self.books = []
        for title in ("Plover Street", "Plover Street, once more"):
            project = place / f"project-{len(self.books)}" / "plover"
            shutil.copytree(ROOT / "projects" / "smallest", project)
            record = project / "project.yaml"
            record.write_text(record.read_text("utf-8").replace("title: Plover Street", f"title: {title}"), "utf-8")
            book = place / f"book-{len(self.books)}"
            assert self.ended(self.run(project, book))[0] == 0
            self.books.append((project, bytes_of(book)))

    def run(
        self, project: Path, target: Path, *before: str, limit: Callable[[], None] | None = None
    ) -> subprocess.Popen[bytes]:
        """Start a bind; *before* is put in front of the program's arguments, *limit* is done in its process first."""
        command = [sys.executable, *(before or ("-m", "bookgen")), "bind", str(project), "--out", str(target)]
        return subprocess.Popen(  # noqa: S603
            command,
            cwd=ROOT,
            env=self.environment(),
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            preexec_fn=limit,
        )

    def environment(self) -> dict[str, str]:
        """Return what a bind here is told, a cache of its own above all."""
        return {**os.environ, "BOOKGEN_CACHE": str(self.cache)}

    def ended(self, bind: subprocess.Popen[bytes]) -> tuple[int, str]:
        """Wait for a bind; return its exit code and what it said, which is never a traceback."""
        _, said = bind.communicate()
        words = said.decode()
        assert "Traceback" not in words, words
        return bind.returncode, words

    def begin_with(self, which: int) -> None:
        """Let one of the two books stand at the target, and nothing beside it."""
        shutil.rmtree(self.target.parent, ignore_errors=True)
        shutil.copytree(self.place / f"book-{which}", self.target)

    def stands(self, at: Path | None = None) -> int:
        """Return which of the two books stands at the target, to the byte."""
        found = bytes_of(at or self.target)
        differing = [
            sorted(name for name in {*book, *found} if book.get(name) != found.get(name)) for _, book in self.books
        ]
        assert [] in differing, f"neither the one book nor the other: {differing}"
        return differing.index([])

    def tidied(self, which: int) -> None:
        """Bind once more; see that it is the right book, made with what the cache holds, and nothing beside it."""
        assert self.ended(self.run(self.books[which][0], self.target))[0] == 0
        assert self.stands() == which
        assert [path.name for path in self.target.parent.iterdir()] == ["book"]


def bytes_of(book: Path) -> dict[str, bytes]:
    """Return every file of a book by its path."""
    return {path.relative_to(book).as_posix(): path.read_bytes() for path in book.rglob("*") if path.is_file()}


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory, cache: Path) -> Bench:
    """One bench for all; every test begins with a book of its own at the target."""
    return Bench(tmp_path_factory.mktemp("faults"), cache)


def killed_at_random(bench: Bench, trials: int, lasts: float) -> Counter[str]:
    """Kill so many binds, each at a random moment of about *lasts* seconds; count how they ended and what stands."""
    chance, seen = random.Random(3), Counter[str]()
    bench.begin_with(0)
    for trial in range(trials):
        if trial % 20 == 19:
            shutil.rmtree(bench.cache, ignore_errors=True)
        before = bench.stands()
        bind = bench.run(bench.books[1 - before][0], bench.target)
        try:
            bind.wait(timeout=chance.uniform(0, lasts))
        except subprocess.TimeoutExpired:
            bind.kill()
        ended, _ = bench.ended(bind)
        assert ended in (0, -signal.SIGKILL)
        seen[f"{'done' if ended == 0 else 'killed'}: {'old' if bench.stands() == before else 'new'}"] += 1
        lasts *= 1.1 if ended else 0.95  # so that some come to their end, on a fast machine and on a slow one
    bench.tidied(0)
    return seen


def test_a_dozen_kills_at_random_moments(bench: Bench) -> None:
    """The old book stands, or the new one, to the byte; the next bind leaves nothing else beside it."""
    seen = killed_at_random(bench, 12, lasts=2)
    assert seen.total() == 12
    assert set(seen) <= {"killed: old", "killed: new", "done: new"}
    assert seen["killed: old"] > 2


@pytest.mark.long
def test_two_hundred_kills_at_random_moments(bench: Bench) -> None:
    """The same two hundred times, every twentieth with a cold cache."""
    seen = killed_at_random(bench, 200, lasts=3)
    assert seen.total() == 200
    assert set(seen) <= {"killed: old", "killed: new", "done: new"}
    assert seen["killed: old"] > 50


def killed_before(bench: Bench, events: frozenset[str], moments: range, *, cold: bool) -> list[tuple[int, int]]:
    """Kill a bind before each of the *moments*-th of *events*; return exit codes and books, up to the first whole bind.

    Unless it is to be *cold*, each bind works with what the killed ones left in the cache.
    """
    ends = []
    for moment in moments:
        if cold:
            shutil.rmtree(bench.cache, ignore_errors=True)
        bench.begin_with(0)
        bind = bench.run(bench.books[1][0], bench.target, "-c", DIES, " ".join(sorted(events)), str(moment))
        code, _ = bench.ended(bind)
        ends.append((code, bench.stands()))
        if code == 0:
            break
        assert code == -signal.SIGKILL
    return ends


def test_a_kill_before_the_exchange_of_the_books(bench: Bench) -> None:
    """The name of the book changes hands in one step: a kill just before it leaves the old book."""
    assert killed_before(bench, frozenset({"renameat2", "renamex_np"}), range(1, 3), cold=False) in (
        [(-signal.SIGKILL, 0), (0, 1)],
        [(0, 1)],  # where a machine knows no such step
    )


@pytest.mark.long
@pytest.mark.parametrize("events", [RENAMING, ALL], ids=["renames", "every change of a name"])
@pytest.mark.parametrize("cold", [True, False], ids=["from a cold cache", "from a full one"])
def test_a_kill_before_every_change_of_a_name(bench: Bench, events: frozenset[str], cold: bool) -> None:
    """Of pictures, fonts, drawings, print and book: the old book until the last, then the new one."""
    if not cold:
        bench.begin_with(0)
        bench.tidied(1)
    ends = killed_before(bench, events, range(1, 2000), cold=cold)
    books = [book for _, book in ends]
    assert ends[-1] == (0, 1)
    assert books == sorted(books), "once the new book stands, it stays"
    assert len(ends) > (10 if cold else 1)


def limited(bench: Bench, sizes: range) -> Counter[str]:
    """Bind under each of *sizes*, in bytes, as the machine's limit to a file; count the ends by what stands."""
    seen = Counter[str]()
    for size in sizes:
        bench.begin_with(0)

        def limit(size: int = size) -> None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (size, resource.RLIM_INFINITY))

        code, said = bench.ended(bench.run(bench.books[1][0], bench.target, limit=limit))
        assert code == 0 or (code == 3 and "the machine is in the way" in said), (code, said)
        seen[f"{'done' if code == 0 else 'refused'}: {('old', 'new')[bench.stands()]}"] += 1
    return seen


def test_no_file_may_be_larger(bench: Bench) -> None:
    """A bind that may write no large file says that the machine is in the way, and the old book stands."""
    assert limited(bench, range(50_000, 50_001)) == {"refused: old": 1}


@pytest.mark.long
def test_no_file_may_be_larger_in_forty_steps(bench: Bench) -> None:
    """From nothing at all to enough."""
    seen = limited(bench, range(0, 400_000, 10_000))
    assert set(seen) == {"refused: old", "done: new"}
    assert seen.total() == 40


def own_disks() -> bool:
    """Say whether a test may have a small disk of its own here."""
    unshare = shutil.which("unshare")
    with tempfile.TemporaryDirectory() as place:
        tried = [str(unshare), "-rm", "mount", "-t", "tmpfs", "none", place]
        return bool(unshare) and subprocess.run(tried, capture_output=True, check=False).returncode == 0  # noqa: S603


def filled(bench: Bench, sizes: range) -> Counter[str]:
    """Bind on a disk of each of *sizes*, in kilobytes, that the old book lies on; count the ends by what stands."""
    if not own_disks():
        pytest.skip("no disk of its own for a test on this machine; limits to the size of a file stand in")
    seen = Counter[str]()
    for size in sizes:
        with tempfile.TemporaryDirectory(dir=bench.place) as folder:
            disk, out = Path(folder) / "disk", Path(folder) / "out"
            disk.mkdir()
            script = ["unshare", "-rm", "sh", "-c", SMALL_DISK, "sh", str(size), str(disk), str(bench.place / "book-0")]
            run = subprocess.run(  # noqa: S603
                [*script, sys.executable, str(bench.books[1][0]), str(out)],
                cwd=ROOT, env=bench.environment(), capture_output=True, text=True, check=False,
            )  # fmt: skip
            assert "Traceback" not in run.stderr, run.stderr
            assert run.returncode == 0 or (run.returncode == 3 and "No space left" in run.stderr), run.stderr
            assert Path(f"{out}.names").read_text("utf-8") == "book\n"
            seen[f"{'done' if run.returncode == 0 else 'refused'}: {('old', 'new')[bench.stands(out)]}"] += 1
    return seen


def test_a_disk_gets_full(bench: Bench) -> None:
    """Room for the old book and half a second one: it says so, and the old one stands."""
    assert filled(bench, range(1_700, 1_701)) == {"refused: old": 1}


@pytest.mark.long
def test_a_disk_gets_full_in_forty_steps(bench: Bench) -> None:
    """From hardly room for the old book to room for both."""
    seen = filled(bench, range(1_240, 3_240, 50))
    assert set(seen) == {"refused: old", "done: new"}
    assert seen.total() == 40


@pytest.mark.long
@pytest.mark.parametrize("size", [8, 200, 700])
def test_a_cache_gets_full(bench: Bench, tmp_path: Path, size: int) -> None:
    """No room for what is kept: the book is bound all the same, or the machine is said to be in the way."""
    if not own_disks():
        pytest.skip("no disk of its own for a test on this machine")
    (tmp_path / "cache").mkdir()
    script = ["unshare", "-rm", "sh", "-c", SMALL_CACHE, "sh", str(size), sys.executable, str(bench.books[1][0])]
    run = subprocess.run(  # noqa: S603
        [*script, str(tmp_path / "book")],
        cwd=ROOT,
        env={**os.environ, "BOOKGEN_CACHE": str(tmp_path / "cache")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert "Traceback" not in run.stderr
    assert run.returncode in (0, 3), run.stderr
    if run.returncode == 0:
        assert bench.stands(tmp_path / "book") == 1
    else:
        assert "the machine is in the way" in run.stderr
        assert not (tmp_path / "book").exists()


def crowded(bench: Bench, binds: int, rounds: int) -> Counter[str]:
    """Let some binds begin at once on one target, so many times; each is done or told that another one is at it."""
    seen = Counter[str]()
    bench.begin_with(0)
    for _ in range(rounds):
        for bind in [bench.run(bench.books[number % 2][0], bench.target) for number in range(1, binds + 1)]:
            code, said = bench.ended(bind)
            assert code == 0 or (code == 2 and "is being bound by process" in said), said
            seen["done" if code == 0 else "told"] += 1
        bench.stands()
        assert [path.name for path in bench.target.parent.iterdir()] == ["book"]
    return seen


def test_two_binds_at_once_on_one_target(bench: Bench) -> None:
    """One whole book stands at the end of it, and no bind fell over the other."""
    seen = crowded(bench, 2, rounds=1)
    assert seen.total() == 2
    assert seen["done"] > 0


@pytest.mark.long
def test_sixty_binds_at_once_on_one_target(bench: Bench) -> None:
    """The same in twenty rounds; now and then one is told to wait."""
    seen = crowded(bench, 3, rounds=20)
    assert seen.total() == 60
    assert min(seen["done"], seen["told"]) > 0


def test_a_book_on_another_file_system(bench: Bench) -> None:
    """Its bytes are the same, over an old book, though nothing of the cache can be moved or linked there."""
    if not OTHER_DISK.is_dir() or OTHER_DISK.stat().st_dev == bench.place.stat().st_dev:
        pytest.skip("no second file system on this machine")
    with tempfile.TemporaryDirectory(dir=OTHER_DISK) as folder:
        shutil.copytree(bench.place / "book-0", Path(folder) / "book")
        code, said = bench.ended(bench.run(bench.books[1][0], Path(folder) / "book"))
        assert code == 0, said
        assert bench.stands(Path(folder) / "book") == 1
        assert [path.name for path in Path(folder).iterdir()] == ["book"]


def test_what_somebody_else_put_into_a_book_is_never_cleared(bench: Bench) -> None:
    """A bound book with a file of the owner's in it: nothing is bound, the message names the file, all stays."""
    bench.begin_with(0)
    (bench.target / "chapters" / "my-photos.txt").write_text("mine", encoding="utf-8")
    before = bytes_of(bench.target.parent)
    code, said = bench.ended(bench.run(bench.books[1][0], bench.target))
    assert code == 2
    assert "chapters/my-photos.txt" in said
    assert "name another folder with --out" in " ".join(said.split())
    assert bytes_of(bench.target.parent) == before

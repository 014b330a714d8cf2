"""A bind that has nothing to do says so at once, and only then; several projects are bound side by side."""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import matplotlib
import pytest

from bookgen import bindery
from bookgen.bindery import Done, Job, bind_job
from bookgen.cache import known_cache
from bookgen.render import engine, warming
from bookgen.render.themes import Theme
from bookgen.telling import DONE, PROBLEMS, WRONG_USE
from tests.running import with_fonts

SMALLEST = Path(__file__).parents[1] / "projects" / "smallest"
ROOT = SMALLEST.parents[1]


def _bytes_of(book: Path) -> dict[str, bytes]:
    return {path.relative_to(book).as_posix(): path.read_bytes() for path in book.rglob("*") if path.is_file()}


@pytest.fixture(scope="module")
def bound(tmp_path_factory: pytest.TempPathFactory, cache: Path) -> Path:
    """A folder with a project, a book that was bound of it on two cores, and the cache; tests take copies."""
    home = tmp_path_factory.mktemp("bound")
    shutil.copytree(SMALLEST, home / "house")
    with_fonts(cache, home / "cache")
    run = _run(home, "bind", "house", "--out", "book", BOOKGEN_CORES="2")
    assert run.returncode == 0, run.stderr
    return home


def _run(home: Path, *arguments: str, **variables: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "bookgen", *arguments]
    environment = {**os.environ, "BOOKGEN_CACHE": str(home / "cache"), **variables}
    return subprocess.run(command, cwd=home, env=environment, capture_output=True, text=True, check=False)  # noqa: S603


@pytest.fixture
def home(bound: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the project, its cache and its book, and that as the working folder."""
    for name in ("house", "cache", "book"):
        shutil.copytree(bound / name, tmp_path / name)
    monkeypatch.setenv("BOOKGEN_CACHE", str(tmp_path / "cache"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def works(monkeypatch: pytest.MonkeyPatch) -> list[Job]:
    """The jobs that were really worked on; nothing is bound for them."""
    found: list[Job] = []

    def count(job: Job, _progress: bindery.Progress) -> Done:
        found.append(job)
        return Done(PROBLEMS)

    monkeypatch.setattr(bindery, "_bound", count)
    return found


JOB = Job(Path("house"), "owner", Path("book"))


def test_nothing_changed_is_told_without_work(home: Path, works: list[Job]) -> None:
    """And no byte of the book is touched."""
    before = {path: path.stat().st_mtime_ns for path in (home / "book").rglob("*")}
    assert bind_job(JOB) == Done(DONE, unchanged=True)
    assert works == []
    assert {path: path.stat().st_mtime_ns for path in (home / "book").rglob("*")} == before


@pytest.mark.skipif(os.name == "nt", reason="there every file is read: times tell less")
def test_a_book_found_whole_once_is_not_read_again(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nor one that was just bound: a look at each name is enough, until any of it is written."""
    read: list[Path] = []
    monkeypatch.setattr(bindery, "whole_book", lambda target: not read.append(target))
    assert bind_job(JOB).unchanged
    assert len(read) == 1, "a copy is another book, so it is read once"
    assert bind_job(JOB).unchanged
    assert len(read) == 1
    fresh = Job(JOB.project, JOB.edition, Path("fresh"))
    assert not bind_job(fresh).unchanged
    assert bind_job(fresh).unchanged
    assert len(read) == 1
    _append("fresh/index.html")(home)
    bind_job(fresh)
    assert len(read) == 2


def test_what_a_killed_bind_left_goes_where_nothing_changed(home: Path, works: list[Job]) -> None:
    """Somebody kills the bind of a changed record, takes the change back and binds again: only the book is left."""
    before = sorted(path.name for path in home.iterdir())
    (home / ".book.binding-4711").mkdir()
    (home / ".book.binding-4711" / "index.html").write_text("half a book")
    (home / ".book.binding-lock").write_text("4711\n")
    (home / ".other.binding-4711").mkdir()
    assert bind_job(JOB) == Done(DONE, unchanged=True)
    assert works == []
    assert sorted(path.name for path in home.iterdir()) == sorted([*before, ".other.binding-4711"])
    (home / ".other.binding-4711").rmdir()


def test_nothing_heavy_is_loaded_where_nothing_changed(home: Path) -> None:
    """Neither records, solver, templates, print engine nor pictures: that is where the half second goes."""
    script = (
        "import atexit, sys; from bookgen.__main__ import main\n"
        "heavy = {'pydantic', 'yaml', 'jinja2', 'typst', 'PIL', 'numpy', 'shapely', 'svgwrite', 'fontTools'}\n"
        "atexit.register(lambda: print(sorted(heavy & set(sys.modules))))\n"
        "sys.argv = ['bookgen', 'bind', 'house', '--out', 'book']\n"
        "main()"
    )
    run = subprocess.run([sys.executable, "-c", script], cwd=home, capture_output=True, text=True, check=True)  # noqa: S603
    assert "Nothing has changed" in run.stdout, run.stderr
    assert run.stdout.splitlines()[-1] == "[]"


def _append(name: str) -> Callable[[Path], object]:
    def change(home: Path) -> None:
        path = home / name
        path.write_bytes(path.read_bytes() + b" ")

    return change


def _turn_a_bit(name: str) -> Callable[[Path], object]:
    def change(home: Path) -> None:
        path = home / name
        times, data = path.stat(), bytearray(path.read_bytes())
        data[len(data) // 2] ^= 1
        path.write_bytes(data)
        os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))

    return change


CHANGES: dict[str, Callable[[Path], object]] = {
    "a record": _append("house/obstacles/01-drain.yaml"),
    "a record, its time turned back": _turn_a_bit("house/project.yaml"),
    "a photo": _turn_a_bit("house/photos/before.jpg"),
    "a new record": lambda home: (home / "house/obstacles/02.yaml").touch(),
    "a file of the book": _append("book/index.html"),
    "a bit of the print book": _turn_a_bit("book/book.pdf"),
    "a picture of the book gone": lambda home: next((home / "book/pictures").iterdir()).unlink(),
    "the manifest": _append("book/bookgen-manifest.json"),
    "the book gone": lambda home: shutil.rmtree(home / "book"),
    "the cache gone": lambda home: shutil.rmtree(home / "cache"),
    "what the cache says of it spoilt": lambda home: _turn_a_bit(
        next((home / "cache/bound").iterdir()).relative_to(home).as_posix()
    )(home),
}


@pytest.mark.parametrize("change", CHANGES)
def test_after_any_change_it_is_bound_again(home: Path, works: list[Job], change: str) -> None:
    """Of the project, of the book, of the cache, where all of it was found unchanged before."""
    assert bind_job(JOB).unchanged
    assert works == []
    CHANGES[change](home)
    bind_job(JOB)
    assert works == [JOB]


@pytest.mark.parametrize(
    "job",
    [
        Job(Path("house"), "trade", Path("book")),
        Job(Path("house"), "owner", Path("book"), single_file=True),
        Job(Path("house"), "owner", Path("other")),
    ],
)
@pytest.mark.usefixtures("home")
def test_another_job_is_another_book(works: list[Job], job: Job) -> None:
    """Another edition, other choices, another folder."""
    bind_job(job)
    assert works == [job]


@pytest.mark.usefixtures("home")
@pytest.mark.parametrize("what", ["program", "build day"])
def test_another_program_or_build_day_is_another_book(
    works: list[Job], monkeypatch: pytest.MonkeyPatch, what: str
) -> None:
    """What makes the bytes is part of the key."""
    if what == "program":
        store = replace(known_cache(), version="another")
        monkeypatch.setattr(bindery, "known_cache", lambda: store)
    else:
        monkeypatch.setenv("SOURCE_DATE_EPOCH", "981173106")
    bind_job(JOB)
    assert works == [JOB]


def test_a_file_of_somebody_else_is_told_before_any_work(home: Path, works: list[Job]) -> None:
    """Also where nothing changed: the next bind would have to clear it."""
    (home / "book" / "mine.txt").touch()
    done = bind_job(JOB)
    assert done.code == WRONG_USE
    assert "mine.txt" in done.wrong
    assert works == []


def test_with_or_without_a_cache_the_bytes_are_the_same(home: Path) -> None:
    """Bound from what is kept, from either half of it, from what is spoilt: the book that an empty cache has given."""
    first = _bytes_of(home / "book")
    for number, sorts in enumerate(((), ("drawings", "fonts"), ("print", "pictures", "svg"))):
        for sort in sorts:
            shutil.rmtree(home / "cache" / sort)
        assert bind_job(Job(Path("house"), "owner", Path(f"again-{number}"))).code == DONE
        assert _bytes_of(home / f"again-{number}") == first
    for entry in [path for path in (home / "cache").rglob("*") if path.is_file()]:
        entry.write_bytes(entry.read_bytes()[:-1] + b"?")
    assert bind_job(Job(Path("house"), "owner", Path("spoilt"))).code == DONE
    assert _bytes_of(home / "spoilt") == first


def test_on_one_core_or_on_two_the_bytes_are_the_same(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What was done beside something else, with an engine that knew the last book, is what an empty cache gives."""
    ahead: list[Path] = []

    def lay_out(source: Path, theme: Theme) -> None:
        ahead.append(source)
        engine.lay_out(source, theme)

    monkeypatch.setattr(warming, "lay_out", lay_out)
    monkeypatch.setenv("BOOKGEN_CORES", "2")
    drain = home / "house/obstacles/01-drain.yaml"
    for _ in range(2):
        drain.write_text(drain.read_text("utf-8").replace("this", "this very", 1), encoding="utf-8")
        assert bind_job(JOB).code == DONE
    assert len(ahead) == 1
    shutil.rmtree(home / "cache")
    monkeypatch.setenv("BOOKGEN_CORES", "1")
    assert bind_job(Job(Path("house"), "owner", Path("on-one"))).code == DONE
    assert _bytes_of(home / "on-one") == _bytes_of(home / "book")


def test_several_are_bound_side_by_side_past_one_with_problems(home: Path) -> None:
    """Each that can be is bound, as it is by itself; the summary names the others and why; the code is the gravest."""
    for name in ("wrong", "taken", "fine"):
        shutil.copytree(home / "house", home / name)
    (home / "wrong" / "project.yaml").write_text("project: nothing else\n", encoding="utf-8")
    taken = home / "site_out" / "taken" / "owner"
    taken.mkdir(parents=True)
    (taken / "mine.txt").touch()
    run = _run(home, "bind", "wrong", "house", "taken", "fine", BOOKGEN_CORES="2")
    assert run.returncode == WRONG_USE
    assert "2 of 4 books stand." in run.stdout
    last = run.stderr.splitlines()[-1]
    assert last.startswith("not bound: wrong (")
    assert "; taken (" in last
    assert "name another folder" in last
    first = _bytes_of(home / "book")
    assert {name: _bytes_of(home / "site_out" / name / "owner").keys() for name in ("house", "fine")} == {
        "house": first.keys(),
        "fine": first.keys(),
    }
    assert _bytes_of(home / "site_out" / "house" / "owner") == first
    again = _run(home, "bind", "house", "fine", BOOKGEN_CORES="2")
    assert again.returncode == DONE
    assert again.stdout.count("Nothing has changed") == 2


@pytest.mark.skipif(os.name == "nt", reason="a signal to one process is not known there")
def test_an_interruption_that_nothing_could_be_told_of_is_told_again() -> None:
    """In the call of a weak reference Python drops what is raised, with a traceback: it comes again without one.

    What is waited for meanwhile does not hold it up.
    """
    script = (
        "import signal, time, weakref\n"
        "from bookgen import bindery\n"
        "bindery._settle_in(1)\n"
        "signal.signal(signal.SIGINT, bindery._while_working)\n"
        "class Thing: pass\n"
        "thing = Thing()\n"
        "watch = weakref.ref(thing, lambda _: signal.raise_signal(signal.SIGINT))\n"
        "try:\n"
        "    del thing\n"
        "    time.sleep(600)\n"
        "except KeyboardInterrupt:\n"
        "    print('told')\n"
    )
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)  # noqa: S603
    assert (run.stdout, run.stderr) == ("told\n", "")


INTERRUPTED_WHILE_LOADING = """
import runpy, sys
where = sys.argv[1]
class Interrupting:
    def find_spec(self, name, *_):
        if name == where:
            raise KeyboardInterrupt
sys.meta_path.insert(0, Interrupting())
sys.argv = ["bookgen", "check", "projects/smallest"]
runpy.run_module("bookgen", run_name="__main__")
"""


@pytest.mark.parametrize("where", ["bookgen.telling", "bookgen.check"])
def test_an_interruption_while_the_program_loads_is_one_line(tmp_path: Path, where: str) -> None:
    """Whoever presses Ctrl-C at once, or while a command loads what it needs, is told what to do as well."""
    command = [sys.executable, "-c", INTERRUPTED_WHILE_LOADING, where]
    environment = {**os.environ, "BOOKGEN_CACHE": str(tmp_path)}
    run = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True)  # noqa: S603
    assert run.returncode == 3
    assert run.stderr.strip().startswith("stopped; what stands is whole")
    assert len(run.stderr.strip().splitlines()) == 1


LOADED = "from bookgen.__main__ import main; print('loaded', flush=True); main()"


@pytest.mark.long
@pytest.mark.skipif(os.name == "nt", reason="a signal to one process is not known there")
def test_a_bind_interrupted_at_any_moment_ends_by_its_exit_code(home: Path) -> None:
    """A hundred moments from the first on, some of them interrupted a second time: 0 or 3, never by the signal."""
    chance, ends, lasts = random.Random(7), Counter[int](), 2.0
    for trial in range(100):
        command = [sys.executable, "-c", LOADED, "bind", "house", "--out", f"book-{trial}"]
        with subprocess.Popen(command, cwd=home, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as run:  # noqa: S603
            assert run.stdout is not None
            assert run.stdout.readline() == "loaded\n"
            for _ in range(chance.choice((1, 2))):
                try:
                    run.wait(chance.uniform(0.001, lasts))
                except subprocess.TimeoutExpired:
                    run.send_signal(signal.SIGINT)
            said = run.communicate()[1]
        assert run.returncode in (0, 3), said
        assert "Traceback" not in said
        assert run.returncode == 3 or (home / f"book-{trial}" / "index.html").exists()
        ends[run.returncode] += 1
        lasts *= 0.95 if run.returncode == 0 else 1.1
        shutil.rmtree(home / f"book-{trial}", ignore_errors=True)
        if trial % 10 == 0:
            shutil.rmtree(home / "cache", ignore_errors=True)
    assert min(ends[0], ends[3]) > 10


@pytest.mark.skipif(os.name == "nt", reason="a signal to one process is not known there")
def test_an_interruption_ends_all_of_them_cleanly(home: Path) -> None:
    """Ctrl-C while two are at work: one line, exit code 3, no book and nothing beside it, no process left."""
    for name in ("one", "two", "three", "four"):
        shutil.copytree(home / "house", home / name)
    shutil.rmtree(home / "cache")
    command = [sys.executable, "-m", "bookgen", "bind", "one", "two", "three", "four"]
    environment = {**os.environ, "BOOKGEN_CORES": "2"}
    with subprocess.Popen(  # noqa: S603
        command, cwd=home, env=environment, stderr=subprocess.PIPE, text=True, start_new_session=True
    ) as run:
        assert run.stderr is not None
        first = run.stderr.readline()
        os.killpg(run.pid, signal.SIGINT)
        rest = run.stderr.read()
        assert run.wait() == 3
    assert "Traceback" not in first + rest
    assert "stopped; what stands is whole" in rest
    left = [path.name for path in (home / "site_out").rglob(".*")] if (home / "site_out").exists() else []
    assert left == []
    deadline = time.monotonic() + 5
    while time.monotonic() < deadline:
        try:
            os.killpg(run.pid, 0)
        except ProcessLookupError:
            return
        time.sleep(0.05)
    pytest.fail("a process is left")


OPENED = """
import os, sys
opened = set()
def note(event, given):
    if event == "open" and isinstance(given[0], (str, bytes)) and not (isinstance(given[2], int) and given[2] & 3):
        path = os.path.realpath(os.fsdecode(given[0]))
        if os.path.isfile(path):  # a folder is opened to be cleared
            opened.add(path)
sys.addaudithook(note)
from pathlib import Path
from bookgen.bindery import Job, bind_job
assert bind_job(Job(Path("house"), "owner", Path("book-of-it"))).code == 0
print(chr(10).join(sorted(opened)))
"""


def test_a_bind_reads_nothing_that_the_key_does_not_cover(home: Path) -> None:
    """Every file that a bind opens is one of the project, of the program, of Python or a library, or its own work."""
    shutil.rmtree(home / "cache")
    run = subprocess.run([sys.executable, "-c", OPENED], cwd=home, capture_output=True, text=True, check=True)  # noqa: S603
    opened = [Path(line) for line in run.stdout.splitlines()]
    assert (home / "house" / "photos" / "before.jpg").resolve() in opened, "the watch works"
    covered = [home / "house", ROOT / "bookgen", ROOT / "themes"]
    own = [home / "cache", *home.glob("*book-of-it*"), Path(tempfile.gettempdir()) / "bookgen-"]
    python = [sys.prefix, sys.base_prefix, *(one for one in sys.path if one and Path(one) != ROOT)]
    system = ["/dev", "/proc", "/sys", "/etc", "/usr/share/zoneinfo"]
    # Which fonts there are is asked by the library of the charts when it loads; no sign of a chart is set by it.
    system.append(matplotlib.get_cachedir())
    known = tuple(os.path.realpath(one) for one in (*covered, *own, *python, *system))
    staging = str(home.resolve() / ".book-of-it.")
    others = [str(one) for one in opened if not str(one).startswith((*known, staging))]
    assert others == []

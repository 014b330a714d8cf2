"""The book that was set last is set once more ahead of the next one; that changes no byte, and nothing needs it."""

from __future__ import annotations

import json
import tempfile
from concurrent.futures import wait
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import pytest
from PIL import Image

from bookgen.render import engine, warming
from bookgen.render.cores import CORES
from bookgen.render.drawings import Figures, drawings_of
from bookgen.render.engine import lay_out
from bookgen.render.kept import Store, keep_bytes
from bookgen.render.pictures import PictureFile, PictureSet, kept_name
from bookgen.render.print import laid_out
from bookgen.render.themes import Theme, load_theme
from bookgen.render.warming import ABOUT, KEPT, Warming
from tests.render.book_fixture import BOOK

WHOSE = ("/projects/oak", "owner")
RECORDS: dict[str, str | Path] = {"project.yaml": "project: Oak\n"}
Files = dict[str, bytes]


@pytest.fixture(autouse=True)
def two_cores(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A machine on which something can be done beside something else, and whose folder for a while is known."""
    monkeypatch.setenv(CORES, "2")
    (tmp_path / "while").mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "while"))


@pytest.fixture
def store(tmp_path: Path) -> Store:
    """A store that has the pictures of the book, one colour each."""
    store = Store(tmp_path / "store", "1")
    for name, picture in _pictures().items():
        folder = store.sort("pictures") / kept_name(picture.digest)
        folder.mkdir(parents=True)
        Image.new("RGB", (40, 30), "tan").save(folder / picture.files[0].name)
        assert name == picture.digest
    return store


@pytest.fixture
def warmed(monkeypatch: pytest.MonkeyPatch) -> list[Files]:
    """What the engine has laid out ahead: all that it could read, each time."""
    found: list[Files] = []

    def seen(source: Path, theme: Theme) -> None:
        found.append(_files(source.parent))
        lay_out(source, theme)

    monkeypatch.setattr(warming, "lay_out", seen)
    return found


def _pictures() -> dict[str, PictureSet]:
    files = {
        one.digest: PictureFile(f"{one.digest[:12]}-print.jpg", 40, 30, "jpeg", "print") for one in BOOK.pictures()
    }
    return {digest: PictureSet(digest, 40, 30, (file,)) for digest, file in files.items()}


def _files(folder: Path) -> Files:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def _begun(store: Store, state: str | None) -> Warming:
    """Begin to warm the engine, and wait for it."""
    begun = warming.warming(store, state, *WHOSE)
    if begun.warm:
        wait([begun.warm])
    return begun


def _set(store: Store, folder: Path, state: str | None) -> bytes:
    """Set the book, with the engine warmed where it can be; return the PDF."""
    (folder / "pictures").mkdir(parents=True)
    pictures = _pictures()
    for digest, one in pictures.items():
        kept = store.sort("pictures") / kept_name(digest) / one.files[0].name
        (folder / "pictures" / one.files[0].name).write_bytes(kept.read_bytes())
    figures, begun = Figures(pictures, drawings_of(BOOK)), _begun(store, state)
    with laid_out(BOOK, load_theme("chalkline"), figures, folder, RECORDS, None, begun) as set_book:
        set_book()
    return (folder / "book.pdf").read_bytes()


def test_the_last_book_is_laid_out_as_it_was_set(
    store: Store, tmp_path: Path, warmed: list[Files], monkeypatch: pytest.MonkeyPatch
) -> None:
    """To the last file that the engine read, words, drawings and pictures; the first time there is none."""
    read: list[Files] = []
    alone = engine._set

    def seen(source: Path, theme: Theme, iso_date: str) -> bytes:
        read.append(_files(source.parent))
        return alone(source, theme, iso_date)

    monkeypatch.setattr(engine, "_set", seen)
    first = _set(store, tmp_path / "first", "a")
    assert warmed == []
    again = _set(store, tmp_path / "again", "b")
    assert warmed == [read[0]]
    assert {name.split("/")[0] for name in warmed[0]} > {"book.json", "book.typ", "sketches", "pictures", "inside"}
    assert again == first
    assert list((tmp_path / "while").iterdir()) == []


@pytest.mark.parametrize("reason", ["nothing has changed", "one core", "another book"])
def test_nothing_is_begun_for_nothing(
    store: Store, tmp_path: Path, warmed: list[Files], monkeypatch: pytest.MonkeyPatch, reason: str
) -> None:
    """Where the very state was set last, all is kept; one core has other things to do; each book has its own."""
    _set(store, tmp_path / "first", "a")
    whose = WHOSE
    if reason == "one core":
        monkeypatch.setenv(CORES, "1")
    if reason == "another book":
        whose = ("/projects/oak", "trade")
    assert warming.warming(store, "a" if reason == "nothing has changed" else "b", *whose).warm is None
    assert warmed == []


HARMS: dict[str, tuple[dict[str, object], dict[str, str]]] = {  # what is told of the book, and its words
    "out of the folder": ({}, {"../../escaped.txt": "here"}),
    "a strange picture": ({"pictures": {"pictures/a.jpg": "../../../../../../dev/zero"}}, {}),
    "a picture for elsewhere": ({"pictures": {"../../escaped.txt": "a.jpg"}}, {}),
    "a picture is gone": ({"pictures": {"pictures/a.jpg": "gone/a.jpg"}}, {}),
    "no theme": ({"theme": "../../tmp"}, {}),
    "no name": ({"theme": 5}, {}),
    "no list": ({"pictures": 5}, {}),
    "no words": ({}, {}),
    "spoilt words": ({}, {"book.json": "{"}),
}
FOUND_BY_THE_ENGINE = {"out of the folder", "no words", "spoilt words"}


@pytest.mark.parametrize("harm", ["half", "no archive", "nothing told", *HARMS])
def test_a_spoilt_memory_of_it_costs_time_alone(store: Store, tmp_path: Path, warmed: list[Files], harm: str) -> None:
    """Nothing is written or read where it must not be, nothing is left behind, and the book is set as it would be."""
    good = _set(store, tmp_path / "first", "a")
    (entry,) = store.sort(KEPT).iterdir()
    if harm == "half":
        entry.write_bytes(entry.read_bytes()[:1000])
    elif harm == "no archive":
        keep_bytes(entry, b"PK")
    else:
        told, words = HARMS.get(harm, ({}, {}))
        kept = BytesIO()
        with ZipFile(kept, "w") as archive:
            if harm != "nothing told":
                archive.writestr(ABOUT, json.dumps({"state": "a", "theme": "chalkline", "pictures": {}} | told))
            for name, text in words.items():
                archive.writestr(name, text)
        keep_bytes(entry, kept.getvalue())
    assert _set(store, tmp_path / "again", "b") == good
    assert len(warmed) == (harm in FOUND_BY_THE_ENGINE)
    assert list((tmp_path / "while").iterdir()) == []
    assert not list(tmp_path.rglob("escaped.txt"))

"""A shelf of sample editions: the books stand, what is private does not, and a bad project keeps nobody else off."""

from __future__ import annotations

import shutil
from pathlib import Path
from urllib.parse import unquote

import pytest
from bs4 import BeautifulSoup

from bookgen.bind import composed_book
from bookgen.shelf import Shelved, fill_shelf
from tests.running import with_fonts

SMALLEST = Path(__file__).parents[1] / "projects" / "smallest"
TELLING_FOLDER = "3-plover-street-saltmarsh"
SHARED = (
    ("obstacles/01-drain.yaml", "kind: drain", "kind: drain\nshare: yes"),
    ("obstacles/01-drain.yaml", "  - file: before.jpg", "  - file: before.jpg\n      share: yes"),
    ("obstacles/01-drain.yaml", "  - file: finished.jpg", "  - file: finished.jpg\n      share: yes"),
)


def shared(target: Path, built: str = "1991") -> Path:
    """Return a copy of the smallest project whose one obstacle and two pictures may be shown."""
    copy = Path(shutil.copytree(SMALLEST, target))
    for file, before, after in (*SHARED, ("project.yaml", "built: 1991", f"built: {built}")):
        text = (copy / file).read_text("utf-8")
        assert before in text
        (copy / file).write_text(text.replace(before, after, 1), encoding="utf-8")
    return copy


def filled(target: Path, *projects: Path) -> Shelved:
    """Fill a shelf, telling nobody how far it is."""
    return fill_shelf(projects, target, lambda *_: None)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with two good projects and a bad one, the shelf of the good ones beside them."""
    home = tmp_path_factory.mktemp("shelf")
    shared(home / TELLING_FOLDER)
    shared(home / "other", "1958")
    bad = shared(home / "bad")
    (bad / "project.yaml").write_text("project: nothing else\n", encoding="utf-8")
    return home


@pytest.fixture(scope="module")
def shelved(folder: Path) -> Shelved:
    """The shelf of all three."""
    return filled(folder / "shelf", folder / TELLING_FOLDER, folder / "bad", folder / "other")


def test_the_good_books_stand_and_the_bad_one_is_named(folder: Path, shelved: Shelved) -> None:
    """Each book opens from the page, with its kind of house, what was hidden, and a pair of pictures."""
    assert shelved.target == folder / "shelf"
    assert [project.name for project, _ in shelved.refused] == ["bad"]
    assert all(checked.problems for _, checked in shelved.refused)
    page = BeautifulSoup((folder / "shelf" / "index.html").read_text("utf-8"), "html5lib")
    books = page.select(".shelf-book")
    assert ["1991" in book.text for book in books] == [True, False]
    assert ["1958" in book.text for book in books] == [False, True]
    for book in books:
        assert [item.text.strip() for item in book.select(".shelf-solved li")] == ["Drain along the north wall"]
        assert len(book.select(".shelf-pair img")) == 2
        assert len({str(link["href"]) for link in book.select("a[href]")}) == 1
    links = [str(tag.get("href") or tag.get("src")) for tag in page.select("[href], [src]")]
    assert [link for link in links if not (folder / "shelf" / unquote(link)).is_file()] == []
    for number in ("01", "03"):
        assert (folder / "shelf" / f"{number}-row-house" / "book.pdf").is_file()


def test_no_name_address_or_folder_is_on_the_shelf(folder: Path, shelved: Shelved) -> None:
    """The owner's name, the street and the project folder's own name are in no path and in no page."""
    assert shelved.target is not None
    private = ("Marguerite", "Oduya", "Plover", "plover", "Saltmarsh", TELLING_FOLDER)
    files = [path for path in (folder / "shelf").rglob("*") if path.is_file()]
    paths = "\n".join(path.relative_to(folder / "shelf").as_posix() for path in files)
    texts = [path.read_text("utf-8") for path in files if path.suffix in {".html", ".js", ".json", ".css", ".svg"}]
    assert [word for word in private if any(word in text for text in (paths, *texts))] == []


def test_a_shelf_with_nothing_to_put_up_leaves_the_old_one(folder: Path, shelved: Shelved) -> None:
    """Only bad projects: the books that stood still stand."""
    assert shelved.target is not None
    before = (folder / "shelf" / "index.html").read_bytes()

    again = filled(folder / "shelf", folder / "bad")

    assert again.target is None
    assert len(again.refused) == 1
    assert (folder / "shelf" / "index.html").read_bytes() == before


def test_a_book_of_an_unchanged_project_is_put_up_as_it_was(
    tmp_path: Path, cache: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing is read, drawn or written again, to the same bytes, but where it changed or what is kept is spoilt."""
    monkeypatch.setenv("BOOKGEN_CACHE", str(with_fonts(cache, tmp_path / "cache")))
    house = shared(tmp_path / "house")
    composed: list[Path] = []

    def counted(folder: Path, *given: object) -> object:
        composed.append(folder)
        return composed_book(folder, *given)  # type: ignore[arg-type]

    monkeypatch.setattr("bookgen.shelf.composed_book", counted)
    for target in ("first", "second"):
        assert filled(tmp_path / target, house).refused == ()
    first = bytes_of(tmp_path / "first")
    assert bytes_of(tmp_path / "second") == first
    assert composed == [house]
    (kept,) = (tmp_path / "cache" / "samples").glob("*/index.html")
    kept.write_bytes(kept.read_bytes() + b" ")
    filled(tmp_path / "third", house)
    assert composed == [house, house]
    (house / "project.yaml").write_text((house / "project.yaml").read_text("utf-8") + "\n# x\n", encoding="utf-8")
    filled(tmp_path / "third", house)
    assert composed == [house, house, house]
    assert bytes_of(tmp_path / "third") == first


def bytes_of(shelf: Path) -> dict[str, bytes]:
    """Return every file of a shelf by its path."""
    return {path.relative_to(shelf).as_posix(): path.read_bytes() for path in shelf.rglob("*") if path.is_file()}

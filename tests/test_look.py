"""How a project asks its book to look: themes, a maker's own colours, name and picture, tabs; and what is refused."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest
from PIL import Image

from bookgen.bind import composed_book
from bookgen.model.book import Book, Edition
from bookgen.model.problem import Problem
from bookgen.render.kept import Store
from bookgen.render.themes import Theme, ThemeError, themes_folder
from bookgen.report import report

SMALLEST = Path(__file__).parents[1] / "projects" / "smallest"
OPTIONS = """
  theme options:
    name: Halfmoon Carpentry (demo)
    logo: moon.png
    logo shows: A half moon over a saw horse
    accent: "#7a1f5c"
"""


def asked(folder: Path, book: str, edition: Edition = Edition.OWNER) -> tuple[Book | None, tuple[Problem, ...]]:
    """Return the book of a copy of the smallest project with *book* added under `book:`, or its problems."""
    project = folder / "house"
    shutil.copytree(SMALLEST, project)
    Image.new("RGB", (60, 30), "#7a1f5c").save(project / "photos" / "moon.png")
    main = project / "project.yaml"
    lines = main.read_text("utf-8").splitlines()
    lines.insert(lines.index("book:") + 1, book.strip("\n"))
    main.write_text("\n".join(lines), "utf-8")
    for record in (project / "obstacles").iterdir():
        record.write_text(record.read_text("utf-8") + "\nshare: yes\n", "utf-8")
    composed, checked = composed_book(project, edition)
    return (composed.book if composed else None), checked.problems


def test_a_makers_own_are_on_the_book(tmp_path: Path) -> None:
    """Name, picture with its words, and the colour in place of the theme's; the rest is the theme's."""
    book, problems = asked(tmp_path, OPTIONS)
    assert problems == ()
    assert book is not None
    assert book.brand.name == "Halfmoon Carpentry (demo)"
    assert book.brand.picture is not None
    assert book.brand.picture.alt == "A half moon over a saw horse"
    assert book.brand.picture in book.pictures()
    assert book.brand.colours == {"chalk": "#7a1f5c"}


@pytest.mark.parametrize("share", ["no", "yes"])
def test_a_sample_names_its_maker_only_where_that_is_shared(tmp_path: Path, share: str) -> None:
    """Colours are in every edition; name and picture are in a sample where the options say so; it has its own theme."""
    book, problems = asked(
        tmp_path, f"{OPTIONS.rstrip()}\n    share: {share}\n  sample theme: showroom", Edition.SAMPLE
    )
    assert problems == ()
    assert book is not None
    assert book.theme == "showroom"
    assert book.brand.colours == {"chalk": "#7a1f5c"}
    assert (bool(book.brand.name), bool(book.brand.picture)) == (share == "yes", share == "yes")


@pytest.mark.parametrize(
    ("book", "code", "says"),
    [
        ("  theme: chalklin", "theme-unusable", "there: chalkline, showroom"),
        ('  theme options: {accent: "#d9d9d9"}', "colour-too-faint", "4.5 is asked"),
        ('  theme options: {ink: "#7aa7d6"}', "colour-too-faint", "4.5 is asked"),
        ("  theme options: {ink: blue}", "not-a-colour", "six signs"),
        ("  theme options: {logo: moon.png}", "picture-without-words", "can't see it"),
        ("  cover: moon.png", "picture-without-words", "can't see it"),
        ("  theme options: {logo: sun.png, logo shows: A sun}", "photo-missing", ""),
    ],
)
def test_what_can_not_be_looked_at_is_told_at_its_line(tmp_path: Path, book: str, code: str, says: str) -> None:
    """An unknown theme, a colour that nobody can read, a picture without words: each stands at its own line."""
    made, problems = asked(tmp_path, book)
    assert made is None
    assert [problem.code for problem in problems] == [code]
    assert says in problems[0].rule
    line = (tmp_path / "house" / "project.yaml").read_text("utf-8").splitlines()[problems[0].place.line - 1]
    assert line.strip() in book or book.strip() in line


@pytest.mark.parametrize(
    ("book", "code", "field"),
    [
        ("  sample theme: showrom", "theme-unusable", "book > sample theme"),
        ('  theme options: {accent: "#d9d9d9"}', "colour-too-faint", "book > theme options > accent"),
    ],
)
def test_check_tells_what_no_book_could_be_bound_for(tmp_path: Path, book: str, code: str, field: str) -> None:
    """Before anybody binds: also of the sample's theme, once for both themes, at its line, and with what to do."""
    made, problems = asked(tmp_path, book)
    told = report(tmp_path / "house").problems

    assert [(one.code, one.field) for one in told] == [(code, field)]
    assert told[0].repair
    assert told[0].place.line > 1
    assert (made is None, problems) == ((False, ()) if "sample" in field else (True, told))


def test_tabs_follow_the_rooms_of_the_chapters(tmp_path: Path) -> None:
    """One tab for each room, in the order of the chapters; none where nobody asks."""
    with_tabs, _ = asked(tmp_path / "one", "  tab strip: yes")
    without, _ = asked(tmp_path / "two", "  paper: letter")
    assert with_tabs is not None
    assert without is not None
    assert [slug for tab in with_tabs.tabs for slug in tab.chapters] == [one.slug for one in with_tabs.chapters]
    assert without.tabs == ()


def test_that_a_theme_is_whole_is_remembered_and_what_it_lacks_is_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its templates are looked through once for each version of the program; a mistake is told until it is mended."""
    looks: list[str] = []
    lacks = ["a page", "a page", "", "", "a page"]

    def look(theme: Theme) -> bytes:
        looks.append(theme.name)
        if wrong := lacks[len(looks) - 1]:
            raise ThemeError(f"{wrong} is missing")
        return b""

    monkeypatch.setattr("bookgen.look._tried", look)
    monkeypatch.setattr(sys, "dont_write_bytecode", True)  # nothing is marked beside the themes of the program
    for version, told, looked in (("1", True, 1), ("1", True, 2), ("1", False, 3), ("1", False, 3), ("2", False, 4)):
        _, checked = composed_book(SMALLEST, Edition.OWNER, Store(tmp_path, version))
        assert [one.code for one in checked.problems] == (["theme-unusable"] if told else [])
        assert len(looks) == looked


def test_a_theme_that_was_whole_is_not_looked_through_for_an_empty_cache(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """That it was is told beside it, for one version; in a folder that can't be written, by the cache alone."""
    looks: list[str] = []
    shutil.copytree(themes_folder(), tmp_path / "themes", ignore=shutil.ignore_patterns("__pycache__"))
    monkeypatch.setattr("bookgen.render.themes.themes_folder", lambda: tmp_path / "themes")

    def look(theme: Theme) -> bytes:
        looks.append(theme.name)
        return b""

    monkeypatch.setattr("bookgen.look._tried", look)
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    for turn, (version, looked) in enumerate((("1", 1), ("1", 1), ("2", 2), ("1", 3))):
        composed_book(SMALLEST, Edition.OWNER, Store(tmp_path / str(turn), version))
        assert len(looks) == looked
    beside = tmp_path / "themes" / "chalkline" / "__pycache__"
    shutil.rmtree(beside)
    beside.write_text("no folder")
    for _ in range(2):
        composed_book(SMALLEST, Edition.OWNER, Store(tmp_path / "kept", "1"))
    assert len(looks) == 4

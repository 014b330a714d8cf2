"""A text of a record may stand in several languages; the book takes its own."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from bookgen.desk.start import example_folder
from bookgen.model.project import Project
from bookgen.read import read
from bookgen.report import report

BOTH = "obstacle: {en: Drain along the north wall, es: Desagüe de la pared norte}"
ONE = "obstacle: {en: Drain along the north wall}"


def started(folder: Path, language: str, title: str) -> Path:
    """Return the example project in a language, its obstacle's name written like that."""
    shutil.copytree(example_folder(), folder)
    record, drain = folder / "project.yaml", folder / "obstacles" / "01-drain.yaml"
    record.write_text(record.read_text("utf-8").replace("language: en", f"language: {language}"), "utf-8")
    lines = drain.read_text("utf-8").splitlines()
    at = next(number for number, line in enumerate(lines) if line.startswith("obstacle:"))
    lines[at] = title
    drain.write_text("\n".join(lines), "utf-8")
    return folder


def whole(folder: Path) -> Project:
    """Return a project that has no problem."""
    project, problems = read(folder)
    assert problems == ()
    assert project is not None
    return project


@pytest.mark.parametrize(
    ("language", "title"), [("en", "Drain along the north wall"), ("es", "Desagüe de la pared norte")]
)
def test_the_book_takes_its_own(tmp_path: Path, language: str, title: str) -> None:
    """The other one stays in the records that the owner is handed."""
    project = whole(started(tmp_path / "mine", language, BOTH))

    assert project.obstacles[0].record.obstacle == title
    assert project.missed == ()
    written = project.written["obstacles/01-drain.yaml"]
    assert isinstance(written, dict)
    assert written["obstacle"] == {"en": "Drain along the north wall", "es": "Desagüe de la pared norte"}


def test_a_text_that_is_not_there_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The one that is written stands in its place, and `check` says where."""
    monkeypatch.setenv("BOOKGEN_CACHE", str(tmp_path / "cache"))
    folder = started(tmp_path / "mine", "es", ONE)

    assert whole(folder).obstacles[0].record.obstacle == "Drain along the north wall"
    assert [note for note in report(folder).notes if "01-drain.yaml:3: este texto no está en es" in note]


def test_a_wrong_text_has_its_problem_at_its_line(tmp_path: Path) -> None:
    """An empty name in the book's language is a problem there."""
    _, problems = read(started(tmp_path / "mine", "es", 'obstacle: {en: Drain, es: ""}'))

    assert [(problem.place.file, problem.place.line) for problem in problems] == [("obstacles/01-drain.yaml", 3)]

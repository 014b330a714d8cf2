"""What is compiled of templates is kept beside them: found again, and only where it is theirs and whole."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest
from jinja2 import Environment

from bookgen.render import compiled
from bookgen.render.html import templates_of
from bookgen.render.themes import Theme, load_theme, themes_folder


@pytest.fixture
def theme(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Theme:
    """A theme of its own, with nothing compiled."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    without = shutil.ignore_patterns("__pycache__")
    shutil.copytree(themes_folder() / "chalkline", tmp_path / "chalkline", ignore=without)
    return load_theme("chalkline", tmp_path)


@pytest.fixture
def worked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the templates that were really compiled."""
    found: list[str] = []
    compile_ = Environment.compile

    def counted(self: Environment, source: str, name: str, *given: object) -> object:
        found.append(name)
        return compile_(self, source, name, *given)  # type: ignore[call-overload]

    monkeypatch.setattr(Environment, "compile", counted)
    return found


def kept_of(theme: Theme) -> list[Path]:
    """Return what is kept beside the templates of a theme."""
    return sorted((theme.templates[0] / "__pycache__").glob("*"))


def test_a_template_is_compiled_once(theme: Theme, worked: list[str]) -> None:
    """Another run finds its code, which is one whole file."""
    for _ in range(2):
        templates_of(theme).get_template("words.html")
        assert worked == ["words.html"]
        assert len(kept_of(theme)) == 1


@pytest.mark.parametrize("change", ["template", "program", "half", "nothing in it"])
def test_code_of_anything_else_is_made_anew(
    theme: Theme, worked: list[str], monkeypatch: pytest.MonkeyPatch, change: str
) -> None:
    """Of another template, another program, half a file."""
    templates_of(theme).get_template("words.html")
    (file,) = kept_of(theme)
    match change:
        case "template":
            (theme.templates[0] / "words.html").write_text("changed", encoding="utf-8")
        case "program":
            monkeypatch.setattr(compiled, "digest_of_program", lambda: "another")
        case "half":
            file.write_bytes(file.read_bytes()[:200])
        case _:
            file.write_bytes(b"")
    found = templates_of(theme).get_template("words.html")
    assert len(worked) == 2
    if change == "template":
        assert found.render() == "changed"


def test_where_nothing_may_be_written_nothing_is(theme: Theme, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where Python is told to keep no code, and where the folder can't be written."""
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    templates_of(theme).get_template("words.html")
    assert kept_of(theme) == []
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    (theme.templates[0] / "__pycache__").write_text("a file in the way", encoding="utf-8")
    assert templates_of(theme).get_template("words.html").name == "words.html"

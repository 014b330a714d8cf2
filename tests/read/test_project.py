"""A whole folder: what a good one gives, and that one run finds what is wrong in all its files."""

from __future__ import annotations

import datetime
import shutil
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from bookgen.model.place import Place
from bookgen.model.problem import Problem
from bookgen.read import read
from bookgen.read.text import LARGEST

Spoil = Callable[[str, str, str], Path]
DRAIN = "obstacles/main-drain.yaml"


def only(folder: Path) -> Problem:
    """Return the one problem of a folder."""
    project, problems = read(folder)
    assert project is None
    assert len(problems) == 1, [str(problem) for problem in problems]
    return problems[0]


def test_a_good_project_is_read_whole(good_project: Path) -> None:
    """Records, photos, notes and the folder's name all arrive, with exact values."""
    project, problems = read(good_project)

    assert problems == ()
    assert project is not None
    assert (project.key, [one.key for one in project.obstacles]) == ("tamarack", ["main-drain"])
    assert project.obstacles[0].record.run is not None
    assert project.obstacles[0].record.run.to.inches == 204
    assert project.record.level.joists.underside.length.inches == Fraction(179, 2)
    assert project.record.work.framed == datetime.date(2026, 4, 1)
    assert project.notes == {"drain.md": "The pipe hangs in straps every 48 in; one coupling.\n"}
    assert (project.photos["before.png"].width, project.photos["before.png"].height) == (8, 6)


def test_the_same_folder_gives_the_same_project(good_project: Path) -> None:
    """Reading twice gives equal values, so that nothing hangs on chance or the clock."""
    assert read(good_project) == read(good_project)


def test_places_point_at_what_a_person_wrote(good_project: Path) -> None:
    """A text is found where it stands, a block at its key, a list entry at its first key, a default at its parent."""
    project, _ = read(good_project)
    assert project is not None
    lines = (good_project / DRAIN).read_text("utf-8").splitlines()
    of = project.places.of

    assert of(DRAIN) == Place(DRAIN, 1, 1)
    assert of(DRAIN, "room") == Place(DRAIN, 3, 7)
    assert of(DRAIN, "treatment") == Place(DRAIN, lines.index("treatment:") + 1, 1)
    assert of(DRAIN, "inside", 0) == Place(DRAIN, 7, 5)
    assert lines[6][4:] == "what: Main drain"
    assert of(DRAIN, "run", "to") == Place(DRAIN, 5, lines[4].index("204") + 1)
    assert of(DRAIN, "treatment", "wall soffit", "ladder") == of(DRAIN, "treatment", "wall soffit")
    assert of("notes/other.md", "x") == Place("notes/other.md", 1, 1)


def test_mistakes_of_all_files_come_in_one_run(spoil: Spoil) -> None:
    """A syntax error in project.yaml doesn't hide a wrong value in a record, nor a lost photo."""
    spoil("project.yaml", "project: Tamarack", "project: Tama: rack")
    spoil(DRAIN, "from: 40 in", "from: 40")
    folder = spoil(DRAIN, "file: before.png", "file: gone.png")

    found = [(problem.place.file, problem.code) for problem in read(folder)[1]]

    assert found == [(DRAIN, "bare-number"), (DRAIN, "photo-missing"), ("project.yaml", "yaml-syntax")]


def test_names_are_left_alone_while_their_list_cannot_be_read(spoil: Spoil) -> None:
    """With project.yaml broken no room and no mark is called unknown: nobody can tell."""
    folder = spoil("project.yaml", "rooms:", "rooms: [")

    assert {problem.code for problem in read(folder)[1]} == {"yaml-syntax"}


def test_names_are_left_alone_while_their_list_is_refused(spoil: Spoil) -> None:
    """An alias in place of the marks is a problem of its own; the ties that need them get none."""
    folder = spoil(
        "project.yaml", "marks:\n  family-nw: {what: north-west corner of the family room, at", "marks: *x\nx: {at"
    )

    assert {problem.code for problem in read(folder)[1]} == {"yaml-alias", "unknown-key"}


def test_tags_are_left_alone_while_a_record_cannot_be_read(spoil: Spoil) -> None:
    """With a record broken the upkeep at its tag is not called unknown."""
    folder = spoil(DRAIN, "obstacle: Main", 'obstacle: "Main')

    assert only(folder).code == "yaml-syntax"


def test_a_photo_may_stand_twice(spoil: Spoil) -> None:
    """The same photo in two phases is no mistake."""
    old = "photos:\n"
    folder = spoil(DRAIN, old, f"{old}  framed: [{{file: before.png, shows: The same.}}]\n")

    project, problems = read(folder)
    assert problems == ()
    assert project is not None
    assert list(project.photos) == ["before.png"]


def test_two_records_may_share_a_chapter(good_project: Path) -> None:
    """A chapter title that two records have gathers them; on its own, or misspelt, it is a problem."""
    drain = good_project / DRAIN
    text = drain.read_text("utf-8") + "chapter: Drain and stack\n"
    drain.write_text(text, "utf-8")
    other = text.replace("tag: 03", "tag: 04")
    (good_project / "obstacles" / "stack.yaml").write_text(other, "utf-8")
    assert read(good_project)[1] == ()

    (good_project / "obstacles" / "stack.yaml").write_text(other.replace("and stack", "and stak"), "utf-8")
    problems = read(good_project)[1]
    assert [problem.code for problem in problems] == ["lone-chapter", "lone-chapter"]
    assert problems[0].repair == "did you mean Drain and stak?"


@pytest.mark.parametrize(
    ("data", "code", "line", "column"),
    [
        (b"obstacle: Main dr\xe9in\n", "not-utf-8", 1, 18),
        ("obstacle: Main\nkind: drain\n".encode("utf-16"), "not-utf-8", 1, 1),
        (b"# \xc3\xa9\r\n# \xff\n", "not-utf-8", 2, 3),
        (b"# x\n" * (LARGEST // 4) + b"#", "file-too-large", 0, 0),
        (b"#\x00\n" * 30, "control-character", 0, 0),
        (b"", "empty-file", 0, 0),
        (b"\xef\xbb\xbf# only a comment\n", "empty-file", 0, 0),
        (b"facts: [" + b"a," * 20_001 + b"]", "too-many-values", 1, 40005),
    ],
)
def test_a_file_that_is_no_text_is_refused(good_project: Path, data: bytes, code: str, line: int, column: int) -> None:
    """Bytes, size and emptiness are looked at before anything is read."""
    (good_project / "obstacles" / "spoilt.yaml").write_bytes(data)

    problems = read(good_project)[1]

    assert problems[0].code == code
    assert problems[0].place == Place("obstacles/spoilt.yaml", line, column)


@pytest.mark.parametrize(
    ("sign", "code"),
    [
        ("\x0b", "control-character"),
        ("\x00", "control-character"),
        ("\x85", "control-character"),
        ("\u2028", "control-character"),
        ("\u200b", "control-character"),
        ("\ufeff", "control-character"),
        ("\u202e", "bidi-control"),
        ("\u2067", "bidi-control"),
        ("\u200f", "bidi-control"),
    ],
)
def test_unseen_characters_are_refused(spoil: Spoil, sign: str, code: str) -> None:
    """A control or a sign that turns the reading direction is a problem at its own line and column."""
    problem = only(spoil(DRAIN, "Everything that", f"Everything {sign}that"))

    assert (problem.code, problem.place) == (code, Place(DRAIN, 4, 22))
    assert sign not in str(problem)


@pytest.mark.parametrize(("escape", "code"), [(r"\0", "control-character"), (r"\u202e", "bidi-control")])
def test_unseen_characters_are_refused_behind_an_escape(spoil: Spoil, escape: str, code: str) -> None:
    """Writing the character as an escape in double quotes doesn't let it in."""
    folder = spoil(DRAIN, "Everything that goes down upstairs passes here.", f'"Everything {escape} passes."')

    assert (only(folder).code, only(folder).place) == (code, Place(DRAIN, 4, 11))


@pytest.mark.parametrize("end", ["\r\n", "\r"])
def test_lines_may_end_as_on_any_computer(good_project: Path, end: str) -> None:
    """The places are the same whether lines end in a line feed, a carriage return or both."""
    drain = good_project / DRAIN
    text = drain.read_text("utf-8").replace("room: family", "room: famly")
    drain.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", end).encode())

    assert only(good_project).place == Place(DRAIN, 3, 7)


def test_a_long_text_is_sent_to_the_notes(spoil: Spoil) -> None:
    """One value may have 20,000 characters and no more."""
    problem = only(spoil(DRAIN, "Everything that goes down upstairs passes here.", "x" * 20_001))

    assert (problem.code, problem.place.line) == ("text-too-long", 4)
    assert len(str(problem)) < 300


def test_notes_are_checked_as_text(good_project: Path) -> None:
    """What is wrong inside a notes file is placed in that file."""
    (good_project / "notes" / "drain.md").write_text("One\ntwo \u202e three\n", "utf-8")

    assert (only(good_project).code, only(good_project).place) == ("bidi-control", Place("notes/drain.md", 2, 5))


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("../drain.md", "note-outside"),
        ("/etc/drain.md", "note-outside"),
        ("C:/drain.md", "note-outside"),
        ("linked.md", "note-outside"),
        ("folder/drain.md", "note-outside"),
        ("a\\drain.md", "backslash-in-name"),
        ("drain.MD", "note-wrong-suffix"),
        ("drain", "note-wrong-suffix"),
        ("drian.md", "note-missing"),
        ("sub.md", "note-missing"),
        ("x" * 300 + ".md", "note-missing"),
    ],
)
def test_notes_stay_in_their_folder(spoil: Spoil, name: str, code: str) -> None:
    """No name and no link leads out of notes/, and what is named must be a Markdown file."""
    folder = spoil(DRAIN, "before: drain.md", f"before: {name}")
    (folder / "notes" / "linked.md").symlink_to(folder / "notes" / "drain.md")
    (folder / "notes" / "folder").symlink_to(folder / "notes")
    (folder / "notes" / "sub.md").mkdir()

    assert (only(folder).code, only(folder).place.file) == (code, DRAIN)


@pytest.mark.parametrize(
    ("name", "data", "code"),
    [
        ("gone.png", None, "photo-missing"),
        ("../before.png", None, "photo-outside"),
        ("a\\b.png", None, "backslash-in-name"),
        ("empty.png", b"", "photo-unreadable"),
        ("note.gif", b"GIF89a", "photo-unknown-kind"),
    ],
)
def test_photo_faults_stand_at_the_record(spoil: Spoil, name: str, data: bytes | None, code: str) -> None:
    """What the probe finds wrong with a photo is a problem at the line that names it."""
    folder = spoil(DRAIN, "file: before.png", f"file: {name}")
    if data is not None:
        (folder / "photos" / name).write_bytes(data)

    problem = only(folder)

    assert (problem.code, problem.field, problem.value) == (code, "photos > before 1 > file", name)
    assert problem.place.line == 30


def test_a_copied_project_gives_the_same_problems(spoil: Spoil, tmp_path: Path) -> None:
    """Messages name files from the project folder on, so that they are the same wherever it lies."""
    folder = spoil(DRAIN, "from: 40 in", "from: 40")
    shutil.copytree(folder, tmp_path / "elsewhere" / "tamarack")

    assert read(folder)[1] == read(tmp_path / "elsewhere" / "tamarack")[1]
    assert str(tmp_path) not in str(read(folder)[1])

"""What lies in a project folder: which files are records, and what else is told of."""

from __future__ import annotations

from pathlib import Path

import pytest

from bookgen.model.place import Place
from bookgen.read import read
from bookgen.read.folder import obstacle_files, project_file


def test_an_empty_folder_is_no_project(tmp_path: Path) -> None:
    """Both the project record and the obstacles are missed in the same run."""
    project, problems = read(tmp_path)

    assert project is None
    assert [(problem.code, problem.place.file) for problem in problems] == [
        ("no-obstacles", "obstacles"),
        ("project-missing", "project.yaml"),
    ]


def test_a_missing_folder_is_a_problem_not_an_error(tmp_path: Path) -> None:
    """A mistyped folder name gives one problem that names it."""
    (problem,) = read(tmp_path / "tamarak")[1]

    assert (problem.code, problem.value) == ("project-missing", "tamarak")


@pytest.mark.parametrize("name", ["project.yml", "Project.yaml"])
def test_a_project_file_by_another_name_is_to_be_renamed(good_project: Path, name: str) -> None:
    """The repair names the file that was most likely meant."""
    (good_project / "project.yaml").rename(good_project / name)

    assert project_file(good_project)[1][0].repair == f"rename {name} to project.yaml"


@pytest.mark.parametrize(
    ("name", "code", "repair"),
    [
        ("stack.yml", "unexpected-file", "rename it to stack.yaml"),
        ("stack.YAML", "unexpected-file", "rename it to stack.yaml"),
        ("stack.txt", "unexpected-file", "move it or delete it"),
        ("stack.yaml~", "unexpected-file", "move it or delete it"),
        ("main drain (2).yaml", "file-name", "rename it to main-drain-2.yaml"),
        ("Abflußrohr.yaml", "file-name", "rename it to Abflu-rohr.yaml"),
        ("Main-Drain.yaml", "names-clash", "rename one of the two"),
    ],
)
def test_nothing_in_the_obstacles_folder_is_left_out_unseen(
    good_project: Path, name: str, code: str, repair: str
) -> None:
    """A file that is no record, or whose name would make trouble, is told of with its new name."""
    (good_project / "obstacles" / name).write_text("", "utf-8")

    problems = obstacle_files(good_project)[1]

    assert [(problem.code, problem.repair) for problem in problems] == [(code, repair)]
    assert problems[0].place.line == 0


def test_folders_and_links_are_no_records(good_project: Path) -> None:
    """A folder inside obstacles/ and a link to a record elsewhere are told of, and not read."""
    (good_project / "obstacles" / "old.yaml").mkdir()
    (good_project / "obstacles" / "stack.yaml").symlink_to(good_project / "obstacles" / "main-drain.yaml")

    problems = read(good_project)[1]

    assert [(problem.place, problem.code) for problem in problems] == [
        (Place("obstacles/old.yaml"), "unexpected-file"),
        (Place("obstacles/stack.yaml"), "record-outside"),
    ]


def test_a_linked_project_record_is_refused(good_project: Path) -> None:
    """project.yaml itself must not be a link, nor the obstacles folder."""
    (good_project / "project.yaml").rename(good_project / "real.yaml")
    (good_project / "project.yaml").symlink_to(good_project / "real.yaml")
    (good_project / "obstacles").rename(good_project / "real")
    (good_project / "obstacles").symlink_to(good_project / "real")

    assert [(p.place.file, p.code) for p in read(good_project)[1]] == [
        ("obstacles", "record-outside"),
        ("project.yaml", "record-outside"),
    ]


@pytest.mark.parametrize("name", [".DS_Store", ".main-drain.yaml.swp", "Thumbs.db", "desktop.ini"])
def test_what_computers_leave_behind_is_passed_over(good_project: Path, name: str) -> None:
    """Files that no person put there are no problem."""
    (good_project / "obstacles" / name).write_bytes(b"\x00")

    assert read(good_project)[1] == ()


def test_records_come_in_the_order_of_their_names(good_project: Path) -> None:
    """The order hangs on the names alone, not on the disk."""
    for name in ("b-beam.yaml", "a-post.yaml"):
        (good_project / "obstacles" / name).write_text("", "utf-8")

    assert [file.key for file in obstacle_files(good_project)[0]] == ["a-post", "b-beam", "main-drain"]

"""Every YAML file of tests/cases/solve is the only obstacle of a small level; its comments say what is found where."""

from __future__ import annotations

import re
import shutil
from collections import Counter
from pathlib import Path

import pytest

from bookgen.model.problem import Finding, Severity
from bookgen.model.problem_kinds import PROBLEM_KINDS
from bookgen.model.project import Project
from bookgen.read import read
from bookgen.solve import solve
from tests.approval import wrong

FOLDER = Path(__file__).parents[1] / "cases" / "solve"
CASES = sorted(FOLDER.glob("*.yaml"))
REPLACES = re.compile(r"\A# replaces: (\S+)")


def expected(text: str, what: str) -> Counter[tuple[int, str]]:
    """Return (line, code) of everything that the comments `# what: code` announce."""
    pattern = re.compile(rf"# {what}: ([a-z, -]+)$")
    return Counter(
        (number, code.strip())
        for number, line in enumerate(text.splitlines(), 1)
        if (comment := pattern.search(line))
        for code in comment[1].split(",")
    )


def spoken(finding: Finding) -> str:
    """Return all that a finding says, put together as it is printed."""
    return f"{finding.where}: {finding.says}. {finding.measured}. {finding.asked}. {finding.source}. {finding.hint}."


def project_with(case: Path, folder: Path) -> tuple[Project, str]:
    """Return the small level with the case in it, read without a problem, and the case's file name there."""
    target = REPLACES.match(case.read_text("utf-8"))
    shutil.copytree(FOLDER / "good", folder / "level")
    (folder / "level" / "obstacles").mkdir()
    file = target[1] if target else "obstacles/case.yaml"
    shutil.copy(CASES[0] if target else case, folder / "level" / "obstacles" / "case.yaml")
    shutil.copy(case, folder / "level" / file)
    project, problems = read(folder / "level")
    assert project is not None, [str(problem) for problem in problems]
    return project, file


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_problems_stand_where_the_comments_say(case: Path, tmp_path: Path) -> None:
    """A case has exactly the problems of its comments, each on its line, with a known code, rule and repair."""
    text = case.read_text("utf-8")
    project, file = project_with(case, tmp_path)

    solved, problems = solve(project)

    assert Counter((p.place.line, p.code) for p in problems if p.place.file == file) == expected(text, "problem")
    assert (solved is None) == bool(problems)
    known = {kind.code for kind in PROBLEM_KINDS}
    for problem in problems:
        assert problem.code in known
        assert problem.place.file == file
        assert problem.field
        assert problem.rule
        assert problem.repair


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_findings_stand_where_the_comments_say(case: Path, tmp_path: Path) -> None:
    """A case that solves has exactly the findings of its comments; what is within, or only a note, needs none."""
    text = case.read_text("utf-8")
    project, _ = project_with(case, tmp_path)

    solved, _ = solve(project)

    found = () if solved is None else solved.findings
    grave = Counter((f.place.line, f.code) for f in found if f.severity in {Severity.STOP, Severity.ASK})
    assert grave == expected(text, "finding")
    assert not [one for one in found if wrong(spoken(one))]  # within or not, nothing approves

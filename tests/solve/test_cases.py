"""Every YAML file of tests/cases/solve is the only obstacle of a small level; its comments say what is found where."""

from __future__ import annotations

import re
import shutil
from collections import Counter
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from bookgen.model.problem import Finding, Problem, Severity
from bookgen.model.problem_kinds import PROBLEM_KINDS
from bookgen.model.project import Project
from bookgen.model.solved import Solved
from bookgen.read import read
from bookgen.solve import solve
from bookgen.solve.checks import CHECKS
from bookgen.trade.tongue import tongue
from tests.approval import wrong

FOLDER = Path(__file__).parents[1] / "cases" / "solve"
CASES = sorted(FOLDER.glob("*.yaml"))
REPLACES = re.compile(r"\A# replaces: (\S+)(?: beside (\S+))?")
IN = re.compile(r"\A# in: (\S+)$", re.MULTILINE)
PASSES = re.compile(r"^# passes: (.+)$", re.MULTILINE)
# What leaves no line behind where there is nothing to say.
# What takes two treatments on one level, and so is tried by tests in Python.
TRIED_ELSEWHERE = frozenset({"closet-slot", "side-in-wall", "treatment-undecided", "work-meets-work"})
SILENT = frozenset({"board-not-flush", "obstacle-goes-on", "tie-through-wall", "fireblock-places"})


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
    beside = CASES[0] if target is None or target[2] is None else FOLDER / target[2]
    shutil.copy(beside if target else case, folder / "level" / "obstacles" / "case.yaml")
    shutil.copy(case, folder / "level" / file)
    level = IN.match(case.read_text("utf-8"))
    if level is not None:
        shutil.copy(FOLDER / "levels" / level[1], folder / "level" / "project.yaml")
    project, problems = read(folder / "level")
    assert project is not None, [str(problem) for problem in problems]
    return project, file


@cache
def worked(case: Path) -> tuple[str, Solved | None, tuple[Problem, ...]]:
    """Return the case's file name in the small level, and what solving it gives; each case is solved once."""
    with TemporaryDirectory() as folder:
        project, file = project_with(case, Path(folder))
        return (file, *solve(project))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_problems_stand_where_the_comments_say(case: Path) -> None:
    """A case has exactly the problems of its comments, each on its line, with a known code, rule and repair."""
    text = case.read_text("utf-8")
    file, solved, problems = worked(case)

    assert Counter((p.place.line, p.code) for p in problems if p.place.file == file) == expected(text, "problem")
    assert (solved is None) == bool(problems)
    known = {kind.code for kind in PROBLEM_KINDS}
    for problem in problems:
        assert problem.code in known
        assert problem.place.file == file
        assert problem.field
        assert problem.rule
        assert problem.repair
        assert tongue("es").told(problem.rule) != problem.rule
        assert tongue("es").told(problem.repair) != problem.repair


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_findings_stand_where_the_comments_say(case: Path) -> None:
    """A case that solves has exactly the findings of its comments; what is within, or only a note, needs none."""
    text = case.read_text("utf-8")
    file, solved, _ = worked(case)

    found = () if solved is None else tuple(one for one in solved.findings if one.place.file == file)
    grave = Counter((f.place.line, f.code) for f in found if f.severity in {Severity.STOP, Severity.ASK})
    notes = Counter((f.place.line, f.code) for f in found if f.severity is Severity.NOTE)
    assert grave == expected(text, "finding")
    assert not [one for one in found if wrong(spoken(one))]  # within or not, nothing approves
    assert not expected(text, "note") - notes


@pytest.mark.parametrize(
    "case", [case for case in CASES if PASSES.search(case.read_text("utf-8"))], ids=lambda c: c.stem
)
def test_a_case_that_passes_is_looked_at_and_nothing_is_said(case: Path) -> None:
    """Each check that a case says it passes has measured something in it, and found it within what is asked."""
    _, solved, problems = worked(case)
    assert solved is not None, [str(problem) for problem in problems]

    for code in passing(case.read_text("utf-8")):
        severities = {one.severity for one in solved.findings if one.code == code}
        assert severities == ({Severity.WITHIN} if code not in SILENT else set()), code


def test_every_check_has_a_case_that_fails_and_one_that_passes() -> None:
    """No check goes untried: its code stands at a line at fault in one case, and another says that it passes."""
    texts = [case.read_text("utf-8") for case in CASES]
    failing = {code for text in texts for sort in ("finding", "note") for _, code in expected(text, sort)}
    codes = {code for code, _ in CHECKS} - TRIED_ELSEWHERE

    assert codes - failing == set()
    assert codes - {code for text in texts for code in passing(text)} == set()


def passing(text: str) -> list[str]:
    """Return the codes of the checks that a case says it passes."""
    return [code.strip() for line in PASSES.findall(text) for code in line.split(",")]

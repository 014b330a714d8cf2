"""What a record says is settled: every answer is printed with its finding, or said to fit none; none is dropped."""

from __future__ import annotations

import datetime
from pathlib import Path

from bookgen.model.problem import Finding, Settled, Severity
from bookgen.solve import solve
from tests.solve.test_cases import FOLDER, project_with

ANSWER = Settled("Brightwater Plumbing (demo)", datetime.date(2026, 4, 2), "letter")


def found(folder: Path) -> list[Finding]:
    """Return the findings of the answers' case that are no measure kept to."""
    project, _ = project_with(FOLDER / "answers.yaml", folder)
    solved, problems = solve(project)
    assert solved is not None, problems
    return [one for one in solved.findings if one.severity is not Severity.WITHIN]


def test_an_answer_settles_what_it_is_about_and_nothing_else(tmp_path: Path) -> None:
    """Of two valves that are shut in, the answer about one is not taken for the other."""
    settled = {one.where: one.answered for one in found(tmp_path) if one.code == "valve-shut-in"}

    assert settled == {"tag 02, Second water valve": ANSWER, "tag 03, Third water valve": None}


def test_an_answer_that_fits_nothing_is_said(tmp_path: Path) -> None:
    """An answer about a valve that the check does not find stays in the list as a note, at its own line."""
    (idle,) = [one for one in found(tmp_path) if one.code == "answer-fits-nothing"]

    assert idle.severity is Severity.NOTE
    assert "Garden valve" in idle.says
    assert "letter" in idle.says
    lines = (FOLDER / "answers.yaml").read_text("utf-8").splitlines()
    assert "about: tag 09, Garden valve" in lines[idle.place.line]


def test_an_answered_finding_is_no_less_grave(tmp_path: Path) -> None:
    """The severity says what was measured; the answer says who has looked at it."""
    grave = {one.severity for one in found(tmp_path) if one.code == "valve-shut-in"}

    assert grave == {Severity.ASK}

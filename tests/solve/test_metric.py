"""A metric project reads millimetres in every word that is worked out for it."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from bookgen.model.project import ObstacleFile, Project
from bookgen.solve import solve
from tests.sample_house import sample_house
from tests.solve.test_cases import CASES, project_with

INCHES = re.compile("[\u2032\u2033]")  # as show_feet and show_inches write them


def metric(project: Project) -> Project:
    """Return a project with its units changed; its lengths stay what they are.

    A duct's bare size would count in millimetres there, so it is written with its inches.
    """
    record = project.record.model_copy(update={"units": "metric"})
    return replace(project, record=record, obstacles=tuple(map(with_inches, project.obstacles)))


def with_inches(file: ObstacleFile) -> ObstacleFile:
    """Return a record whose ducts say their unit."""
    inside = tuple(
        hidden.model_copy(update={"duct": f"{hidden.duct} in"}) if hidden.duct and " in" not in hidden.duct else hidden
        for hidden in file.record.inside
    )
    return replace(file, record=file.record.model_copy(update={"inside": inside}))


def test_remarks_of_a_metric_project_are_in_millimetres() -> None:
    """No remark of the sample house, measured in millimetres, holds a foot or an inch."""
    solved, problems = solve(metric(sample_house().project))

    assert solved is not None, problems
    assemblies = [one.assembly for one in solved.obstacles if one.assembly] + list(solved.level.linings)
    remarks = [words for assembly in assemblies for words in assembly.remarks]
    assert any("mm" in words for words in remarks)
    assert not [words for words in remarks if INCHES.search(words)]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_problems_of_a_metric_project_are_in_millimetres(case: Path, tmp_path: Path) -> None:
    """No problem of a metric level says a foot or an inch in its value, rule or repair."""
    project, _ = project_with(case, tmp_path)

    _, problems = solve(metric(project))

    assert not [one for one in problems if INCHES.search(f"{one.value} {one.rule} {one.repair}")]

"""A project folder in, the solved project or every problem out: the first half of the hall."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from bookgen.model.problem import Finding, Problem
from bookgen.model.solved import Solved
from bookgen.read import read
from bookgen.solve import solve


@dataclass(frozen=True, slots=True)
class Checked:
    """What `check` saw: the solved project where there is one, and every problem."""

    solved: Solved | None
    problems: tuple[Problem, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Return what the checks saw; nothing where the project could not be solved."""
        return self.solved.findings if self.solved else ()


def check(folder: Path) -> Checked:
    """Read and solve a project folder; raises OSError only where the machine is in the way."""
    project, problems = read(folder)
    if project is None or problems:
        return Checked(None, problems)
    solved, more = solve(project)
    if solved is None or more:
        return Checked(None, more)
    return Checked(solved, ())

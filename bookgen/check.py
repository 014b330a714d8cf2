"""A project folder in, the solved project or every problem out: the first half of the hall."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from bookgen.model.memory import NO_MEMORY, Memory
from bookgen.model.problem import Finding, Problem
from bookgen.model.project import Project
from bookgen.model.proposal import Choice
from bookgen.model.solved import Solved
from bookgen.read import read
from bookgen.solve import judge, solve

Work = Callable[[Project, Memory], tuple[Solved | None, tuple[Problem, ...]]]


@dataclass(frozen=True, slots=True)
class Checked:
    """What `check` saw: the solved project where there is one, and every problem."""

    solved: Solved | None
    problems: tuple[Problem, ...]
    project: Project | None = None

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Return what the checks saw; nothing where the project could not be solved."""
        return self.solved.findings if self.solved else ()


def choices(checked: Checked) -> tuple[Choice, ...]:
    """Return what might serve for each record that says `treatment: propose`; nothing where it can't be read."""
    if checked.project is None or not any(file.record.undecided for file in checked.project.obstacles):
        return ()
    from bookgen.solve.propose import propose  # with what only trying needs

    return propose(checked.project, checked.solved)


def check(folder: Path, memory: Memory = NO_MEMORY) -> Checked:
    """Read and solve a project folder; raises OSError only where the machine is in the way."""
    return _checked(folder, solve, memory)


def look_over(folder: Path, memory: Memory = NO_MEMORY) -> Checked:
    """Do as `check`, without what only a book or a list tells of the solved level: for what is said at a terminal."""
    return _checked(folder, judge, memory)


def _checked(folder: Path, work_out: Work, memory: Memory) -> Checked:
    project, problems = read(folder, memory)
    if project is None or problems:
        return Checked(None, problems)
    solved, more = work_out(project, memory)
    if solved is None or more:
        return Checked(None, more, project)
    return Checked(solved, (), project)

"""A project folder in, the solved project or every problem out: the first half of the hall."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from types import MappingProxyType
from typing import Any

from bookgen.model.memory import NO_MEMORY, Memory
from bookgen.model.problem import Finding, Problem
from bookgen.model.project import Places, Project
from bookgen.model.proposal import Choice
from bookgen.model.solved import Solved
from bookgen.model.wordless import wordless
from bookgen.read import read

NOWHERE = Places(MappingProxyType({}))
JUDGED = ("level", "rooms", "obstacles", "findings", "photos")  # of a solved project, for whoever only looks it over
LOCATED = ("takeoff", "faces", "ties")  # the rest of it


@dataclass(frozen=True, slots=True)
class Checked:
    """What `check` saw: the solved project where there is one, and every problem.

    *hangs_on* is what of the project all that is worked out hangs on: no words, nor where something stands.
    """

    solved: Solved | None
    problems: tuple[Problem, ...]
    project: Project | None = None
    hangs_on: Project | None = None

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
    seen = look_over(folder, memory)
    if seen.solved is None or seen.hangs_on is None:
        return seen
    return replace(seen, solved=_located(seen.solved, seen.hangs_on, memory))


def look_over(folder: Path, memory: Memory = NO_MEMORY) -> Checked:
    """Do as `check`, without what only a book or a list tells of the solved level: for what is said at a terminal."""
    project, problems = read(folder, memory)
    if project is None or problems:
        return Checked(None, problems)
    hangs_on = replace(wordless(project), places=NOWHERE)
    solved, more = _judged(project, hangs_on, memory)
    if solved is None or more:
        return Checked(None, more, project)
    return Checked(solved, (), project, hangs_on)


def _judged(project: Project, hangs_on: Project, memory: Memory) -> tuple[Solved | None, tuple[Problem, ...]]:
    """Return the level worked out and checked, or the Problems met; as it was the last time where only words differ."""

    def work_out() -> tuple[dict[str, Any] | None, tuple[Problem, ...]]:
        from bookgen.solve import judge

        solved, problems = judge(replace(hangs_on, places=project.places), memory)
        return (_fields(solved, JUDGED) if solved else None), problems

    worked, problems = memory.once("level", hangs_on, tuple, work_out, lambda made: not made[1], project.places)
    return (Solved(project, **worked) if worked else None), problems


def _located(solved: Solved, hangs_on: Project, memory: Memory) -> Solved:
    project = solved.project

    def work_out() -> dict[str, Any]:
        from bookgen.solve import located

        return _fields(located(replace(solved, project=replace(hangs_on, places=project.places))), LOCATED)

    return replace(solved, **memory.once("located", hangs_on, dict, work_out, places=project.places))


def _fields(solved: Solved, names: tuple[str, ...]) -> dict[str, Any]:
    return {name: getattr(solved, name) for name in names}

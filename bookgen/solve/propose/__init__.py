"""A Project in, every treatment tried on each obstacle that has none chosen yet out; a person chooses."""

from __future__ import annotations

from dataclasses import replace

from bookgen.model.project import ObstacleFile, Project
from bookgen.model.proposal import Choice, Proposal
from bookgen.model.records.treatments import UNDECIDED, Treatment
from bookgen.model.solved import Solved
from bookgen.solve.propose.candidates import candidates
from bookgen.solve.propose.trial import stand, tried
from bookgen.solve.whole import judge


def propose(project: Project, solved: Solved | None = None) -> tuple[Choice, ...]:
    """Return a Choice for each record that says `treatment: propose`, in the order of the records.

    *solved* is the project worked out, where it could be. Where it could not, what was decided elsewhere may stand in
    the way of what is still open: then the records with problems are left out, so that there is something to choose.
    """
    asking = [file for file in project.obstacles if file.record.undecided]
    if not asking:
        return ()
    found = solved or _without_problems(project)
    if found is None:
        return ()
    return tuple(_choice(found, file) for file in asking)


def _choice(solved: Solved, file: ObstacleFile) -> Choice:
    site = stand(solved, file)
    built = [one.assembly for one in solved.obstacles if one.assembly is not None and one.key != file.key]
    proposals = [tried(solved, site, one) for one in candidates(site, built)]
    place = solved.project.places.of(file.file, "treatment")
    return Choice(file.key, file.record.obstacle, place, tuple(sorted(proposals, key=_order)))


def _without_problems(project: Project) -> Solved | None:
    """Return the level worked out without the treatments that have problems; None where that does not help."""
    solved, problems = judge(project)
    wrong = {problem.place.file for problem in problems}
    if solved is None and wrong:
        files = tuple(_open(file) if file.file in wrong else file for file in project.obstacles)
        solved, _ = judge(replace(project, obstacles=files))
    return solved


def _open(file: ObstacleFile) -> ObstacleFile:
    if file.record.treatment is None:
        return file
    open_again = {"treatment": Treatment.model_validate(UNDECIDED), "as_built": None}
    return replace(file, record=file.record.model_copy(update=open_again))


def _order(proposal: Proposal) -> tuple[bool, bool]:
    """Put what serves first, and of that what shuts nothing in; else the order of the treatments stays."""
    return not proposal.serves, proposal.shuts_in

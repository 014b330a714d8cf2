"""One treatment with its choices in, tried on the level as it stands, what it leaves, takes and shuts in out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from pydantic import ValidationError

from bookgen.model.assembly import Assembly, Material
from bookgen.model.geometry import Prism
from bookgen.model.length import Length
from bookgen.model.problem import Problem
from bookgen.model.project import ObstacleFile, Project
from bookgen.model.proposal import Cost, Proposal
from bookgen.model.records.treatments import Treatment
from bookgen.model.solved import Solved, SolvedObstacle
from bookgen.solve.checks.reach import with_access
from bookgen.solve.checks.sight import Reached, Sight, sight
from bookgen.solve.checks.work_meets_work import meetings
from bookgen.solve.positions import ground
from bookgen.solve.propose.written import Candidate, Value
from bookgen.solve.site import Site, moved
from bookgen.solve.whole import retried

SHEETS = frozenset({Material.BOARD, Material.PANEL})
IN_WALL = frozenset({"access opening", "utility room"})
ON_FLOOR = Fraction(24)  # inches above the slab: work that begins lower takes floor
MOST = 3  # reasons told; the first ones usually bring the others with them


def stand(solved: Solved, file: ObstacleFile) -> Site:
    """Return where an obstacle stands, in the frame of its run; a treatment always has a run."""
    on = ground(solved.project, file, solved.level)
    run = file.record.run
    if on.frame is None or run is None:
        raise ValueError(f"{file.key} should have been refused before")
    hidden: dict[bool, list[SolvedObstacle]] = {True: [], False: []}
    for one in solved.obstacles:
        hidden[one.key == file.key].append(one)
    own, others = (
        tuple(moved(thing, on.frame) for one in hidden[mine] for thing in one.hidden) for mine in (True, False)
    )
    ends = (run.from_.inches, run.to.inches)
    return Site(solved.project, file, solved.level, on.frame, ends, own, others)


def tried(before: Solved, at: Site, candidate: Candidate) -> Proposal:
    """Return what comes of one treatment on the level as it stands without it."""
    lines = tuple(_lines({candidate.treatment: candidate.choices}))
    missed = Proposal(candidate.treatment, candidate.form, (), None, (), (f"{candidate.why}.",))
    if candidate.why:
        return missed
    try:
        treatment = Treatment.model_validate({candidate.treatment: candidate.choices})
    except ValidationError as wrong:
        why = tuple(str(error["ctx"].get("rule", error["msg"])) for error in wrong.errors()[:MOST] if "ctx" in error)
        return replace(
            missed, lines=lines, why=tuple(f"{words}." for words in why or (at.say("its sizes do not fit"),))
        )
    return _judged(before, at, _with(at.file, at.project, treatment), replace(missed, lines=lines, why=()))


def _with(file: ObstacleFile, project: Project, treatment: Treatment) -> Project:
    """Return the project with the treatment written in one record."""
    written = replace(file, record=file.record.model_copy(update={"treatment": treatment}))
    return replace(project, obstacles=tuple(written if one.key == file.key else one for one in project.obstacles))


def _judged(before: Solved, site: Site, project: Project, proposal: Proposal) -> Proposal:
    """Return the proposal with its cost and access once it and what is near it have been worked out.

    Without a cost where it can't be built, where a neighbour has problems with it, or where it cuts into other work.
    """
    key, (solved, problems) = site.file.key, retried(before, project, site.file.key)
    if solved is None:
        return replace(proposal, why=_told(site, problems))
    assembly = solved.obstacle(key).assembly
    seen = with_access(sight(solved.project, solved.level, solved.rooms, solved.obstacles))
    cut = [one for one in meetings(seen) if assembly in (one.first.assembly, one.second.assembly)]
    if cut or assembly is None:
        return replace(proposal, why=tuple(f"{one.said(seen)}." for one in cut[:MOST]))
    points = [one for one in seen.access if one.file.key == key]
    access, shuts_in = tuple(_reached(seen, one) for one in points), any(one.barred for one in points)
    return replace(proposal, cost=_cost(assembly), access=access, shuts_in=shuts_in)


def _told(site: Site, problems: Iterable[Problem]) -> tuple[str, ...]:
    def told(one: Problem) -> str:
        told = site.tongue.told
        return site.say("{field}: {rule}; {repair}.", field=one.field, rule=told(one.rule), repair=told(one.repair))

    return tuple(dict.fromkeys(map(told, problems)))[:MOST]


def _reached(seen: Sight, one: Reached) -> str:
    where = one.where(seen.say)
    if one.barred:
        return seen.say(
            "{where}: shut in, {barred}; give it an access opening or a cover.", where=where, barred=one.barred
        )
    if one.point.cover.kind == "none":
        return seen.say("{where}: stays open to the hand.", where=where)
    cover = seen.tongue.name(one.point.cover.kind)
    return seen.say("{where}: through the {cover}, as written.", where=where, cover=cover)


def _cost(assembly: Assembly) -> Cost:
    sticks = [part for part in assembly.parts if part.stock and part.material not in SHEETS]
    board = sum(
        (p.solid.profile.area() for p in assembly.parts if p.material is Material.BOARD and isinstance(p.solid, Prism)),
        Fraction(0),
    )
    under = sum((f.outline.area() for f in assembly.faces if f.axis == "z" and f.toward < 0), Fraction(0))
    named = {measure.name: measure.value for measure in assembly.measures}
    length = sum((part.length().inches for part in sticks), Fraction(0))
    return Cost(named.get("headroom"), _floor(assembly), under, board, Length(length), len(sticks))


def _floor(assembly: Assembly) -> Fraction:
    """Return the plan that stands on the floor: the rectangle round all work that begins near it.

    What stands in a wall takes no more floor than the wall does.
    """
    if assembly.treatment in IN_WALL:
        return Fraction(0)
    standing = [box for box in assembly.boxes() if box.low.z < ON_FLOOR]
    if not standing:
        return Fraction(0)
    whole = standing[0]
    for box in standing[1:]:
        whole = whole.joined(box)
    return whole.size("x") * whole.size("y")


def _lines(choices: Mapping[str, Value], deep: int = 0) -> Iterator[str]:
    """Yield the lines of a record, two blanks deeper for each level."""
    for key, value in choices.items():
        start = f"{'  ' * deep}{key}:"
        if isinstance(value, str):
            yield f"{start} {value}"
        elif isinstance(value, tuple):
            yield start
            for entry in value:
                if isinstance(entry, Mapping):
                    rows = list(_lines(entry))
                    yield f"{'  ' * (deep + 1)}- {rows[0]}"
                    yield from (f"{'  ' * (deep + 2)}{row}" for row in rows[1:])
        elif value:
            yield start
            yield from _lines(value, deep + 1)
        else:
            yield f"{start} {{}}"

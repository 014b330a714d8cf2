"""A Project in, the level, every treatment, walls, findings and takeoff out; the rooms of solving in their order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import SOFFITS, Assembly, HiddenThing
from bookgen.model.frame import Frame
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box, box_round
from bookgen.model.length import Length
from bookgen.model.memory import NO_MEMORY, Memory
from bookgen.model.problem import Problem
from bookgen.model.project import ObstacleFile, Project
from bookgen.model.solved import AccessSpot, Solved, SolvedLevel, SolvedObstacle
from bookgen.solve.access import access_spots
from bookgen.solve.as_built import differences
from bookgen.solve.checks import answers_refused, findings, sight
from bookgen.solve.checks.sight import code_book
from bookgen.solve.choices import chosen
from bookgen.solve.fireblocks import Around, fireblocked
from bookgen.solve.flues import is_flue
from bookgen.solve.hidden import hidden_things
from bookgen.solve.hosts import with_openings
from bookgen.solve.level import solve_level, solve_rooms
from bookgen.solve.locate.behind import behind_faces, standing
from bookgen.solve.locate.drilling import STEPS
from bookgen.solve.locate.pointed import pointed
from bookgen.solve.locate.printed_ties import printed_ties
from bookgen.solve.meetings import gives_way
from bookgen.solve.positions import ground, run_outside
from bookgen.solve.room_faces import by_room
from bookgen.solve.shared_nailers import shared
from bookgen.solve.shell import headed
from bookgen.solve.site import Site, Taken, Worked, moved
from bookgen.solve.speech import say_of
from bookgen.solve.takeoff import count
from bookgen.solve.treatments import TREATMENTS
from bookgen.solve.treatments.plain_ceiling import plain_ceilings
from bookgen.solve.treatments.stud_wall import linings

NEAR = Fraction(24)  # inches round a treatment within which others are framed to suit it
FAR = Fraction(10000)  # inches: past the end of every level
ROOM_WIDE = frozenset({"furring"})  # treatments that set how high the walls of a whole room are boarded
InFrame = Mapping[str, tuple[HiddenThing, ...]]


@dataclass(frozen=True, slots=True)
class _Placed:
    """A record with its hidden things and access points on the level's axes."""

    file: ObstacleFile
    hidden: tuple[HiddenThing, ...]
    access: tuple[AccessSpot, ...]
    frame: Frame | None


def solve(project: Project, memory: Memory = NO_MEMORY) -> tuple[Solved | None, tuple[Problem, ...]]:
    """Return everything worked out, or None and every Problem met, in the order of their places."""
    solved, problems = judge(project, memory)
    return None if solved is None else located(solved), problems


def located(solved: Solved) -> Solved:
    """Return a judged level with what only a book or a list tells: pieces, what is behind each face, printed ties."""
    level = solved.level
    keyed = [(one.assembly.key, one.assembly) for one in solved.obstacles if one.assembly is not None]
    keyed += [("", one) for one in level.linings]
    things = (thing for one in solved.obstacles for thing in one.hidden)
    seen, step = standing(things, level.shell), STEPS[solved.project.record.units]
    faces = tuple(face for key, assembly in keyed for face in behind_faces(assembly, key, seen, step))
    counted = count(assembly for _, assembly in keyed)
    return replace(solved, takeoff=counted, faces=faces, ties=printed_ties(solved))


def judge(project: Project, memory: Memory = NO_MEMORY) -> tuple[Solved | None, tuple[Problem, ...]]:
    """Return the level worked out and checked, without what `located` adds; or None and every Problem met."""
    level, problems = solve_level(project)
    if level is None:
        return None, problems
    rooms, room_problems = solve_rooms(project, level)
    placed, place_problems = _placed(project, level)
    evidence, photo_problems = pointed(project, level, memory)
    if room_problems or place_problems or photo_problems:
        return None, tuple(sorted((*room_problems, *place_problems, *photo_problems)))
    sites = _sites(project, level, placed)
    taken = gives_way(sites.values())
    worked = [_worked(sites.get(one.file.key), taken.get(one.file.key, ())) for one in placed]
    wrong = [problem for _, found in worked for problem in found]
    assemblies = [assembly for assembly, _ in worked if assembly is not None]
    things = tuple(thing for one in placed for thing in one.hidden)
    walls, wall_problems = linings(project, level, things, assemblies)
    if wrong or wall_problems:
        return None, tuple(sorted((*wrong, *wall_problems)))
    level = replace(level, shell=headed(project, level, things))
    level = replace(level, linings=(*walls, *plain_ceilings(project, level, things, assemblies)))
    assemblies = list(fireblocked(shared(project, assemblies), _around(project, level, placed)))
    built = {assembly.key: by_room(assembly, rooms, say_of(project)) for assembly in assemblies}
    obstacles = tuple(_obstacle(project, one, built.get(one.file.key)) for one in placed)
    found = findings(sight(project, level, rooms, obstacles))
    refused = answers_refused(project, found)
    if refused:
        return None, refused
    return Solved(project, level, rooms, obstacles, found, photos=evidence), ()


def retried(before: Solved, project: Project, key: str) -> tuple[Solved | None, tuple[Problem, ...]]:
    """Return a judged level with another treatment of one record, or the Problems met; without findings.

    *project* is that of *before* but for this one treatment. Only it and what stands near it are worked out anew.
    """
    level, problems = solve_level(project)
    if level is None:
        return None, problems
    placed, _ = _placed(project, level)
    sites = _sites(project, level, placed)
    taken = gives_way(sites.values())
    changed, problems = _worked(sites.get(key), taken.get(key, ()))
    if changed is None:
        return None, problems
    near = box_round(changed.boxes()).grown(FAR if changed.treatment in ROOM_WIDE else NEAR)
    others = [one.assembly for one in before.obstacles if one.assembly is not None and one.key != key]
    # Of a soffit's faces others know the whole, not what each room sees of it; so none is kept.
    beside = {one.key for one in others if one.treatment in SOFFITS or _meets(one, near)}
    kept = [one for one in others if one.key not in beside]
    worked = [_worked(sites.get(one), taken.get(one, ())) for one in sorted(beside)]
    again = sorted((changed, *(assembly for assembly, _ in worked if assembly is not None)), key=lambda one: one.key)
    level = replace(level, linings=before.level.linings)
    level, wall_problems = _walled(project, level, placed, (*kept, *again), near)
    problems = (*(problem for _, found in worked for problem in found), *wall_problems)
    if problems:
        return None, tuple(sorted(problems))
    blocked = fireblocked(shared(project, again), _around(project, level, placed))
    built = {one.key: one for one in (*kept, *(by_room(one, before.rooms, say_of(project)) for one in blocked))}
    obstacles = tuple(_obstacle(project, one, built.get(one.file.key)) for one in placed)
    return replace(before, project=project, level=level, obstacles=obstacles, findings=()), ()


def _walled(
    project: Project, level: SolvedLevel, placed: tuple[_Placed, ...], others: Sequence[Assembly], near: Box
) -> tuple[SolvedLevel, tuple[Problem, ...]]:
    """Return the level with its ceilings, and those of its walls that come *near*, framed anew round *others*."""
    things = tuple(thing for one in placed for thing in one.hidden)
    level = replace(level, shell=headed(project, level, things))
    beside = frozenset(wall.key for wall in level.linings if _meets(wall, near))
    walls, problems = linings(project, level, things, others, beside)
    anew = {wall.key: wall for wall in walls}
    whole = (anew.get(wall.key, wall) for wall in level.linings if wall.treatment == "stud wall")
    return replace(level, linings=(*whole, *plain_ceilings(project, level, things, others))), problems


def _meets(assembly: Assembly, near: Box) -> bool:
    return any(box.overlaps(near) for box in assembly.boxes())


def _placed(project: Project, level: SolvedLevel) -> tuple[tuple[_Placed, ...], tuple[Problem, ...]]:
    placed: list[_Placed] = []
    problems: list[Problem] = []
    for file in project.obstacles:
        on = ground(project, file, level)
        hidden, hidden_problems = hidden_things(on)
        access, access_problems = access_spots(on)
        placed.append(_Placed(file, hidden, access, on.frame))
        problems += (*run_outside(on), *hidden_problems, *access_problems)
    return tuple(placed), tuple(problems)


def _in_frame(placed: tuple[_Placed, ...], frame: Frame) -> InFrame:
    """Return every record's hidden things in a run's frame, by the record's key."""
    return {one.file.key: tuple(moved(thing, frame) for thing in one.hidden) for one in placed}


def _sites(project: Project, level: SolvedLevel, placed: tuple[_Placed, ...]) -> dict[str, Site]:
    """Return where each treatment stands, by the key of its record."""
    in_frame = {frame: _in_frame(placed, frame) for frame in {one.frame for one in placed} if frame is not None}
    found = {one.file.key: site for one in placed if (site := _site(project, level, one, in_frame)) is not None}
    return with_openings(found)


def _site(project: Project, level: SolvedLevel, one: _Placed, in_frame: Mapping[Frame, InFrame]) -> Site | None:
    """Return where one record's treatment stands; None where the record has none."""
    run, frame = one.file.record.run, one.frame
    if chosen(one.file.record) is None or run is None or frame is None:
        return None
    return Site(
        project=project,
        file=one.file,
        level=level,
        frame=frame,
        run=(run.from_.inches, run.to.inches),
        hidden=in_frame[frame][one.file.key],
        others=tuple(thing for key, things in in_frame[frame].items() if key != one.file.key for thing in things),
    )


def _worked(site: Site | None, taken: tuple[Taken, ...]) -> Worked:
    """Return one record's treatment worked out, trimmed to what it gives way to; None where the record has none."""
    pick = chosen(site.file.record) if site is not None else None
    if site is None or pick is None:
        return None, ()
    solve_one = next(solve for name, solve in TREATMENTS if name == pick.name)
    assembly, problems = solve_one(replace(site, taken=taken), pick.choices)
    if assembly is None:
        return None, problems
    return replace(assembly, differences=differences(site.file.record, site.tape)), problems


def _around(project: Project, level: SolvedLevel, placed: tuple[_Placed, ...]) -> Around:
    rule = code_book(project.record.codes).held("fireblock-spacing")
    assert rule is not None and rule.length is not None  # noqa: PT018, S101  (a row of our own table, in feet)
    recorded = [pair for one in placed for pair in zip(one.file.record.inside, one.hidden, strict=True)]
    things = [thing for _, thing in recorded]
    flues = [thing for record, thing in recorded if is_flue(record, thing)]
    return Around(level.linings, level.shell, things, flues, level.joists, rule.length.inches)


def _obstacle(project: Project, one: _Placed, assembly: Assembly | None) -> SolvedObstacle:
    headroom: Length | None = None
    if assembly is not None and any(measure.name == "headroom" for measure in assembly.measures):
        headroom = assembly.measure("headroom")
    place = project.places.of(one.file.file)
    return SolvedObstacle(one.file.key, one.hidden, assembly, headroom, one.access, place)

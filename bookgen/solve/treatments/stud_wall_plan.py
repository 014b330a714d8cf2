"""Project and level in; the linings of the block walls and the partitions, planned and not yet framed, out."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import get_args

from bookgen.model.frame import Frame
from bookgen.model.frozen import dataclass
from bookgen.model.place import Place
from bookgen.model.problem import Problem
from bookgen.model.project import PROJECT_FILE, Project, Step
from bookgen.model.records.inside import Known, Wall
from bookgen.model.records.project import Partition
from bookgen.model.records.treatments import UtilityRoom
from bookgen.model.records.values import Span
from bookgen.model.solved import SolvedLevel
from bookgen.solve.choices import chosen
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.site import free_frame, height_above_slab, off_the_block, wall_frame
from bookgen.solve.studwork import FramedOpening, Header, StudWall, overlap
from bookgen.solve.treatments.doorway import JAMB
from bookgen.solve.treatments.wall_fill import found_studs, wall_key

HEADER = Header("2x4", 2, flat=True)  # these walls carry nothing
PLANNED = Known(how="planned")


@dataclass(frozen=True, slots=True)
class Plan:
    """One wall before it is framed: its plane, its frame, its openings, the names of its sides, its record's path."""

    key: str
    title: str
    frame: Frame
    wall: StudWall
    openings: tuple[FramedOpening, ...]
    ceded: tuple[FramedOpening, ...]
    sides: tuple[tuple[int, str], ...]
    place: Place
    known: Known


def lining_plans(project: Project, level: SolvedLevel) -> Iterator[Plan | Problem]:
    """Yield the lining of each block wall."""
    record = project.record.level.wall_lining
    path, wide = ("level", "wall lining"), _stud(record.stud)[1]
    back = off_the_block(record.back, level)
    front, known = back + wide, record.known or PLANNED
    for wall in get_args(Wall):
        whole = level.east_west if wall in {"north wall", "south wall"} else level.north_south
        # the north and south walls run through; the east and west ones stand between them
        short = back if wall in {"north wall", "south wall"} else front
        key = wall_key(wall)
        end = record.layout_from.split("-")[1 if wall in {"north wall", "south wall"} else 0]
        plane = StudWall(
            "x", (short, whole - short), (back, front), (Fraction(0), level.joists), record.stud,
            record.spacing.inches, whole if end in {"east", "north"} else Fraction(0), found_studs(project, key)[0],
        )  # fmt: skip
        windows = tuple(
            FramedOpening(
                f"windows > {key}",
                _pair(window.along),
                (height_above_slab(window.sill, level), height_above_slab(window.head, level)),
                HEADER,
            )
            for key, window in project.record.windows.items()
            if window.wall == wall
        )
        place = project.places.of(PROJECT_FILE, *path)
        frame_ = wall_frame(wall, (level.east_west, level.north_south))
        yield Plan(
            key, f"Stud wall along the {wall}", frame_, plane, windows, (), ((1, wall),), place, known,
        )  # fmt: skip


def partition_plans(project: Project, level: SolvedLevel) -> Iterator[Plan | Problem]:
    """Yield each partition, or a `wall-thickness-disagrees` Problem where its stock is not as thick as written."""
    spacing = project.record.level.wall_lining.spacing.inches
    for key, record in project.record.partitions.items():
        path = ("partitions", key)
        wide = _stud(record.stud)[1]
        if record.thick.size().inches != wide:
            yield wall_problem(
                project, "wall-thickness-disagrees", (*path, "thick"), project.tape.short(record.thick.size()),
                f"a wall of {record.stud} is {project.tape.short(wide)} thick without its board",
                "write both faces of its studs, or the stock that it is made of",
            )  # fmt: skip
            continue
        along = _pair(record.along)
        origins = {None: Fraction(0), "west": along[0], "south": along[0], "east": along[1], "north": along[1]}
        plane = StudWall(
            "x", along, _pair(record.thick), (Fraction(0), level.joists), record.stud, spacing,
            origins[record.layout_from], found_studs(project, wall_key(key))[0],
        )  # fmt: skip
        ceded = tuple(_ceded(project, key, level))
        openings = tuple(o for o in _doorways(record, key, level) if not any(overlap(o.along, c.along) for c in ceded))
        names = (
            ((1, "south wall"), (-1, "north wall")) if record.runs == "east" else ((1, "west wall"), (-1, "east wall"))
        )
        place = project.places.of(PROJECT_FILE, *path)
        yield Plan(
            wall_key(key), f"Partition {key}", free_frame(record.runs), plane, openings, ceded, names, place,
            record.known or PLANNED,
        )  # fmt: skip


def _doorways(record: Partition, key: str, level: SolvedLevel) -> Iterator[FramedOpening]:
    for index, opening in enumerate(record.openings):
        low, high = _pair(opening.along)
        head = height_above_slab(opening.head, level) + JAMB
        name = f"partitions > {key} > openings > {index}"
        yield FramedOpening(name, (low - JAMB, high + JAMB), (Fraction(0), head), HEADER)


def _ceded(project: Project, key: str, level: SolvedLevel) -> Iterator[FramedOpening]:
    """Yield the rough openings in a partition whose heads and doors belong to a utility room's record."""
    for file in project.obstacles:
        pick = chosen(file.record)
        room = pick.choices if pick else None
        if isinstance(room, UtilityRoom) and room.wall == key and true_size(room.door.header):
            head = height_above_slab(room.door.head, level)
            header = Header(room.door.header, 2, room.door.header_laid == "flat")
            yield FramedOpening(file.key, _pair(room.door.rough_opening), (Fraction(0), head), header)


def _pair(span: Span) -> Stretch:
    return span.low.inches, span.high.inches


def _stud(stock: str) -> tuple[Fraction, Fraction]:
    """Return the true size of a wall's studs; the level has refused what is not sold."""
    size = true_size(stock)
    if size is None:
        raise ValueError(f"{stock} should have been refused before")
    return size


def wall_problem(project: Project, code: str, path: tuple[Step, ...], value: str, rule: str, repair: str) -> Problem:
    """Return a Problem at a field of the project's record."""
    field = " > ".join(str(step + 1) if isinstance(step, int) else step for step in path)
    return Problem(project.places.of(PROJECT_FILE, *path), code, field, value, rule, repair)

"""A stud wall's record in; backing for what hangs on it, batts between its studs, and studs as they stand, out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import reduce
from typing import get_args

from bookgen.model.assembly import Difference, Layer, Material, Part
from bookgen.model.frame import Frame
from bookgen.model.geometry import Axis, Prism, box
from bookgen.model.problem import Problem, said
from bookgen.model.project import PROJECT_FILE, Project, Step
from bookgen.model.records.inside import Wall
from bookgen.model.records.project import Backing as BackingRecord
from bookgen.model.records.project import Partition
from bookgen.model.solved import SolvedLevel
from bookgen.solve.cutout import Rectangle, cut_out
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.level import near
from bookgen.solve.site import height_above_slab
from bookgen.solve.speech import say_of, tongue_of
from bookgen.solve.studwork import SHORTEST, Backing, StudWall, around_both, overlap
from bookgen.solve.treatments.wall_voids import Around, patch_of

BATT = Fraction(3)  # inches: a lower rest between two members is stuffed with what was cut off
FORWARD = frozenset({"east", "north"})


def wall_key(name: str) -> str:
    """Return the key of the wall that a record calls so: `north wall` is a lining, anything else a partition."""
    return f"lining-{name.replace(' ', '-')}" if name in get_args(Wall) else f"partition-{name}"


def backing_problems(project: Project, level: SolvedLevel, walls: dict[str, StudWall]) -> Iterator[Problem]:
    """Yield `unknown-partition`, `unknown-stock` and `backing-past-wall` Problems of the backing in the record."""
    for index, one in enumerate(project.record.backing):
        path: tuple[Step, ...] = ("backing", index)
        size, wall = true_size(one.stock), walls.get(wall_key(one.wall))
        if wall is None:
            names = ", ".join((*project.record.partitions, *get_args(Wall)))
            rule = "no partition and no outside wall has that name"
            yield _problem(project, "unknown-partition", (*path, "wall"), one.wall, rule, f"write one of {names}")
        elif size is None:
            rule = "no lumber of that size is sold"
            yield _problem(project, "unknown-stock", (*path, "stock"), one.stock, rule, near(one.stock))
        else:
            yield from _past(project, level, path, one, (wall, size[1]))


def _past(
    project: Project, level: SolvedLevel, path: tuple[Step, ...], one: BackingRecord, wall: tuple[StudWall, Fraction]
) -> Iterator[Problem]:
    plane, wide = wall
    ends, middle = (one.along.low.inches, one.along.high.inches), height_above_slab(one.middle, level)
    if ends[0] < plane.run[0] or ends[1] > plane.run[1]:
        rule = f"the wall goes from {' to '.join(project.tape.long(end) for end in plane.run)}"
        value = " to ".join(project.tape.long(end) for end in ends)
        yield _problem(project, "backing-past-wall", (*path, "along"), value, rule, "look for a slip in its ends")
    low, high = plane.inner()
    if middle - wide / 2 < low or middle + wide / 2 > high:
        rule = f"it lies between the plates, {project.tape.long(low)} to {project.tape.long(high)} above the slab"
        value = project.tape.long(middle)
        yield _problem(project, "backing-past-wall", (*path, "middle"), value, rule, "write its middle, and its datum")


def backings(
    project: Project, level: SolvedLevel, key: str, wall: StudWall, framed: tuple[Frame, Around]
) -> tuple[Backing, ...]:
    """Return the backing in one wall: what the record asks for, and a stud laid flat at each edge of a chase.

    The wall's own board ends at a chase and its uprights are fixed to something: 3-1/2 in of flat 2x4 take both.
    """
    found: list[Backing] = []
    for one in project.record.backing:
        size = true_size(one.stock)
        if wall_key(one.wall) == key and size is not None:
            middle = height_above_slab(one.middle, level)
            patch = Rectangle(
                (one.along.low.inches, one.along.high.inches), (middle - size[1] / 2, middle + size[1] / 2)
            )
            layer = _layer(wall, size[0], one.side is None or one.side in FORWARD)
            found.append(Backing(f"backing, {one.what},", patch, layer, one.stock, upright=False))
    return (*found, *_beside_chases(wall, level.wall_board, *framed))


def _layer(wall: StudWall, thick: Fraction, forward: bool) -> Stretch:
    low, high = wall.across
    return (high - thick, high) if forward else (low, low + thick)


def _beside_chases(wall: StudWall, board: Fraction, frame: Frame, standing: Around) -> Iterator[Backing]:
    thick, wide = true_size(wall.stock) or (Fraction(0), Fraction(0))
    for boxes in (boxes for treatment, _, boxes in standing.others if treatment == "chase"):
        for toward in (-1, 1):
            face = wall.across[1] if toward > 0 else wall.across[0]
            layer = (face, face + board) if toward > 0 else (face - board, face)
            inside = [b for b in (frame.box_from_level(one) for one in boxes) if overlap((b.low.y, b.high.y), layer)]
            if not inside:
                continue
            low, high = reduce(around_both, map(patch_of, inside)).u
            bearing = wide - board - thick  # under the edge of the wall's board; the rest takes board and upright
            for name, u in (
                ("low", (low - bearing, low - bearing + wide)),
                ("high", (high + bearing - wide, high + bearing)),
            ):
                patch = Rectangle(u, wall.inner())
                yield Backing(
                    f"backing at the chase, {name} side,", patch, _layer(wall, thick, toward > 0), wall.stock, True
                )


def batts(wall: StudWall, name: str, parts: Iterable[Part], hollow: Iterable[Rectangle]) -> tuple[Part, ...]:
    """Return what fills a wall between its members, as prisms as deep as the studs; openings and *hollow* stay free."""
    taken = [*(patch_of(part.solid.bounds()) for part in parts), *hollow]
    found: list[Part] = []
    for patch in cut_out(Rectangle(wall.run, wall.inner()), taken):
        if patch.u[1] - patch.u[0] >= SHORTEST and patch.v[1] - patch.v[0] >= BATT:
            spans: dict[Axis, Stretch] = {wall.along: patch.u, wall.off(): wall.across, "z": patch.v}
            solid = box(spans["x"], spans["y"], spans["z"], wall.off())
            found.append(Part(f"{name} {len(found) + 1}", "batt", solid, Material.INSULATION, ""))
    return tuple(found)


def filling(project: Project, key: str) -> tuple[str | None, str | None]:
    """Return what fills a wall between its studs and what sheet lies before them, as the record says; None for none."""
    wall = project.record.level.wall_lining if key.startswith("lining-") else _partition(project, key)
    return wall.insulation, wall.vapour_layer


def _partition(project: Project, key: str) -> Partition:
    return next(one for name, one in project.record.partitions.items() if wall_key(name) == key)


def vapour_layers(project: Project, key: str, wall: StudWall, boards: Iterable[Part]) -> tuple[Layer, ...]:
    """Return the sheets between the studs of a wall and its *boards*, where the record has one.

    It lies on the front of a lining, and of a partition on the side that the record says, or on both.
    """
    _, sheet = filling(project, key)
    if sheet is None:
        return ()
    side = None if key.startswith("lining-") else _partition(project, key).vapour_side
    ways = (-1, 1) if side is None else (1,) if side in FORWARD else (-1,)
    solids = [part.solid for part in boards if isinstance(part.solid, Prism)]
    found = []
    for way in ways:
        at = wall.across[1] if way > 0 else wall.across[0]
        outlines = tuple(one.profile for one in solids if (one.start if way > 0 else one.end) == at)
        found += [Layer(sheet, wall.off(), at, outlines)] if outlines else []
    return tuple(found)


def filling_remarks(project: Project, key: str, laid: Iterable[Part], layers: Iterable[Layer]) -> tuple[str, ...]:
    """Return what is said of a wall's insulation and of the sheet before it, with their areas."""
    batt, _ = filling(project, key)
    say = say_of(project)
    area = sum((p.solid.profile.area() for p in laid if p.role == "batt" and isinstance(p.solid, Prism)), Fraction(0))
    said_of = (
        []
        if batt is None
        else [
            say(
                "Between its studs lies {batt}, {area} of it.",
                batt=batt,
                area=tongue_of(project).name(project.tape.area(area)),
            )
        ]
    )
    said_of += [
        say(
            "Between studs and board lies {name}, {area} of it.",
            name=one.name,
            area=tongue_of(project).name(project.tape.area(one.area())),
        )
        for one in layers
    ]
    return tuple(said_of)


def found_studs(project: Project, key: str) -> tuple[tuple[Fraction, ...], tuple[Step, ...]]:
    """Return the middles of the studs as somebody found them in one wall, in order, and the path of that record."""
    lining = project.record.level.wall_lining
    for wall, studs in lining.studs.items():
        if wall_key(wall) == key:
            return tuple(sorted(stud.inches for stud in studs)), ("level", "wall lining", "studs", wall)
    for name, partition in project.record.partitions.items():
        if wall_key(name) == key and partition.studs:
            return tuple(sorted(stud.inches for stud in partition.studs)), ("partitions", name, "studs")
    return (), ()


def stud_problems(project: Project, key: str, wall: StudWall) -> Iterator[Problem]:
    """Yield `stud-past-wall` and `studs-overlap` Problems of the studs as somebody found them."""
    studs, path = found_studs(project, key)
    half = wall.thickness() / 2
    for number, middle in enumerate(studs):
        if middle - half < wall.run[0] or middle + half > wall.run[1]:
            rule = f"the wall goes from {' to '.join(project.tape.long(end) for end in wall.run)}"
            value = project.tape.long(middle)
            yield _problem(project, "stud-past-wall", path, value, rule, "write the middles of its studs")
        elif number and middle - studs[number - 1] < 2 * half:
            thick, other = project.tape.short(2 * half), project.tape.long(studs[number - 1])
            rule = f"a stud is {thick} thick, and another stands at {other}"
            yield _problem(project, "studs-overlap", path, project.tape.long(middle), rule, "measure both again")


def stud_differences(project: Project, wall: StudWall) -> tuple[Difference, ...]:
    """Return that studs stand otherwise than laid out, where somebody has found how they stand."""
    if not wall.found:
        return ()
    spots = ", ".join(project.tape.long(middle) for middle in wall.found)
    return (Difference("Studs", f"{project.tape.short(wall.spacing)} apart", f"at {spots}"),)


def _problem(project: Project, code: str, path: tuple[Step, ...], value: str, rule: str, repair: str) -> Problem:
    return Problem(project.places.of(PROJECT_FILE, *path), code, said(path), value, rule, repair)

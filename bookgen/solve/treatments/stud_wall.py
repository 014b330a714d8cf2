"""Level, partitions and windows in; the stud wall in front of each block wall and the partitions, as assemblies, out.

They give way to everything else: what passes through them is framed round, and where another treatment stands in
them, its own framing and board take their place.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from bookgen.model.assembly import SOFFITS, Assembly, Face, HiddenThing, Part
from bookgen.model.geometry import Box, Point
from bookgen.model.problem import Problem
from bookgen.model.project import Project, Step
from bookgen.model.solved import SolvedLevel
from bookgen.solve.board import board, rectangle
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch, measured
from bookgen.solve.sheathing import BOARD_OFF_SLAB, Sheet, sheathe
from bookgen.solve.speech import tongue_of
from bookgen.solve.studwork import FramedOpening, Header, StudWall, frame, left_of, overlap
from bookgen.solve.treatments.doorway import JAMB
from bookgen.solve.treatments.stud_wall_plan import HEADER, Plan, lining_plans, partition_plans, wall_problem
from bookgen.solve.treatments.wall_fill import (
    backing_problems,
    backings,
    batts,
    filling,
    filling_remarks,
    stud_differences,
    stud_problems,
    vapour_layers,
)
from bookgen.solve.treatments.wall_sides import Side, sides
from bookgen.solve.treatments.wall_voids import (
    Around,
    around,
    in_studs,
    lowered,
    others_in,
    patch_of,
    poking_in,
    through,
)

LOW_HEADER = Header("2x4", 1, flat=True)  # IRC R602.7.4 allows a single flat 2x4 in a wall that carries nothing (M)
OVER_WALL = ", board over the wall"  # how the face over a lowered wall is named


def linings(
    project: Project,
    level: SolvedLevel,
    things: Iterable[HiddenThing] = (),
    others: Iterable[Assembly] = (),
    only: Container[str] | None = None,
) -> tuple[tuple[Assembly, ...], tuple[Problem, ...]]:
    """Return one assembly for each lining of a block wall and for each partition, and the problems met.

    With *only* the walls with those keys are built, and no others.

    *things* are the hidden things on the level's axes, *others* the treatments' assemblies; the walls are cut round
    both. Problems: `wall-thickness-disagrees`, `opening-past-wall`, `opening-above-wall`, `openings-meet`,
    `doorway-crossed`, `stud-past-wall`, `studs-overlap` and those of `backing_problems`.
    """
    standing = around(things, others)
    assemblies: list[Assembly] = []
    problems: list[Problem] = []
    plans = (*lining_plans(project, level), *partition_plans(project, level))
    walls = {plan.key: plan.wall for plan in plans if isinstance(plan, Plan)}
    problems += backing_problems(project, level, walls)
    for plan in plans:
        if isinstance(plan, Problem):
            problems.append(plan)
            continue
        if only is not None and plan.key not in only:
            continue
        wrong = (
            *_misplaced(project, level, plan),
            *_crossed(project, plan, standing),
            *stud_problems(project, plan.key, plan.wall),
        )
        problems += wrong
        if not wrong:
            assemblies.append(_build(project, level, plan, standing))
    return tuple(assemblies), tuple(problems)


def over_doorway(
    project: Project, level: SolvedLevel, key: str, opening: FramedOpening, things: Iterable[HiddenThing],
    taken: Iterable[Box] = (),
) -> tuple[Part, ...]:  # fmt: skip
    """Return header, jack studs and cripples of a doorway in partition *key*, on the level's axes.

    *things* are hidden things that the partition is framed round, *taken* the boxes of work that it gives way to, on
    the level's axes.
    """
    plans = (plan for plan in partition_plans(project, level) if isinstance(plan, Plan))
    plan = next(plan for plan in plans if plan.key == f"partition-{key}")
    found = in_studs(plan.frame, plan.wall, around(things, ()))
    wall = replace(plan.wall, up=(plan.wall.up[0], lowered(plan.wall, found)[0]))
    whole = Rectangle(wall.run, wall.up)
    work = [
        patch_of(box) for box in map(plan.frame.box_from_level, taken) if overlap((box.low.y, box.high.y), wall.across)
    ]
    voids = [patch for patch in (*(patch for patch, _ in found), *work) if patch.meets(whole)]
    parts = frame(wall, (*plan.openings, opening), voids)
    own = [part for part in parts if _over(part, opening, wall)]
    return tuple(replace(part, solid=plan.frame.solid_to_level(part.solid)) for part in own)


def _over(part: Part, door: FramedOpening, wall: StudWall) -> bool:
    """Tell whether a part of a wall is one of those that belong to a doorway: its header and what stands at it."""
    box, thick = part.solid.bounds(), wall.thickness()
    within = door.along[0] - thick <= box.low.x and box.high.x <= door.along[1] + thick
    return within and part.role in {"header", "jack stud", "cripple", "stud"}


def _misplaced(project: Project, level: SolvedLevel, plan: Plan) -> Iterator[Problem]:
    thick = plan.wall.thickness()
    for opening in plan.openings:
        path = _path(opening)
        low, high = opening.along
        if low - 2 * thick < plan.wall.run[0] or high + 2 * thick > plan.wall.run[1]:
            ends = " to ".join(project.tape.short(end) for end in plan.wall.run)
            yield wall_problem(
                project, "opening-past-wall", (*path, "along"), "",
                f"an opening stands within its wall, {ends}, with two studs at each side",
                "look for a slip in its ends or in those of the wall",
            )  # fmt: skip
        elif opening.up[1] + LOW_HEADER.depth() > plan.wall.inner()[1] or opening.up[0] >= opening.up[1]:
            yield wall_problem(
                project, "opening-above-wall", (*path, "head"), project.tape.short(opening.up[1]),
                f"its header has to fit under the top plate at {project.tape.short(plan.wall.inner()[1])}",
                "write a lower head",
            )  # fmt: skip
        elif opening.up[1] - JAMB <= level.floor:
            rule = f"the finished floor is {project.tape.short(level.floor)} above the slab"
            value = project.tape.short(opening.up[1] - JAMB)
            yield wall_problem(
                project, "opening-above-wall", (*path, "head"), value, rule, "measure it up from the slab"
            )
    yield from _meeting(project, plan)


def _crossed(project: Project, plan: Plan, standing: Around) -> Iterator[Problem]:
    """Yield a `doorway-crossed` Problem for each opening with something in it, or where its header has to lie."""
    found = in_studs(plan.frame, plan.wall, standing)
    for opening in plan.openings:
        room = Rectangle(opening.along, (opening.up[0], opening.up[1] + LOW_HEADER.depth()))
        for patch, thing in found:
            if not patch.meets(room):
                continue
            low = project.tape.long(patch.v[0])
            header = project.tape.short(LOW_HEADER.depth())
            rule = f"{thing.what} crosses it, from {low} above the slab up, and a header of {header} lies over it"
            head = patch.v[0] - LOW_HEADER.depth() - JAMB
            repair = f"write a head of {project.tape.long(head)} or less above slab" if head > 0 else "move one of them"
            path = (*_path(opening), "head")
            yield wall_problem(project, "doorway-crossed", path, project.tape.long(opening.up[1] - JAMB), rule, repair)
            break


def _path(opening: FramedOpening) -> tuple[Step, ...]:
    return tuple(int(step) if step.isdigit() else step for step in opening.name.split(" > "))


def _meeting(project: Project, plan: Plan) -> Iterator[Problem]:
    """Yield an `openings-meet` Problem for each two openings of a wall without a jack stud of each between them."""
    room, rows = 2 * plan.wall.thickness(), sorted(plan.openings, key=lambda opening: opening.along)
    for first, second in pairwise(rows):
        if second.along[0] - first.along[1] < room:
            left = project.tape.short(max(second.along[0] - first.along[1], Fraction(0)))
            rule = f"two studs stand between two openings, and from the one before there are only {left}"
            repair = "move one of them, or write both as one"
            yield wall_problem(project, "openings-meet", (*_path(second), "along"), "", rule, repair)


def _build(project: Project, level: SolvedLevel, plan: Plan, standing: Around) -> Assembly:
    things = in_studs(plan.frame, plan.wall, standing)
    top, over = lowered(plan.wall, things)
    plan = replace(plan, wall=replace(plan.wall, up=(plan.wall.up[0], top)))
    whole = Rectangle(plan.wall.run, plan.wall.up)
    others = tuple(others_in(plan.frame, plan.wall, standing, plan.wall.across))
    voids = [patch for patch, _ in things if patch.meets(whole)] + [patch for patch, framed in others if not framed]
    filled = [patch for patch, framed in others if framed]
    openings = tuple(_with_room(opening, (*voids, *filled)) for opening in plan.openings)
    backing = backings(project, level, plan.key, plan.wall, (plan.frame, standing))
    parts = frame(plan.wall, (*openings, *plan.ceded), voids, filled, backing)
    parts = tuple(part for part in parts if not any(_over(part, door, plan.wall) for door in plan.ceded))
    batt, _ = filling(project, plan.key)
    if batt is not None:
        hollow = [Rectangle(o.along, o.up) for o in (*openings, *plan.ceded)]
        parts += batts(plan.wall, batt, parts, (*hollow, *voids, *filled))
    boards, faces, remarks = _boards(project, level, plan, standing, over)
    layers = vapour_layers(project, plan.key, plan.wall, boards)
    anchors = _anchors(level, plan, faces)
    measures = (
        measured("height of the wall", "framed", anchors, "foot of the wall", "top of the wall", "z"),
        measured("thickness of the studs", "framed", anchors, "back of the studs", "front of the studs", "y"),
    )
    middle = (plan.wall.run[0] + plan.wall.run[1]) / 2
    return Assembly(
        plan.key, "stud wall", plan.title, plan.frame, plan.wall.run, middle, (*parts, *boards), faces, anchors,
        measures, plan.known, plan.place, stud_differences(project, plan.wall),
        (*remarks, *filling_remarks(project, plan.key, parts, layers)), layers=layers,
    )  # fmt: skip


def _anchors(level: SolvedLevel, plan: Plan, faces: tuple[Face, ...]) -> dict[str, Point]:
    x, (back, front), (foot, top) = plan.wall.run[0], plan.wall.across, plan.wall.up
    found = {
        "foot of the wall": Point(x, front, foot),
        "top of the wall": Point(x, front, top),
        "back of the studs": Point(x, back, foot),
        "front of the studs": Point(x, front, foot),
        "finished floor": Point(x, front, level.floor),
    }
    return found | {face.name: Point(x, face.at, foot) for face in faces}


def _boards(
    project: Project, level: SolvedLevel, plan: Plan, standing: Around, over: tuple[HiddenThing, ...]
) -> tuple[tuple[Part, ...], tuple[Face, ...], tuple[str, ...]]:
    parts: list[Part] = []
    faces: list[Face] = []
    remarks: list[str] = []
    for toward, name in plan.sides:
        at = plan.wall.across[1] if toward > 0 else plan.wall.across[0]
        face = at + toward * level.wall_board
        layer = min(at, face), max(at, face)
        holes = _holes(plan, standing, layer)
        head = poking_in(plan.frame, plan.wall, standing, layer)
        found = sides(project, level, plan.frame, plan.wall.run, face, toward)
        stretches = [(side, patch) for side in found for patch in _clear(side, head, holes)]
        for side, patch in stretches:
            same = [p for s, p in stretches if s.room == side.room]
            number = f", stretch {same.index(patch) + 1}" if len(same) > 1 else ""
            sheet = Sheet(f"{side.name}, {name}{number}", toward, patch, level.wall_board, side.room)
            laid, finished = sheathe(plan.wall, sheet, holes)
            parts += laid
            faces.append(finished)
        for side in found:
            if side.top > plan.wall.up[1]:
                part, finished, says = _head(project, plan, side, (face, toward, head), over)
                parts.append(part)
                faces.append(finished)
                remarks.append(says)
    return tuple(parts), tuple(faces), tuple(remarks)


def _head(
    project: Project, plan: Plan, side: Side, edge: tuple[Fraction, int, Fraction], over: tuple[HiddenThing, ...]
) -> tuple[Part, Face, str]:
    """Return the board in front of what lies over a lowered wall, its face, and a remark.

    It is the board of the other walls, flush with the wall below where there is room for it, else before it. *edge* is
    the finished face, the side it looks to, and the height at which the wall's own board stops.
    """
    face, toward, foot = edge
    boxes = [plan.frame.solid_from_level(solid).bounds() for thing in over for solid in thing.solids]
    outer = max(toward * (box.high.y if toward > 0 else box.low.y) for box in boxes) * toward
    thick, names = project.record.level.finishes.wall_board.inches, ", ".join(thing.what for thing in over)
    room = (face - outer) * toward
    at = face - toward * thick if room >= thick else outer
    outline = rectangle("y", x=side.along, z=(foot, side.top))
    part, finished = board(f"{side.name}{OVER_WALL}", "y", at, toward, outline, thick, side.room)
    say = tongue_of(project).say
    named = {"names": names, "wall": tongue_of(project).name(plan.title), "side": side.name}
    if room > thick:
        says = say(
            "{names} lies over {wall}; there the board of the {side} is packed out {gap} to lie flush with the wall "
            "below.",
            **named,
            gap=project.tape.short(room - thick),
        )
    elif room == thick:
        says = say("{names} lies over {wall}; there the board of the {side} lies flush with the wall below.", **named)
    else:
        says = say(
            "{names} lies over {wall}; there the board of the {side} stands {gap} before the wall below: {room} are "
            "left.",
            **named,
            gap=project.tape.short(thick - room),
            room=project.tape.short(room),
        )
    return part, finished, says


def _clear(side: Side, head: Fraction, holes: tuple[Rectangle, ...]) -> tuple[Rectangle, ...]:
    """Return the stretches of one side: beside holes of its whole height, under those of its whole width."""
    up = BOARD_OFF_SLAB, min(side.top, head)
    full = [hole.u for hole in holes if hole.v[0] <= up[0] and hole.v[1] >= up[1]]
    found = []
    for along in left_of(side.along, full):
        over = [h.v[0] for h in holes if h.u[0] <= along[0] and h.u[1] >= along[1] and h.v[1] >= up[1]]
        found.append(Rectangle(along, (up[0], min((up[1], *over)))))
    return tuple(found)


def _holes(plan: Plan, standing: Around, layer: Stretch) -> tuple[Rectangle, ...]:
    """Return where the board of one side leaves something free: openings, things and other treatments in its layer.

    Where another treatment stands in place of its studs, there is nothing behind it to hold it. A soffit does not: the
    one whose side comes down among studs is told of, and that board with it.
    """
    openings = [Rectangle(o.along, o.up) for o in (*plan.openings, *plan.ceded)]
    upright = replace(standing, others=tuple(row for row in standing.others if row[0] not in SOFFITS))
    in_place = others_in(plan.frame, plan.wall, upright, plan.wall.across)
    others = [patch for patch, _ in others_in(plan.frame, plan.wall, standing, layer)]
    others += [patch for patch, framed in in_place if not framed]
    things = (patch for patch in through(plan.frame, standing, layer) if not any(patch.lies_in(one) for one in others))
    return (*openings, *things, *others)


def _with_room(opening: FramedOpening, taken: Iterable[Rectangle]) -> FramedOpening:
    """Return an opening with a single flat header where something passes just over it."""
    over = Rectangle(opening.along, (opening.up[1], opening.up[1] + HEADER.depth()))
    return replace(opening, header=LOW_HEADER) if any(over.meets(patch) for patch in taken) else opening

"""A utility room's choices and its site in; the doorway in its partition, wide enough for the largest thing, out.

Plates and king studs of the partition belong to the stud wall; header, jack studs and cripples over the door, its jamb
and its leaves belong here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import HiddenThing
from bookgen.model.geometry import Box, Point
from bookgen.model.problem import Problem
from bookgen.model.records.project import Partition
from bookgen.model.records.treatments import UtilityRoom
from bookgen.solve.site import Envelope, Site, Worked
from bookgen.solve.soffit_words import sizes
from bookgen.solve.studwork import StudWall
from bookgen.solve.treatments.assembled import Work, assembled, ends, middle, part_from_level, path_to
from bookgen.solve.treatments.doorway import Doorway, crossed, door_anchors, door_parts, doorway
from bookgen.solve.treatments.kept_free import door_swings, service_spaces
from bookgen.solve.treatments.stud_wall import over_doorway

NAME = "utility room"
SIZES = (
    ("clear opening", "finished", "low edge of the clear opening", "high edge of the clear opening", "x"),
    ("width of the rough opening", "framed", "low side of the rough opening", "high side of the rough opening", "x"),
    (
        "head of the rough opening above the slab",
        "framed",
        "foot of the rough opening",
        "head of the rough opening",
        "z",
    ),
    ("top of the doors over the floor", "finished", "finished floor", "top of the door", "z"),
)


def solve(site: Site, choices: UtilityRoom) -> Worked:
    """Return the doorway of the room, or the Problems that stand in its way.

    They are `unknown-partition`, `run-across-wall`, `unknown-thing`, `largest-cannot-leave`, `doorway-crossed`,
    `section-outside` and those of a `doorway`.
    """
    record = site.project.record.partitions.get(choices.wall)
    if record is None:
        keys = ", ".join(site.project.record.partitions)
        rule = "no partition of the project has that key"
        repair = f"write one of {keys}" if keys else "add it under partitions: in project.yaml"
        return None, (site.problem("unknown-partition", path_to(site, "wall"), choices.wall, rule, repair),)
    if (record.runs == "east") != (site.frame.along == "x"):
        rule, repair = f"partition {choices.wall} runs {record.runs}", f"write run: {{along: {record.runs}, ...}}"
        return None, (site.problem("run-across-wall", ("run", "along"), site.frame.name, rule, repair),)
    wall = _wall(site, record)
    way = doorway(site, choices.door, wall, _swings(site, wall, choices.door.swings == "out"))
    if not isinstance(way, Doorway):
        return None, way
    problems = (*_largest(site, choices, way), *crossed(site, way, wall))
    if problems:
        return None, problems
    framing = over_doorway(site.project, site.level, choices.wall, way.opening, _on_level(site), _taken(site))
    parts = (*(part_from_level(site.frame, part) for part in framing), *door_parts(way, "x"))
    anchors = door_anchors(way, "x")
    foot = anchors["foot of the door"]
    anchors["finished floor"] = Point(foot.x, foot.y, site.level.floor)
    spaces, remarks = (*service_spaces(site), *door_swings(way)), tuple(_remarks(site, choices, way))
    work = Work(parts, (), anchors, sizes(anchors, SIZES), middle(way.leaves[0]), remarks, spaces)
    return assembled(site, NAME, work)


def envelopes(site: Site, choices: UtilityRoom) -> tuple[Envelope, ...]:
    """Return the room of its doorway, from the slab to the joists; none where it can't be built."""
    record = site.project.record.partitions.get(choices.wall)
    if record is None or (record.runs == "east") != (site.frame.along == "x"):
        return ()
    wall, board, (low, high) = _wall(site, record), site.level.wall_board, ends(choices.door.rough_opening)
    thick = wall.thickness()
    (back, front), (foot, top) = wall.across, wall.up
    framed = Box(Point(low - thick, back, foot), Point(high + thick, front, top))
    outer = Box(Point(low - thick, back - board, foot), Point(high + thick, front + board, top))
    return (Envelope(framed, outer),)


def _taken(site: Site) -> tuple[Box, ...]:
    """Return what the wall over the doors gives way to, on the level's axes."""
    return tuple(site.frame.box_to_level(taken.room.finished) for taken in site.taken)


def _wall(site: Site, record: Partition) -> StudWall:
    """Return the partition as a plane of the run's frame."""
    across = sorted(site.frame.off * (side - site.frame.zero) for side in ends(record.thick))
    spacing = site.project.record.level.wall_lining.spacing.inches
    up = (Fraction(0), site.level.joists)
    return StudWall("x", ends(record.along), (across[0], across[1]), up, record.stud, spacing, Fraction(0))


def _swings(site: Site, wall: StudWall, out: bool) -> int:
    """Return the way across the wall that the leaves swing: the room lies on the side of its outline's middle."""
    room = site.project.record.rooms.get(site.file.record.room)
    if room is None:
        return 1 if out else -1
    across = [north.inches if site.frame.along == "x" else east.inches for east, north in room.outline]
    centre = site.frame.off * (sum(across) / len(across) - site.frame.zero)
    beyond = 1 if centre > middle(wall.across) else -1
    return -beyond if out else beyond


def _largest(site: Site, choices: UtilityRoom, way: Doorway) -> Iterator[Problem]:
    found = [thing for thing in (*site.hidden, *site.others) if thing.what == choices.largest]
    if not found:
        names = ", ".join(thing.what for thing in site.hidden)
        rule = "nothing inside any record has that name"
        repair = f"write one of {names}" if names else "list what stands in it under inside:"
        yield site.problem("unknown-thing", path_to(site, "largest"), choices.largest, rule, repair)
        return
    narrow, high = _smallest_way(found[0])
    clear = way.clear()
    room = clear[1] - clear[0]
    if narrow > room:
        yield site.problem(
            "largest-cannot-leave",
            path_to(site, "door", "rough opening"),
            choices.largest,
            f"it is {site.tape.short(narrow)} wide on its narrow side, and the open doors leave "
            f"{site.tape.short(room)} clear",
            "write wider leaves, or a pair of them",
        )
    if high > way.top - site.level.floor:
        yield site.problem(
            "largest-cannot-leave",
            path_to(site, "door", "head"),
            choices.largest,
            f"it is {site.tape.short(high)} high, and the doors end "
            f"{site.tape.short(way.top - site.level.floor)} over the floor",
            "write a higher door, or ask how it can be tilted out",
        )


def _smallest_way(thing: HiddenThing) -> tuple[Fraction, Fraction]:
    """Return the narrow side of a thing on the plan, and its height."""
    whole: Box = thing.solids[0].bounds()
    for solid in thing.solids[1:]:
        whole = whole.joined(solid.bounds())
    return min(whole.size("x"), whole.size("y")), whole.size("z")


def _on_level(site: Site) -> tuple[HiddenThing, ...]:
    """Return every hidden thing of the project on the level's axes."""
    return tuple(
        replace(thing, solids=tuple(site.frame.solid_to_level(solid) for solid in thing.solids))
        for thing in (*site.hidden, *site.others)
    )


def _remarks(site: Site, choices: UtilityRoom, way: Doorway) -> Iterator[str]:
    clear = way.clear()
    thing = next(thing for thing in (*site.hidden, *site.others) if thing.what == choices.largest)
    narrow, _ = _smallest_way(thing)
    width = clear[1] - clear[0]
    yield site.say(
        "The doors leave {width} clear when they stand open at a right angle; {largest} is {narrow} on its "
        "narrow side.",
        width=site.tape.short(width),
        largest=choices.largest,
        narrow=site.tape.short(narrow),
    )
    if choices.door.louvres:
        yield site.say("The doors have louvers {louvres}: do not close them.", louvres=choices.door.louvres)

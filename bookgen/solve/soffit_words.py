"""A soffit worked out in, its anchors, sizes, section station and what stands in its way as Problems out."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Mapping
from fractions import Fraction

from bookgen.model.assembly import HiddenThing, Measure, Part
from bookgen.model.geometry import Point, Rod
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.solve.clash import Clash, clashes
from bookgen.solve.cropped import cropped
from bookgen.solve.framing import Stretch, measured
from bookgen.solve.site import Site
from bookgen.solve.soffits import Shape, joist_faces, joists_along

USUAL_SPACINGS = (16, 24)  # inches, centre to centre
OFF_MEMBER = Fraction(1, 2)  # inches that a section keeps from a rung, so that the rung is seen beyond it


def station_for_section(site: Site, target: Fraction, run: Stretch, parts: Iterable[Part]) -> Fraction | Problem:
    """Return where to cut: the record's own station, else the nearest to *target* that cuts no rung or crosser.

    A `section-outside` Problem where the record's station is not on the run.
    """
    asked = site.file.record.section_at
    if asked is not None:
        if run[0] <= asked.inches <= run[1]:
            return asked.inches
        rule = f"the soffit runs from {site.tape.long(run[0])} to {site.tape.long(run[1])}"
        return site.problem("section-outside", ("section at",), site.tape.long(asked), rule, "write a station on it")
    taken = [
        (part.solid.bounds().low.x - OFF_MEMBER, part.solid.bounds().high.x + OFF_MEMBER)
        for part in parts
        if part.role in {"rung", "crosser", "block", "nailer", "end upright", "end rail"}
    ]
    if not joists_along(site):
        taken += [(low - OFF_MEMBER, high + OFF_MEMBER) for low, high in joist_faces(site)]
    target = min(max(target, run[0]), run[1])
    spots = [target, *(edge for stretch in taken for edge in stretch)]
    row = sorted((low, high) for low, high in taken if low < high)
    free = [spot for spot in _clear_of(sorted(spots), row) if run[0] < spot < run[1]]
    after = bisect_left(free, target)
    near = free[max(after - 1, 0) : after + 1]
    return min(near, key=lambda spot: (abs(spot - target), spot), default=target)


def _clear_of(spots: list[Fraction], taken: list[Stretch]) -> Iterator[Fraction]:
    """Yield the spots that lie inside no stretch; both come in order, so that one walk along the run is enough."""
    reach, number = None, 0
    for spot in spots:
        while number < len(taken) and taken[number][0] < spot:
            reach = taken[number][1] if reach is None else max(reach, taken[number][1])
            number += 1
        if reach is None or reach <= spot:
            yield spot


def clash_problems(
    site: Site,
    parts: Iterable[Part],
    place_of: Callable[[Clash], tuple[Step, ...]],
    repair: Callable[[Clash], str],
) -> tuple[Problem, ...]:
    """Return a `part-meets-obstacle` Problem for each hidden thing that a role of part runs into, worst first."""
    found: dict[tuple[str, tuple[Step, ...]], Problem] = {}
    for clash in clashes(parts, (*site.hidden, *site.others)):
        path = place_of(clash)
        box = clash.part.solid.bounds()
        clear = f" and its clearance of {site.tape.short(clash.thing.clearance)}" if clash.thing.clearance else ""
        rule = (
            f"the {clash.part.role} ({clash.part.name}, at {site.tape.long((box.low.x + box.high.x) / 2)}) goes "
            f"{site.tape.short(clash.depth)} into {clash.thing.what}{clear}"
        )
        found.setdefault((clash.thing.key, path), site.problem("part-meets-obstacle", path, "", rule, repair(clash)))
    return tuple(found.values())


def overhead(things: Iterable[HiddenThing], run: Stretch) -> list[tuple[HiddenThing, Stretch, Point, Point]]:
    """Return what the soffit is there to hide: (thing, its stretch of the run, low and high corner with clearance).

    What only goes up or down counts for nothing here: it leaves the soffit through its top or its bottom.
    """
    found = []
    for thing in cropped(things, run):
        for solid in thing.solids:
            room = solid.bounds().grown(thing.clearance)
            upright = isinstance(solid, Rod) and (solid.start.x, solid.start.y) == (solid.end.x, solid.end.y)
            if not upright and room.low.x < run[1] and run[0] < room.high.x:
                stretch = (max(room.low.x, run[0]), min(room.high.x, run[1]))
                found.append((thing, stretch, room.low, room.high))
    return found


def height_problems(site: Site, shape: Shape, board: Fraction, path: tuple[Step, ...]) -> tuple[Problem, ...]:
    """Return `soffit-too-shallow` or `soffit-below-floor` where the framing's underside can't be built."""
    least = 2 * shape.timber.wide
    written = site.tape.short(shape.bottom)
    if shape.top - shape.bottom <= least:
        rule = (
            f"two rails of {shape.timber.stock} take {site.tape.short(least)}, and between this and the joists "
            f"there are {site.tape.short(max(shape.top - shape.bottom, Fraction(0)))}"
        )
        repair = f"write less than {site.tape.short(shape.top - least)} above slab, or use furring"
        return (site.problem("soffit-too-shallow", path, written, rule, repair),)
    if shape.bottom - board <= site.level.floor:
        rule, repair = "the soffit would come down to the floor", "look for a slip in the height or its datum"
        return (site.problem("soffit-below-floor", path, written, rule, repair),)
    return ()


def spacing_problems(site: Site, shape: Shape, path: tuple[Step, ...]) -> tuple[Problem, ...]:
    """Return a `spacing-too-small` Problem where members at that spacing would touch."""
    if shape.spacing >= 2 * shape.timber.wide:
        return ()
    rule = f"members of {shape.timber.stock} that close touch one another"
    usual = " or ".join(site.tape.short(Fraction(spacing)) for spacing in USUAL_SPACINGS)
    return (site.problem("spacing-too-small", path, site.tape.short(shape.spacing), rule, f"write {usual}"),)


def run_problems(site: Site, run: Stretch, met: Stretch, path: tuple[Step, ...]) -> tuple[Problem, ...]:
    """Return a Problem where the run as written leaves the level, or *met*, what its walls leave of it, is nothing."""
    length = site.level.east_west if site.frame.along == "x" else site.level.north_south
    words = f"{site.tape.long(run[0])} to {site.tape.long(run[1])}"
    if run[0] < 0 or run[1] > length:
        rule = f"the level ends at {site.tape.long(length)}"
        return (site.problem("outside-the-level", path, words, rule, "write stations between the block walls"),)
    if met[1] <= met[0]:
        rule, repair = "nothing is left of it between the walls that it meets", "write where it starts and ends"
        return (site.problem("soffit-too-short", path, words, rule, repair),)
    return ()


def sizes(anchors: Mapping[str, Point], rows: Iterable[tuple[str, str, str, str, str]]) -> tuple[Measure, ...]:
    """Return the printed sizes from (name, kind, start, end, axis), leaving out one whose anchor is not there."""
    return tuple(
        measured(name, kind, anchors, start, end, "x" if axis == "x" else "y" if axis == "y" else "z")
        for name, kind, start, end, axis in rows
        if start in anchors and end in anchors
    )


def leaving_words(site: Site, left: Mapping[str, str]) -> Iterator[str]:
    """Yield what leaves a soffit, and through what: framing is headed off and board is cut round it."""
    for thing in site.hidden:
        if thing.key in left:
            yield site.say(
                "{what} leaves through the {side}: members are headed off and board is cut round it.",
                what=thing.what,
                side=site.tongue.name(left[thing.key]),
            )

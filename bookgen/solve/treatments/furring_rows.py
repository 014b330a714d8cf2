"""One ceiling's choices in, its strips as rows in the run's frame, broken round what crosses them, out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from bookgen.model.assembly import HiddenThing
from bookgen.model.frame import Frame
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, Box, Point
from bookgen.model.length import Length
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.overhead import Furring, StripArea
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch
from bookgen.solve.site import Site
from bookgen.solve.studwork import left_of, overlap
from bookgen.solve.treatments.assembled import ends, path_to
from bookgen.solve.treatments.cover_in_face import covers_in
from bookgen.solve.treatments.furring_layout import edges
from bookgen.solve.treatments.furring_layout import rows as even

BESIDE_LINE = Fraction(1, 4)  # inches left free on both sides of what a strip is broken round
RIGHT_BELOW = Fraction(12)  # inches; what hangs further down belongs to something else than a flat ceiling


@dataclass(frozen=True, slots=True)
class Ceiling:
    """One ceiling in the run's frame: strips run on *axis*, from *along*, and are counted on *across*.

    *rows* are the middles of the rows and edge strips, *laid* whether they were laid out here and not listed in the
    record, *path* leads to its choices in the record.
    """

    room: str
    axis: Axis
    along: Stretch
    across: Stretch
    rows: tuple[Fraction, ...]
    path: tuple[Step, ...]
    laid: bool = True

    def off(self) -> Axis:
        """Return the axis that the rows are counted on."""
        return "y" if self.axis == "x" else "x"

    def plan(self) -> Rectangle:
        """Return the ceiling as a rectangle, x by y."""
        return Rectangle(self.along, self.across) if self.axis == "x" else Rectangle(self.across, self.along)


@dataclass(frozen=True, slots=True)
class Strip:
    """The stock laid flat, and the stretch of heights that it takes up under the joists."""

    stock: str
    thick: Fraction
    wide: Fraction
    up: Stretch


def in_frame(frame: Frame, axis: Axis, stretch: Stretch) -> Stretch:
    """Return a stretch on a level axis, x or y, as the stretch on the run's axis that lies along it."""
    spots = [
        frame.from_level(Point(v, Fraction(0), Fraction(0)) if axis == "x" else Point(Fraction(0), v, Fraction(0)))
        for v in stretch
    ]
    found = sorted(spot.on(run_axis(frame, axis)) for spot in spots)
    return found[0], found[-1]


def run_axis(frame: Frame, axis: Axis) -> Axis:
    """Return which axis of the run's frame lies along a level axis."""
    return "x" if frame.along == axis else "y"


def ceiling(site: Site, choices: Furring, index: int, strip: Strip) -> tuple[Ceiling | None, tuple[Problem, ...]]:
    """Return one ceiling with its rows, laid out clear of every line where the record lists none.

    Problems: `unknown-room`, `outside-the-level`, `row-outside-ceiling`, `strip-on-line`, `rows-too-far-apart`,
    `rows-overlap`.
    """
    area, path = choices.areas[index], path_to(site, "areas", index)
    if area.room not in site.project.record.rooms:
        keys = ", ".join(site.project.record.rooms)
        rule = "no room of the project has that key"
        return None, (site.problem("unknown-room", (*path, "room"), area.room, rule, f"write one of {keys}"),)
    level: Axis = "x" if choices.runs == "east" else "y"
    other: Axis = "y" if level == "x" else "x"
    axis = run_axis(site.frame, level)
    along = in_frame(site.frame, level, ends(area.along))
    across = in_frame(site.frame, other, ends(area.across))
    found = Ceiling(area.room, axis, along, across, (), path)
    wrong = tuple(_past_level(site, area, path, level))
    if wrong:
        return None, wrong
    taken = (*_lines_along(site, found, strip), *_covers_along(site, found, strip))
    if not area.rows:
        said = tuple(sorted(_at(site, other, edge) for edge in area.edge_strips))
        walls = [at for at in edges(across, taken, strip.wide) if all(abs(at - one) >= strip.wide for one in said)]
        beside = said if len(said) > 1 else tuple(sorted({*said, *walls}))
        between = even((beside[0], beside[-1]), taken, choices.spacing.inches, strip.wide)
        rows = tuple(sorted({*beside, *between}))
    else:
        rows = tuple(sorted(_at(site, other, row) for row in (*area.rows, *area.edge_strips)))
    found = Ceiling(area.room, axis, along, across, rows, path, laid=not area.rows)
    return found, tuple(_problems(site, choices, area, found, strip))


def _past_level(site: Site, area: StripArea, path: tuple[Step, ...], level: Axis) -> Iterator[Problem]:
    whole = {"x": site.level.east_west, "y": site.level.north_south}
    other: Axis = "y" if level == "x" else "x"
    for field, span, size in (("along", area.along, whole[level]), ("across", area.across, whole[other])):
        if span.low.inches < 0 or span.high.inches > size:
            rule, repair = f"the level is {site.tape.long(size)} that way", "look for a slip in the length or its unit"
            yield site.problem("outside-the-level", (*path, field), "", rule, repair)


def _at(site: Site, axis: Axis, row: Length) -> Fraction:
    return in_frame(site.frame, axis, (row.inches, row.inches))[0]


def _lines_along(site: Site, found: Ceiling, strip: Strip) -> Iterator[Stretch]:
    """Yield the stretches across the rows that are taken by lines which run with the strips."""
    for _, box in lines_in(site.hidden, found, strip):
        if runs_with(box, found, strip):
            yield box.low.on(found.off()), box.high.on(found.off())


def _covers_along(site: Site, found: Ceiling, strip: Strip) -> Iterator[Stretch]:
    """Yield the stretches across the rows that covers in the ceiling take: no strip may cross one."""
    covers, _ = covers_in(site, "z", strip.up[0] - site.level.ceiling_board)
    for patch in (cover.patch for cover in covers):
        along, across = (patch.u, patch.v) if found.axis == "x" else (patch.v, patch.u)
        if overlap(along, found.along) and overlap(across, found.across):
            yield across


def lines_in(things: Iterable[HiddenThing], found: Ceiling, strip: Strip) -> Iterator[tuple[HiddenThing, Box]]:
    """Yield the solids, as boxes with their clearance, that reach into the layer of the strips under one ceiling."""
    for thing in things:
        for solid in thing.solids:
            box = solid.bounds().grown(thing.clearance)
            inside = overlap((box.low.on(found.axis), box.high.on(found.axis)), found.along)
            beside = overlap((box.low.on(found.off()), box.high.on(found.off())), found.across)
            if inside and beside and overlap((box.low.z, box.high.z), strip.up):
                yield thing, box


def hanging(things: Iterable[HiddenThing], found: Ceiling, strip: Strip) -> Iterator[tuple[HiddenThing, Box]]:
    """Yield what a ceiling is there to hide: lines in the layer of its strips, and those that hang right below it.

    What goes up and down passes through the ceiling and is not hidden by it.
    """
    for thing, box in lines_in(things, found, replace(strip, up=(strip.up[0] - RIGHT_BELOW, strip.up[1]))):
        if box.size("z") <= max(box.size("x"), box.size("y")):
            yield thing, box


def runs_with(box: Box, found: Ceiling, strip: Strip) -> bool:
    """Tell whether a line runs with the strips, for longer than a strip could be broken for."""
    return box.size(found.axis) > max(box.size(found.off()), 2 * strip.wide)


def _problems(site: Site, choices: Furring, area: StripArea, found: Ceiling, strip: Strip) -> Iterator[Problem]:
    half = strip.wide / 2
    names = [*(("rows", i) for i in range(len(area.rows))), *(("edge strips", i) for i in range(len(area.edge_strips)))]
    other: Axis = "y" if choices.runs == "east" else "x"
    lengths = (*area.rows, *area.edge_strips)
    for (field, number), length in zip(names, lengths, strict=True):
        row = _at(site, other, length)
        path = (*found.path, field, number)
        if row - half < found.across[0] or row + half > found.across[1]:
            words = " to ".join(site.tape.short(end) for end in (area.across.low, area.across.high))
            rule, repair = f"the ceiling goes from {words} across", "write a middle that keeps the strip inside"
            yield site.problem("row-outside-ceiling", path, site.tape.short(length), rule, repair)
        yield from _on_a_line(site, found, strip, row, (path, site.tape.short(length)))
    for low, high in pairwise(found.rows):
        if high - low > choices.spacing.inches:
            apart, most = site.tape.short(high - low), site.tape.short(choices.spacing)
            rule = f"two rows stand {apart} apart, the board asks for at most {most}"
            repair = "add a row or an edge strip between them"
            yield site.problem("rows-too-far-apart", (*found.path, "rows"), "", rule, repair)
        elif high - low < strip.wide:
            apart, wide = site.tape.short(high - low), site.tape.short(strip.wide)
            rule = f"two rows stand {apart} apart, a strip is {wide} wide"
            yield site.problem("rows-overlap", (*found.path, "rows"), "", rule, "move one, or leave it out")


def _on_a_line(
    site: Site, found: Ceiling, strip: Strip, row: Fraction, said: tuple[tuple[Step, ...], str]
) -> Iterator[Problem]:
    width = row - strip.wide / 2, row + strip.wide / 2
    for thing, box in lines_in(site.hidden, found, strip):
        span = box.low.on(found.off()), box.high.on(found.off())
        if runs_with(box, found, strip) and overlap(width, span):
            rule = f"{thing.what} runs with it, from {site.tape.short(span[0])} to {site.tape.short(span[1])}"
            yield site.problem("strip-on-line", said[0], said[1], rule, "move the row beside the line")


def pieces(site: Site, found: Ceiling, strip: Strip, row: Fraction, taken: Iterable[Rectangle]) -> tuple[Stretch, ...]:
    """Return the pieces of one row: it stops at each side of what crosses it, and of the plans in *taken* (x by y)."""
    width = row - strip.wide / 2, row + strip.wide / 2
    gaps = [
        (box.low.on(found.axis) - BESIDE_LINE, box.high.on(found.axis) + BESIDE_LINE)
        for _, box in lines_in((*site.hidden, *site.others), found, strip)
        if overlap(width, (box.low.on(found.off()), box.high.on(found.off())))
    ]
    for plan in taken:
        along, across = (plan.u, plan.v) if found.axis == "x" else (plan.v, plan.u)
        if overlap(across, width):
            gaps.append(along)
    return tuple(left_of(found.along, gaps, Fraction(0)))


def beside(found: Ceiling, strip: Strip, taken: Iterable[Rectangle]) -> Iterator[tuple[Fraction, Stretch]]:
    """Yield a strip along both sides of each plan in *taken*, its middle and its stretch, where no row lies already.

    Where the record lists the rows, there are no others. Between two plans with no room for two strips one serves both.
    """
    laid: list[tuple[Fraction, Stretch]] = []
    for at, span in _sides(found, strip, taken) if found.laid else ():
        for left in left_of(span, [other for row, other in laid if abs(row - at) < strip.wide], Fraction(0)):
            laid.append((at, left))
            yield at, left


def _sides(found: Ceiling, strip: Strip, taken: Iterable[Rectangle]) -> Iterator[tuple[Fraction, Stretch]]:
    for plan in taken:
        (low, high), across = (plan.u, plan.v) if found.axis == "x" else (plan.v, plan.u)
        span = max(low, found.along[0]), min(high, found.along[1])
        standing = [row for row in found.rows if not overlap((row - strip.wide / 2, row + strip.wide / 2), across)]
        for at in (across[0] - strip.wide / 2, across[1] + strip.wide / 2):
            inside = found.across[0] <= at - strip.wide / 2 and at + strip.wide / 2 <= found.across[1]
            if span[0] < span[1] and inside and all(abs(row - at) >= strip.wide for row in standing):
                yield at, span

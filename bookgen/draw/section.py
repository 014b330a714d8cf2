"""One treatment in; its section as a Sketch out: cut where it governs, with the wall, the ceiling and the floor."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Literal

from bookgen.draw.dimensions import Dimension, Size, anywhere, chosen_sizes, on_edges, row_offset, rows
from bookgen.draw.eye import Eye, section_eye
from bookgen.draw.made_here import made_here
from bookgen.draw.outlines import Rect, rect_round, round_all
from bookgen.draw.paper import SHEET_WIDE, Paper, largest_scale
from bookgen.draw.pieces import Band
from bookgen.draw.scene import Origin, Thing, own_box
from bookgen.draw.sheet import EDGE, Layout, Scenery, dimensioned, drawn_sheet, fits
from bookgen.draw.stations import WIDE, Cut, shown
from bookgen.draw.titles import Topic, section_words
from bookgen.model.assembly import Assembly
from bookgen.model.exact import Fraction
from bookgen.model.sketch import Sketch, View
from bookgen.model.solved import Solved, SolvedObstacle

BEYOND = Fraction(48)  # inches past the plane that things are looked for
WALL_NEAR = Fraction(30)  # inches from the block within which the wall is shown
FAR_BELOW = Fraction(24)  # inches from the joists down to work that is shown without the ceiling
OVER_LOW_WORK = Fraction(22)  # inches shown over such work
_ROUND_IT = frozenset({"closet"})  # a plane through its door cuts its front alone
# Millimetres on paper.
SIDE = 9.0  # of ceiling beside the work and its dimensions
NOTES = 46.0  # kept free for notes to the right of the drawing, where it leaves that much
HEADROOM_TEXT = 46.0  # under the work, so that the headroom can be written along its line
SHORT = 22.0  # under the work, where no headroom is written
BREAK_STRIP = 4.0  # between two windows
FLOOR_STRIP = 7.0  # above the floor, in the lower window


def section(topic: Topic, cut: Cut, near: tuple[Thing, ...]) -> Sketch:
    """Return the section of a treatment across its run; *near* is what stands round it, in the run's frame."""
    obstacle, assembly = topic.obstacle, topic.assembly
    if not cut.governs:
        topic = replace(topic, assembly=made_here(assembly, cut.at))
    eye = section_eye(assembly.frame, cut.at)
    things = tuple(_in_sight(near, eye))
    work = _focused(eye, things, obstacle, _work(eye, obstacle, assembly))
    scenery = Scenery(topic, eye, things, work)
    there = section_eye(assembly.frame, assembly.section_at)
    true_here = anywhere if cut.governs else on_edges(eye, there, near, obstacle.key)

    sizes = chosen_sizes(topic, eye, true_here)

    hanging = () if _room_beside(work) else tuple(_hanging(scenery))

    def at_scale(paper: Paper) -> Layout:
        return _layout(scenery, paper, sizes, hanging)

    paper = largest_scale(topic.units(), lambda p: fits(at_scale(p)), topic.tongue())
    drawn = drawn_sheet(scenery, at_scale(paper), lambda seen, p: section_words(topic, eye, cut, seen, p))
    ending = "section" if cut.governs else f"section-{cut.letter.lower()}"
    return drawn.sketch(f"{obstacle.key}-{ending}", View.SECTION, paper, further=not cut.first)


def _in_sight(near: Iterable[Thing], eye: Eye) -> Iterator[Thing]:
    """Yield what a section may show: what the plane cuts, and what lies not too far past it."""
    low, high = (eye.at, eye.at + BEYOND) if eye.deeper == 1 else (eye.at - BEYOND, eye.at)
    return (thing for thing in near if thing.bounds.low.x <= high and thing.bounds.high.x >= low)


def _work(eye: Eye, obstacle: SolvedObstacle, assembly: Assembly) -> Rect:
    """Return the rectangle of what the plane cuts of the treatment; of all of it where that is a part only."""
    whole: Rect | None = None
    for part in assembly.parts:
        for outline in eye.cut(part.solid):
            one = rect_round(outline)
            whole = one if whole is None else whole.joined(one)
    if whole is not None and assembly.treatment not in _ROUND_IT:
        return whole
    own = own_box(obstacle, assembly)
    return Rect(own.low.y, own.low.z, own.high.y, own.high.z)


def _focused(eye: Eye, things: tuple[Thing, ...], obstacle: SolvedObstacle, work: Rect) -> Rect:
    """Return the work, or of work too wide for a sheet the stretch that is shown."""
    own = (thing for thing in things if thing.origin is Origin.HIDDEN and thing.owner == obstacle.key)
    hidden = round_all(outline for thing in own for outline in eye.cut(thing.solid))
    points = (eye.frame.from_level(spot.at) for spot in obstacle.access)
    far = hidden.right if hidden is not None else None
    left, right = shown(eye.at, (work.left, work.right), far, points)
    return Rect(left, work.bottom, right, work.top)


def _layout(scenery: Scenery, paper: Paper, sizes: tuple[Size, ...], hanging: tuple[Rect, ...]) -> Layout:
    """Return windows and dimensions at one scale; rows need the windows and windows the rows, so twice round.

    *hanging* is what comes down where dimensions go under the work.
    """
    solved, work = scenery.topic.solved, scenery.work
    bands: tuple[Band, ...] = (Band(Rect(work.left, Fraction(-12), work.right, work.top)),)
    dimensions = dimensioned(sizes, bands, paper)
    for _ in range(2):
        flat, standing = rows(dimensions, "u"), rows(dimensions, "v")
        bands = _bands(scenery, paper, (flat, standing), hanging)
        dimensions = _within(dimensioned(sizes, bands, paper), bands[0].window)
    under = work.bottom if len(bands) > 1 else bands[-1].window.bottom
    side: Literal[1, -1] = 1 if _at_wall(solved, work) else -1
    beside = work.right if side == 1 else work.left
    if not _room_beside(work):
        side, beside = -1, _start(scenery, bands[0].window.left) + paper.exact(row_offset(rows(dimensions, "v")) + SIDE)
    elif side == 1:
        # At the far side of the sheet, so that what is in the work can be named from the room before it.
        far = bands[0].window.left + paper.exact(SHEET_WIDE - 2 * EDGE - row_offset(rows(dimensions, "v")) - 2)
        beside = max(beside, far)
    edge = {"u": float(under), "v": float(beside)}
    return Layout(paper, bands, edge, dimensions, side)


def _at_wall(solved: Solved, work: Rect) -> bool:
    """Tell whether the block wall stands to the left of the work."""
    return work.left < WALL_NEAR and _block_thickness(solved) > 0


def _room_beside(work: Rect) -> bool:
    """Tell whether standing dimensions go beside the work: those of work as wide as the sheet go under it."""
    return work.right - work.left < WIDE


def _start(scenery: Scenery, left: Fraction) -> Fraction:
    """Return from where standing dimensions go under the work: in the room, not in the wall to the *left*."""
    solved = scenery.topic.solved
    return max(left, solved.level.wall_face) if _at_wall(solved, scenery.work) else left


def _hanging(scenery: Scenery) -> Iterator[Rect]:
    """Yield what the plane cuts of all that hangs, the work itself included."""
    level = scenery.topic.solved.level
    for thing in scenery.things:
        for outline in scenery.eye.cut(thing.solid) if scenery.eye.reaches(thing.bounds) else ():
            rect = rect_round(outline)
            if rect.bottom * 2 > level.floor + level.joists:
                yield rect


def _within(dimensions: tuple[Dimension, ...], window: Rect) -> tuple[Dimension, ...]:
    """Return the dimensions without flat ones that the window cuts short."""
    return tuple(one for one in dimensions if one.along == "v" or (window.left <= one.low and one.high <= window.right))


def _headroom(assembly: Assembly) -> bool:
    return any(measure.kind == "headroom" for measure in assembly.measures)


def _bands(scenery: Scenery, paper: Paper, counts: tuple[int, int], hanging: tuple[Rect, ...]) -> tuple[Band, ...]:
    """Return the window on work, wall and ceiling, and the one on the floor where the first does not reach it.

    *counts* are the rows of flat and of standing dimensions.
    """
    solved, work, (flat, standing) = scenery.topic.solved, scenery.work, counts
    level = solved.level
    sizes, near_wall = row_offset(standing) + SIDE if standing else SIDE, _at_wall(solved, work)
    left = -_block_thickness(solved) - paper.exact(1) if near_wall else work.left - paper.exact(sizes)
    right = work.right + paper.exact(sizes if near_wall else SIDE)
    spare = max(Fraction(0), paper.exact(SHEET_WIDE - 2 * EDGE - NOTES) - (right - left))
    right += spare
    top = max(work.top, level.joists + level.joist_depth + 1)
    if work.top < level.joists - FAR_BELOW:
        top = work.top + OVER_LOW_WORK
    under = max(SHORT, row_offset(flat) + 6, HEADROOM_TEXT if _headroom(scenery.topic.assembly) else 0)
    start = _start(scenery, left)
    end = start + paper.exact(sizes)
    over = [one.bottom for one in hanging if one.left < end and start < one.right]
    lowest = min([work.bottom, *over])
    low, floor_top = lowest - paper.exact(under), level.floor + paper.exact(FLOOR_STRIP)
    slab = -paper.exact(5)
    if low - floor_top < paper.exact(2 * BREAK_STRIP):
        return (Band(Rect(left, slab, right, top)),)
    shift = low - floor_top - paper.exact(BREAK_STRIP)
    return (Band(Rect(left, low, right, top)), Band(Rect(left, slab, right, floor_top), shift))


def _block_thickness(solved: Solved) -> Fraction:
    """Return how thick the block is, outside the face that plans measure from; 0 where the shell has none."""
    walls = [part.solid.bounds() for part in solved.level.shell if part.role == "block wall"]
    return max((-wall.low.y for wall in walls if wall.low.y < 0 <= wall.high.y), default=Fraction(0))

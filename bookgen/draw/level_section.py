"""One treatment of a Solved level in; its level section as a Sketch out: cut at the access point or at hand height."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from bookgen.draw.dimensions import anywhere, chosen_sizes, in_rows, on_edges
from bookgen.draw.eye import Eye, plan_eye
from bookgen.draw.free import round_spaces, spaces_under
from bookgen.draw.notes import Note
from bookgen.draw.outlines import Rect, rect_round, uncovered
from bookgen.draw.paper import Paper, largest_scale
from bookgen.draw.pieces import Band
from bookgen.draw.scene import Origin, Thing, box_to_level, own_box
from bookgen.draw.sheet import Layout, Scenery, dimensioned, drawn_sheet, fits
from bookgen.draw.stations import Cut
from bookgen.draw.titles import Topic, plan_section_words
from bookgen.draw.words import size
from bookgen.model.assembly import Assembly, Material
from bookgen.model.exact import Fraction
from bookgen.model.geometry import Box, Outline
from bookgen.model.length import Length
from bookgen.model.sketch import Sketch, View
from bookgen.model.solved import SolvedObstacle

ROUND = Fraction(7)  # inches shown round the work
FREE = frozenset({"chase", "post wrap"})  # what may stand in the middle of a room
ALONG = (1.0, 0.9, 0.7, 0.5, 0.1)  # of an edge, where a note on it may point


def level_section(topic: Topic, cut: Cut, cuts: tuple[Cut, ...], scene: tuple[Thing, ...]) -> Sketch:
    """Return the plan of a treatment, cut level, north up, with the marks of the other *cuts*."""
    obstacle, assembly = topic.obstacle, topic.assembly
    eye = plan_eye(cut.at)
    work = _work(obstacle, assembly, eye)
    free = spaces_under(assembly, eye)
    window = _window(work, round_spaces(work, free), scene, eye)
    near = tuple(thing for thing in scene if _inside(thing.bounds, window))
    edges, side = _edges(work, window, [o for thing in near for o in eye.cut(thing.solid)], free)
    governing = plan_eye(next(one.at for one in cuts if one.axis == "z" and one.governs))
    true_here = anywhere if cut.governs else on_edges(eye, governing, near, obstacle.key)
    sizes = chosen_sizes(topic, eye, true_here)

    def at_scale(paper: Paper) -> Layout:
        bands = (Band(window),)
        dimensions = (one for one in dimensioned(sizes, bands, paper) if one.lies_in(window))
        return Layout(paper, bands, edges, in_rows(dimensions, paper), side)

    paper = largest_scale(topic.units(), lambda p: fits(at_scale(p)), topic.tongue())
    others = tuple(one for one in cuts if one is not cut)
    drawn = drawn_sheet(
        Scenery(topic, eye, near, work, others, _far_walls(topic, work) if _stands_free(topic, near, eye) else ()),
        at_scale(paper),
        lambda seen, p: plan_section_words(topic, eye, cut, seen, p),
    )
    ending = "plan" if cut.governs else f"plan-{cut.letter.lower()}"
    return drawn.sketch(f"{obstacle.key}-{ending}", View.PLAN, paper, further=not cut.first)


def _work(obstacle: SolvedObstacle, assembly: Assembly, eye: Eye) -> Rect:
    """Return the rectangle of what the plane cuts of the treatment, on the level; of all of it where it misses.

    A utility room is drawn with all that stands in it.
    """
    whole: Rect | None = None
    for part in assembly.parts:
        for outline in eye.cut(assembly.frame.solid_to_level(part.solid)):
            one = rect_round(outline)
            whole = one if whole is None else whole.joined(one)
    if assembly.treatment == "utility room":
        for solid in (solid for thing in obstacle.hidden for solid in thing.solids):
            low, high = solid.bounds().low, solid.bounds().high
            one = Rect(low.x, low.y, high.x, high.y)
            whole = one if whole is None else whole.joined(one)
    if whole is not None:
        return whole
    near = box_to_level(own_box(obstacle, assembly), assembly)
    return Rect(near.low.x, near.low.y, near.high.x, near.high.y)


def _stands_free(topic: Topic, near: tuple[Thing, ...], eye: Eye) -> bool:
    """Tell whether this is a chase or a post wrap, and no wall is cut that sizes could start from."""
    walls = (thing for thing in near if thing.origin is Origin.LINING or thing.material is Material.BLOCK)
    return topic.assembly.treatment in FREE and not any(eye.cut(thing.solid) for thing in walls)


def _far_walls(topic: Topic, work: Rect) -> tuple[Note, ...]:
    """Return how far work that stands free in a room is off the block walls, which the sheet does not reach."""
    say, notes = topic.tongue().say, []
    left, low = float(work.left), float(work.bottom)
    wide, high = float(work.right) - left, float(work.top) - low
    west = tuple((left, low + share * high) for share in ALONG)
    south = tuple((left + share * wide, low) for share in ALONG)
    for side, off, spots in (("west", work.left, west), ("south", work.bottom, south)):
        length = size(Length(off), units=topic.units(), tall=True)
        words = say("{station} from the {side} block wall", station=length, side=topic.tongue().name(side))
        notes.append(Note(words, "", spots))
    return tuple(notes)


def _window(work: Rect, whole: Rect, scene: tuple[Thing, ...], eye: Eye) -> Rect:
    """Return the work with a margin and *whole*, and the thickness of a block wall that the margin reaches."""
    window = Rect(work.left - ROUND, work.bottom - ROUND, work.right + ROUND, work.top + ROUND).joined(whole)
    for thing in scene:
        if thing.material is Material.BLOCK and thing.origin is Origin.SHELL:
            for outline in eye.cut(thing.solid):
                window = _with_wall(window, rect_round(outline))
    return window


def _with_wall(window: Rect, wall: Rect) -> Rect:
    if not wall.meets(window):
        return window
    if wall.right - wall.left > wall.top - wall.bottom:
        return Rect(window.left, min(window.bottom, wall.bottom - 1), window.right, max(window.top, wall.top + 1))
    return Rect(min(window.left, wall.left - 1), window.bottom, max(window.right, wall.right + 1), window.top)


def _inside(bounds: Box, window: Rect) -> bool:
    return (
        bounds.low.x < window.right
        and window.left < bounds.high.x
        and bounds.low.y < window.top
        and window.bottom < bounds.high.y
    )


def _edges(
    work: Rect, window: Rect, near: Iterable[Outline], spaces: Iterable[Outline]
) -> tuple[dict[str, float], Literal[1, -1]]:
    """Return where dimensions start, at the work, or at the window's edge where something else stands between.

    And the side of the standing ones: the left, unless a wall stands along most of it, since notes read best on the
    right.
    """
    outlines = [rect_round(outline) for outline in near]
    taken = [*outlines, *(rect_round(space) for space in spaces)]

    def free(strip: Rect) -> bool:
        return not any(strip.meets(one) for one in taken)

    below = Rect(work.left - 1, window.bottom, work.right + 1, work.bottom)
    strips = {-1: Rect(window.left, work.bottom, work.left, work.top)}
    strips[1] = Rect(work.right, work.bottom, window.right, work.top)
    walled = sum(one.area() for one in uncovered(strips[-1], outlines)) * 2 < strips[-1].area()
    side: Literal[1, -1] = 1 if walled else -1
    edges = {-1: (work.left, window.left), 1: (work.right, window.right)}[side]
    return {
        "u": float(work.bottom if free(below) else window.bottom),
        "v": float(edges[0] if free(strips[side]) else edges[1]),
    }, side

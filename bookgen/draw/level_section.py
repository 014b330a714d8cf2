"""One treatment of a Solved level in; its level section as a Sketch out: cut at the access point or at hand height."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from bookgen.draw.eye import Eye, plan_eye
from bookgen.draw.outlines import Rect, rect_round, uncovered
from bookgen.draw.paper import Paper, largest_scale
from bookgen.draw.pieces import Band
from bookgen.draw.scene import Origin, Thing, box_to_level, own_box
from bookgen.draw.sheet import Layout, dimensioned, drawn_sheet, fits
from bookgen.draw.titles import plan_section_words
from bookgen.model.assembly import Assembly, Material
from bookgen.model.geometry import Box
from bookgen.model.sketch import Sketch, View
from bookgen.model.solved import Solved, SolvedObstacle

HAND = Fraction(48)  # inches above the floor that a plan is cut at; common practice
ROUND = Fraction(7)  # inches shown round the work


def level_section(solved: Solved, obstacle: SolvedObstacle, assembly: Assembly, scene: tuple[Thing, ...]) -> Sketch:
    """Return the section of an upright treatment cut level, north up."""
    eye = plan_eye(_height(solved, obstacle, assembly))
    work = _work(obstacle, assembly, eye)
    window = _window(work, scene, eye)
    near = tuple(thing for thing in scene if _inside(thing.bounds, window))
    edges, side = _edges(work, window, near, eye)
    metric = solved.project.record.units == "metric"

    def at_scale(paper: Paper) -> Layout:
        bands = (Band(window),)
        dimensions = dimensioned(assembly, eye, bands, paper)
        return Layout(paper, bands, edges, dimensions, side)

    paper = largest_scale(metric, lambda p: fits(at_scale(p)))
    drawn = drawn_sheet(solved, obstacle, eye, near, at_scale(paper), work)
    words = plan_section_words(solved, obstacle, assembly, eye, drawn.things, paper)
    return Sketch(
        key=f"{obstacle.key}-section",
        view=View.SECTION,
        title=words.title,
        desc=words.desc,
        caption=words.caption,
        scale=Fraction(paper.scale),
        low=drawn.low,
        high=drawn.high,
        shapes=drawn.shapes,
        entries=drawn.entries,
    )


def _height(solved: Solved, obstacle: SolvedObstacle, assembly: Assembly) -> Fraction:
    """Return where to cut: through the lowest access point inside the work, else at hand height."""
    own = own_box(obstacle, assembly)
    heights = sorted(spot.at.z for spot in obstacle.access if own.low.z < spot.at.z < own.high.z)
    if assembly.treatment == "chase" and heights:
        return heights[0]
    hand = solved.level.floor + HAND
    return hand if own.low.z < hand < own.high.z else (own.low.z + own.high.z) / 2


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


def _window(work: Rect, scene: tuple[Thing, ...], eye: Eye) -> Rect:
    """Return the work with a margin, and the whole thickness of a block wall that the margin reaches."""
    window = Rect(work.left - ROUND, work.bottom - ROUND, work.right + ROUND, work.top + ROUND)
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


def _edges(work: Rect, window: Rect, near: tuple[Thing, ...], eye: Eye) -> tuple[dict[str, float], Literal[1, -1]]:
    """Return where dimensions start, at the work, or at the window's edge where something else stands between.

    And the side of the standing ones: the left, unless a wall stands along most of it, since notes read best on the
    right.
    """
    outlines = [rect_round(outline) for thing in near for outline in eye.cut(thing.solid)]

    def free(strip: Rect) -> bool:
        return not any(strip.meets(one) for one in outlines)

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

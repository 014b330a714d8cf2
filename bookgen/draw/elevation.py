"""One treatment in; its framing elevation as a Sketch out: without its board, with what it hides dashed."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from bookgen.draw.eye import elevation_eye
from bookgen.draw.outlines import Rect, rect_round
from bookgen.draw.paper import Paper, largest_scale
from bookgen.draw.pieces import Band
from bookgen.draw.scene import Origin, Thing, box_to_level, in_frame_of, own_box
from bookgen.draw.sheet import Layout, dimensioned, drawn_sheet, fits
from bookgen.draw.titles import elevation_words
from bookgen.model.assembly import Assembly, Material
from bookgen.model.geometry import box
from bookgen.model.sketch import Sketch, View
from bookgen.model.solved import Solved, SolvedObstacle

ROUND = Fraction(5)  # inches shown round the work


def elevation(solved: Solved, obstacle: SolvedObstacle, assembly: Assembly, scene: tuple[Thing, ...]) -> Sketch:
    """Return the treatment as somebody in the room sees its framing."""
    own = own_box(obstacle, assembly)
    eye = elevation_eye(assembly.frame, own.high.y + 1)
    wanted = (thing for thing in scene if _belongs(thing, obstacle))
    things = in_frame_of(wanted, box_to_level(own.grown(ROUND), assembly), assembly)
    work = rect_round(eye.seen(box((own.low.x, own.high.x), (own.low.y, own.high.y), (own.low.z, own.high.z), "x")))
    window = Rect(work.left - ROUND, min(work.bottom, Fraction(0)) - 2, work.right + ROUND, work.top + ROUND)
    overhead = [solid.bounds().high.z for thing in obstacle.hidden for solid in thing.solids]
    if overhead and max(overhead) <= solved.level.joists + solved.level.joist_depth:
        window = replace(window, top=max(window.top, max(overhead) + 2))
    if work.bottom > ROUND + solved.level.floor:
        window = replace(window, bottom=work.bottom - ROUND)
    metric = solved.project.record.units == "metric"

    def at_scale(paper: Paper) -> Layout:
        bands = (Band(window),)
        edge = {"u": float(window.bottom), "v": float(work.right)}
        return Layout(paper, bands, edge, dimensioned(assembly, eye, bands, paper))

    paper = largest_scale(metric, lambda p: fits(at_scale(p)))
    drawn = drawn_sheet(solved, obstacle, eye, things, at_scale(paper), work)
    words = elevation_words(solved, obstacle, assembly, eye, drawn.things, paper)
    return Sketch(
        key=f"{obstacle.key}-elevation",
        view=View.ELEVATION,
        title=words.title,
        desc=words.desc,
        caption=words.caption,
        scale=Fraction(paper.scale),
        low=drawn.low,
        high=drawn.high,
        shapes=drawn.shapes,
        entries=drawn.entries,
    )


def _belongs(thing: Thing, obstacle: SolvedObstacle) -> bool:
    """Tell whether a thing is shown: the treatment's own framing, what it hides, the floor that it stands on."""
    if thing.origin is Origin.SHELL:
        return thing.role in ("slab", "finished floor")
    return thing.owner == obstacle.key and thing.material is not Material.BOARD

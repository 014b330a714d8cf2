"""What a treatment keeps free in, and a plan of it; the dashed outlines of those spaces, out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from bookgen.draw.eye import Eye
from bookgen.draw.outlines import Rect, clip, rect_round
from bookgen.draw.pieces import Band
from bookgen.draw.shapes import spot
from bookgen.model.assembly import Assembly
from bookgen.model.geometry import Polygon
from bookgen.model.sketch import LineKind, Stroke


def spaces_under(assembly: Assembly, eye: Eye) -> tuple[Polygon, ...]:
    """Return the outline of each space that begins under the height of a plan.

    They are the room before a panel or an appliance, that over a pit, and what a door sweeps.
    """
    solids = (assembly.frame.solid_to_level(space.solid) for space in assembly.spaces)
    outlines = (eye.seen(solid) for solid in solids if solid.bounds().low.z < eye.at)
    return tuple(outline for outline in outlines if isinstance(outline, Polygon))


def round_spaces(work: Rect, spaces: Iterable[Polygon]) -> Rect:
    """Return a rectangle round the work and all that is kept free for it."""
    for space in spaces:
        work = work.joined(rect_round(space))
    return work


def space_lines(assembly: Assembly, eye: Eye, bands: Iterable[Band]) -> Iterator[Stroke]:
    """Yield each outline of a plan, as far as its windows show it."""
    if eye.axis != "z":
        return
    bands = tuple(bands)
    for space in spaces_under(assembly, eye):
        for band in bands:
            seen = clip(space, band.window)
            if isinstance(seen, Polygon):
                corners = [spot((u, v + band.shift)) for u, v in seen.corners]
                yield Stroke(LineKind.FREE, (*corners, corners[0]))

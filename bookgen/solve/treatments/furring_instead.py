"""A line that hangs lower than strips hide in, the treatment that serves it instead, in words, out."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import get_args

from bookgen.model.assembly import HiddenThing
from bookgen.model.geometry import Box
from bookgen.model.records.inside import Wall
from bookgen.solve.framing import true_size
from bookgen.solve.site import Site, wall_frame
from bookgen.solve.treatments.furring_rows import Strip

THICKER = "2x4"  # the thickest that is laid flat under joists; common practice
NEAR_WALL = Fraction(24)  # inches off the block; what is nearer is boxed along the wall with less board
BEAM = Fraction(4)  # inches; what is less high is no beam
UNDER = Fraction(2)  # inches of a soffit's framing and play under what it hides


def instead(site: Site, thing: HiddenThing, room: Box, strip: Strip, margin: Fraction) -> str:
    """Say what hides a thing that hangs too low: thicker strips, or a beam, wall or hung soffit there.

    *room* is the box round it in the run's frame.
    """
    tape, hang = site.tape, site.level.joists - room.low.z
    thick = (true_size(THICKER) or (Fraction(0), Fraction(0)))[0]
    if strip.thick < thick and hang <= thick - margin:
        return f"write strips of {THICKER}, which are {tape.short(thick)} thick, or move the line up"
    bottom = f"its framing bottom at most {tape.short(room.low.z - UNDER)} above slab"
    if thing.system == "structure" and room.size("z") >= BEAM:
        return f"use a beam soffit there, {bottom}, and end the strips at it"
    wall = next(_walls(site, room), None)
    if wall is not None:
        return f"use a wall soffit along the {wall} there, {bottom}, and end the strips at it; or move the line up"
    wide = min(room.size("x"), room.size("y")) + 2 * UNDER
    return (
        f"use a hung soffit there, {tape.short(wide)} wide between its sides or more, {bottom}, and end the strips at "
        "it; or move the line up"
    )


def _walls(site: Site, room: Box) -> Iterator[str]:
    """Yield the walls that a thing runs along, near by."""
    whole = site.level.east_west, site.level.north_south
    corners = [site.frame.to_level(point) for point in (room.low, room.high)]
    for wall in get_args(Wall):
        frame = wall_frame(wall, whole)
        one, other = (frame.from_level(corner) for corner in corners)
        if max(one.y, other.y) <= NEAR_WALL and abs(one.x - other.x) > abs(one.y - other.y):
            yield wall

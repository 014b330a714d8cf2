"""The holes in a ladder or in the bottom of a soffit in, the members round them out: interrupted, and headed off.

A hole is a cover or register of the record, or what goes right through: a branch that leaves through the side, a pipe
that comes down through the bottom. Full members stand at both sides of it; those in between stop at a header.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import HiddenThing, Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, Box
from bookgen.solve.cutout import Rectangle, united
from bookgen.solve.framing import Stretch, around, layout, stick
from bookgen.solve.lengths import cut
from bookgen.solve.site import Site
from bookgen.solve.soffits import Shape, counted, rows
from bookgen.solve.studwork import left_of

SHORTEST = Fraction(3)  # inches; a shorter piece of a rung, crosser or rail is not cut
WELL_OUT = Fraction(6)  # inches; what comes out less than this is a slip in the soffit's size, and nothing that leaves
SHORT = Fraction(48)  # inches along the run; what is longer follows the run and can't be meant to leave it


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole along the run, and across it or up; *headed* asks for a header at each edge, however small it is."""

    u: Stretch
    v: Stretch
    headed: bool = False

    def patch(self) -> Rectangle:
        """Return it as a rectangle."""
        return Rectangle(self.u, self.v)


@dataclass(frozen=True, slots=True)
class Closed:
    """A finished face of a soffit: across which axis and where, which way it looks, how thick its board is.

    *within* is what its framing leaves for an opening, in the two coordinates across the axis.
    """

    axis: Axis
    at: Fraction
    toward: int
    board: Fraction
    within: Rectangle


def ladder(
    name: str, site: Site, shape: Shape, run: Stretch, across: Stretch, way: int, holes: Iterable[Hole] = ()
) -> tuple[Part, ...]:
    """Return two rails over the whole run and the rungs between; *across* are the ladder's faces, *way* leads out.

    *holes*, along and up, and what goes right through are framed. A rail stops where something lies in its way. A rail
    longer than what is sold is joined on a rung, the lower one on another rung than the upper one.
    """
    size, (low, high) = shape.timber, shape.rungs()
    through = _passing(site, run, across, (shape.bottom, shape.top), way)
    found = _all(holes, through, shape)
    centres = rows(site, shape, run, across, (low, high), [hole.u for hole in found])
    parts: list[Part] = []
    joints: set[Fraction] = set()
    for role, at in (("top rail", high), ("bottom rail", shape.bottom)):
        taken = [patch.u for patch in through if patch.v[0] < at + size.wide and at < patch.v[1]]
        held = [centre for centre in centres if centre not in joints]
        pieces = [
            piece
            for whole in left_of(run, taken, SHORTEST)
            for piece in cut(whole, held, size.stock, early=role == "bottom rail")
        ]
        joints |= {piece[1] for piece in pieces}
        parts += [
            stick(f"{name} {role}{numbered}", role, size.stock, "x", piece, (across[0], at), "z")
            for numbered, piece in counted(tuple(pieces))
        ]
    uprights, headers = _framed(found, centres, shape, run, (low, high))
    parts += [
        stick(f"{name} rung {n}", "rung", size.stock, "z", up, (centre - size.wide / 2, across[0]), "x")
        for n, (centre, up) in enumerate(uprights, 1)
    ]
    parts += [
        stick(f"{name} header {n}", "header", size.stock, "x", along, (across[0], at), "z")
        for n, (along, at) in enumerate(headers, 1)
    ]
    return tuple(parts)


def crossers(
    name: str, site: Site, shape: Shape, run: Stretch, across: Stretch, holes: Iterable[Hole] = (),
    aside: Iterable[Stretch] = (),
) -> tuple[Part, ...]:  # fmt: skip
    """Return the flat members that span *across* at the level of the bottom rails, framed round *holes* in the bottom.

    *aside* are stretches of the run that crossers have to leave free without a header, such as those of lights.
    """
    size, level = shape.timber, (shape.bottom, shape.bottom + shape.timber.thick)
    found = _all(holes, _passing(site, run, across, level), shape)
    centres = rows(site, shape, run, across, level, [hole.u for hole in found])
    centres = around(centres, aside, size.wide)
    spans, headers = _framed(found, centres, shape, run, across)
    return (
        *(
            stick(f"{name}crosser {n}", "crosser", size.stock, "y", span, (c - size.wide / 2, shape.bottom), "x")
            for n, (c, span) in enumerate(spans, 1)
        ),
        *(
            stick(f"{name}header {n}", "header", size.stock, "x", along, (at, shape.bottom), "y")
            for n, (along, at) in enumerate(headers, 1)
        ),
    )


def _all(holes: Iterable[Hole], through: Iterable[Rectangle], shape: Shape) -> tuple[Hole, ...]:
    """Return the holes of the record with those of what passes; a wide one is headed."""
    found = [*holes, *(Hole(patch.u, patch.v) for patch in through)]
    return tuple(replace(hole, headed=hole.headed or hole.u[1] - hole.u[0] > shape.spacing) for hole in found)


def _passing(site: Site, run: Stretch, across: Stretch, up: Stretch, way: int = 0) -> tuple[Rectangle, ...]:
    """Return what goes right through a ladder out to *way*, along the run and up; or through the bottom, across.

    What merely reaches into the layer, or follows the run in it, is no hole and is left to the clash test.
    """
    found = []
    for thing in (*site.hidden, *site.others):
        if thing.material is Material.CABLE:
            continue
        for solid in thing.solids:
            room = solid.bounds().grown(thing.clearance)
            if not _meets(room, run, across, up):
                continue
            if way and through_side(room, across, way):
                found.append(Rectangle((room.low.x, room.high.x), (room.low.z, room.high.z)))
            if not way and through_bottom(room, up):
                found.append(Rectangle((room.low.x, room.high.x), (room.low.y, room.high.y)))
    return united(found)


def through_side(room: Box, across: Stretch, way: int) -> bool:
    """Tell whether something goes right through a ladder with these faces, out to *way*, and comes out well beyond."""
    beyond = room.high.y - across[1] if way > 0 else across[0] - room.low.y
    right_through = room.low.y <= across[0] and across[1] <= room.high.y
    return right_through and beyond >= WELL_OUT and room.size("x") <= max(SHORT, room.size("y"))


def through_bottom(room: Box, up: Stretch) -> bool:
    """Tell whether something goes down through a bottom layer: it is short, and comes out well below."""
    return room.low.z <= up[0] - WELL_OUT and up[1] <= room.high.z and room.size("x") <= SHORT


def leaving(things: Iterable[HiddenThing], plan: Stretch, shape: Shape) -> dict[str, str]:
    """Return, by its key, through what each thing that leaves a soffit does so: its side, or its bottom.

    *plan* are the outer faces of the soffit across the run.
    """
    thick, found = shape.timber.thick, dict[str, str]()
    level = (shape.bottom, shape.bottom + thick)
    for thing in things:
        for room in (solid.bounds().grown(thing.clearance) for solid in thing.solids):
            inside = room.low.y < plan[1] and plan[0] < room.high.y and room.low.z < shape.top
            low, high = (plan[0], plan[0] + thick), (plan[1] - thick, plan[1])
            if inside and (through_side(room, low, -1) or through_side(room, high, 1)):
                found.setdefault(thing.key, "side")
            elif inside and through_bottom(room, level):
                found.setdefault(thing.key, "bottom")
    return found


def _meets(room: Box, run: Stretch, across: Stretch, up: Stretch) -> bool:
    spans = ((room.low.x, room.high.x, run), (room.low.y, room.high.y, across), (room.low.z, room.high.z, up))
    return all(low < span[1] and span[0] < high for low, high, span in spans)


Member = tuple[Fraction, Stretch]
Header = tuple[Stretch, Fraction]


def _framed(
    holes: tuple[Hole, ...], centres: tuple[Fraction, ...], shape: Shape, run: Stretch, whole: Stretch
) -> tuple[list[Member], list[Header]]:
    """Return members with the stretch each spans, whole or in pieces, and headers with where each lies."""
    wide, half = shape.timber.wide, shape.timber.wide / 2
    members: list[Member] = [(centre, whole) for centre in centres]
    headers: list[Header] = []
    for hole in holes:
        if not hole.headed:
            continue
        left = max((c + half for c in centres if c + half <= hole.u[0]), default=run[0])
        right = min((c - half for c in centres if c - half >= hole.u[1]), default=run[1])
        beside = (hole.v[0] - wide, hole.v[1])
        lying = [at for at in beside if whole[0] <= at and at + wide <= whole[1]]
        headers += [((left, right), at) for at in lying]
        between = layout(left - wide, right + wide, shape.spacing, wide)[1:-1]  # the outer two are there already
        members += [(c, piece) for c in between for piece in _stubs(holes, c, half, whole)]
    return sorted(set(members)), headers


def _stubs(holes: Iterable[Hole], centre: Fraction, half: Fraction, whole: Stretch) -> list[Stretch]:
    """Return what is left of a member between the headers of all holes that it would run into."""
    met = [hole for hole in holes if hole.u[0] < centre + half and centre - half < hole.u[1]]
    return list(left_of(whole, [(hole.v[0] - 2 * half, hole.v[1] + 2 * half) for hole in met], SHORTEST))

"""An end of a soffit that meets no wall in, the frame and the board that close it out.

Past an end there is the room, or the next step of the same soffit; then only what it leaves uncovered is closed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import HiddenThing, Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box, Polygon
from bookgen.solve.clash import stops_short
from bookgen.solve.cropped import cropped
from bookgen.solve.cutout import Rectangle, within
from bookgen.solve.framing import Stretch, around, layout, merged, stick
from bookgen.solve.sheathing import outlined
from bookgen.solve.site import Site
from bookgen.solve.soffit_holes import Closed, Hole
from bookgen.solve.soffits import Shape, sheets, through
from bookgen.solve.studwork import left_of

SHORTEST = Fraction(3)  # inches; a shorter leftover of an end rail or upright is not cut
WIDE = Fraction(8)  # inches; what is wider has an upright at both sides, so that the board round it is held
FAR = Fraction(10000)  # inches; past every wall and ceiling


@dataclass(frozen=True, slots=True)
class Beside:
    """What an end meets in a part of its width: the outer face of its framing across the run, and its underside.

    It is the next step, or a chase; one that does not reach to the low side has an *inside* face too.
    """

    outside: Fraction
    bottom: Fraction
    inside: Fraction = -FAR


@dataclass(frozen=True, slots=True)
class OpenEnd:
    """An end to close: its station, which way it looks (+1, -1), and what to call it.

    *across* are the outside faces of the soffit's framing, *inside* the faces that the end's frame fits between.
    *holes* are the openings for covers in it, across the run and up; beside a next step there are none.
    """

    at: Fraction
    way: int
    name: str
    across: Stretch
    inside: Stretch
    beside: Beside | None = None
    holes: tuple[Hole, ...] = ()

    def slice(self, thick: Fraction) -> Stretch:
        """Return the stretch of the run that a frame *thick* inches deep takes up."""
        return (self.at - thick, self.at) if self.way > 0 else (self.at, self.at + thick)


def end_frame(site: Site, shape: Shape, end: OpenEnd) -> tuple[Part, ...]:
    """Return the rail under the joists, the uprights on the last crosser and their headers, less what passes.

    Beside a next step they stand only where this one reaches further out, and under it where this one hangs lower.
    """
    beside = end.beside
    if beside is None:
        return _panel(site, shape, end, end.across, shape.top)
    outer = _panel(site, shape, end, (beside.outside, end.across[1]), shape.top)
    under = _panel(site, shape, end, (end.across[0], min(beside.outside, end.across[1])), beside.bottom, "lower ")
    inner = _panel(site, shape, end, (end.across[0], beside.inside), shape.top, "inner ")
    return (*outer, *inner, *(under if beside.bottom > shape.bottom else ()))


def _panel(site: Site, shape: Shape, end: OpenEnd, across: Stretch, top: Fraction, label: str = "") -> tuple[Part, ...]:
    """Return a rail with its upper edge at *top*, uprights and headers under it, between two faces across the run."""
    size = shape.timber
    low, high = _room(shape, top)
    inside = (max(across[0], end.inside[0]), min(across[1], end.inside[1]))
    if high < low or inside[1] - inside[0] < size.wide:
        return ()
    run = end.slice(size.thick)
    rooms = _rooms(site, run)
    taken = _across(rooms, inside, (high, top))
    rails = [
        stick(f"{end.name} {label}rail {number}", "end rail", size.stock, "y", piece, (run[0], high), "z")
        for number, piece in enumerate(left_of(inside, taken, SHORTEST), 1)
    ]
    if high - low < size.thick:
        return tuple(rails)
    up, half = (low, high if rails else top), size.wide / 2
    uprights = [
        Rectangle((centre - half, centre + half), piece)
        for centre in _uprights(shape, end, _across(rooms, across, up), across)
        if inside[0] <= centre - half and centre + half <= inside[1]
        for piece in left_of(up, _up(rooms, (centre - half, centre + half)), size.wide)
    ]
    standing = tuple(
        stick(f"{end.name} {label}upright {number}", "end upright", size.stock, "z", one.v, (run[0], one.u[0]), "y")
        for number, one in enumerate(filter(_stands, uprights), 1)
    )
    at_ends = _at_cut_ends(shape, end, rooms, Rectangle(inside, up), uprights)
    lying = (*_over_openings(shape, end, (low, high)), *at_ends)
    headers = (
        stick(f"{end.name} {label}header {number}", "header", size.stock, "y", piece.u, (run[0], piece.v[0]), "z")
        for number, piece in enumerate(lying, 1)
    )
    return (*rails, *standing, *headers)


def _room(shape: Shape, top: Fraction) -> Stretch:
    """Return the height between the last crosser and the rail of an end."""
    return shape.bottom + max(shape.timber.thick, shape.timber.wide), top - shape.timber.wide


def _over_openings(shape: Shape, end: OpenEnd, up: Stretch) -> tuple[Rectangle, ...]:
    """Return a header under and one over each opening, between the uprights beside it, where there is room for it."""
    wide = shape.timber.wide
    spots = [(hole.u, at) for hole in end.holes for at in (hole.v[0] - wide, hole.v[1])]
    return tuple(Rectangle(across, (at, at + wide)) for across, at in spots if up[0] <= at and at + wide <= up[1])


def _stands(upright: Rectangle) -> bool:
    """Tell whether what is left of an upright is long enough to be cut."""
    return upright.v[1] - upright.v[0] >= SHORTEST


def _at_cut_ends(
    shape: Shape, end: OpenEnd, passing: list[Box], room: Rectangle, uprights: list[Rectangle]
) -> tuple[Rectangle, ...]:
    """Return a header at each side of an upright's cut end, over to what stands next: it holds the board there.

    *room* is what the frame lies in, across the run and up; *uprights* are cut at what is *passing*. Where too little
    is left of one to be cut, the header lies in its place.
    """
    wide = shape.timber.wide
    wood = [one for one in uprights if _stands(one)]
    free = [*map(_seen, passing), *end_patches(end), *_over_openings(shape, end, room.v)]
    found: list[Rectangle] = []
    for upright in uprights:
        below, above = upright.v
        feet = [foot for foot, cut in ((below, below > room.v[0]), (above - wide, above < room.v[1])) if cut]
        for level in (Rectangle(room.u, (foot, foot + wide)) for foot in feet):
            taken = [patch.u for patch in (*wood, *free, *found) if patch.meets(level)]
            left = left_of(room.u, taken, SHORTEST)
            found += [Rectangle(u, level.v) for u in left if u[0] <= upright.u[1] and upright.u[0] <= u[1]]
    return tuple(found)


def _seen(box: Box) -> Rectangle:
    """Return a box as seen along the run: across it, and up."""
    return Rectangle((box.low.y, box.high.y), (box.low.z, box.high.z))


def end_covers(site: Site, shape: Shape, ends: Iterable[OpenEnd]) -> tuple[Closed, ...]:
    """Return the finished ends that a cover may lie in, and what their frames leave for it."""
    thick, wide = site.level.wall_board, shape.timber.wide
    return tuple(
        Closed(
            "x", end.at + end.way * thick, end.way, thick,
            Rectangle((end.inside[0] + wide, end.inside[1] - wide), _room(shape, shape.top)),
        )
        for end in ends
        if end.beside is None
    )  # fmt: skip


def _uprights(shape: Shape, end: OpenEnd, taken: list[Stretch], across: Stretch) -> tuple[Fraction, ...]:
    """Return where uprights stand: at the spacing, and at both sides of an opening and of what passes there.

    *taken* are the stretches of what passes. It is narrow, and needs none beside it, where no upright is cut for it.
    """
    wide = shape.timber.wide
    opened = [hole.u for hole in end.holes]
    row = [c for c in layout(*across, shape.spacing, wide) if not any(_in_way(c, wide, zone) for zone in opened)]
    passing = [
        zone
        for zone in merged(taken, wide)
        if zone[1] - zone[0] > WIDE or any(_in_way(centre, wide, zone) for centre in row)
    ]
    zones = [*opened, *passing]
    beside = around(row, zones, wide, always=True) if zones else row
    return tuple(sorted({*beside, *(c for c in row if all(abs(c - other) >= wide for other in beside))}))


def _in_way(centre: Fraction, wide: Fraction, zone: Stretch) -> bool:
    return zone[0] < centre + wide / 2 and centre - wide / 2 < zone[1]


def end_board(site: Site, end: OpenEnd, across: Stretch, up: Stretch) -> tuple[Part, ...]:
    """Return the board over an end; *across* and *up* are its finished edges."""
    thick = site.level.wall_board
    plane = (end.at, end.at + thick) if end.way > 0 else (end.at - thick, end.at)
    things = [thing if thing.clearance else _going_on(thing, end) for thing in (*site.hidden, *site.others)]
    holes = (*end_patches(end), *through(cropped(things, plane), "x", plane))
    covered = _covered(site, end)
    parts: list[Part] = []
    pieces = [Rectangle(across, up)] if covered is None else _uncovered(Rectangle(across, up), covered)
    for number, piece in enumerate(pieces, 1):
        name = f"{end.name} board" if len(pieces) == 1 else f"{end.name} board {number}"
        parts += sheets(name, "x", end.at, end.way, piece, holes, thick)
    return tuple(parts)


def _going_on(thing: HiddenThing, end: OpenEnd) -> HiddenThing:
    """Return a thing without the sloping pipes that end where the soffit does: their slanting ends make no hole."""
    kept = tuple(solid for solid in thing.solids if not stops_short(solid, "x", end.at, end.way))
    return replace(thing, solids=kept)


def end_patches(end: OpenEnd) -> tuple[Rectangle, ...]:
    """Return what is cut out of the board over an end for its covers."""
    return tuple(hole.patch() for hole in end.holes)


def end_outline(site: Site, end: OpenEnd, across: Stretch, up: Stretch) -> Polygon:
    """Return the finished face of an end, across the run and up: less its openings, or an L round the next step."""
    covered = _covered(site, end)
    (low, high), (foot, top) = across, up
    if covered is not None and low < covered.u[0]:
        whole = Rectangle(across, up)
        return outlined(whole, [within(covered, whole)] if covered.meets(whole) else [])
    if covered is None or covered.u[1] <= low or covered.v[0] >= top:
        return outlined(Rectangle(across, up), end_patches(end))
    side, under = min(covered.u[1], high), max(covered.v[0], foot)
    corners = ((low, foot), (high, foot), (high, top), (side, top), (side, under), (low, under))
    flat = under == foot
    return Polygon(((side, foot), (high, foot), (high, top), (side, top)) if flat else _l_shape(corners, side == high))


def _l_shape(corners: tuple[tuple[Fraction, Fraction], ...], strip: bool) -> tuple[tuple[Fraction, Fraction], ...]:
    """Return the corners of an L; where nothing of it goes up, those of the strip along its foot."""
    (low, foot), (high, _), _, _, (_, under), _ = corners
    return ((low, foot), (high, foot), (high, under), (low, under)) if strip else corners


def _covered(site: Site, end: OpenEnd) -> Rectangle | None:
    """Return the finished section of what an end meets: from the wall or its inside out, and from its underside up."""
    if end.beside is None:
        return None
    level = site.level
    across = (end.beside.inside - level.wall_board, end.beside.outside + level.wall_board)
    return Rectangle(across, (end.beside.bottom - level.ceiling_board, FAR))


def _uncovered(whole: Rectangle, covered: Rectangle) -> list[Rectangle]:
    """Return what a next step leaves of an end: beside it the whole height, under it a strip."""
    side, under = covered.u[1], covered.v[0]
    pieces = []
    if covered.u[0] > whole.u[0]:
        pieces.append(Rectangle((whole.u[0], min(covered.u[0], whole.u[1])), whole.v))
    if under > whole.v[0]:
        pieces.append(Rectangle((whole.u[0], min(side, whole.u[1])), (whole.v[0], min(under, whole.v[1]))))
    if side < whole.u[1]:
        pieces.append(Rectangle((max(side, whole.u[0]), whole.u[1]), whole.v))
    return pieces


def _across(rooms: list[Box], across: Stretch, up: Stretch) -> list[Stretch]:
    """Return the stretches across the run that rooms take up between two faces across it and two heights."""
    return [
        (room.low.y, room.high.y)
        for room in rooms
        if room.low.z < up[1] and up[0] < room.high.z and room.low.y < across[1] and across[0] < room.high.y
    ]


def _up(rooms: list[Box], across: Stretch) -> list[Stretch]:
    """Return the heights that rooms take up between two faces across the run."""
    return [(room.low.z, room.high.z) for room in rooms if room.low.y < across[1] and across[0] < room.high.y]


def _rooms(site: Site, run: Stretch) -> list[Box]:
    """Return the boxes round what hidden things there are in a slice of the run, with their clearances."""
    boxes = [
        solid.bounds().grown(thing.clearance)
        for thing in cropped((*site.hidden, *site.others), run)
        if thing.material is not Material.CABLE
        for solid in thing.solids
    ]
    return [box for box in boxes if box.low.x < run[1] and run[0] < box.high.x]

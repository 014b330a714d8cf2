"""The access points of a record and a finished face in, the covers that lie in that face, in its plane, out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import ACROSS, AXES, Axis, Box, Point, box
from bookgen.model.place import Place
from bookgen.model.problem import Problem, said
from bookgen.model.project import Step
from bookgen.model.records.obstacle import AccessPoint
from bookgen.model.records.values import Size
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.positions import Ground, Spot, locate
from bookgen.solve.site import Guest, Site

NEAR = Fraction(1)  # inches by which a cover's place may miss the face that it lies in
PLATE = "cover plate"
FLAT = {"hinged door", "lift-out panel", "magnetic panel", PLATE, "grille"}
PROUD = Fraction(1, 4)  # a cover stands this much before the board; common practice for a framed access door


SLACK = Fraction(1, 4)  # inches by which a cover as taped may miss the stretches of its place
GAP = Fraction(1, 8)  # round a panel of board that lies flush in its hole; common practice
STOP = "1x2"  # what such a panel lands on, with the steel or the magnets that hold it; common practice
# What is a cover of this kind made of? A panel of board is held by magnets, flush with the board round it.
MADE_OF = {
    "hinged door": Material.PANEL,
    "lift-out panel": Material.PANEL,
    "magnetic panel": Material.BOARD,
    PLATE: Material.STEEL,
    "grille": Material.STEEL,
}


@dataclass(frozen=True, slots=True)
class CoverInFace:
    """A cover in a face: what it is called, its kind, its rectangle in the two coordinates across the face.

    *paths* lead to each place in the record that writes it: several access points may share a cover. One that another
    record writes, and makes, has its *place* there.
    """

    name: str
    kind: str
    patch: Rectangle
    paths: tuple[tuple[Step, ...], ...]
    place: Place | None = None

    def problem(self, site: Site, code: str, value: str, rule: str, repair: str) -> Problem:
        """Return a Problem at where it is written."""
        place = site.place(*self.paths[0]) if self.place is None else self.place
        return Problem(place, code, said(self.paths[0]), value, rule, repair)


def covers_in(site: Site, axis: Axis, at: Fraction) -> tuple[tuple[CoverInFace, ...], tuple[Problem, ...]]:
    """Return the covers of the record that lie in the face across *axis* at *at*, in the run's frame.

    Two access points may share a cover; it comes once. Openings of other records come with them. Problems are those of
    `locate` and `cover-size-disagrees`.
    """
    found: dict[Rectangle, CoverInFace] = {}
    problems: list[Problem] = []
    for point, spans, path in _placed(site):
        if isinstance(spans, Problem):
            problems.append(spans)
        elif spans[axis][0] - NEAR <= at <= spans[axis][1] + NEAR:
            cover = _flat(point, spans, axis, path) or _over_box(site, point, spans, axis, path)
            if cover is not None:
                problems += _disagrees(site, point, spans, axis, path)
            if cover is not None and cover.patch in found:
                found[cover.patch] = replace(found[cover.patch], paths=(*found[cover.patch].paths, path))
            elif cover is not None:
                found[cover.patch] = cover
    guests = (cover for guest in site.guests if (cover := _of_guest(site, guest, axis, at)) is not None)
    return (*found.values(), *guests), tuple(problems)


def _of_guest(site: Site, guest: Guest, axis: Axis, at: Fraction) -> CoverInFace | None:
    """Return the cover of an opening that another record writes in a face; None where it lies in another one."""
    room = site.frame.box_from_level(guest.room)
    spans: dict[Axis, Stretch] = {one: (room.low.on(one), room.high.on(one)) for one in AXES}
    if room.size(axis) or not spans[axis][0] - NEAR <= at <= spans[axis][1] + NEAR:
        return None
    u, v = (_sized(guest.size, spans[name], name) for name in ACROSS[axis])
    if u is None or v is None:
        return None
    return CoverInFace(guest.what, "", Rectangle(u, v), (guest.path,), guest.place)


def _disagrees(
    site: Site, point: AccessPoint, spans: dict[Axis, Stretch], axis: Axis, path: tuple[Step, ...]
) -> Iterator[Problem]:
    """Yield a `cover-size-disagrees` Problem where a cover's size is not that of the stretches of its place."""
    size = point.cover.size
    if size is None:
        return
    sides = [spans[name][1] - spans[name][0] for name in ACROSS[axis]]
    asked = [size.wide.inches, size.high.inches]
    ways = (asked, asked[::-1]) if axis == "z" else (asked,)  # in a ceiling nobody knows which side is its width
    if not any(all(not side or abs(side - one) <= SLACK for side, one in zip(sides, way, strict=True)) for way in ways):
        value = " × ".join(site.tape.short(one) for one in asked)
        rule = f"its place makes it {' × '.join(site.tape.short(side) for side in sides if side)}"
        where = (*path[:-1], "size") if "cover" in path else (*path[:-1], "cover", "size")
        yield site.problem("cover-size-disagrees", where, value, rule, "measure it again")


def _over_box(
    site: Site, point: AccessPoint, spans: dict[Axis, Stretch], axis: Axis, path: tuple[Step, ...]
) -> CoverInFace | None:
    """Return a plate without a size, as large as the box of the record that it lies over; None where there is none."""
    own = _box_under(site, point, spans)
    if own is None:
        return None
    u, v = ((own[1].low.on(name), own[1].high.on(name)) for name in ACROSS[axis])
    return CoverInFace(f"cover {point.tag}", point.cover.kind, Rectangle(u, v), (path,))


def flush_boxes(site: Site) -> frozenset[str]:
    """Return the keys of the record's boxes that stand in a face, under a cover plate: they may be seen."""
    rows = ((point, spans) for point, spans, _ in _placed(site) if not isinstance(spans, Problem))
    return frozenset(own[0] for point, spans in rows if (own := _box_under(site, point, spans)) is not None)


def _box_under(site: Site, point: AccessPoint, spans: dict[Axis, Stretch]) -> tuple[str, Box] | None:
    """Return the key and the outline of what the record writes as a box, right where a plate without a size is."""
    if point.cover.kind != PLATE or point.cover.size is not None:
        return None
    spot = Point(*((spans[axis][0] + spans[axis][1]) / 2 for axis in AXES))
    for thing, record in zip(site.hidden, site.file.record.inside, strict=False):
        whole = thing.solids[0].bounds()
        if (record.fitting is not None or record.body is not None) and whole.grown(NEAR).holds(spot):
            return thing.key, whole
    return None


def covers_across(site: Site, axis: Axis) -> tuple[CoverInFace, ...]:
    """Return the covers of the record that are written flat across *axis*, wherever their face may be."""
    rows = ((point, spans, path) for point, spans, path in _placed(site) if not isinstance(spans, Problem))
    found = (_flat(point, spans, axis, path) for point, spans, path in rows if len(path) > 3)
    return tuple(cover for cover in found if cover is not None)


def _placed(site: Site) -> Iterator[tuple[AccessPoint, dict[Axis, Stretch] | Problem, tuple[Step, ...]]]:
    """Yield each access point with a flat cover, the stretches of that cover in the run's frame, and its path."""
    for index, point in enumerate(site.file.record.access):
        if point.cover.kind not in FLAT:
            continue
        path: tuple[Step, ...] = ("access", index, "cover", "at") if point.cover.at else ("access", index, "at")
        spot = locate(point.cover.at or point.at, Ground(site.project, site.file, site.level, site.frame), path)
        yield point, spot if isinstance(spot, Problem) else _in_frame(site, spot), path


def _in_frame(site: Site, spot: Spot) -> dict[Axis, Stretch]:
    corners = [site.frame.from_level(Point(spot.x[end], spot.y[end], spot.z[end])) for end in (0, 1)]
    spans: dict[Axis, Stretch] = {}
    for one in AXES:
        first, second = sorted((corners[0].on(one), corners[1].on(one)))
        spans[one] = (first, second)
    return spans


def _flat(point: AccessPoint, spans: dict[Axis, Stretch], axis: Axis, path: tuple[Step, ...]) -> CoverInFace | None:
    """Return a cover that is written flat across *axis*; None where its place says another way, or no size."""
    level = [one for one in AXES if spans[one][0] == spans[one][1]]
    if axis not in level and level:
        return None
    u, v = (_sized(point.cover.size, spans[name], name) for name in ACROSS[axis])
    if u is None or v is None:
        return None
    return CoverInFace(f"cover {point.tag}", point.cover.kind, Rectangle(u, v), (path,))


def _sized(size: Size | None, span: Stretch, axis: Axis) -> Stretch | None:
    """Return a stretch of a cover: as written, or its size round the middle."""
    if span[0] < span[1]:
        return span
    if size is None:
        return None
    side = size.high.inches if axis == "z" else size.wide.inches
    return span[0] - side / 2, span[0] + side / 2


def cover_parts(
    cover: CoverInFace, axis: Axis, at: Fraction, toward: int, board: Fraction, *, fills: bool = False
) -> tuple[Part, ...]:
    """Return a cover in the finished face *at*, which looks to *toward*, with what holds it.

    Doors, panels and grilles lie on the face over the hole in the *board*, and one that *fills* it reaches through it
    with its frame; a panel of board lies in the hole, flush, on a stop at its foot and one at its head. What another
    record writes is made there.
    """
    if cover.place is not None:
        return ()
    material, first = MADE_OF[cover.kind], ACROSS[axis][0]
    if material is not Material.BOARD:
        return (
            _piece(
                cover.name,
                "cover",
                material,
                "",
                axis,
                cover.patch,
                (at - toward * (board if fills else 0), at + toward * PROUD),
                axis,
            ),
        )
    (low, high), (foot, head) = cover.patch.u, cover.patch.v
    inside = Rectangle((low + GAP, high - GAP), (foot + GAP, head - GAP))
    thick, wide = true_size(STOP) or (Fraction(0), Fraction(0))
    back = at - toward * board
    layer = back, back - toward * thick
    return (
        _piece(cover.name, "cover", material, "", axis, inside, (at, back), axis),
        _piece(
            f"{cover.name}, low stop",
            "stop",
            Material.LUMBER,
            STOP,
            axis,
            Rectangle((low, high), (foot, foot + wide)),
            layer,
            first,
        ),
        _piece(
            f"{cover.name}, high stop",
            "stop",
            Material.LUMBER,
            STOP,
            axis,
            Rectangle((low, high), (head - wide, head)),
            layer,
            first,
        ),
    )


def _piece(
    name: str, role: str, material: Material, stock: str, axis: Axis, patch: Rectangle, layer: Stretch, grain: Axis
) -> Part:
    first, second = ACROSS[axis]
    spans: dict[Axis, Stretch] = {axis: (min(layer), max(layer)), first: patch.u, second: patch.v}
    return Part(name, role, box(spans["x"], spans["y"], spans["z"], grain), material, stock)

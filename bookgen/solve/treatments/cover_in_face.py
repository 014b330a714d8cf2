"""The access points of a record and a finished face in, the covers that lie in that face, in its plane, out."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from bookgen.model.assembly import Material, Part
from bookgen.model.geometry import ACROSS, AXES, Axis, Point, box
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.obstacle import AccessPoint
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch
from bookgen.solve.positions import Ground, Spot, locate
from bookgen.solve.site import Site

NEAR = Fraction(1)  # inches by which a cover's place may miss the face that it lies in
FLAT = {"hinged door", "lift-out panel", "magnetic panel", "cover plate", "grille"}
PROUD = Fraction(1, 4)  # a cover stands this much before the board; common practice for a framed access door


@dataclass(frozen=True, slots=True)
class CoverInFace:
    """A cover in a face: what it is called, its rectangle in the two coordinates across the face, its record's path."""

    name: str
    kind: str
    patch: Rectangle
    path: tuple[Step, ...]


def covers_in(site: Site, axis: Axis, at: Fraction) -> tuple[tuple[CoverInFace, ...], tuple[Problem, ...]]:
    """Return the covers of the record that lie in the face across *axis* at *at*, in the run's frame.

    Two access points may share a cover; it comes once. Problems are those of `locate`.
    """
    found: dict[Rectangle, CoverInFace] = {}
    problems: list[Problem] = []
    for index, point in enumerate(site.file.record.access):
        if point.cover.kind not in FLAT:
            continue
        own = point.cover.at is not None
        path: tuple[Step, ...] = ("access", index, "cover", "at") if own else ("access", index, "at")
        ground = Ground(site.project, site.file, site.level, site.frame)
        spot = locate(point.cover.at or point.at, ground, path)
        if isinstance(spot, Problem):
            problems.append(spot)
            continue
        cover = _in_face(site, point, spot, axis, at, path)
        if cover is not None:
            found.setdefault(cover.patch, cover)
    return tuple(found.values()), tuple(problems)


def _in_face(
    site: Site, point: AccessPoint, spot: Spot, axis: Axis, at: Fraction, path: tuple[Step, ...]
) -> CoverInFace | None:
    low, high = (spot.x[0], spot.y[0], spot.z[0]), (spot.x[1], spot.y[1], spot.z[1])
    corners = [site.frame.from_level(Point(*values)) for values in (low, high)]
    spans: dict[Axis, Stretch] = {}
    for one in AXES:
        first, second = sorted((corners[0].on(one), corners[1].on(one)))
        spans[one] = (first, second)
    if not (spans[axis][0] - NEAR <= at <= spans[axis][1] + NEAR):
        return None
    u, v = (_sized(point, spans[name], name) for name in ACROSS[axis])
    if u is None or v is None:
        return None
    return CoverInFace(f"cover {point.tag}", point.cover.kind, Rectangle(u, v), path)


def _sized(point: AccessPoint, span: Stretch, axis: Axis) -> Stretch | None:
    """Return a stretch of the cover: as written, or its size round the middle."""
    if span[0] < span[1]:
        return span
    if point.cover.size is None:
        return None
    size = point.cover.size.high.inches if axis == "z" else point.cover.size.wide.inches
    return span[0] - size / 2, span[0] + size / 2


def cover_part(cover: CoverInFace, axis: Axis, at: Fraction, toward: int, back: Fraction) -> Part:
    """Return the cover as a Part: from *back* behind the finished face *at* to a little before it."""
    low, high = sorted((at - toward * back, at + toward * PROUD))
    first, second = ACROSS[axis]
    spans: dict[Axis, Stretch] = {axis: (low, high), first: cover.patch.u, second: cover.patch.v}
    return Part(cover.name, "cover", box(spans["x"], spans["y"], spans["z"], axis), Material.PANEL, "")

"""The access points of a record and the faces of its soffit in, the openings to frame and their covers out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box, Point
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.obstacle import AccessPoint
from bookgen.solve.cutout import Rectangle
from bookgen.solve.positions import Ground, locate
from bookgen.solve.site import Site
from bookgen.solve.soffit_holes import Closed, Hole
from bookgen.solve.treatments.cover_in_face import FLAT, PLATE, CoverInFace, cover_parts, covers_in
from bookgen.solve.two_sided import Openings


@dataclass(frozen=True, slots=True)
class Covered:
    """The covers in one face."""

    face: Closed
    covers: tuple[CoverInFace, ...]

    def holes(self) -> tuple[Hole, ...]:
        """Return the openings to frame."""
        return tuple(Hole(cover.patch.u, cover.patch.v, headed=True) for cover in self.covers)

    def patches(self) -> tuple[Rectangle, ...]:
        """Return what is cut out of the board."""
        return tuple(cover.patch for cover in self.covers)

    def parts(self) -> tuple[Part, ...]:
        """Return the covers, and what holds them."""
        face = self.face
        return tuple(p for c in self.covers for p in cover_parts(c, face.axis, face.at, face.toward, face.board))


def covered(site: Site, faces: Iterable[Closed], inside: Box) -> tuple[tuple[Covered, ...], tuple[Problem, ...]]:
    """Return the covers in each face; *inside* is the room in the soffit.

    Problems: those of `locate`; `cover-past-soffit`; and for a point inside that no cover leads to `cover-in-no-face`,
    or `cover-size-missing` where the record says too little to frame an opening.
    """
    found: list[Covered] = []
    problems: list[Problem] = []
    for face in faces:
        covers, wrong = covers_in(site, face.axis, face.at)
        near = tuple(cover for cover in covers if cover.patch.meets(face.within))
        found.append(Covered(face, near))
        problems += (*wrong, *_past(site, face, near))
    met = {path for one in found for cover in one.covers for path in cover.paths}
    if not problems:
        problems += unmet(site, met, inside)
    return tuple(found), tuple(dict.fromkeys(problems))


def _past(site: Site, face: Closed, covers: Iterable[CoverInFace]) -> Iterator[Problem]:
    short = site.tape.short
    for cover in covers:
        (u, v), within = (cover.patch.u, cover.patch.v), face.within
        if within.u[0] <= u[0] and u[1] <= within.u[1] and within.v[0] <= v[0] and v[1] <= within.v[1]:
            continue
        way = "across" if face.axis == "z" else "up"
        rule = (
            f"its framing leaves {short(within.u[0])} to {short(within.u[1])} along and {short(within.v[0])} to "
            f"{short(within.v[1])} {way}"
        )
        yield cover.problem(site, "cover-past-soffit", cover.name, rule, "write a smaller cover, or move it")


def unmet(site: Site, met: set[tuple[Step, ...]], inside: Box) -> Iterator[Problem]:
    """Yield a Problem for each point in a soffit, or over a ceiling, whose cover was not *met* in any of its faces."""
    for index, point in enumerate(site.file.record.access):
        cover = point.cover
        own: tuple[Step, ...] = ("access", index, "cover", "at") if cover.at else ("access", index, "at")
        if cover.kind not in FLAT or own in met:
            continue
        spot = locate(point.at, Ground(site.project, site.file, site.level, site.frame), ("access", index, "at"))
        if isinstance(spot, Problem):
            yield spot
        elif _in(inside, site.frame.from_level(spot.middle())):
            yield _missing(site, index, point, own)


def _missing(site: Site, index: int, point: AccessPoint, own: tuple[Step, ...]) -> Problem:
    if point.cover.at is None or point.cover.size is None:
        rule = "it lies behind board, and nothing says where in a face its cover is, and how large"
        repair = "write the cover's size, and its at: in the face that it is reached through"
        if point.cover.kind == PLATE:
            repair = "write the plate's size, or the box that it lies over under inside:, such as 4 in square box"
        return site.problem("cover-size-missing", ("access", index, "cover"), f"tag {point.tag}", rule, repair)
    rule, repair = "it lies in no face of the work", "write where its face is, and its stretch in it"
    return site.problem("cover-in-no-face", own, f"tag {point.tag}", rule, repair)


def _in(box: Box, point: Point) -> bool:
    return all(box.low.on(a) <= point.on(a) <= box.high.on(a) for a in ("x", "y", "z"))


def opened(openings: Openings, found: tuple[Covered, ...]) -> Openings:
    """Return the openings of a two-sided soffit with those of its covers: bottom, both sides, ends."""
    bottom, low, high, *ends = found
    sides = ((*openings.sides[0], *low.holes()), (*openings.sides[1], *high.holes()))
    return replace(openings, bottom=(*openings.bottom, *bottom.holes()), sides=sides, ends=in_ends(ends))


def in_ends(found: Iterable[Covered]) -> tuple[tuple[Fraction, Hole], ...]:
    """Return the openings in the closed ends, each with the station of its end."""
    return tuple((one.face.at - one.face.toward * one.face.board, hole) for one in found for hole in one.holes())

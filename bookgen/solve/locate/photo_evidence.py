"""A record's photos with their points in; places of measured marks and framed photos laid over finished ones out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import dist
from typing import Literal

from bookgen.model.evidence import (
    Dot,
    Fit,
    Homography,
    KnownPoint,
    MarkSighting,
    Overlay,
    Pane,
    PhotoEvidence,
    PointPair,
    Refusal,
    Shift,
    Sighting,
)
from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.model.photo import Photo
from bookgen.model.problem import Problem, said
from bookgen.model.project import ObstacleFile, Project, Step
from bookgen.model.records.obstacle import PhotoUse
from bookgen.model.records.seeing import KnownSpot, Mark, SeeThrough, Tied
from bookgen.model.solved import SolvedLevel
from bookgen.solve.locate.homography import fit_homography
from bookgen.solve.locate.wall_photo import (
    Slips,
    cameras,
    cameras_of_one_lens,
    largest_inches,
    largest_overlay_shift,
    measure,
    overlay,
    tie,
)

PHASES = ("before", "framed", "finished")
# Shares of a picture's longer side: a point further off than `LOOSE` does not count, a careful click slips by `CLICK`.
LOOSE = Fraction(12, 1600)
CLICK = Fraction(3, 3200)
Path = tuple[Step, ...]
NORTHWARD = frozenset({"west wall", "east wall", "north"})


@dataclass(frozen=True, slots=True)
class _TiedPhoto:
    """A photo use, where it stands in its record, its size, its lens if it is told, the map from its wall's inches."""

    use: PhotoUse
    path: Path
    size: tuple[int, int]
    focal: float | None
    tied: Tied | None
    fit: Fit | None


def photo_evidence(
    project: Project, file: ObstacleFile, level: SolvedLevel
) -> tuple[PhotoEvidence, tuple[Problem, ...]]:
    """Return what the photos of one record tell, and a Problem for every set of points that can't be used.

    Its code is that of the `Refusal`, or `pair-off` for a single point that the others contradict, or `ties-differ`.
    """
    marks: list[MarkSighting] = []
    overlays: list[Overlay] = []
    problems: list[Problem] = []
    told = _Told(project, file, level)
    photos = {(one.path[1], one.use.file): one for one in told.tied_photos(problems)}
    for photo in photos.values():
        marks += told.measured(photo, problems)
    for index, see in enumerate(file.record.photos.see_through):
        found = told.laid_over(see, index, photos, problems)
        overlays += [found] if found else []
    return PhotoEvidence(tuple(marks), tuple(overlays)), tuple(problems)


@dataclass(frozen=True, slots=True)
class _Told:
    """One record, with what its photos are read against."""

    project: Project
    file: ObstacleFile
    level: SolvedLevel

    def tied_photos(self, problems: list[Problem]) -> Iterator[_TiedPhoto]:
        """Yield every photo of the record, tied where it has points; *problems* gets those that can't be used."""
        for phase in PHASES:
            for index, use in enumerate(getattr(self.file.record.photos, phase)):
                photo, path = self.project.photos[use.file], ("photos", phase, index)
                size = (photo.width, photo.height)
                fit = self._tie(use.tied, photo, (*path, "tied", "points"), problems) if use.tied else None
                yield _TiedPhoto(use, path, size, photo.focal, use.tied, fit)

    def measured(self, photo: _TiedPhoto, problems: list[Problem]) -> Iterator[MarkSighting]:
        """Yield the places of the marks that are to be measured."""
        if photo.fit is None or photo.tied is None:
            return
        for index, mark in enumerate(photo.use.marks):
            if not mark.measure:
                continue
            found = _sighting(photo.fit, photo, mark)
            if isinstance(found, Refusal):
                problems.append(self._refused(found, (*photo.path, "marks", index, "at")))
            else:
                yield MarkSighting(self.file.key, photo.use.file, index, _way(photo.tied), found)

    def laid_over(
        self, see: SeeThrough, index: int, photos: Mapping[tuple[Step, str], _TiedPhoto], problems: list[Problem]
    ) -> Overlay | None:
        """Return the framed photo laid over the finished one; None with a Problem, here or at the points of a tie."""
        path: Path = ("photos", "see through", index)
        framed, finished = photos["framed", see.framed], photos["finished", see.finished]
        outline: tuple[Dot, ...] = tuple((float(x), float(y)) for x, y in see.outline)
        says = " ".join(see.says.split()) if see.says else framed.use.shows
        if see.pairs:
            pairs = tuple(PointPair(p.what, _dot(p.framed), _dot(p.finished)) for p in see.pairs)
            fit = self._accepted(fit_homography(pairs, _loose(finished.size)), (*path, "pairs"), problems)
            if fit is None:
                return None
            panes = (Pane(fit.homography, outline),)
            return Overlay(self.file.key, see.framed, see.finished, panes, says, see.deepest)
        if framed.fit is None or finished.fit is None or framed.tied is None or finished.tied is None:
            return None  # the tie that can't be used has its Problem
        if framed.tied.to != finished.tied.to:
            rule = f"it is tied to {finished.tied.to}, and the framed photo to {framed.tied.to}"
            problems.append(self._problem("ties-differ", path, rule, "tie both to one wall, or write pairs: here"))
            return None
        panes = (Pane(overlay(framed.fit, finished.fit), outline),)
        shift = _shift(framed, finished, outline, see.deepest) if see.deepest else None
        return Overlay(self.file.key, see.framed, see.finished, panes, says, see.deepest, shift)

    def _tie(self, tied: Tied, photo: Photo, path: Path, problems: list[Problem]) -> Fit | None:
        points, size = tuple(self._known(spot) for spot in tied.points), (photo.width, photo.height)
        return self._accepted(tie(points, size, _loose(size), _slips(size), photo.focal), path, problems)

    def _known(self, spot: KnownSpot) -> KnownPoint:
        if spot.along is None:  # a level plane: east and north; the record has made sure that they are there
            east, north = (float(one.inches) for one in (spot.east, spot.north) if one is not None)
            return KnownPoint(spot.what, (east, north), _dot(spot.at), _off(spot))
        up = spot.above_slab.inches if spot.above_slab else Fraction(0)
        if spot.above_floor:
            up = spot.above_floor.inches + self.level.floor
        return KnownPoint(spot.what, (float(spot.along.inches), float(up)), _dot(spot.at), _off(spot))

    def _accepted(self, fit: Fit | Refusal, path: Path, problems: list[Problem]) -> Fit | None:
        """Return a fit in which every point was used; else None, with a Problem for each that can't be."""
        if isinstance(fit, Refusal):
            problems.append(self._refused(fit, path))
            return None
        for index, residual in enumerate(fit.residuals):
            if not residual.used:
                rule = f"{residual.name} is {residual.off:.0f} pixels from where the other points put it"
                repair = "look at the point and its lengths again, or delete it"
                problems.append(self._problem("pair-off", (*path, index), rule, repair))
        return None if fit.bad else fit

    def _refused(self, refusal: Refusal, path: Path) -> Problem:
        return self._problem(refusal.code, path, refusal.says, refusal.repair)

    def _problem(self, code: str, path: Path, rule: str, repair: str) -> Problem:
        return Problem(self.project.places.of(self.file.file, *path), code, said(path), "", rule, repair)


def _sighting(fit: Fit, photo: _TiedPhoto, mark: Mark) -> Sighting | Refusal:
    """Return where a mark is; one off the plane has a wider bound, from all the cameras that are possible."""
    slips, off = _slips(photo.size), _off(mark)
    found = measure(fit, mark.what, _dot(mark.at), slips)
    if not off or isinstance(found, Refusal):
        return found
    place = (float(found.along.inches), float(found.up.inches))
    moved = largest_inches(cameras(fit, photo.size, slips, photo.focal), [place], -off).amount
    return measure(fit, mark.what, _dot(mark.at), slips, moved)


def _shift(framed: _TiedPhoto, finished: _TiedPhoto, outline: tuple[Dot, ...], deepest: Length) -> Length | None:
    """Return by how much, in inches of the wall, something *deepest* behind it seems moved at most in the overlay."""
    if framed.fit is None or finished.fit is None:
        return None
    seen = cameras_of_one_lens((framed.fit, framed.size), (finished.fit, finished.size), _slips(finished.size))
    corners = outline or ((0.0, 0.0), (float(finished.size[0]), float(finished.size[1])))
    box = (
        (min(x for x, _ in corners), min(y for _, y in corners)),
        (max(x for x, _ in corners), max(y for _, y in corners)),
    )
    wall = finished.fit.homography
    found = largest_overlay_shift(wall, seen, box, float(deepest.inches))
    return Length(Fraction(_inches_of(wall, found))) if found else None


def _inches_of(wall: Homography, shift: Shift) -> float:
    """Return how many inches of the wall a shift of pixels is at its worst place, whichever way it goes."""
    back, (x, y) = wall.inverse(), shift.worst
    here = back.at(shift.worst)
    ends = [back.at((x + across, y + down)) for across, down in ((-1, 0), (1, 0), (0, -1), (0, 1))]
    return shift.amount * max((dist(here, end) for end in ends if here and end), default=0.0)


def _way(tied: Tied) -> Literal["east", "north", "level"]:
    if tied.to == "ceiling":
        return "level"
    return "north" if tied.to in NORTHWARD else "east"


def _off(thing: KnownSpot | Mark) -> float:
    """Return how far something stands in front of the plane, in inches; behind it is negative."""
    if thing.in_front:
        return float(thing.in_front.inches)
    return -float(thing.behind.inches) if thing.behind else 0.0


def _dot(pixel: tuple[int, int]) -> Dot:
    return float(pixel[0]), float(pixel[1])


def _loose(size: tuple[int, int]) -> float:
    return float(LOOSE * max(size))


def _slips(size: tuple[int, int]) -> Slips:
    return Slips(click=float(CLICK * max(size)))

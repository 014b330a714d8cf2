"""Record files and their photos in; points outside a picture, see-throughs and marks without a footing out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from bookgen.model.photo import Photo
from bookgen.model.problem import Problem
from bookgen.read.near import did_you_mean
from bookgen.read.source import ANY, Path, Source, one_line

PHASES = ("before", "framed", "finished")
SEEN_PHASES = ("framed", "finished")
USE_POINTS: tuple[Path, ...] = (("tied", "points", ANY, "at"), *(("marks", ANY, key) for key in ("at", "from", "to")))
_PIXELS = re.compile(r"[0-9]{1,6}")


def point_problems(obstacles: tuple[Source, ...], photos: Mapping[str, Photo]) -> Iterator[Problem]:
    """Yield a Problem for every point that its picture does not have, and every see-through or measure without points.

    *photos* are those that could be used; the points of others are left alone.
    """
    for source in obstacles:
        for path, name in (use for phase in PHASES for use in source.texts(("photos", phase, ANY, "file"))):
            patterns = [(*path[:-1], *pattern) for pattern in USE_POINTS]
            yield from _outside(source, photos.get(name), patterns)
            yield from _untied_measures(source, path[:-1])
        for path, _ in source.texts(("photos", "see through", ANY, "framed")):
            yield from _see_through(source, path[:-1], photos)


def _see_through(source: Source, path: Path, photos: Mapping[str, Photo]) -> Iterator[Problem]:
    tied = []
    for phase in SEEN_PHASES:
        uses = {name: use[:-1] for use, name in source.texts(("photos", phase, ANY, "file"))}
        for here, name in source.texts((*path, phase)):
            if name not in uses:
                repair = did_you_mean(name, sorted(uses)) if uses else f"list it under {phase}:"
                yield source.problem("unknown-photo", here, f"no photo under {phase}: has this name", repair)
                return
            tied.append(source.at((*uses[name], "tied")) is not None)
            patterns: list[Path] = [(*path, "pairs", ANY, phase)]
            if phase == "finished":
                patterns.append((*path, "outline", ANY))
            yield from _outside(source, photos.get(name), patterns)
    if not all(tied) and source.at((*path, "pairs")) is None:
        rule = "nothing says which points of the two photos belong together"
        yield source.problem("see-through-untied", path, rule, "add pairs:, or tied: to both photos")


def _untied_measures(source: Source, use: Path) -> Iterator[Problem]:
    if source.at((*use, "tied")) is not None:
        return
    for path, text in source.texts((*use, "marks", ANY, "measure")):
        if text.lower() == "yes":
            rule = "the photo is tied to no wall, so nothing can be measured on it"
            yield source.problem("mark-not-tied", path, rule, "add tied: to the photo, or delete measure:")


def _outside(source: Source, photo: Photo | None, patterns: list[Path]) -> Iterator[Problem]:
    """Yield a Problem for every point of *patterns* that the photo, where it can be used, does not have."""
    if photo is None:
        return
    for path in dict.fromkeys(found[:-1] for pattern in patterns for found, _ in source.texts((*pattern, ANY))):
        right, down = (_pixels(source, (*path, step)) for step in (0, 1))
        if right is None or down is None:
            continue
        if right > photo.width or down > photo.height:
            rule = f"[{right}, {down}] lies outside {photo.name}, which is {photo.width} by {photo.height} pixels"
            repair = "count right and down from the top left corner of the upright original"
            yield source.problem("point-outside-picture", path, rule, repair)


def _pixels(source: Source, path: Path) -> int | None:
    """Return a number of pixels; None for what is none, which has a Problem of its own."""
    value = source.at(path)
    text = one_line(value) if isinstance(value, str) else ""
    return int(text) if _PIXELS.fullmatch(text) else None

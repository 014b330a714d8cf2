"""Photos laid over one another in, finished walls that can be looked through out, with words for what depth does."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import ceil

from bookgen.compose.pictures import Album, percent
from bookgen.model.book import Picture, PictureMark, SeeThrough
from bookgen.model.evidence import Dot, Overlay, Pane
from bookgen.model.length import Length
from bookgen.model.records.obstacle import PhotoUse

ALIKE = 0.02  # of the shape: how different may two pictures be, to be laid on one another?


def see_throughs(keys: set[str], album: Album) -> tuple[SeeThrough, ...]:
    """Return the see-throughs of the records *keys*, in the order of the records."""
    return tuple(_see_through(one, album) for one in album.evidence.overlays if one.obstacle in keys)


def before_after(before: Picture | None, finished: Picture | None) -> tuple[Picture, Picture] | None:
    """Return both pictures where they have the same shape."""
    if before is None or finished is None:
        return None
    shapes = [picture.width / picture.height for picture in (before, finished)]
    return (before, finished) if abs(shapes[0] / shapes[1] - 1) <= ALIKE else None


def _see_through(overlay: Overlay, album: Album) -> SeeThrough:
    framed = album.picture(_use(overlay, overlay.framed, "framed", album), "framed")
    finished = album.picture(_use(overlay, overlay.finished, "finished", album), "finished")
    terms = album.show.terms
    return SeeThrough(
        key=f"{framed.digest}-{finished.digest}",
        finished=finished,
        framed=framed,
        panes=overlay.panes,
        alt=overlay.says,
        caption=terms["see through caption"],
        shift=_shift_words(overlay, album),
        marks=tuple(mark for one in framed.marks if (mark := _moved(one, overlay.panes[0], framed, finished))),
    )


def _use(overlay: Overlay, file: str, phase: str, album: Album) -> PhotoUse:
    record = next(one.record for one in album.project.obstacles if one.key == overlay.obstacle)
    uses: tuple[PhotoUse, ...] = getattr(record.photos, phase)
    return next(use for use in uses if use.file == file)


def _shift_words(overlay: Overlay, album: Album) -> str:
    show = album.show
    if overlay.shift is None or overlay.deepest is None:
        return show.terms["see through shift unknown"]
    shift = Length(Fraction(max(1, ceil(overlay.shift.inches * 4)), 4))  # quarters of an inch, rounded outward
    return show.terms["see through shift"].format(depth=show.length(overlay.deepest), shift=show.length(shift))


def _moved(mark: PictureMark, pane: Pane, framed: Picture, finished: Picture) -> PictureMark | None:
    """Return a mark of the framed picture where it lies on the finished one; None where its tip is off the pane."""
    found = [pane.onto.at((across * framed.width / 100, down * framed.height / 100)) for across, down in mark.dots]
    dots = [dot for dot in found if dot and 0 <= dot[0] <= finished.width and 0 <= dot[1] <= finished.height]
    if len(dots) < len(mark.dots):
        return None
    if pane.outline and not _inside(dots[-1], pane.outline):
        return None
    return replace(mark, dots=tuple(percent(dot, finished.width, finished.height) for dot in dots))


def _inside(dot: Dot, outline: tuple[Dot, ...]) -> bool:
    """Tell whether a line from *dot* to the right crosses the outline an odd number of times."""
    x, y = dot
    crossings = 0
    for (x1, y1), (x2, y2) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            crossings += 1
    return crossings % 2 == 1

"""Photo uses of a record in, pictures for the book out, with phase, date, finished captions and marks."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from bookgen.compose.show import Show
from bookgen.compose.sighted import mark_place
from bookgen.model.book import MarkShape, Percent, Picture, PictureMark
from bookgen.model.evidence import PhotoEvidence
from bookgen.model.photo import Photo
from bookgen.model.project import Project
from bookgen.model.records.obstacle import PhotoUse
from bookgen.model.records.seeing import Mark
from bookgen.model.solved import SolvedLevel

LETTERS = 26


@dataclass(frozen=True, slots=True)
class Album:
    """The project's photos, as this book shows them."""

    project: Project
    show: Show
    level: SolvedLevel
    evidence: PhotoEvidence

    def picture(self, use: PhotoUse, phase: str) -> Picture:
        """Return one photo as a picture of its phase."""
        photo = self.project.photos[use.file]
        day = self.day(use)
        date = self.show.day(day) if day else ""
        title = self.show.terms[f"phase {phase}"]
        dated = f"{title}, {date}" if date else title
        caption = f"{dated}. {use.caption}" if use.caption else f"{dated}."
        marks = picture_marks(use, photo, self)
        return Picture(photo.digest, use.shows, caption, photo.width, photo.height, phase, date, marks)

    def day(self, use: PhotoUse) -> datetime.date | None:
        """Return the day of a photo: as the record says, else as the file's own clock does; never the file's date."""
        if use.on:
            return use.on
        photo = self.project.photos[use.file]
        return photo.taken.date() if photo.taken and photo.time_known == "exif" else None

    def plain(self, name: str, shows: str) -> Picture:
        """Return a picture that belongs to no obstacle, without a caption."""
        photo = self.project.photos[name]
        return Picture(photo.digest, shows, "", photo.width, photo.height, "finished", "")

    def cover(self) -> Picture | None:
        """Return the cover picture: the one named, else the first finished one of the book."""
        record = self.project.record.book
        if record.cover:
            return self.plain(record.cover, record.cover_shows or "")
        uses = (use for file in self.project.obstacles for use in file.record.photos.finished)
        first = next(uses, None)
        return self.picture(first, "finished") if first else None


def picture_marks(use: PhotoUse, photo: Photo, album: Album) -> tuple[PictureMark, ...]:
    """Return the marks of one photo: those with a tag under its number, the others under letters from A on."""
    found = {one.index: one for one in album.evidence.marks if one.file == use.file}
    plain = [index for index, mark in enumerate(use.marks) if not mark.tag]
    marks = []
    for index, mark in enumerate(use.marks):
        shape, pixels = _shape(mark)
        label = mark.tag or _letter(plain.index(index))
        dots = tuple(percent(pixel, photo.width, photo.height) for pixel in pixels)
        where = mark_place(found[index], album.level.floor, album.show) if index in found else ""
        known = _seen_on(use, album) if index in found else ""
        marks.append(PictureMark(shape, label, mark.tag is not None, mark.what, dots, where, known))
    return tuple(marks)


def percent(dot: tuple[float, float], width: int, height: int) -> Percent:
    """Return a pixel in percent of its picture, to the hundredth."""
    return round(100 * dot[0] / width, 2), round(100 * dot[1] / height, 2)


def _seen_on(use: PhotoUse, album: Album) -> str:
    day, terms = album.day(use), album.show.terms
    return f"{terms['measured on photo']}, {album.show.day(day)}" if day else terms["measured on photo"]


def _shape(mark: Mark) -> tuple[MarkShape, tuple[tuple[int, int], ...]]:
    if mark.from_:
        return "arrow", (mark.from_, mark.at)
    return ("box", (mark.at, mark.to)) if mark.to else ("point", (mark.at,))


def _letter(index: int) -> str:
    """Return A to Z, then AA, AB and so on."""
    letter = chr(ord("A") + index % LETTERS)
    return letter if index < LETTERS else _letter(index // LETTERS - 1) + letter

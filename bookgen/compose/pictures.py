"""Photo uses of a record in, pictures for the book out, with phase, date and finished captions."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from bookgen.compose.show import Show
from bookgen.model.book import Picture
from bookgen.model.project import Project
from bookgen.model.records.obstacle import PhotoUse


@dataclass(frozen=True, slots=True)
class Album:
    """The project's photos, as this book shows them."""

    project: Project
    show: Show

    def picture(self, use: PhotoUse, phase: str) -> Picture:
        """Return one photo as a picture of its phase."""
        photo = self.project.photos[use.file]
        day = self.day(use)
        date = self.show.day(day) if day else ""
        title = self.show.terms[f"phase {phase}"]
        dated = f"{title}, {date}" if date else title
        caption = f"{dated}. {use.caption}" if use.caption else f"{dated}."
        return Picture(photo.digest, use.shows, caption, photo.width, photo.height, phase, date)

    def day(self, use: PhotoUse) -> datetime.date | None:
        """Return the day of a photo: as the record says, else as the file's own clock does; never the file's date."""
        if use.on:
            return use.on
        photo = self.project.photos[use.file]
        return photo.taken.date() if photo.taken and photo.time_known == "exif" else None

    def cover(self) -> Picture | None:
        """Return the cover picture: the one named, else the first finished one of the book."""
        record = self.project.record.book
        if record.cover:
            photo = self.project.photos[record.cover]
            return Picture(photo.digest, record.cover_shows or "", "", photo.width, photo.height, "finished", "")
        uses = (use for file in self.project.obstacles for use in file.record.photos.finished)
        first = next(uses, None)
        return self.picture(first, "finished") if first else None

"""What project.yaml says of the book itself: its words on the cover, its paper, how it looks."""

from __future__ import annotations

import re
from typing import ClassVar, Literal, Self

from pydantic import model_validator

from bookgen.model.records.base import Record
from bookgen.model.records.values import Colour, Count, Day, Line, Words, YesNo, wrong

WEB = re.compile(r"https?://[\w.-]+(?::\d+)?(?:/[\w./~%+=&?-]*)?")


class ThemeOptions(Record):
    """What a contractor puts of their own on a theme."""

    shown: ClassVar[tuple[str, ...]] = ("name",)

    name: Line | None = None
    """Who made the book, on its cover and at the foot of its pages: `Halfmoon Carpentry (demo)`."""
    logo: Line | None = None
    """A picture in the photos folder, shown small on the cover: `halfmoon.png`."""
    logo_shows: Words | None = None
    """What the picture shows, for those who can't see it: `A half moon over a saw horse`."""
    accent: Colour | None = None
    """Colour of links, tags and the thin line, by day and in print: `"#17599c"`."""
    ink: Colour | None = None
    """Colour of the type, by day and in print: `"#15212d"`."""
    share: YesNo = False
    """yes lets name and picture into a sample edition; the colours are in every edition."""

    def colours(self) -> dict[str, str]:
        """Return the colours that are given, by the names that themes know them by."""
        return {name: colour for name, colour in (("chalk", self.accent), ("ink", self.ink)) if colour}


class BookRecord(Record):
    """The book itself."""

    title: Line
    """On the cover: `Tamarack Lane`."""
    subtitle: Line
    """Under the title: `The lower level, and everything behind its boards`."""
    sample_title: Line | None = None
    """Title of a sample edition, naming no street or person, such as `Raised ranch, 1984`; the kind of house where it
    is left out.
    """
    revision: Count = 1
    """Counts up each time the book is handed over again."""
    date: Day
    """Date of this revision."""
    cover: Line | None = None
    """Photo for the cover, such as `corner-finished.jpg`; the first finished one where it is left out."""
    cover_shows: Words | None = None
    """What the cover photo shows, for those who can't see it: `The finished corner with its soffit and chase`."""
    about_pictures: Words | None = None
    """A line on how the pictures were made, where that matters: `The pictures are renderings`."""
    paper: Literal["letter", "A4"] = "letter"
    """Size of the print book's page."""
    theme: Line = "chalkline"
    """How it looks: `chalkline`."""
    sample_theme: Line | None = None
    """How its sample edition looks, such as `showroom`; as the others where it is left out."""
    theme_options: ThemeOptions | None = None
    """Your own name, picture and colours, where the theme is not to be changed for them."""
    tab_strip: YesNo = False
    """yes prints a strip of tabs down the outer edge of the print book's chapters, one for each room."""
    web_address: Line | None = None
    """Where the book can be read on the web, if anywhere; the codes on its tags then lead there: `https://book.test`."""

    @model_validator(mode="after")
    def _web(self) -> Self:
        if self.web_address is not None and not WEB.fullmatch(self.web_address):
            rule, repair = "a telephone could not open it", "write the whole address, from https:// on, without blanks"
            wrong("web-address-odd", rule, repair)
        return self

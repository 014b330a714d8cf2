"""A picture of the book and its copies in, what an HTML page says of them out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bookgen.model.book import Picture
from bookgen.render.pictures import PictureSet

PICTURES = "pictures"  # folder of the copies, beside index.html


@dataclass(frozen=True, slots=True)
class ShownPicture:
    """A picture as a page shows it; *source* is "" when its photo could not be read."""

    alt: str
    caption: str
    date: str
    width: int
    height: int
    source: str
    jpegs: str
    webps: str
    upright: bool


def show_picture(picture: Picture, sets: Mapping[str, PictureSet], root: str) -> ShownPicture:
    """Return *picture* for a page from which *root* leads to the book's folder."""
    copies = sets.get(picture.digest)
    if copies is None:
        return ShownPicture(
            picture.alt, picture.caption, picture.date, picture.width, picture.height, "", "", "", False
        )
    screen = [file for file in copies.files if file.use == "screen"]
    jpegs = [file for file in screen if file.kind == "jpeg"]
    middle = jpegs[len(jpegs) // 2]
    sets_of = {
        kind: ", ".join(f"{root}{PICTURES}/{file.name} {file.width}w" for file in screen if file.kind == kind)
        for kind in ("jpeg", "webp")
    }
    return ShownPicture(
        alt=picture.alt,
        caption=picture.caption,
        date=picture.date,
        width=copies.width,
        height=copies.height,
        source=f"{root}{PICTURES}/{middle.name}",
        jpegs=sets_of["jpeg"],
        webps=sets_of["webp"],
        upright=copies.height > copies.width,
    )

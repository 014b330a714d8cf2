"""A picture of the book and its copies in, what an HTML page says of them out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from bookgen.model.book import Picture, SeeThrough
from bookgen.render.picture_marks import DrawnMark, drawn_marks
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
    marks: tuple[DrawnMark, ...] = ()


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
        marks=drawn_marks(picture.marks),
    )


@dataclass(frozen=True, slots=True)
class ShownThrough:
    """A see-through as a page shows it: the *finished* picture, and the one with the framing *behind* it."""

    finished: ShownPicture
    behind: ShownPicture


def show_through(see: SeeThrough, sets: Mapping[str, PictureSet], root: str) -> ShownThrough:
    """Return *see* for a page from which *root* leads to the book's folder."""
    behind = replace(see.finished, digest=see.key, alt=see.alt, caption=see.caption, marks=see.marks)
    finished = replace(see.finished, marks=())
    return ShownThrough(show_picture(finished, sets, root), show_picture(behind, sets, root))

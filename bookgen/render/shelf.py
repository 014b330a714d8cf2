"""A Shelf in, its one page out, beside the folders of the books that stand on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from bookgen.model.book import Picture
from bookgen.model.shelf import Shelf
from bookgen.render.html import POLICY, environment, say_from
from bookgen.render.pictures import PictureSet
from bookgen.render.site_assets import write_assets
from bookgen.render.site_pictures import ShownPicture, show_picture
from bookgen.render.themes import Theme


def write_shelf(
    shelf: Shelf, theme: Theme, pictures: Sequence[Mapping[str, PictureSet]], out: Path, cache: Path | None = None
) -> None:
    """Write `index.html` and `assets` into *out*; *pictures* are the copies of each book, lying in its own folder.

    Raises MissingTermError for a key that the terms lack, OSError when *out* can't be written.
    """
    homes = dict(zip((book.folder for book in shelf.books), pictures, strict=True))

    def shown(picture: Picture, folder: str) -> ShownPicture:
        return show_picture(picture, homes[folder], f"{folder}/")

    names = {"shelf": shelf, "shown": shown, "policy": POLICY, "say": say_from(shelf.terms)}
    text = environment(theme).get_template("shelf.html").render(names)
    (out / "index.html").write_text(f"{text}\n", encoding="utf-8", newline="\n")
    write_assets(theme, [text], out, cache)

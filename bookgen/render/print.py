"""A Book, its theme and clean pictures in, `book.pdf` out: tagged, archival, with the same drawings as the site.

The print engine gets the words as JSON, never as markup, and sees no file outside a folder made for it.
"""

from __future__ import annotations

import json
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import partial
from pathlib import Path

from bookgen.model.book import Book, Picture, SeeThrough
from bookgen.model.chart import Chart
from bookgen.model.sketch import Sketch
from bookgen.model.typeset import typeset
from bookgen.render.drawings import Figures
from bookgen.render.engine import alone, set_pdf
from bookgen.render.kept import Store
from bookgen.render.picture_marks import drawn_marks
from bookgen.render.pictures import kept_name
from bookgen.render.printable import Signs, drawable, printable, signs_of, upright_in
from bookgen.render.themes import Theme
from bookgen.render.warming import SOURCE, Warming

NARROW = 960  # pixels: 295 to the inch on half the page, where what an office prints shows 150 to 200; common practice
# What kind of file is it, for whoever opens the PDF? RFC 7763, RFC 9512, RFC 8118.
KINDS = {"md": "text/markdown", "yaml": "application/yaml", "pdf": "application/pdf"}


@contextmanager
def laid_out(
    book: Book,
    theme: Theme,
    figures: Figures,
    folder: Path,
    inside: Mapping[str, str | Path],
    store: Store | None = None,
    warming: Warming | None = None,
) -> Iterator[Callable[[], None]]:
    """Lay out all that the engine reads; give what then writes `book.pdf` into *folder*, once, while the block runs.

    The `pictures` folder in *folder* holds the clean copies. *inside* are texts and PDF files that the file carries, by
    their paths: whoever has only the PDF has them too. A book that *store* has is not set again; *warming* spares the
    engine what it can. What is given raises RuntimeError with the engine's own words where a theme's print template is
    wrong.
    """
    with tempfile.TemporaryDirectory(prefix="bookgen-print-") as made:
        work = Path(made)
        theme.lay_out_print(work)
        (work / "sketches").mkdir()
        (work / "pictures").mkdir()
        signs = signs_of(theme)
        stage = _Stage(work, folder / "pictures", figures, signs)
        attached = _attached(inside, work / "inside")
        write_words(stage.fields(book) | {"attached": attached}, work / "book.json", signs)
        around = partial(warming.around, work, theme, stage.kept) if warming else alone
        yield partial(set_pdf, work / SOURCE, folder / "book.pdf", theme, book.iso_date, store, around)


def write_words(data: Mapping[str, object], target: Path, signs: Signs) -> None:
    """Write plain data as JSON for a print template, in signs that its fonts have.

    Beside it stands `upright`: a regular expression of the signs that are not to be sloped, or "".
    """
    words = printable(json.dumps(_typeset(data), ensure_ascii=False), signs)
    upright = json.dumps({"upright": upright_in(words, signs)}, ensure_ascii=False)
    # One after the other: to read it all again only to write it again takes as long as everything before.
    target.write_text(f"{words[:-1]}, {upright[1:]}", encoding="utf-8")


def _typeset(data: object) -> object:
    """Return plain data with all words in it set as a printer would; the names of files hold no sizes."""
    if isinstance(data, str):
        return typeset(data)
    if isinstance(data, Mapping):
        return {key: _typeset(value) for key, value in data.items()}
    return [_typeset(value) for value in data] if isinstance(data, list | tuple) else data


def _attached(inside: Mapping[str, str | Path], folder: Path) -> list[dict[str, str]]:
    """Put *inside* where the engine can read it; return what to call each, where it lies and what it is.

    The engine reads texts as bytes, so that no sign of them is changed for the sake of a font.
    """
    folder.mkdir()
    made = []
    for number, (name, held) in enumerate(inside.items()):
        if isinstance(held, Path):
            shutil.copyfile(held, folder / str(number))
        else:
            (folder / str(number)).write_text(held, encoding="utf-8", newline="\n")
        kind = KINDS[name.rpartition(".")[2].lower()]
        made.append({"name": name, "file": f"{folder.name}/{number}", "kind": kind})
    return made


class _Stage:
    """Turns nouns into plain data, putting each picture and sketch it meets where the engine can read it."""

    def __init__(self, work: Path, source: Path, figures: Figures, signs: Signs) -> None:
        self._work = work
        self._source = source
        self._figures = figures
        self._signs = signs
        self.kept: dict[str, str] = {}  # where the store of pictures has those that the engine reads

    def fields(self, book: Book) -> dict[str, object]:
        """Return the fields of *book* as dicts, lists and texts."""
        return {field.name: self.plain(getattr(book, field.name)) for field in fields(book)}

    def plain(self, value: object) -> object:
        """Return *value* as dicts, lists and texts."""
        if isinstance(value, Sketch):
            return self._drawing(value) | {"view": value.view.value, "further": value.further}
        if isinstance(value, Chart):
            return self._drawing(value)
        if isinstance(value, Enum):
            return value.value
        if is_dataclass(value) and not isinstance(value, type):
            data = {field.name: self.plain(getattr(value, field.name)) for field in fields(value)}
            if isinstance(value, Picture):
                return data | self._picture(value.digest) | {"drawn": self.plain(drawn_marks(value.marks))}
            if isinstance(value, SeeThrough):
                return data | self._ghost(value.key) | {"drawn": self.plain(drawn_marks(value.marks))}
            return data
        if isinstance(value, Mapping):
            return {key: self.plain(inner) for key, inner in value.items()}
        if isinstance(value, (tuple, list)):
            return [self.plain(inner) for inner in value]
        return value

    def _picture(self, key: str) -> dict[str, str]:
        """Return the copy of a photo for print, and the one that serves where it is no wider than half the page."""
        files = self._figures.pictures[key].files
        narrow = [file for file in files if file.kind == "jpeg" and file.width <= NARROW]
        return {"file": self._copied(key, files[-1].name), "narrow": self._copied(key, (narrow or files)[-1].name)}

    def _ghost(self, key: str) -> dict[str, str]:
        """Return what print has instead of two pictures that fade into each other; there is one size of it."""
        name = self._copied(key, self._figures.pictures[key].files[-1].name)
        return {"file": name, "narrow": name}

    def _copied(self, key: str, name: str) -> str:
        """Put a file where the engine can read it; return its name."""
        found = self._figures.pictures[key]
        target = self._work / "pictures" / name
        if not target.exists():
            shutil.copyfile(self._source / name, target)
            self.kept[f"pictures/{name}"] = f"{kept_name(found.digest)}/{name}"
        return name

    def _drawing(self, of: Sketch | Chart) -> dict[str, object]:
        name, drawing = f"{of.key}.svg", self._figures.drawings[of.key]
        (self._work / "sketches" / name).write_text(drawable(drawing.print, self._signs), encoding="utf-8")
        words = {"title": of.title, "desc": of.desc, "caption": of.caption}
        return words | {"file": name, "width_mm": drawing.wide, "height_mm": drawing.high}

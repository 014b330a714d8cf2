"""A Book, its theme and clean pictures in, `book.pdf` out: tagged, archival, with the same drawings as the site.

The print engine gets the words as JSON, never as markup, and sees no file outside a folder made for it.
"""

from __future__ import annotations

import hashlib
import json
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import UTC, datetime
from enum import Enum
from pathlib import Path

import typst

from bookgen.model.book import Book, Picture, SeeThrough
from bookgen.model.chart import Chart
from bookgen.model.sketch import Sketch
from bookgen.model.typeset import typeset
from bookgen.render.drawings import Figures
from bookgen.render.kept import FRESH, Store
from bookgen.render.picture_marks import drawn_marks
from bookgen.render.printable import Signs, drawable, printable, signs_of, upright_in
from bookgen.render.themes import Theme

# What kind of file is it, for whoever opens the PDF? RFC 7763, RFC 9512, RFC 8118.
KINDS = {"md": "text/markdown", "yaml": "application/yaml", "pdf": "application/pdf"}


def print_book(
    book: Book,
    theme: Theme,
    figures: Figures,
    folder: Path,
    inside: Mapping[str, str | Path],
    store: Store | None = None,
) -> None:
    """Write `book.pdf` into *folder*, whose `pictures` folder holds the clean copies.

    *inside* are texts and PDF files that the file carries, by their paths: whoever has only the PDF has them too. A
    book that *store* has is not set again. Raises RuntimeError with the engine's own words where a theme's print
    template is wrong.
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
        set_pdf(work / "book.typ", folder / "book.pdf", theme, book.iso_date, store)


def write_words(data: Mapping[str, object], target: Path, signs: Signs) -> None:
    """Write plain data as JSON for a print template, in signs that its fonts have.

    Beside it stands `upright`: a regular expression of the signs that are not to be sloped, or "".
    """
    words = printable(json.dumps(_typeset(data), ensure_ascii=False), signs)
    whole = json.loads(words) | {"upright": upright_in(words, signs)}
    target.write_text(json.dumps(whole, ensure_ascii=False), encoding="utf-8")


def _typeset(data: object) -> object:
    """Return plain data with all words in it set as a printer would; the names of files hold no sizes."""
    if isinstance(data, str):
        return typeset(data)
    if isinstance(data, Mapping):
        return {key: _typeset(value) for key, value in data.items()}
    return [_typeset(value) for value in data] if isinstance(data, list | tuple) else data


def set_pdf(source: Path, target: Path, theme: Theme, iso_date: str, store: Store | None = None) -> None:
    """Run the print engine on *source*; the folder round it is all it may read, the book's date is its clock.

    With a *store*, what was set before from the same files is taken from there.
    """
    (source.parent / "colours.json").write_text(json.dumps(dict(theme.light)), encoding="utf-8")

    def engine() -> bytes:
        made, warnings = typst.compile_with_warnings(
            str(source),
            root=str(source.parent),
            font_paths=[str(face.file.parent) for face in theme.fonts],
            ignore_system_fonts=True,
            format="pdf",
            pdf_standards=["a-3a", "ua-1"],  # archival and accessible together
            timestamp=datetime.fromisoformat(iso_date).replace(tzinfo=UTC),
        )
        unsettled = [str(one.message) for one in warnings if "converge" in str(one.message)]
        if unsettled:  # its page numbers would be wrong
            raise RuntimeError(f"{source.name}: {unsettled[0]}")
        return bytes(made)

    made = store.once("print", store.key(iso_date, *_all_in(source.parent)), engine) if store else engine()
    fresh = target.with_name(f"{FRESH}{target.name}")  # whoever reads it meanwhile finds a whole one
    fresh.write_bytes(made)
    fresh.replace(target)


def _all_in(folder: Path) -> Iterator[str | bytes]:
    """Yield the name and the digest of every file in *folder*, in their order."""
    for path in sorted(path for path in folder.rglob("*") if path.is_file()):
        yield path.relative_to(folder).as_posix()
        yield hashlib.sha256(path.read_bytes()).digest()


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
                return data | {"file": self._picture(value.digest), "drawn": self.plain(drawn_marks(value.marks))}
            if isinstance(value, SeeThrough):
                return data | {"file": self._picture(value.key), "drawn": self.plain(drawn_marks(value.marks))}
            return data
        if isinstance(value, Mapping):
            return {key: self.plain(inner) for key, inner in value.items()}
        if isinstance(value, (tuple, list)):
            return [self.plain(inner) for inner in value]
        return value

    def _picture(self, key: str) -> str:
        file = next(file for file in self._figures.pictures[key].files if file.use == "print")
        target = self._work / "pictures" / file.name
        if not target.exists():
            shutil.copyfile(self._source / file.name, target)
        return file.name

    def _drawing(self, of: Sketch | Chart) -> dict[str, object]:
        name, drawing = f"{of.key}.svg", self._figures.drawings[of.key]
        (self._work / "sketches" / name).write_text(drawable(drawing.print, self._signs), encoding="utf-8")
        words = {"title": of.title, "desc": of.desc, "caption": of.caption}
        return words | {"file": name, "width_mm": drawing.wide, "height_mm": drawing.high}

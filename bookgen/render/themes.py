"""The name of a theme in, its files, fonts and colours out, its own before those it inherits."""

from __future__ import annotations

import shutil
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

from bookgen.render.contrast import contrast
from bookgen.render.fonts import FontFace

if TYPE_CHECKING:
    from bookgen.model.book import Book  # a theme is looked over without a book

DECLARATION = "theme.toml"
TEMPLATES, PRINT = "templates", "print"
GROUNDS = ("page", "wash", "hatch")
READABLE = 4.5  # to 1, of type on its ground: WCAG 2.2, success criterion 1.4.3, level AA


class ThemeError(LookupError):
    """There is no such theme, or its declaration is wrong; the message says which there are, or what to repair."""


@dataclass(frozen=True, slots=True)
class Theme:
    """How a book looks.

    *lineage* holds its own folder, then those of the themes it inherits from, nearest first. *styles* and *scripts* are
    joined in their order; *files* are copied as they are; *light* and *dark* give each colour by name, as #rrggbb.
    """

    name: str
    lineage: tuple[Path, ...]
    styles: tuple[Path, ...]
    scripts: tuple[Path, ...]
    files: tuple[Path, ...]
    fonts: tuple[FontFace, ...]
    light: Mapping[str, str]
    dark: Mapping[str, str]

    @property
    def templates(self) -> tuple[Path, ...]:
        """Folders of templates, its own first: a page is looked for in each of them in turn."""
        return tuple(home / TEMPLATES for home in self.lineage)

    def lay_out_print(self, folder: Path) -> None:
        """Copy the print templates into *folder*: those of its ancestors first, so that its own take their place."""
        for home in reversed(self.lineage):
            if (home / PRINT).is_dir():
                shutil.copytree(home / PRINT, folder, dirs_exist_ok=True)

    def coloured(self, colours: Mapping[str, str]) -> Theme:
        """Return the theme with other *colours* by day and in print; the evening keeps its own."""
        return replace(self, light={**self.light, **colours})


def themes_folder() -> Path:
    """Return the folder of the themes that come with the program, installed or in a checkout."""
    package = Path(__file__).parents[1]
    installed = package / "themes"
    return installed if installed.is_dir() else package.parent / "themes"


def theme_names(folder: Path) -> tuple[str, ...]:
    """Return the names of the themes in *folder*, in order."""
    return tuple(sorted(entry.parent.name for entry in folder.glob(f"*/{DECLARATION}")))


def load_theme(name: str, folder: Path | None = None) -> Theme:
    """Return the theme *name* of *folder*, by default of those that come with the program.

    Raises ThemeError for an unknown name, a file that is missing, or a wrong declaration.
    """
    return _loaded(name, folder or themes_folder(), ())


def theme_of(book: Book) -> Theme:
    """Return the theme that *book* names, in the colours that its maker asks for; raises ThemeError as `load_theme`."""
    return load_theme(book.theme).coloured(book.brand.colours)


def faint_colours(theme: Theme, colours: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """Return each of a maker's *colours* that can't be read on the page, by name, and how far it stands out from it."""
    theme = theme.coloured(colours)
    found = []
    for name, colour in colours.items():
        least = min(contrast(colour, theme.light[ground]) for ground in GROUNDS)
        if least < READABLE:
            found.append((name, f"{least:.1f}"))
    return tuple(found)


def _loaded(name: str, folder: Path, heirs: tuple[str, ...]) -> Theme:
    if name not in theme_names(folder):
        there = ", ".join(theme_names(folder)) or "none"
        raise ThemeError(f"theme: {name} is not in {folder.name}/; there: {there}")
    if name in heirs:
        raise ThemeError(
            f"theme {name}: it inherits from itself: {' from '.join((*heirs, name))}; drop one inherits line"
        )
    home = folder / name
    try:
        declared = tomllib.loads((home / DECLARATION).read_text(encoding="utf-8"))
        above = _loaded(declared["inherits"], folder, (*heirs, name)) if "inherits" in declared else None
        return _heir(name, home, declared, above) if above else _theme(name, home, declared)
    except tomllib.TOMLDecodeError as wrong:
        raise ThemeError(f"theme {name}: {DECLARATION} can't be read: {wrong}") from wrong
    except KeyError as missing:
        raise ThemeError(f"theme {name}: {DECLARATION} has no {missing.args[0]}; add it") from missing


def _theme(name: str, home: Path, declared: dict[str, Any]) -> Theme:
    site = declared["site"]
    return Theme(
        name=declared["name"],
        lineage=(home,),
        styles=_files(name, home, site["styles"]),
        scripts=_files(name, home, site["scripts"]),
        files=_files(name, home, site["files"]),
        fonts=tuple(_face(name, face) for face in declared["fonts"]),
        light=dict(declared["light"]),
        dark=dict(declared["dark"]),
    )


def _heir(name: str, home: Path, declared: dict[str, Any], above: Theme) -> Theme:
    """Return *above* with what the heir declares: further files, its own fonts instead, the colours that it names."""
    site = declared.get("site", {})
    return Theme(
        name=declared["name"],
        lineage=(home, *above.lineage),
        styles=above.styles + _files(name, home, site.get("styles", ())),
        scripts=above.scripts + _files(name, home, site.get("scripts", ())),
        files=above.files + _files(name, home, site.get("files", ())),
        fonts=tuple(_face(name, face) for face in declared["fonts"]) if "fonts" in declared else above.fonts,
        light={**above.light, **declared.get("light", {})},
        dark={**above.dark, **declared.get("dark", {})},
    )


def _files(name: str, home: Path, paths: Iterable[str]) -> tuple[Path, ...]:
    return tuple(_there(name, home, path) for path in paths)


def _there(name: str, home: Path, path: str) -> Path:
    whole = home / path
    if not whole.exists():
        raise ThemeError(f"theme {name}: {path} is declared in {DECLARATION} but is not there; add it or drop the line")
    return whole


def _face(name: str, face: dict[str, Any]) -> FontFace:
    """Return the face that a font package holds; packages of fonts are named font_ and nothing else is imported."""
    package = face["package"]
    if not package.startswith("font_"):
        raise ThemeError(f"theme {name}: {package} is no font package; write one whose name starts with font_")
    try:
        files: dict[str, str] = import_module(package).font_files_ttf
    except ModuleNotFoundError as missing:
        raise ThemeError(f"theme {name}: {package} is not installed; install {package.replace('_', '-')}") from missing
    if face["face"] not in files:
        raise ThemeError(f"theme {name}: {package} has no face {face['face']}; there: {', '.join(sorted(files))}")
    return FontFace(face["family"], face["weight"], face["style"], Path(files[face["face"]]))

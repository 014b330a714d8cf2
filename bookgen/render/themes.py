"""The name of a theme in, its files, fonts and colours out; no template knows where it lies."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Any

from bookgen.render.fonts import FontFace

DECLARATION = "theme.toml"


class ThemeError(LookupError):
    """There is no such theme, or its declaration is wrong; the message says which there are, or what to repair."""


@dataclass(frozen=True, slots=True)
class Theme:
    """How a book looks.

    *templates* is a folder; *styles* and *scripts* are joined in their order; *files* are copied as they are; *light*
    and *dark* give each colour by name, as #rrggbb.
    """

    name: str
    folder: Path
    templates: Path
    styles: tuple[Path, ...]
    scripts: tuple[Path, ...]
    files: tuple[Path, ...]
    fonts: tuple[FontFace, ...]
    light: Mapping[str, str]
    dark: Mapping[str, str]


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
    folder = folder or themes_folder()
    if name not in theme_names(folder):
        there = ", ".join(theme_names(folder)) or "none"
        raise ThemeError(f"theme: {name} is not in {folder.name}/; there: {there}")
    home = folder / name
    try:
        declared = tomllib.loads((home / DECLARATION).read_text(encoding="utf-8"))
        return _theme(name, home, declared)
    except tomllib.TOMLDecodeError as wrong:
        raise ThemeError(f"theme {name}: {DECLARATION} can't be read: {wrong}") from wrong
    except KeyError as missing:
        raise ThemeError(f"theme {name}: {DECLARATION} has no {missing.args[0]}; add it") from missing


def _theme(name: str, home: Path, declared: dict[str, Any]) -> Theme:
    site = declared["site"]
    return Theme(
        name=declared["name"],
        folder=home,
        templates=_there(name, home, site["templates"]),
        styles=tuple(_there(name, home, path) for path in site["styles"]),
        scripts=tuple(_there(name, home, path) for path in site["scripts"]),
        files=tuple(_there(name, home, path) for path in site["files"]),
        fonts=tuple(_face(name, face) for face in declared["fonts"]),
        light=dict(declared["light"]),
        dark=dict(declared["dark"]),
    )


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

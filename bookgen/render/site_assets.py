"""A theme and the characters of a book in, the site's style sheet with its fonts, and script out."""

from __future__ import annotations

import shutil
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from bookgen.render.fonts import subset_font
from bookgen.render.svg_palette import DARK, LIGHT, Palette, sketch_css
from bookgen.render.themes import Theme

ASSETS = "assets"


def write_assets(theme: Theme, characters: Iterable[str], out: Path, cache: Path | None) -> None:
    """Write `book.css`, `book.js` and the theme's own files into the assets folder of *out*."""
    home = out / ASSETS
    home.mkdir(parents=True, exist_ok=True)
    needed = sorted({sign for text in characters for sign in text})
    faces = [face.rule(subset_font(face.file, needed, cache)) for face in theme.fonts]
    _write(home / "book.css", style_sheet(theme, faces))
    _write(home / "book.js", "\n".join(path.read_text(encoding="utf-8") for path in theme.scripts))
    for path in theme.files:
        shutil.copyfile(path, home / path.name)


def style_sheet(theme: Theme, faces: Iterable[str]) -> str:
    """Return the one style sheet of the site: *faces*, colours by day and by night, then the theme's sheets."""
    light = f":root{{color-scheme:light dark;{_variables(theme.light)}}}"
    # Only on a screen: paper is white whatever the reader's evening setting.
    dark = f"@media screen and (prefers-color-scheme:dark){{:root{{{_variables(theme.dark)}}}}}"
    sketches = sketch_css(_palette(LIGHT, theme.light), _palette(DARK, theme.dark))
    sheets = (path.read_text(encoding="utf-8") for path in theme.styles)
    return "\n".join((*faces, light, dark, sketches, *sheets))


def _palette(sketches: Palette, colours: Mapping[str, str]) -> Palette:
    """Return the colours of *sketches* on the page, and with the ink, of the theme."""
    return replace(sketches, page=colours["page"], ink=colours["ink"], quiet=colours["quiet"], accent=colours["chalk"])


def _variables(colours: Mapping[str, str]) -> str:
    return ";".join(f"--{name}:{colour}" for name, colour in colours.items())


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="\n")

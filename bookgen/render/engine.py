"""A folder of print templates, words and pictures in, what the print engine makes of it out.

The engine sees no file outside that folder; a date that is given is its clock.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

import typst

from bookgen.render.kept import FRESH, Store
from bookgen.render.themes import Theme


def alone(make: Callable[[], bytes]) -> bytes:
    """Return what *make* makes, with nothing before or after it."""
    return make()


def set_pdf(
    source: Path,
    target: Path,
    theme: Theme,
    iso_date: str,
    store: Store | None = None,
    around: Callable[[Callable[[], bytes]], bytes] = alone,
) -> None:
    """Set *source* into *target*, with the colours of *theme* beside it; the book's date is its clock.

    With a *store*, what was set before from the same files is taken from there. What is set anew is set within
    *around*. Raises RuntimeError with the engine's own words where a template is wrong.
    """
    (source.parent / "colours.json").write_text(json.dumps(dict(theme.light)), encoding="utf-8")
    anew = partial(around, partial(_set, source, theme, iso_date))
    made = store.once("print", store.key(iso_date, *_all_in(source.parent)), anew) if store else anew()
    fresh = target.with_name(f"{FRESH}{target.name}")  # whoever reads it meanwhile finds a whole one
    fresh.write_bytes(made)
    fresh.replace(target)


def lay_out(source: Path, theme: Theme) -> None:
    """Lay out *source* and drop the pages, so that the engine knows them; raises as `set_pdf`."""
    typst.Compiler(str(source), root=str(source.parent), font_paths=_font_paths(theme), ignore_system_fonts=True).query(
        "<none>"
    )


def _set(source: Path, theme: Theme, iso_date: str) -> bytes:
    made, warnings = typst.compile_with_warnings(
        str(source),
        root=str(source.parent),
        font_paths=_font_paths(theme),
        ignore_system_fonts=True,
        format="pdf",
        pdf_standards=["a-3a", "ua-1"],  # archival and accessible together
        timestamp=datetime.fromisoformat(iso_date).replace(tzinfo=UTC),
    )
    unsettled = [str(one.message) for one in warnings if "converge" in str(one.message)]
    if unsettled:  # its page numbers would be wrong
        raise RuntimeError(f"{source.name}: {unsettled[0]}")
    return bytes(made)


def _font_paths(theme: Theme) -> list[str]:
    return [str(face.file.parent) for face in theme.fonts]


def _all_in(folder: Path) -> Iterator[str | bytes]:
    """Yield the name and the digest of every file in *folder*, in their order."""
    for path in sorted(path for path in folder.rglob("*") if path.is_file()):
        yield path.relative_to(folder).as_posix()
        yield hashlib.sha256(path.read_bytes()).digest()

"""A project in; what is wrong with how its books are to look out: its themes, and colours of its own."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from contextlib import suppress

from bookgen.model.problem import Problem
from bookgen.model.project import PROJECT_FILE, Project
from bookgen.render.kept import Store, keep_bytes, kept_bytes
from bookgen.render.themes import READABLE, Theme, ThemeError, faint_colours, load_theme
from bookgen.unchanged import MADE_BY_PYTHON, digest_of_program


def every_look(project: Project, store: Store) -> tuple[Problem, ...]:
    """Return what is wrong with the look of any edition; each thing is told once."""
    book = project.record.book
    colours = book.theme_options.colours() if book.theme_options else {}
    themes = dict.fromkeys((book.theme, book.sample_theme or book.theme))
    found = (problem for theme in themes for problem in look_problems(project, theme, colours, store))
    return tuple({(one.place, one.code): one for one in found}.values())


def look_problems(project: Project, name: str, colours: Mapping[str, str], store: Store | None) -> Iterator[Problem]:
    """Yield what is wrong with the theme *name* that the project asks for, and with colours of its own on it.

    That a theme is whole is remembered beside it, or in the *store*: under digests that change with any of its files.
    """
    place = project.places.of
    try:
        theme = load_theme(name)
        _look_through(name, theme, store)
    except ThemeError as error:
        repair = "write the name of a theme that is whole, or mend this one"
        field = "sample theme" if name != project.record.book.theme else "theme"
        where = place(PROJECT_FILE, "book", field)
        yield Problem(where, "theme-unusable", f"book > {field}", name, str(error), repair)
        return
    for colour, ratio in faint_colours(theme, colours):
        option = "accent" if colour == "chalk" else colour
        where = place(PROJECT_FILE, "book", "theme options", option)
        rule = f"it stands out from the page of {name} by {ratio} to 1, and {READABLE} is asked (WCAG 2.2, 1.4.3)"
        said = f"book > theme options > {option}"
        yield Problem(where, "colour-too-faint", said, colours[colour], rule, "write a darker colour")


def _look_through(name: str, theme: Theme, store: Store | None) -> None:
    """Look through all templates of a theme, unless these have been found whole before; raises ThemeError."""
    # It lies where Python keeps what it has compiled, so that not even an empty store asks for it a second time.
    mark = theme.lineage[0] / MADE_BY_PYTHON / f"whole.{sys.implementation.cache_tag}"
    digest = (store.version if store else digest_of_program()).encode()  # it covers all themes
    with suppress(OSError):
        if kept_bytes(mark) == digest:
            return
    if store:
        store.once("themes", store.key(name), lambda: _tried(theme))
    else:
        _tried(theme)
    if not sys.dont_write_bytecode:
        with suppress(OSError):
            keep_bytes(mark, digest)


def _tried(theme: Theme) -> bytes:
    """Look through all templates of a theme; return nothing to be remembered, or raise ThemeError."""
    from bookgen.render.html import environment

    environment(theme)
    return b""

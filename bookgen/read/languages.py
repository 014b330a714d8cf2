"""A record file's values in; the same with each text in the book's language, and where a text is not there in it, out.

A text of a record may be written in several languages, each under its code: {en: Cleanout, es: Registro}. Where the
book's own is missing the first that is written stands in its place.
"""

from __future__ import annotations

from dataclasses import replace

from bookgen.model.place import Place
from bookgen.model.project import Plain
from bookgen.read.source import Path, Source
from bookgen.trade.tongue import ENGLISH, LANGUAGES


def language_of(source: Source | None) -> str:
    """Return the language that a project record asks for; English where it asks for none that there is."""
    asked = source.plain.get("language") if source and isinstance(source.plain, dict) else None
    return asked if isinstance(asked, str) and asked in LANGUAGES else ENGLISH


def in_language(source: Source, language: str) -> tuple[Source, tuple[Place, ...]]:
    """Return the values with one text each, and the places of those that are not there in *language*."""
    values, missed = dict(source.values), list[Place]()

    def chosen(value: Plain, path: Path) -> Plain:
        if isinstance(value, tuple):
            return tuple(chosen(one, (*path, number)) for number, one in enumerate(value))
        if not isinstance(value, dict):
            return value
        if not _texts(value):
            return {key: chosen(one, (*path, key)) for key, one in value.items()}
        code = language if language in value else next(iter(value))
        values[path] = source.place((*path, code))
        if code != language:
            missed.append(values[path])
        return value[code]

    plain = chosen(source.plain, ())
    return replace(source, plain=plain, values=values), tuple(missed)


def _texts(value: dict[str, Plain]) -> bool:
    """Tell whether keys with values are one text in several languages."""
    return bool(value) and set(value) <= set(LANGUAGES) and all(isinstance(text, str) for text in value.values())

"""A language whose every fixed word stands in brackets, so that a word that bypasses the tables is seen in a book."""

from __future__ import annotations

import dataclasses
import re
import tomllib
from collections.abc import Iterable, Iterator
from enum import Enum
from importlib import resources
from pathlib import Path
from string import Formatter
from typing import Any

from pydantic import BaseModel

from tests.trade.said import sentences, whole

OPEN, CLOSE = "⟦", "⟧"
MARKED = re.compile(rf"{OPEN}[^{OPEN}{CLOSE}]*{CLOSE}")
BROKEN = re.compile(rf"^[^{OPEN}{CLOSE}]*{CLOSE}|{OPEN}[^{OPEN}{CLOSE}]*$")
WORD = re.compile(r"[^\W\d_]{3,}")
# Signs and names that stand as they are in every language.
EVERYWHERE = {"PDF", "ICS", "YAML", "bookgen", "SPF", "PVC", "ABS", "NEC", "IRC", "GFCI", "Btu", "cm²"}


def marked(form: str) -> str:
    """Return a sentence with all but its gaps in brackets."""
    pieces = []
    for text, gap, _, _ in Formatter().parse(form):
        plain = text.replace("{", "{{").replace("}", "}}")
        pieces += [f"{OPEN}{plain}{CLOSE}" if plain.strip() else plain, f"{{{gap}}}" if gap is not None else ""]
    return "".join(pieces)


def tongue_document(names: list[str], sources: list[str]) -> dict[str, dict[str, Any]]:
    """Return what a tongue is made of, every word in brackets."""
    months, plain = [f"{OPEN}month{CLOSE}"] * 12, whole()
    forms = {
        "day": "{day} {month} {year}",
        "month": "{month} {year}",
        "decimal": ".",
        "thousands": ",",
        "months": months,
    }
    return {
        "forms": {**forms, "months": months},
        "names": {name: marked(name) for name in names},
        "sources": {source: marked(source) for source in sources},
        "words": {english: marked(english) for english in sentences() - plain}
        | {english: f"{OPEN}{english}{CLOSE}" for english in plain},
    }


def terms_document() -> dict[str, Any]:
    """Return the keyed words, every word in brackets."""
    data = tomllib.loads(resources.files("bookgen.compose.terms").joinpath("en.toml").read_text("utf-8"))
    words = {key: text if key.startswith("role ") else marked(text) for key, text in data["words"].items()}
    notes = [
        {**note, "title": marked(note["title"]), "steps": [marked(step) for step in note["steps"]]}
        for note in data["emergency"]
    ]
    return {"words": words, "emergency": notes}


def texts(value: object) -> Iterator[str]:
    """Yield every text in a tree of nouns."""
    if isinstance(value, Enum | Path):
        return
    if isinstance(value, str):
        yield value
    elif isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from texts(getattr(value, name))
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from texts(getattr(value, field.name))
    elif isinstance(value, dict) or hasattr(value, "items"):
        for key, inner in value.items():  # type: ignore[union-attr]
            yield from texts(key)
            yield from texts(inner)
    elif isinstance(value, list | tuple | set | frozenset):
        for inner in value:
            yield from texts(inner)


def words_of(written: Iterable[str]) -> set[str]:
    """Return the words of some texts, in small letters."""
    return {word.casefold() for text in written for word in WORD.findall(text)}


def bare(text: str, written: set[str]) -> list[str]:
    """Return the words of *text* that stand in no brackets and that nobody has *written*."""
    while MARKED.search(text):
        text = MARKED.sub(" ", text)
    text = BROKEN.sub(" ", text)  # a label of a sketch may be one line of several
    return [word for word in WORD.findall(text) if word.casefold() not in written and word not in EVERYWHERE]

"""Fixed words of the book by language: a language code in, its terms and emergency notes out."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Any

from bookgen.trade.tongue import ENGLISH, Tongue, tongue


@dataclass(frozen=True, slots=True)
class Emergency:
    """What to do when something is wrong.

    *caution* is a key of the table of cautions, or ""; it stands only where the house has what it is *about*: a system
    or a kind of obstacle. *roles* are the people to call.
    """

    title: str
    about: str
    roles: tuple[str, ...]
    caution: str
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Terms:
    """The fixed words of one language; *tongue* says what stands in the tables and what the other rooms have said."""

    words: Mapping[str, str]
    emergencies: tuple[Emergency, ...]
    tongue: Tongue

    def __getitem__(self, key: str) -> str:
        return self.words[key]


@cache
def terms(language: str) -> Terms:
    """Return the terms of *language*; what its file lacks is English.

    A language without a file is our own bug (FileNotFoundError).
    """
    data, words = _document(language), _document(ENGLISH)["words"]
    emergencies = tuple(
        Emergency(e["title"], e["about"], tuple(e["roles"]), e["caution"], tuple(e["steps"])) for e in data["emergency"]
    )
    return Terms(MappingProxyType({**words, **data["words"]}), emergencies, tongue(language))


def _document(language: str) -> dict[str, Any]:
    return tomllib.loads(resources.files(__package__).joinpath(f"{language}.toml").read_text(encoding="utf-8"))

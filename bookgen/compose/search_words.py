"""A language in, what people type when they look for something out: topics, words alike, words that say nothing."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from bookgen.trade.tongue import ENGLISH, LANGUAGES

THINGS = ("tag", "shutoff", "chapter", "hidden")
_WORD = re.compile(r"[^\W_]+")


@dataclass(frozen=True, slots=True)
class Topic:
    """What people ask for: the entries it leads to, by kind and by words of their names; the phrasings."""

    name: str
    at: tuple[str, ...]
    holds: tuple[str, ...]
    says: tuple[str, ...]

    def leads_to(self, key: str, names: str) -> bool:
        """Return whether an entry of kind *key* whose folded *names* are given is what the topic is about."""
        if key not in (self.at or THINGS):
            return False
        return not self.holds or any(f" {words} " in f" {names} " for words in self.holds)


@dataclass(frozen=True, slots=True)
class SearchWords:
    """The words of all languages, for a book in one of them."""

    topics: tuple[Topic, ...]
    alike: tuple[tuple[str, ...], ...]
    skip: tuple[str, ...]


def fold(text: str) -> str:
    """Return *text* in small letters, without accents or signs, its words parted by single spaces."""
    plain = unicodedata.normalize("NFKD", text.casefold())
    letters = "".join(sign for sign in plain if not unicodedata.combining(sign))
    return " ".join(_WORD.findall(letters))


@cache
def search_words(language: str) -> SearchWords:
    """Return the words for a book in *language*; the English file says where its topics lead.

    Phrasings and names of every language are taken in, so that a Spanish word finds its way in an English book. A
    language without a file, and a topic that the English file lacks, are our own bugs (FileNotFoundError, LookupError).
    """
    files = {name: _file(name) for name in dict.fromkeys((language, *LANGUAGES))}
    own = files[ENGLISH]["topic"]
    for name, data in files.items():
        unknown = sorted(set(data["topic"]) - set(own))
        if unknown:
            raise LookupError(f"search-{name}.toml: topic {unknown[0]} is not in search-{ENGLISH}.toml")
    topics = tuple(_topic(name, row, list(files.values())) for name, row in own.items())
    groups = [group for data in files.values() for group in data["alike"]]
    skip = tuple(sorted({word for data in files.values() for word in data["skip"]}))
    return SearchWords(topics, _joined(groups), skip)


def _file(language: str) -> dict[str, Any]:
    text = resources.files("bookgen.compose.terms").joinpath(f"search-{language}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def _topic(name: str, row: dict[str, Any], files: Sequence[dict[str, Any]]) -> Topic:
    says = [phrase for data in files for phrase in data["topic"].get(name, {}).get("say", ())]
    holds = tuple(fold(words) for data in files for words in data["topic"].get(name, {}).get("is", ()))
    return Topic(name, tuple(row.get("at", ())), holds, tuple(dict.fromkeys(says)))


def _joined(groups: Sequence[Sequence[str]]) -> tuple[tuple[str, ...], ...]:
    """Return *groups* with those that share a word joined, so that cerrar leads to shutoff and on to off."""
    joined: list[list[str]] = []
    for group in groups:
        sharing = [other for other in joined if set(other) & set(group)]
        whole = [word for other in sharing for word in other] + list(group)
        joined = [other for other in joined if other not in sharing]
        joined.append(list(dict.fromkeys(whole)))
    return tuple(tuple(group) for group in joined)

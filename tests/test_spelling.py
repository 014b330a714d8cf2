"""The English book is spelled as in the United States, where its code books and its trade words come from."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

import bookgen

PACKAGE = Path(bookgen.__file__).parent
BRITISH = re.compile(
    r"\b(colour\w*|mould\w*|louvr\w+|centres?|centred|\w*metres?|licence\w*|sulph\w*|storeys?|neighbour\w*|alumini\w*|"
    r"favour\w*|grey|kerb|draught\w*|organis\w*|recognis\w*|fibre\w*|labelled|panelled|plough\w*)\b",
    re.IGNORECASE,
)
READ = frozenset(
    {"applies", "note", "task", "how", "hazard", "consequence", "avoidance", "call", "add", "thing", "trade_name"}
)  # the columns of the trade's tables that a person reads


def texts(value: object, key: str = "") -> Iterator[tuple[str, str]]:
    """Yield (key, text) of everything in a table."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from texts(inner, name)
    elif isinstance(value, list):
        for inner in value:
            yield from texts(inner, key)
    elif isinstance(value, str):
        yield key, value


@pytest.mark.parametrize("word", ["Louvres", "grey", "millimetres", "the centre of it", "storeys"])
def test_the_list_knows_british_words(word: str) -> None:
    """Each of these has stood in the book."""
    assert BRITISH.search(word)


def test_the_books_fixed_words_are_spelled_alike() -> None:
    """Terms and emergency notes."""
    terms = tomllib.loads((PACKAGE / "compose" / "terms" / "en.toml").read_text("utf-8"))

    assert not [(key, text) for key, text in texts(terms) if BRITISH.search(text)]


def test_what_people_read_of_the_tables_is_spelled_alike() -> None:
    """Cautions, upkeep, limits and stock; keys and sources stay as they are."""
    for path in sorted((PACKAGE / "trade").glob("*.toml")):
        rows = texts(tomllib.loads(path.read_text("utf-8")))
        assert not [(path.name, text) for key, text in rows if key in READ and BRITISH.search(text)]

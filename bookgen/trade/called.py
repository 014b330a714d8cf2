"""A sort of thing -> what finds its name in a record, in every language that a record may be written in."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files


@cache
def called(sort: str) -> re.Pattern[str]:
    """Return what finds the words for a sort of thing, `cleanout`; KeyError for a sort that the table lacks.

    A record is read in all languages, whatever its book's, since people who work in two mix them.
    """
    forms = "|".join(f"(?:{form})" for form in sorts()[sort].values())
    return re.compile(rf"\b(?:{forms})(?!\w)", re.IGNORECASE)


@cache
def sorts() -> Mapping[str, Mapping[str, str]]:
    """Return every sort with its words in each language, as regular expressions."""
    return tomllib.loads(files("bookgen.trade").joinpath("tongues", "called.toml").read_text("utf-8"))

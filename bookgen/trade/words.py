"""Trade text as people type it -> plain words and one exact size, for the lookups of this room."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from difflib import get_close_matches
from typing import Literal

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length, parse_length

Unit = Literal["in", "mm"]
LONGEST = 80  # characters; a longer text names no size
SUGGESTIONS = 3

_VULGAR = re.compile(r"(?<=\d)(?=[¼½¾⅐-⅞])")
_NUMBER = r"(?:\d+[ -]\d+/\d+|\d+/\d+|\d+(?:\.\d+)?|\.\d+)"
_SIZE = re.compile(rf"(?<![\w/.-])({_NUMBER})(?: ?(in|mm))?(?![\w/.])")
_PAIR = re.compile(rf"(?<![\w/.-])({_NUMBER})(?: ?(in|mm))? ?x ?({_NUMBER})(?: ?(in|mm))?(?![\w/.])")
_ZERO_BELOW = re.compile(r"/0+(?!\d)")


@dataclass(frozen=True, slots=True)
class Sized:
    """One size taken out of a text, and the words that were left."""

    sizes: tuple[Length, ...]
    words: tuple[str, ...]


def plain(text: str) -> str:
    """Return *text* in small letters, with plain fractions, `x` between sizes and `in` for every inch sign."""
    flat = unicodedata.normalize("NFKC", _VULGAR.sub(" ", text)).casefold()
    flat = flat.replace("⁄", "/").replace("×", "x").replace("–", "-")
    # NFKC has made two single primes of a double one
    flat = re.sub(r"''|′′|[\"”]", " in ", flat)
    flat = re.sub(r"(?<=[\d ])(?:inches|inch|in\.)(?!\w)", "in", flat)
    flat = re.sub(r"\bsch(?:edule|ed)?\.?[ -]?40\b", "sch40", flat)
    return " ".join(flat.replace(",", " ").split())


def split_size(text: str, unit: Unit = "in") -> Sized | None:
    """Take the one size out of *text*: "3 in PVC drain" -> 3 in, (pvc, drain). None unless there is exactly one.

    A number without its unit counts in *unit*.
    """
    flat = plain(text)
    found = list(_SIZE.finditer(flat))
    if len(text) > LONGEST or len(found) != 1 or _ZERO_BELOW.search(flat):
        return None
    match = found[0]
    return Sized((_length(match[1], match[2] or unit),), _rest(flat, match))


def split_pair(text: str, unit: Unit = "in") -> Sized | None:
    """Take a width by a height out of *text*: "20 x 8 duct" -> 20 in, 8 in, (duct). None unless there is just one.

    Numbers without a unit count in *unit*.
    """
    flat = plain(text)
    match = _PAIR.search(flat)
    if len(text) > LONGEST or not match or _ZERO_BELOW.search(flat):
        return None
    first, first_unit, second, second_unit = match.groups()
    sizes = (_length(first, first_unit or second_unit or unit), _length(second, second_unit or first_unit or unit))
    words = _rest(flat, match)
    return None if any(character.isdigit() for character in "".join(words)) else Sized(sizes, words)


def near(text: str, names: Iterable[str]) -> tuple[str, ...]:
    """Return up to three of *names* that look most like *text*, the nearest first, for a Problem's hint."""
    by_plain = {plain(name): name for name in names}
    flat = plain(text[:LONGEST])
    return tuple(by_plain[close] for close in get_close_matches(flat, by_plain, n=SUGGESTIONS, cutoff=0.5))


def _length(number: str, unit: str) -> Length:
    return parse_length(f"{'0' + number if number.startswith('.') else number} {unit}")


def _rest(flat: str, match: re.Match[str]) -> tuple[str, ...]:
    return tuple((flat[: match.start()] + " " + flat[match.end() :]).split())

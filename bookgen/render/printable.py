"""Words in, the same words out as the fonts of print can set them; the print engine refuses a sign that none has."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from functools import cache

from bookgen.render.fonts import FontFace
from bookgen.render.themes import Theme

SHAPELESS = frozenset(map(chr, range(0xFE00, 0xFE10))) | {"\u00ad"}  # variation selectors, soft hyphen


@dataclass(frozen=True, slots=True)
class Signs:
    """The signs that every upright face of a theme has, those some sloping face lacks, those a drawing may have."""

    all: frozenset[str]
    upright_only: frozenset[str]
    drawn: frozenset[str]


def signs_of(theme: Theme) -> Signs:
    """Return the signs that *theme* can print in any weight.

    A sign that one face lacks would be taken from whatever else the engine carries.
    """
    upright = [_signs(face) for face in theme.fonts if face.style == "normal"]
    sloping = [_signs(face) for face in theme.fonts if face.style != "normal"]
    every = frozenset.intersection(*upright)
    drawn = frozenset(sign for sign in every if not unicodedata.combining(sign))
    return Signs(every, every - frozenset.intersection(every, *sloping), drawn)


@cache  # of the few faces of a theme, which stay as they are while the program runs
def _signs(face: FontFace) -> frozenset[str]:
    from fontTools.ttLib import TTFont  # heavy: only a book that is printed needs it

    with TTFont(face.file, lazy=True) as font:
        return frozenset(map(chr, font.getBestCmap()))


def printable(text: str, signs: Signs) -> str:
    """Return *text* with the name, in brackets, of each sign that is not among *signs*: a shower becomes [shower].

    Letters and their accents are put together first. Blanks and control signs stay, as the engine sets them itself;
    joiners and selectors without a shape of their own go.
    """
    return _told(text, signs.all)


def drawable(text: str, signs: Signs) -> str:
    """Return *text* as `printable` does, for a drawing, where accents that are no part of their letter are named too.

    The print engine loses such an accent's code on the way from SVG to PDF, and then refuses to write an archival file.
    """
    return _told(text, signs.drawn)


def _told(text: str, known: frozenset[str]) -> str:
    whole = unicodedata.normalize("NFC", text)
    named = {ord(sign): said for sign in set(whole) - known if (said := _sign(sign)) != sign}
    return whole.translate(named) if named else whole


def upright_in(text: str, signs: Signs) -> str:
    """Return the signs of *text* that no sloping face has, as a character class of a regular expression, or ""."""
    found = "".join(sorted(signs.upright_only.intersection(text)))
    return f"[{found}]" if found else ""


def _sign(sign: str) -> str:
    """Return what stands for a sign that the fonts lack: itself, nothing, or its name."""
    kind = unicodedata.category(sign)
    if kind in ("Zs", "Cc"):
        return sign
    if kind == "Cf" or sign in SHAPELESS:
        return ""
    return f"[{unicodedata.name(sign, f'sign {ord(sign):04x}').lower()}]"

"""Words as people type them in; the same words as a printer sets them, with real fractions and times signs, out."""

from __future__ import annotations

import re

from bookgen.model.length import HAIR, SLASH

_NUMBER = r"(?:\d+-)?\d+(?:/\d+)?(?:\.\d+)?"
# What stands in a longer name, such as that of a file, is no size. Two 2x4s are.
_SIZES = re.compile(rf"(?<![\w./-])(?!0x){_NUMBER}(?:\s?x\s?{_NUMBER})+(?=s?(?![\w/-]|\.\w))")
_TIMES = re.compile(r"(\s?)x(\s?)")
_FRACTION = re.compile(r"(?<![\w./-])(?:(\d+)[- ])?(\d+)/(2|4|8|16|32|64)(?![\w/]|\.\d)")


def typeset(text: str) -> str:
    """Return *text* with a times sign between sizes and parts of an inch as fractions: 2×4, 3 1⁄2 in.

    Only a proper fraction with a denominator of the tape measure is one: 24/7 and 6/15/2026 stay as they are.
    """
    return _FRACTION.sub(_fraction, _SIZES.sub(_times, text))


def _times(sizes: re.Match[str]) -> str:
    return _TIMES.sub(lambda sign: "\u00a0×\u00a0" if sign[1] and sign[2] else "×", sizes[0])


def _fraction(match: re.Match[str]) -> str:
    whole, numerator, denominator = match.groups()
    if not 0 < int(numerator) < int(denominator):
        return match[0]
    return f"{whole}{HAIR}{numerator}{SLASH}{denominator}" if whole else f"{numerator}{SLASH}{denominator}"

"""A line of text and its type size in, its width on paper out, from the very font the book is set in."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache, lru_cache
from pathlib import Path
from types import MappingProxyType

import font_source_sans_pro
from fontTools.ttLib import TTFont

from bookgen.model.frozen import dataclass
from bookgen.model.length import HAIR, SLASH

FILES = Path(font_source_sans_pro.__file__).parent / "files"
FACES = MappingProxyType({False: "SourceSansPro-Regular.ttf", True: "SourceSansPro-Semibold.ttf"})
CAP_HEIGHT = 0.66  # of the type size: Source Sans Pro, OS/2 table
HAIR_WIDTH = 0.1  # of the type size: what shapers give the hair space that the font lacks
DESCENT = 0.21  # of the type size, below the baseline: the deepest small letter
_FRACTION = re.compile(rf"(\d+){SLASH}(\d+)")


@dataclass(frozen=True, slots=True)
class Face:
    """Advance widths of one face, in parts of the type size: of characters, and of the small digits of fractions."""

    characters: Mapping[str, float]
    numerators: Mapping[str, float]
    denominators: Mapping[str, float]

    def width(self, text: str) -> float:
        """Return the width of *text* in parts of the type size, kerning left out."""
        total, done = 0.0, 0
        for match in _FRACTION.finditer(text):
            total += self._plain(text[done : match.start()]) + self.characters[SLASH]
            total += sum(self.numerators[digit] for digit in match[1])
            total += sum(self.denominators[digit] for digit in match[2])
            done = match.end()
        return total + self._plain(text[done:])

    def _plain(self, text: str) -> float:
        return sum(self.characters.get(character, 1.0) for character in text)  # 1: never too narrow for a stranger


def text_width(text: str, height: float, *, strong: bool = False) -> float:
    """Return how wide *text* runs at a type size of *height*, in the unit of *height*."""
    return _in_sizes(text, strong) * height


@lru_cache(maxsize=8192)  # the same few words are asked again for every setting, and on every sheet
def _in_sizes(text: str, strong: bool) -> float:
    """Return the width of *text* in parts of the type size."""
    return face(strong).width(text)


@cache
def face(strong: bool) -> Face:
    """Return the widths of the regular or the semibold face, read from its file once."""
    with TTFont(FILES / FACES[strong], lazy=True) as font:
        units = font["head"].unitsPerEm
        advances = {name: advance / units for name, (advance, _) in font["hmtx"].metrics.items()}
        characters = {chr(code): advances[name] for code, name in font.getBestCmap().items()} | {HAIR: HAIR_WIDTH}
        digits = {digit: font.getBestCmap()[ord(digit)] for digit in "0123456789"}
        numerators = _substitutes(font, "numr")
        denominators = _substitutes(font, "dnom")
    return Face(
        MappingProxyType(characters),
        MappingProxyType({digit: advances[numerators[name]] for digit, name in digits.items()}),
        MappingProxyType({digit: advances[denominators[name]] for digit, name in digits.items()}),
    )


def _substitutes(font: TTFont, feature: str) -> Mapping[str, str]:
    """Return what each glyph becomes under a feature of the font."""
    table = font["GSUB"].table
    records = [record for record in table.FeatureList.FeatureRecord if record.FeatureTag == feature]
    lookups = [table.LookupList.Lookup[index] for index in records[0].Feature.LookupListIndex]
    pairs: dict[str, str] = {}
    for lookup in lookups:
        for subtable in lookup.SubTable:
            pairs.update(getattr(subtable, "ExtSubTable", subtable).mapping)
    return pairs

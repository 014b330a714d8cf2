"""A font file and the characters a book needs in, a WOFF2 with just those out; the same bytes at every run."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from bookgen.render.kept import keep_bytes, kept_bytes

FEATURES = ("frac", "numr", "dnom", "lnum", "tnum", "kern", "liga", "ccmp", "locl", "mark", "mkmk", "case")
KEPT = "2"  # how a cut is kept, with its digest before it: a program that kept it otherwise must not find it
NAMES = (0, 13, 14)  # copyright and licence travel with the font; its reserved name does not
ALWAYS = frozenset(map(chr, range(0x20, 0x7F))) | frozenset(
    "\u00a0\u00b0\u00b7\u00d7\u00bc\u00bd\u00be\u215b\u215c\u215d\u215e"
    "\u2013\u2014\u2018\u2019\u201c\u201d\u2026\u2032\u2033\u2044\u2190\u2192\u2212"
)


@dataclass(frozen=True, slots=True)
class FontFace:
    """One face of the book: the family and weight that style sheets ask for, and its full TrueType file."""

    family: str
    weight: int
    style: str
    file: Path

    def rule(self, subset: bytes) -> str:
        """Return the rule that gives the face to a style sheet, its *subset* inside (RFC 2397).

        A face that came in a file of its own would come after the words, and lines would jump when it is there.
        """
        data = base64.b64encode(subset).decode()
        return (
            f'@font-face{{font-family:"{self.family}";font-weight:{self.weight};font-style:{self.style};'
            f'src:url("data:font/woff2;base64,{data}") format("woff2")}}'
        )


def subset_font(source: Path, characters: Iterable[str], cache: Path | None) -> bytes:
    """Return *source* cut down to *characters* (and those every page may need) as WOFF2.

    Keeps the features of FEATURES that the font has. With a *cache* folder, a cut made before from the same font for
    the same characters is taken from there. Characters that the font lacks are left to the reader's own fonts.
    Raises OSError when *source* can't be read or *cache* can't be written.
    """
    data = source.read_bytes()
    wanted = sorted({ord(sign) for text in characters for sign in text} | {ord(sign) for sign in ALWAYS})
    kept = cache / f"{_key(data, wanted)}.woff2" if cache else None
    found = kept_bytes(kept) if kept else None
    if found is not None:
        return found
    cut = _cut(data, wanted)
    if kept:
        keep_bytes(kept, cut)
    return cut


def _key(data: bytes, wanted: list[int]) -> str:
    from importlib.metadata import version  # heavy: only a book that is written needs it

    parts = (KEPT, version("fonttools"), version("brotli"), ",".join(FEATURES), ",".join(map(str, wanted)))
    return hashlib.sha256(data + "|".join(parts).encode()).hexdigest()


def _cut(data: bytes, wanted: list[int]) -> bytes:
    from fontTools import subset  # heavy: only a book with fresh fonts needs it

    options = subset.Options()
    options.flavor = "woff2"
    options.layout_features = list(FEATURES)
    options.hinting = False
    options.recalc_timestamp = False
    options.notdef_outline = True
    with subset.load_font(BytesIO(data), options) as font:
        # Which names the tables of a font point to takes half of the whole work to find, and no feature here has one.
        names = font["name"]
        names.names = [name for name in names.names if name.nameID in NAMES and name.isUnicode()]
        del font["name"]
        cutter = subset.Subsetter(options)
        cutter.populate(unicodes=wanted)
        cutter.subset(font)
        font["name"] = names
        out = BytesIO()
        subset.save_font(font, out, options)
    return out.getvalue()

"""A sheet for one chart in millimetres, y down; what is drawn on it, and on its panels, out as plain SVG elements.

Each artist carries the class that styles it as its id; whatever has none, such as matplotlib's own frames, colours and
metadata, is left out. So nothing inline reaches a page that refuses it, and nothing depends on the day or the machine.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from io import StringIO
from math import floor
from typing import Any, Literal
from xml.etree import ElementTree

import matplotlib as mpl
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Polygon
from matplotlib.text import Text
from matplotlib.transforms import Affine2D

from bookgen.model.sketch import Spot
from bookgen.model.typeset import typeset
from bookgen.model.widths import text_width
from bookgen.render.svg import UNITS
from bookgen.render.svg_palette import TYPE

POINTS_PER_INCH = 72  # matplotlib counts in points; here a point is a drawing unit
LINE = 4.7  # millimetres from baseline to baseline, as in the notes of a sketch
TEXT = TYPE / UNITS  # millimetres of type
SVG = "{http://www.w3.org/2000/svg}"
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_AT = re.compile(r"translate\((-?[\d.]+) (-?[\d.]+)\)")
SETTINGS: Any = {"svg.fonttype": "none", "svg.hashsalt": "bookgen", "path.simplify": False}


@dataclass(frozen=True, slots=True)
class Element:
    """One SVG element: its name, class, attributes and words."""

    name: str
    style: str
    attributes: dict[str, str]
    words: str = ""


@dataclass(frozen=True, slots=True)
class Panel:
    """A part of a sheet with a measure of its own; *wide* is its width in millimetres."""

    figure: Figure
    to_sheet: Affine2D
    wide: float

    def add(self, artist: Artist) -> None:
        """Put an artist over all that stands there already."""
        artist.set_transform(self.to_sheet)
        artist.set_zorder(len(self.figure.artists) + len(self.figure.texts))
        self.figure.add_artist(artist)


@dataclass(frozen=True, slots=True)
class Canvas:
    """A sheet *wide* by *high* millimetres."""

    wide: float
    high: float
    figure: Figure = field(init=False)

    def __post_init__(self) -> None:
        size = (self.wide * UNITS / POINTS_PER_INCH, self.high * UNITS / POINTS_PER_INCH)
        object.__setattr__(self, "figure", Figure(figsize=size, dpi=POINTS_PER_INCH))

    @property
    def page(self) -> Panel:
        """The whole sheet, in millimetres from its upper left corner, y down."""
        return Panel(self.figure, Affine2D().scale(UNITS, -UNITS).translate(0, self.high * UNITS), self.wide)

    def panel(self, corner: Spot, size: Spot, data: tuple[Spot, Spot]) -> Panel:
        """Return a part of the sheet, from its upper left *corner*, for *data* from low to high corner, y up."""
        (left, top), (wide, high), ((low_x, low_y), (high_x, high_y)) = corner, size, data
        to_sheet = Affine2D().translate(-low_x, -low_y)
        to_sheet.scale(wide * UNITS / (high_x - low_x), high * UNITS / (high_y - low_y))
        return Panel(self.figure, to_sheet.translate(left * UNITS, (self.high - top - high) * UNITS), wide)

    def elements(self) -> Iterator[Element]:
        """Yield what was drawn, in whole drawing units, in its order."""
        text = StringIO()
        with mpl.rc_context(SETTINGS), warnings.catch_warnings():
            # The library measures words in a font of its own; that this lacks a sign is nothing to tell anybody.
            warnings.filterwarnings("ignore", "Glyph", UserWarning)
            self.figure.savefig(text, format="svg", metadata={"Date": None})
        for group in ElementTree.fromstring(text.getvalue()).iter(f"{SVG}g"):  # noqa: S314 - it was made right here
            style = group.get("id", "")
            if style.startswith("sk-"):
                yield from _elements(group, style)


def wrapped(words: str, wide: float, *, strong: bool = False) -> tuple[str, ...]:
    """Return words, typeset, in lines no wider than so many millimetres; a word that is wider is broken."""
    lines = [""]
    for whole in typeset(words).split(" "):
        word = whole
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if text_width(longer, TEXT, strong=strong) <= wide:
            lines[-1] = longer
            continue
        if lines[-1]:
            lines.append("")
        while text_width(word, TEXT, strong=strong) > wide and len(word) > 1:
            fits = (n for n in range(len(word) - 1, 1, -1) if text_width(word[:n], TEXT, strong=strong) <= wide)
            cut = next(fits, 1)
            lines[-1:] = [word[:cut], ""]
            word = word[cut:]
        lines[-1] = word
    return tuple(lines)


def area(on: Panel, corners: Iterable[Spot], style: str) -> None:
    """Draw a filled outline."""
    on.add(Polygon([*corners], closed=True, gid=style))


def line(on: Panel, spots: Sequence[Spot], style: str) -> None:
    """Draw a line through spots."""
    on.add(Line2D([x for x, _ in spots], [y for _, y in spots], gid=f"sk-none {style}"))


def circle(on: Panel, at: Spot, radius: float, style: str) -> None:
    """Draw a circle; *radius* is in the panel's own measure, which must be the same both ways."""
    on.add(Circle(at, radius, gid=style))


def text(
    on: Panel, at: Spot, words: str, style: str = "sk-t", align: Literal["left", "center", "right"] = "left"
) -> None:
    """Write a line of text with its baseline at a spot."""
    on.add(Text(*at, words, gid=style, horizontalalignment=align, verticalalignment="baseline", parse_math=False))


def _elements(group: ElementTree.Element, style: str) -> Iterator[Element]:
    for one in group.iter():
        if one.tag == f"{SVG}path":
            yield Element("path", style, {"d": _path(one.get("d", ""))})
        elif one.tag == f"{SVG}text":
            anchor = re.search(r"text-anchor: (\w+)", one.get("style", ""))
            where = {"x": _whole(float(one.get("x", "0"))), "y": _whole(float(one.get("y", "0")))}
            yield Element("text", style, where | ({"text-anchor": anchor[1]} if anchor else {}), one.text or "")


def _path(data: str) -> str:
    """Return path data in whole units without blanks that nobody needs."""
    whole = _NUMBER.sub(lambda number: _whole(float(number[0])), data)
    return re.sub(r" ?([A-Za-z]) ?", r"\1", " ".join(whole.split())).replace("z", "Z")


def _whole(value: float) -> str:
    return str(floor(value + 0.5))

"""A Sketch in, SVG text out: y flipped, whole drawing units, classes for every style; the same bytes each time.

For the site the style sheet is `sketch_css`, once a page; for print a palette puts a resolved one into the drawing.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Iterator, Mapping
from math import floor
from typing import Any

import svgwrite
from svgwrite.base import BaseElement

from bookgen.model.assembly import Material
from bookgen.model.length import SLASH
from bookgen.model.sketch import (
    MILLIMETRES_PER_INCH,
    TAG_HIGH,
    TAG_LONG,
    Anchoring,
    Area,
    Dot,
    Label,
    LineKind,
    Shape,
    Sketch,
    Spot,
    Stroke,
    TagMark,
)
from bookgen.render.svg_hatch import hatch, is_hatched
from bookgen.render.svg_palette import TYPE, Palette, print_css, sketch_css
from bookgen.render.svg_tag import tag_number_at, tag_path

__all__ = ["UNITS", "sketch_css", "tag_path", "write_both", "write_svg"]

UNITS = 20  # drawing units in a millimetre on paper
FINE_FROM = 16  # a smaller scale than 1:16 gets the finer cut line
DOT = 9  # units of radius
FRACTION = re.compile(rf"(\d+{SLASH}\d+)")
_FAR = frozenset({Material.LUMBER, Material.TREATED, Material.BLOCKING, Material.PANEL})


Links = Mapping[str, tuple[str, str]]
"""By tag number, where a tag leads to and the words for those who can't see it."""


def write_svg(sketch: Sketch, palette: Palette | None = None, links: Links | None = None) -> str:
    """Return the SVG of a sketch; with a *palette* it carries resolved colours and its true size, for print.

    With *links* the tags that they name lead somewhere. Layers are groups of the class `layer` and `layer-` and a name.
    """
    writer = _Writer(sketch, links or {})
    writer.draw()
    return writer.text(palette)


def write_both(sketch: Sketch, palette: Palette) -> tuple[str, str]:
    """Return the SVG of a sketch for the site, and the one with *palette* for print; its shapes are laid out once."""
    writer = _Writer(sketch, {})
    writer.draw()
    return writer.text(None), writer.text(palette)


class _Words(BaseElement):  # type: ignore[misc]  # svgwrite ships no types
    """An element that holds words and an id, which the library's own title and desc can't carry."""

    def __init__(self, words: str, element_id: str) -> None:
        super().__init__(debug=False, id=element_id)
        self.words = words

    def get_xml(self) -> Any:
        """Return the element with its words."""
        xml = super().get_xml()
        xml.text = self.words
        return xml


class _Link(BaseElement):  # type: ignore[misc]  # the library's own asks for the xlink namespace
    elementname = "a"

    def __init__(self, href: str, words: str) -> None:
        super().__init__(debug=False)
        self.attribs["href"], self.attribs["aria-label"] = href, words


class _Title(_Words):
    elementname = "title"


class _Desc(_Words):
    elementname = "desc"


class _Root(svgwrite.Drawing):  # type: ignore[misc]  # the library tells no types
    """The drawing without what the library always declares and HTML knows nothing of."""

    def get_xml(self) -> Any:
        """Return the element."""
        xml = super().get_xml()
        for name in ("baseProfile", "version", "xmlns:ev", "xmlns:xlink"):
            del xml.attrib[name]
        return xml


class _Writer:
    """The sheet of one sketch: how its inches become units, and the drawing that they go into."""

    def __init__(self, sketch: Sketch, links: Links) -> None:
        self.sketch = sketch
        self.links = links
        self.per_inch = MILLIMETRES_PER_INCH / float(sketch.scale) * UNITS
        self.drawing = _Root(debug=False)
        self.named = f"sketch-{sketch.key}"  # an id starts with a letter, and a key need not
        self.heads = 0  # how many elements stand before the first shape
        self.into: Any = self.drawing  # what shapes go into: the drawing, or the group of a layer

    def draw(self) -> None:
        """Put everything into the drawing."""
        self._head()
        self.heads = len(self.drawing.elements)
        layers = self.sketch.layers or ("",) * len(self.sketch.shapes)
        for layer, shapes in itertools.groupby(zip(layers, self.sketch.shapes, strict=True), key=lambda one: one[0]):
            self.into = self.drawing if not layer else self.drawing.add(self._group(layer))
            self._add_all(shape for _, shape in shapes)

    def text(self, palette: Palette | None) -> str:
        """Return the text of what was drawn; with a *palette* it is dressed for print from then on."""
        if palette is not None:
            self._dress(palette)
        return str(self.drawing.tostring())

    def _dress(self, palette: Palette) -> None:
        """Give the drawing its true size and the resolved colours of *palette*."""
        root = self.drawing
        wide, high = self._size()
        root["width"], root["height"] = f"{wide / UNITS:g}mm", f"{high / UNITS:g}mm"
        root.elements.insert(self.heads, root.style(print_css(palette)))

    def _size(self) -> tuple[int, int]:
        return self.at((self.sketch.high[0], self.sketch.low[1]))

    def _group(self, layer: str) -> Any:
        return self.drawing.g(class_=f"layer layer-{layer.replace(' ', '-')}")

    def _add_all(self, shapes: Iterable[Shape]) -> None:
        """Add shapes in their order; strokes of a kind that follow one another become one path."""
        strokes: list[Stroke] = []
        for shape in shapes:
            if strokes and not (isinstance(shape, Stroke) and shape.line is strokes[0].line):
                self._add_strokes(strokes)
                strokes = []
            if isinstance(shape, Stroke):
                strokes.append(shape)
            else:
                self._add(shape)
        if strokes:
            self._add_strokes(strokes)

    def at(self, spot: Spot) -> tuple[int, int]:
        """Return a spot of the model in whole units, y down."""
        (left, _), (_, top) = self.sketch.low, self.sketch.high
        return _whole((spot[0] - left) * self.per_inch), _whole((top - spot[1]) * self.per_inch)

    def _head(self) -> None:
        root, sketch = self.drawing, self.sketch
        wide, high = self._size()
        for name in ("width", "height"):
            root.attribs.pop(name, None)
        root["viewBox"] = f"0 0 {wide} {high}"
        fine = " sk-fine" if sketch.scale > FINE_FROM else ""
        root["class"] = f"sketch sketch-{sketch.view.value}{fine}"
        root["role"] = "group" if self.links else "img"  # what is in an image can't be reached
        root["font-size"] = TYPE  # inherited by every text that names no size of its own
        root["aria-labelledby"] = f"{self.named}-title {self.named}-desc"
        title, desc = _Title(sketch.title, f"{self.named}-title"), _Desc(sketch.desc, f"{self.named}-desc")
        root.elements[:0] = [title, desc]
        for material in sorted(_hatched(sketch), key=lambda one: one.name):
            root.defs.add(hatch(root, material, self._hatch_id(material)))

    def _hatch_id(self, material: Material) -> str:
        return f"{self.named}-{material.name.lower()}"

    def _add(self, shape: Shape) -> None:
        match shape:
            case Area():
                self._add_area(shape)
            case Label():
                self._add_label(shape)
            case TagMark():
                self._add_tag(shape)
            case Dot():
                self.into.add(self.drawing.circle(center=self.at(shape.at), r=DOT, class_="sk-f-quiet"))
            case Stroke():
                self._add_strokes([shape])

    def _add_area(self, area: Area) -> None:
        line = f" sk-l-{area.line.value}" if area.outlined else ""
        style: dict[str, Any] = {"class_": f"{_fill_class(area)}{line}"}
        if area.line is LineKind.CUT and area.material is not None and is_hatched(area.material):
            style = {"class_": line.strip(), "fill": f"url(#{self._hatch_id(area.material)})"}
        if area.radius is None:
            points = [self.at(corner) for corner in area.corners]
            self.into.add(self.drawing.path(d=_path(points, closed=True), **_kept(style)))
            return
        radius = _whole(area.radius * self.per_inch)
        self.into.add(self.drawing.circle(center=self.at(area.corners[0]), r=radius, **style))
        if area.hole is not None:
            hole = min(_whole(area.hole * self.per_inch), radius - 1)
            edge = area.line if area.line is LineKind.GHOST else LineKind.BEYOND
            style = {"class_": f"sk-f-page sk-l-{edge.value}"}
            self.into.add(self.drawing.circle(center=self.at(area.corners[0]), r=hole, **style))

    def _add_strokes(self, strokes: list[Stroke]) -> None:
        lines = [[self.at(point) for point in stroke.points] for stroke in strokes]
        path = "".join(_path(_straightened(line), closed=line[0] == line[-1] and len(line) > 2) for line in lines)
        self.into.add(self.drawing.path(d=path, class_=f"sk-none sk-l-{strokes[0].line.value}"))

    def _add_label(self, label: Label) -> None:
        style: dict[str, Any] = {"class_": "sk-t-quiet" if label.quiet else "sk-t"}
        if label.strong:
            style["class_"] += " sk-strong"
        if label.anchor is not Anchoring.START:
            style["text_anchor"] = label.anchor.value
        size = _whole(label.height * UNITS)
        if size != TYPE:
            style["font_size"] = size  # an attribute: a site that refuses inline style still shows it
        x, y = self.at(label.at)
        if label.turned:
            style["transform"] = f"rotate(-90 {x} {y})"
        self.into.add(self._text(label.text, (x, y), style))

    def _text(self, text: str, at: tuple[int, int], style: dict[str, Any]) -> Any:
        """Return a text element; each fraction in a span of its own that the style sheet sets as a real one."""
        first, *rest = FRACTION.split(text)
        element = self.drawing.text(first, insert=at, **style)
        for number, piece in enumerate(rest):
            if piece:
                element.add(self.drawing.tspan(piece, **({} if number % 2 else {"class_": "sk-fr"})))
        return element

    def _add_tag(self, mark: TagMark) -> None:
        long, high = _whole(TAG_LONG * UNITS), _whole(TAG_HIGH * UNITS)
        x, y = self.at(mark.at)
        turn = " scale(-1 1)" if mark.flipped else ""
        outline = self.drawing.path(d=tag_path(long, high), class_="sk-f-page sk-l-tag", fill_rule="evenodd")
        outline["transform"] = f"translate({x} {y}){turn}"
        into = self.into
        if mark.tag in self.links:
            href, words = self.links[mark.tag]
            into = self.into.add(_Link(href, words))
        into.add(outline)
        middle = tag_number_at(long, high) * (-1 if mark.flipped else 1)
        style = {"class_": "sk-t sk-strong", "text_anchor": "middle"}
        into.add(self._text(mark.tag, (x + middle, y + TYPE // 3), style))


def _hatched(sketch: Sketch) -> set[Material]:
    cut = (shape for shape in sketch.shapes if isinstance(shape, Area) and shape.line is LineKind.CUT)
    return {shape.material for shape in cut if shape.material is not None and is_hatched(shape.material)}


def _fill_class(area: Area) -> str:
    if area.material is None:
        return {LineKind.WALL: "sk-f-wall", LineKind.HIDDEN: "sk-none"}.get(area.line, "sk-f-page")
    if area.line is not LineKind.CUT and area.material in _FAR:
        return "sk-f-far"
    return f"sk-f-{area.material.name.lower()}"


def _kept(style: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in style.items() if value}


def _whole(value: float) -> int:
    """Return the nearest whole unit; a half goes up."""
    return floor(value + 0.5)


def _straightened(points: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Return the points of a line without its doubles; a closed line without its last point, which `Z` draws."""
    found = [point for point, before in zip(points, [None, *points], strict=False) if point != before]
    return found[:-1] if len(found) > 2 and found[0] == found[-1] else found


def _path(points: list[tuple[int, int]], *, closed: bool) -> str:
    """Return path data with level and upright steps written short."""
    return "".join(_steps(points)) + ("Z" if closed else "")


def _steps(points: list[tuple[int, int]]) -> Iterator[str]:
    yield f"M{points[0][0]} {points[0][1]}"
    for (x1, y1), (x2, y2) in itertools.pairwise(points):
        yield f"H{x2}" if y1 == y2 else f"V{y2}" if x1 == x2 else f"L{x2} {y2}"

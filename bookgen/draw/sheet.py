"""A view of a treatment in; its whole sheet out: pieces, dimensions below and right, notes above, key and scale bar."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from bookgen.draw.dimensions import (
    OVER,
    Base,
    Dimension,
    beside_texts,
    chosen_dimensions,
    drawn,
    fitting,
    in_rows,
    row_offset,
    rows,
)
from bookgen.draw.eye import Eye
from bookgen.draw.ground import Ground
from bookgen.draw.key import drawn_key, key_entries
from bookgen.draw.notes import Note, Segment, leader_shapes, text_shapes
from bookgen.draw.outlines import Rect
from bookgen.draw.paper import DRAWING_HIGH, SHEET_WIDE, TEXT, Paper
from bookgen.draw.pieces import Band, Piece, visible
from bookgen.draw.placing import Sheet, placed
from bookgen.draw.pointing import Subject, notes_on, tag_notes, with_tags
from bookgen.draw.scene import Thing
from bookgen.draw.shapes import drawn_pieces
from bookgen.draw.widths import CAP_HEIGHT, DESCENT, text_width
from bookgen.model.assembly import Assembly
from bookgen.model.sketch import Anchoring, KeyEntry, Label, Shape, Spot, Stroke
from bookgen.model.solved import Solved, SolvedObstacle

# Millimetres on paper.
TOLERANCE = 0.3
EDGE = 2.0  # round the sheet
HEAD = 48.0  # above the drawing, where notes may stand that have no room beside it
TO_KEY = 6.0  # from the drawing to the key under it


@dataclass(frozen=True, slots=True)
class Layout:
    """Where a view goes at one scale: windows, the edge of the work that dimensions start from, the dimensions.

    *side* is 1 where standing dimensions stack to the right of the work, -1 to the left.
    """

    paper: Paper
    bands: tuple[Band, ...]
    edge: Mapping[str, float]
    dimensions: tuple[Dimension, ...]
    side: Literal[1, -1] = 1

    def extent(self) -> tuple[float, float, float, float]:
        """Return left, bottom, right and top of drawing and dimensions."""
        placed = [band.placed() for band in self.bands]
        flat, standing = rows(self.dimensions, "u"), rows(self.dimensions, "v")
        left, right = min(float(rect.left) for rect in placed), max(float(rect.right) for rect in placed)
        bottom, top = min(float(rect.bottom) for rect in placed), max(float(rect.top) for rect in placed)
        if standing and self.side == 1:
            right = max(right, self.edge["v"] + self.paper.inches(row_offset(standing) + 2))
        elif standing:
            left = min(left, self.edge["v"] - self.paper.inches(row_offset(standing) + OVER + TEXT))
        if flat:
            bottom = min(bottom, self.edge["u"] - self.paper.inches(row_offset(flat) + 2))
        return left, bottom, right, top


@dataclass(frozen=True, slots=True)
class Drawn:
    """A finished sheet without its words."""

    low: Spot
    high: Spot
    shapes: tuple[Shape, ...]
    entries: tuple[KeyEntry, ...]
    things: tuple[Thing, ...]


def placer(bands: tuple[Band, ...]) -> Callable[[Fraction], float]:
    """Return the function that lifts a height to where it stands on the sheet."""

    def place(v: Fraction) -> float:
        for band in bands:
            if band.window.bottom <= v <= band.window.top:
                return float(v + band.shift)
        return float(v + (bands[0].shift if v > bands[0].window.bottom else bands[-1].shift))

    return place


def dimensioned(assembly: Assembly, eye: Eye, bands: tuple[Band, ...], paper: Paper) -> tuple[Dimension, ...]:
    """Return the dimensions of a view in their rows, where the bands put them."""
    return in_rows(chosen_dimensions(assembly, eye, placer(bands), metric=paper.metric), paper)


def fits(layout: Layout) -> bool:
    """Tell whether a drawing with its dimensions fits the sheet; windows are cut to sixteenths, hence the tolerance."""
    left, bottom, right, top = layout.extent()
    wide, high = layout.paper.millimetres(right - left), layout.paper.millimetres(top - bottom)
    return wide <= SHEET_WIDE - 2 * EDGE + TOLERANCE and high <= DRAWING_HIGH


def drawn_sheet(
    solved: Solved, obstacle: SolvedObstacle, eye: Eye, things: tuple[Thing, ...], layout: Layout, work: Rect
) -> Drawn:
    """Return the sheet; *things* and *work* are in the eye's frame and plane."""
    paper = layout.paper
    pieces = visible(eye, things, obstacle.key, layout.bands)
    shapes = list(drawn_pieces(pieces, paper, hidden_dashed=eye.axis == "y"))
    base = Base(paper, layout.edge, layout.side, _crossings(pieces, layout), _ends(pieces, layout, work))
    layout = replace(layout, dimensions=fitting(layout.dimensions, base))
    layout = replace(layout, edge={**layout.edge, "v": beside_texts(layout.dimensions, base)})
    base = replace(base, edge=layout.edge)
    sizes = drawn(layout.dimensions, base)
    tags = [note for band in layout.bands for note in tag_notes(solved, obstacle, eye, band.window, band.shift)]
    notes = with_tags(notes_on(pieces, things, Subject(obstacle.key, work), paper), tags, pieces)
    left, bottom, _, top = layout.extent()
    noted, right, highest = noted_on(paper, layout.extent(), notes, tuple(shapes), sizes)
    entries = key_entries(shapes)
    key, low = drawn_key(entries, paper, left, right, bottom - paper.inches(TO_KEY))
    edge = paper.inches(EDGE)
    return Drawn(
        (left - edge, low - edge),
        (right + edge, max(top, highest) + edge),
        (*shapes, *sizes, *noted, *key),
        entries,
        tuple(piece.thing for piece in pieces),
    )


def noted_on(
    paper: Paper,
    extent: tuple[float, float, float, float],
    notes: tuple[Note, ...],
    shapes: tuple[Shape, ...],
    sizes: tuple[Shape, ...],
) -> tuple[tuple[Shape, ...], float, float]:
    """Return the notes as shapes, and the right edge and the top of all that is drawn with them.

    *extent* is left, bottom, right and top of the drawing with its dimensions, *sizes* their shapes.
    """
    left, bottom, right, top = extent
    wide = max(paper.millimetres(right - left), SHEET_WIDE - 2 * EDGE)
    tall = paper.millimetres(top - bottom)
    ground = Ground((left, bottom), 1 / paper.inches(1.0), wide, tall + HEAD)
    ground.add(shapes)
    barred = _bar_sizes(ground, sizes, paper)
    places = placed(notes, ground, Sheet(wide, tall, ground.raster(), barred))

    def back(spot: Spot) -> Spot:
        return left + paper.inches(spot[0]), bottom + paper.inches(spot[1])

    found: list[Shape] = []
    for place in places:
        if place.leader is not None:
            found += leader_shapes(*(back(spot) for spot in place.leader))
    for place in places:
        found += text_shapes(place.setting, paper, back(place.at))
    highest = max((place.box()[3] for place in places), default=0.0)
    return tuple(found), left + paper.inches(wide), back((0.0, highest))[1]


def _bar_sizes(ground: Ground, sizes: tuple[Shape, ...], paper: Paper) -> tuple[Segment, ...]:
    """Take the ground under dimensions: no leader may run over their lines and texts. Return the lines as placed."""
    barred: list[Segment] = []
    for shape in sizes:
        if isinstance(shape, Label):
            ground.bar(label_box(shape, paper))
        elif isinstance(shape, Stroke):
            ground.bar_line(shape.points)
            barred += pairwise([ground.at(point) for point in shape.points])
    return tuple(barred)


def _crossings(pieces: tuple[Piece, ...], layout: Layout) -> Callable[[Dimension, float, float], list[float]]:
    """Return the function that tells where lines of the drawing pass through the strip that a text would stand in."""

    def across(one: Dimension, low: float, high: float) -> list[float]:
        found: list[float] = []
        for piece in pieces:
            for rect in piece.seen:
                left, bottom, right, top = map(float, (rect.left, rect.bottom, rect.right, rect.top))
                if one.along == "u" and bottom < high and top > low:
                    found += [left, right]
                elif one.along == "v" and left < high and right > low:
                    found += [bottom, top]
        if one.along == "v":
            found += [float(v) for band in layout.bands for v in (band.placed().bottom, band.placed().top)]
        return found

    return across


def _ends(pieces: tuple[Piece, ...], layout: Layout, work: Rect) -> Callable[[Dimension, float], float]:
    """Return the function that tells where an extension line starts: at the work, or past what else lies on it."""

    def end(one: Dimension, value: float) -> float:
        # Outward is down for a flat dimension, to the side for a standing one: there larger is further out.
        way = -1 if one.along == "u" else layout.side
        edge = layout.edge[one.along] * way
        own = float(work.bottom if one.along == "u" else work.right if way == 1 else work.left) * way
        found = [own]
        for rect in (rect for piece in pieces for rect in piece.seen) if edge > own else ():
            low, high = (rect.left, rect.right) if one.along == "u" else (rect.bottom, rect.top)
            if low <= value <= high:
                outer = rect.bottom if one.along == "u" else rect.right if way == 1 else rect.left
                found.append(float(outer) * way)
        return min(max(found), edge) * way

    return end


def label_box(label: Label, paper: Paper) -> tuple[float, float, float, float]:
    """Return left, low, right and high of what a label covers, in inches of the model."""
    wide = paper.inches(text_width(label.text, label.height, strong=label.strong))
    over, under = paper.inches(label.height * CAP_HEIGHT), paper.inches(label.height * DESCENT)
    back = {Anchoring.START: 0.0, Anchoring.MIDDLE: wide / 2, Anchoring.END: wide}[label.anchor]
    (u, v) = label.at
    if label.turned:
        return u - over, v - back, u + under, v - back + wide
    return u - back, v - under, u - back + wide, v + over

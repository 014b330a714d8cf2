"""A view of a treatment in; its whole sheet out: pieces, dimensions below and right, notes above, key and scale bar."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Literal

import numpy as np

from bookgen.draw.choices import Sheet as NoteSheet
from bookgen.draw.cut_marks import Field, cut_marks, drawn_marks
from bookgen.draw.dimensions import (
    GAP,
    OVER,
    PAST,
    Base,
    Dimension,
    Size,
    beside_texts,
    drawn,
    fitting,
    in_rows,
    row_offset,
    rows,
)
from bookgen.draw.eye import Eye
from bookgen.draw.foot import Foot, drawn_foot
from bookgen.draw.free import space_lines
from bookgen.draw.ground import Ground
from bookgen.draw.key import key_entries
from bookgen.draw.keyed import Around, Keyed, keyed, rings
from bookgen.draw.layers import layer_lines
from bookgen.draw.meetings import Box, Lines, lines_of
from bookgen.draw.notes import Note, leader_shapes, text_shapes
from bookgen.draw.outlines import Rect
from bookgen.draw.paper import DRAWING_HIGH, SHEET_WIDE, TEXT, Paper
from bookgen.draw.pieces import Band, visible
from bookgen.draw.placing import placed
from bookgen.draw.pointing import Subject, notes_on, tag_notes, with_tags
from bookgen.draw.scene import Thing
from bookgen.draw.shapes import Look, drawn_pieces
from bookgen.draw.stations import Cut
from bookgen.draw.steps import step_lines, step_note
from bookgen.draw.titles import SketchWords, Topic
from bookgen.model.sketch import (
    TAG_HIGH,
    TAG_LONG,
    Anchoring,
    Area,
    KeyEntry,
    Label,
    LineKind,
    Shape,
    Sketch,
    Spot,
    Stroke,
    TagMark,
    View,
)
from bookgen.model.widths import CAP_HEIGHT, DESCENT, text_width

# Millimetres on paper.
TOLERANCE = 0.3
EDGE = 2.0  # round the sheet
HEAD = 48.0  # above the drawing, where notes may stand that have no room beside it


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

    def extent(self) -> Box:
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
class Scenery:
    """What a view of a treatment shows: the things round it, in the eye's frame, and the work in the eye's plane.

    *cuts* are the planes of its other sketches, which get their marks; *notes* are further ones, such as distances to
    what lies off the sheet.
    """

    topic: Topic
    eye: Eye
    things: tuple[Thing, ...]
    work: Rect
    cuts: tuple[Cut, ...] = ()
    notes: tuple[Note, ...] = ()

    @property
    def owner(self) -> str:
        """Return the key of the obstacle."""
        return self.topic.obstacle.key


@dataclass(frozen=True, slots=True)
class Drawn:
    """A finished sheet."""

    low: Spot
    high: Spot
    shapes: tuple[Shape, ...]
    entries: tuple[KeyEntry, ...]
    words: SketchWords

    def sketch(self, key: str, view: View, paper: Paper, *, further: bool) -> Sketch:
        """Return the sketch; *further* ones are for the trades."""
        words = self.words
        return Sketch(
            key=key,
            view=view,
            title=words.title,
            desc=words.desc,
            caption=words.caption,
            scale=Fraction(paper.scale),
            low=self.low,
            high=self.high,
            shapes=self.shapes,
            entries=self.entries,
            further=further,
        )


def placer(bands: tuple[Band, ...]) -> Callable[[Fraction], float]:
    """Return the function that lifts a height to where it stands on the sheet."""

    def place(v: Fraction) -> float:
        for band in bands:
            if band.window.bottom <= v <= band.window.top:
                return float(v + band.shift)
        return float(v + (bands[0].shift if v > bands[0].window.bottom else bands[-1].shift))

    return place


def dimensioned(sizes: Iterable[Size], bands: tuple[Band, ...], paper: Paper) -> tuple[Dimension, ...]:
    """Return the sizes of a view in their rows, where the bands put them."""
    place = placer(bands)
    return in_rows((size.placed(place) for size in sizes), paper)


def fits(layout: Layout) -> bool:
    """Tell whether a drawing with its dimensions fits the sheet; windows are cut to sixteenths, hence the tolerance."""
    left, bottom, right, top = layout.extent()
    wide, high = layout.paper.millimetres(right - left), layout.paper.millimetres(top - bottom)
    return wide <= SHEET_WIDE - 2 * EDGE + TOLERANCE and high <= DRAWING_HIGH


def drawn_sheet(scenery: Scenery, layout: Layout, words_of: Callable[[Iterable[Thing], Paper], SketchWords]) -> Drawn:
    """Return the sheet; *words_of* gives its words when told what is seen."""
    paper, eye, work = layout.paper, scenery.eye, scenery.work
    pieces = visible(eye, scenery.things, scenery.owner, layout.bands)
    look = Look(dashed=eye.axis == "y", ghost=bool(scenery.topic.assembly.treatment))
    lines = layer_lines(scenery.topic.solved.level.linings, eye, layout.bands)
    topic = scenery.topic
    steps = step_lines(topic.solved, topic.obstacle, eye, layout.bands)
    free = space_lines(topic.assembly, eye, layout.bands)
    shapes = [*drawn_pieces(pieces, paper, look), *lines, *steps, *free]
    kind = LineKind.PLANNED if topic.assembly.known.how == "planned" else LineKind.DIMENSION
    seen = tuple(_box(rect) for piece in pieces for rect in piece.seen)
    base = Base(paper, layout.edge, layout.side, _crossings(seen, layout), _ends(seen, layout, work), kind)
    layout = replace(layout, dimensions=fitting(layout.dimensions, base))
    layout = replace(layout, edge={**layout.edge, "v": beside_texts(layout.dimensions, base)})
    sizes = drawn(layout.dimensions, replace(base, edge=layout.edge))
    first = layout.bands[0].placed()
    marks = cut_marks(scenery.cuts, scenery.topic.assembly, eye, first, paper)
    planes, ends = drawn_marks(marks, Field(first, work, -1 if layout.side == 1 else 1), paper)
    tags = [note for band in layout.bands for note in tag_notes(topic.solved, topic.obstacle, eye, band)]
    notes = with_tags(notes_on(pieces, scenery.things, Subject(scenery.owner, work), paper), tags, pieces)
    notes = (*scenery.notes, *notes, *step_note(steps, topic.assembly, paper.tongue.say))
    extent = grown(layout.extent(), (*sizes, *ends), paper)
    noted = noted_on(paper, extent, notes, (*shapes, *planes), (*sizes, *ends))
    words = words_of([piece.thing for piece in pieces], paper)
    entries = key_entries((*shapes, *planes, *sizes), paper.tongue)
    foot = drawn_foot(Foot(entries, noted.keyed, words.strip, scaled=True), paper, noted.left, noted.right, extent[1])
    edge = paper.inches(EDGE)
    return Drawn(
        (noted.left - edge, foot.low - edge),
        (noted.right + edge, noted.top + edge),
        (*shapes, *planes, *sizes, *ends, *noted.shapes, *foot.shapes),
        entries,
        words,
    )


def grown(extent: Box, shapes: Iterable[Shape], paper: Paper) -> Box:
    """Return left, bottom, right and top of a drawing with the lines and words of *shapes* round it."""
    left, bottom, right, top = extent
    for shape in shapes:
        if isinstance(shape, Label):
            boxes = [label_box(shape, paper)]
        elif isinstance(shape, Stroke):
            boxes = [(*point, *point) for point in shape.points]
        else:
            boxes = []
        for one in boxes:
            left, bottom, right, top = min(left, one[0]), min(bottom, one[1]), max(right, one[2]), max(top, one[3])
    return left, bottom, right, top


@dataclass(frozen=True, slots=True)
class Noted:
    """Notes as shapes, the edges of all that is drawn with them, and the notes whose words go into the key."""

    shapes: tuple[Shape, ...]
    left: float
    right: float
    top: float
    keyed: tuple[Keyed, ...]


def noted_on(
    paper: Paper,
    extent: Box,
    notes: tuple[Note, ...],
    shapes: tuple[Shape, ...],
    sizes: tuple[Shape, ...] | None,
) -> Noted:
    """Return the notes on a drawing; *extent* is its left, bottom, right and top with its dimensions, *sizes* these.

    A drawing without *sizes* is a picture without a key of hatches.
    """
    has_key, sizes = sizes is not None, sizes or ()
    left, bottom, right, top = extent
    wide = max(paper.millimetres(right - left), SHEET_WIDE - 2 * EDGE)
    tall = paper.millimetres(top - bottom)
    ground = Ground((left, bottom), 1 / paper.inches(1.0), wide, tall + HEAD)
    ground.add(shapes)
    barred = _bar_sizes(ground, sizes, paper)
    places, left_over = placed(notes, ground, NoteSheet(wide, tall, ground.raster(), barred))
    found: list[Shape] = []
    for place in places:
        if place.leader is not None:
            found += leader_shapes(*(ground.back(spot) for spot in place.leader))
    for place in places:
        found += text_shapes(place.setting, paper, ground.back(place.at))
    highest = max((place.box()[3] for place in places), default=0.0)
    into_key = keyed(note for note in left_over if not (note.in_key and has_key))
    sheet = (left, bottom, left + paper.inches(wide), max(top, ground.back((0.0, highest))[1]))
    found += rings(into_key, paper, _around(sheet, sizes, found, paper))
    return Noted(tuple(found), left, sheet[2], sheet[3], into_key)


def _around(sheet: Box, sizes: tuple[Shape, ...], found: Sequence[Shape], paper: Paper) -> Around:
    """Return what the marks of keyed notes keep clear of."""
    boxes = [label_box(shape, paper) for shape in (*sizes, *found) if isinstance(shape, Label)]
    boxes += [tag_box(shape, paper) for shape in found if isinstance(shape, TagMark)]
    leaders, lines = (
        lines_of(line for shape in shapes if isinstance(shape, Stroke) for line in pairwise(shape.points))
        for shapes in (found, sizes)
    )
    return Around(sheet, np.array(boxes, dtype=float).reshape(-1, 4), leaders, lines)


def _bar_sizes(ground: Ground, sizes: tuple[Shape, ...], paper: Paper) -> Lines:
    """Take the ground under dimensions: no leader may run over their lines and texts. Return the lines as placed."""
    for shape in sizes:
        if isinstance(shape, Label):
            ground.bar(label_box(shape, paper))
    strokes = [shape.points for shape in sizes if isinstance(shape, Stroke)]
    ground.bar_lines([*strokes, *((*s.corners, s.corners[0]) for s in sizes if isinstance(s, Area))])
    return lines_of(piece for line in strokes for piece in pairwise([ground.at(point) for point in line]))


def _crossings(seen: tuple[Box, ...], layout: Layout) -> Callable[[Dimension, float, float], list[float]]:
    """Return the function that tells where lines of the drawing pass through the strip that a text would stand in."""
    ends = [float(v) for band in layout.bands for v in (band.placed().bottom, band.placed().top)]

    def across(one: Dimension, low: float, high: float) -> list[float]:
        if one.along == "u":
            return [u for left, bottom, right, top in seen if bottom < high and top > low for u in (left, right)]
        return [v for left, low_v, right, top in seen if left < high and right > low for v in (low_v, top)] + ends

    return across


def _ends(seen: tuple[Box, ...], layout: Layout, work: Rect) -> Callable[[Dimension, float], float]:
    """Return the function that tells where an extension line starts: at the work, or past what else lies on it."""

    def end(one: Dimension, value: float) -> float:
        # Outward is down for a flat dimension, to the side for a standing one: there larger is further out.
        way = -1 if one.along == "u" else layout.side
        edge = layout.edge[one.along] * way
        own = float(work.bottom if one.along == "u" else work.right if way == 1 else work.left) * way
        line = edge + layout.paper.inches(row_offset(one.row))
        if line < own and one.along == "v" and _runs_at(seen, value, line * way):
            return (line - layout.paper.inches(GAP + PAST)) * way  # what is measured is seen right there
        first, outer = (0, 1) if one.along == "u" else (1, 2 if way == 1 else 0)  # sides of a box
        on_it = [box[outer] * way for box in seen if box[first] <= value <= box[first + 2]] if edge > own else []
        return min(max([own, *on_it]), edge) * way

    return end


def _runs_at(seen: Iterable[Box], height: float, across: float) -> bool:
    """Tell whether a level edge of the drawing runs at a height past a place across."""
    return any(height in (bottom, top) and left <= across <= right for left, bottom, right, top in seen)


def _box(rect: Rect) -> Box:
    return float(rect.left), float(rect.bottom), float(rect.right), float(rect.top)


def label_box(label: Label, paper: Paper) -> Box:
    """Return left, low, right and high of what a label covers, in inches of the model."""
    wide = paper.inches(text_width(label.text, label.height, strong=label.strong))
    over, under = paper.inches(label.height * CAP_HEIGHT), paper.inches(label.height * DESCENT)
    back = {Anchoring.START: 0.0, Anchoring.MIDDLE: wide / 2, Anchoring.END: wide}[label.anchor]
    (u, v) = label.at
    if label.turned:
        return u - over, v - back, u + under, v - back + wide
    return u - back, v - under, u - back + wide, v + over


def tag_box(mark: TagMark, paper: Paper) -> Box:
    """Return left, low, right and high of what a hang tag covers, in inches of the model."""
    (u, v), long, half = mark.at, paper.inches(TAG_LONG), paper.inches(TAG_HIGH / 2)
    left = u - long if mark.flipped else u
    return left, v - half, left + long, v + half

"""A view of a treatment in; its whole sheet out: pieces, dimensions below and right, notes above, key and scale bar."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from bookgen.draw.dimensions import (
    Dimension,
    Ground,
    beside_texts,
    chosen_dimensions,
    drawn,
    fitting,
    in_rows,
    row_offset,
    rows,
)
from bookgen.draw.eye import Eye
from bookgen.draw.key import drawn_key, key_entries
from bookgen.draw.notes import Column, Note, Segment, column_width, drawn_notes, free_slant
from bookgen.draw.outlines import Rect
from bookgen.draw.paper import DRAWING_HIGH, SHEET_WIDE, Paper
from bookgen.draw.pieces import Band, Piece, visible
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
TO_NOTES = 5.0  # from the drawing to notes beside or above it
NARROW = 30.0  # of a note's line, where it is wrapped shortest
UPRIGHT = 90  # degrees: the slant that always keeps leaders apart
# How wide may a line of a note be, and are optional notes out of reach kept? Tried in this order.
ATTEMPTS = ((54.0, True), (46.0, True), (54.0, False), (46.0, False), (38.0, False), (NARROW, False))
TO_KEY = 6.0  # from the drawing to the key under it


@dataclass(frozen=True, slots=True)
class Layout:
    """Where a view goes at one scale: windows, the edge of the work that dimensions start from, the dimensions."""

    paper: Paper
    bands: tuple[Band, ...]
    edge: Mapping[str, float]
    dimensions: tuple[Dimension, ...]

    def extent(self) -> tuple[float, float, float, float]:
        """Return left, bottom, right and top of drawing and dimensions."""
        placed = [band.placed() for band in self.bands]
        flat, standing = rows(self.dimensions, "u"), rows(self.dimensions, "v")
        right = max(float(rect.right) for rect in placed)
        bottom = min(float(rect.bottom) for rect in placed)
        if standing:
            right = max(right, self.edge["v"] + self.paper.inches(row_offset(standing) + 2))
        if flat:
            bottom = min(bottom, self.edge["u"] - self.paper.inches(row_offset(flat) + 2))
        left, top = min(float(rect.left) for rect in placed), max(float(rect.top) for rect in placed)
        return left, bottom, right, top


@dataclass(frozen=True, slots=True)
class _Notes:
    """Notes that fit, the column they stand in, and the slant of their leaders."""

    notes: tuple[Note, ...]
    column: Column
    slant: int


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
    ground = Ground(paper, layout.edge, _crossings(pieces, layout), _ends(pieces, layout, work))
    layout = replace(layout, dimensions=fitting(layout.dimensions, ground))
    layout = replace(layout, edge={**layout.edge, "v": beside_texts(layout.dimensions, ground)})
    ground = replace(ground, edge=layout.edge)
    sizes = drawn(layout.dimensions, ground)
    tags = [note for band in layout.bands for note in tag_notes(solved, obstacle, eye, band.window, band.shift)]
    notes = with_tags(notes_on(pieces, things, Subject(obstacle.key, work), paper), tags, pieces)
    left, bottom, _, top = layout.extent()
    avoid = _segments(sizes, paper)
    chosen, right = _column(layout, notes, avoid)
    noted, top_of_notes = drawn_notes(chosen.notes, paper, chosen.column, chosen.slant, avoid)
    entries = key_entries(shapes)
    key, low = drawn_key(entries, paper, left, right, bottom - paper.inches(TO_KEY))
    edge = paper.inches(EDGE)
    return Drawn(
        (left - edge, low - edge),
        (right + edge, max(top, top_of_notes) + edge),
        (*shapes, *sizes, *noted, *key),
        entries,
        tuple(piece.thing for piece in pieces),
    )


def _column(layout: Layout, notes: tuple[Note, ...], avoid: tuple[Segment, ...]) -> tuple[_Notes, float]:
    """Return the notes with their column and slant, and the right edge of the sheet.

    They stand beside the drawing where that fits, else above it. Where the leaders have no room lines are wrapped
    shorter and optional notes out of reach are left out; only where nothing else helps the sheet grows wider.
    """
    paper, (left, _, right, top) = layout.paper, layout.extent()
    whole = max(right, left + paper.inches(SHEET_WIDE - 2 * EDGE))
    for widest, every in ATTEMPTS:
        column = _at(layout, whole - column_width(notes, paper, widest), widest)
        kept = tuple(note for note in notes if every or not note.optional or _reach(note) < column.left)
        column = _at(layout, whole - column_width(kept, paper, widest), widest)
        slant = free_slant(kept, paper, column, avoid)
        if slant is not None:
            return _Notes(kept, column, slant), whole
    needed = tuple(note for note in notes if not note.optional)
    start = max((_reach(note) for note in needed), default=left) + paper.inches(TO_NOTES)
    wide = column_width(needed, paper, NARROW)
    column = Column(max(start, whole - wide), top + paper.inches(TO_NOTES), NARROW)
    return _Notes(needed, column, UPRIGHT), max(whole, column.left + wide)


def _reach(note: Note) -> float:
    return min(spot[0] for spot in note.spots)


def _at(layout: Layout, start: float, widest: float) -> Column:
    """Return the column that starts at *start*: beside the drawing it may come down as far as the dimensions."""
    paper, (_, _, right, top) = layout.paper, layout.extent()
    if start < right + paper.inches(TO_NOTES):
        return Column(start, top + paper.inches(TO_NOTES), widest)
    over = max((d.high for d in layout.dimensions if d.along == "v"), default=top)
    return Column(start, min(top, over + paper.inches(TO_NOTES)), widest)


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
        edge = layout.edge[one.along]
        own = float(work.bottom if one.along == "u" else work.right)
        if (edge >= own) if one.along == "u" else (edge <= own):
            return edge
        found = [own]
        for rect in (rect for piece in pieces for rect in piece.seen):
            low, high = (rect.left, rect.right) if one.along == "u" else (rect.bottom, rect.top)
            if low <= value <= high:
                found.append(float(rect.bottom if one.along == "u" else rect.right))
        return max(min(found), edge) if one.along == "u" else min(max(found), edge)

    return end


def _segments(shapes: tuple[Shape, ...], paper: Paper) -> tuple[Segment, ...]:
    """Return what leaders keep off: dimension lines, and the texts on them."""
    boxes = [label_box(shape, paper) for shape in shapes if isinstance(shape, Label)]
    sides = [
        side
        for left, low, right, high in boxes
        for side in (((left, low), (right, high)), ((left, high), (right, low)), ((left, low), (left, high)))
    ]
    return (*sides, *_lines(shapes))


def label_box(label: Label, paper: Paper) -> tuple[float, float, float, float]:
    """Return left, low, right and high of what a label covers, in inches of the model."""
    wide = paper.inches(text_width(label.text, label.height, strong=label.strong))
    over, under = paper.inches(label.height * CAP_HEIGHT), paper.inches(label.height * DESCENT)
    back = {Anchoring.START: 0.0, Anchoring.MIDDLE: wide / 2, Anchoring.END: wide}[label.anchor]
    (u, v) = label.at
    if label.turned:
        return u - over, v - back, u + under, v - back + wide
    return u - back, v - under, u - back + wide, v + over


def _lines(shapes: tuple[Shape, ...]) -> tuple[Segment, ...]:
    return tuple(
        (a, b)
        for shape in shapes
        if isinstance(shape, Stroke)
        for a, b in zip(shape.points, shape.points[1:], strict=False)
    )

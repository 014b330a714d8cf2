"""Sketches as data: primitives in model inches, y up, with texts sized on paper; no SVG, no colours.

The writer flips y once, turns model inches into whole drawing units and styles everything by class. Shapes stand in
the order in which they are painted: a later one covers an earlier one, so what is nearer comes later.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from enum import Enum
from fractions import Fraction

from bookgen.model.assembly import Material
from bookgen.model.frozen import dataclass

Spot = tuple[float, float]
MILLIMETRES_PER_INCH = 25.4  # on paper
# How large is a hang tag on paper, in millimetres? Pointed end to square end, and from edge to edge.
TAG_LONG = 9.0
TAG_HIGH = 5.4
TAG_TEXT = 3.8  # millimetres of type for its number


class View(Enum):
    """The way a sketch looks at its subject."""

    SECTION = "section"
    ELEVATION = "elevation"
    PLAN = "plan"
    CUTAWAY = "cutaway"
    CUTTING = "cutting"


class LineKind(Enum):
    """Line types after ISO 128-2: two widths, wide to narrow 2:1."""

    CUT = "cut"  # wide: outlines that the section plane cuts
    BEYOND = "beyond"  # narrow: outlines seen past the plane
    HIDDEN = "hidden"  # narrow dashed: behind something
    CENTRE = "centre"  # narrow long dash dot: axis
    OVERHEAD = "overhead"  # narrow, long dashes: above the height that a plan is cut at
    GHOST = "ghost"  # narrow long dash double dot: what was there before the work and will be out of sight
    PLANE = "plane"  # narrow long dash dot between wide ends: where another sketch is cut
    DIMENSION = "dimension"  # narrow: dimension and extension lines
    PLANNED = "planned"  # narrow, dotted: the dimension line of a size that nobody has confirmed yet
    TICK = "tick"  # wide: the slanted stroke at a dimension's end
    LEADER = "leader"  # narrow: from a note to its thing
    BREAK = "break"  # narrow: where the drawing stops short
    DETAIL = "detail"  # narrow: marks inside a cut piece, such as crossed diagonals
    WALL = "wall"  # wide: walls on a plan
    LAYER = "layer"  # twice as wide as a cut outline, dashed: a sheet that is cut, too thin to be drawn to scale
    FREE = "free"  # narrow, short dashes: the edge of a space that nothing may enter
    BARRED = "barred"  # narrow: slanted strokes over a part of a face where nothing may be driven in


class Anchoring(Enum):
    """Which end of a text stands at its spot."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Area:
    """A filled outline: *corners* of a polygon, or of a circle its centre with *radius*; *material* None is blank."""

    material: Material | None
    line: LineKind
    corners: tuple[Spot, ...]
    radius: float | None = None
    hole: float | None = None
    """Radius of the hollow inside a pipe."""
    outlined: bool = True
    """False for a piece that the sheet cuts short: its real edges follow as strokes."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through points."""

    line: LineKind
    points: tuple[Spot, ...]


@dataclass(frozen=True, slots=True)
class Label:
    """A line of text; *height* is its type size on paper in millimetres, *turned* reads from the right (bottom to top).

    *at* lies on the baseline.
    """

    text: str
    at: Spot
    height: float
    anchor: Anchoring
    turned: bool = False
    strong: bool = False
    quiet: bool = False


@dataclass(frozen=True, slots=True)
class TagMark:
    """A hang tag with its number; *at* is the middle of its pointed end, *flipped* points it to the right."""

    tag: str
    at: Spot
    flipped: bool = False


@dataclass(frozen=True, slots=True)
class Dot:
    """The dot at the end of a leader."""

    at: Spot


Shape = Area | Stroke | Label | TagMark | Dot


@dataclass(frozen=True, slots=True)
class KeyEntry:
    """One hatch or line that this sketch uses, and what it means."""

    words: str
    material: Material | None = None
    line: LineKind | None = None


@dataclass(frozen=True, slots=True)
class Sketch:
    """One drawing. *low* and *high* are the corners of its sheet in model inches; *scale* is 12 for 1 in = 1 ft.

    *title* and *desc* say in a sentence each what a person would see; *caption* stands under it. *entries* are drawn
    among the shapes as well. A *further* one is for the trades: a reader has seen the work without it. *layers* names
    for each shape the layer that it goes on and off with, "" where it always shows; it is empty where nothing does.
    """

    key: str
    view: View
    title: str
    desc: str
    caption: str
    scale: Fraction
    low: Spot
    high: Spot
    shapes: tuple[Shape, ...]
    entries: tuple[KeyEntry, ...]
    further: bool = False
    layers: tuple[str, ...] = ()

    def only(self, *layers: str, name: str) -> Sketch:
        """Return the same sheet with some layers and what always shows; its key and title carry *name*."""
        kept = tuple(shape for shape, own in zip(self.shapes, self.layers, strict=True) if own in ("", *layers))
        slug = name.replace(" ", "-")
        return replace(self, key=f"{self.key}-{slug}", title=f"{self.title}: {name}", shapes=kept, layers=())

    def paper_size(self) -> tuple[float, float]:
        """Return how wide and high the sheet is on paper, in millimetres, at its scale."""
        per_inch = MILLIMETRES_PER_INCH / float(self.scale)
        return (self.high[0] - self.low[0]) * per_inch, (self.high[1] - self.low[1]) * per_inch


@dataclass(frozen=True, slots=True)
class LevelSketches:
    """The drawings of the whole level: its plan, one for each face of the solved level, in their order, and the ties.

    A face behind which nothing is known has None. *ties* are small plans by tag number.
    """

    plan: Sketch
    faces: tuple[Sketch | None, ...]
    ties: Mapping[str, Sketch]

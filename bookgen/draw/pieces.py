"""Things, an eye and the windows of a sheet in; the outlines to paint, far to near, with what is hidden left out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum

from bookgen.draw.eye import Eye
from bookgen.draw.outlines import Rect, clip, is_upright, rect_round, uncovered
from bookgen.draw.scene import Origin, Thing
from bookgen.model.assembly import Material
from bookgen.model.exact import Fraction
from bookgen.model.geometry import Circle, Outline, Polygon, Prism
from bookgen.model.sketch import LineKind

SIGHT = Fraction(24)  # inches past the plane that joists, studs and hidden things of the work are still shown
GRAIN = frozenset({Material.LUMBER, Material.TREATED, Material.BLOCKING})


class Mark(Enum):
    """What a cut end of lumber carries."""

    NONE = "none"
    CROSS = "cross"  # a continuous member, cut across its grain
    SLASH = "slash"  # blocking


@dataclass(frozen=True, slots=True)
class Band:
    """A window of the view plane and how far up it is moved on the sheet: what lies between two bands is left out."""

    window: Rect
    shift: Fraction = Fraction(0)

    def placed(self) -> Rect:
        """Return where the window lies on the sheet."""
        w = self.window
        return Rect(w.left, w.bottom + self.shift, w.right, w.top + self.shift)


@dataclass(frozen=True, slots=True)
class Piece:
    """One outline on the sheet: cut or beyond, of which thing, and the rectangles of it that can be seen."""

    outline: Outline
    whole: bool
    line: LineKind
    thing: Thing
    mark: Mark
    seen: tuple[Rect, ...]
    band: Rect


@dataclass(frozen=True, slots=True)
class _Raw:
    outline: Outline
    line: LineKind
    thing: Thing
    mark: Mark
    depth: Fraction
    around: Rect

    def order(self) -> tuple[Fraction, bool, Rect]:
        """Return what tells which of two outlines is nearer, or else which is painted later."""
        return self.depth, self.thing.origin is not Origin.HIDDEN, self.around


def visible(eye: Eye, things: Iterable[Thing], own: str, bands: Iterable[Band]) -> tuple[Piece, ...]:
    """Return what can be seen in each band, in the order in which it is painted."""
    raw = sorted(_raw(eye, tuple(things), own), key=_Raw.order)
    return tuple(piece for band in bands for piece in _in_band(raw, band))


def _raw(eye: Eye, things: tuple[Thing, ...], own: str) -> Iterator[_Raw]:
    """Yield every outline that is cut, and every one beyond that the sketch is about."""
    cuts = [(thing, eye.cut(thing.solid) if eye.reaches(thing.bounds) else ()) for thing in things]
    cut_hidden = {(thing.owner, thing.treatment) for thing, cut in cuts if cut and thing.origin is Origin.HIDDEN}
    for thing, outlines in cuts:
        for outline in outlines:
            yield _Raw(outline, LineKind.CUT, thing, _mark(eye, thing), Fraction(-1), rect_round(outline))
        if outlines or (thing.origin is Origin.HIDDEN and (thing.owner, thing.treatment) in cut_hidden):
            continue
        depth = eye.depth(thing.bounds)
        if depth >= 0 and _shown_beyond(eye, thing, depth, own):
            outline = eye.seen(thing.solid)
            yield _Raw(outline, LineKind.BEYOND, thing, Mark.NONE, depth, rect_round(outline))


def _mark(eye: Eye, thing: Thing) -> Mark:
    if thing.material is Material.BLOCKING:
        return Mark.SLASH
    end_on = isinstance(thing.solid, Prism) and thing.solid.axis == eye.axis
    return Mark.CROSS if thing.material in GRAIN and end_on else Mark.NONE


def _shown_beyond(eye: Eye, thing: Thing, depth: Fraction, own: str) -> bool:
    """Tell whether a thing past the plane belongs on the sketch: the work itself, and what holds it, near by."""
    if thing.origin is Origin.PART:
        return thing.owner == own
    if thing.origin is Origin.HIDDEN:
        return thing.owner == own and (depth <= SIGHT or eye.axis == "y")
    if eye.axis == "z":
        return thing.origin is Origin.LINING and thing.material in GRAIN
    return thing.material in GRAIN and depth <= SIGHT


def _in_band(raw: Iterable[_Raw], band: Band) -> list[Piece]:
    """Return the pieces of one band, given the nearest first: these take away from what is seen of those behind."""
    covers: list[Rect] = []
    found: list[Piece] = []
    for one in raw:
        whole = band.window.holds(one.around)
        clipped = one.outline if whole else clip(one.outline, band.window)
        if clipped is None:
            continue
        around = one.around if whole else rect_round(clipped)
        seen = (around,) if one.line is LineKind.CUT else uncovered(around, covers)
        if not seen:
            continue
        found.append(_placed(one, clipped, seen, band))
        if is_upright(clipped) and one.thing.material is not Material.VOID:
            covers.append(around)
    return found[::-1]


def _placed(one: _Raw, clipped: Outline, seen: tuple[Rect, ...], band: Band) -> Piece:
    up, whole = band.shift, clipped == one.outline
    if not up:
        return Piece(clipped, whole, one.line, one.thing, one.mark, seen, band.window)
    moved = tuple(Rect(r.left, r.bottom + up, r.right, r.top + up) for r in seen)
    outline: Outline
    if isinstance(clipped, Circle):
        outline = Circle((clipped.centre[0], clipped.centre[1] + up), clipped.radius, clipped.wall)
    else:
        outline = Polygon(tuple((u, v + up) for u, v in clipped.corners))
    return Piece(outline, whole, one.line, one.thing, one.mark, moved, band.placed())

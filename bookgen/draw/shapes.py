"""Pieces of a view in; areas and strokes in inches of the model out: fills, outlines, end-grain marks, break lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from bookgen.draw.outlines import Rect, rect_round
from bookgen.draw.paper import Paper
from bookgen.draw.pieces import Mark, Piece
from bookgen.draw.scene import Origin
from bookgen.model.assembly import Material
from bookgen.model.geometry import Circle, Corner, Polygon
from bookgen.model.sketch import Area, LineKind, Shape, Spot, Stroke

CENTRE_PAST = 1.6  # millimetres that a centre line runs past the pipe
SMALLEST_CENTRED = 2.0  # millimetres of radius from which a pipe gets centre lines
BREAK_PAST = 1.6  # millimetres that a break line runs past what it breaks
BREAK_ZIG = 1.7  # millimetres, half of its zigzag
BREAK_JOIN = 14.0  # millimetres between two broken pieces that one break line still spans

Side = tuple[str, Fraction]


def spot(corner: Corner) -> Spot:
    """Return exact coordinates as the floats a sketch holds."""
    return float(corner[0]), float(corner[1])


@dataclass(frozen=True, slots=True)
class Look:
    """How a view draws what is hidden: *dashed* where the framing is looked at; else, of finished work, as a *ghost*.

    As a ghost it stands in the finished work as it was before, so that one drawing tells before and after.
    """

    dashed: bool
    ghost: bool


def drawn_pieces(pieces: Iterable[Piece], paper: Paper, look: Look) -> tuple[Shape, ...]:
    """Return the shapes of all pieces in painting order, then their break lines."""
    kept = tuple(pieces)
    shapes: list[Shape] = []
    for piece in kept:
        hidden = piece.thing.origin is Origin.HIDDEN
        dashed = look.dashed and hidden
        if piece.thing.material is not Material.VOID and not dashed:
            shapes += _drawn(piece, LineKind.GHOST if look.ghost and hidden else piece.line, paper)
    for piece in kept:
        if piece.thing.material is Material.VOID or (look.dashed and piece.thing.origin is Origin.HIDDEN):
            shapes += _dashed(piece)
    return (*shapes, *_breaks(kept, paper))


def _drawn(piece: Piece, line: LineKind, paper: Paper) -> Iterator[Shape]:
    outline, material = piece.outline, piece.thing.material
    if isinstance(outline, Circle):
        hollow = float(outline.radius - outline.wall) if 0 < outline.wall < outline.radius else None
        yield Area(material, line, (spot(outline.centre),), float(outline.radius), hollow)
        if piece.line is LineKind.CUT:
            yield from _centre_lines(outline, paper)
        return
    corners = tuple(spot(corner) for corner in outline.corners)
    yield Area(material, line, corners, outlined=piece.whole)
    if not piece.whole:
        yield from (Stroke(line, edge) for edge in _real_edges(outline, piece.band))
    if piece.mark is not Mark.NONE and piece.whole and len(corners) == 4:
        yield Stroke(LineKind.DETAIL, (corners[0], corners[2]))
        if piece.mark is Mark.CROSS:
            yield Stroke(LineKind.DETAIL, (corners[1], corners[3]))


def _centre_lines(circle: Circle, paper: Paper) -> Iterator[Shape]:
    (u, v), radius = spot(circle.centre), float(circle.radius)
    if paper.millimetres(radius) >= SMALLEST_CENTRED:
        far = radius + paper.inches(CENTRE_PAST)
        yield Stroke(LineKind.CENTRE, ((u - far, v), (u + far, v)))
        yield Stroke(LineKind.CENTRE, ((u, v - far), (u, v + far)))


def _dashed(piece: Piece) -> Iterator[Shape]:
    if isinstance(piece.outline, Circle):
        yield Area(None, LineKind.HIDDEN, (spot(piece.outline.centre),), float(piece.outline.radius))
    elif piece.whole:
        corners = tuple(spot(corner) for corner in piece.outline.corners)
        yield Stroke(LineKind.HIDDEN, (*corners, corners[0]))
    else:
        yield from (Stroke(LineKind.HIDDEN, edge) for edge in _real_edges(piece.outline, piece.band))


def _real_edges(polygon: Polygon, band: Rect) -> list[tuple[Spot, ...]]:
    """Return the edges of a clipped polygon that do not lie on the window's own sides, chained into lines."""
    corners = polygon.corners
    real = [not _on_side(a, b, band) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]
    if all(real):
        return [tuple(spot(corner) for corner in (*corners, corners[0]))]
    count, chains = len(corners), list[list[Spot]]()
    first = real.index(False)
    for step in range(1, count + 1):
        index = (first + step) % count
        if real[index]:
            if not chains or not chains[-1]:
                chains.append([spot(corners[index])])
            chains[-1].append(spot(corners[(index + 1) % count]))
        else:
            chains.append([])
    return [tuple(chain) for chain in chains if chain]


def _on_side(a: Corner, b: Corner, band: Rect) -> bool:
    across = a[0] == b[0] and a[0] in (band.left, band.right)
    return across or (a[1] == b[1] and a[1] in (band.bottom, band.top))


def _breaks(pieces: tuple[Piece, ...], paper: Paper) -> list[Shape]:
    """Return one break line for each stretch of a window's side where it cuts pieces short."""
    stretches: dict[tuple[Rect, str], list[tuple[float, float]]] = {}
    for piece in pieces:
        if piece.whole:
            continue
        around, band = rect_round(piece.outline), piece.band
        for side, here, limit in (
            ("left", around.left, band.left),
            ("right", around.right, band.right),
            ("bottom", around.bottom, band.bottom),
            ("top", around.top, band.top),
        ):
            if here == limit:
                upright = side in ("left", "right")
                ends = (around.bottom, around.top) if upright else (around.left, around.right)
                stretches.setdefault((band, side), []).append((float(ends[0]), float(ends[1])))
    shapes: list[Shape] = []
    for (band, side), found in sorted(stretches.items()):
        for low, high in _merged(found, paper.inches(BREAK_JOIN)):
            shapes.append(Stroke(LineKind.BREAK, _zigzag(band, side, low, high, paper)))
    return shapes


def _merged(stretches: list[tuple[float, float]], gap: float) -> list[tuple[float, float]]:
    found: list[tuple[float, float]] = []
    for low, high in sorted(stretches):
        if found and low - found[-1][1] < gap:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found


def _zigzag(band: Rect, side: str, low: float, high: float, paper: Paper) -> tuple[Spot, ...]:
    at = float({"left": band.left, "right": band.right, "bottom": band.bottom, "top": band.top}[side])
    past, zig = paper.inches(BREAK_PAST), paper.inches(BREAK_ZIG)
    middle = (low + high) / 2
    path = (
        (low - past, 0.0),
        (middle - zig, 0.0),
        (middle - zig / 2, zig),
        (middle + zig / 2, -zig),
        (middle + zig, 0.0),
        (high + past, 0.0),
    )
    if side in ("left", "right"):
        return tuple((at + off, along) for along, off in path)
    return tuple((along, at + off) for along, off in path)

"""Convex bodies and a way of looking in; the faces and edges that can be seen, in the view plane, out.

Two convex bodies that do not meet have a plane between them; the one on the viewer's side of it may hide the other,
never the other way round. So each face loses what the bodies before it cover, pair by pair: no order of painting is
needed, and none can be wrong.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from bookgen.draw.bodies import Body, Vector, cross, dot, unit

Floats = NDArray[np.float64]

TOUCH = 1e-6  # inches: bodies that share no more than this only touch
SMALLEST = 0.02  # square inches of a face, and inches of an edge, under which nothing is drawn


@dataclass(frozen=True, slots=True)
class View:
    """An orthographic view: unit vectors to the right, up, and toward the viewer, on the axes of the level."""

    right: Vector
    up: Vector
    toward: Vector

    def spot(self, corner: Vector) -> tuple[float, float]:
        """Return where a corner lies in the view plane."""
        return dot(corner, self.right), dot(corner, self.up)


@dataclass(frozen=True, slots=True)
class Seen:
    """What can be seen of one body: pieces of faces, each with whether it is an end, and pieces of edges."""

    faces: tuple[tuple[Polygon, bool], ...]
    edges: tuple[LineString, ...]


def view_from(toward: Vector) -> View:
    """Return the upright view of somebody who stands that way from the work; not straight above or below it."""
    toward = unit(toward)
    right = unit(cross((0.0, 0.0, 1.0), toward))
    return View(right, cross(toward, right), toward)


def seen(bodies: Sequence[Body], view: View) -> tuple[Seen, ...]:
    """Return what can be seen of each body, in their order."""
    outlines = [_outline(body, view) for body in bodies]
    frames = [_frame(body, view) for body in bodies]
    tree = shapely.STRtree(outlines)
    found = []
    for number, body in enumerate(bodies):
        near = sorted(int(other) for other in tree.query(outlines[number]) if int(other) != number)
        before = [outlines[other] for other in near if _hides(frames[other], frames[number], view)]
        cover = shapely.union_all(before) if before else None
        found.append(Seen(_faces(body, view, outlines[number], cover), _edges(body, view, outlines[number], cover)))
    return tuple(found)


def _outline(body: Body, view: View) -> BaseGeometry:
    spots = np.array(body.corners()) @ np.array([view.right, view.up]).T
    return shapely.convex_hull(shapely.multipoints(spots))


@dataclass(frozen=True, slots=True)
class _Frame:
    """A body as arrays: corners, normals of its faces, how far out each face lies, directions of its edges."""

    corners: Floats
    normals: Floats
    reach: Floats
    ways: Floats
    depth: float


def _frame(body: Body, view: View) -> _Frame:
    corners, normals = np.array(body.corners()), np.array([surface.normal for surface in body.surfaces])
    reach = np.array([dot(surface.normal, surface.corners[0]) for surface in body.surfaces])
    end, side = body.surfaces[0].corners, body.surfaces[2].corners
    pairs = [*zip(end, end[1:] + end[:1], strict=True), (side[1], side[2])]
    ways = np.array([(b[0] - a[0], b[1] - a[1], b[2] - a[2]) for a, b in pairs])
    return _Frame(corners, normals, reach, ways, float((corners @ np.array(view.toward)).mean()))


def _hides(one: _Frame, other: _Frame, view: View) -> bool:
    """Tell whether *one* may hide some of *other*: whether it lies on the viewer's side of a plane between them."""
    for first, second, sign in ((one, other, -1), (other, one, 1)):
        beyond = (second.corners @ first.normals.T >= first.reach - TOUCH).all(0)
        if beyond.any():
            return float(first.normals[int(beyond.argmax())] @ np.array(view.toward)) * sign > TOUCH
    return _between_edges(one, other, view)


def _between_edges(one: _Frame, other: _Frame, view: View) -> bool:
    """The same for bodies that only a plane along an edge of each keeps apart; those that meet go by their middles."""
    normals = np.cross(one.ways[:, None], other.ways[None, :]).reshape(-1, 3)
    normals = normals[(normals**2).sum(1) >= TOUCH]
    mine, its = normals @ one.corners.T, normals @ other.corners.T
    before, after = mine.max(1) <= its.min(1) + TOUCH, its.max(1) <= mine.min(1) + TOUCH
    apart = before | after
    if apart.any():
        first = int(apart.argmax())
        facing = float(normals[first] @ np.array(view.toward))
        return facing < -TOUCH if before[first] else facing > TOUCH
    return one.depth > other.depth


def _faces(
    body: Body, view: View, outline: BaseGeometry, cover: BaseGeometry | None
) -> tuple[tuple[Polygon, bool], ...]:
    facing = [surface for surface in body.surfaces if dot(surface.normal, view.toward) > TOUCH]
    shapes: list[tuple[BaseGeometry, bool]] = []
    ends = [Polygon([view.spot(corner) for corner in surface.corners]) for surface in facing if surface.end]
    if body.smooth:  # the sides of a round body are one face
        shapes.append((outline.difference(shapely.union_all(ends)) if ends else outline, False))
    else:
        shapes += [(Polygon([view.spot(c) for c in s.corners]), False) for s in facing if not s.end]
    shapes += [(end, True) for end in ends]
    found: list[tuple[Polygon, bool]] = []
    for shape, end in shapes:
        left = shape if cover is None else shape.difference(cover)
        found += [(piece, end) for piece in polygons(left) if piece.area >= SMALLEST]
    return tuple(found)


def _edges(body: Body, view: View, outline: BaseGeometry, cover: BaseGeometry | None) -> tuple[LineString, ...]:
    lines: list[BaseGeometry] = []
    for surface in body.surfaces:
        if dot(surface.normal, view.toward) > TOUCH and (surface.end or not body.smooth):
            spots = [view.spot(corner) for corner in surface.corners]
            lines.append(LineString([*spots, spots[0]]))
    if body.smooth and isinstance(outline, Polygon):
        lines.append(outline.exterior)
    whole = shapely.union_all(lines)
    left = whole if cover is None else whole.difference(cover)
    merged = shapely.line_merge(left)
    parts = merged.geoms if hasattr(merged, "geoms") else (merged,)
    return tuple(part for part in parts if isinstance(part, LineString) and part.length >= SMALLEST)


def polygons(shape: BaseGeometry) -> list[Polygon]:
    """Return the polygons that a shape is made of."""
    if isinstance(shape, Polygon):
        return [] if shape.is_empty else [shape]
    parts = getattr(shape, "geoms", ())
    return [part for part in parts if isinstance(part, Polygon)]

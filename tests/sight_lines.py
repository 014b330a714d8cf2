"""A solved level in; what of its hidden things and of its framing somebody in a room could see, as sentences, out.

Looked at squarely, from below and from all four sides; the plane geometry is shapely's.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from shapely import Point as Spot
from shapely import STRtree, unary_union
from shapely.geometry.base import BaseGeometry

from bookgen.model.assembly import Material
from bookgen.model.geometry import ACROSS, AXES, Axis, Box, Point, Prism, Rod, Solid
from bookgen.model.solved import Solved
from tests.worked import HAIR, WOOD, Piece, across, flat, round_all

SEE_THROUGH = frozenset({Material.LUMBER, Material.TREATED, Material.BLOCKING, Material.VOID, Material.CABLE})
CLOSED = frozenset({"wall soffit", "hung soffit", "beam soffit", "chase", "post wrap"})
GAP = 0.5  # square inches of wood: less is a joint that the filler closes
BASE = 1.0  # inches over the floor that the base hides
VIEWS: tuple[tuple[Axis, int, str], ...] = (
    ("z", -1, "below"), ("x", -1, "the west"), ("x", 1, "the east"), ("y", -1, "the south"), ("y", 1, "the north"),
)  # fmt: skip


def seen(solved: Solved, every: Iterable[Piece]) -> Iterator[str]:
    """Nothing in a treatment that is closed all round can be seen: looked at from below and from all four sides.

    From each side the outline of the hidden thing must be covered by what stands between it and the room: board, a
    door or cover, the block. What goes on out of the treatment on a side is not looked at from there; what leads into
    another closed treatment, or above a ceiling, is not seen from the room.
    """
    scene = _scene(solved, every)
    for one in solved.obstacles:
        for thing in one.hidden if one.key in scene.closed else ():
            if thing.material is Material.CABLE:
                continue
            for solid in thing.solids:
                looked = _within(solid, scene.closed[one.key])
                for axis, toward, name in VIEWS:
                    outline = flat(looked.seen(axis))
                    if _bare(scene, one.key, (looked.bounds(), outline), (axis, toward)) > HAIR:
                        yield f"{thing.what} of {one.key} can be seen from {name}"


def unclad(solved: Solved, every: Iterable[Piece]) -> Iterator[str]:
    """No framing of a treatment that is closed all round can be seen: what shows its wood shows what it hides too.

    Wood that begins at one depth is looked at together, what goes up between the joists is left out. So a gap at a
    meeting is told of, whether or not a pipe happens to lie behind it.
    """
    scene = _scene(solved, every)
    for key in scene.closed:
        wood = [piece for piece in scene.every if piece.owner == key and piece.part.material in WOOD]
        wood = [piece for piece in wood if piece.box.low.z < solved.level.joists]
        for axis, toward, name in VIEWS:
            layers: dict[Fraction, list[Piece]] = {}
            for piece in wood:
                near = piece.box.low.on(axis) if toward < 0 else piece.box.high.on(axis)
                layers.setdefault(near, []).append(piece)
            for layer in layers.values():
                outline = unary_union([flat(piece.part.solid.seen(axis)) for piece in layer])
                if _bare(scene, key, (round_all(piece.box for piece in layer), outline), (axis, toward)) > GAP:
                    yield f"{layer[0].part.name} of {key} can be seen from {name}"


@dataclass(frozen=True, slots=True)
class _Scene:
    """A level to be looked at: every piece of it, and the box round each treatment that is closed all round.

    *covering* are the pieces that nobody sees through, *trees* how they look along each axis, ready to be asked.
    """

    solved: Solved
    every: tuple[Piece, ...]
    closed: dict[str, Box]
    closets: tuple[Box, ...]
    covering: tuple[Piece, ...]
    trees: dict[Axis, STRtree]

    def covers(self, outline: BaseGeometry, axis: Axis) -> Iterator[tuple[Piece, BaseGeometry]]:
        """Yield each covering piece that an outline may lie behind, and how it looks along an axis."""
        tree = self.trees[axis]
        for number in sorted(tree.query(outline)):
            yield self.covering[number], tree.geometries[number]


def _scene(solved: Solved, every: Iterable[Piece]) -> _Scene:
    every = tuple(every)
    built = {one.key: one.assembly.treatment for one in solved.obstacles if one.assembly is not None}
    rounds = {key: round_all(piece.box for piece in every if piece.owner == key) for key in built}
    closed = {key: box for key, box in rounds.items() if built[key] in CLOSED}
    closets = tuple(box for key, box in rounds.items() if built[key] == "closet")
    covering = tuple(piece for piece in every if piece.part.material not in SEE_THROUGH)
    trees = {axis: STRtree([flat(piece.part.solid.seen(axis)) for piece in covering]) for axis in AXES}
    return _Scene(solved, every, closed, closets, covering, trees)


def _bare(scene: _Scene, key: str, looked: tuple[Box, BaseGeometry], view: tuple[Axis, int]) -> float:
    """Return how much of an outline, of what fills a box, is bare from one side, in square inches."""
    (room, outline), (axis, toward) = looked, view
    own = scene.closed[key]
    near, edge = (room.low, own.low) if toward < 0 else (room.high, own.high)
    if not room.overlaps(own) or toward * near.on(axis) >= toward * edge.on(axis):
        return 0.0
    covers = [
        cover
        for piece, cover in scene.covers(outline, axis)
        if _between(piece.box, axis, toward, near.on(axis), edge.on(axis))
    ]
    beyond = [
        across(box, axis)
        for other, box in scene.closed.items()
        if other != key and box.low.on(axis) <= edge.on(axis) <= box.high.on(axis)
    ]
    bare = outline.intersection(across(own, axis)).difference(unary_union([*covers, *beyond]))
    return sum(
        part.area
        for part in getattr(bare, "geoms", [bare])
        if part.area > HAIR and _in_a_room(scene, _spot(part, axis, float(edge.on(axis)) + 0.1 * toward))
    )


def _within(solid: Solid, own: Box) -> Solid:
    """Return of a sloping pipe what lies in its treatment, without the slant of its ends: outside it comes lower."""
    if not isinstance(solid, Rod) or (solid.start.x != solid.end.x) == (solid.start.y != solid.end.y):
        return solid
    axis: Axis = "x" if solid.start.x != solid.end.x else "y"
    first, way = solid.start.on(axis), solid.end.on(axis) - solid.start.on(axis)
    lean = (solid.bounds().high.on(axis) - max(first, first + way)) / abs(way)
    low, high = sorted((edge - first) / way for edge in (own.low.on(axis), own.high.on(axis)))
    low, high = max(low, lean), min(high, 1 - lean)
    if low >= high:
        return solid
    step = solid.end.minus(solid.start)
    start, end = (Point(*(solid.start.on(a) + at * step.on(a) for a in AXES)) for at in (low, high))
    return replace(solid, start=start, end=end)


def _between(box: Box, axis: Axis, toward: int, near: Fraction, edge: Fraction) -> bool:
    """Tell whether a piece's outer face lies between the near side of the thing and the edge of its treatment."""
    face = box.low.on(axis) if toward < 0 else box.high.on(axis)
    return toward * near <= toward * face <= toward * edge + 1


def _spot(part: BaseGeometry, axis: Axis, at: float) -> dict[str, float]:
    """Return a place on the level inside an outline across *axis*, at *at* on it."""
    spot = part.representative_point()
    return dict(zip(ACROSS[axis], (spot.x, spot.y), strict=True)) | {axis: at}


def _in_a_room(scene: _Scene, at: dict[str, float]) -> bool:
    """Tell whether an eye can be at a place: in a finished room, over the base, under whatever ceiling is there.

    The inside of a closet is none.
    """
    solved, spot = scene.solved, Spot(at["x"], at["y"])
    if any(across(box, "z").contains(spot) for box in scene.closets):
        return False
    floor, joists = float(solved.level.floor), float(solved.level.joists)
    in_room = any(
        room.use != "utility"
        and at["z"] < (floor + float(room.ceiling.inches) if room.ceiling else joists)
        and flat(room.outline).contains(spot)
        for room in solved.rooms
    )
    under = [
        piece
        for piece, cover in scene.covers(spot, "z")
        if piece.part.material is Material.BOARD
        and isinstance(piece.part.solid, Prism)
        and piece.part.solid.axis == "z"
        and piece.box.low.z < at["z"]
        and cover.intersects(spot)
    ]
    return in_room and at["z"] > floor + BASE and not under

"""A Solved level in; its walls, windows and doors as a plan shows them, cut at hand height, out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from math import cos, pi, sin

from bookgen.draw.eye import Eye
from bookgen.draw.outlines import Rect, rect_round, uncovered
from bookgen.draw.scene import Origin, Thing
from bookgen.draw.shapes import spot
from bookgen.model.assembly import Material
from bookgen.model.frame import Frame
from bookgen.model.geometry import Point
from bookgen.model.records.inside import Wall
from bookgen.model.records.treatments import StairOpening
from bookgen.model.sketch import Area, LineKind, Shape, Spot, Stroke
from bookgen.model.solved import Solved
from bookgen.trade.called import called

PLATE_UP = Fraction(4)  # inches: a piece of lumber that ends below this is a plate on the slab
ARROW_TREADS = Fraction(1)  # treads that the head of a stair's arrow is long
SWING_STEPS = 10  # lines that stand for the quarter circle of a door's swing
_SOLID = frozenset({Material.LUMBER, Material.TREATED, Material.BLOCKING, Material.BOARD})
_BOXED = frozenset({"chase", "post wrap"})
LEAF = Fraction(11, 8)  # inches: how thick an inside door is, by custom of the trade
NEAR = 6  # inches from a doorway to the hinge of its door
DOOR = "door"  # a doorway has none
HINGE = " hinge"  # how the anchor of a leaf's hinge is named; its edge shut and open go with it


def wall_shapes(eye: Eye, scene: Iterable[Thing]) -> tuple[tuple[Shape, ...], tuple[Rect, ...]]:
    """Return the block hatched, stud walls filled, boxed-in work as its outline, and the rectangles that they take."""
    things = tuple(scene)
    block = [rect_round(o) for t in things if t.material is Material.BLOCK for o in eye.cut(t.solid)]
    boxes = [rect for _, rect in sorted(_boxes(eye, things).items())]
    filled = [*_plates(things)]
    for thing in things:
        if thing.origin in (Origin.LINING, Origin.PART) and thing.treatment not in _BOXED and thing.material in _SOLID:
            for outline in eye.cut(thing.solid):
                if uncovered(rect_round(outline), filled):
                    filled.append(rect_round(outline))
    shapes: list[Shape] = [_area(Material.BLOCK, LineKind.CUT, rect) for rect in block]
    shapes += [_area(None, LineKind.WALL, rect) for rect in filled]
    shapes += [_area(None, LineKind.CUT, rect, outlined=True) for rect in boxes]
    return tuple(shapes), (*block, *filled, *boxes)


def _boxes(eye: Eye, things: Iterable[Thing]) -> dict[str, Rect]:
    """Return the rectangle of each chase and post wrap by its obstacle: at this scale its sticks would be a blot."""
    found: dict[str, Rect] = {}
    for thing in things:
        if thing.origin is Origin.PART and thing.treatment in _BOXED and thing.material in _SOLID:
            for outline in eye.cut(thing.solid):
                rect = rect_round(outline)
                found[thing.owner] = found[thing.owner].joined(rect) if thing.owner in found else rect
    return found


def overhead_shapes(scene: Iterable[Thing]) -> tuple[Shape, ...]:
    """Return the outline of each soffit, which lies above the cut: tinted, its edges in long dashes."""
    found: dict[str, Rect] = {}
    for thing in scene:
        if thing.origin is Origin.PART and thing.treatment.endswith("soffit"):
            low, high = thing.bounds.low, thing.bounds.high
            rect = Rect(low.x, low.y, high.x, high.y)
            found[thing.owner] = found[thing.owner].joined(rect) if thing.owner in found else rect
    shapes: list[Shape] = []
    for _, rect in sorted(found.items()):
        corners = tuple(spot(corner) for corner in rect.corners())
        shapes.append(Area(Material.BOARD, LineKind.BEYOND, corners, outlined=False))
        shapes.append(Stroke(LineKind.OVERHEAD, (*corners, corners[0])))
    return tuple(shapes)


def _plates(things: Iterable[Thing]) -> Iterator[Rect]:
    """Yield the plates on the slab: a stud wall's own footprint, which leaves out its doorways."""
    for thing in things:
        walls = thing.origin is not Origin.SHELL and thing.treatment not in _BOXED
        if walls and thing.bounds.high.z <= PLATE_UP and thing.material in _SOLID:
            low, high = thing.bounds.low, thing.bounds.high
            yield Rect(low.x, low.y, high.x, high.y)


def _area(material: Material | None, line: LineKind, rect: Rect, *, outlined: bool | None = None) -> Area:
    edged = material is not None if outlined is None else outlined
    return Area(material, line, tuple(spot(corner) for corner in rect.corners()), outlined=edged)


def window_shapes(solved: Solved) -> tuple[Shape, ...]:
    """Return each window as a clear stretch of its wall with the glass line along it."""
    level, shapes = solved.level, list[Shape]()
    block = max((-p.solid.bounds().low.y for p in level.shell if p.role == "block wall"), default=Fraction(0))
    for window in solved.project.record.windows.values():
        along = (window.along.low.inches, window.along.high.inches)
        rect = _in_wall(window.wall, along, (-block, level.wall_face), (level.east_west, level.north_south))
        shapes.append(Area(None, LineKind.BEYOND, tuple(spot(corner) for corner in rect.corners())))
        middle = (rect.left + rect.right) / 2, (rect.bottom + rect.top) / 2
        if window.wall in ("north wall", "south wall"):
            ends = ((rect.left, middle[1]), (rect.right, middle[1]))
        else:
            ends = ((middle[0], rect.bottom), (middle[0], rect.top))
        shapes.append(Stroke(LineKind.BEYOND, (spot(ends[0]), spot(ends[1]))))
    return tuple(shapes)


def _in_wall(
    wall: Wall, along: tuple[Fraction, Fraction], off: tuple[Fraction, Fraction], size: tuple[Fraction, Fraction]
) -> Rect:
    """Return a stretch of a wall on the level; *off* counts from the block face into the room."""
    match wall:
        case "south wall":
            return Rect(along[0], off[0], along[1], off[1])
        case "north wall":
            return Rect(along[0], size[1] - off[1], along[1], size[1] - off[0])
        case "west wall":
            return Rect(off[0], along[0], off[1], along[1])
        case "east wall":
            return Rect(size[0] - off[1], along[0], size[0] - off[0], along[1])


def door_shapes(solved: Solved) -> tuple[Shape, ...]:
    """Return the leaves of the doors that treatments have, each open, with its swing, from the anchors of its hinge."""
    shapes: list[Shape] = []
    for obstacle in solved.obstacles:
        assembly = obstacle.assembly
        for name in sorted(assembly.anchors) if assembly is not None else ():
            if assembly is not None and name.endswith(HINGE):
                door = name.removesuffix(HINGE)
                points = [assembly.anchors[one] for one in (name, f"{door} edge, shut", f"{door} edge, open")]
                shapes += _swing(*(spot(_on_plan(assembly.frame.to_level(point))) for point in points))
    return tuple(shapes)


def leaf_shapes(solved: Solved, doors: Iterable[Shape]) -> tuple[Shape, ...]:
    """Return the leaf of each other door in a partition, shut: its record does not say which way it swings.

    *doors* are the leaves that are drawn open already.
    """
    hinges = [shape.points[0] for shape in doors if isinstance(shape, Stroke) and shape.line is LineKind.WALL]
    shapes: list[Shape] = []
    for partition in solved.project.record.partitions.values():
        across = (partition.thick.low.inches + partition.thick.high.inches) / 2
        for opening in partition.openings:
            low, high = opening.along.low.inches, opening.along.high.inches
            sides = (across - LEAF / 2, across + LEAF / 2)
            rect = Rect(low, sides[0], high, sides[1])
            if partition.runs in ("north", "south"):
                rect = Rect(sides[0], low, sides[1], high)
            taken = any(_near(rect, hinge) for hinge in hinges)
            if not taken and called(DOOR).search(opening.what):
                shapes.append(Area(None, LineKind.BEYOND, tuple(spot(corner) for corner in rect.corners())))
    return tuple(shapes)


def _near(rect: Rect, at: Spot) -> bool:
    return rect.left - NEAR <= at[0] <= rect.right + NEAR and rect.bottom - NEAR <= at[1] <= rect.top + NEAR


def stair_shapes(solved: Solved) -> tuple[Shape, ...]:
    """Return the nosings of each stair that is opened, and a line with an arrow that points up it."""
    shapes: list[Shape] = []
    for file in solved.project.obstacles:
        record = file.record.as_built.treatment if file.record.as_built else file.record.treatment
        obstacle = solved.obstacle(file.key)
        if record is not None and record.stair_opening is not None and obstacle.assembly is not None:
            shapes += _stair(record.stair_opening, obstacle.assembly.frame)
    return tuple(shapes)


def _stair(stair: StairOpening, frame: Frame) -> list[Shape]:
    forward = 1 if stair.goes_up in ("east", "north") else -1
    sides = (stair.stair.low.inches, stair.stair.high.inches)

    def at(station: Fraction, across: Fraction) -> Spot:
        return spot((station, across) if frame.along == "x" else (across, station))

    nosings = [stair.bottom_nosing.inches + forward * stair.tread.inches * number for number in range(stair.risers)]
    shapes: list[Shape] = [Stroke(LineKind.BEYOND, (at(x, sides[0]), at(x, sides[1]))) for x in nosings]
    middle, head = sum(sides) / Fraction(2), stair.tread.inches * ARROW_TREADS
    tip, back = nosings[-1], nosings[-1] - forward * head
    shapes.append(Stroke(LineKind.BEYOND, (at(nosings[0], middle), at(tip, middle))))
    ends = (at(back, middle - head / 3), at(tip, middle), at(back, middle + head / 3))
    return [*shapes, Stroke(LineKind.BEYOND, ends)]


def _on_plan(point: Point) -> tuple[Fraction, Fraction]:
    return point.x, point.y


def _swing(hinge: Spot, shut: Spot, wide_open: Spot) -> list[Shape]:
    """Return the open leaf and the quarter circle that its edge describes."""
    angles = [pi / 2 * step / SWING_STEPS for step in range(SWING_STEPS + 1)]
    arc = tuple(
        (
            hinge[0] + cos(angle) * (shut[0] - hinge[0]) + sin(angle) * (wide_open[0] - hinge[0]),
            hinge[1] + cos(angle) * (shut[1] - hinge[1]) + sin(angle) * (wide_open[1] - hinge[1]),
        )
        for angle in angles
    )
    return [Stroke(LineKind.BEYOND, arc), Stroke(LineKind.WALL, (hinge, wide_open))]

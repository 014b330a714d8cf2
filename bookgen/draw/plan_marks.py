"""Rooms, access points and what a plan already shows in; room names and hang tags on free spots out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import inf

import numpy as np

from bookgen.draw.ground import Cells, Flags, Floats, Ground, Taken, Way, cells_in, cells_under, taken, ways
from bookgen.draw.meetings import Segment, crosses
from bookgen.draw.paper import LINE, TEXT, Paper
from bookgen.model.sketch import TAG_HIGH, TAG_LONG, Anchoring, Dot, Label, LineKind, Shape, Spot, Stroke, TagMark
from bookgen.model.solved import AccessSpot, SolvedRoom
from bookgen.model.widths import CAP_HEIGHT, text_width

CLEAR = 1.0  # millimetres round a tag or a name
NEAREST, FURTHEST, STEP = 4.0, 36.0, 2.0  # millimetres from an access point to the tip of its tag
DIRECTIONS = 24
ROUNDS = 2
TRIES = 3  # orders in which tags choose
SPLIT = 12.0  # millimetres nearer to the middle that a second line must gain
NAME_STEP = 3.0  # millimetres between the spots tried for a room's name
# What does it cost a tag to lie over something, in millimetres of leader?
OVER_WALL, OVER_HIDDEN, PER_BORDER = 60.0, 6.0, 8.0
IN_WALL = 2.0  # what a leader in a wall costs on top of its length
OVER_LINES = 100.0  # what it costs a name to lie over a line, or over a tag that would have to move
PER_CELL = 1.0  # and for each cell of the tag
BARRED = 1000.0
SHOULDER = TAG_HIGH * 0.45 + CLEAR / 2  # millimetres of a tag's pointed end

Bounds = tuple[float, float, float, float]  # left, low, right, high


@dataclass(frozen=True, slots=True)
class _Places:
    """The places tried for one tag, a row each: tips, boxes as left low right high, leaders, and their own cost."""

    tips: Floats
    flipped: Flags
    boxes: Floats
    leaders: Floats
    way: Way
    cost: Floats


@dataclass(frozen=True, slots=True)
class PlanGround:
    """What tags mind, in millimetres: walls and names, which they may not cover; what is hidden; what leaders cross."""

    ground: Ground
    walls: Taken
    barred: Taken
    hidden: Taken
    surfaces: Cells


def tags(spots: Sequence[AccessSpot], plan: PlanGround) -> tuple[tuple[Shape, ...], tuple[Bounds, ...]]:
    """Return tags with their leaders and dots; no tag covers another, a dot or a leader, or leaves the plan."""
    order = sorted(spots, key=lambda one: one.tag)
    places = [_places((float(spot.at.x), float(spot.at.y)), plan) for spot in order]
    chosen = _settled(places, plan)
    shapes: list[Shape] = []
    for number, spot in enumerate(order):
        one, row = places[number], chosen[number]
        at, tip = (float(spot.at.x), float(spot.at.y)), plan.ground.back(_spot(one.tips[row]))
        shapes += [Stroke(LineKind.LEADER, (at, tip)), Dot(at), TagMark(spot.tag, tip, bool(one.flipped[row]))]
    found = [places[number].boxes[row] for number, row in sorted(chosen.items())]
    corners = [(*plan.ground.back(_spot(box[:2])), *plan.ground.back(_spot(box[2:]))) for box in found]
    return tuple(shapes), tuple(corners)


def _settled(places: Sequence[_Places], plan: PlanGround) -> dict[int, int]:
    """Return the row of each tag's place; those that found no clear place choose before all others, once more."""
    turns, best, lowest = list(range(len(places))), dict[int, int](), inf
    for _ in range(TRIES):
        table = _Table(places, plan)
        for _ in range(ROUNDS):  # each tag moves again once all the others stand
            for number in turns:
                table.choose(number)
        if sum(table.costs.values()) < lowest:
            best, lowest = table.rows, sum(table.costs.values())
        late = [number for number in turns if table.costs[number] >= BARRED]
        if not late:
            break
        turns = [*late, *(number for number in turns if number not in late)]
    return best


class _Table:
    """The tags that stand: the row and the cost of each one's place, and how many of them take each cell."""

    def __init__(self, places: Sequence[_Places], plan: PlanGround) -> None:
        self.rows: dict[int, int] = {}
        self.costs: dict[int, float] = {}
        self._places, self._plan = places, plan
        self._counts: Cells = np.zeros(plan.ground.shape, dtype=np.int32)

    def choose(self, number: int) -> None:
        """Put a tag on its cheapest place beside the others; one that would be barred everywhere stays."""
        if number in self.rows:
            self._add(number, -1)
        row, cost = self._cheapest(number)
        if cost < BARRED or number not in self.rows:
            self.rows[number], self.costs[number] = row, cost
        self._add(number, 1)

    def _add(self, number: int, one: int) -> None:
        place, row = self._places[number], self.rows[number]
        cells_in(self._counts, _box(place.boxes[row]))[:] += one
        for where in cells_under(self._leader(number, row), self._counts.shape, thick=1):
            self._counts[where] += one  # a cell that is named twice counts once, on the way back as well

    def _leader(self, number: int, row: int) -> Segment:
        place = self._places[number]
        return _spot(place.leaders[row]), _spot(place.tips[row])

    def _cheapest(self, number: int) -> tuple[int, float]:
        """Return the row of the cheapest place of a tag beside the others, and its cost."""
        place, cells = self._places[number], self._counts > 0
        cost = place.cost + BARRED * (2.0 * ~taken(cells).free(*place.boxes.T) + place.way.on(cells))
        others = [(other, row) for other, row in self.rows.items() if other != number]
        leaders = [self._leader(other, row) for other, row in others]
        sides = [side for other, row in others for side in _sides(self._places[other], row)]
        while True:
            row = int(cost.argmin())
            mine, own = self._leader(number, row), _sides(place, row)
            clash = any(crosses(mine, line) for line in (*leaders, *sides))
            if cost[row] >= BARRED or not (clash or any(crosses(side, line) for side in own for line in leaders)):
                return row, float(cost[row])
            cost[row] += BARRED


def _sides(place: _Places, row: int) -> tuple[Segment, ...]:
    """Return the sides of a tag without its pointed end, one of which a leader crosses when it runs through it."""
    left, low, right, high = _box(place.boxes[row])
    left, right = (left, right - SHOULDER) if place.flipped[row] else (left + SHOULDER, right)
    return (
        ((left, low), (right, low)),
        ((left, high), (right, high)),
        ((left, low), (left, high)),
        ((right, low), (right, high)),
    )


def plan_ground(
    whole: Bounds, paper: Paper, walls: Iterable[Bounds], hidden: Iterable[Shape], barred: Iterable[Bounds]
) -> PlanGround:
    """Return the raster of a plan that spans *whole*, in inches; nothing may stand on what is *barred*."""
    wide, high = paper.millimetres(whole[2] - whole[0]), paper.millimetres(whole[3] - whole[1])
    solid, lines = (Ground((whole[0], whole[1]), 1 / paper.inches(1.0), wide, high) for _ in range(2))
    for box in walls:
        solid.bar(box)
    lines.add(hidden)
    filled = solid.raster().barred
    plan = PlanGround(solid, taken(filled), taken(np.zeros_like(filled)), lines.raster().taken, filled.astype(np.int32))
    return with_barred(plan, barred)


def with_barred(plan: PlanGround, boxes: Iterable[Bounds]) -> PlanGround:
    """Return the raster with more boxes, in inches, on which nothing may stand."""
    cells = plan.barred.cells.copy()
    for left, low, right, high in boxes:
        cells_in(cells, (*plan.ground.at((left, low)), *plan.ground.at((right, high))))[:] = True
    return replace(plan, barred=taken(cells))


def _places(at: Spot, plan: PlanGround) -> _Places:
    """Return the places round an access point, in millimetres, with what each costs by itself."""
    far = np.arange(NEAREST, FURTHEST, STEP)
    angles = 2 * np.pi * (np.arange(DIRECTIONS) + 0.5) / DIRECTIONS
    length, angle = (grid.ravel() for grid in np.meshgrid(far, angles, indexing="ij"))
    x, y = plan.ground.at(at)
    tips = np.column_stack([x + length * np.cos(angle), y + length * np.sin(angle)])
    flipped = np.cos(angle) < 0
    left, half = np.where(flipped, tips[:, 0] - TAG_LONG, tips[:, 0]), TAG_HIGH / 2 + CLEAR / 2
    clear = CLEAR / 2
    boxes = np.column_stack([left - clear, tips[:, 1] - half, left + TAG_LONG + clear, tips[:, 1] + half])
    leaders = np.column_stack([np.full(len(tips), x), np.full(len(tips), y), tips, tips])
    way = ways(leaders, plan.ground.shape)
    in_wall = plan.surfaces.take(way.cells).mean(0)
    cost = length * (1.0 + IN_WALL * in_wall) + PER_BORDER * way.borders(plan.surfaces)
    sides = tuple(boxes.T)
    cost += OVER_WALL * ~plan.walls.free(*sides) + OVER_HIDDEN * ~plan.hidden.free(*sides)
    cost += BARRED * (~plan.barred.free(*sides) + 1.0 * way.on(plan.barred.cells))
    return _Places(tips, np.asarray(flipped), boxes, leaders, way, np.asarray(cost))


def _spot(row: Floats) -> Spot:
    return float(row[0]), float(row[1])


def _box(row: Floats) -> Bounds:
    return float(row[0]), float(row[1]), float(row[2]), float(row[3])


def dots_of(spots: Iterable[AccessSpot], paper: Paper) -> tuple[Bounds, ...]:
    """Return what the dots of access points take."""
    return tuple(_round((float(spot.at.x), float(spot.at.y)), paper.inches(CLEAR)) for spot in spots)


def names(
    rooms: Iterable[SolvedRoom], plan: PlanGround, in_the_way: Iterable[Bounds]
) -> tuple[tuple[Label, ...], tuple[Bounds, ...]]:
    """Return each room's name, on two lines where one is long, and what the names cover, in inches.

    Each stands on the free spot nearest to the middle of its outline, over as little as may be of what is *in the way*.
    """
    soft = with_barred(replace(plan, barred=taken(np.zeros_like(plan.barred.cells))), in_the_way).barred
    found: list[Label] = []
    boxes: list[Bounds] = []
    for room in rooms:
        words = room.name.split(" ")
        ways_to_set = [(room.name,), *((" ".join(words[:n]), " ".join(words[n:])) for n in range(1, len(words)))]
        _, labels, box = min((_name(room, lines, plan, soft) for lines in ways_to_set), key=lambda one: one[0])
        found += labels
        boxes.append(box)
    return tuple(found), tuple(boxes)


def _name(room: SolvedRoom, lines: tuple[str, ...], plan: PlanGround, soft: Taken) -> tuple[float, list[Label], Bounds]:
    """Return the cost of the best spot for a name in these lines, its labels there, and what they cover."""
    (u1, v1), (u2, v2) = ((float(u), float(v)) for u, v in room.outline.bounds())
    (left, low), (right, high) = plan.ground.at((u1, v1)), plan.ground.at((u2, v2))
    wide = max(text_width(line, TEXT, strong=True) for line in lines) / 2 + CLEAR
    tall = TEXT * CAP_HEIGHT + LINE * (len(lines) - 1) + CLEAR
    middle = ((left + right) / 2, (low + high) / 2)
    across, up = np.arange(left, right, NAME_STEP), np.arange(low, high, NAME_STEP)
    x, y = (np.append(grid.ravel(), one) for grid, one in zip(np.meshgrid(across, up), middle, strict=True))
    sides = (x - wide, y - CLEAR, x + wide, y + tall)
    cost = np.hypot(x - middle[0], y - middle[1]) + SPLIT * (len(lines) - 1) + 0.0
    cost += BARRED * (~plan.walls.free(*sides) + ~plan.barred.free(*sides)) + OVER_LINES * ~plan.hidden.free(*sides)
    covered = soft.count(*sides)
    cost += PER_CELL * covered + OVER_LINES * (covered > 0)
    cost += BARRED * ((sides[0] < left) | (sides[2] > right) | (sides[1] < low) | (sides[3] > high))
    row = int(cost.argmin())
    at = (float(x[row]), float(y[row]))
    labels = [
        Label(line, plan.ground.back((at[0], at[1] + LINE * number)), TEXT, Anchoring.MIDDLE, strong=True)
        for number, line in enumerate(reversed(lines))
    ]
    box = plan.ground.back((at[0] - wide, at[1] - CLEAR)), plan.ground.back((at[0] + wide, at[1] + tall))
    return float(cost[row]), labels, (*box[0], *box[1])


def _round(at: Spot, by: float) -> Bounds:
    return at[0] - by, at[1] - by, at[0] + by, at[1] + by

"""Rooms, access points and what a plan already shows in; the ground that tags mind and room names on it out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from bookgen.draw.ground import Cells, Ground, Taken, cells_in, taken
from bookgen.draw.paper import LINE, TEXT, Paper
from bookgen.model.sketch import Anchoring, Label, Shape, Spot
from bookgen.model.solved import AccessSpot, SolvedRoom
from bookgen.model.widths import CAP_HEIGHT, text_width

CLEAR = 1.0  # millimetres round a tag or a name
SPLIT = 12.0  # millimetres nearer to the middle that a second line must gain
NAME_STEP = 3.0  # millimetres between the spots tried for a room's name
OVER_LINES = 100.0  # what it costs a name to lie over a line, or over a tag that would have to move
PER_CELL = 1.0  # and for each cell of the tag
BARRED = 1000.0

Bounds = tuple[float, float, float, float]  # left, low, right, high


@dataclass(frozen=True, slots=True)
class PlanGround:
    """What tags mind, in millimetres: walls and names, which they may not cover; what is hidden; what leaders cross."""

    ground: Ground
    walls: Taken
    barred: Taken
    hidden: Taken
    surfaces: Cells


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

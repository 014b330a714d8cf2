"""Access points and the ground of a plan in; their hang tags on free spots of it out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import hypot

import numpy as np

from bookgen.draw.ground import BARE, ways
from bookgen.draw.paper import Paper
from bookgen.draw.plan_marks import BARRED, CLEAR, Bounds, PlanGround
from bookgen.draw.settling import Places, settled
from bookgen.model.sketch import TAG_HIGH, TAG_LONG, Dot, LineKind, Shape, Spot, Stroke, TagMark
from bookgen.model.solved import AccessSpot

TOGETHER = 1.5  # millimetres: access points of one system as close as this hang their tags on one leader
APART = 1.0  # millimetres from tag to tag on it
NEAREST, FURTHEST, STEP = 4.0, 36.0, 2.0  # millimetres from an access point to the tip of its tag
DIRECTIONS = 24
# What does it cost a tag to lie over something, in millimetres of leader?
OVER_WALL, OVER_HIDDEN, PER_BORDER = 60.0, 6.0, 8.0
IN_WALL = 2.0  # what a leader in a wall costs on top of its length


@dataclass(frozen=True, slots=True)
class Bunch:
    """Tags of one system on one leader, lowest number on top, as drawn; *box* is what the tags cover, in inches."""

    system: str
    shapes: tuple[Shape, ...]
    box: Bounds


def tags(spots: Iterable[AccessSpot], systems: Mapping[str, str], plan: PlanGround, paper: Paper) -> tuple[Bunch, ...]:
    """Return tags with their leaders and dots; no tag covers another, a dot or a leader, or leaves the plan.

    *systems* tells the system of each tag.
    """
    bunches = _bunches(sorted(spots, key=lambda one: one.tag), systems, paper)
    places = [_places(_spot(bunch[0]), len(bunch), plan) for bunch in bunches]
    chosen = settled(places)
    return tuple(
        _hung(bunch, systems[bunch[0].tag], place.at(np.array([row])), plan)
        for bunch, place, row in zip(bunches, places, chosen, strict=True)
    )


def _bunches(spots: Iterable[AccessSpot], systems: Mapping[str, str], paper: Paper) -> list[list[AccessSpot]]:
    """Return the access points that hang on one leader: those that are one spot on paper, system by system."""
    found: list[list[AccessSpot]] = []
    for spot in spots:
        for bunch in found:
            (x1, y1), (x2, y2) = _spot(bunch[0]), _spot(spot)
            near = paper.millimetres(1) * hypot(x2 - x1, y2 - y1) <= TOGETHER
            if near and systems[bunch[0].tag] == systems[spot.tag]:
                bunch.append(spot)
                break
        else:
            found.append([spot])
    return found


def _hung(bunch: list[AccessSpot], system: str, place: Places, plan: PlanGround) -> Bunch:
    """Return the tags of a bunch in their place, one below the other, on a line that joins their pointed ends."""
    left, low, right, high = (float(side) for side in place.boxes[0])
    tip_x, tip_y = (float(one) for one in place.leaders[0, 2:])
    flipped = tip_x > (left + right) / 2
    step = TAG_HIGH + APART
    first = tip_y + step * (len(bunch) - 1) / 2
    tips = [plan.ground.back((tip_x, first - step * number)) for number in range(len(bunch))]
    shapes: list[Shape] = [Stroke(LineKind.LEADER, (_spot(bunch[0]), plan.ground.back((tip_x, tip_y))))]
    shapes += [Dot(at) for at in dict.fromkeys(_spot(one) for one in bunch)]
    shapes += [Stroke(LineKind.LEADER, (tips[0], tips[-1]))] if len(bunch) > 1 else []
    shapes += [TagMark(one.tag, tip, flipped) for one, tip in zip(bunch, tips, strict=True)]
    return Bunch(system, tuple(shapes), (*plan.ground.back((left, low)), *plan.ground.back((right, high))))


def _places(at: Spot, count: int, plan: PlanGround) -> Places:
    """Return the places for so many tags round an access point, in millimetres, with what each costs by itself."""
    far = np.arange(NEAREST, FURTHEST, STEP)
    angles = 2 * np.pi * (np.arange(DIRECTIONS) + 0.5) / DIRECTIONS
    length, angle = (grid.ravel() for grid in np.meshgrid(far, angles, indexing="ij"))
    x, y = plan.ground.at(at)
    way_x, way_y = np.cos(angle), np.sin(angle)
    tip_x, tip_y = x + length * way_x, y + length * way_y
    clear, half = CLEAR / 2, (TAG_HIGH * count + APART * (count - 1)) / 2 + CLEAR / 2
    left = np.where(way_x < 0, tip_x - TAG_LONG, tip_x)
    boxes = np.column_stack([left - clear, tip_y - half, left + TAG_LONG + clear, tip_y + half])
    way = ways(np.array([np.full(len(angle), x), np.full(len(angle), y), *[tip_x, tip_y] * 2]), plan.ground.shape)
    cost = length * (1.0 + IN_WALL * plan.surfaces.take(way.cells).mean(0)) + PER_BORDER * way.borders(plan.surfaces)
    sides = tuple(boxes.T)
    cost += OVER_WALL * ~plan.walls.free(*sides) + OVER_HIDDEN * ~plan.hidden.free(*sides)
    cost += BARRED * (~plan.barred.free(*sides) + 1.0 * way.on(plan.barred.cells))
    leaders = np.column_stack([x + BARE * way_x, y + BARE * way_y, tip_x, tip_y])
    found = Places(boxes, leaders, np.asarray(cost))
    return found.at(np.flatnonzero(cost < cost.min() + BARRED))


def _spot(spot: AccessSpot) -> Spot:
    return float(spot.at.x), float(spot.at.y)

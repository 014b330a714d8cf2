"""Doors, panels, pits and appliances in; the solids in front of and over them that nothing may enter, out."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from bookgen.model.assembly import HiddenThing, Space
from bookgen.model.geometry import Axis, Box, Corner, Polygon, Prism, box
from bookgen.model.records.inside import Hidden
from bookgen.solve.compass import looks
from bookgen.solve.framing import Stretch
from bookgen.solve.site import Site
from bookgen.solve.treatments.doorway import Doorway

PANEL_DEEP = Fraction(36)  # inches before a panel; NEC table 110.26(A)(1), condition 1, to 150 V to ground
PANEL_WIDE = Fraction(30)  # or as wide as the panel; NEC 110.26(A)(2)
PANEL_HIGH = Fraction(78)  # over the floor, or as high as the panel; NEC 110.26(A)(3)
SERVICE = Fraction(30)  # inches each way before an appliance; IRC M1305.1, from memory
LIFT = Fraction(60)  # inches over the lid of a pit, to lift its pump out; common practice
LID = Fraction(2)  # inches over the slab: what ends lower in the floor is a lid
TANGENTS = tuple(Fraction(step, 4) for step in range(5))  # of half the angle, from shut to a right angle


def door_swings(way: Doorway) -> tuple[Space, ...]:
    """Return what each leaf sweeps until it stands at a right angle, in a wall whose plates run along x.

    The quarter circle is a polygon round it, so that nothing which clears the solid is met by the leaf; its corners are
    where tangents meet, which is exact: with t the tangent of half the angle, ((1 - t u), (t + u)) / (1 + t u).
    """
    face = way.across[1] if way.swings > 0 else way.across[0]
    found = []
    for number, (leaf, side) in enumerate(zip(way.leaves, way.hinges, strict=True), 1):
        hinge, toward = (leaf[0], 1) if side == "low" else (leaf[1], -1)
        wide = leaf[1] - leaf[0]
        corners = [(hinge + toward * wide * u, face + way.swings * wide * v) for u, v in _quarter()]
        outline = Polygon(((hinge, face), *corners))
        name = "swing of the door" if len(way.leaves) == 1 else f"swing of leaf {number}"
        found.append(Space(name, Prism(outline, "z", way.foot, way.top)))
    return tuple(found)


def _quarter() -> Iterator[Corner]:
    """Yield the corners of a polygon round the quarter of a circle of radius 1."""
    yield Fraction(1), Fraction(0)
    for t, u in pairwise(TANGENTS):
        yield (1 - t * u) / (1 + t * u), (t + u) / (1 + t * u)
    yield Fraction(0), Fraction(1)


def working_spaces(site: Site, inside: Stretch) -> tuple[Space, ...]:
    """Return the space before each panel of a closet, and over each pit in it; *inside* is free along the run.

    The space is as wide as is asked and need not be centred: it is moved to where the closet has it.
    """
    found = []
    for thing, record in zip(site.hidden, site.file.record.inside, strict=False):
        room = _whole(thing)
        if room.high.z <= LID:
            name = f"room over {thing.what}"
            solid = box((room.low.x, room.high.x), (room.low.y, room.high.y), (room.high.z, room.high.z + LIFT), "z")
            found.append(Space(name, solid))
        elif _is_panel(site, record):
            wide = max(PANEL_WIDE, room.size("x"))
            low = (room.low.x + room.high.x - wide) / 2
            low = min(max(low, inside[0]), max(inside[1] - wide, inside[0]))
            up = site.level.floor, max(site.level.floor + PANEL_HIGH, room.high.z)
            solid = box((low, low + wide), (room.high.y, room.high.y + PANEL_DEEP), up, "z")
            found.append(Space(f"working space before {thing.what}", solid))
    return tuple(found)


def service_spaces(site: Site) -> tuple[Space, ...]:
    """Return the space before each appliance whose record says which side its front is on."""
    found = []
    for thing, record in zip(site.hidden, site.file.record.inside, strict=False):
        if record.front is None:
            continue
        room = _whole(thing)
        axes: tuple[Axis, Axis] = ("x", "y")
        axis, toward = next((a, t) for a in axes for t in (-1, 1) if looks(site.frame, a, t) == record.front)
        other: Axis = "y" if axis == "x" else "x"
        edge = room.high.on(axis) if toward > 0 else room.low.on(axis)
        wide = max(SERVICE, room.size(other))
        middle = (room.low.on(other) + room.high.on(other)) / 2
        low, high = sorted((edge, edge + toward * SERVICE))
        spans: dict[Axis, Stretch] = {axis: (low, high), other: (middle - wide / 2, middle + wide / 2)}
        solid = box(spans["x"], spans["y"], (site.level.floor, room.high.z), "z")
        found.append(Space(f"service space before {thing.what}", solid))
    return tuple(found)


def _is_panel(site: Site, record: Hidden) -> bool:
    return record.system == "power" and record.body is not None and site.file.record.kind == "panel"


def _whole(thing: HiddenThing) -> Box:
    whole = thing.solids[0].bounds()
    for solid in thing.solids[1:]:
        whole = whole.joined(solid.bounds())
    return whole

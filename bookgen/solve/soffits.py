"""The pieces every soffit is framed of: run, heights and stock in; rows of members, cleats, nailers and boards out.

All of it is in the run's frame. A ladder is two rails with rungs between them, hung from the joists; crossers lie flat
on the level of its bottom rail and carry the board under the soffit.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import ceil, floor
from typing import TypeVar

from bookgen.model.assembly import HiddenThing, Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.solve.board import board, rectangle
from bookgen.solve.cutout import STRIP, Rectangle, bridged, cut_out, united
from bookgen.solve.framing import Stretch, around, layout, stick, true_size
from bookgen.solve.lengths import cut
from bookgen.solve.level import joist_centres, near
from bookgen.solve.neighbours import ceilings_along
from bookgen.solve.site import Site

Item = TypeVar("Item")
SPACING = Fraction(16)  # inches, where the record leaves it out; common practice under 1/2 in ceiling board
NAILER = "2x4"  # laid flat between two joists where the run goes along them; common practice
LEAST_BEARING = Fraction(3, 4)  # inches of a rail under a joist that take a screw
ON_PLATE = Fraction(3, 2)  # inches that a block lies on the sill plate; common practice asks for no less
ROUND_HOLE = Fraction(1, 4)  # inches left free round what passes through board


@dataclass(frozen=True, slots=True)
class Timber:
    """The stock a soffit is framed of, with its true thickness and width in inches."""

    stock: str
    thick: Fraction
    wide: Fraction


@dataclass(frozen=True, slots=True)
class Shape:
    """What all pieces of a soffit share: stock, spacing, the framing's underside and the joists' underside."""

    timber: Timber
    spacing: Fraction
    bottom: Fraction
    top: Fraction

    def rungs(self) -> Stretch:
        """Return from the top of the bottom rail to the underside of the top rail."""
        return self.bottom + self.timber.wide, self.top - self.timber.wide


def timber(site: Site, stock: str, path: tuple[Step, ...]) -> Timber | Problem:
    """Return the stock with its true size, or an `unknown-stock` Problem."""
    size = true_size(stock)
    if size is None:
        return site.problem("unknown-stock", path, stock, "no lumber of that size is sold", near(stock))
    return Timber(stock, *size)


def free_of(things: Iterable[HiddenThing], run: Stretch, across: Stretch, up: Stretch, most: Fraction) -> list[Stretch]:
    """Return the stretches of the run where a row of members *across* and *up* would meet something that crosses it.

    What follows the run for more than *most* can't be stepped round and is left to the clash test.
    """
    zones = []
    for thing in things:
        if thing.material is Material.CABLE:
            continue
        for solid in thing.solids:
            room = solid.bounds().grown(thing.clearance)
            meets = room.low.y < across[1] and across[0] < room.high.y and room.low.z < up[1] and up[0] < room.high.z
            if meets and room.low.x < run[1] and run[0] < room.high.x and room.size("x") <= most:
                zones.append((room.low.x, room.high.x))
    return zones


def rows(
    site: Site, shape: Shape, run: Stretch, across: Stretch, up: Stretch, openings: Iterable[Stretch] = ()
) -> tuple[Fraction, ...]:
    """Return where a row of members stands along *run*, with one at both sides of each opening.

    What crosses the row is an opening too: board is cut round it.
    """
    width = shape.timber.wide
    crossing = free_of((*site.hidden, *site.others), run, across, up, shape.spacing)
    return around(layout(*run, shape.spacing, width), (*openings, *crossing), width, always=True)


def counted(pieces: tuple[Item, ...]) -> tuple[tuple[str, Item], ...]:
    """Return each piece with what is added to its name: nothing to a single one, else its number."""
    return tuple(("" if len(pieces) == 1 else f" {number}", piece) for number, piece in enumerate(pieces, 1))


def nailers(label: str, site: Site, shape: Shape, run: Stretch, ladders: Iterable[Stretch]) -> tuple[Part, ...]:
    """Return the blocks between two joists that top rails hang on where they run along the joists between them.

    Two ladders in one bay share their blocks. They stand beside what goes up between the joists; beyond the last joist
    they lie on the sill plate of the wall.
    """
    bays = sorted({bay for across in ladders if (bay := _bay_over(site, across)) is not None})
    thick, wide = true_size(NAILER) or (Fraction(0), Fraction(0))
    spots = [
        (bay, centre)
        for bay in bays
        for centre in around(
            layout(*run, shape.spacing, wide),
            free_of((*site.hidden, *site.others), run, bay, (shape.top, shape.top + thick), shape.spacing),
            wide,
        )
    ]
    return tuple(
        stick(f"{label}nailer {n}", "nailer", NAILER, "y", bay, (c - wide / 2, shape.top), "x", Material.BLOCKING)
        for n, (bay, c) in enumerate(spots, 1)
    )


def joists_along(site: Site) -> bool:
    """Tell whether the run goes the way the joists do."""
    return (site.project.record.level.joists.run == "north") == (site.frame.along == "y")


def joist_faces(site: Site) -> tuple[Stretch, ...]:
    """Return both faces of each joist: across the run where it goes along the joists, else along the run."""
    joists = site.project.record.level.joists
    half = (true_size(joists.size) or (Fraction(0), Fraction(0)))[0] / 2
    centres = joist_centres(site.project.record.level)
    if joists_along(site):
        centres = tuple(sorted(site.frame.off * (centre - site.frame.zero) for centre in centres))
    return tuple((centre - half, centre + half) for centre in centres)


def _bay_over(site: Site, across: Stretch) -> Stretch | None:
    """Return the bay between two joists over a rail, or None where the rail lies under a joist or crosses them."""
    if not joists_along(site):
        return None
    faces = joist_faces(site)
    if any(min(high, across[1]) - max(low, across[0]) >= LEAST_BEARING for low, high in faces):
        return None
    low_wall, high_wall = _sill_plates(site)
    below = [low_wall, *(high for low, high in faces if low < across[0])]
    above = [high_wall, *(low for low, high in faces if high > across[1])]
    return max(below), min(above)


def _sill_plates(site: Site) -> Stretch:
    """Return how far a block between the last joist and the wall goes, across the run: onto the sill plates."""
    level, frame = site.level, site.frame
    whole = level.north_south if frame.along == "x" else level.east_west
    first, last = sorted(frame.off * (face - frame.zero) for face in (Fraction(0), whole))
    return first - ON_PLATE, last + ON_PLATE


def sheets(
    name: str,
    axis: Axis,
    at: Fraction,
    toward: int,
    whole: Rectangle,
    holes: Iterable[Rectangle],
    thickness: Fraction,
    taken: Iterable[Rectangle] = (),
) -> tuple[Part, ...]:
    """Return the board over *whole* with its *holes* cut out: one piece, or several where a hole makes them.

    *whole* and *holes* are in the two coordinates across *axis*. Over or under a hole no strip is left that is too low
    to be fixed: that is the filler's. A lower ceiling or other work has *taken* parts of it: what is beside those
    stays, however low, so that no hole is put into one with them.
    """
    names: tuple[str, str] = {"x": ("y", "z"), "y": ("x", "z"), "z": ("x", "y")}[axis]
    pieces = [
        piece
        for piece in cut_out(whole, bridged((*taken, *united(hole for hole in holes if hole.meets(whole)))))
        if piece.v[1] - piece.v[0] >= STRIP or piece.v == whole.v
    ]
    parts = []
    for number, piece in enumerate(pieces, 1):
        outline = rectangle(axis, **{names[0]: piece.u, names[1]: piece.v})
        label = name if len(pieces) == 1 else f"{name} {number}"
        parts.append(board(label, axis, at, toward, outline, thickness, "")[0])
    return tuple(parts)


def upright(site: Site, run: Stretch, beside: Fraction, foot: Fraction) -> tuple[Rectangle, tuple[Rectangle, ...]]:
    """Return the board of a side from its *foot* up to the ceiling at *beside*, and what lower ceilings take of it.

    Where no board is overhead it goes up to the joists.
    """
    tops = [
        (stretch, site.level.joists if over is None else over) for stretch, over in ceilings_along(site, run, beside)
    ]
    top = max(over for _, over in tops)
    return Rectangle(run, (foot, top)), tuple(Rectangle(stretch, (over, top)) for stretch, over in tops if over < top)


def through(things: Iterable[HiddenThing], axis: Axis, at: Stretch) -> tuple[Rectangle, ...]:
    """Return the holes that things make in a board across *axis* that lies between the two values *at*."""
    first, second = (a for a in ("x", "y", "z") if a != axis)
    found = []
    for thing in things:
        if thing.material is Material.CABLE:
            continue
        for solid in thing.solids:
            room = solid.bounds()
            if room.low.on(axis) < at[1] and at[0] < room.high.on(axis):
                room = room.grown(max(thing.clearance, ROUND_HOLE))
                found.append(
                    Rectangle(
                        (room.low.on(_axis(first)), room.high.on(_axis(first))),
                        (room.low.on(_axis(second)), room.high.on(_axis(second))),
                    )
                )
    return tuple(found)


def _axis(name: str) -> Axis:
    return "x" if name == "x" else "y" if name == "y" else "z"


def plate(name: str, role: str, site: Site, shape: Shape, run: Stretch, across: Fraction) -> tuple[Part, ...]:
    """Return a stick along the run at the soffit's bottom, on edge, joined on studs; *across* is its low face.

    It is the cleat on the wall.
    """
    studs = site.project.record.level.wall_lining.spacing.inches
    spots = [studs * number for number in range(floor(run[0] / studs) + 1, ceil(run[1] / studs))]
    return tuple(
        stick(f"{name}{numbered}", role, shape.timber.stock, "x", piece, (across, shape.bottom), "z")
        for numbered, piece in counted(cut(run, spots, shape.timber.stock))
    )

"""The sides of a chase in; its uprights, soles, ties and the framed openings of its covers, in the run's frame, out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Literal

from bookgen.model.assembly import Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, box
from bookgen.solve.framing import TREATED, Stretch, around, layout, stick
from bookgen.solve.site import Site
from bookgen.solve.studwork import left_of, overlap
from bookgen.solve.treatments.cover_in_face import CoverInFace

SPACING = Fraction(16)  # inches between ties, centre to centre; common practice under 1/2 in board
SOLE = "2x4" + TREATED  # what lies on the slab is ripped from it: a 2x2 is not sold treated
SideName = Literal["front", "low", "high", "back"]


@dataclass(frozen=True, slots=True)
class ChaseSide:
    """One side of a chase: the layer that its sticks take across *axis*, and where it looks.

    *clear* lies between its corner uprights; *covers* are those in its board, in the two coordinates across the axis;
    *free* are heights that its ties leave to something else.
    """

    name: SideName
    axis: Axis
    toward: int
    layer: Stretch
    clear: Stretch
    boarded: bool
    covers: tuple[CoverInFace, ...] = ()
    free: tuple[Stretch, ...] = ()

    @property
    def title(self) -> str:
        """Return how its parts are named."""
        return self.name if self.name in {"front", "back"} else f"{self.name} side"

    @property
    def along(self) -> Axis:
        """Return the axis that its ties run along."""
        return "x" if self.axis == "y" else "y"

    @property
    def outside(self) -> Fraction:
        """Return the outer face of its framing."""
        return self.layer[1] if self.toward > 0 else self.layer[0]


def chase_sides(x: Stretch, y: Stretch, thick: Fraction, open_sides: Iterable[str]) -> tuple[ChaseSide, ...]:
    """Return the sides of a chase whose framing has its faces at *x* and *y*; the back only where it is free."""
    boarded = {"front", *open_sides}
    across, deep = (x[0] + thick, x[1] - thick), (y[0] + thick, y[1] - thick)
    sides = [
        ChaseSide("front", "y", 1, (y[1] - thick, y[1]), across, True),
        ChaseSide("low", "x", -1, (x[0], x[0] + thick), deep, "low" in boarded),
        ChaseSide("high", "x", 1, (x[1] - thick, x[1]), deep, "high" in boarded),
    ]
    if "back" in boarded:
        sides.append(ChaseSide("back", "y", -1, (y[0], y[0] + thick), across, True))
    return tuple(sides)


@dataclass(frozen=True, slots=True)
class ChaseFrame:
    """What the framing of a chase needs to know: its outside, its stick and how thick that is, its top, its sides."""

    x: Stretch
    y: Stretch
    stock: str
    thick: Fraction
    top: Fraction
    sides: tuple[ChaseSide, ...]

    @property
    def free(self) -> bool:
        """Tell whether it has a back of its own."""
        return any(side.name == "back" for side in self.sides)


def chase_framing(site: Site, chase: ChaseFrame) -> Iterator[Part]:
    """Yield the corner uprights, the soles on the slab, the ties of every side and the trimmers beside covers."""
    thick, (x0, x1), (y0, y1) = chase.thick, chase.x, chase.y
    left, right, back, front = x0, x1 - thick, y0, y1 - thick
    for name, x, y in (
        ("back low", left, back),
        ("back high", right, back),
        ("front low", left, front),
        ("front high", right, front),
    ):
        taken = _passing(site, (x, x + thick), (y, y + thick))
        for number, up in enumerate(left_of((thick, chase.top), taken), 1):
            title = f"{name} upright" + (f", piece {number}" if taken else "")
            yield stick(title, "upright", chase.stock, "z", up, (x, y), "x")
    yield _sole("front sole", "x", chase.x, front, thick)
    for name, x in (("low side sole", left), ("high side sole", right)):
        yield _sole(name, "y", (y0, front), x, thick)
    if chase.free:
        yield _sole("back sole", "x", (x0 + thick, x1 - thick), y0, thick)
    for side in chase.sides:
        yield from _ties(site, chase, side)
        yield from _trimmers(chase, side)


def _passing(site: Site, x: Stretch, y: Stretch) -> list[Stretch]:
    """Return the heights at which something goes through a column of the chase sideways."""
    found = []
    for thing in (*site.hidden, *site.others):
        if thing.material is Material.CABLE:
            continue
        for solid in thing.solids:
            room = solid.bounds().grown(thing.clearance)
            inside = overlap((room.low.x, room.high.x), x) and overlap((room.low.y, room.high.y), y)
            if inside and room.size("z") < SPACING:
                found.append((room.low.z, room.high.z))
    return found


def _sole(name: str, axis: Axis, along: Stretch, across: Fraction, thick: Fraction) -> Part:
    spans: dict[Axis, Stretch] = {
        axis: along,
        "y" if axis == "x" else "x": (across, across + thick),
        "z": (Fraction(0), thick),
    }
    return Part(name, "sole", box(spans["x"], spans["y"], spans["z"], axis), Material.TREATED, SOLE)


def _ties(site: Site, chase: ChaseFrame, side: ChaseSide) -> Iterator[Part]:
    """Yield the ties of a side, ladder-like: they leave its covers free, and what passes through it."""
    x, y = (side.clear, side.layer) if side.axis == "y" else (side.layer, side.clear)
    zones = (*_passing(site, x, y), *side.free)
    centres = around(layout(chase.thick, chase.top, SPACING, chase.thick)[1:], zones, chase.thick)
    heights = _round_covers(chase.thick, side.covers, (centre - chase.thick / 2 for centre in centres))
    for number, z in enumerate(heights, 1):
        title = f"{side.title} tie {number}"
        yield stick(title, "tie", chase.stock, side.along, side.clear, (side.layer[0], z), side.axis)


def _round_covers(
    thick: Fraction, covers: tuple[CoverInFace, ...], heights: Iterable[Fraction]
) -> tuple[Fraction, ...]:
    """Return the undersides of the ties of a side: those of the spacing, and one over and one under each cover."""
    framed: list[Fraction] = []
    for cover in covers:
        foot, head = cover.patch.v
        framed += [foot - thick, head]
    taken = [c.patch.v for c in covers] + [(z, z + thick) for z in framed]
    rest = [z for z in heights if not any(overlap((z, z + thick), span) for span in taken)]
    return tuple(sorted({*framed, *rest}))


def _trimmers(chase: ChaseFrame, side: ChaseSide) -> Iterator[Part]:
    """Yield uprights beside a cover that is narrower than its side, where there is room for one."""
    for cover in side.covers:
        low, high = cover.patch.u
        for name, at in (("low", low - chase.thick), ("high", high)):
            if side.clear[0] <= at and at + chase.thick <= side.clear[1]:
                corner = (at, side.layer[0]) if side.axis == "y" else (side.layer[0], at)
                title = f"{cover.name} {name} trimmer"
                yield stick(title, "trimmer", chase.stock, "z", cover.patch.v, corner, side.along)

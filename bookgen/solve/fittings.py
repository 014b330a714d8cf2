"""The lights and registers of a hung soffit in, their place in its bottom, their solids and their Problems out."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from bookgen.model.assembly import Material, Part
from bookgen.model.geometry import Point, Rod, box
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.treatments import HungSoffit
from bookgen.solve.framing import Stretch
from bookgen.solve.site import Site, height_above_slab
from bookgen.solve.two_sided import TwoSided

RIM = Fraction(1, 4)  # inches of board to leave between a hole and a crosser
GRILLE = Fraction(1, 4)  # inches that a register stands down from the board; estimate


@dataclass(frozen=True, slots=True)
class Fitting:
    """A light or register: what it is, where it is in the record, its hole along and across the run, in inches.

    *deep* is how far it goes up above the finished face, and *cavity* what there is up to the thing over it; both None
    for a register, and *cavity* where nothing is over it.
    """

    what: str
    path: tuple[Step, ...]
    along: Stretch
    across: Stretch
    deep: Fraction | None
    cavity: Fraction | None


def fittings(site: Site, choices: HungSoffit, path: tuple[Step, ...]) -> tuple[Fitting, ...]:
    """Return the lights, then the registers, in the run's frame; a hole's stretch along has its rim with it."""
    found = []
    for index, light in enumerate(choices.lights):
        middle = site.frame.from_level(Point(light.east.inches, light.north.inches, Fraction(0)))
        half = light.diameter.inches / 2
        across = (middle.y - half, middle.y + half)
        along = (middle.x - half - RIM, middle.x + half + RIM)
        where = (*path, "lights", index)
        face = _face(site, choices)
        found.append(Fitting(light.what, where, along, across, light.deep.inches, _cavity(site, along, across, face)))
    for index, register in enumerate(choices.registers):
        low = site.frame.from_level(Point(register.east.low.inches, register.north.low.inches, Fraction(0)))
        high = site.frame.from_level(Point(register.east.high.inches, register.north.high.inches, Fraction(0)))
        (x1, x2), (y1, y2) = sorted((low.x, high.x)), sorted((low.y, high.y))
        found.append(Fitting(register.what, (*path, "registers", index), (x1, x2), (y1, y2), None, None))
    return tuple(found)


def fitting_parts(site: Site, plan: TwoSided, found: tuple[Fitting, ...]) -> tuple[Part, ...]:
    """Return a short rod above the board for each light, and a flat box under it for each register."""
    parts = []
    face = plan.shape.bottom - site.level.ceiling_board
    for number, one in enumerate(found, 1):
        name = f"{one.what} {number}"
        if one.deep is None:
            solid = box(one.along, one.across, (face - GRILLE, face), "z")
            parts.append(Part(name, "register", solid, Material.STEEL, ""))
        elif face + one.deep > plan.shape.bottom:
            x, y = sum(one.along) / Fraction(2), sum(one.across) / Fraction(2)
            top = Point(x, y, face + one.deep)
            rod = Rod(Point(x, y, plan.shape.bottom), top, (one.across[1] - one.across[0]) / 2)
            parts.append(Part(name, "light", rod, Material.STEEL, ""))
    return tuple(parts)


def fitting_problems(site: Site, plan: TwoSided, found: tuple[Fitting, ...]) -> tuple[Problem, ...]:
    """Return `fitting-outside`, `light-too-deep` and `fittings-meet` Problems."""
    inside, problems = plan.inside(), []
    for one in found:
        fits_across = inside[0] <= one.across[0] and one.across[1] <= inside[1]
        if not (fits_across and plan.run[0] < one.along[0] and one.along[1] < plan.run[1]):
            rule = f"it is not in the bottom of the soffit, between its ladders ({_words(site, inside)} across the run)"
            problems.append(site.problem("fitting-outside", one.path, one.what, rule, "move it between the ladders"))
        elif one.deep is not None and one.cavity is not None and one.deep > one.cavity:
            rule = (
                f"it goes up {site.tape.short(one.deep)} above the face of the board, and what hangs over it "
                f"leaves {site.tape.short(one.cavity)}"
            )
            repair = "take a thinner one, lower the framing bottom, or move it beside what hangs there"
            problems.append(site.problem("light-too-deep", (*one.path, "deep"), one.what, rule, repair))
    for index, one in enumerate(found):
        for other in found[index + 1 :]:
            if _overlap(one.along, other.along) and _overlap(one.across, other.across):
                rule = f"its hole meets that of {other.what}"
                problems.append(site.problem("fittings-meet", one.path, one.what, rule, "move one of them"))
    return tuple(problems)


def _face(site: Site, choices: HungSoffit) -> Fraction:
    return height_above_slab(choices.framing_bottom, site.level) - site.level.ceiling_board


def _cavity(site: Site, along: Stretch, across: Stretch, face: Fraction) -> Fraction | None:
    """Return how far it is from the finished face to the lowest thing over a hole; None where nothing is."""
    over = [
        room.low.z - face
        for thing in (*site.hidden, *site.others)
        for solid in thing.solids
        if (room := solid.bounds().grown(thing.clearance)).high.z > face
        and _overlap((room.low.x, room.high.x), along)
        and _overlap((room.low.y, room.high.y), across)
    ]
    return min(over, default=None)


def _overlap(first: Stretch, second: Stretch) -> bool:
    return first[0] < second[1] and second[0] < first[1]


def _words(site: Site, stretch: Stretch) -> str:
    return f"{site.tape.short(stretch[0])} to {site.tape.short(stretch[1])}"

"""The lights and registers of a hung soffit in, their place in its bottom, their solids and their Problems out."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, Point, Rod, box
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.overhead import HungSoffit
from bookgen.solve.compass import looks
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch
from bookgen.solve.site import Site, height_above_slab
from bookgen.solve.soffit_holes import Hole
from bookgen.solve.two_sided import Openings, TwoSided

RIM = Fraction(1, 4)  # inches of board to leave between a hole and a crosser
LARGE = Fraction(8)  # inches; a larger register is framed all round
GRILLE = Fraction(1, 4)  # inches that a register stands down from the board; estimate


@dataclass(frozen=True, slots=True)
class Fitting:
    """A light or register: what it is, where it is in the record, its hole along and across the run, in inches.

    *deep* is how far it goes up above the finished face, and *cavity* what there is up to the thing over it; both None
    for a register, and *cavity* where nothing is over it. *face* is the height of the finished face.
    """

    what: str
    path: tuple[Step, ...]
    along: Stretch
    across: Stretch
    deep: Fraction | None
    cavity: Fraction | None
    face: Fraction


def fittings(site: Site, choices: HungSoffit, path: tuple[Step, ...]) -> tuple[Fitting, ...]:
    """Return the lights, then the registers, in the run's frame; a hole's stretch along has its rim with it."""
    found, face = [], _face(site, choices)
    for index, light in enumerate(choices.lights):
        middle = site.frame.from_level(Point(light.east.inches, light.north.inches, Fraction(0)))
        half = light.diameter.inches / 2
        across = (middle.y - half, middle.y + half)
        along = (middle.x - half - RIM, middle.x + half + RIM)
        where = (*path, "lights", index)
        cavity = _cavity(site, along, across, face)
        found.append(Fitting(light.what, where, along, across, light.deep.inches, cavity, face))
    for index, register in enumerate(choices.registers):
        low = site.frame.from_level(Point(register.east.low.inches, register.north.low.inches, Fraction(0)))
        high = site.frame.from_level(Point(register.east.high.inches, register.north.high.inches, Fraction(0)))
        (x1, x2), (y1, y2) = sorted((low.x, high.x)), sorted((low.y, high.y))
        found.append(Fitting(register.what, (*path, "registers", index), (x1, x2), (y1, y2), None, None, face))
    return tuple(found)


def openings(found: tuple[Fitting, ...]) -> Openings:
    """Return what the fittings cut: registers as holes, framed where they are large; lights without framing."""
    registers, lights = [one for one in found if one.deep is None], [one for one in found if one.deep is not None]
    return Openings(
        bottom=tuple(Hole(one.along, one.across, headed=_large(one)) for one in registers),
        cut=tuple(Rectangle((one.along[0] + RIM, one.along[1] - RIM), one.across) for one in lights),
        aside=tuple(one.along for one in lights),
    )


def _large(one: Fitting) -> bool:
    return max(one.along[1] - one.along[0], one.across[1] - one.across[0]) > LARGE


def fitting_parts(site: Site, plan: TwoSided, found: tuple[Fitting, ...]) -> tuple[Part, ...]:
    """Return a short rod in its hole for each light, and a flat box under the board for each register."""
    parts = []
    face = plan.shape.bottom - site.level.ceiling_board
    for number, one in enumerate(found, 1):
        name = f"{one.what} {number}"
        if one.deep is None:
            solid = box(one.along, one.across, (face - GRILLE, face), "z")
            parts.append(Part(name, "register", solid, Material.STEEL, ""))
        else:
            x, y = sum(one.along) / Fraction(2), sum(one.across) / Fraction(2)
            rod = Rod(Point(x, y, face), Point(x, y, face + one.deep), (one.across[1] - one.across[0]) / 2)
            parts.append(Part(name, "light", rod, Material.STEEL, ""))
    return tuple(parts)


def fitting_problems(site: Site, plan: TwoSided, found: tuple[Fitting, ...]) -> tuple[Problem, ...]:
    """Return `fitting-outside`, `light-too-deep` and `fittings-meet` Problems; each says how far to move it."""
    problems: list[Problem] = []
    for one in found:
        off = _outside(plan, one)
        if any(off):
            rule = (
                f"it is not in the bottom of the soffit, between its ladders ({_words(site, plan.inside())} across "
                f"the run, {_words(site, plan.run)} along it)"
            )
            problems.append(site.problem("fitting-outside", one.path, one.what, rule, _move(site, off)))
        elif one.deep is not None and one.cavity is not None and one.deep > one.cavity:
            rule = (
                f"it goes up {site.tape.short(one.deep)} above the face of the board, and what hangs over it "
                f"leaves {site.tape.short(one.cavity)}"
            )
            repair = _shallower(site, plan, one)
            problems.append(site.problem("light-too-deep", (*one.path, "deep"), one.what, rule, repair))
    for index, one in enumerate(found):
        for other in found[index + 1 :]:
            if _overlap(one.along, other.along) and _overlap(one.across, other.across):
                rule, repair = f"its hole meets that of {other.what}", _apart(site, one, other)
                problems.append(site.problem("fittings-meet", one.path, one.what, rule, repair))
    return tuple(problems)


def _outside(plan: TwoSided, one: Fitting) -> tuple[Fraction, Fraction]:
    """Return how far a fitting has to move, along and across, to lie between the ladders and the ends."""
    inside, thick = plan.inside(), plan.shape.timber.wide
    return _into(one.along, (plan.run[0] + thick, plan.run[1] - thick)), _into(one.across, inside)


def _into(stretch: Stretch, whole: Stretch) -> Fraction:
    if stretch[0] < whole[0]:
        return whole[0] - stretch[0]
    return min(whole[1] - stretch[1], Fraction(0))


def _move(site: Site, off: tuple[Fraction, Fraction]) -> str:
    """Say how far to move something, in the words of the compass."""
    rows: tuple[tuple[Fraction, Axis], ...] = ((off[0], "x"), (off[1], "y"))
    ways = [f"{site.tape.short(abs(by))} {looks(site.frame, axis, 1 if by > 0 else -1)}" for by, axis in rows if by]
    return f"move it {' and '.join(ways)}"


def _shallower(site: Site, plan: TwoSided, one: Fitting) -> str:
    """Say what helps a light that goes up too far: the nearest place with room over it, else a thinner one."""
    spots = [
        off
        for off in _tries(site, one)
        if not any(_outside(plan, moved := _moved(one, off)))
        and ((room := _cavity(site, moved.along, moved.across, one.face)) is None or room >= (one.deep or 0))
    ]
    best = min(spots, key=lambda off: (abs(off[0]) + abs(off[1]), off), default=None)
    thinner = f"take one at most {site.tape.short(one.cavity or Fraction(0))} deep"
    lower = f"lower the framing bottom by {site.tape.short((one.deep or Fraction(0)) - (one.cavity or Fraction(0)))}"
    if best is None:
        return f"{thinner}, or {lower}; nowhere near it is there room for this one"
    return f"{_move(site, best)}, beside what hangs there, or {thinner}, or {lower}"


def _tries(site: Site, one: Fitting) -> list[tuple[Fraction, Fraction]]:
    """Return the moves that bring a light to the edges of what hangs over it, one way at a time."""
    found = []
    for thing in (*site.hidden, *site.others):
        for solid in thing.solids:
            room = solid.bounds().grown(thing.clearance)
            if _overlap((room.low.x, room.high.x), one.along) and _overlap((room.low.y, room.high.y), one.across):
                found += [(Fraction(0), room.high.y - one.across[0]), (Fraction(0), room.low.y - one.across[1])]
                found += [(room.high.x - one.along[0], Fraction(0)), (room.low.x - one.along[1], Fraction(0))]
    return found


def _moved(one: Fitting, off: tuple[Fraction, Fraction]) -> Fitting:
    along, across = one.along, one.across
    return replace(one, along=(along[0] + off[0], along[1] + off[0]), across=(across[0] + off[1], across[1] + off[1]))


def _apart(site: Site, one: Fitting, other: Fitting) -> str:
    """Say the shortest move that brings one fitting clear of another."""
    moves = (
        (other.along[0] - one.along[1], Fraction(0)),
        (other.along[1] - one.along[0], Fraction(0)),
        (Fraction(0), other.across[0] - one.across[1]),
        (Fraction(0), other.across[1] - one.across[0]),
    )
    return _move(site, min(moves, key=lambda off: abs(off[0]) + abs(off[1])))


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

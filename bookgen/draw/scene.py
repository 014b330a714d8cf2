"""A Solved level in; every solid that a sketch may show, on the level's axes, with what it is and whose, out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from bookgen.model.assembly import Assembly, Material
from bookgen.model.geometry import Box, Point, Solid, box
from bookgen.model.solved import Solved, SolvedObstacle


class Origin(Enum):
    """Where a thing of the scene comes from."""

    PART = "part"  # a piece of a treatment
    HIDDEN = "hidden"  # what a treatment hides
    LINING = "lining"  # a stud wall in front of the block, or a partition
    SHELL = "shell"  # slab, block, joists, subfloor, finished floor


@dataclass(frozen=True, slots=True)
class Thing:
    """One solid of the scene with its words: *role* and *stock* of a part, *what* and *trade* of a hidden thing."""

    solid: Solid
    bounds: Box
    material: Material
    origin: Origin
    owner: str
    treatment: str
    role: str
    stock: str
    what: str = ""
    trade: str = ""


def gather(solved: Solved) -> tuple[Thing, ...]:
    """Return every solid of the level; equal solids of the same hidden thing are kept once."""
    things = [*_shell(solved)]
    for assembly in solved.level.linings:
        things += _parts(assembly, Origin.LINING)
    for obstacle in solved.obstacles:
        if obstacle.assembly is not None:
            things += _parts(obstacle.assembly, Origin.PART, obstacle.key)
        things += _hidden(obstacle)
    return tuple(things)


def in_frame_of(things: Iterable[Thing], near: Box, assembly: Assembly) -> tuple[Thing, ...]:
    """Return the things whose boxes meet *near* (on the level), moved into the frame of a run."""
    found = []
    for thing in things:
        if thing.bounds.overlaps(near):
            solid = assembly.frame.solid_from_level(thing.solid)
            found.append(
                Thing(  # in full, since this is done for every solid and every sketch, and `replace` is slow
                    solid, solid.bounds(), thing.material, thing.origin, thing.owner, thing.treatment, thing.role,
                    thing.stock, thing.what, thing.trade,
                )
            )  # fmt: skip
    return tuple(found)


def box_to_level(near: Box, assembly: Assembly) -> Box:
    """Return a box of a run's frame on the level."""
    first, second = assembly.frame.to_level(near.low), assembly.frame.to_level(near.high)
    return Box(first, first).joined(Box(second, second))


def own_box(obstacle: SolvedObstacle, assembly: Assembly) -> Box:
    """Return the box round the parts of a treatment, in its run's frame; round what it hides where it has none."""
    solids = [part.solid for part in assembly.parts]
    solids = solids or [assembly.frame.solid_from_level(s) for thing in obstacle.hidden for s in thing.solids]
    whole = solids[0].bounds() if solids else Box(Point(*[Fraction(0)] * 3), Point(*[Fraction(0)] * 3))
    for solid in solids[1:]:
        whole = whole.joined(solid.bounds())
    return whole


def _shell(solved: Solved) -> Iterator[Thing]:
    for part in solved.level.shell:
        yield Thing(
            part.solid, part.solid.bounds(), part.material, Origin.SHELL, "shell", "shell", part.role, part.stock
        )
    level = solved.level
    if level.floor > 0:
        floor = box((Fraction(0), level.east_west), (Fraction(0), level.north_south), (Fraction(0), level.floor), "z")
        yield Thing(floor, floor.bounds(), Material.FINISH, Origin.SHELL, "shell", "shell", "finished floor", "")


def _parts(assembly: Assembly, origin: Origin, owner: str = "") -> Iterator[Thing]:
    for part in assembly.parts:
        solid = assembly.frame.solid_to_level(part.solid)
        yield Thing(
            solid,
            solid.bounds(),
            part.material,
            origin,
            owner or assembly.key,
            assembly.treatment,
            part.role,
            part.stock,
        )


def _hidden(obstacle: SolvedObstacle) -> Iterator[Thing]:
    for hidden in obstacle.hidden:
        for solid in dict.fromkeys(hidden.solids):
            yield Thing(
                solid,
                solid.bounds(),
                hidden.material,
                Origin.HIDDEN,
                obstacle.key,
                hidden.key,
                "hidden",
                "",
                hidden.what,
                hidden.trade,
            )

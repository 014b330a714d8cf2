"""side-in-wall: the long side of a soffit comes down inside a wall that runs with it.

    PASS   between: 189 in to 213.75 in   (its side ends at the board of the partition at 214.25 to 217.75 in)
    FAIL   between: 189 in to 216 in      (its side comes down in the studs of that partition)

Such a wall can be framed neither up to the joists nor under the soffit. Which of the two moves a person has to say.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from bookgen.model.assembly import SOFFITS, Assembly
from bookgen.model.geometry import Axis, Box, box_round
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import sourced
from bookgen.solve.checks.sight import SeenPart, Sight
from bookgen.trade.tables import Sure

CODE = "side-in-wall"
SOURCE = "measured on the plan of this level"
UNDER = Fraction(6)  # inches: a wall that ends further under the soffit is a half wall and has nothing to do with it


@dataclass(frozen=True, slots=True)
class _Wall:
    """A stretch of wall: its bottom plate, how high the work goes that it belongs to, and that work."""

    plate: Box
    top: Fraction
    of: Assembly


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each soffit and each wall that a side of it comes down in."""
    rows = tuple(sight.by_assembly())
    walls = tuple(wall for assembly, own in rows if assembly.treatment not in SOFFITS for wall in _walls(assembly, own))
    for soffit, own in rows:
        told: set[str] = set()
        for rail, face in _sides(soffit, own) if soffit.treatment in SOFFITS else ():
            for wall in walls:
                if wall.of.title not in told and _comes_down_in(sight, soffit, (rail, face), wall):
                    told.add(wall.of.title)
                    yield _told(sight, soffit, face, wall)


def _walls(assembly: Assembly, own: tuple[SeenPart, ...]) -> Iterator[_Wall]:
    plates = [seen.box for seen in own if seen.part.role == "bottom plate"]
    top = max((seen.box.high.z for seen in own), default=Fraction(0))
    yield from (_Wall(plate, top, assembly) for plate in plates)


def _sides(soffit: Assembly, own: tuple[SeenPart, ...]) -> Iterator[tuple[Box, Fraction]]:
    """Yield the lower rail of each side, and where the outside of its framing lies across the run."""
    across = _across(soffit)
    rails = [seen.box for seen in own if seen.part.role == "bottom rail"]
    twice = box_round(rails).low.on(across) + box_round(rails).high.on(across) if rails else Fraction(0)
    for rail in rails:
        low, high = rail.low.on(across), rail.high.on(across)
        outward = soffit.frame.off > 0 if soffit.treatment == "wall soffit" else low + high > twice
        yield rail, high if outward else low


def _across(soffit: Assembly) -> Axis:
    return "y" if soffit.frame.along == "x" else "x"


def _clear(sight: Sight, soffit: Assembly, wall: _Wall) -> tuple[Fraction, Fraction]:
    """Return the last place before a wall with its board, and the first behind it, for the framing of a side."""
    across, board = _across(soffit), sight.level.wall_board
    return wall.plate.low.on(across) - board, wall.plate.high.on(across) + board


def _comes_down_in(sight: Sight, soffit: Assembly, side: tuple[Box, Fraction], wall: _Wall) -> bool:
    (rail, face), plate, along = side, wall.plate, soffit.frame.along
    before, behind = _clear(sight, soffit, wall)
    beside = rail.low.on(along) < plate.high.on(along) and plate.low.on(along) < rail.high.on(along)
    lies_along = plate.size(along) > plate.size(_across(soffit))
    return beside and lies_along and before < face < behind and wall.top > rail.low.z - UNDER


def _told(sight: Sight, soffit: Assembly, face: Fraction, wall: _Wall) -> Finding:
    low, high = sorted(_own(soffit, place) for place in _clear(sight, soffit, wall))
    at, name = sight.tape.long(_own(soffit, face)), sight.tongue.name(wall.of.title)
    says = sight.say("the framing of its side, at {at}, comes down in {wall}", at=at, wall=name)
    hint = sight.say(
        "set that side at {low} at most or at {high} at least: clear of the wall and its board, or past them",
        low=sight.tape.long(low),
        high=sight.tape.long(high),
    )
    title = f"{sight.tongue.name(soffit.title)} ({soffit.key})"
    said = sight.said(CODE, soffit.place, title, says, at, hint)
    return sourced(said, Severity.STOP, sight.say("nothing"), sight.say(SOURCE), Sure.COMPUTED)


def _own(soffit: Assembly, across: Fraction) -> Fraction:
    """Return a place across the run as its record writes it: off the block along a wall, else on the plan."""
    frame = soffit.frame
    return frame.off * (across - frame.zero)

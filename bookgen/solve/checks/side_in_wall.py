"""side-in-wall: a side or an end of a soffit comes down inside a wall that runs with it.

    PASS   between: 189 in to 213.75 in   (its side ends at the board of the partition at 214.25 to 217.75 in)
    FAIL   between: 189 in to 216 in      (its side comes down in the studs of that partition)

Such a wall can be framed neither up to the joists nor under the soffit. Which of the two moves a person has to say.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import SOFFITS, Assembly
from bookgen.model.frozen import dataclass
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


@dataclass(frozen=True, slots=True)
class _Edge:
    """A side or an end of a soffit: its lowest rail, and the outside of its framing, across *axis* at *face*."""

    rail: Box
    axis: Axis
    face: Fraction
    end: bool


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each soffit and each wall that a side of it comes down in."""
    rows = tuple(sight.by_assembly())
    walls = tuple(wall for assembly, own in rows if assembly.treatment not in SOFFITS for wall in _walls(assembly, own))
    for soffit, own in rows:
        told: set[tuple[str, bool]] = set()
        for edge in _edges(soffit, own) if soffit.treatment in SOFFITS else ():
            for wall in walls:
                key = (wall.of.title, edge.end)
                if key not in told and _comes_down_in(sight, edge, wall):
                    told.add(key)
                    yield _told(sight, soffit, edge, wall)


def _walls(assembly: Assembly, own: tuple[SeenPart, ...]) -> Iterator[_Wall]:
    plates = [seen.box for seen in own if seen.part.role == "bottom plate"]
    top = max((seen.box.high.z for seen in own), default=Fraction(0))
    yield from (_Wall(plate, top, assembly) for plate in plates)


def _edges(soffit: Assembly, own: tuple[SeenPart, ...]) -> Iterator[_Edge]:
    """Yield the two sides, or the one of a soffit along a wall, and the ends that meet no wall."""
    along: Axis = soffit.frame.along
    across: Axis = "y" if along == "x" else "x"
    for role, axis in (("bottom rail", across), ("end rail", along)):
        rails = [seen.box for seen in own if seen.part.role == role]
        for rail in rails:
            low, high = rail.low.on(axis), rail.high.on(axis)
            twice = sum(soffit.run, Fraction(0)) if axis == along else _ends(rails, axis)
            one_side = soffit.treatment == "wall soffit" and axis == across
            outward = soffit.frame.off > 0 if one_side else low + high > twice
            yield _Edge(rail, axis, high if outward else low, axis == along)


def _ends(rails: list[Box], axis: Axis) -> Fraction:
    whole = box_round(rails)
    return whole.low.on(axis) + whole.high.on(axis)


def _clear(sight: Sight, wall: _Wall, axis: Axis) -> tuple[Fraction, Fraction]:
    """Return the last place before a wall with its board, and the first behind it, for the framing of an edge."""
    board = sight.level.wall_board
    return wall.plate.low.on(axis) - board, wall.plate.high.on(axis) + board


def _comes_down_in(sight: Sight, edge: _Edge, wall: _Wall) -> bool:
    rail, plate = edge.rail, wall.plate
    along: Axis = "y" if edge.axis == "x" else "x"
    before, behind = _clear(sight, wall, edge.axis)
    beside = rail.low.on(along) < plate.high.on(along) and plate.low.on(along) < rail.high.on(along)
    lies_along = plate.size(along) > plate.size(edge.axis)
    return beside and lies_along and before < edge.face < behind and wall.top > rail.low.z - UNDER


def _told(sight: Sight, soffit: Assembly, edge: _Edge, wall: _Wall) -> Finding:
    low, high = sorted(_own(soffit, edge, place) for place in _clear(sight, wall, edge.axis))
    at, name = sight.tape.long(_own(soffit, edge, edge.face)), sight.tongue.name(wall.of.title)
    says = (
        sight.say("the framing of its end, at {at}, comes down in {wall}", at=at, wall=name)
        if edge.end
        else sight.say("the framing of its side, at {at}, comes down in {wall}", at=at, wall=name)
    )
    hint = sight.say(
        "set it at {low} at most or at {high} at least: clear of the wall and its board, or past them",
        low=sight.tape.long(low),
        high=sight.tape.long(high),
    )
    title = f"{sight.tongue.name(soffit.title)} ({soffit.key})"
    said = sight.said(CODE, soffit.place, title, says, at, hint)
    return sourced(said, Severity.STOP, sight.say("nothing"), sight.say(SOURCE), Sure.COMPUTED)


def _own(soffit: Assembly, edge: _Edge, at: Fraction) -> Fraction:
    """Return a place as the record writes it: a station along the run; across it off the block, or on the plan."""
    frame = soffit.frame
    return at if edge.end else frame.off * (at - frame.zero)

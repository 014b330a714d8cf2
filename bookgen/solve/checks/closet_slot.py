"""closet-slot: a wall of a closet stands in another wall, or so near it that nobody can board between the two.

    PASS   between: 217 in to 281 in   (2 3/8 in are clear between its board and that of the wall beside it)
    FAIL   between: 218 in to 282 in   (1 3/8 in are clear)

A board is hung from its own side; a slot leaves no room for a sheet, a driver and a hand.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import Assembly
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, Box
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import practice
from bookgen.solve.checks.sight import SeenPart, Sight
from bookgen.solve.framing import Stretch
from bookgen.solve.studwork import overlap

CODE = "closet-slot"
CLEAR = Fraction(2)  # inches between the boards; common practice, no source


@dataclass(frozen=True, slots=True)
class _Wall:
    """A wall in plan: which way it runs, from where to where, and between which two planes it stands."""

    along: Axis
    run: Stretch
    planes: Stretch


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each closet and each wall that one of its own leaves a slot at."""
    rows = tuple((assembly, tuple(_walls(assembly, own))) for assembly, own in sight.by_assembly())
    boards = 2 * sight.level.wall_board
    for closet, sides in rows:
        if closet.treatment == "closet":
            for wall, others in rows:
                left = [apart for one in sides for other in others if (apart := _apart(one, other)) is not None]
                if wall is not closet and left and min(left) - boards < CLEAR:
                    yield _told(sight, closet, wall, min(left) - boards)


def _walls(assembly: Assembly, own: tuple[SeenPart, ...]) -> Iterator[_Wall]:
    """Yield the walls of a closet by its plates; one along a room as a whole, also where it gives way to a closet."""
    plates = [seen.box for seen in own if seen.part.role == "bottom plate"]
    if assembly.treatment == "closet":
        for plate in plates:
            along: Axis = "x" if plate.size("x") > plate.size("y") else "y"
            yield _wall(plate, along, (plate.low.on(along), plate.high.on(along)))
    elif plates and assembly.treatment == "stud wall":
        yield _wall(plates[0], assembly.frame.along, assembly.run)


def _wall(plate: Box, along: Axis, run: Stretch) -> _Wall:
    across: Axis = "y" if along == "x" else "x"
    return _Wall(along, run, (plate.low.on(across), plate.high.on(across)))


def _apart(one: _Wall, other: _Wall) -> Fraction | None:
    """Return how far apart two walls stand that run beside each other, less than nothing where one is in the other."""
    if one.along != other.along or not overlap(one.run, other.run):
        return None
    return max(one.planes[0], other.planes[0]) - min(one.planes[1], other.planes[1])


def _told(sight: Sight, closet: Assembly, wall: Assembly, clear: Fraction) -> Finding:
    name, least = sight.tongue.name(wall.title), sight.tape.short(CLEAR)
    measured = sight.tape.short(max(clear, Fraction(0)))
    says = (
        sight.say("a wall of it stands {clear} from {wall}, board to board: nobody can board there",
                  clear=measured, wall=name)
        if clear > 0
        else sight.say("a wall of it stands in {wall} or its board", wall=name)
    )  # fmt: skip
    hint = sight.say("leave {least} or more between their boards", least=least)
    title = f"{sight.tongue.name(closet.title)} ({closet.key})"
    said = sight.said(CODE, closet.place, title, says, measured, hint)
    return practice(said, Severity.STOP, least, sight.say("common practice of the trade"))

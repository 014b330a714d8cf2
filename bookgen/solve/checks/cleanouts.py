"""The cleanouts of a level, each with its pipe and the face in front of it; what the cleanout checks share."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.frozen import dataclass
from bookgen.model.geometry import ACROSS
from bookgen.solve.checks.reach import CLEANOUT, access_to, cover_spot, face_before, opening
from bookgen.solve.checks.sight import Reached, SeenFace, SeenThing, Sight
from bookgen.solve.framing import Stretch

LARGE = Fraction(3)  # inches: a pipe this thick outside is called a large one; 3 in pipe is 3 1/2 in


@dataclass(frozen=True, slots=True)
class Cleanout:
    """A cleanout: *pipe* is None where no hidden pipe is at it, *face* where nothing is in front of it.

    *depth* is how far behind the finished face its own face lies, *opening* the hole of its cover on the face's axes.
    """

    reached: Reached
    pipe: SeenThing | None
    face: SeenFace | None
    depth: Fraction
    opening: tuple[Stretch, Stretch] | None

    @property
    def across(self) -> Fraction:
        """Return the outside of its pipe; that of a large one where the pipe is in no record."""
        if self.pipe is None:
            return LARGE
        box = self.pipe.box
        sizes = sorted((box.size("x"), box.size("y"), box.size("z")))
        return sizes[1] if sizes[0] == sizes[1] else sizes[0]


def cleanouts(sight: Sight) -> Iterator[Cleanout]:
    """Yield each access point of the waste system that is called a cleanout."""
    for one in sight.access:
        if one.point.system == "waste" and one.named(CLEANOUT):
            pipes = (s for s in sight.things if s.record.pipe and s.thing.system == "waste" and access_to(s, (one,)))
            pipe = min(
                pipes, key=lambda seen: seen.box.size("x") * seen.box.size("y") * seen.box.size("z"), default=None
            )
            before = face_before(sight, one.at)
            face, depth = before if before is not None else (None, Fraction(0))
            yield Cleanout(one, pipe, face, depth, _opening(sight, one, face))


def _opening(sight: Sight, one: Reached, face: SeenFace | None) -> tuple[Stretch, Stretch] | None:
    if face is None:
        return None
    first, second = ACROSS[face.axis]
    index = one.file.record.access.index(one.point)
    spot = cover_spot(sight, one.file, index, one.point)
    if spot is not None:
        return opening(spot, one.point, first), opening(spot, one.point, second)
    size = one.point.cover.size
    if size is None:
        return None
    halves = {axis: (size.high if axis == "z" else size.wide).inches / 2 for axis in (first, second)}
    u, v = (one.at.on(axis) for axis in (first, second))
    return (u - halves[first], u + halves[first]), (v - halves[second], v + halves[second])

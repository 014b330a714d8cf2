"""A Solved level in, Sketches as data out."""

from __future__ import annotations

from collections.abc import Mapping

from bookgen.draw.cutaway import cutaway
from bookgen.draw.elevation import elevation
from bookgen.draw.level_section import level_section
from bookgen.draw.plan import plan
from bookgen.draw.scene import Thing, gather
from bookgen.draw.section import section
from bookgen.model.assembly import Assembly
from bookgen.model.frame import LEVEL
from bookgen.model.problem import Problem
from bookgen.model.sketch import Sketch
from bookgen.model.solved import Solved, SolvedObstacle

__all__ = ["plan", "sketches"]

# Which treatments show what they hide better cut level than cut upright? Those that stand from floor to ceiling.
_CUT_LEVEL = frozenset({"chase", "post wrap", "closet", "utility room"})


def sketches(solved: Solved) -> tuple[Mapping[str, tuple[Sketch, ...]], tuple[Problem, ...]]:
    """Return the sketches of each obstacle by its key: only a section where nothing is built; and no problems so far.

    Draws what it is given: leave out of *solved* what an edition must not show.
    """
    scene = gather(solved)
    return {one.key: _of(solved, one, one.assembly, scene) for one in solved.obstacles}, ()


def _of(
    solved: Solved, obstacle: SolvedObstacle, assembly: Assembly | None, scene: tuple[Thing, ...]
) -> tuple[Sketch, ...]:
    if assembly is None or not assembly.parts:
        return (section(solved, obstacle, _bare(obstacle), scene),) if obstacle.hidden else ()
    cut = level_section if assembly.treatment in _CUT_LEVEL else section
    return (
        cut(solved, obstacle, assembly, scene),
        cutaway(solved, obstacle, assembly, scene),
        elevation(solved, obstacle, assembly, scene),
    )


def _bare(obstacle: SolvedObstacle) -> Assembly:
    """Return an assembly without parts round what lies open or in an ordinary wall, cut through the first of it."""
    first = obstacle.hidden[0]
    boxes = [solid.bounds() for thing in obstacle.hidden for solid in thing.solids]
    low, high = min(box.low.x for box in boxes), max(box.high.x for box in boxes)
    at = first.solids[0].bounds()
    middle = (at.low.x + at.high.x) / 2
    return Assembly(
        obstacle.key, "", first.what, LEVEL, (low, high), middle, (), (), {}, (), first.known, obstacle.place
    )

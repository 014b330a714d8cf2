"""A Solved level in, Sketches as data out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from functools import partial

from bookgen.draw.boarding import layout_sketches, sheet_sketches
from bookgen.draw.cutaway import cutaway
from bookgen.draw.cutting import stick_sketches
from bookgen.draw.elevation import elevation
from bookgen.draw.faces import face_sketches
from bookgen.draw.level_section import level_section
from bookgen.draw.plan import plan
from bookgen.draw.scene import Thing, box_to_level, gather, in_frame_of, own_box
from bookgen.draw.section import section
from bookgen.draw.stations import Cut, cuts_of
from bookgen.draw.ties import tie_sketches
from bookgen.draw.titles import Topic
from bookgen.model.assembly import Assembly
from bookgen.model.frame import LEVEL
from bookgen.model.geometry import Box, Point
from bookgen.model.problem import Problem
from bookgen.model.sketch import LevelSketches, Sketch
from bookgen.model.solved import Solved, SolvedObstacle
from bookgen.trade.tongue import tongue

__all__ = ["cutting_diagrams", "level_sketches", "plan", "sketches", "views"]

REACH = Fraction(36)  # inches round the work that things are looked for


def sketches(solved: Solved) -> tuple[Mapping[str, tuple[Sketch, ...]], tuple[Problem, ...]]:
    """Return the sketches of each obstacle by its key, those that everybody reads first; and no problems so far.

    Only a section where nothing is built. Draws what it is given: leave out of *solved* what an edition must not show.
    """
    scene = gather(solved)
    return {one.key: _of(solved, one, scene) for one in solved.obstacles}, ()


def level_sketches(solved: Solved) -> LevelSketches:
    """Return the drawings of the whole level; like `sketches` they show what they are given."""
    return LevelSketches(plan(solved), face_sketches(solved), tie_sketches(solved))


def cutting_diagrams(solved: Solved) -> Mapping[str, tuple[Sketch, ...]]:
    """Return how to cut every stick and sheet and lay every face, by `sticks 2x4`, `sheets` or `faces` and the board.

    Empty where nobody has asked how to buy the material.
    """
    buying, tape, words = solved.takeoff.buying, solved.project.tape, tongue(solved.project.record.language)
    drawn: dict[str, tuple[Sketch, ...]] = {}
    for sticks in buying.sticks if buying else ():
        drawn[f"sticks {sticks.stock}"] = stick_sketches(sticks, tape, words)
    for sheets in buying.sheets if buying else ():
        drawn[f"sheets {sheets.stock}"] = sheet_sketches(sheets, tape, words)
        drawn[f"faces {sheets.stock}"] = layout_sketches(sheets, tape, words)
    return drawn


def views(solved: Solved) -> tuple[Callable[[], Sketch], ...]:
    """Return what draws each sketch of each obstacle when called, for who wants them one by one."""
    scene = gather(solved)
    return tuple(draw for one in solved.obstacles for draw in _views(solved, one, scene))


def _of(solved: Solved, obstacle: SolvedObstacle, scene: tuple[Thing, ...]) -> tuple[Sketch, ...]:
    found = (draw() for draw in _views(solved, obstacle, scene))
    return tuple(sorted(found, key=lambda sketch: sketch.further))


def _views(solved: Solved, obstacle: SolvedObstacle, scene: tuple[Thing, ...]) -> Iterator[Callable[[], Sketch]]:
    """Yield what draws each sketch of an obstacle."""
    assembly = obstacle.assembly
    if assembly is None or not assembly.parts:
        if obstacle.hidden:
            topic = Topic(solved, obstacle, _bare(obstacle))
            cut = Cut("", "x", topic.assembly.section_at, "", True)
            yield partial(section, topic, cut, _near(topic, scene))
        return
    topic = Topic(solved, obstacle, assembly)
    cuts, near = cuts_of(solved, obstacle, assembly), _near(topic, scene)
    for cut in cuts:
        yield partial(section, topic, cut, near) if cut.axis == "x" else partial(level_section, topic, cut, cuts, scene)
    yield partial(cutaway, topic, scene)
    yield partial(elevation, topic, cuts, scene)


def _near(topic: Topic, scene: tuple[Thing, ...]) -> tuple[Thing, ...]:
    """Return all that sections may show, in the run's frame: full height, both ways past the work."""
    assembly, level = topic.assembly, topic.solved.level
    own = own_box(topic.obstacle, assembly)
    box = Box(
        Point(min(own.low.x, assembly.section_at) - REACH, own.low.y - REACH, Fraction(-12)),
        Point(max(own.high.x, assembly.section_at) + REACH, own.high.y + REACH, level.joists + level.joist_depth + 6),
    )
    return in_frame_of(scene, box_to_level(box, assembly), assembly)


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

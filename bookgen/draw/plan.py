"""A Solved level in; its plan as a Sketch out: rooms, walls, windows, doors, hidden runs dashed, tags."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

from bookgen.draw.arrow import ARROW, TO_LETTER, arrow
from bookgen.draw.eye import plan_eye
from bookgen.draw.key import drawn_key, key_entries
from bookgen.draw.meetings import meet
from bookgen.draw.outlines import Rect
from bookgen.draw.paper import SHEET_WIDE, TEXT, Paper, largest_scale
from bookgen.draw.plan_marks import Bounds, dots_of, names, plan_ground, with_barred
from bookgen.draw.plan_tags import tags
from bookgen.draw.plan_walls import (
    door_shapes,
    leaf_shapes,
    overhead_shapes,
    stair_shapes,
    wall_shapes,
    window_shapes,
)
from bookgen.draw.scene import Origin, Thing, gather
from bookgen.draw.shapes import spot
from bookgen.draw.strip import drawn_strip
from bookgen.draw.titles import plan_words
from bookgen.model.geometry import Prism, Rod, Solid
from bookgen.model.sketch import TAG_HIGH, Area, LineKind, Shape, Sketch, Stroke, TagMark, View
from bookgen.model.solved import Solved
from bookgen.trade.tongue import tongue

JOISTS = "joists"  # the layer of their middle lines
HAND = Fraction(48)  # inches above the floor that a plan is cut at; common practice
# Millimetres on paper.
EDGE = 2.0
TO_KEY = 5.0
TO_STRIP = 3.0
UNDER = 9.0  # of paper under the south wall where tags may stand
PLAN_HIGH = 150.0
SMALL = 1.5  # millimetres of radius: dashes would not go round
THIN = 0.8  # a pipe narrower than this is one dashed line


def plan(solved: Solved) -> Sketch:
    """Return the level plan, cut at hand height, north up. Draws what it is given: tags and hidden things included."""
    scene, eye = gather(solved), plan_eye(solved.level.floor + HAND)
    walls, rects = wall_shapes(eye, scene)
    whole = _round(rects, solved)
    units = solved.project.record.units
    paper = largest_scale(units, lambda p: _fits(whole, p), tongue(solved.project.record.language))
    runs, overhead = dict(_hidden(scene, paper, systems_of(solved))), overhead_shapes(scene)
    hidden, joists = tuple(runs), tuple(_joists(scene))
    swings = door_shapes(solved)
    doors = (*swings, *leaf_shapes(solved, swings), *stair_shapes(solved))
    spots = [spot for obstacle in solved.obstacles for spot in obstacle.access]
    solid = tuple(_bounds(rect) for rect in rects)
    dots = dots_of(spots, paper)
    # A tag may stand under the south wall too: there the sheet grows without its type getting smaller.
    sheet = whole._replace(bottom=whole.bottom - paper.exact(UNDER))
    ground = plan_ground(_bounds(sheet), paper, solid, (*hidden, *doors), dots)
    bunches = tags(spots, _systems_of_tags(solved), ground, paper)
    named, named_at = names(solved.rooms, ground, [bunch.box for bunch in bunches])
    if any(meet(name, bunch.box) for name in named_at for bunch in bunches):  # where a name finds no room tags make it
        bunches = tags(spots, _systems_of_tags(solved), with_barred(ground, named_at), paper)
    marks = [shape for bunch in bunches for shape in bunch.shapes]
    drawing = (*overhead, *walls, *window_shapes(solved), *doors, *hidden)
    entries = key_entries(drawing, paper.tongue)
    still = ("",) * (len(drawing) - len(hidden))
    clear = tuple(_clear(box) for box in named_at)
    layers = (
        *still,
        *runs.values(),
        *(JOISTS for _ in (*joists, *clear)),
        *(bunch.system for bunch in bunches for _ in bunch.shapes),
    )
    left, right = float(whole.left), float(whole.right)
    lowest = min(
        [float(whole.bottom), *(s.at[1] - paper.inches(TAG_HIGH / 2) for s in marks if isinstance(s, TagMark))]
    )
    top = lowest - paper.inches(TO_KEY)
    pointer = arrow(paper, right, top)
    key, low = drawn_key(entries, paper, left, right - paper.inches(4 * ARROW[0]), top)
    words = plan_words(solved, eye, paper)
    low = min(low, top - paper.inches(ARROW[1] + TO_LETTER + TEXT)) - paper.inches(TO_STRIP)
    strip, low = drawn_strip(words.strip, paper, left, right, low)
    edge = paper.inches(EDGE)
    return Sketch(
        key="level-plan",
        view=View.PLAN,
        title=words.title,
        desc=words.desc,
        caption=words.caption,
        scale=Fraction(paper.scale),
        low=(left - edge, low - edge),
        high=(right + edge, float(whole.top) + edge),
        shapes=(*drawing, *joists, *clear, *marks, *named, *key, *pointer, *strip),
        entries=entries,
        layers=(*layers, *("" for _ in (*named, *key, *pointer, *strip))),
    )


def _round(rects: Iterable[Rect], solved: Solved) -> Rect:
    whole = Rect(Fraction(0), Fraction(0), solved.level.east_west, solved.level.north_south)
    for rect in rects:
        whole = whole.joined(rect)
    return whole


def _fits(whole: Rect, paper: Paper) -> bool:
    wide, high = paper.millimetres(whole.right - whole.left), paper.millimetres(whole.top - whole.bottom)
    return wide <= SHEET_WIDE - 2 * EDGE and high <= PLAN_HIGH


def _bounds(rect: Rect) -> Bounds:
    return float(rect.left), float(rect.bottom), float(rect.right), float(rect.top)


def _hidden(scene: Iterable[Thing], paper: Paper, systems: Mapping[str, str]) -> Iterator[tuple[Shape, str]]:
    """Yield each hidden thing on the plan with its system: dashed, a thin line for what is thin; each shape once."""
    seen: set[Shape] = set()
    for thing in scene:
        if thing.origin is Origin.HIDDEN:
            for shape in _dashed(thing.solid, paper):
                if shape not in seen:
                    seen.add(shape)
                    yield shape, systems[thing.treatment]


def _joists(scene: Iterable[Thing]) -> Iterator[Shape]:
    """Yield the middle line of each joist."""
    for thing in scene:
        if thing.origin is Origin.SHELL and thing.role == "joist":
            low, high = thing.bounds.low, thing.bounds.high
            east, north = (low.x + high.x) / 2, (low.y + high.y) / 2
            if high.y - low.y > high.x - low.x:
                yield Stroke(LineKind.CENTRE, (spot((east, low.y)), spot((east, high.y))))
            else:
                yield Stroke(LineKind.CENTRE, (spot((low.x, north)), spot((high.x, north))))


def _clear(box: Bounds) -> Shape:
    """Return the clear ground that a room's name stands on where joists would run through it."""
    left, low, right, high = box
    return Area(None, LineKind.BEYOND, ((left, low), (right, low), (right, high), (left, high)), outlined=False)


def systems_of(solved: Solved) -> Mapping[str, str]:
    """Return the system of each hidden thing by its key."""
    return {thing.key: thing.system for obstacle in solved.obstacles for thing in obstacle.hidden}


def _systems_of_tags(solved: Solved) -> Mapping[str, str]:
    """Return the system of each access point by its tag: leaders, dots and tags go with it."""
    return {point.tag: point.system for file in solved.project.obstacles for point in file.record.access}


def _dashed(solid: Solid, paper: Paper) -> Iterator[Shape]:
    if isinstance(solid, Rod):
        start, end = ((float(p.x), float(p.y)) for p in (solid.start, solid.end))
        if start == end:
            small = paper.millimetres(solid.radius) < SMALL
            yield Area(None, LineKind.BEYOND if small else LineKind.HIDDEN, (start,), float(solid.radius))
        elif paper.millimetres(2 * solid.radius) < THIN:
            yield Stroke(LineKind.HIDDEN, (start, end))
        else:
            yield from _outline(solid)
    elif isinstance(solid, Prism):
        yield from _outline(solid)


def _outline(solid: Solid) -> Iterator[Shape]:
    outline = solid.seen("z")
    if hasattr(outline, "corners"):
        corners = tuple((float(u), float(v)) for u, v in outline.corners)
        yield Stroke(LineKind.HIDDEN, (*corners, corners[0]))

"""One treatment in; its cutaway as a Sketch out: board peeled off the framing, framing off what it hides."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from shapely import LineString, Polygon, box

from bookgen.draw.bodies import Vector, body_of, clipped
from bookgen.draw.foot import Foot, drawn_foot
from bookgen.draw.hidden_lines import Seen, polygons, seen, view_from
from bookgen.draw.hidden_lines import View as Eyeing
from bookgen.draw.notes import Note
from bookgen.draw.paper import Paper
from bookgen.draw.pointing import MOST, Group, access_words, group_of, note_of, thinned
from bookgen.draw.scene import Origin, Thing, box_to_level, in_frame_of, own_box
from bookgen.draw.sheet import EDGE, Drawn, noted_on
from bookgen.draw.titles import Topic, cutaway_words
from bookgen.model.assembly import Assembly, Material
from bookgen.model.geometry import Box, Point
from bookgen.model.sketch import Area, LineKind, Shape, Sketch, Spot, Stroke, View
from bookgen.model.solved import SolvedObstacle

LONG = Fraction(60)  # inches of a run, and of a ceiling across it, that are shown
FAR = Fraction(240)  # inches round the work within which hidden things are looked for
# How much of what is shown do the framing and the finished surface reach over?
FRAMED, FINISHED = Fraction(3, 4), Fraction(2, 5)
WIDE, HIGH = 76.0, 84.0  # millimetres of drawing at most, so that notes find room beside it
NEAR = Fraction(6)  # inches outside the stretch that an access point is still marked
AT = Fraction(1)  # inches from a thing that an access point on it may lie
POINTED = 6  # faces of a kind that a note may point at
# From where does one look, in the run's frame: along the run, off the wall, up?
FROM_BELOW: Vector = (-0.5, 0.75, -0.55)
FROM_UNDER: Vector = (-0.35, 0.45, -0.9)
FROM_ABOVE: Vector = (-0.55, 0.8, 0.4)
_CEILINGS = frozenset({"furring"})


@dataclass(frozen=True, slots=True)
class _Layers:
    """The stretch that is shown, and how far framing and finished surface reach in it, all in the run's frame."""

    shown: Box
    framed: Box
    finished: Box


def cutaway(topic: Topic, scene: tuple[Thing, ...]) -> Sketch:
    """Return the treatment as a solid, opened in layers, without anything that stands round it."""
    obstacle, assembly = topic.obstacle, topic.assembly
    overhead = assembly.treatment.endswith("soffit") or assembly.treatment in _CEILINGS
    things, shown = _things(obstacle, assembly, scene, overhead=overhead)
    view = view_from(_toward(assembly, overhead=overhead))
    bodies = [body_of(assembly.frame.solid_to_level(thing.solid)) for thing in things]
    found = list(zip(things, seen(bodies, view), strict=True))
    extent = _extent([one for _, one in found])
    paper = _paper(extent, topic)
    shapes = tuple(shape for thing, one in found for shape in _drawn(thing, one))
    notes = _with_tags(_notes(obstacle, found, paper), topic, view, shown)
    noted = noted_on(paper, extent, notes, shapes, None)
    words = cutaway_words(topic, things, paper, below=overhead)
    foot = drawn_foot(Foot((), noted.keyed, words.strip, scaled=False), paper, noted.left, noted.right, extent[1])
    edge = paper.inches(EDGE)
    drawn = Drawn(
        (noted.left - edge, foot.low - edge),
        (noted.right + edge, noted.top + edge),
        (*shapes, *noted.shapes, *foot.shapes),
        (),
        words,
    )
    return drawn.sketch(f"{obstacle.key}-cutaway", View.CUTAWAY, paper, further=False)


def _with_tags(notes: tuple[Note, ...], topic: Topic, view: Eyeing, shown: Box) -> tuple[Note, ...]:
    """Return the notes and a tag for each access point in the stretch that is shown, at the thing itself.

    A tag on a thing that has a note takes it over, with its trade words.
    """
    words, kept, found = access_words(topic.solved, topic.obstacle), list(notes), list[Note]()
    for access in topic.obstacle.access:
        if access.tag in words and shown.grown(NEAR).holds(topic.assembly.frame.from_level(access.at)):
            what = _at(access.at, topic.obstacle)
            names = {what.casefold(), words[access.tag].casefold()}
            same = next((note for note in kept if note.word.casefold() in names), None)
            if same is not None:
                kept.remove(same)
            at = float(access.at.x), float(access.at.y), float(access.at.z)
            trade = same.trade if same is not None else ""
            found.append(Note(words[access.tag], trade, (view.spot(at),), access.tag))
    return (*kept, *found)


def _at(point: Point, obstacle: SolvedObstacle) -> str:
    """Return the owner's word for the smallest hidden thing at a point of the level."""
    boxes = [(solid.bounds(), thing.what) for thing in obstacle.hidden for solid in thing.solids]
    on = [(box.size("x") * box.size("y") * box.size("z"), what) for box, what in boxes if box.grown(AT).holds(point)]
    return min(on, default=(0, ""))[1]


def _things(
    obstacle: SolvedObstacle, assembly: Assembly, scene: Iterable[Thing], *, overhead: bool
) -> tuple[tuple[Thing, ...], Box]:
    """Return what is shown, in the run's frame, each cut off where its layer ends, and the stretch that is shown."""
    own = own_box(obstacle, assembly)
    wanted = [thing for thing in scene if thing.owner == obstacle.key and thing.material is not Material.VOID]
    near = in_frame_of(wanted, box_to_level(own.grown(FAR), assembly), assembly)
    layers = _layers(near, own, assembly, overhead=overhead)
    found = []
    for thing in near:
        within = layers.shown if thing.origin is Origin.HIDDEN else layers.framed
        if thing.material is Material.BOARD or (thing.treatment == "utility room" and thing.role == "door"):
            within = layers.finished
        solid = clipped(thing.solid, within)
        if solid is not None:
            found.append(replace(thing, solid=solid))
    return tuple(found), layers.shown


def _layers(near: Sequence[Thing], own: Box, assembly: Assembly, *, overhead: bool) -> _Layers:
    """Return the layers: along the run for what hangs, where the viewer sees into the open end, else from the top."""
    hidden = [thing.bounds for thing in near if thing.origin is Origin.HIDDEN]
    whole = own.grown(Fraction(6))
    if not overhead:
        for one in hidden if assembly.treatment == "utility room" else ():
            whole = whole.joined(one)
        low, high = whole.low, whole.high
        tall = own.high.z - own.low.z

        def upto(share: Fraction) -> Box:
            return Box(low, Point(high.x, high.y, own.low.z + share * tall))

        return _Layers(Box(low, Point(high.x, high.y, own.high.z + 2)), upto(FRAMED), upto(FINISHED))
    x = _stretch(own.low.x, own.high.x, assembly.section_at)
    middle = hidden[0].low.y + hidden[0].high.y if hidden else own.low.y + own.high.y
    y = _stretch(own.low.y, own.high.y, middle / 2)
    if own.high.y - own.low.y <= LONG:
        y = (whole.low.y, whole.high.y)

    def after(share: Fraction) -> Box:
        start = x[1] - share * (x[1] - x[0])
        return Box(Point(start, y[0], whole.low.z), Point(x[1], y[1], whole.high.z))

    return _Layers(after(Fraction(1)), after(FRAMED), after(FINISHED))


def _stretch(low: Fraction, high: Fraction, middle: Fraction) -> tuple[Fraction, Fraction]:
    """Return the stretch round *middle* that is shown of a longer one."""
    if high - low <= LONG:
        return low, high
    start = min(max(low, middle - LONG / 2), high - LONG)
    return start, start + LONG


def _toward(assembly: Assembly, *, overhead: bool) -> Vector:
    """Return the way to the viewer on the axes of the level."""
    from_run = FROM_ABOVE
    if overhead:
        from_run = FROM_UNDER if assembly.treatment in _CEILINGS else FROM_BELOW
    along, off, up = from_run
    off *= assembly.frame.off
    return (along, off, up) if assembly.frame.along == "x" else (off, along, up)


def _extent(found: Iterable[Seen]) -> tuple[float, float, float, float]:
    spots = [spot for one in found for edge in one.edges for spot in edge.coords]
    us, vs = [spot[0] for spot in spots], [spot[1] for spot in spots]
    return min(us), min(vs), max(us), max(vs)


def _paper(extent: tuple[float, float, float, float], topic: Topic) -> Paper:
    """Return the sheet on which a drawing that is not to scale comes out largest."""
    papers = (Paper(scale, topic.units(), topic.tongue()) for scale in itertools.count(2))
    return next(paper for paper in papers if _fits(extent, paper))


def _fits(extent: tuple[float, float, float, float], paper: Paper) -> bool:
    left, low, right, high = extent
    return paper.millimetres(right - left) <= WIDE and paper.millimetres(high - low) <= HIGH


def _drawn(thing: Thing, one: Seen) -> Iterable[Shape]:
    """Yield the faces, ends darker, then the edges."""
    for face, end in one.faces:
        line = LineKind.CUT if end and thing.material in _ENDS else LineKind.BEYOND
        for ring in _rings(face):
            yield Area(thing.material, line, ring, outlined=False)
    for edge in one.edges:
        yield Stroke(LineKind.BEYOND, _spots(edge))


_ENDS = frozenset({Material.LUMBER, Material.BLOCKING})  # a treated one would be hatched, and here is no key to say so


def _rings(face: Polygon) -> list[tuple[Spot, ...]]:
    """Return a face as outlines without holes: one with holes is cut in two through the middle of each."""
    if not face.interiors:
        return [_spots(face.exterior)[:-1]]
    left, low, right, high = face.bounds
    middle = face.interiors[0].centroid.x
    halves = (box(left, low, middle, high), box(middle, low, right, high))
    return [ring for half in halves for piece in polygons(face.intersection(half)) for ring in _rings(piece)]


def _spots(line: LineString) -> tuple[Spot, ...]:
    return tuple((float(u), float(v)) for u, v in line.coords)


def _notes(obstacle: SolvedObstacle, found: Sequence[tuple[Thing, Seen]], paper: Paper) -> tuple[Note, ...]:
    """Return one note for each kind of thing, pointing at the middle of its largest faces."""
    groups: dict[Group, list[tuple[Thing, Polygon]]] = {}
    for thing, one in found:
        group = group_of(thing, obstacle.key, paper.tongue)
        if group is not None:
            groups.setdefault(group, []).extend((thing, face) for face, _ in one.faces)
    things, notes = [thing for thing, _ in found], list[Note]()
    for group in sorted(groups):
        faces = sorted(groups[group], key=lambda one: (-one[1].area, one[1].bounds))[:POINTED]
        if faces and len(notes) < MOST and group[2] not in {note.word for note in notes}:
            spots = [spot for _, face in faces for spot in _inside(face)]
            notes.append(note_of(group, [thing for thing, _ in groups[group]], things, thinned(spots), paper))
    return tuple(notes)


def _inside(face: Polygon) -> list[Spot]:
    point = face.representative_point()
    return [(float(point.x), float(point.y))]

"""The printed sizes of a treatment in; dimension lines with ticks, extension lines and text, none touching, out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from bookgen.draw.eye import Eye
from bookgen.draw.outlines import Rect, rect_round
from bookgen.draw.paper import TEXT, Paper
from bookgen.draw.scene import Origin, Thing
from bookgen.draw.steps import Flight, flight
from bookgen.draw.titles import Topic
from bookgen.draw.words import size
from bookgen.model.assembly import Assembly, Measure
from bookgen.model.sketch import Anchoring, Label, LineKind, Shape, Spot, Stroke
from bookgen.model.tape import Units
from bookgen.model.widths import CAP_HEIGHT
from bookgen.trade.tongue import Tongue

# Millimetres on paper.
FIRST_ROW = 9.0  # from the work to the first dimension line
NEXT_ROW = 7.5
GAP = 1.4  # between the work and its extension line
PAST = 1.6  # extension line past the dimension line
TICK = 1.3  # half of the slanted stroke, each way
OVER = 1.1  # from the line up to the text
CLEAR = 1.0  # at least this much round a text

AT_PLANE = Fraction(1)  # inches from the plane of a section that an anchor of sloping work may lie
Span = tuple[float, float]

_RANK = ("headroom", "finished", "framed")
_MOST = {"u": 3, "v": 4}
_MOST_OF_STAIRS = {"u": 3, "v": 7}


@dataclass(frozen=True, slots=True)
class Dimension:
    """One size on its way to the sheet; *low* and *high* along its own direction, on the sheet; *row* from 1.

    A *framed* size gives way where its text does not fit its line: the finished ones are what the owner can check.
    """

    text: str
    along: str  # u: lies flat; v: stands
    low: float
    high: float
    framed: bool = False
    row: int = 0

    def lies_in(self, window: Rect) -> bool:
        """Tell whether both ends lie in a window."""
        low, high = (window.left, window.right) if self.along == "u" else (window.bottom, window.top)
        return low <= self.low and self.high <= high


TrueHere = Callable[[str, Fraction], bool]


def anywhere(_along: str, _value: Fraction) -> bool:
    """Say of any end of a size that it is there to be measured."""
    return True


def on_edges(eye: Eye, governing: Eye, things: Sequence[Thing], owner: str) -> TrueHere:
    """Return the function that tells whether a size that is taken where the work governs is true where *eye* cuts.

    Its end has to be an edge of the work here; one that is no edge of the work there either, such as floor or ceiling,
    an edge of anything.
    """
    own = [thing for thing in things if thing.owner == owner and thing.origin is Origin.PART]
    here, there, round_it = _edges_of(eye, own), _edges_of(governing, own), _edges_of(eye, things)

    def true_here(along: str, value: Fraction) -> bool:
        return value in here[along] or (value not in there[along] and value in round_it[along])

    return true_here


def _edges_of(eye: Eye, things: Iterable[Thing]) -> dict[str, set[Fraction]]:
    """Return where what the plane cuts ends, along u and v."""
    ends: dict[str, set[Fraction]] = {"u": set(), "v": set()}
    for thing in things:
        for outline in eye.cut(thing.solid) if eye.reaches(thing.bounds) else ():
            rect = rect_round(outline)
            ends["u"] |= {rect.left, rect.right}
            ends["v"] |= {rect.bottom, rect.top}
    return ends


@dataclass(frozen=True, slots=True)
class Size:
    """A size that a view shows true: its text, which way it runs, its ends in the view plane, the lower one first."""

    text: str
    along: Literal["u", "v"]
    low: Fraction
    high: Fraction
    framed: bool

    def placed(self, place: Callable[[Fraction], float]) -> Dimension:
        """Return it on its way to a sheet, where *place* lifts heights to where they stand."""
        low, high = (float(self.low), float(self.high)) if self.along == "u" else (place(self.low), place(self.high))
        return Dimension(self.text, self.along, low, high, self.framed)


def chosen_sizes(topic: Topic, eye: Eye, true_here: TrueHere = anywhere) -> tuple[Size, ...]:
    """Return the sizes that the view shows true, each stretch once, finished before framed; *true_here* of any end."""
    assembly, units, tongue = topic.assembly, topic.units(), topic.tongue()
    found: dict[tuple[str, Fraction, Fraction], Size] = {}
    counts, steps = {"u": 0, "v": 0}, flight(assembly)
    most = _MOST_OF_STAIRS if steps else _MOST
    for measure in sorted(assembly.measures, key=_rank):
        along = eye.runs(measure.axis, assembly.frame)
        if along is None or measure.start not in assembly.anchors or measure.end not in assembly.anchors:
            continue
        lift = _lift(steps, assembly, eye, measure)
        if lift is None and (steps or _changes(assembly)) and _off_the_plane(assembly, eye, measure):
            continue
        spots = [_in_view(assembly, eye, name) for name in (measure.start, measure.end)]
        low, high = sorted(u if along == "u" else v + (lift or 0) for u, v in spots)
        key = (along, low, high)
        if low == high or key in found or counts[along] == most[along]:
            continue
        if true_here(along, low) and true_here(along, high):
            counts[along] += 1
            found[key] = Size(_told(measure, units, tongue), along, low, high, measure.kind == "framed")
    return tuple(found.values())


def _changes(assembly: Assembly) -> bool:
    """Tell whether a size holds only where it is taken, since the line of the work goes in steps."""
    return any(cost.corners for cost in assembly.costs[:1])


def _lift(steps: Flight | None, assembly: Assembly, eye: Eye, measure: Measure) -> Fraction | None:
    """Return how much higher a section cuts a size that stands on the line of the nosings, alike all along.

    None for every other size, and in every other view.
    """
    start, end = assembly.anchors[measure.start], assembly.anchors[measure.end]
    if steps is None or eye.axis != "x" or start.x != end.x or not steps.on_line(start):
        return None
    return (eye.at - start.x) * steps.per_inch


def _off_the_plane(assembly: Assembly, eye: Eye, measure: Measure) -> bool:
    """Tell whether a size of work that changes is taken elsewhere than where a section cuts it."""
    ends = (assembly.anchors[name] for name in (measure.start, measure.end))
    return eye.axis == "x" and any(abs(end.x - eye.at) > AT_PLANE for end in ends)


def _told(measure: Measure, units: Units, tongue: Tongue) -> str:
    """Return a size as it stands on the sheet; what is no finished size says so."""
    length, say = size(measure.value, units=units, tall=measure.kind == "headroom"), tongue.say
    if measure.kind == "headroom":
        if "ceiling" in measure.name.lower():
            return say("{length} to the ceiling", length=length)
        return say("{length} headroom", length=length)
    return say("{length} framed", length=length) if measure.kind == "framed" else length


def _rank(measure: Measure) -> int:
    return _RANK.index(measure.kind) if measure.kind in _RANK else len(_RANK)


def _in_view(assembly: Assembly, eye: Eye, anchor: str) -> tuple[Fraction, Fraction]:
    """Return an anchor in the view plane; an eye of another frame sees it through the level."""
    point = assembly.anchors[anchor]
    if eye.frame != assembly.frame:
        point = eye.frame.from_level(assembly.frame.to_level(point))
    return eye.spot(point)


def in_rows(dimensions: Iterable[Dimension], paper: Paper) -> tuple[Dimension, ...]:
    """Return the dimensions with their rows: the shortest nearest the work, overall ones outside, chains in one."""
    placed: list[Dimension] = []
    for one in sorted(dimensions, key=lambda d: (d.along, d.high - d.low, d.low)):
        low, high = _stretch(one, paper)
        below = [d.row for d in placed if d.along == one.along and _overlap(_stretch(d, paper), (low, high))]
        placed.append(replace(one, row=max(below, default=0) + 1))
    return tuple(placed)


def _overlap(first: tuple[float, float], second: tuple[float, float]) -> bool:
    return first[0] < second[1] - 1e-6 and second[0] < first[1] - 1e-6


def _stretch(one: Dimension, paper: Paper) -> tuple[float, float]:
    """Return what a dimension takes of its row: more than its length where the text has to stand outside."""
    wide = paper.width(one.text, strong=True) + 2 * paper.inches(CLEAR)
    return (one.low, one.high) if wide <= one.high - one.low else (one.low, one.high + wide + paper.inches(TICK))


def rows(dimensions: Iterable[Dimension], along: str) -> int:
    """Return how many rows are needed on one side."""
    return max((one.row for one in dimensions if one.along == along), default=0)


def row_offset(row: int) -> float:
    """Return how far off the work a row's line lies, in millimetres."""
    return FIRST_ROW + (row - 1) * NEXT_ROW


@dataclass(frozen=True, slots=True)
class Base:
    """What dimensions are drawn on.

    *line_kind* is that of dimension lines: another one where nobody has confirmed the sizes yet.
    *edge* says where the work ends: u, below which flat ones stack, and v, beside which standing ones do; *side* is 1
    where they stack to the right, -1 to the left.
    *lines_across* gives, for a dimension whose text lies between two offsets, where lines of the drawing cross it;
    *ends_at* where the drawing ends at a value, so that the extension line starts there.
    """

    paper: Paper
    edge: Mapping[str, float]
    side: Literal[1, -1]
    lines_across: Callable[[Dimension, float, float], list[float]]
    ends_at: Callable[[Dimension, float], float]
    line_kind: LineKind

    def line(self, one: Dimension) -> float:
        """Return where a dimension's line runs."""
        return self.edge[one.along] + self.away(one) * self.paper.inches(row_offset(one.row))

    def away(self, one: Dimension) -> int:
        """Return which way rows stack: down, or to the side."""
        return -1 if one.along == "u" else self.side

    def crossings(self, one: Dimension) -> list[Span]:
        """Return where the drawing crosses the strip that a dimension's text stands in."""
        line, high = self.line(one), self.paper.inches(OVER + TEXT * CAP_HEIGHT)
        low, top = (line, line + high) if one.along == "u" else (line - high, line)
        return [(value, value) for value in self.lines_across(one, low, top)]


def fitting(dimensions: Sequence[Dimension], base: Base) -> tuple[Dimension, ...]:
    """Return the dimensions in rows anew, without the framed ones whose text finds no room on their line."""
    kept = [
        one for one in dimensions if not one.framed or _text_spot(one, base.paper, base.crossings(one))[1] == one.high
    ]
    return in_rows(kept, base.paper)


def beside_texts(dimensions: Sequence[Dimension], base: Base) -> float:
    """Return the edge from which standing dimensions start, so that they clear the texts of flat ones."""
    edge, text = base.edge["v"], OVER + TEXT * CAP_HEIGHT
    ends = [_spot_of(one, dimensions, base)[1] for one in dimensions if one.along == "u"]
    if base.side == 1:
        clear = base.paper.inches(FIRST_ROW - text - 2 * CLEAR)
        return max([edge, *(end - clear for end in ends)])
    return min([edge, *(end + base.paper.inches(FIRST_ROW - 2 * CLEAR) for end in ends)])


def drawn(dimensions: Sequence[Dimension], base: Base) -> tuple[Shape, ...]:
    """Return the strokes and texts of all dimensions."""
    shapes: list[Shape] = []
    for one in dimensions:
        line = base.line(one)
        middle, end = _spot_of(one, dimensions, base)
        shapes += _strokes(one, base, line, end)
        shapes.append(_label(one, base.paper, line, middle))
    return tuple(shapes)


def _spot_of(one: Dimension, dimensions: Sequence[Dimension], base: Base) -> Span:
    """Return the middle of a dimension's text and the far end of its line, clear of its neighbours."""
    beside = [d for d in dimensions if d.along == one.along and d is not one]
    taken = [(value, value) for d in beside if d.row > one.row for value in (d.low, d.high)]
    taken += [(d.low, d.high) for d in beside if d.row == one.row]
    return _text_spot(one, base.paper, [*taken, *base.crossings(one)])


def _text_spot(one: Dimension, paper: Paper, crossings: Iterable[Span]) -> Span:
    """Return the middle of the text and the far end of its line: between the ticks, else just outside where it is free.

    *crossings* are the stretches along the line that something else takes.
    """
    need = paper.width(one.text, strong=True) + 2 * paper.inches(CLEAR)
    taken = sorted(crossings)
    centre = (one.low + one.high) / 2
    inside = [min(max(centre, a + need / 2), b - need / 2) for a, b in _gaps(one.low, one.high, taken) if b - a >= need]
    if inside:
        return min(inside, key=lambda spot: abs(spot - centre)), one.high
    need += paper.inches(TICK)
    far = 4 * need + sum(b - a for a, b in taken)
    above = next((a for a, b in _gaps(one.high, one.high + far, taken) if b - a >= need), one.high)
    below = next((b for a, b in _gaps(one.low - far, one.low, taken)[::-1] if b - a >= need), one.low)
    if above - one.high <= one.low - below:
        return above + (need + paper.inches(TICK)) / 2, above + need
    return below - (need + paper.inches(TICK)) / 2, below - need


def _gaps(low: float, high: float, taken: Iterable[Span]) -> list[Span]:
    """Return the stretches from *low* to *high* that nothing takes."""
    found: list[Span] = []
    for start, end in taken:
        if end > low and start < high:
            found.append((low, start))
            low = max(low, end)
    return [(a, b) for a, b in (*found, (low, high)) if b > a]


def _strokes(one: Dimension, base: Base, line: float, end: float) -> list[Shape]:
    paper, away = base.paper, base.away(one)

    def at(along: float, across: float) -> Spot:
        return (along, across) if one.along == "u" else (across, along)

    shapes: list[Shape] = [Stroke(base.line_kind, (at(min(one.low, end), line), at(max(one.high, end), line)))]
    tick = paper.inches(TICK)
    for value in (one.low, one.high):
        start, finish = base.ends_at(one, value) + away * paper.inches(GAP), line + away * paper.inches(PAST)
        shapes.append(Stroke(LineKind.DIMENSION, (at(value, start), at(value, finish))))
        shapes.append(Stroke(LineKind.TICK, (at(value - tick, line - tick), at(value + tick, line + tick))))
    return shapes


def _label(one: Dimension, paper: Paper, line: float, middle: float) -> Label:
    over = paper.inches(OVER)
    spot = (middle, line + over) if one.along == "u" else (line - over, middle)
    return Label(one.text, spot, TEXT, Anchoring.MIDDLE, turned=one.along == "v", strong=True)

"""A solved level in, its headroom as a plan in contour bands with each low spot named out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from math import hypot

from bookgen.compose.charts.undersides import Over, undersides
from bookgen.compose.show import Show
from bookgen.model.assembly import Assembly, Face
from bookgen.model.chart import Chart, HeadroomMap, NamedSpot, Underside
from bookgen.model.geometry import ACROSS, Axis, Corner, Point, Polygon
from bookgen.model.length import MILLIMETRES_PER_INCH, Length
from bookgen.model.sketch import Spot
from bookgen.model.solved import Solved

INTERVAL = {"imperial": Fraction(4), "metric": Fraction(100) / MILLIMETRES_PER_INCH}  # between contours, in inches
MOST_BANDS = 6
CUT = Fraction(48)  # inches above the slab at which walls are shown, as on the plan
GRID = 12  # places tried for a letter in a room, each way
CLEAR = 14.0  # inches that a letter keeps off the edge of what it stands in, if it can
Box = tuple[Spot, Spot]


def headroom_map(solved: Solved, show: Show) -> Chart:
    """Return the map; planned work is said to be planned, and what was assumed to be about so high."""
    over = undersides(solved)
    bands, words = _bands([one.headroom for one in over], show)
    spots = tuple(_spots(over, show))
    planned = any(one.is_planned for one in over)
    figure = HeadroomMap(
        wide=float(solved.level.east_west),
        high=float(solved.level.north_south),
        bands=words,
        undersides=tuple(
            Underside(_spots_of(one.outline.corners), band, one.is_planned)
            for one, band in zip(over, bands, strict=True)
        ),
        walls=tuple(_walls(solved)),
        stairs=tuple(_spots_of(outline) for outline in _stairs(solved)),
        stair=show.terms["headroom stair"],
        planned=show.terms["headroom planned"] if planned else "",
        spots=spots,
    )
    said = show.terms["headroom map desc"].format(
        spots="; ".join(f"{spot.letter}, {spot.name}: {spot.words}" for spot in spots)
    )
    return Chart("headroom", show.terms["headroom map"], said, show.terms["headroom map says"], figure)


def _bands(heights: Sequence[Fraction], show: Show) -> tuple[tuple[int, ...], tuple[str, ...]]:
    """Return the band of each height, and each band's words; the interval is doubled until the bands are few."""
    show = replace(show, units="metric" if show.tape.metric else "imperial")
    step = INTERVAL[show.units]
    while max(heights) // step - min(heights) // step >= MOST_BANDS:
        step *= 2
    first = min(heights) // step
    bands = tuple(height // step - first for height in heights)
    words = tuple(
        show.stretch((first + band) * step, (first + band + 1) * step) if band in bands else ""
        for band in range(max(bands) + 1)
    )
    return bands, words


def _spots(over: Sequence[Over], show: Show) -> Iterator[NamedSpot]:
    """Yield what has a letter, from the lowest: each soffit at each of its heights, then the ceilings of the rooms."""
    low = [one for one in over if one.soffit]
    seen = {one.name for one in over if one.known is not None}
    ceilings = [one for one in over if not one.soffit and (one.known is not None or one.name not in seen)]
    taken: list[Spot] = []
    number = 0
    for kind in (low, ceilings):
        named: dict[tuple[Fraction, str], Over] = {}
        for one in sorted(kind, key=lambda one: (one.headroom, one.name, -one.outline.area())):
            named.setdefault((one.headroom, one.name), one)
        for one in named.values():
            below = [other.outline for other in low if other.headroom < one.headroom]
            at = _middle(one.outline) if one.soffit else _free(one.outline, below, taken)
            taken.append(at)
            form = "headroom soffit" if one.soffit else "headroom ceiling"
            yield NamedSpot(_letter(number), at, show.terms[form].format(name=one.name), _words(one, show))
            number += 1


def _words(one: Over, show: Show) -> str:
    known = show if one.known is None else show.of(one.known)
    words = known.size_of(Length(one.headroom))
    return show.terms["headroom of planned"].format(length=words) if one.is_planned else words


def _letter(number: int) -> str:
    letter = chr(ord("a") + number % 26)
    return letter if number < 26 else f"{letter}{number // 26 + 1}"


def _free(outline: Polygon, lower: Sequence[Polygon], taken: Sequence[Spot]) -> Spot:
    """Return a place for a letter in an outline: under nothing lower, far from its edges and from other letters."""
    (left, low), (right, high) = _box(outline)
    boxes = [_box(one) for one in lower]
    best, most = _middle(outline), -1.0
    for column in range(1, GRID):
        across = left + (right - left) * column / GRID
        inside, under = _column(outline, across), [_column(one, across) for one in lower]
        for row in range(1, GRID):
            at = across, low + (high - low) * row / GRID
            if not _holds(inside, at[1]) or any(_holds(spans, at[1]) for spans in under):
                continue
            edge = min(at[0] - left, right - at[0], at[1] - low, high - at[1], 3 * CLEAR)
            room = min([edge, *(hypot(at[0] - x, at[1] - y) / 2 for x, y in taken), *(_off(one, at) for one in boxes)])
            if room > most + 1e-9:
                best, most = at, room
    return best


def _box(outline: Polygon) -> Box:
    (left, low), (right, high) = outline.bounds()
    return (float(left), float(low)), (float(right), float(high))


def _off(box: Box, at: Spot) -> float:
    """Return how far a spot lies outside a box."""
    (left, low), (right, high) = box
    return hypot(max(left - at[0], at[0] - right, 0.0), max(low - at[1], at[1] - high, 0.0))


def _column(outline: Polygon, across: float) -> list[Corner]:
    """Return what lies in an outline on the line across at *across*."""
    return outline.spans(0, Fraction(across).limit_denominator(1 << 16))


def _holds(spans: Sequence[Corner], up: float) -> bool:
    return any(low <= up <= high for low, high in spans)


def _middle(outline: Polygon) -> Spot:
    """Return the middle of an outline's box; where the outline bends round it, the middle of a span that it has."""
    (left, low), (right, high) = outline.bounds()
    middle = (left + right) / 2
    spans = outline.spans(0, middle)
    if spans and not any(a <= (low + high) / 2 <= b for a, b in spans):
        low, high = max(spans, key=lambda span: span[1] - span[0])
    return float(middle), float(low + high) / 2


def _walls(solved: Solved) -> Iterator[tuple[Spot, Spot]]:
    """Yield the lines of all finished faces that stand at the height of the cut."""
    assemblies = [*solved.level.linings, *(one.assembly for one in solved.obstacles if one.assembly)]
    for assembly in assemblies:
        for face in assembly.faces:
            if face.axis != "z":
                yield from _lines(face, face.axis, assembly)


def _lines(face: Face, axis: Axis, assembly: Assembly) -> Iterator[tuple[Spot, Spot]]:
    other = next(one for one in ACROSS[axis] if one != "z")
    for ends in Polygon(face.outline.corners).spans(1, CUT):
        points = [
            assembly.frame.to_level(Point(**{axis: face.at, other: end, "z": CUT})) for end in ends
        ]  # fmt: skip
        yield (float(points[0].x), float(points[0].y)), (float(points[1].x), float(points[1].y))


def _stairs(solved: Solved) -> Iterator[tuple[Corner, ...]]:
    """Yield where stairs stand, as the plan draws their treads."""
    for obstacle, file in zip(solved.obstacles, solved.project.obstacles, strict=True):
        record = file.record.as_built.treatment if file.record.as_built else file.record.treatment
        stair = record.stair_opening if record is not None else None
        if stair is None or obstacle.assembly is None:
            continue
        forward = 1 if stair.goes_up in ("east", "north") else -1
        first = stair.bottom_nosing.inches
        last = first + forward * stair.tread.inches * (stair.risers - 1)
        sides = (stair.stair.low.inches, stair.stair.high.inches)
        corners = ((first, sides[0]), (last, sides[0]), (last, sides[1]), (first, sides[1]))
        along = obstacle.assembly.frame.along == "x"
        yield tuple((station, across) if along else (across, station) for station, across in corners)


def _spots_of(corners: Iterable[Corner]) -> tuple[Spot, ...]:
    return tuple((float(u), float(v)) for u, v in corners)

"""The ties of a thing in; a small plan of its room out, with the marks, the tapes and their lengths, north up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import cos, pi, sin

from bookgen.draw.arrow import ARROW, TO_LETTER, arrow
from bookgen.draw.face_marks import clear_label
from bookgen.draw.key import drawn_key
from bookgen.draw.paper import TEXT, Paper, largest_scale
from bookgen.draw.shapes import spot
from bookgen.draw.words import listed, lower_first, size, spoken
from bookgen.model.sketch import TAG_HIGH, TAG_LONG, Area, Dot, LineKind, Shape, Sketch, Spot, Stroke, TagMark, View
from bookgen.model.solved import Solved, SolvedRoom
from bookgen.model.tape import Units
from bookgen.model.ties import ChosenTie, SpotTies
from bookgen.trade.tongue import tongue

# Millimetres on paper.
EDGE = 6.0  # room for a tag or a length beside the wall
WIDE, HIGH = 60.0, 48.0
TO_KEY = 3.0
MARK = 1.3  # radius of the ring round a mark
LEAST = 66.0  # how wide a sheet is at least, so that scale bar and arrow have room
BESIDE, ABOVE = 1.2, 2.6  # round a number
SHARES = (0.6, 0.5, 0.7, 0.4, 0.3, 0.8, 0.2)  # of a tape's length from its mark, where its number may stand
AWAY = (4.0, 7.0, 10.0, 14.0, 18.0)  # from the thing to the tip of its tag
TURNS = 12  # directions tried, in half a turn

Bounds = tuple[float, float, float, float]  # left, low, right, high


def tie_sketches(solved: Solved) -> Mapping[str, Sketch]:
    """Return a small plan for each thing with ties, by its key; things at one place share the plan of the first."""
    drawn: dict[str, Sketch] = {}
    done: set[tuple[object, ...]] = set()
    tags = {spot.tag for obstacle in solved.obstacles for spot in obstacle.access}
    for one in solved.ties:
        place = (one.room, one.at.x, one.at.y, one.choice.ties)
        if one.key in tags and place not in done:
            done.add(place)
            drawn[one.key] = _sketch(one, solved)
    return drawn


def _sketch(one: SpotTies, solved: Solved) -> Sketch:
    units = solved.project.record.units
    room = next(room for room in solved.rooms if room.key == one.room)
    (west, south), (east, north) = room.outline.bounds()
    paper = largest_scale(
        units, lambda p: p.millimetres(east - west) <= WIDE and p.millimetres(north - south) <= HIGH,
        tongue(solved.project.record.language),
    )  # fmt: skip
    edge = paper.inches(EDGE)
    left, low = float(west) - edge, float(south) - edge
    right = max(float(east) + edge, left + paper.inches(LEAST))
    sheet = (left, low, right, float(north) + edge)
    shapes = (*_room(room), *_tapes(one, sheet, paper, units=units))
    top = low - paper.inches(TO_KEY)
    key, low = drawn_key((), paper, left, right - paper.inches(4 * ARROW[0]), top)
    low = min(low, top - paper.inches(ARROW[1] + TO_LETTER + TEXT))
    say = paper.tongue.say
    taped = [
        say("{length} from the {mark}", length=spoken(tie.printed, paper), mark=tie.what) for tie in one.choice.ties
    ]
    return Sketch(
        key=f"ties-{one.key}",
        view=View.PLAN,
        title=say("Tag {tag}: where to tape it from in the {room}", tag=one.key, room=lower_first(room.name)),
        desc=say("The thing lies {places}.", places=listed(taped, say)),
        caption=say("{room}, north up. {scale}.", room=room.name, scale=paper.words()),
        scale=Fraction(paper.scale),
        low=(left, low - paper.inches(1.0)),
        high=(right, float(north) + edge),
        shapes=(*shapes, *key, *arrow(paper, right, top)),
        entries=(),
    )


def _room(room: SolvedRoom) -> Iterator[Shape]:
    corners = tuple(spot(corner) for corner in room.outline.corners)
    yield Area(None, LineKind.BEYOND, corners, outlined=False)
    yield Stroke(LineKind.CUT, (*corners, corners[0]))


def _tapes(one: SpotTies, sheet: Bounds, paper: Paper, *, units: Units) -> Iterator[Shape]:
    ends = [(tie, spot(tie.at), _end(one, tie)) for tie in one.choice.ties]
    for _, mark, end in ends:
        yield Stroke(LineKind.CENTRE, (mark, end))
    for _, mark, _ in ends:
        yield Area(None, LineKind.CUT, (mark,), paper.inches(MARK))
        yield Dot(mark)
    taken = [_box(mark, paper.inches(MARK), paper.inches(MARK)) for _, mark, _ in ends]
    for tie, mark, end in ends:
        words = size(tie.printed, units=units)
        half = (paper.width(words) / 2 + paper.inches(BESIDE), paper.inches(ABOVE))
        spots = [(mark[0] + share * (end[0] - mark[0]), mark[1] + share * (end[1] - mark[1])) for share in SHARES]
        at = next((one for one in spots if not _met(_box(one, *half), taken)), spots[0])
        taken.append(_box(at, *half))
        yield from clear_label(words, at, paper)
    yield from _thing(one, taken, sheet, paper)


def _end(one: SpotTies, tie: ChosenTie) -> Spot:
    """Return where a tape ends: at the thing, or for one along a face at the point straight before it."""
    at = spot((one.at.x, one.at.y))
    face = one.choice.face
    if face is None or tie.length.inches not in (abs(one.at.x - tie.at[0]), abs(one.at.y - tie.at[1])):
        return at
    mark = spot(tie.at)
    return (mark[0], at[1]) if face in ("east", "west") else (at[0], mark[1])


def _thing(one: SpotTies, taken: list[Bounds], sheet: Bounds, paper: Paper) -> Iterator[Shape]:
    """Yield the thing's dot with its tag on the nearest spot of the sheet where it covers nothing."""
    at, long, high = spot((one.at.x, one.at.y)), paper.inches(TAG_LONG), paper.inches(TAG_HIGH) / 2
    tips = [
        (at[0] + paper.inches(far) * cos(turn * pi / TURNS), at[1] + paper.inches(far) * sin(turn * pi / TURNS))
        for far in AWAY
        for turn in range(2 * TURNS)
    ]
    for tip in tips:
        flipped = tip[0] < at[0]
        middle = (tip[0] + long / 2 * (-1 if flipped else 1), tip[1])
        box = _box(middle, long / 2, high)
        inside = sheet[0] <= box[0] and sheet[1] <= box[1] and box[2] <= sheet[2] and box[3] <= sheet[3]
        if (inside and not _met(box, taken)) or tip is tips[-1]:
            yield Stroke(LineKind.LEADER, (at, tip))
            yield Dot(at)
            yield TagMark(one.key, tip, flipped)
            return


def _box(at: Spot, wide: float, high: float) -> Bounds:
    return at[0] - wide, at[1] - high, at[0] + wide, at[1] + high


def _met(box: Bounds, taken: list[Bounds]) -> bool:
    return any(box[0] < b[2] and b[0] < box[2] and box[1] < b[3] and b[1] < box[3] for b in taken)

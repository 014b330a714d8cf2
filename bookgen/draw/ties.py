"""The ties of a thing in; a small plan of its room out, with the marks, the tapes and their lengths, north up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from bookgen.draw.arrow import ARROW, TO_LETTER, arrow
from bookgen.draw.key import drawn_key
from bookgen.draw.meetings import Box
from bookgen.draw.paper import TEXT, Paper, largest_scale
from bookgen.draw.shapes import spot
from bookgen.draw.tie_labels import Field, Tape, numbered
from bookgen.draw.words import listed, lower_first, size, spoken
from bookgen.model.sketch import Area, Dot, LineKind, Shape, Sketch, Spot, Stroke, View
from bookgen.model.solved import Solved, SolvedRoom
from bookgen.model.ties import ChosenTie, SpotTies
from bookgen.trade.tongue import tongue

# Millimetres on paper.
EDGE = 9.0  # room for a tag or a length beside the wall
WIDE, HIGH = 60.0, 48.0
TO_KEY = 3.0
MARK = 1.3  # radius of the ring round a mark
LEAST = 66.0  # how wide a sheet is at least, so that scale bar and arrow have room
DOT = 0.7  # half of what the dot of the thing takes


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
    shapes = (*_room(room), *_tapes(one, room, sheet, paper))
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


def _tapes(one: SpotTies, room: SolvedRoom, sheet: Box, paper: Paper) -> Iterator[Shape]:
    tapes = [Tape(size(tie.printed, units=paper.units), spot(tie.at), _end(one, tie)) for tie in one.choice.ties]
    ring, dot = paper.inches(MARK), paper.inches(DOT)
    for tape in tapes:
        yield Stroke(LineKind.CENTRE, (tape.mark, tape.end))
    for tape in tapes:
        yield Area(None, LineKind.CUT, (tape.mark,), ring)
        yield Dot(tape.mark)
    thing = spot((one.at.x, one.at.y))
    walls = tuple((spot(start), spot(end)) for start, end in room.outline.edges())
    boxes = (*(_box(tape.mark, ring) for tape in tapes), _box(thing, dot))
    field = Field(sheet, walls, tuple((tape.mark, tape.end) for tape in tapes), boxes)
    yield from numbered(tapes, thing, one.key, field, paper)


def _end(one: SpotTies, tie: ChosenTie) -> Spot:
    """Return where a tape ends: at the thing, or for one along a face at the point straight before it."""
    at = spot((one.at.x, one.at.y))
    face = one.choice.face
    if face is None or tie.length.inches not in (abs(one.at.x - tie.at[0]), abs(one.at.y - tie.at[1])):
        return at
    mark = spot(tie.at)
    return (mark[0], at[1]) if face in ("east", "west") else (at[0], mark[1])


def _box(at: Spot, half: float) -> Box:
    return at[0] - half, at[1] - half, at[0] + half, at[1] + half

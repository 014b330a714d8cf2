"""What is visible in a view in; the notes on it, each with the spot it points at, most important first, out."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import cos, hypot, pi, sin

from bookgen.draw.eye import Eye
from bookgen.draw.notes import Note
from bookgen.draw.outlines import Rect, is_upright, rect_round, uncovered
from bookgen.draw.paper import Paper
from bookgen.draw.pieces import Band, Piece
from bookgen.draw.scene import Origin, Thing
from bookgen.draw.words import listed, note_word, size
from bookgen.model.assembly import Assembly, Material
from bookgen.model.geometry import AXES, Circle, Polygon
from bookgen.model.length import Length
from bookgen.model.sketch import LineKind, Spot
from bookgen.model.solved import Solved, SolvedObstacle
from bookgen.model.tape import Tape
from bookgen.model.typeset import typeset
from bookgen.trade.tongue import Tongue

MOST = 7  # notes on a sketch
OWN = 2  # the last rank of what is the work itself
NEAR = Fraction(12)  # inches from the plane that an access point may lie and still be marked
LEFTWARD = Fraction(3, 10)  # how far into the work the piece pointed at should lie
OTHERS = 6  # pieces of a kind that a note may point at
SPOTS = 8  # spots that a note may point at
SEEN = 2  # stretches of a piece that are seen, the largest first, that a note may point at
STEPS = 9  # spots along a narrow piece
APART = 5.0  # millimetres between them
INSET = 2.0  # millimetres inside the edges of a large piece
_ROUND = tuple(2 * pi * step / 12 for step in range(12))  # where on a pipe's ring
_PLAIN = frozenset({Material.STEEL, Material.SHEET, Material.PLASTIC})  # without a hatch: words may stand on them
SMALLEST = 0.5  # millimetres on paper under which nothing is pointed at
# What needs no note: the key names its hatch, or everybody knows it.
_UNNAMED = frozenset(
    {
        "block wall",
        "slab",
        "subfloor",
        "sill plate",
        "rim joist",
        "finished floor",
        "joist",
        "top plate",
        "bottom plate",
        "batt",
    }
)

Group = tuple[int, str, str]


@dataclass(frozen=True, slots=True)
class Subject:
    """What a sketch is about: its obstacle's key, and the rectangle of the work on the sheet."""

    owner: str
    work: Rect


def notes_on(pieces: Sequence[Piece], things: Sequence[Thing], subject: Subject, paper: Paper) -> tuple[Note, ...]:
    """Return one note for each kind of thing: what is hidden, the framing, the board, then what stands round it."""
    groups: dict[Group, list[Piece]] = {}
    for piece in pieces:
        group = group_of(piece.thing, subject.owner, paper.tongue)
        if group is not None and paper.millimetres(_least(piece)) >= SMALLEST:
            groups.setdefault(group, []).append(piece)
    notes: list[Note] = []
    for group in sorted(groups):
        if len(notes) == MOST or group[2] in {note.word for note in notes}:
            continue
        order = sorted(groups[group], key=lambda one: _preference(one, subject))
        notes.append(_note(group, order, pieces, things, paper))
    return tuple(notes)


def tag_notes(solved: Solved, obstacle: SolvedObstacle, eye: Eye, band: Band) -> tuple[Note, ...]:
    """Return a note with its tag for each access point that lies near the plane, and in the window of *band*.

    An elevation shows them as deep as the work goes.
    """
    window, shift = band.window, band.shift
    deep = NEAR if obstacle.assembly is None or eye.axis != "y" else _deep(obstacle.assembly) + NEAR
    words = access_words(solved, obstacle)
    found = []
    for access in obstacle.access:
        point = eye.frame.from_level(access.at)
        u, v = eye.spot(point)
        near = -NEAR <= (point.on(eye.axis) - eye.at) * eye.deeper <= deep
        if near and window.left < u < window.right and window.bottom < v < window.top and access.tag in words:
            found.append(Note(words[access.tag], "", ((float(u), float(v + shift)),), tag=access.tag))
    return tuple(found)


def _deep(assembly: Assembly) -> Fraction:
    """Return how far a treatment reaches off its wall, in inches."""
    boxes = [part.solid.bounds() for part in assembly.parts]
    return max(box.high.y for box in boxes) - min(box.low.y for box in boxes)


def access_words(solved: Solved, obstacle: SolvedObstacle) -> dict[str, str]:
    """Return what each access point of an obstacle is, by its tag."""
    record = next(file.record for file in solved.project.obstacles if file.key == obstacle.key)
    return {point.tag: point.what for point in record.access}


def with_tags(notes: Sequence[Note], tags: Sequence[Note], pieces: Sequence[Piece]) -> tuple[Note, ...]:
    """Return the notes with their tags: a tag on a thing that has a note takes it over, with its trade words."""
    kept, found = list(notes), list[Note]()
    for tag in tags:
        what = _under(tag, pieces)
        same = next((note for note in kept if note.word == what), None)
        if same is not None:
            kept.remove(same)
        found.append(replace(tag, trade=same.trade if same else ""))
    return (*kept[: max(0, MOST + 1 - len(found))], *found)


def _under(tag: Note, pieces: Sequence[Piece]) -> str | None:
    """Return the owner's word for the smallest hidden thing that a tag's spot lies on."""
    u, v = tag.spots[0]
    on = [
        (rect.area(), piece.thing.what)
        for piece in pieces
        if piece.thing.origin is Origin.HIDDEN
        for rect in [rect_round(piece.outline)]
        if rect.left <= u <= rect.right and rect.bottom <= v <= rect.top
    ]
    return min(on)[1] if on else None


def _least(piece: Piece) -> Fraction:
    rect = piece.seen[0]
    return min(rect.right - rect.left, rect.top - rect.bottom)


def group_of(thing: Thing, owner: str, tongue: Tongue) -> Group | None:
    """Return the rank, key and word of the note that a thing belongs to; None for what needs no words."""
    mine = thing.owner == owner
    if thing.material is Material.VOID or thing.role in _UNNAMED:
        return None
    if thing.origin is Origin.HIDDEN:
        return (0 if mine else 3, f"{thing.owner} {thing.treatment}", thing.what)
    word = tongue.name(note_word(thing.treatment, thing.role))
    if mine:
        return (2 if thing.material is Material.BOARD else 1, "", word)
    if thing.material is Material.BOARD:
        return None
    return (5 if thing.origin is Origin.SHELL else 4, thing.owner if thing.origin is Origin.PART else "", word)


def _preference(piece: Piece, subject: Subject) -> tuple[bool, bool, bool, Fraction, Rect]:
    """Return what decides which of several like pieces is pointed at: beside the work, cut, whole, near its left."""
    rect = rect_round(piece.outline)
    middle, work = (rect.left + rect.right) / 2, subject.work
    out = piece.band.top < work.bottom
    return (
        out,
        piece.line is not LineKind.CUT,
        not piece.whole,
        abs(middle - work.left - (work.right - work.left) * LEFTWARD),
        rect,
    )


def _note(
    group: Group, pieces: Sequence[Piece], painted: Sequence[Piece], things: Sequence[Thing], paper: Paper
) -> Note:
    """Return the note on like pieces; it may point at any of those that show as well as the best one does."""
    thing = pieces[0].thing
    alike = [piece for piece in pieces if piece.line is pieces[0].line and _beside(piece, pieces[0])][:OTHERS]
    spots = [spot for piece in alike for spot in _spots(piece, paper)]
    rooms = _rooms(pieces[0], painted) if thing.origin is Origin.HIDDEN else ()
    note = note_of(group, [piece.thing for piece in pieces], things, thinned(spots), paper)
    return replace(note, rooms=rooms)


def note_of(
    group: Group, like: Sequence[Thing], things: Sequence[Thing], spots: tuple[Spot, ...], paper: Paper
) -> Note:
    """Return the note on like things, with their trade size or stock; *things* tell how they are spaced."""
    thing = like[0]
    if thing.origin is Origin.HIDDEN:
        return Note(thing.what, typeset(thing.trade), spots, optional=group[0] > OWN)
    roles = sorted({(one.role, one.stock) for one in like})
    trade = _trade(group[2], thing, roles, things, paper)
    in_key = thing.material is Material.BOARD  # the key names its hatch
    return Note(group[2], trade, spots, optional=in_key or group[0] > OWN, in_key=in_key)


def thinned(spots: Sequence[Spot]) -> tuple[Spot, ...]:
    """Return at most so many of the spots, evenly taken."""
    step = max(1.0, len(spots) / SPOTS)
    return tuple(spots[int(number * step)] for number in range(int(len(spots) / step)))


def _beside(piece: Piece, best: Piece) -> bool:
    """Tell whether a piece lies in the same window as the best one to point at."""
    return piece.band == best.band


def _rooms(piece: Piece, painted: Sequence[Piece]) -> tuple[Rect, ...]:
    """Return the largest stretch of an upright hidden thing that no piece painted later lies on."""
    if piece.line is not LineKind.CUT or piece.thing.material not in _PLAIN or not is_upright(piece.outline):
        return ()
    later = itertools.dropwhile(lambda one: one is not piece, painted)
    return uncovered(rect_round(piece.outline), (rect_round(one.outline) for one in later if one is not piece))[:1]


def _spots(piece: Piece, paper: Paper) -> tuple[Spot, ...]:
    """Return where a leader may end: a pipe on its ring, a sloped stick along its middle, else inside what is seen."""
    if isinstance(piece.outline, Circle):
        (u, v), radius = piece.outline.centre, float(piece.outline.radius)
        ring = radius - float(piece.outline.wall) / 2
        return tuple((float(u) + ring * cos(angle), float(v) + ring * sin(angle)) for angle in _ROUND)
    if not is_upright(piece.outline):
        return _along_middle(piece.outline)
    return tuple(spot for rect in piece.seen[:SEEN] for spot in _in_rect(rect, paper))


def _in_rect(rect: Rect, paper: Paper) -> tuple[Spot, ...]:
    """Return spots in a rectangle: along the middle of a narrow one, a little inside the edges of a large one."""
    left, low, right, high = map(float, (rect.left, rect.bottom, rect.right, rect.top))
    wide, tall, inset = right - left, high - low, paper.inches(INSET)
    if min(wide, tall) > 3 * inset:
        across, up = (left + inset, (left + right) / 2, right - inset), (low + inset, (low + high) / 2, high - inset)
        return tuple((u, v) for u in across for v in up if (u, v) != (across[1], up[1]))
    flat = wide > tall
    start, end = (left, right) if flat else (low, high)
    middle = (low + high) / 2 if flat else (left + right) / 2
    count = max(1, min(STEPS, int(paper.millimetres(end - start) / APART)))
    along = [start + (end - start) * (step + 0.5) / count for step in range(count)]
    return tuple((one, middle) if flat else (middle, one) for one in along)


def _along_middle(outline: Polygon) -> tuple[Spot, ...]:
    """Return spots along the line that halves a sloped piece, from its middle outward."""
    corners = [(float(u), float(v)) for u, v in outline.corners]
    if len(corners) != 4:
        return ((sum(u for u, _ in corners) / len(corners), sum(v for _, v in corners) / len(corners)),)
    a, b, c, d = corners
    if hypot(b[0] - a[0], b[1] - a[1]) > hypot(c[0] - b[0], c[1] - b[1]):
        a, b, c, d = b, c, d, a
    start, end = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), ((c[0] + d[0]) / 2, (c[1] + d[1]) / 2)
    shares = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
    return tuple((start[0] + s * (end[0] - start[0]), start[1] + s * (end[1] - start[1])) for s in shares)


def _trade(word: str, thing: Thing, roles: Iterable[tuple[str, str]], things: Sequence[Thing], paper: Paper) -> str:
    """Return the trade's words under a note: the stock, and the spacing of what repeats."""
    names = list(
        dict.fromkeys(typeset(paper.tongue.name(Tape(paper.units).stock(stock))) for _, stock in roles if stock)
    )
    text = listed(names, paper.tongue.say)
    for role, _ in roles:
        gap = _spacing([one for one in things if one.role == role and one.owner == thing.owner])
        if gap is not None and thing.material is not Material.BOARD and role != "fireblock":  # cut to what is left
            say, length = paper.tongue.say, size(Length(gap), units=paper.units)
            if len({r for r, _ in roles}) == 1:
                every = say("every {length}", length=length)
            else:
                every = say("{roles} every {length}", roles=paper.tongue.name(f"{role}s"), length=length)
            return ", ".join(filter(None, (text, every)))
    return "" if text.casefold() == word.casefold() else text


def _spacing(like: Sequence[Thing]) -> Fraction | None:
    """Return the usual distance between the middles of like things, level; None where they do not repeat."""
    best: Sequence[Fraction] = ()
    for axis in AXES[:2]:
        middles = sorted({(one.bounds.low.on(axis) + one.bounds.high.on(axis)) / 2 for one in like})
        if len(middles) > len(best):
            best = middles
    gaps = Counter(b - a for a, b in itertools.pairwise(best))
    if not gaps:
        return None
    gap, count = min(gaps.items(), key=lambda item: (-item[1], item[0]))
    return gap if count >= 3 and count * 2 >= sum(gaps.values()) else None

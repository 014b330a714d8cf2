"""What is visible in a view in; the notes on it, each with the spot it points at, most important first, out."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import hypot

from bookgen.draw.eye import Eye
from bookgen.draw.notes import Note
from bookgen.draw.outlines import Rect, is_upright, rect_round
from bookgen.draw.paper import Paper
from bookgen.draw.pieces import Piece
from bookgen.draw.scene import Origin, Thing
from bookgen.draw.words import note_word, size, trade_words
from bookgen.model.assembly import Material
from bookgen.model.geometry import AXES, Circle, Polygon
from bookgen.model.length import Length
from bookgen.model.sketch import LineKind, Spot
from bookgen.model.solved import Solved, SolvedObstacle

MOST = 7  # notes on a sketch
OWN = 2  # the last rank of what is the work itself
NEAR = Fraction(12)  # inches from the plane that an access point may lie and still be marked
LEFTWARD = Fraction(3, 10)  # how far into the work the piece pointed at should lie: leaders come from the right
OTHERS = 4  # pieces of a kind that a note may point at
STEPS = 8  # places tried across a wide piece
_RING = ((0.5, 0.866), (-0.5, 0.866), (0.866, 0.5), (-0.866, 0.5))  # spots on a circle of radius 1
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
        group = _group(piece, subject)
        if group is not None and paper.millimetres(_least(piece)) >= SMALLEST:
            groups.setdefault(group, []).append(piece)
    notes: list[Note] = []
    for group in sorted(groups):
        if len(notes) == MOST or group[2] in {note.word for note in notes}:
            continue
        order = sorted(groups[group], key=lambda one: _preference(one, subject))
        notes.append(_note(group, order, things, paper))
    return tuple(notes)


def tag_notes(solved: Solved, obstacle: SolvedObstacle, eye: Eye, window: Rect, shift: Fraction) -> tuple[Note, ...]:
    """Return a note with its tag for each access point that lies near the plane and inside *window*."""
    record = next(file.record for file in solved.project.obstacles if file.key == obstacle.key)
    words = {point.tag: point.what for point in record.access}
    found = []
    for access in obstacle.access:
        point = eye.frame.from_level(access.at)
        u, v = eye.spot(point)
        off = abs(point.on(eye.axis) - eye.at)
        if off <= NEAR and window.left < u < window.right and window.bottom < v < window.top and access.tag in words:
            found.append(Note(words[access.tag], "", ((float(u), float(v + shift)),), tag=access.tag))
    return tuple(found)


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


def _group(piece: Piece, subject: Subject) -> Group | None:
    """Return the rank, key and word of the note that a piece belongs to; None for what needs no words."""
    thing, mine = piece.thing, piece.thing.owner == subject.owner
    if thing.material is Material.VOID or thing.role in _UNNAMED:
        return None
    if thing.origin is Origin.HIDDEN:
        return (0 if mine else 3, f"{thing.owner} {thing.treatment}", thing.what)
    word = note_word(thing.treatment, thing.role)
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


def _note(group: Group, pieces: Sequence[Piece], things: Sequence[Thing], paper: Paper) -> Note:
    """Return the note on like pieces, the best to point at first; the next ones serve where it can't be reached."""
    thing = pieces[0].thing
    others = (_spots(piece, paper)[0] for piece in pieces[1:OTHERS] if piece.line is pieces[0].line)
    spots = (*_spots(pieces[0], paper), *others)
    if thing.origin is Origin.HIDDEN:
        return Note(thing.what, trade_words(thing.trade), spots, optional=group[0] > OWN)
    roles = sorted({(one.thing.role, one.thing.stock) for one in pieces})
    trade = _trade(group[2], thing, roles, things, metric=paper.metric)
    return Note(group[2], trade, spots, optional=group[0] > OWN)


def _spots(piece: Piece, paper: Paper) -> tuple[Spot, ...]:
    """Return where a leader may end, best first: a pipe on its ring, a sloped stick along its middle, else inside."""
    if isinstance(piece.outline, Circle):
        (u, v), radius = piece.outline.centre, float(piece.outline.radius)
        ring = radius - float(piece.outline.wall) / 2
        return tuple((float(u) + ring * across, float(v) + ring * up) for across, up in _RING)
    if not is_upright(piece.outline):
        return _along_middle(piece.outline)
    rect = piece.seen[0]
    wide, high = float(rect.right - rect.left), float(rect.top - rect.bottom)
    up = max(float(rect.bottom) + high / 2, float(rect.top) - paper.inches(4))
    edge = min(wide / 2, paper.inches(0.6))
    first = max(min(wide / 2, paper.inches(8)), wide * float(LEFTWARD))
    steps = (edge + (wide - 2 * edge) * step / STEPS for step in range(STEPS + 1))
    return tuple((float(rect.left) + across, up) for across in (first, *sorted(steps, key=lambda s: abs(s - first))))


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


def _trade(word: str, thing: Thing, roles: Iterable[tuple[str, str]], things: Sequence[Thing], *, metric: bool) -> str:
    """Return the trade's words under a note: the stock, and the spacing of what repeats."""
    names = list(dict.fromkeys(trade_words(stock) for _, stock in roles if stock))
    text = names[0] if names else ""
    for role, _ in roles:
        gap = _spacing([one for one in things if one.role == role and one.owner == thing.owner])
        if gap is not None and thing.material is not Material.BOARD:
            every = f"every {size(Length(gap), metric=metric)}"
            return ", ".join(filter(None, (text, every if len({r for r, _ in roles}) == 1 else f"{role}s {every}")))
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

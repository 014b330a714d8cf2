"""A finished face with what is behind it in; the sheet of `before you hang or drill` as a Sketch out.

The face is drawn as somebody sees it who stands before it: the wood behind the board, what is hidden, and slanted
strokes where nothing may be driven in. What is planned or assumed is dashed and has a question mark for a depth. A
cover in it carries the hang tag of what is reached through it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from bookgen.draw.face_covers import covers_of
from bookgen.draw.face_marks import Pill, pills, ruler, strokes
from bookgen.draw.key import drawn_key, key_entries
from bookgen.draw.outlines import Rect, clip, uncovered
from bookgen.draw.paper import SHEET_WIDE, Paper, largest_scale
from bookgen.draw.shapes import spot
from bookgen.draw.words import listed, looking, lower_first, size, spoken
from bookgen.model.assembly import Material
from bookgen.model.behind import Behind, FaceBehind, Looking, Piece, is_sure, letter, told_depth
from bookgen.model.geometry import Circle, Corner, Outline, Polygon
from bookgen.model.sketch import TAG_LONG, Area, LineKind, Shape, Sketch, Spot, Stroke, TagMark, View
from bookgen.model.solved import Solved
from bookgen.model.tape import Units
from bookgen.trade.tongue import tongue

# Millimetres on paper.
EDGE = 3.0
SIDE = 13.0  # beside the face, for the heights
HIGH = 71.0
TO_KEY = 5.0
KEY_WIDE = 54.0  # at least, so that the key of a narrow face has room
# What do lines mean on the sheet of a face, that mean something else on others?
KEY: dict[LineKind | None, str] = {LineKind.HIDDEN: "planned or assumed", LineKind.CENTRE: "middle of a joist"}
MIRRORED: frozenset[Looking] = frozenset({"south", "east"})  # there west and south lie to the right


def face_sketches(solved: Solved) -> tuple[Sketch | None, ...]:
    """Return a sketch for each face of *solved*, in their order; None where nothing is known to be behind one."""
    return tuple(_sketch(face, number, solved) if tells(face) else None for number, face in enumerate(solved.faces, 1))


def tells(face: FaceBehind) -> bool:
    """Tell whether there is something to show of a face: a hidden thing, or framing that somebody confirmed."""
    return bool(face.things) or bool(face.framing and face.sure)


@dataclass(frozen=True, slots=True)
class _View:
    """How the places of a face come onto its sheet: u counts from the end that distances are taped from."""

    face: FaceBehind
    start: Fraction
    floor: Fraction
    paper: Paper

    def rect(self, along: tuple[Fraction, Fraction], up: tuple[Fraction, Fraction]) -> Rect:
        """Return a rectangle of the face on its sheet."""
        ends = sorted(self.u(end) for end in along)
        return Rect(ends[0], up[0] - self.floor, ends[1], up[1] - self.floor)

    def u(self, along: Fraction) -> Fraction:
        """Return how far right of the first end something lies; left, where the face is seen from its back."""
        return self.start - along if self.face.looking in MIRRORED else along - self.start

    def piece(self, piece: Piece) -> Rect:
        """Return the rectangle of a piece on the sheet."""
        return self.rect(piece.along, piece.up)

    def outline(self, piece: Piece) -> Outline:
        """Return the outline of a piece on the sheet, as far as the face goes."""
        seen: Outline
        if isinstance(piece.outline, Circle):
            seen = Circle(self._corner(piece.outline.centre), piece.outline.radius)
        else:
            seen = Polygon(tuple(self._corner(corner) for corner in piece.outline.corners))
        cut = clip(seen, self.rect(self.face.along, self.face.up))
        return cut or Polygon(self.piece(piece).corners())

    def corners(self) -> tuple[Spot, ...]:
        """Return the outline of the face on its sheet."""
        return tuple(spot(self._corner(corner)) for corner in self.face.outline.corners)

    def _corner(self, corner: Corner) -> Corner:
        return self.u(corner[0]), corner[1] - self.floor


def _sketch(face: FaceBehind, number: int, solved: Solved) -> Sketch:
    units = solved.project.record.units
    wide, high = face.along[1] - face.along[0], face.up[1] - face.up[0]
    paper = largest_scale(
        units,
        lambda p: (
            p.millimetres(wide) <= SHEET_WIDE - 2 * EDGE - SIDE and p.millimetres(high) <= HIGH
        ),
        tongue(solved.project.record.language),
    )  # fmt: skip
    start, bottom = taped_from(face, solved)
    view = _View(face, start, bottom, paper)
    whole = view.rect(face.along, face.up)
    drawing = (*_surface(view), *_framing(view), *_joists(view, solved), *_things(view), *_no_screws(view))
    covers = [(view.rect(cover.along, cover.up), cover.tag) for cover in covers_of(face, solved)]
    tags = tuple(_tag(rect, tag, paper) for rect, tag in covers)
    drawing = (*drawing, *(Stroke(LineKind.BEYOND, _round(rect)) for rect, _ in covers))
    marks, reach = pills(tuple(_pills(view, units=units)), whole, paper, tags)
    rulers, low, left = _rulers(view, whole, reach.bottom)
    entries = tuple(
        replace(one, words=paper.tongue.name(KEY[one.line]) if one.line in KEY else one.words)
        for one in key_entries(drawing, paper.tongue)
    )
    right = max(float(reach.right), float(whole.left) + paper.inches(KEY_WIDE))
    top = low - paper.inches(TO_KEY)
    key, low = drawn_key(entries, paper, left, right, top)
    edge = paper.inches(EDGE)
    words = _words(face, solved, paper)
    return Sketch(
        key=f"face-{number}",
        view=View.ELEVATION,
        title=words[0],
        desc=words[1],
        caption=words[2],
        scale=Fraction(paper.scale),
        low=(left - edge, low - edge),
        high=(right + edge, float(reach.top) + edge),
        shapes=(*drawing, *rulers, *marks, *tags, *key),
        entries=entries,
    )


def taped_from(face: FaceBehind, solved: Solved) -> tuple[Fraction, Fraction]:
    """Return where a tape starts, along and up: the end of the face that can be seen, and the finished floor.

    For a ceiling both are ends that can be seen.
    """
    room = next(room for room in solved.rooms if room.key == face.room)
    (west, south), _ = room.outline.bounds()
    along = max(face.along[0], west if face.along_way == "east" else south)
    return along, max(face.up[0], south) if face.overhead else solved.level.floor


def _surface(view: _View) -> Iterator[Shape]:
    corners = view.corners()
    yield Area(None, LineKind.BEYOND, corners, outlined=False)
    yield Stroke(LineKind.CUT, (*corners, corners[0]))


def _framing(view: _View) -> Iterator[Shape]:
    for one in view.face.framing:
        yield _drawn(view.outline(one.piece), Material.LUMBER if view.face.sure else None)


def _joists(view: _View, solved: Solved) -> Iterator[Shape]:
    """Yield the middle of each joist over a ceiling, by the layout of the level's record."""
    if not view.face.overhead:
        return
    for part in solved.level.shell:
        if part.role == "joist":
            low, high = part.solid.bounds().low, part.solid.bounds().high
            north = high.y - low.y > high.x - low.x
            middle, ends = ((low.x + high.x) / 2, view.face.along) if north else ((low.y + high.y) / 2, view.face.up)
            if ends[0] < middle < ends[1]:
                pair = (middle, middle)
                rect = view.rect(pair, view.face.up) if north else view.rect(view.face.along, pair)
                yield Stroke(LineKind.CENTRE, (_corners(rect)[0], _corners(rect)[2]))


def _things(view: _View) -> Iterator[Shape]:
    """Yield the hidden things, the deepest first."""
    pieces = [(piece, thing) for thing in view.face.things for piece in thing.pieces]
    for piece, thing in sorted(pieces, key=lambda pair: (-pair[0].depth, pair[0].along, pair[0].up)):
        yield _drawn(view.outline(piece), thing.material if _trusted(view.face, thing) else None)


def _trusted(face: FaceBehind, thing: Behind) -> bool:
    return face.sure and is_sure(thing.known)


def _no_screws(view: _View) -> Iterator[Shape]:
    """Yield slanted strokes over the parts of the face where nothing may be driven in, each part of it once."""
    done, outline = list[Rect](), view.corners()
    for zone in view.face.barred:
        rect = view.rect(zone.along, zone.up)
        for part in uncovered(rect, done):
            yield from strokes(part, outline, view.paper)
        done.append(rect)


def _pills(view: _View, *, units: Units) -> Iterator[Pill]:
    for number, thing in enumerate(view.face.things):
        told = (
            size(told_depth(thing.depth, metric=units == "metric"), units=units) if _trusted(view.face, thing) else "?"
        )
        yield Pill(letter(number), told, tuple(view.piece(piece) for piece in thing.pieces))


def _rulers(view: _View, whole: Rect, bottom: Fraction) -> tuple[tuple[Shape, ...], float, float]:
    """Return the distances below the face and beside it, and how far down and left they reach."""
    uprights = [view.u(one.middle) for one in view.face.framing if one.upright]
    rows = [one.middle - view.floor for one in view.face.framing if not one.upright]
    ends = [view.u(end) for thing in view.face.things for end in thing.along]
    levels = [end - view.floor for thing in view.face.things for end in thing.up]
    flat, low = ruler([Fraction(0), *uprights, *ends], "u", (whole, bottom), view.paper)
    standing, left = ruler([Fraction(0), *rows, *levels], "v", (whole, whole.left), view.paper)
    return (*flat, *standing), low, left


def _words(face: FaceBehind, solved: Solved, paper: Paper) -> tuple[str, str, str]:
    """Return title, a sentence for those who can't see it, and caption."""
    say = paper.tongue.say
    owner = next((f.record.obstacle for f in solved.project.obstacles if f.key == face.obstacle), "")
    room = next(room.name for room in solved.rooms if room.key == face.room)
    way = say("seen from below, north up") if face.overhead else looking(face.looking, paper.tongue)
    title = f"{room}: {f'{lower_first(owner)}, ' if owner else ''}{lower_first(paper.tongue.name(face.name))}, {way}"
    things = [_deep(one, face, paper) for one in face.things]
    behind = listed(things, say) if things else say("wood only")
    screw = say("No safe screw.")
    if face.screw:
        screw = say("No screw longer than {length}.", length=spoken(face.screw, paper))
    end = say("south" if face.along_way == "north" else "west")
    if face.overhead:
        taped = say("Distances from the {end} and the south end", end=end)
    else:
        taped = say("Distances from the {end} end and the floor", end=end)
    depth = say("beside a letter stands how deep behind the surface it is")
    caption = f"{way[:1].upper()}{way[1:]}. {taped}; {depth}. {paper.words()}."
    return title, f"{say('Behind this face: {things}.', things=behind)} {screw}", caption


def _deep(thing: Behind, face: FaceBehind, paper: Paper) -> str:
    """Return what a thing is and how deep it lies, where that is sure."""
    what = lower_first(thing.what)
    if not _trusted(face, thing):
        return paper.tongue.say("{what}, at no known depth", what=what)
    depth = told_depth(thing.depth, metric=paper.units == "metric")
    return paper.tongue.say("{what}, {depth} deep", what=what, depth=spoken(depth, paper))


def _tag(rect: Rect, tag: str, paper: Paper) -> TagMark:
    """Return the hang tag of a cover, in its middle."""
    middle = float(rect.left + rect.right) / 2, float(rect.bottom + rect.top) / 2
    return TagMark(tag, (middle[0] - paper.inches(TAG_LONG / 2), middle[1]))


def _round(rect: Rect) -> tuple[Spot, ...]:
    corners = _corners(rect)
    return (*corners, corners[0])


def _corners(rect: Rect) -> tuple[Spot, ...]:
    return tuple(spot(corner) for corner in rect.corners())


def _drawn(outline: Outline, material: Material | None) -> Shape:
    """Return an outline filled with a material, or dashed where nobody has confirmed that it is there."""
    line = LineKind.BEYOND if material else LineKind.HIDDEN
    if isinstance(outline, Circle):
        return Area(material, line, (spot(outline.centre),), float(outline.radius))
    corners = tuple(spot(corner) for corner in outline.corners)
    return Area(material, line, corners) if material else Stroke(line, (*corners, corners[0]))

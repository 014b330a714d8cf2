"""Board plans in, drawings of every sheet to cut and of every face that takes more than one board out, to scale."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from bookgen.draw.cutting import EDGE, box, fitted, slug
from bookgen.draw.paper import ENGLISH, SHEET_WIDE, TEXT, Paper
from bookgen.model.assembly import Material
from bookgen.model.buying import Sheets
from bookgen.model.sheets import BoughtSheet, FaceLayout, Patch, named
from bookgen.model.sketch import Anchoring, Area, Label, LineKind, Shape, Sketch, Spot, Stroke, View
from bookgen.model.tape import Tape
from bookgen.model.widths import text_width
from bookgen.trade.tongue import Tongue

SCALE = {False: 64, True: 50}  # by metric: two sheets of 12 ft stand side by side
HIGHEST = 190.0  # millimetres of drawing on one sheet
GAP = 4.0  # millimetres between two drawings
OVER = 5.4  # millimetres for the words over a drawing
TICK = 1.0  # millimetres that the tick of a member stands out


@dataclass(frozen=True, slots=True)
class _Item:
    """One drawing of a sheet or face: its words, its size in inches, and its shapes from its lower left corner."""

    words: tuple[str, ...]
    wide: float
    high: float
    shapes: Callable[[float, float, Paper], Iterable[Shape]]


def sheet_sketches(sheets: Sheets, tape: Tape, tongue: Tongue = ENGLISH) -> tuple[Sketch, ...]:
    """Return the drawings of the ways to cut a sheet, numbered as in the plan."""
    title = tongue.say("{stock}: how to cut the sheets", stock=tongue.name(tape.stock(sheets.stock)))
    items = [_sheet(number, row, tape) for number, row in enumerate(sheets.plan.sheets, 1)]
    return _pages(items, f"sheets-{slug(sheets.stock)}", title, tape, tongue)


def layout_sketches(sheets: Sheets, tape: Tape, tongue: Tongue = ENGLISH) -> tuple[Sketch, ...]:
    """Return the drawings of the faces that take more than one board."""
    title = tongue.say("{stock}: how the faces are laid", stock=tongue.name(tape.stock(sheets.stock)))
    items = [_face(layout, tape, tongue) for layout in sheets.plan.layouts if len(layout.pieces) > 1]
    return _pages(items, f"faces-{slug(sheets.stock)}", title, tape, tongue)


def _sheet(number: int, row: BoughtSheet, tape: Tape) -> _Item:
    long, wide = float(row.size.long.inches), float(row.size.wide.inches)

    def shapes(left: float, foot: float, paper: Paper) -> Iterable[Shape]:
        yield Area(None, LineKind.HIDDEN, box(left, foot, left + long, foot + wide))
        for name, cut in named(row.cuts):
            yield from _patch(cut.patch, (left, foot), paper, tape, name)
        yield Stroke(LineKind.WALL, (*box(left, foot, left + long, foot + wide), (left, foot)))

    words = f"{number}.\u2002{row.count} × {tape.plain(row.size.wide)} × {tape.plain(row.size.long)}"
    return _Item((words,), long, wide, shapes)


def _face(layout: FaceLayout, tape: Tape, tongue: Tongue) -> _Item:
    wide, high = float(layout.face.wide.inches), float(layout.face.high.inches)

    def shapes(left: float, foot: float, paper: Paper) -> Iterable[Shape]:
        for patch in layout.pieces:
            yield from _patch(patch, (left, foot), paper, tape)
        for member in layout.face.members:  # ticks outside, so that no line runs through the figures
            at, tick = left + float(member.inches), paper.inches(TICK)
            yield Stroke(LineKind.BEYOND, ((at, foot - tick), (at, foot)))
            yield Stroke(LineKind.BEYOND, ((at, foot + high), (at, foot + high + tick)))
        yield Stroke(LineKind.WALL, (*box(left, foot, left + wide, foot + high), (left, foot)))

    return _Item((tongue.part(layout.face.name),), wide, high, shapes)


def _patch(patch: Patch, corner: Spot, paper: Paper, tape: Tape, name: str = "") -> Iterable[Shape]:
    """Yield one board with its size, or its letter alone where the size has no room: the table has both."""
    left, foot = corner
    x1, x2 = left + float(patch.left.inches), left + float(patch.right.inches)
    y1, y2 = foot + float(patch.foot.inches), foot + float(patch.top.inches)
    yield Area(Material.BOARD, LineKind.BEYOND, box(x1, y1, x2, y2))
    if y2 - y1 >= paper.inches(TEXT + 1.0):
        middle = ((x1 + x2) / 2, (y1 + y2) / 2 - paper.inches(TEXT / 3))
        size = f"{tape.plain(patch.wide())} × {tape.plain(patch.high())}"
        for words in (f"{name}\u2002{size}" if name else size, name):
            found = tuple(fitted(words, middle, x2 - x1, paper)) if words else ()
            yield from found
            if found:
                break


def _pages(items: Sequence[_Item], key: str, title: str, tape: Tape, tongue: Tongue) -> tuple[Sketch, ...]:
    """Return the items side by side in rows, as many rows to a sketch as stand on a page."""
    scale = SCALE[tape.metric]
    paper = Paper(scale, tape.units, tongue)
    rows = _rows(items, paper)
    pages: list[list[list[_Item]]] = []
    high = 0.0
    for row in rows:
        needed = _high(row, paper)
        if not pages or high + needed > HIGHEST:
            pages.append([])
            high = 0.0
        pages[-1].append(row)
        high += needed
    return tuple(_sketch(page, f"{key}-{number}", title, paper) for number, page in enumerate(pages, 1))


def _rows(items: Iterable[_Item], paper: Paper) -> list[list[_Item]]:
    rows: list[list[_Item]] = []
    used = 0.0
    for item in items:
        wide = _wide(item, paper)
        if not rows or used + wide > SHEET_WIDE:
            rows.append([])
            used = 0.0
        rows[-1].append(item)
        used += wide + GAP
    return rows


def _wide(item: _Item, paper: Paper) -> float:
    """Return how wide an item is on paper with its words, in millimetres."""
    return max(paper.millimetres(item.wide), *(text_width(words, TEXT, strong=True) for words in item.words))


def _high(row: Iterable[_Item], paper: Paper) -> float:
    return max(paper.millimetres(item.high) + OVER for item in row) + GAP


def _sketch(rows: Sequence[Sequence[_Item]], key: str, title: str, paper: Paper) -> Sketch:
    shapes: list[Shape] = []
    top, right = 0.0, 0.0
    for row in rows:
        left = 0.0
        for item in row:
            foot = top - paper.inches(OVER) - item.high
            shapes += item.shapes(left, foot, paper)
            words = Label(item.words[0], (left, top - paper.inches(OVER - 1.6)), TEXT, Anchoring.START, strong=True)
            shapes.append(words)
            left += paper.inches(_wide(item, paper) + GAP)
        right = max(right, left - paper.inches(GAP))
        top -= paper.inches(_high(row, paper))
    edge = paper.inches(EDGE)
    names = [words for row in rows for item in row for words in item.words]
    return Sketch(
        key=key,
        view=View.CUTTING,
        title=title,
        desc=paper.tongue.say("Drawn to scale: {names}.", names="; ".join(names)),
        caption=paper.tongue.say(
            "{scale}. Sizes stand in the boards that have room for them, all of them in the table below.",
            scale=paper.words(),
        ),
        scale=Fraction(paper.scale),
        low=(-edge, top + paper.inches(GAP) - edge),
        high=(right + edge, edge),
        shapes=tuple(shapes),
        entries=(),
    )

"""Cutting plans in, drawings of every stick to cut out: one bar for each way to cut it, the pieces in their order.

Lengths are to scale, heights are not: a bar is as high as its figures ask for.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from bookgen.draw.paper import ENGLISH, SHEET_WIDE, TEXT, Paper, largest_scale
from bookgen.model.assembly import Material
from bookgen.model.buying import Sticks
from bookgen.model.cutting import BoughtStick
from bookgen.model.sketch import Anchoring, Area, Label, LineKind, Shape, Sketch, Spot, Stroke, View
from bookgen.model.tape import Tape
from bookgen.trade.tongue import Tongue

BAR = 6.2  # millimetres on paper
ABOVE = 5.6  # from the foot of the words over a bar to the words over the next: their line and the room round it
ROW = BAR + ABOVE + 2.6
ROWS = 12  # ways to cut on one sheet, so that it stands on a page
EDGE = 0.6  # round everything, so that no line is cut off
INSIDE = 1.2  # at least so much stays free at both sides of the figures in a piece


def stick_sketches(sticks: Sticks, tape: Tape, tongue: Tongue = ENGLISH) -> tuple[Sketch, ...]:
    """Return the drawings of one stock: its ways to cut, numbered as in the plan, some to a sheet."""
    rows = list(enumerate(sticks.plan.sticks, 1))
    if not rows:
        return ()
    longest = max(row.stick.length.inches for _, row in rows)
    paper = largest_scale(tape.units, lambda one: one.millimetres(longest) + 2 * EDGE <= SHEET_WIDE, tongue)
    parts = [rows[start : start + ROWS] for start in range(0, len(rows), ROWS)]
    return tuple(_sketch(sticks, number, part, len(parts), paper, tape) for number, part in enumerate(parts, 1))


def _sketch(
    sticks: Sticks, number: int, rows: Sequence[tuple[int, BoughtStick]], parts: int, paper: Paper, tape: Tape
) -> Sketch:
    shapes: list[Shape] = []
    for place, (way, row) in enumerate(rows):
        shapes += _row(way, row, -paper.inches(ROW) * (place + 1), paper, tape)
    edge = paper.inches(EDGE)
    wide = max(
        max(float(row.stick.length.inches) for _, row in rows),
        max(paper.width(_over(way, row, tape), strong=True) for way, row in rows),
    )
    say = paper.tongue.say
    stock = paper.tongue.name(tape.stock(sticks.stock))
    count = sum(row.count for _, row in rows)
    title = (
        say("{stock}: how to cut {count} stick", stock=stock, count=count)
        if count == 1
        else say("{stock}: how to cut {count} sticks", stock=stock, count=count)
    )
    lengths = say("Lengths {scale}. The numbers are those of the table below.", scale=paper.words())
    if parts > 1:
        title = say("{title}, part {number} of {parts}", title=title, number=number, parts=parts)
        stock = say("{title}, part {number} of {parts}", title=stock, number=number, parts=parts)
    return Sketch(
        key=f"sticks-{slug(sticks.stock)}-{number}",
        view=View.CUTTING,
        title=title,
        desc=" ".join(f"{_over(way, row, tape)}: {_spoken(row, tape, paper.tongue)}." for way, row in rows),
        caption=f"{stock}. {lengths}",
        scale=Fraction(paper.scale),
        low=(-edge, -paper.inches(ROW) * len(rows) - edge),
        high=(wide + edge, paper.inches(TEXT - ABOVE) + edge),
        shapes=tuple(shapes),
        entries=(),
    )


def _row(way: int, row: BoughtStick, foot: float, paper: Paper, tape: Tape) -> Iterable[Shape]:
    """Yield one bar with its foot at *foot*: the words over it, the pieces, what is left."""
    top = foot + paper.inches(BAR)
    yield Label(_over(way, row, tape), (0.0, top + paper.inches(1.6)), TEXT, Anchoring.START, strong=True)
    at = float(row.trimmed.inches) / 2
    saw = float(row.sawn.inches) / max(len(row.cuts), 1)
    for cut in row.cuts:
        length = float(cut.length.inches)
        yield Area(Material.LUMBER, LineKind.BEYOND, box(at, foot, at + length, top))
        yield from fitted(tape.plain(cut.length), (at + length / 2, foot + paper.inches(2.0)), length, paper)
        at += length + saw
    end = float(row.stick.length.inches)
    if row.left.inches:
        yield Area(None, LineKind.HIDDEN, box(end - float(row.left.inches), foot, end, top))
        yield from fitted(
            paper.tongue.say("left {length}", length=tape.plain(row.left)),
            (end - float(row.left.inches) / 2, foot + paper.inches(2.0)),
            float(row.left.inches),
            paper,
        )
    yield Stroke(LineKind.WALL, (*box(0.0, foot, end, top), (0.0, foot)))


def _over(way: int, row: BoughtStick, tape: Tape) -> str:
    return f"{way}.\u2002{row.count} × {tape.plain(row.stick.length)}"


def _spoken(row: BoughtStick, tape: Tape, tongue: Tongue) -> str:
    pieces = ", ".join(tape.plain(cut.length) for cut in row.cuts)
    if not row.left.inches:
        return pieces
    return tongue.say("{pieces}; {length} left", pieces=pieces, length=tape.plain(row.left))


def fitted(words: str, at: Spot, room: float, paper: Paper) -> Iterable[Label]:
    """Yield a label where it fits into *room* inches of the model; nothing where it would run over the edge."""
    if paper.width(words) + paper.inches(2 * INSIDE) <= room:
        yield Label(words, at, TEXT, Anchoring.MIDDLE)


def box(left: float, foot: float, right: float, top: float) -> tuple[Spot, Spot, Spot, Spot]:
    """Return the corners of a rectangle."""
    return (left, foot), (right, foot), (right, top), (left, top)


def slug(stock: str) -> str:
    """Return the name of a stock as part of a file's name."""
    return "".join(sign if sign.isalnum() else "-" for sign in stock)

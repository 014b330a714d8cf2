"""Cuts of a treatment and a view of it in; the marks that show where other sketches are cut, with letters, out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from bookgen.draw.eye import Eye, section_eye
from bookgen.draw.outlines import Rect
from bookgen.draw.paper import TEXT, Paper
from bookgen.draw.stations import Cut
from bookgen.model.assembly import Assembly
from bookgen.model.geometry import Point
from bookgen.model.sketch import Anchoring, Area, Label, LineKind, Shape, Spot, Stroke
from bookgen.model.widths import CAP_HEIGHT, text_width

# Millimetres on paper.
OFF = 1.5  # from the drawing to the wide end of a cutting plane
END = 4.0  # length of that end
ARROW = (3.2, 1.1)  # length and half width of the arrow that shows which way one looks
TO_LETTER = 1.2
PAST = 1.0  # that a plane runs past the work
ROW = 4.6  # from the marks of one row to those of the next, where letters would touch


@dataclass(frozen=True, slots=True)
class CutMark:
    """A cutting plane seen edge on: it runs *along* u or v at a value of the other; one looks *way* across it.

    *row* counts outward, so that the letters of near ones stand apart.
    """

    letter: str
    along: Literal["u", "v"]
    at: float
    way: Literal[1, -1]
    row: int = 0


def cut_marks(cuts: Iterable[Cut], assembly: Assembly, eye: Eye, window: Rect, paper: Paper) -> tuple[CutMark, ...]:
    """Return the marks of the cuts whose planes the view sees edge on, inside *window*."""
    found = [mark for cut in cuts if (mark := _mark(cut, assembly, eye)) is not None]
    inside = [mark for mark in found if _limits(mark, window)[0] < mark.at < _limits(mark, window)[1]]
    return _in_rows(sorted(inside, key=lambda mark: (mark.along, mark.at)), paper)


def _limits(mark: CutMark, window: Rect) -> tuple[float, float]:
    if mark.along == "v":
        return float(window.left), float(window.right)
    return float(window.bottom), float(window.top)


def _mark(cut: Cut, assembly: Assembly, eye: Eye) -> CutMark | None:
    """Return where the plane of a cut stands in the view; None where the view does not see it edge on."""
    runs = eye.runs(cut.axis, assembly.frame)
    if runs is None:
        return None
    deeper = section_eye(assembly.frame, cut.at).deeper if cut.axis == "x" else -1
    here, there = (_spot(cut, value, assembly, eye) for value in (0, deeper))
    index = 0 if runs == "u" else 1
    way: Literal[1, -1] = 1 if there[index] > here[index] else -1
    return CutMark(cut.letter, "v" if runs == "u" else "u", float(here[index]), way)


def _spot(cut: Cut, further: int, assembly: Assembly, eye: Eye) -> Spot:
    low = Point(assembly.run[0], cut.at * 0, cut.at * 0)
    point = replace(low, x=cut.at + further) if cut.axis == "x" else replace(low, z=cut.at + further)
    if eye.frame != assembly.frame:
        point = eye.frame.from_level(assembly.frame.to_level(point))
    u, v = eye.spot(point)
    return float(u), float(v)


def _in_rows(marks: Sequence[CutMark], paper: Paper) -> tuple[CutMark, ...]:
    """Return the marks, each in the first row in which its letter and arrow stand clear of those before it."""
    placed: list[CutMark] = []
    for mark in marks:
        row = 0
        while any(one.row == row and one.along == mark.along and _touch(one, mark, paper) for one in placed):
            row += 1
        placed.append(replace(mark, row=row))
    return tuple(placed)


def _touch(one: CutMark, other: CutMark, paper: Paper) -> bool:
    return abs(one.at - other.at) < paper.inches(ARROW[0] + text_width("W", TEXT, strong=True))


@dataclass(frozen=True, slots=True)
class Field:
    """Where marks go: over the *window*, or beside it on a *side*, -1 for its left; planes end *past* the work."""

    window: Rect
    work: Rect
    side: Literal[1, -1]

    def start(self, mark: CutMark) -> tuple[float, int]:
        """Return where a mark starts, and which way is outward."""
        if mark.along == "v":
            return float(self.window.top), 1
        return float(self.window.right if self.side == 1 else self.window.left), self.side

    def far(self, mark: CutMark, past: float) -> float:
        """Return where the plane of a mark ends: a little *past* the work, so that it meets no size."""
        if mark.along == "v":
            return max(float(self.window.bottom), float(self.work.bottom) - past)
        if self.side == 1:
            return max(float(self.window.left), float(self.work.left) - past)
        return min(float(self.window.right), float(self.work.right) + past)


def drawn_marks(marks: Iterable[CutMark], field: Field, paper: Paper) -> tuple[tuple[Shape, ...], tuple[Shape, ...]]:
    """Return the planes over the drawing, and the ends, arrows and letters beside it."""
    planes: list[Shape] = []
    ends: list[Shape] = []
    for mark in marks:
        start, outward = field.start(mark)
        inner, outer = paper.inches(OFF + mark.row * ROW), paper.inches(OFF + END + mark.row * ROW)
        far = field.far(mark, paper.inches(PAST))
        planes.append(Stroke(LineKind.PLANE, (_at(mark, 0, start + outward * inner), _at(mark, 0, far))))
        ends.append(
            Stroke(LineKind.WALL, (_at(mark, 0, start + outward * inner), _at(mark, 0, start + outward * outer)))
        )
        long, half = paper.inches(ARROW[0]), paper.inches(ARROW[1])
        middle = start + outward * (outer - half)
        tip = (_at(mark, mark.way * long, middle), _at(mark, 0, middle + half), _at(mark, 0, middle - half))
        ends.append(Area(None, LineKind.WALL, tip, outlined=False))
        ends.append(_letter(mark, start + outward * (outer + paper.inches(TO_LETTER)), outward, paper))
    return tuple(planes), tuple(ends)


def _letter(mark: CutMark, across: float, outward: int, paper: Paper) -> Label:
    if mark.along == "v":
        return Label(mark.letter, (mark.at, across), TEXT, Anchoring.MIDDLE, strong=True)
    baseline = mark.at - paper.inches(TEXT * CAP_HEIGHT / 2)
    anchor = Anchoring.START if outward == 1 else Anchoring.END
    return Label(mark.letter, (across, baseline), TEXT, anchor, strong=True)


def _at(mark: CutMark, off: float, across: float) -> Spot:
    """Return a spot *off* the plane along the way one looks, and *across* along the plane."""
    return (mark.at + off, across) if mark.along == "v" else (across, mark.at + off)

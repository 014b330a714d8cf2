"""Rectangles and sheet sizes in whole numbers in, rectangles laid on sheets out, so that each cut runs edge to edge.

Each piece goes into the free rectangle that it fits most closely, turned if need be; a cut from edge to edge of that
rectangle then leaves two smaller ones. It is a rule of thumb: several orders and ways to cut are tried, and the best
is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from bookgen.model.frozen import dataclass

Size = tuple[int, int]  # along the sheet's length, across it


@dataclass(frozen=True, slots=True)
class Laid:
    """A piece, by its place in the list, on a sheet: its lower left corner and its size as it lies."""

    piece: int
    corner: Size
    size: Size


@dataclass(frozen=True, slots=True)
class Nested:
    """A sheet of a size, by its place in the list, and what lies on it."""

    sheet: int
    laid: tuple[Laid, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """One way to go about it: the order of pieces, which sheet is opened, and how what is left beside one is cut."""

    order: Callable[[Size], tuple[int, int]]
    opened: int  # no shorter sheet is opened than this one, by its place in the list
    lengthwise: bool  # what is left is cut along the sheet; else so that the smaller rest is the smallest


@dataclass(frozen=True, slots=True)
class _Free:
    sheet: int
    corner: Size
    size: Size


ORDERS: tuple[Callable[[Size], tuple[int, int]], ...] = (
    lambda size: (-size[0] - size[1], -max(size)),  # half way round the piece: the best of the three as a rule
    lambda size: (-max(size), -min(size)),
    lambda size: (-min(size), -max(size)),
)


def ways(sheets: int) -> tuple[Way, ...]:
    """Return every way that is tried with so many sheet sizes."""
    return tuple(
        Way(order, opened, lengthwise) for order in ORDERS for opened in range(sheets) for lengthwise in (True, False)
    )


def nest(pieces: Sequence[Size], sheets: Sequence[Size], costs: Sequence[int], tried: Iterable[Way]) -> list[Nested]:
    """Return the cheapest of the ways tried, the first of equals; each piece has to fit a sheet as it is or turned.

    *sheets* are in order of cost.
    """
    found = [_nest(pieces, sheets, way) for way in tried]
    return min(found, key=lambda nested: (sum(costs[row.sheet] for row in nested), len(nested)))


def _nest(pieces: Sequence[Size], sheets: Sequence[Size], way: Way) -> list[Nested]:
    opened: list[int] = []
    laid: list[list[Laid]] = []
    free: list[_Free] = []
    for number in sorted(range(len(pieces)), key=lambda n: (way.order(pieces[n]), n)):
        best = _closest(pieces[number], free)
        if best is None:
            sheet = _open(pieces[number], sheets, way.opened)
            free.append(_Free(len(opened), (0, 0), sheets[sheet]))
            opened.append(sheet)
            laid.append([])
            best = _closest(pieces[number], free[-1:])
            if best is None:
                raise ValueError(f"a piece of {pieces[number]} fits no sheet")
        place, size = best
        free.remove(place)
        free += _rest(place, size, way.lengthwise)
        laid[place.sheet].append(Laid(number, place.corner, size))
    return [Nested(_shortest(cuts, sheets), tuple(cuts)) for cuts in laid]


def _closest(piece: Size, free: Iterable[_Free]) -> tuple[_Free, Size] | None:
    """Return the free rectangle with the narrowest rest beside the piece, and how the piece lies in it."""
    best: tuple[tuple[int, int], _Free, Size] | None = None
    for place in free:
        for size in (piece, piece[::-1]):
            along, across = place.size[0] - size[0], place.size[1] - size[1]
            if along >= 0 and across >= 0:
                fit = (min(along, across), max(along, across))
                if best is None or fit < best[0]:
                    best = (fit, place, (size[0], size[1]))
    return None if best is None else best[1:]


def _open(piece: Size, sheets: Sequence[Size], least: int) -> int:
    """Return the cheapest sheet from *least* on that holds the piece, or any that holds it."""
    holding = [number for number, sheet in enumerate(sheets) if _holds(sheet, piece) or _holds(sheet, piece[::-1])]
    return next((number for number in holding if number >= least), holding[-1] if holding else least)


def _holds(sheet: Size, piece: Sequence[int]) -> bool:
    return piece[0] <= sheet[0] and piece[1] <= sheet[1]


def _rest(place: _Free, size: Size, lengthwise: bool) -> list[_Free]:
    (x, y), (along, across) = place.corner, size
    beside, above = place.size[0] - along, place.size[1] - across
    if lengthwise or beside < above:
        parts = [((x + along, y), (beside, across)), ((x, y + across), (place.size[0], above))]
    else:
        parts = [((x + along, y), (beside, place.size[1])), ((x, y + across), (along, above))]
    return [_Free(place.sheet, corner, rest) for corner, rest in parts if min(rest) > 0]


def _shortest(cuts: Iterable[Laid], sheets: Sequence[Size]) -> int:
    """Return the cheapest sheet that still holds what was laid."""
    listed = list(cuts)
    along = max(cut.corner[0] + cut.size[0] for cut in listed)
    across = max(cut.corner[1] + cut.size[1] for cut in listed)
    return next(number for number, sheet in enumerate(sheets) if _holds(sheet, (along, across)))

"""A rectangle and the holes in it in, the fewest upright rectangles that are left of it out; exact."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import pairwise, product

from bookgen.model.frozen import dataclass
from bookgen.solve.framing import Stretch, merged

STRIP = Fraction(1)  # inches; a narrower strip of board beside a hole takes no screw; common practice
SHEET = Fraction(16)  # inches; a piece this wide in the crook of two holes is board that members hold; our choice
NARROW = Fraction(2)  # inches; nobody cuts board narrower than this where it can be cut another way; our choice


@dataclass(frozen=True, slots=True, order=True)
class Rectangle:
    """A stretch on two axes, in inches."""

    u: Stretch
    v: Stretch

    def meets(self, other: Rectangle) -> bool:
        """Tell whether the insides meet."""
        return self.u[0] < other.u[1] and other.u[0] < self.u[1] and self.v[0] < other.v[1] and other.v[0] < self.v[1]

    def lies_in(self, other: Rectangle) -> bool:
        """Tell whether all of it lies in another."""
        (u, v), (its_u, its_v) = (self.u, self.v), (other.u, other.v)
        return its_u[0] <= u[0] and u[1] <= its_u[1] and its_v[0] <= v[0] and v[1] <= its_v[1]

    def turned(self) -> Rectangle:
        """Return it with its two axes changed over."""
        return Rectangle(self.v, self.u)

    def narrow(self) -> Fraction:
        """Return its short side."""
        return min(self.u[1] - self.u[0], self.v[1] - self.v[0])


class Shelf:
    """Rectangles in the order of their starts, of which only those are looked at that may meet what is asked.

    *added* are all of them in the order in which they came.
    """

    __slots__ = ("_row", "_starts", "_widest", "added")

    def __init__(self) -> None:
        """Begin with none."""
        self.added: list[Rectangle] = []
        self._row: list[Rectangle] = []
        self._starts: list[Fraction] = []
        self._widest = Fraction(0)

    def add(self, more: Iterable[Rectangle]) -> None:
        """Put more of them on it."""
        for one in more:
            place = bisect_right(self._starts, one.u[0])
            self._starts.insert(place, one.u[0])
            self._row.insert(place, one)
            self._widest = max(self._widest, one.u[1] - one.u[0])
            self.added.append(one)

    def meeting(self, patch: Rectangle) -> Iterator[Rectangle]:
        """Yield those that a patch shares room with, by their starts."""
        first, last = bisect_left(self._starts, patch.u[0] - self._widest), bisect_left(self._starts, patch.u[1])
        return (one for one in self._row[first:last] if one.meets(patch))


def cut_out(whole: Rectangle, holes: Iterable[Rectangle]) -> tuple[Rectangle, ...]:
    """Return what is left of *whole*: stretches of *u* from hole edge to hole edge, each cut into pieces along *v*.

    Neighbours that are cut alike are one piece, so that a board without a hole stays whole. Where edges of two holes
    nearly line up, and a sliver would be left between them, it goes by stretches of *v* instead if that leaves less.
    """
    inside = [hole for hole in holes if hole.meets(whole)]
    found = _by_stretches(whole, inside)
    slivers = _slivers(found)
    if not slivers:
        return found
    turned = _by_stretches(whole.turned(), [hole.turned() for hole in inside])
    return tuple(sorted(piece.turned() for piece in turned)) if _slivers(turned) < slivers else found


def _slivers(pieces: Iterable[Rectangle]) -> Fraction:
    """Return how long all slivers of some pieces are together, in inches."""
    return sum((max(p.u[1] - p.u[0], p.v[1] - p.v[0]) for p in pieces if p.narrow() < NARROW), Fraction(0))


def _by_stretches(whole: Rectangle, inside: list[Rectangle]) -> tuple[Rectangle, ...]:
    """Return what the holes leave, in stretches of *u*."""
    edges = {whole.u[0], whole.u[1]}
    edges |= {edge for hole in inside for edge in hole.u if whole.u[0] < edge < whole.u[1]}
    row = sorted(edges)
    done: list[Rectangle] = []
    open_pieces: list[Rectangle] = []
    for (low, high), beside in over_stretches(row, [(hole.u, hole.v) for hole in inside]):
        pieces = [Rectangle((low, high), v) for v in _left(whole.v, beside)]
        if [piece.v for piece in pieces] == [piece.v for piece in open_pieces]:
            open_pieces = [Rectangle((piece.u[0], high), piece.v) for piece in open_pieces]
        else:
            done += open_pieces
            open_pieces = pieces
    return (*done, *open_pieces)


def bridged(holes: Iterable[Rectangle]) -> tuple[Rectangle, ...]:
    """Return the holes with the strips between each two of them that are too narrow to be board: those are filled."""
    found, shelf = tuple(holes), Shelf()
    shelf.add(found)
    strips = [strip for pair in _near(found) if (strip := _strip(*pair)) is not None]
    return (*found, *(strip for strip in strips if not any(shelf.meeting(strip))))


def _near(holes: tuple[Rectangle, ...]) -> Iterator[tuple[Rectangle, Rectangle]]:
    """Yield each two holes that are no further apart along *u* than a strip."""
    row = sorted(holes)
    for number, one in enumerate(row):
        reach = one.u[1] + STRIP
        for other in row[number + 1 :]:
            if other.u[0] >= reach:
                break
            yield one, other


def _strip(one: Rectangle, other: Rectangle) -> Rectangle | None:
    """Return what lies between two holes where that is too narrow to be board; *one* begins no later along *u*."""
    first, second = (one, other) if one.v[0] <= other.v[0] else (other, one)
    apart, above = other.u[0] - one.u[1], second.v[0] - first.v[1]
    if apart > 0 > above:
        return Rectangle((one.u[1], other.u[0]), (second.v[0], min(one.v[1], other.v[1])))
    if 0 < above < STRIP and apart < 0:
        return Rectangle((other.u[0], min(one.u[1], other.u[1])), (first.v[1], second.v[0]))
    return None


def within(patch: Rectangle, whole: Rectangle) -> Rectangle:
    """Return what of a patch lies in *whole*, which it meets."""
    u, v = ((max(a[0], b[0]), min(a[1], b[1])) for a, b in ((patch.u, whole.u), (patch.v, whole.v)))
    return Rectangle(u, v)


def united(holes: Iterable[Rectangle]) -> tuple[Rectangle, ...]:
    """Return the holes with those that share room put into one: no tongue of board is left in the crook of two.

    Two that cross far out, such as a beam and a duct, stay two: what lies in their crook is a sheet, and no tongue.
    """
    found: list[Rectangle] = []
    for hole in sorted(holes):
        whole = hole
        while shared := [one for one in found if one.meets(whole) and _crook(one, whole) < SHEET]:
            found = [one for one in found if one not in shared]
            for one in shared:
                whole = _round(whole, one)
        found.append(whole)
    return tuple(sorted(found))


def _crook(one: Rectangle, other: Rectangle) -> Fraction:
    """Return how wide the widest piece is that a rectangle round two would take beside them, at one of its corners."""
    wide = Fraction(0)
    for u, v in product((0, 1), (0, 1)):
        along, up = one.u[u] - other.u[u], one.v[v] - other.v[v]
        if (along if u == 0 else -along) * (up if v == 0 else -up) < 0:  # one reaches further here, the other there
            wide = max(wide, min(abs(along), abs(up)))
    return wide


def _round(one: Rectangle, other: Rectangle) -> Rectangle:
    u, v = (*one.u, *other.u), (*one.v, *other.v)
    return Rectangle((min(u), max(u)), (min(v), max(v)))


def over_stretches(
    row: Sequence[Fraction], holes: Iterable[tuple[Stretch, Stretch]]
) -> Iterator[tuple[Stretch, list[Stretch]]]:
    """Yield the stretches between the places of *row*, each with the second stretch of holes whose first is over it.

    *row* is in order and holds every end of a hole that lies inside it, so that one walk along it is enough.
    """
    waiting = sorted(holes, reverse=True)
    over: list[tuple[Stretch, Stretch]] = []
    for low, high in pairwise(row):
        over = [hole for hole in over if low < hole[0][1]]
        while waiting and waiting[-1][0][0] < high:
            hole = waiting.pop()
            if low < hole[0][1]:
                over.append(hole)
        yield (low, high), [second for _, second in over]


def _left(whole: Stretch, taken: list[Stretch]) -> list[Stretch]:
    """Return the stretches of *whole* that are not taken."""
    left: list[Stretch] = []
    start = whole[0]
    for low, high in merged(taken, Fraction(0)):
        if low > start:
            left.append((start, min(low, whole[1])))
        start = max(start, high)
    if start < whole[1]:
        left.append((start, whole[1]))
    return left

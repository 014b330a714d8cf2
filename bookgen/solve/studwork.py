"""A wall plane with its openings and what passes through it in; plates, studs, headers, sills and cripples out.

Everything is worked out in the plane of the wall, as rectangles along and up: what is placed first keeps its room, and
what comes later is cut round it. Inches, in whatever frame the wall is given in.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from fractions import Fraction

from bookgen.model.assembly import Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, box
from bookgen.solve.cutout import Rectangle, cut_out
from bookgen.solve.framing import TREATED, Stretch, true_size
from bookgen.trade.lumber import lumber

SHORTEST = Fraction(3, 2)  # a shorter leftover of a stud or plate is not cut
NARROW = Fraction(6)  # what is narrower passes between two studs and needs no crosspiece under it


@dataclass(frozen=True, slots=True)
class Header:
    """What carries the wall over an opening: *count* sticks of *stock*, flat on one another or on edge side by side."""

    stock: str
    count: int
    flat: bool

    def depth(self) -> Fraction:
        """Return how high it stands."""
        thickness, width = _size(self.stock)
        return self.count * thickness if self.flat else width

    def through(self) -> Fraction:
        """Return how much of the wall's thickness it takes."""
        thickness, width = _size(self.stock)
        return width if self.flat else self.count * thickness


@dataclass(frozen=True, slots=True)
class FramedOpening:
    """An opening in a wall: the rough opening along and up, and its header; a door's begins at the wall's foot."""

    name: str
    along: Stretch
    up: Stretch
    header: Header


@dataclass(frozen=True, slots=True)
class StudWall:
    """A stud wall as a plane: plates run on *along*; *across* are the faces of its studs, *up* foot and top.

    Studs are centred on whole *spacing*s from *origin*, and stand at both ends of the *run*; where somebody has found
    how they stand, *found* are their middles and nothing is laid out.
    """

    along: Axis
    run: Stretch
    across: Stretch
    up: Stretch
    stock: str
    spacing: Fraction
    origin: Fraction
    found: tuple[Fraction, ...] = ()

    def thickness(self) -> Fraction:
        """Return the thickness of a plate or stud."""
        return _size(self.stock)[0]

    def inner(self) -> Stretch:
        """Return from the top of the bottom plate to the underside of the top plate."""
        return self.up[0] + self.thickness(), self.up[1] - self.thickness()

    def part(self, piece: Piece, number: int) -> Part:
        """Return a piece of the wall as a Part."""
        across = piece.across or self.across
        spans: dict[Axis, Stretch] = {self.along: piece.patch.u, self.off(): across, "z": piece.patch.v}
        solid = box(spans["x"], spans["y"], spans["z"], "z" if piece.upright else self.along)
        treated = piece.stock.endswith(TREATED)
        material = Material.TREATED if treated else Material.BLOCKING if piece.blocking else Material.LUMBER
        return Part(f"{piece.name or piece.role} {number}", piece.role, solid, material, piece.stock)

    def off(self) -> Axis:
        """Return the axis through the wall."""
        return "y" if self.along == "x" else "x"


@dataclass(frozen=True, slots=True)
class Backing:
    """Wood set flat in a wall for what is fixed to it: its name, where it lies in the plane, in which layer, its stock.

    *upright* backing stands beside a stud, the other lies between the studs.
    """

    name: str
    patch: Rectangle
    layer: Stretch
    stock: str
    upright: bool


@dataclass(frozen=True, slots=True)
class Piece:
    """A member on its way to become a Part: role, where it lies in the plane of the wall, which way it goes."""

    role: str
    patch: Rectangle
    stock: str
    upright: bool
    across: Stretch | None = None
    blocking: bool = False
    name: str = ""


def frame(
    wall: StudWall,
    openings: Iterable[FramedOpening],
    voids: Iterable[Rectangle] = (),
    filled: Iterable[Rectangle] = (),
    backing: Iterable[Backing] = (),
) -> tuple[Part, ...]:
    """Return the members of a wall, cut round its openings and round *voids*, which are what passes through it.

    Where something wide passes, studs stand at both sides of it and a crosspiece lies under it. What is *filled* has
    framing of its own already: the wall only leaves it free. *backing* fills what the other members leave of its place.
    """
    openings = tuple(openings)
    passing = joined(voids, wall.thickness() * 2)
    hollow = (*(Rectangle(o.along, o.up) for o in openings), *passing, *filled)
    pieces = [*_plates(wall, hollow)]
    for opening in openings:
        pieces += _head_and_sill(wall, opening, passing)
    pieces += _crosspieces(wall, passing, (*(piece.patch for piece in pieces), *filled))
    lying = (*hollow, *(piece.patch for piece in pieces))
    pieces += _uprights(wall, openings, passing, lying)
    for one in backing:
        pieces += _backed(wall, one, (*hollow, *(piece.patch for piece in pieces)))
    return _numbered(wall, pieces)


def _backed(wall: StudWall, backing: Backing, taken: tuple[Rectangle, ...]) -> Iterator[Piece]:
    """Yield what is left of a backing's place between what stands there already, in pieces that can be fixed."""
    for patch in cut_out(Rectangle(_within(backing.patch.u, wall.run), _within(backing.patch.v, wall.inner())), taken):
        if min(patch.u[1] - patch.u[0], patch.v[1] - patch.v[0]) >= SHORTEST:
            yield Piece(
                "backing", patch, backing.stock, backing.upright, backing.layer, blocking=True, name=backing.name
            )


def _plates(wall: StudWall, hollow: tuple[Rectangle, ...]) -> Iterator[Piece]:
    low, high = wall.inner()
    for role, up, stock in (
        ("bottom plate", (wall.up[0], low), wall.stock + TREATED),
        ("top plate", (high, wall.up[1]), wall.stock),
    ):
        for whole in left_of(wall.run, (h.u for h in hollow if overlap(h.v, up))):
            for along in _sold(wall, whole):
                yield Piece(role, Rectangle(along, up), stock, upright=False)


def _sold(wall: StudWall, whole: Stretch) -> Iterator[Stretch]:
    """Yield a plate in lengths that are sold, joined over the middle of a stud."""
    row = lumber(wall.stock)
    longest = max(length.inches for length in row.lengths) if row else whole[1] - whole[0]
    low = whole[0]
    while whole[1] - low > longest:
        joint = max((mark for mark in _marks(wall) if low < mark <= low + longest), default=low + longest)
        yield low, joint
        low = joint
    yield low, whole[1]


def _head_and_sill(wall: StudWall, opening: FramedOpening, passing: tuple[Rectangle, ...]) -> Iterator[Piece]:
    thick, head = wall.thickness(), opening.header
    bearing = opening.along[0] - thick, opening.along[1] + thick
    bottom, sizes = opening.up[1], _size(head.stock)
    for index in range(head.count):
        if head.flat:
            up, across = (bottom + index * sizes[0], bottom + (index + 1) * sizes[0]), None
        else:
            up, across = (bottom, bottom + sizes[1]), _ply(wall, head, index)
        for along in left_of(bearing, (p.u for p in passing if overlap(p.v, up))):
            yield Piece("header", Rectangle(along, up), head.stock, upright=False, across=across)
    if opening.up[0] > wall.up[0]:
        yield Piece("sill", Rectangle(opening.along, (opening.up[0] - thick, opening.up[0])), wall.stock, upright=False)


def _ply(wall: StudWall, head: Header, index: int) -> Stretch:
    """Return where one stick of a header on edge lies: the outer ones flush with both faces of the wall."""
    thickness = _size(head.stock)[0]
    room = wall.across[1] - wall.across[0] - thickness
    step = room / (head.count - 1) if head.count > 1 else Fraction(0)
    low = wall.across[0] + index * step
    return low, low + thickness


def _crosspieces(wall: StudWall, passing: tuple[Rectangle, ...], placed: Iterable[Rectangle]) -> Iterator[Piece]:
    placed = tuple(placed)
    for void in passing:
        up = void.v[0] - wall.thickness(), void.v[0]
        inside = _within(void.u, wall.run)
        if up[0] < wall.inner()[0] or inside[1] - inside[0] < NARROW:
            continue
        for along in left_of(inside, (p.u for p in (*placed, *passing) if overlap(p.v, up))):
            yield Piece("crosspiece", Rectangle(along, up), wall.stock, upright=False)


def _uprights(
    wall: StudWall, openings: tuple[FramedOpening, ...], passing: tuple[Rectangle, ...], lying: tuple[Rectangle, ...]
) -> Iterator[Piece]:
    thick = wall.thickness()
    standing: list[Stretch] = []
    for opening in openings:
        low, high = opening.along
        for along in ((low - thick, low), (high, high + thick)):
            jack = (wall.inner()[0], opening.up[1])
            yield from _standing(wall, "jack stud", along, jack, lying)
        for along in ((low - 2 * thick, low - thick), (high + thick, high + 2 * thick)):
            if not any(overlap(along, stood) for stood in standing):
                standing.append(along)
                yield from _standing(wall, "king stud", along, wall.inner(), lying)
        standing += [(low - thick, low), (high, high + thick)]
    jacks = tuple(Rectangle(a, (wall.inner()[0], o.up[1])) for o in openings for a in _jacks(o, thick))
    for along in stud_row(wall, openings, passing, standing):
        yield from _standing(wall, "stud", along, wall.inner(), (*lying, *jacks))


def _jacks(opening: FramedOpening, thick: Fraction) -> tuple[Stretch, Stretch]:
    low, high = opening.along
    return (low - thick, low), (high, high + thick)


def stud_row(
    wall: StudWall, openings: tuple[FramedOpening, ...], passing: tuple[Rectangle, ...], standing: Iterable[Stretch]
) -> tuple[Stretch, ...]:
    """Return where studs stand: both ends, beside what passes, then the spacing; kings already *standing* keep theirs.

    A stud whose mark falls on one that stands already is moved beside it, so that no bay grows wider than the spacing.
    """
    thick = wall.thickness()
    taken = list(standing)
    found: list[Stretch] = []
    if wall.found:
        row = ((middle - thick / 2, middle + thick / 2) for middle in wall.found)
        return tuple(along for along in row if not any(overlap(along, stood) for stood in taken))

    def place(along: Stretch) -> None:
        if along[0] >= wall.run[0] and along[1] <= wall.run[1] and not any(overlap(along, t) for t in taken):
            taken.append(along)
            found.append(along)

    place((wall.run[0], wall.run[0] + thick))
    place((wall.run[1] - thick, wall.run[1]))
    marks = tuple(_marks(wall))
    for void in passing:
        if any(overlap((mark - thick / 2, mark + thick / 2), void.u) for mark in marks):
            place((void.u[0] - thick, void.u[0]))
            place((void.u[1], void.u[1] + thick))
    for mark in marks:
        along = mark - thick / 2, mark + thick / 2
        hit = next((t for t in taken if overlap(t, along)), None)
        if hit is None:
            place(along)
        elif mark != (hit[0] + hit[1]) / 2:
            beside = (hit[0] - thick, hit[0]) if mark < (hit[0] + hit[1]) / 2 else (hit[1], hit[1] + thick)
            if not any(overlap(beside, opening.along) for opening in openings):
                place(beside)
    return tuple(sorted(found))


def _marks(wall: StudWall) -> Iterator[Fraction]:
    steps = (wall.run[0] - wall.origin) // wall.spacing
    mark = wall.origin + steps * wall.spacing
    while mark < wall.run[1]:
        if mark > wall.run[0]:
            yield mark
        mark += wall.spacing


def _standing(wall: StudWall, role: str, along: Stretch, up: Stretch, lying: Iterable[Rectangle]) -> Iterator[Piece]:
    for free in left_of(up, (patch.v for patch in lying if overlap(patch.u, along))):
        short = "cripple" if role == "stud" and free != up else role
        yield Piece(short, Rectangle(along, free), wall.stock, upright=True)


def _numbered(wall: StudWall, pieces: Iterable[Piece]) -> tuple[Part, ...]:
    counts: Counter[str] = Counter()
    parts = []
    for piece in sorted(pieces, key=lambda p: (p.role, p.patch.u, p.patch.v, p.across or wall.across)):
        counts[piece.role] += 1
        parts.append(wall.part(piece, counts[piece.role]))
    return tuple(parts)


def joined(patches: Iterable[Rectangle], gap: Fraction) -> tuple[Rectangle, ...]:
    """Return patches with those put together that lie less than *gap* apart and overlap in height."""
    found: list[Rectangle] = []
    for patch in sorted(patches, key=lambda p: (p.u, p.v)):
        near = next((f for f in found if patch.u[0] - f.u[1] < gap and overlap(f.v, patch.v)), None)
        if near is None:
            found.append(patch)
        else:
            found[found.index(near)] = around_both(near, patch)
    return tuple(found)


def around_both(first: Rectangle, second: Rectangle) -> Rectangle:
    """Return the smallest patch round both."""
    return Rectangle(
        (min(first.u[0], second.u[0]), max(first.u[1], second.u[1])),
        (min(first.v[0], second.v[0]), max(first.v[1], second.v[1])),
    )


def left_of(whole: Stretch, taken: Iterable[Stretch], shortest: Fraction = SHORTEST) -> Iterator[Stretch]:
    """Yield what is left of a stretch when others are taken out of it; pieces under *shortest* are not kept."""
    low = whole[0]
    for start, end in sorted(taken):
        if start > low and min(start, whole[1]) - low >= shortest:
            yield low, min(start, whole[1])
        low = max(low, end)
    if whole[1] > low and whole[1] - low >= shortest:
        yield low, whole[1]


def overlap(first: Stretch, second: Stretch) -> bool:
    """Tell whether two stretches share more than an end."""
    return first[0] < second[1] and second[0] < first[1]


def _within(stretch: Stretch, whole: Stretch) -> Stretch:
    return max(stretch[0], whole[0]), min(stretch[1], whole[1])


def _size(stock: str) -> tuple[Fraction, Fraction]:
    size = true_size(stock)
    if size is None:
        raise ValueError(f"no such stick: {stock}")
    return size

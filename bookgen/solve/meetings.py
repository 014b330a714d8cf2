"""Where every treatment stands in, what each gives way to out: of two that meet, one keeps its shape.

What goes from slab to joists and can't move comes first: a chase. Then soffits: of two that cross, the one that hangs
lower goes through, of two as low the one round a beam, then the one whose record comes first; one that ends inside the
other is the one to stop, however low it hangs, and closes under it. A soffit that stops does so at the finished face of
what it meets. A closet stands under a soffit, its walls framed up to it, and so does the doorway of a utility room; a
post wrap and the posts of an opened stair end under it. Strips and their board under the joists come last and go up to
all of it.

Of two soffits that run the same way and overlap side by side one gives way sideways: its side moves over to the
finished side of the other, in one straight line for its whole run. That one is hung; a soffit along a wall or round a
beam stays where it is, and of two that hang the lower. So it does for a chase or a wrap in its side. What else overlaps
and can't be trimmed is told by `work-meets-work`. Stud walls, partitions and plain ceilings come after all this.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import combinations

from bookgen.model.assembly import SOFFITS
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box, Point
from bookgen.solve.choices import chosen
from bookgen.solve.framing import Stretch
from bookgen.solve.sideways import ASIDE_FOR, UPRIGHT, beside, covers
from bookgen.solve.site import Envelope, Site, Taken
from bookgen.solve.treatments import ENVELOPES

# Of two treatments that meet, which keeps its shape? The one with the lower number.
RANKS = {
    "chase": 0, "wall soffit": 1, "hung soffit": 1, "beam soffit": 1, "closet": 2, "utility room": 2,
    "post wrap": 3, "stair opening": 3, "furring": 4,
}  # fmt: skip
TWO_SIDED = SOFFITS - {"wall soffit"}  # these pass beside a chase; a soffit along a wall goes round it


@dataclass(frozen=True, slots=True)
class Standing:
    """One straight piece of a treatment; *box* is the one over its board, on the level's axes."""

    site: Site
    treatment: str
    room: Envelope
    box: Box

    def beside(self, other: Standing) -> Standing:
        """Return it moved over to the finished side of another, which it shares a part of its width with."""
        its = other.room.moved(other.site.frame, self.site.frame).finished
        framed, finished = self.room.framed, self.room.finished
        low, high = beside((framed.low.y, framed.high.y), [its])
        over = finished.high.y - framed.high.y
        room = Envelope(_across(framed, (low, high)), _across(finished, (low - over, high + over)))
        return replace(self, room=room, box=self.site.frame.box_to_level(room.finished))

    def seen_from(self, site: Site) -> Taken:
        """Return it as what another treatment gives way to."""
        tongue = self.site.tongue
        treatment, obstacle = tongue.name(self.treatment), self.site.file.record.obstacle
        what = tongue.say("the {treatment} of {obstacle}", treatment=treatment, obstacle=obstacle)
        return Taken(what, self.treatment, self.room.moved(self.site.frame, site.frame))


def gives_way(sites: Iterable[Site]) -> dict[str, tuple[Taken, ...]]:
    """Return, by the key of its record, what each treatment gives way to; those that keep their shape are left out."""
    found: dict[str, list[Taken]] = {}
    row = [piece for site in sites for piece in standing(site)]
    sideways = {pair: found_ for pair in _overlapping(row) if (found_ := _sideways(row, *pair)) is not None}
    for loser, keeper in sideways.values():
        found.setdefault(row[loser].site.file.key, []).append(row[keeper].seen_from(row[loser].site))
    for loser, keeper in sideways.values():
        row[loser] = row[loser].beside(row[keeper])
    for pair in _overlapping(row):
        lesser, greater = (None, row[0]) if pair in sideways else _loser(*(row[number] for number in pair))
        if lesser is not None:
            found.setdefault(lesser.site.file.key, []).append(greater.seen_from(lesser.site))
    return {key: tuple(rows) for key, rows in found.items()}


def _overlapping(row: Sequence[Standing]) -> Iterator[tuple[int, int]]:
    """Yield the numbers of each two of different work that overlap."""
    for (number, one), (after, other) in combinations(enumerate(row), 2):
        if one.site is not other.site and one.box.overlaps(other.box):
            yield number, after


def _across(box: Box, across: Stretch) -> Box:
    low, high = box.low, box.high
    return Box(Point(low.x, across[0], low.z), Point(high.x, across[1], high.z))


def standing(site: Site) -> Iterator[Standing]:
    """Yield each straight piece of a record's treatment; nothing for one that fills no room of its own."""
    pick = chosen(site.file.record)
    rooms = next((rooms for name, rooms in ENVELOPES if pick is not None and name == pick.name), None)
    if pick is None or rooms is None:
        return
    for room in rooms(site, pick.choices):
        yield Standing(site, pick.name, room, site.frame.box_to_level(room.finished))


def _loser(one: Standing, other: Standing) -> tuple[Standing | None, Standing]:
    """Return which of two that overlap gives way, and which keeps its shape; None where neither can."""
    ranks = RANKS[one.treatment], RANKS[other.treatment]
    can = _ends_at(one, other), _ends_at(other, one)
    if ranks[0] != ranks[1]:
        loser, keeper, stops = (one, other, can[0]) if ranks[0] > ranks[1] else (other, one, can[1])
        return (loser if stops or loser.treatment not in TWO_SIDED or _stands_in(keeper, loser) else None), keeper
    if one.treatment not in SOFFITS:
        return None, other
    if all(can):
        return (one, other) if _order(one) > _order(other) else (other, one)
    return (one if can[0] else other if can[1] else None), (other if can[0] else one)


def _stands_in(chase: Standing, soffit: Standing) -> bool:
    """Tell whether a chase stands well inside a hung soffit, which is framed round it."""
    own, its = soffit.room.framed, chase.room.moved(chase.site.frame, soffit.site.frame).finished
    return soffit.treatment == "hung soffit" and own.low.y < its.low.y and its.high.y < own.high.y


def _sideways(row: Sequence[Standing], first: int, second: int) -> tuple[int, int] | None:
    """Return which of two side by side gives way, a hung soffit, and which keeps its width; None of any others."""
    pair = (first, second) if _stands_fast(row[second]) >= _stands_fast(row[first]) else (second, first)
    loser, keeper = (row[number] for number in pair)
    if loser.treatment != "hung soffit" or keeper.treatment not in ASIDE_FOR:
        return None
    own, its = loser.room.framed, keeper.room.moved(keeper.site.frame, loser.site.frame).finished
    across = own.low.y, own.high.y
    inside = across[0] < its.low.y and its.high.y < across[1]
    if inside or covers(across, its):
        return None
    if keeper.treatment in UPRIGHT:
        return pair
    if loser.site.frame.along != keeper.site.frame.along:
        return None
    along, wide = (min(own.high.on(a), its.high.on(a)) - max(own.low.on(a), its.low.on(a)) for a in ("x", "y"))
    return pair if 0 < wide < along else None


def _stands_fast(one: Standing) -> tuple[object, ...]:
    """Return what decides which of two side by side keeps its width: the greater."""
    return one.treatment != "hung soffit", -one.room.finished.low.z


def _ends_at(one: Standing, other: Standing) -> bool:
    """Tell whether a soffit can stop at another: that stands in all of its width."""
    own = one.room.framed
    return covers((own.low.y, own.high.y), other.room.moved(other.site.frame, one.site.frame).finished)


def _order(one: Standing) -> tuple[object, ...]:
    """Return what decides between two soffits that could both stop: the lower goes through."""
    return one.room.finished.low.z, one.treatment != "beam soffit", one.site.file.key

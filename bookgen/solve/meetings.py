"""Where every treatment stands in, what each gives way to out: of two that meet, one keeps its shape.

What goes from slab to joists and can't move comes first: a chase. Then soffits: of two that cross, the one that hangs
lower goes through, of two as low the one round a beam, then the one whose record comes first; one that ends inside the
other is the one to stop, however low it hangs, and closes under it. A soffit that stops does so at the finished face of
what it meets. A closet stands under a soffit, its walls framed up to it; so does a post wrap. Strips and their board
under the joists come last and go up to all of it. Two soffits that overlap side by side can't be trimmed to each other:
`work-meets-work` tells of them. Stud walls, partitions and plain ceilings are laid out after all this, round it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations

from bookgen.model.assembly import SOFFITS
from bookgen.model.geometry import Box
from bookgen.solve.choices import chosen
from bookgen.solve.site import Envelope, Site, Taken
from bookgen.solve.treatments import ENVELOPES
from bookgen.solve.walls_met import SLACK

# Of two treatments that meet, which keeps its shape? The one with the lower number.
RANKS = {
    "chase": 0, "wall soffit": 1, "hung soffit": 1, "beam soffit": 1, "closet": 2, "post wrap": 3, "furring": 4,
}  # fmt: skip
TWO_SIDED = SOFFITS - {"wall soffit"}  # these pass beside a chase; a soffit along a wall always has it in its way


@dataclass(frozen=True, slots=True)
class _Standing:
    """One straight piece of a treatment; *box* is the one over its board, on the level's axes."""

    site: Site
    treatment: str
    room: Envelope
    box: Box

    def seen_from(self, site: Site) -> Taken:
        """Return it as what another treatment gives way to."""
        tongue = self.site.tongue
        treatment, obstacle = tongue.name(self.treatment), self.site.file.record.obstacle
        what = tongue.say("the {treatment} of {obstacle}", treatment=treatment, obstacle=obstacle)
        return Taken(what, self.treatment, self.room.moved(self.site.frame, site.frame))


def gives_way(sites: Iterable[Site]) -> dict[str, tuple[Taken, ...]]:
    """Return, by the key of its record, what each treatment gives way to; those that keep their shape are left out."""
    found: dict[str, list[Taken]] = {}
    for one, other in combinations([piece for site in sites for piece in _standing(site)], 2):
        if one.site is other.site or not one.box.overlaps(other.box):
            continue
        loser, keeper = _loser(one, other)
        if loser is not None:
            found.setdefault(loser.site.file.key, []).append(keeper.seen_from(loser.site))
    return {key: tuple(rows) for key, rows in found.items()}


def _standing(site: Site) -> Iterator[_Standing]:
    pick = chosen(site.file.record)
    rooms = next((rooms for name, rooms in ENVELOPES if pick is not None and name == pick.name), None)
    if pick is None or rooms is None:
        return
    for room in rooms(site, pick.choices):
        yield _Standing(site, pick.name, room, site.frame.box_to_level(room.finished))


def _loser(one: _Standing, other: _Standing) -> tuple[_Standing | None, _Standing]:
    """Return which of two that overlap gives way, and which keeps its shape; None where neither can."""
    ranks = RANKS[one.treatment], RANKS[other.treatment]
    can = _ends_at(one, other), _ends_at(other, one)
    if ranks[0] != ranks[1]:
        loser, keeper, stops = (one, other, can[0]) if ranks[0] > ranks[1] else (other, one, can[1])
        return (loser if stops or loser.treatment not in TWO_SIDED else None), keeper
    if one.treatment not in SOFFITS:
        return None, other
    if all(can):
        return (one, other) if _order(one) > _order(other) else (other, one)
    return (one if can[0] else other if can[1] else None), (other if can[0] else one)


def _ends_at(one: _Standing, other: _Standing) -> bool:
    """Tell whether a soffit can stop at another: that stands in all of its width."""
    own = one.room.framed
    its = other.room.moved(other.site.frame, one.site.frame).finished
    return its.low.y <= own.low.y + SLACK and own.high.y - SLACK <= its.high.y


def _order(one: _Standing) -> tuple[object, ...]:
    """Return what decides between two soffits that could both stop: the lower goes through."""
    return one.room.finished.low.z, one.treatment != "beam soffit", one.site.file.key

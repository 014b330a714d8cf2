"""The site of an obstacle in, the doors of a room round it and the openings in the wall before it to try, out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from bookgen.model.geometry import Box, Corner, Polygon
from bookgen.model.records.project import Opening, Partition, Room
from bookgen.solve.framing import Stretch
from bookgen.solve.propose.written import Candidate, Pen, Value
from bookgen.solve.site import Site, height_above_slab
from bookgen.solve.treatments.assembled import ends
from bookgen.solve.treatments.cover_in_face import CoverInFace, covers_across
from bookgen.solve.treatments.doorway import JAMB

SHIM = Fraction(1, 4)  # inches between jamb and framing, common practice
PAIR = Fraction(48)  # inches of doorway from which a pair of leaves is tried
UNDER = Fraction(1, 2)  # inches under a leaf, common practice
BESIDE = Fraction(1)  # inches by which a room's outline may miss the board of a partition


def utility_rooms(site: Site) -> Iterator[Candidate]:
    """Yield doors for each doorway of a partition that shuts the obstacle's room, or why there are none."""
    name, largest = "utility room", _largest(site)
    if site.file.record.kind != "appliance" or largest is None:
        yield Candidate(name, "", {}, site.say("it is for appliances"))
        return
    ways = [
        (key, wall, opening)
        for key, wall in site.project.record.partitions.items()
        if _shuts(site, wall)
        for opening in wall.openings
    ]
    along = [way for way in ways if (way[1].runs == "east") == (site.frame.along == "x")]
    if not along:
        why = site.say("no partition of its room has a doorway: write the doorway under openings: of the partition")
        if ways:
            why = site.say(
                "its run does not go along the wall of its doorway: let it run along {way}", way=ways[0][1].runs
            )
        yield Candidate(name, "", {}, why)
    for key, _, opening in along:
        choices: Mapping[str, Value] = {"wall": key, "largest": largest, "door": _door(site, opening)}
        yield Candidate(name, site.say("doors in {wall}", wall=key), choices)


def _largest(site: Site) -> str | None:
    """Return what is widest on its narrow side: it has to come out through the doors one day."""
    found = [
        (min(box.size("x"), box.size("y")), thing.what)
        for thing, record in zip(site.hidden, site.file.record.inside, strict=False)
        if record.body is not None
        for box in [thing.solids[0].bounds()]
    ]
    return max(found)[1] if found else None


def room_bounds(room: Room) -> tuple[Corner, Corner]:
    """Return the low and the high corner of a room on the plan."""
    return Polygon(tuple((east.inches, north.inches) for east, north in room.outline)).bounds()


def _shuts(site: Site, wall: Partition) -> bool:
    """Tell whether a partition bounds the obstacle's room: one edge of its outline is the face of the wall's board."""
    room = site.project.record.rooms.get(site.file.record.room)
    if room is None:
        return False
    low, high = room_bounds(room)
    across, along = (1, 0) if wall.runs == "east" else (0, 1)
    (first, last), (start, end) = ends(wall.thick), ends(wall.along)
    board = site.level.wall_board
    beside = min(abs(low[across] - last - board), abs(high[across] - first + board)) <= BESIDE
    return beside and start < high[along] and low[along] < end


def _door(site: Site, opening: Opening) -> Mapping[str, Value]:
    pen = Pen(site.tape.metric)
    (low, high), head = ends(opening.along), height_above_slab(opening.head, site.level)
    leaves = 2 if high - low >= PAIR else 1
    tall = pen.down(head - site.level.floor - UNDER)
    return {
        "leaf": pen.size((high - low) / leaves, tall),
        "leaves": str(leaves),
        "rough opening": pen.span((low - JAMB - SHIM, high + JAMB + SHIM)),
        "head": pen.above(head + JAMB + SHIM),
        "hinges": "both sides" if leaves > 1 else "west" if site.frame.along == "x" else "south",
        "swings": "out",
        "header": "2x4",
        "header laid": "flat",
    }


def access_openings(site: Site, whole: Box) -> Iterator[Candidate]:
    """Yield an opening at each cover that the record writes in the wall before the obstacle, or why there are none."""
    name, tape = "access opening", site.tape
    if not site.on_wall() or whole.high.y > site.level.wall_face:
        out = whole.high.y - site.level.wall_face
        why = site.say("it closes one place in a wall, and this is not behind one wall")
        if site.on_wall():
            why = site.say(
                "it stands {out} out from the finished wall: an opening in the wall does not hide it",
                out=tape.short(out),
            )
        yield Candidate(name, "", {}, why)
        return
    covers = {cover.patch: cover for cover in reversed(covers_across(site, "y"))}
    for cover in reversed(covers.values()):
        yield Candidate(name, site.say("at {what}", what=site.tongue.name(cover.name)), _opening(site, cover))
    if not covers:
        yield Candidate(name, "", {}, site.say("nobody has written what has to be reached: write it under access:"))


def _opening(site: Site, cover: CoverInFace) -> Mapping[str, Value]:
    pen = Pen(site.tape.metric)
    u, v = cover.patch.u, cover.patch.v
    points = (site.file.record.access[index] for _, index, *_ in cover.paths if isinstance(index, int))
    what = next((f" to {point.what}" for point in points), "")
    return {
        "opening": pen.size(_long(u), _long(v)),
        "at": {"along": pen.span(u), "off the block": pen.length(site.level.wall_face), "above slab": pen.span(v)},
        "what passes": f"a hand{what}",
    }


def _long(stretch: Stretch) -> Fraction:
    return stretch[1] - stretch[0]

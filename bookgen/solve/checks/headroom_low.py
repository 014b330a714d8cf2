"""headroom-low: a ceiling or soffit comes down further than the building code's edition allows over finished floor.

    PASS   framing bottom: 77 in above slab    (76 1/5 in over the floor, in a room lived in, under IRC 2021)
    FAIL   framing bottom: 75 in above slab    (74 1/5 in)

What each room is used for decides which figure is asked. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.assembly import SOFFITS, Assembly
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Point
from bookgen.model.length import Length
from bookgen.model.place import Place
from bookgen.model.problem import Finding, Severity
from bookgen.model.project import PROJECT_FILE
from bookgen.model.solved import SolvedRoom
from bookgen.solve.checks.judge import Said, finding, judged, keeps, unheld
from bookgen.solve.checks.sight import Sight
from bookgen.trade.limits import Limit

CODE = "headroom-low"
# Which figure is asked of a room's ceiling, and which under a beam, duct or the like in it? By the room's use.
LIMITS = {
    "living": ("headroom-habitable", "headroom-beam-habitable"),
    "sleeping": ("headroom-habitable", "headroom-beam-habitable"),
    "hall": ("headroom-habitable", "headroom-beam-habitable"),
    "bath": ("headroom-bath", "headroom-bath"),
    "laundry": ("headroom-bath", "headroom-bath"),
    "storage": ("headroom-basement-not-habitable", "headroom-beam-not-habitable"),
    "clothes closet": ("headroom-basement-not-habitable", "headroom-beam-not-habitable"),
    "utility": ("headroom-basement-not-habitable", "headroom-beam-not-habitable"),
}


@dataclass(frozen=True, slots=True)
class _Underside:
    """Something overhead: its words (the ceiling leaves), place in the records, headroom, room and limit asked."""

    says: str
    place: Place
    headroom: Length
    room: SolvedRoom
    limit: str


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each ceiling and each underside of a treatment, in every room that it is over."""
    for underside in (*_ceilings(sight), *_soffits(sight)):
        limit = sight.governing(underside.limit)
        if limit is None:
            said = _said(sight, underside, underside.says, "")
            yield unheld(said, sight.codes.building, sight.codes.authority)
        else:
            yield _judged(sight, underside, limit)


def _ceilings(sight: Sight) -> Iterator[_Underside]:
    for room in sight.rooms:
        bare = room.ceiling is None
        headroom = room.ceiling if room.ceiling is not None else Length(sight.level.joists - sight.level.floor)
        place = sight.project.places.of(PROJECT_FILE, "rooms", room.key, "ceiling")
        height = sight.tape.long(headroom)
        says = (
            sight.say("the open joists leave {height}", height=height)
            if bare
            else sight.say("the ceiling leaves {height}", height=height)
        )
        yield _Underside(says, place, headroom, room, LIMITS[room.use][0])


def _soffits(sight: Sight) -> Iterator[_Underside]:
    for obstacle in sight.obstacles:
        if obstacle.assembly is not None and obstacle.headroom is not None:
            height, title = sight.tape.long(obstacle.headroom), sight.title(obstacle.assembly)
            says = sight.say("the {title} leaves {height}", title=title, height=height)
            lower = obstacle.assembly.treatment in SOFFITS
            for room in rooms_under(obstacle.assembly, sight.rooms):
                limit = LIMITS[room.use][1 if lower else 0]
                yield _Underside(says, obstacle.assembly.place, obstacle.headroom, room, limit)


def rooms_under(assembly: Assembly, rooms: tuple[SolvedRoom, ...]) -> tuple[SolvedRoom, ...]:
    """Return the rooms whose outline, taken as its box, shares ground with a face that looks down."""
    found = []
    for room in rooms:
        (east1, north1), (east2, north2) = room.outline.bounds()
        for face in assembly.faces:
            if face.axis != "z" or face.toward > 0:
                continue
            corners = [assembly.frame.to_level(Point(u, v, face.at)) for u, v in face.outline.corners]
            xs, ys = [point.x for point in corners], [point.y for point in corners]
            if min(xs) < east2 and east1 < max(xs) and min(ys) < north2 and north1 < max(ys):
                found.append(room)
                break
    return tuple(found)


def _judged(sight: Sight, underside: _Underside, limit: Limit) -> Finding:
    plain = sight.book.governing(LIMITS[underside.room.use][0])
    hint = sight.say("lower the drop, move what it hides, or ask {authority}", authority=sight.codes.authority)
    said = _said(sight, underside, underside.says, hint)
    if not keeps(limit, underside.headroom):
        return judged(said, limit, kept=False)
    if any(row.length is not None and underside.headroom < row.length for row in plain[:1]):
        says = sight.say(
            "{says}, less than the room itself is asked for; the lower figure is for {applies}",
            says=said.says,
            applies=sight.say(limit.applies),
        )
        hint = sight.say(limit.note) if limit.note else sight.say("ask {authority}", authority=sight.codes.authority)
        return finding(_said(sight, underside, says, hint), limit, Severity.NOTE)
    return judged(said, limit, kept=True)


def _said(sight: Sight, underside: _Underside, says: str, hint: str) -> Said:
    headroom = sight.tape.long(underside.headroom)
    return sight.said(CODE, underside.place, underside.room.name, says, headroom, hint)

"""headroom-low: a ceiling or soffit comes down further than the building code's edition allows over finished floor.

    PASS   framing bottom: 77 in above slab    (76 1/5 in over the floor, in a room lived in, under IRC 2021)
    FAIL   framing bottom: 75 in above slab    (74 1/5 in)

What each room is used for decides which figure is asked. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bookgen.model.assembly import Assembly
from bookgen.model.geometry import Point
from bookgen.model.length import Length, show_feet
from bookgen.model.place import Place
from bookgen.model.problem import Finding, Severity
from bookgen.model.project import PROJECT_FILE
from bookgen.model.solved import SolvedRoom
from bookgen.solve.checks.sight import Sight
from bookgen.trade.limits import Limit
from bookgen.trade.tables import Sure

CODE = "headroom-low"
BROUGHT_DOWN = frozenset({"wall soffit", "hung soffit", "beam soffit"})  # other undersides are the room's ceiling
LOCAL = "check against your local code"
# Which figure is asked of a room's ceiling, and which under a beam, duct or the like in it? By the room's use.
LIMITS = {
    "living": ("headroom-habitable", "headroom-beam-habitable"),
    "sleeping": ("headroom-habitable", "headroom-beam-habitable"),
    "hall": ("headroom-habitable", "headroom-beam-habitable"),
    "bath": ("headroom-bath", "headroom-bath"),
    "laundry": ("headroom-bath", "headroom-bath"),
    "storage": ("headroom-basement-not-habitable", "headroom-beam-not-habitable"),
    "utility": ("headroom-basement-not-habitable", "headroom-beam-not-habitable"),
}


@dataclass(frozen=True, slots=True)
class _Underside:
    """Something overhead: its words (the ceiling leaves), place in the records, headroom, room and limit asked."""

    leaves: str
    place: Place
    headroom: Length
    room: SolvedRoom
    limit: str


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each ceiling and each underside of a treatment, in every room that it is over."""
    for underside in (*_ceilings(sight), *_soffits(sight)):
        found = sight.book.governing(underside.limit)
        yield _judged(sight, underside, found[0]) if found else _unknown(sight, underside)


def _ceilings(sight: Sight) -> Iterator[_Underside]:
    for room in sight.rooms:
        bare = room.ceiling is None
        headroom = room.ceiling if room.ceiling is not None else Length(sight.level.joists - sight.level.floor)
        place = sight.project.places.of(PROJECT_FILE, "rooms", room.key, "ceiling")
        yield _Underside(
            "the open joists leave" if bare else "the ceiling leaves", place, headroom, room, LIMITS[room.use][0]
        )


def _soffits(sight: Sight) -> Iterator[_Underside]:
    for obstacle in sight.obstacles:
        if obstacle.assembly is not None and obstacle.headroom is not None:
            leaves = f"the {obstacle.assembly.title.lower()} leaves"
            lower = obstacle.assembly.treatment in BROUGHT_DOWN
            for room in rooms_under(obstacle.assembly, sight.rooms):
                limit = LIMITS[room.use][1 if lower else 0]
                yield _Underside(leaves, obstacle.assembly.place, obstacle.headroom, room, limit)


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
    asked = limit.length
    if asked is None:
        raise ValueError(f"{limit.id} is no length")
    plain = sight.book.governing(LIMITS[underside.room.use][0])
    leans = any(row.length is not None and underside.headroom < row.length for row in plain)
    if underside.headroom < asked:
        severity = Severity.ASK if limit.sure is Sure.MEMORY else Severity.STOP
        says = f"{underside.leaves} {show_feet(underside.headroom)}, and {limit.citation} asks {show_feet(asked)}"
        hint = f"lower the drop, move what it hides, or ask {sight.project.record.codes.authority}; {LOCAL}"
    elif leans:
        severity = Severity.NOTE
        says = (
            f"{underside.leaves} {show_feet(underside.headroom)}, less than the room itself is asked for; "
            f"{limit.citation} asks {show_feet(asked)} {limit.applies}"
        )
        hint = f"{limit.note or 'ask ' + sight.project.record.codes.authority}; {LOCAL}"
    else:
        severity = Severity.WITHIN
        says = f"{underside.leaves} {show_feet(underside.headroom)}"
        hint = LOCAL
    return Finding(
        CODE, severity, underside.place, underside.room.name, says, show_feet(underside.headroom), show_feet(asked),
        f"{limit.citation}; {limit.source}", limit.sure.value, hint,
    )  # fmt: skip


def _unknown(sight: Sight, underside: _Underside) -> Finding:
    codes = sight.project.record.codes
    says = f"{underside.leaves} {show_feet(underside.headroom)}, and no figure of {codes.building} is held here"
    return Finding(
        CODE, Severity.ASK, underside.place, underside.room.name, says, show_feet(underside.headroom), "not known",
        codes.building, Sure.MEMORY.value, f"ask {codes.authority}; {LOCAL}",
    )  # fmt: skip

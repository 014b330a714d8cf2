"""obstacle-goes-on: something hidden comes out of an end of its soffit that meets no wall, where it is seen.

    PASS   along: 4.1 in to 204 in     (the soffit ends at a wall, and the duct goes on behind it)
    FAIL   along: 4.1 in to 150 in     (the drain goes on to 192 in)

A beam that is boxed in one room only is such a thing too: it is a note, and no mistake.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.assembly import SOFFITS, Assembly, Face, HiddenThing
from bookgen.model.length import Length
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.sight import Sight
from bookgen.solve.site import moved

CODE = "obstacle-goes-on"
MEASURED = "measured"
SOURCE = "measured on the plan of this level"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each thing of a soffit's own record that passes through one of its closed ends."""
    for obstacle in sight.obstacles:
        assembly = obstacle.assembly
        if assembly is None or assembly.treatment not in SOFFITS:
            continue
        for face in (face for face in assembly.faces if face.axis == "x"):
            for thing in obstacle.hidden:
                beyond = _beyond(moved(thing, assembly.frame), face)
                if beyond is not None:
                    yield _finding(sight, assembly, (face, thing, beyond))


def _beyond(thing: HiddenThing, face: Face) -> Length | None:
    """Return the station that a thing reaches past an end, or None where it stays inside."""
    (y1, z1), (y2, z2) = face.outline.bounds()
    rooms = [solid.bounds() for solid in thing.solids]
    crossing = [
        room
        for room in rooms
        if room.low.x < face.at < room.high.x and room.low.y < y2 and y1 < room.high.y and room.low.z < z2
    ]
    if not crossing:
        return None
    reach = [room.high.x if face.toward > 0 else room.low.x for room in crossing if z1 < room.high.z]
    return Length(max(reach) if face.toward > 0 else min(reach)) if reach else None


def _finding(sight: Sight, assembly: Assembly, found: tuple[Face, HiddenThing, Length]) -> Finding:
    face, thing, beyond = found
    end = sight.tape.long(face.at)
    return Finding(
        CODE,
        Severity.NOTE,
        assembly.place,
        sight.say("{name} of the {title}", name=sight.tongue.name(face.name), title=sight.title(assembly)),
        sight.say(
            "{what} comes out of the end at {end} and goes on to {beyond}, in sight",
            what=thing.what,
            end=end,
            beyond=sight.tape.long(beyond),
        ),
        sight.tape.long(beyond),
        sight.say("up to {end}, or a wall there", end=end),
        sight.say(SOURCE),
        MEASURED,
        sight.say("let the soffit go on with it, end it at a wall, or hide the rest by a record of its own"),
    )

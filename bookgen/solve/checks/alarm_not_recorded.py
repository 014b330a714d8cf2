"""alarm-not-recorded: no record says where the smoke alarms and the carbon monoxide alarm are, or that there are any.

    PASS   inside: [{what: Smoke alarm, ...}]    in a record of the room
    FAIL   a room to sleep in, and no smoke alarm in any record

An alarm that no record has may well hang there: look, and write it down. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.place import Place
from bookgen.model.problem import Finding, Severity
from bookgen.model.project import PROJECT_FILE
from bookgen.solve.checks.appliances import appliances, takes_room_air
from bookgen.solve.checks.judge import finding, unheld
from bookgen.solve.checks.sight import Sight
from bookgen.trade.called import called

CODE = "alarm-not-recorded"
SMOKE = "smoke"
MONOXIDE = "carbon monoxide"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each place where an alarm is asked: with one recorded there, or without."""
    sleeping = tuple(room for room in sight.rooms if room.use == "sleeping")
    smoke = _rooms_with(sight, SMOKE)
    for room in sleeping:
        place = sight.project.places.of(PROJECT_FILE, "rooms", room.key)
        yield _one(sight, "smoke-alarm-where", (sight.say("smoke alarm"), SMOKE), (place, room.name), room.key in smoke)
    outside = bool(smoke - {room.key for room in sleeping})
    level = (sight.project.places.of(PROJECT_FILE, "level"), sight.project.record.level.name)
    where = (level[0], sight.say("{level}, outside the rooms to sleep in", level=level[1]))
    yield _one(sight, "smoke-alarm-where", (sight.say("smoke alarm"), SMOKE), where, outside)
    if any(takes_room_air(seen) for seen in appliances(sight)):
        found = bool(_rooms_with(sight, MONOXIDE))
        yield _one(sight, "co-alarm-where", (sight.say("carbon monoxide alarm"), MONOXIDE), level, found)


def _rooms_with(sight: Sight, sort: str) -> set[str]:
    """Return the keys of the rooms where a hidden thing or an access point is called so."""
    found = {seen.file.record.room for seen in sight.things if called(sort).search(seen.record.what)}
    for file in sight.project.obstacles:
        found |= {point.room or file.record.room for point in file.record.access if called(sort).search(point.what)}
    return found


def _one(sight: Sight, limit: str, alarm: tuple[str, str], where: tuple[Place, str], recorded: bool) -> Finding:
    row, codes = sight.governing(limit), sight.project.record.codes
    spoken_of = any(called(alarm[1]).search(f"{one.do} {one.how}") for one in sight.project.record.upkeep)
    if recorded:
        says, measured = sight.say("a {alarm} is recorded", alarm=alarm[0]), sight.say("recorded")
    elif spoken_of:
        says, measured = (
            sight.say("upkeep speaks of a {alarm}, and no record says where one is", alarm=alarm[0]),
            sight.say("no place recorded"),
        )
    else:
        says, measured = sight.say("no record has a {alarm}", alarm=alarm[0]), sight.say("none recorded")
    hint = sight.say("look where it hangs and write it under inside: of a record of the room, or have one put up")
    said = sight.said(CODE, where[0], where[1], says, measured, hint)
    if row is None:
        return unheld(said, codes.building, codes.authority)
    return finding(said, row, Severity.WITHIN if recorded else Severity.NOTE if spoken_of else Severity.ASK)

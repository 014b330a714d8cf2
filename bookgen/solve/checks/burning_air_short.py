"""burning-air-short: what burns fuel may not get the air it needs; carbon monoxide can come of it.

    PASS   input: 40,000 Btu/h in a room of 2,400 cubic feet, joined openings counted
    FAIL   input: 120,000 Btu/h in a room of 900 cubic feet behind tight doors

The room's own air is measured first, with that of the rooms that doorways without doors join to it; then that of the
room beyond louvred doors, where both louvres have the free area asked. A tighter house needs more, and air piped from
outside needs none of this: write `air from: outside`. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.frozen import dataclass
from bookgen.model.place import Place
from bookgen.model.problem import Finding, Severity
from bookgen.model.records.treatments import Door, UtilityRoom
from bookgen.solve.checks.amounts import CUBIC_FOOT, area, area_needed, heat, volume_needed
from bookgen.solve.checks.amounts import volume as volume_words
from bookgen.solve.checks.appliances import appliances, burnt, takes_room_air
from bookgen.solve.checks.joined_rooms import Joined, joined, volume
from bookgen.solve.checks.judge import finding, judged, severity, unheld
from bookgen.solve.checks.sight import SeenThing, Sight
from bookgen.solve.choices import chosen
from bookgen.trade.called import called
from bookgen.trade.limits import Limit

CODE = "burning-air-short"
THOUSAND = Fraction(1000)
NEAR_TOP = Fraction(12)  # inches: IRC G2407.5.3.1
LOW, HIGH = "lower", "upper"
HINT = "ask the heating contractor to work out the air it needs, and from where, before the room is closed"


@dataclass(frozen=True, slots=True)
class _Room:
    """A room with what burns in it: its air, that of the rooms joined to it, and that beyond its louvred doors."""

    name: str
    burning: tuple[SeenThing, ...]
    own: Joined
    beyond: Joined
    door: Door | None
    at_louvres: Place

    @property
    def sure(self) -> bool:
        """Tell whether every record says where its appliance takes its air and how much it burns."""
        return all(one.record.input_ is not None and one.record.air_from is not None for one in self.burning)


def check(sight: Sight) -> Iterator[Finding]:
    """Yield Findings on the air of each room in which fuel is burnt."""
    limit = sight.governing("burning-air-volume")
    codes = sight.project.record.codes
    for room in _rooms(sight):
        if limit is None:
            says = sight.say("the air for what burns in it was not worked out")
            said = sight.said(
                CODE, room.burning[0].thing.place, room.name, says, sight.say("not measured"), sight.say(HINT)
            )
            yield unheld(said, codes.building, codes.authority)
            continue
        for seen in room.burning:
            if seen.record.input_ is None:
                says = sight.say("its record does not say what it burns, so no air was counted for it")
                hint = sight.say("write input: as its label has it")
                said = sight.said(CODE, seen.thing.place, seen.thing.what, says, sight.say("not measured"), hint)
                yield finding(said, limit, Severity.ASK)
        if burnt(room.burning):
            yield from _judged(sight, room, limit)


def _rooms(sight: Sight) -> Iterator[_Room]:
    burning: dict[str, list[SeenThing]] = {}
    for seen in appliances(sight):
        if takes_room_air(seen):
            burning.setdefault(seen.file.record.room, []).append(seen)
    for key, things in burning.items():
        room = sight.room(key)
        if room is None:
            continue
        wall, door, place = _louvred(sight, things)
        own = joined(sight, room, through="")
        yield _Room(room.name, tuple(things), own, joined(sight, room, through=wall) if wall else own, door, place)


def _louvred(sight: Sight, things: list[SeenThing]) -> tuple[str, Door | None, Place]:
    """Return the partition with the louvred doors that a record of the room builds, the doors, and their place."""
    for seen in things:
        pick = chosen(seen.file.record)
        if pick is not None and isinstance(pick.choices, UtilityRoom) and pick.choices.door.louvres:
            place = sight.project.places.of(seen.file.file, *pick.path, "door", "louvres")
            return pick.choices.wall, pick.choices.door, place
    return "", None, things[0].thing.place


def _judged(sight: Sight, room: _Room, limit: Limit) -> Iterator[Finding]:
    needed = (limit.value or Fraction(0)) * burnt(room.burning) / THOUSAND * CUBIC_FOOT
    own, beyond = volume(sight, room.own), volume(sight, room.beyond)
    missed = severity(limit) if room.sure else Severity.ASK
    best = own if own >= needed else beyond
    counted = room.own if own >= needed or room.door is None else room.beyond
    says = sight.say(
        "{burnt}, for which {needed} of air are asked; {held}{doubt}",
        burnt=_burnt(sight, room),
        needed=volume_needed(needed, sight.tape, sight.tongue),
        held=_held(sight, counted, volume_words(best, sight.tape, sight.tongue)),
        doubt=_doubt(sight, room),
    )
    said = sight.said(
        CODE,
        room.burning[0].thing.place,
        room.name,
        says,
        volume_words(best, sight.tape, sight.tongue),
        sight.say(HINT),
    )
    yield judged(said, limit, best >= needed, missed)
    if own < needed and room.door is not None:
        yield from _louvres(sight, room, room.door)


def _louvres(sight: Sight, room: _Room, door: Door) -> Iterator[Finding]:
    per, least = sight.governing("burning-air-opening"), sight.governing("burning-air-opening-least")
    if per is None or least is None or per.value is None or least.value is None:
        return
    asked = max(per.value * burnt(room.burning) / THOUSAND, least.value)
    words = (door.louvres or "").lower()
    missing = [where for where in (HIGH, LOW) if not called(where).search(words)]
    known = None if door.louvre_area is None else area(door.louvre_area, sight.tape, sight.tongue)
    measured = known or sight.say("not known")
    near = sight.tape.short(NEAR_TOP)
    free = sight.say("is in no record") if known is None else sight.say("is {area}", area=known)
    says = sight.say(
        "air comes through louvers {louvres}; two openings are asked, one within {near} of "
        "the top of the room and one within {near} of its floor, {needed} free each; "
        "their free area {free}",
        louvres=door.louvres,
        near=near,
        needed=area_needed(asked, sight.tape, sight.tongue),
        free=free,
    )
    if missing:
        says = _missing(sight, says, missing)
    kept = not missing and door.louvre_area is not None and door.louvre_area >= asked
    proven = room.sure and not missing and door.louvre_area is not None
    hint = sight.say("{hint}; write louvre area: as the maker has it", hint=sight.say(HINT))
    said = sight.said(CODE, room.at_louvres, room.name, says, measured, hint)
    yield judged(said, per, kept, None if proven else Severity.ASK)


def _missing(sight: Sight, says: str, missing: list[str]) -> str:
    if len(missing) > 1:
        return sight.say("{says}, and no upper or lower ones are written", says=says)
    if missing[0] == HIGH:
        return sight.say("{says}, and no upper ones are written", says=says)
    return sight.say("{says}, and no lower ones are written", says=says)


def _burnt(sight: Sight, room: _Room) -> str:
    first, *rest = (one.thing.what for one in room.burning)
    words = heat(burnt(room.burning), sight.tape, sight.tongue)
    if not rest:
        return sight.say("{thing} burns {heat}", thing=first, heat=words)
    things = _listed(sight, [first, *(one.lower() for one in rest)])
    return sight.say("{things} together burn {heat}", things=things, heat=words)


def _held(sight: Sight, counted: Joined, air: str) -> str:
    *first, last = (room.name for room in counted.rooms)
    if not first:
        return sight.say("the {room} holds {air}", room=last, air=air)
    return sight.say("{rooms} hold {air}", rooms=_listed(sight, [*first, last]), air=air)


def _doubt(sight: Sight, room: _Room) -> str:
    unknown = [one.thing.what.lower() for one in room.burning if one.record.air_from is None]
    if len(unknown) > 1:
        return sight.say("; where these take their air is in no record: {things}", things=_listed(sight, unknown))
    return sight.say("; where the {thing} takes its air is in no record", thing=unknown[0]) if unknown else ""


def _listed(sight: Sight, names: list[str]) -> str:
    """Return names as a list of words: this, that and the other."""
    *first, last = names
    return sight.say("{others} and {last}", others=", ".join(first), last=last) if first else last

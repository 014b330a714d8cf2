"""appliance-way-out: an appliance can't be taken out through the doors of its room without tearing something out.

    PASS   a furnace 21 in on its narrow side, doors that leave 57 1/4 in clear
    FAIL   a water heater 60 in high and 30 in across, a door that leaves 28 in clear

What is narrow enough is carried upright; whether it can be tilted, or what stands in the way, is for the trade to say.
Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import Assembly
from bookgen.model.problem import Finding
from bookgen.solve.checks.appliances import appliances
from bookgen.solve.checks.judge import judged, unheld
from bookgen.solve.checks.sight import Sight

CODE = "appliance-way-out"
WITH_DOOR = frozenset({"utility room", "closet"})


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each appliance whose record builds the doors of its room."""
    codes = sight.project.record.codes
    limit = sight.governing("appliance-removable")
    rooms = {one.key: one.assembly for one in sight.obstacles}
    for seen in appliances(sight):
        room = rooms[seen.file.key]
        if room is None or room.treatment not in WITH_DOOR:
            continue
        narrow, high = min(seen.box.size("x"), seen.box.size("y")), seen.box.size("z")
        wide, top = _door(room)
        kept = narrow <= wide and high <= top
        says = sight.say(
            "it is {narrow} on its narrow side and {high} high; the doors leave {wide} by {top}",
            narrow=sight.tape.long(narrow),
            high=sight.tape.long(high),
            wide=sight.tape.long(wide),
            top=sight.tape.long(top),
        )
        leaves = sight.say("{wide} by {top}", wide=sight.tape.long(wide), top=sight.tape.long(top))
        said = sight.said(
            CODE, seen.thing.place, seen.thing.what, says, leaves,
            sight.say("write wider or higher doors, or ask how it can be taken out"),
        )  # fmt: skip
        yield unheld(said, codes.building, codes.authority) if limit is None else judged(said, limit, kept)


def _door(room: Assembly) -> tuple[Fraction, Fraction]:
    name = "top of the doors over the floor" if room.treatment == "utility room" else "top of the door over the floor"
    return room.measure("clear opening").inches, room.measure(name).inches

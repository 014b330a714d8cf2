"""egress-shut-in: a way out in an emergency is shut in, too small or too high, or a room to sleep in has none.

    PASS   egress: yes      (36 x 42 in, sill 39 7/10 in over the floor, nothing before it)
    FAIL   egress: yes      (a chase stands before the window)

The opening of the record is the hole in the wall; what the sash leaves clear is less, so measure it. Check against your
local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.geometry import Box, Point
from bookgen.model.length import Length
from bookgen.model.problem import Finding, Severity
from bookgen.model.project import PROJECT_FILE
from bookgen.model.records.project import Window
from bookgen.solve.checks.amounts import in_square_inches, wide_area
from bookgen.solve.checks.clear import Standing
from bookgen.solve.checks.judge import asked, finding, judged, keeps, practice, unheld
from bookgen.solve.checks.sight import Sight
from bookgen.solve.framing import Stretch
from bookgen.solve.site import height_above_slab, wall_frame

CODE = "egress-shut-in"
HINT = "keep the way to it and its swing free"
BEFORE = Fraction(36)  # inches into the room that somebody needs to get to a window and climb out


def check(sight: Sight) -> Iterator[Finding]:
    """Yield Findings on each way out, and one for each room to sleep in that has none."""
    ways_out = [(key, window) for key, window in sight.project.record.windows.items() if window.egress]
    for key, window in ways_out:
        yield _before(sight, key, window)
        yield from _sizes(sight, key, window)
    codes, limit = sight.project.record.codes, sight.governing("egress-area")
    inside = [_spot(sight, window) for _, window in ways_out]
    for room in sight.rooms:
        if room.use == "sleeping" and not any(sight.holds(room, spot) for spot in inside):
            place = sight.project.places.of(PROJECT_FILE, "rooms", room.key, "use")
            says = sight.say("it is a room to sleep in, and no window of it is recorded as a way out")
            hint = sight.say(
                "write egress: yes on the window that is one, or ask {authority}", authority=codes.authority
            )
            said = sight.said(CODE, place, room.name, says, sight.say("none recorded"), hint)
            yield unheld(said, codes.building, codes.authority) if limit is None else finding(said, limit, Severity.ASK)


def _before(sight: Sight, key: str, window: Window) -> Finding:
    """Return what stands before a window, from the block to where somebody stands who climbs out."""
    space = _space(sight, window)
    found = sorted({block.what for block in Standing(sight).meeting(space)})
    says = (
        sight.say("before it stands {found}", found=", ".join(found))
        if found
        else sight.say("nothing of the plan stands before it")
    )
    place = sight.project.places.of(PROJECT_FILE, "windows", key)
    said = sight.said(
        CODE,
        place,
        window.what,
        says,
        sight.say("{count} in the way", count=len(found)),
        sight.say("keep the way to it and its swing free"),
    )
    wanted = sight.say("nothing within {reach}", reach=sight.tape.long(BEFORE))
    grave = Severity.ASK if found else Severity.WITHIN
    return practice(said, grave, wanted, sight.say("measured on the plan; what a person needs to climb out"))


def _sizes(sight: Sight, key: str, window: Window) -> Iterator[Finding]:
    floor = sight.level.floor
    low, high = height_above_slab(window.sill, sight.level), height_above_slab(window.head, sight.level)
    wide = window.along.size()
    rows = (
        ("egress-sill", "sill", Length(low - floor)),
        ("egress-width", "along", wide),
        ("egress-height", "head", Length(high - low)),
    )
    codes = sight.project.record.codes
    for name, field, value in rows:
        place, limit = sight.project.places.of(PROJECT_FILE, "windows", key, field), sight.governing(name)
        hint = sight.say(
            "measure what it leaves clear when it stands open, and ask {authority}", authority=codes.authority
        )
        said = sight.said(CODE, place, window.what, _sized(sight, field, value), sight.tape.long(value), hint)
        if limit is None:
            yield unheld(said, codes.building, codes.authority)
        else:
            yield judged(said, limit, keeps(limit, value))
    yield from _area(sight, key, window, wide.inches * (high - low))


def _sized(sight: Sight, field: str, value: Length) -> str:
    size = sight.tape.long(value)
    match field:
        case "sill":
            return sight.say("its sill is {size} over the floor", size=size)
        case "along":
            return sight.say("its opening is {size} wide", size=size)
    return sight.say("its opening is {size} high", size=size)


def _area(sight: Sight, key: str, window: Window, area: Fraction) -> Iterator[Finding]:
    limit = sight.governing("egress-area")
    if limit is None or limit.value is None:
        return
    words = wide_area(area, sight.tape, sight.tongue)
    place = sight.project.places.of(PROJECT_FILE, "windows", key)
    says = sight.say("its opening in the wall is {words}; the sash takes some of it", words=words)
    hint = sight.say("measure what it leaves clear: {asked} are asked", asked=asked(limit, sight.tape, sight.tongue))
    said = sight.said(CODE, place, window.what, says, words, hint)
    yield judged(said, limit, area >= in_square_inches(limit.value, limit.unit or ""))


def _space(sight: Sight, window: Window) -> Box:
    along: Stretch = (window.along.low.inches, window.along.high.inches)
    up = height_above_slab(window.sill, sight.level), height_above_slab(window.head, sight.level)
    frame = wall_frame(window.wall, (sight.level.east_west, sight.level.north_south))
    corners = [frame.to_level(Point(x, y, z)) for x in along for y in (Fraction(0), BEFORE) for z in up]
    xs, ys, zs = (sorted(p.x for p in corners), sorted(p.y for p in corners), sorted(p.z for p in corners))
    return Box(Point(xs[0], ys[0], zs[0]), Point(xs[-1], ys[-1], zs[-1]))


def _spot(sight: Sight, window: Window) -> tuple[Fraction, Fraction]:
    """Return a spot of the plan just inside the room of a window."""
    frame = wall_frame(window.wall, (sight.level.east_west, sight.level.north_south))
    middle = (window.along.low.inches + window.along.high.inches) / 2
    spot = frame.to_level(Point(middle, sight.level.wall_face + 2, Fraction(0)))
    return spot.x, spot.y

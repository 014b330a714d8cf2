"""fireblock-places: where fire could run from one hidden space into the next, so that a block belongs there.

    PASS   a treatment without a hidden space, such as an opened stair
    FAIL   a soffit along a wall: where its space meets the studs, and across it every 10 ft

It is a list to frame by and never says that a block is there: no record has one. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from bookgen.model.assembly import Assembly
from bookgen.model.geometry import Axis, Box
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import finding, length_of
from bookgen.solve.checks.sight import SeenPart, SeenThing, Sight

CODE = "fireblock-places"
LEVEL = frozenset({"wall soffit", "hung soffit", "beam soffit"})
UPRIGHT = frozenset({"chase", "post wrap"})
NARROW = Fraction(1)  # inches: board this near the back and the top of a soffit closes the studs behind it
SKIN = Fraction(5, 2)  # inches: the soffit's own board and lowest rail or cleat close that much of the wall


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each soffit, chase, wrapped post and furred ceiling, with the places where blocks belong."""
    limit, apart = sight.governing("fireblock-where"), sight.governing("fireblock-spacing")
    if limit is None or apart is None:
        return
    for obstacle in sight.obstacles:
        built = obstacle.assembly
        places = () if built is None else tuple(_places(sight, built, length_of(apart).inches))
        if built is not None and places:
            hint = "cut the blocks to this list before the board goes up, and have them seen"
            measured = f"{len(places)} sorts of place"
            said = sight.said(CODE, built.place, built.title, f"blocks belong {'; '.join(places)}", measured, hint)
            yield finding(said, limit, Severity.NOTE)


def _places(sight: Sight, built: Assembly, apart: Fraction) -> Iterator[str]:
    if built.treatment in LEVEL:
        if built.treatment == "wall soffit":
            yield _at_wall(sight, built)
        yield "at its ends, where they meet the studs of a wall"
        yield from _across(sight, built, apart)
    elif built.treatment in UPRIGHT:
        yield "at its top, where it meets the joists or a soffit"
        if built.treatment == "chase":
            yield "at its foot, round what comes up through the slab"
    elif built.treatment == "furring":
        yield f"between the strips, at most {sight.tape.long(apart)} apart, and where they meet the walls"
    if built.treatment not in LEVEL | UPRIGHT:
        return
    pipes = [seen for seen in sight.things if seen.thing.place.file == built.place.file and _piped(seen)]
    if pipes:
        yield f"round each pipe or duct where it leaves: {', '.join(dict.fromkeys(seen.thing.what for seen in pipes))}"


def _piped(seen: SeenThing) -> bool:
    return bool(seen.record.pipe or seen.record.duct)


def _across(sight: Sight, built: Assembly, apart: Fraction) -> Iterator[str]:
    """Yield the stations where a long space is divided, evenly and no further apart than asked."""
    box = _box(sight, built)
    axis: Axis = built.frame.along
    low, high = box.low.on(axis), box.high.on(axis)
    bays = ceil((high - low) / apart)
    if bays > 1:
        stations = [sight.tape.long(low + (high - low) * number / bays) for number in range(1, bays)]
        yield f"across its inside at {', '.join(stations)} along the run, or as near as its rungs stand"


def _at_wall(sight: Sight, built: Assembly) -> str:
    """Return a word on the studs behind a soffit: where no board runs up behind it, they are open to its inside."""
    box, along = _box(sight, built), built.frame.along
    axis: Axis = "y" if along == "x" else "x"
    behind = sorted(
        (seen.box.low.on(along), seen.box.high.on(along)) for seen in sight.parts if _closes(seen, box, axis)
    )
    reached, gaps = box.low.on(along), []
    for low, high in (*behind, (box.high.on(along), box.high.on(along))):
        if low - reached >= NARROW:
            gaps.append(f"{sight.tape.long(reached)} to {sight.tape.long(low)}")
        reached = max(reached, high)
    if not gaps:
        return "nowhere along the wall, as long as the wall's board runs up whole behind it"
    return f"along the wall from {', '.join(gaps)}, where no board runs up behind it and its studs are open to it"


def _closes(seen: SeenPart, box: Box, axis: Axis) -> bool:
    """Tell whether a piece is board of a wall right behind a box, from its underside up to the top or nearly."""
    wall = seen.assembly is not None and seen.assembly.treatment == "stud wall" and seen.part.role == "board"
    near = wall and seen.box.overlaps(box.grown(NARROW)) and seen.box.size(axis) <= NARROW
    return near and seen.box.low.z <= box.low.z + SKIN and seen.box.high.z >= box.high.z - NARROW


def _box(sight: Sight, built: Assembly) -> Box:
    boxes = [seen.box for seen in sight.parts if seen.assembly is built]
    whole = boxes[0]
    for one in boxes[1:]:
        whole = whole.joined(one)
    return whole

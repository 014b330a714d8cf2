"""fireblock-places: where fire could run from one hidden space into the next, so that a block belongs there.

    PASS   a treatment without a hidden space, such as a half wall
    FAIL   a soffit along a wall: where its space meets open studs, and across it every 10 ft
    FAIL   the stringers of an enclosed stair, at their top and foot

The blocks that are cut from lumber are parts of the plan: drawn in the sketches, counted in the takeoff. It is a list
to frame by and never says that a block is there. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.assembly import SOFFITS, Assembly
from bookgen.model.geometry import Axis, Box
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import finding, length_of
from bookgen.solve.checks.sight import SeenThing, Sight
from bookgen.solve.fireblocks import THICK, UPRIGHT, Where, blocks
from bookgen.solve.flues import is_flue

CODE = "fireblock-places"
HINT = "cut the blocks to this list before the board goes up, pack what stays open, and have them seen"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each soffit, chase, wrapped post, furred ceiling and stair, with the places of its blocks."""
    limit, apart = sight.held("fireblock-where"), sight.held("fireblock-spacing")
    if limit is None or apart is None:
        return
    for obstacle in sight.obstacles:
        built = obstacle.assembly
        places = () if built is None else tuple(_places(sight, built, sight.tape.long(length_of(apart))))
        if built is not None and places:
            measured = (
                sight.say("{count} sorts of place", count=len(places))
                if len(places) > 1
                else sight.say("1 sort of place")
            )
            said = sight.said(
                CODE,
                built.place,
                sight.tongue.name(built.title),
                sight.say("blocks belong {places}", places="; ".join(places)),
                measured,
                sight.say(HINT),
            )
            yield finding(said, limit, Severity.NOTE)


def _places(sight: Sight, built: Assembly, apart: str) -> Iterator[str]:
    if built.treatment == "furring":
        yield sight.say("between the strips, at most {apart} apart, and where they meet the walls", apart=apart)
    elif built.treatment == "stair opening":
        yield sight.say("between the stringers at the top and the foot of the stair, where its underside is closed")
    if built.treatment not in SOFFITS | UPRIGHT:
        return
    cut = blocks(built)
    for where, boxes in cut.items():
        yield sight.say("{at}: {pieces}", at=_at(sight, built, where, boxes), pieces=_pieces(sight, len(boxes)))
    own = [seen for seen in sight.things if seen.thing.place.file == built.place.file]
    flues = [seen for seen in own if is_flue(seen.record, seen.thing)]
    if built.treatment in UPRIGHT and Where.TOP not in cut and not flues:
        yield sight.say("at its top, packed, since no lumber fits round what stands in it")
    if built.treatment == "chase":
        yield sight.say("at its foot, round what comes up through the slab")
    if flues:
        yield sight.say("round {flues}, of sheet metal as its maker has it and never of wood", flues=_named(flues))
    piped = [seen for seen in own if seen not in flues and (seen.record.pipe or seen.record.duct)]
    if piped:
        yield sight.say("round each pipe or duct where it leaves: {things}", things=_named(piped))


def _at(sight: Sight, built: Assembly, where: Where, boxes: tuple[Box, ...]) -> str:
    axis: Axis = built.frame.along
    starts, ends = [box.low.on(axis) for box in boxes], [box.high.on(axis) for box in boxes]
    match where:
        case Where.ACROSS:
            places = ", ".join(sight.tape.long(at) for at in sorted(set(starts)))
            return sight.say("across its inside at {places} along the run", places=places)
        case Where.END:
            one_end = max(starts) - min(starts) < THICK
            if one_end:
                return sight.say("at an end, against the studs of a wall")
            return sight.say("at both ends, against the studs of a wall")
        case Where.WALL:
            low, high = sight.tape.long(min(starts)), sight.tape.long(max(ends))
            return sight.say(
                "between the studs along the wall from {low} to {high}, where no board runs up behind it",
                low=low,
                high=high,
            )
        case Where.TOP:
            return sight.say("at its top, {height} above the slab", height=sight.tape.long(boxes[0].high.z))


def _pieces(sight: Sight, count: int) -> str:
    return sight.say("{count} pieces", count=count) if count > 1 else sight.say("1 piece")


def _named(things: list[SeenThing]) -> str:
    return ", ".join(dict.fromkeys(seen.thing.what for seen in things))

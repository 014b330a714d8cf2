"""work-meets-work: a piece of one treatment, wall or ceiling stands where a piece of another stands.

    PASS   between: 81.5 in to 122.5 in    (the soffit passes the boxed column at 124 in)
    FAIL   between: 81.5 in to 126.5 in    (its rail goes 2-1/2 in into the column)

Where two treatments meet, one is trimmed to the other. What this check finds is a meeting that nobody has thought of.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import Assembly, Material
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import AXES, box_round
from bookgen.model.meeting import meet
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import sourced
from bookgen.solve.checks.sight import SeenPart, Sight
from bookgen.solve.crowd import crowd
from bookgen.trade.tables import Sure

CODE = "work-meets-work"
UP_BETWEEN_JOISTS = frozenset({"nailer"})  # these lie beside the work that hangs on them
SOURCE = "measured on the plan of this level"


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two pieces that share volume; *first* is of a treatment. *depth* is the least way to move them apart, inches."""

    first: SeenPart
    second: SeenPart
    depth: Fraction

    def said(self, sight: Sight) -> str:
        """Return it in words."""
        first, second = (sight.work(one.assembly, one.part) for one in (self.first, self.second))
        return sight.say(
            "{first} goes {depth} into {second}", first=first, depth=sight.tape.short(self.depth), second=second
        )


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each two treatments, walls or ceilings that cut into each other: their deepest meeting."""
    worst: dict[tuple[str, str], Meeting] = {}
    for meeting in meetings(sight):
        pair = _title(sight, meeting.first), _title(sight, meeting.second)
        if pair not in worst or worst[pair].depth < meeting.depth:
            worst[pair] = meeting
    for (first, second), meeting in worst.items():
        assembly = meeting.first.assembly
        if assembly is None:
            continue
        depth = sight.tape.short(meeting.depth)
        says = sight.say(
            "{part} goes {depth} into {other} of {second}",
            part=sight.tongue.name(meeting.first.part.name),
            depth=depth,
            other=sight.tongue.name(meeting.second.part.name),
            second=second,
        )
        yield sourced(
            sight.said(CODE, assembly.place, first, says, depth, _what_to_do(sight, assembly, meeting.second)),
            Severity.STOP,
            sight.say("nothing"),
            sight.say(SOURCE),
            Sure.COMPUTED,
        )


def meetings(sight: Sight) -> Iterator[Meeting]:
    """Yield each two pieces of different work that share volume; insulation and free space give way."""
    parts = [seen for seen in sight.parts if seen.part.material not in (Material.INSULATION, Material.VOID)]
    boxes = crowd(seen.box for seen in parts)
    solids = {}
    for number, seen in enumerate(parts):
        for other in boxes.near(seen.box):
            if other <= number or parts[other].assembly is seen.assembly:
                continue
            if not boxes.boxes[other].overlaps(seen.box):
                continue
            for one in (number, other):
                if one not in solids:
                    solids[one] = parts[one].on_level()
            if meet(solids[number], solids[other]):
                pair = (parts[other], seen) if seen.assembly is None else (seen, parts[other])
                yield Meeting(*pair, _depth(*pair))


def _what_to_do(sight: Sight, first: Assembly, second: SeenPart) -> str:
    """Return what to change in the record of *first*: where the other work lies, as that record counts."""
    other = second.assembly
    if other is None or any(other is lining for lining in sight.level.linings):
        return sight.say("let one of the two stop at the other: change its along:, its framing bottom: or its outside")
    if {first.treatment, other.treatment} == {"beam soffit"}:
        return sight.say("write both beams in one record, inside one soffit, or set the sides of the two apart")
    boxes = (box for part, box in zip(other.parts, other.boxes(), strict=True) if part.role not in UP_BETWEEN_JOISTS)
    room = first.frame.box_from_level(box_round(boxes))
    low, high = room.low, room.high
    return sight.say(
        "the other lies from {start} to {end} along its run, and from {low} to {high} across it: end it before that, "
        "carry it right across, or set its sides clear of it",
        start=sight.tape.long(low.x),
        end=sight.tape.long(high.x),
        low=sight.tape.long(low.y),
        high=sight.tape.long(high.y),
    )


def _depth(first: SeenPart, second: SeenPart) -> Fraction:
    one, other = first.box, second.box
    return min(min(one.high.on(a), other.high.on(a)) - max(one.low.on(a), other.low.on(a)) for a in AXES)


def _title(sight: Sight, seen: SeenPart) -> str:
    if seen.assembly is None:
        return sight.say("the house")
    return f"{sight.tongue.name(seen.assembly.title)} ({seen.assembly.key})"

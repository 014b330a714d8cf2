"""stud-cut-too-far: a line goes through studs or a top plate where a hole or notch for it would weaken them too much.

    PASS   cable: 12-2 NM through the middle of 2x4 studs
    FAIL   cable: 6-3 NM through 2x4 studs, 3/8 in from their edge      (5/8 in is asked)
    FAIL   a bundle of lines that takes 2 in out of the edge of 2x4 studs

A hole is taken as wide as what goes through it: bored, it is more. Pipes and ducts are framed round, so this is of what
is not. A wall bears where its record says so. How near a screw may come is for `plate-needed`. Check against your local
code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis
from bookgen.model.length import Length
from bookgen.model.problem import Finding
from bookgen.solve.checks.judge import Said, judged, keeps, unheld
from bookgen.solve.checks.sight import SeenPart, SeenThing, Sight
from bookgen.solve.crowd import Crowd, crowd
from bookgen.trade.limits import Limit

CODE = "stud-cut-too-far"
STUDS = frozenset({"stud", "king stud", "jack stud", "cripple"})
PLATE = "top plate"
HALF = Fraction(1, 2)  # IRC R602.6.1, from memory: a top plate cut through more than half wants a strap
# Which figure is asked of a wall that bears, and of one that does not?
NOTCH = {True: "stud-notch-bearing", False: "stud-notch-partition"}
BORE = {True: "stud-bore-bearing", False: "stud-bore-partition"}
HINT = "lead it elsewhere, double the stud or put a strap on it, and ask before anything is bored"


@dataclass(frozen=True, slots=True)
class _Cut:
    """What a thing takes out of a stud or plate: across its depth, and how much wood is left to the nearer edge."""

    thing: SeenThing
    wood: SeenPart
    depth: Fraction
    taken: Fraction
    left: Fraction


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each line that goes through studs, and one where it goes through top plates, at the worst."""
    studs_and_plates = tuple(part for part in sight.parts if part.part.role in STUDS | {PLATE})
    row = crowd(wood.box for wood in studs_and_plates)
    for seen in sight.things:
        if seen.record.body is not None or seen.thing.system == "structure" or seen.record.post is not None:
            continue
        cuts = list(_cuts(seen, studs_and_plates, row))
        studs = [cut for cut in cuts if cut.wood.part.role in STUDS]
        plates = [cut for cut in cuts if cut.wood.part.role == PLATE]
        if studs:
            yield _stud(sight, max(studs, key=lambda cut: (cut.left <= 0, _bears(sight, cut), cut.taken)), len(studs))
        if plates:
            yield _plate(sight, max(plates, key=lambda cut: (_bears(sight, cut), cut.taken)))


def _cuts(seen: SeenThing, studs_and_plates: tuple[SeenPart, ...], row: Crowd) -> Iterator[_Cut]:
    """Yield what a thing takes out of studs and plates; *row* is the boxes round them."""
    for solid, box in zip(seen.thing.solids, seen.boxes, strict=True):
        for number in row.meeting(box):
            wood, room = studs_and_plates[number], row.boxes[number]
            flat: tuple[Axis, Axis] = ("x", "y")
            thin, deep = sorted(flat, key=room.size)
            across: Axis = "z" if wood.part.role == PLATE else thin
            deep = thin if wood.part.role == PLATE else deep
            low, high = room.low.on(deep), room.high.on(deep)
            for outline in solid.cut(across, (room.low.on(across) + room.high.on(across)) / 2):
                (u1, v1), (u2, v2) = outline.bounds()
                start, end = (u1, u2) if deep == ("y" if across == "x" else "x") else (v1, v2)
                if start < high and low < end:
                    left = min(start - low, high - end)
                    yield _Cut(seen, wood, high - low, min(end, high) - max(start, low), left)


def _bears(sight: Sight, cut: _Cut) -> bool:
    key = cut.wood.assembly.key if cut.wood.assembly is not None else ""
    wall = sight.project.record.partitions.get(key.removeprefix("partition-"))
    return wall is not None and wall.bears is True


def _stud(sight: Sight, cut: _Cut, count: int) -> Finding:
    size = sight.held((NOTCH if cut.left <= 0 else BORE)[_bears(sight, cut)])
    edge = sight.held("stud-hole-from-edge")
    if size is None or edge is None or size.value is None:
        return _unheld(sight, cut)
    most = size.value * cut.depth
    taken, left, deep = (sight.tape.short(size) for size in (cut.taken, cut.left, cut.depth))
    where = (
        sight.say("it goes through {count} studs {deep} deep", count=count, deep=deep)
        if count > 1
        else sight.say("it goes through a stud {deep} deep", deep=deep)
    )
    if cut.left <= 0:
        says = sight.say(
            "{where} and takes {taken} out of an edge; {most} is the most",
            where=where,
            taken=taken,
            most=sight.tape.short(most),
        )
        return judged(_said(sight, cut, says, taken), size, cut.taken <= most)
    says = sight.say(
        "{where}: a hole of at least {taken}, {left} from the nearer edge", where=where, taken=taken, left=left
    )
    if cut.taken > most:
        says = sight.say("{says}; {most} is the largest", says=says, most=sight.tape.short(most))
        return judged(_said(sight, cut, says, taken), size, kept=False)
    return judged(_said(sight, cut, says, left), edge, keeps(edge, Length(cut.left)))


def _plate(sight: Sight, cut: _Cut) -> Finding:
    limit: Limit | None = sight.held("top-plate-strap-thickness")
    if limit is None:
        return _unheld(sight, cut)
    taken, wide = sight.tape.short(cut.taken), sight.tape.short(cut.depth)
    says = sight.say("it goes up through a top plate {wide} wide and takes {taken} of it", wide=wide, taken=taken)
    kept = cut.taken <= cut.depth * HALF or not _bears(sight, cut)
    return judged(_said(sight, cut, says, taken), limit, kept)


def _unheld(sight: Sight, cut: _Cut) -> Finding:
    said = _said(sight, cut, sight.say("it goes through the wood of a wall"), sight.tape.short(cut.taken))
    return unheld(said, sight.codes.building, sight.codes.authority)


def _said(sight: Sight, cut: _Cut, says: str, measured: str) -> Said:
    assembly = cut.wood.assembly
    if assembly is not None:
        title = sight.tongue.name(assembly.title)
        says = sight.say("{says} of the {wall}", says=says, wall=f"{title[:1].lower()}{title[1:]}")
    return sight.said(CODE, cut.thing.thing.place, cut.thing.thing.what, says, measured, sight.say(HINT))

"""wood-cut-too-far: a pipe or cable goes through a joist where a hole or notch for it would weaken the joist too much.

    PASS   a 3/4 in copper line through the middle of 2x10 joists     (7/8 in; 3 1/16 in at most)
    FAIL   a 3 in drain through 2x8 joists                            (3 1/2 in; 2 7/16 in at most)
    FAIL   a line that cuts 1 in out of the lower edge, in the middle third of the span

A hole is taken as wide as what goes through it: bored, it is more. The span is taken from the ends of the joist and
from each beam under it. I-joists, trusses and laminated joists are cut by nobody but on their maker's word. Check
against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.frozen import dataclass
from bookgen.model.geometry import ACROSS, Axis, Box, Circle, Polygon, Prism
from bookgen.model.length import Length
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.floor_underside_bare import light
from bookgen.solve.checks.judge import Said, judged, keeps, unheld
from bookgen.solve.checks.sight import SeenPart, SeenThing, Sight
from bookgen.solve.checks.structure_cut import structure
from bookgen.solve.crowd import Crowd, crowd
from bookgen.solve.framing import Stretch
from bookgen.trade.limits import Limit

CODE = "wood-cut-too-far"
UNDER = Fraction(2)  # inches: a beam whose top is this near the underside of the joists carries them
END = Fraction(6)  # inches from a support that are the end of a joist; common practice
HINT = "lead it under the joists or between them, or ask an engineer before anything is cut"


@dataclass(frozen=True, slots=True)
class _Cut:
    """What a thing takes out of one joist: from the bottom up, and along it; inches on the level's axes."""

    thing: SeenThing
    joist: SeenPart
    up: Stretch
    along: Stretch

    @property
    def depth(self) -> Fraction:
        """Return the depth of the joist."""
        return self.joist.box.size("z")

    @property
    def taken(self) -> Fraction:
        """Return how much of the depth is taken."""
        return min(self.up[1], self.joist.box.high.z) - max(self.up[0], self.joist.box.low.z)

    def meets(self, thin: Axis) -> bool:
        """Tell whether it is in the joist at all; *thin* is the axis across the joist."""
        other: Axis = "y" if thin == "x" else "x"
        room = self.joist.box
        level = self.up[0] < room.high.z and room.low.z < self.up[1]
        return level and self.along[0] < room.high.on(other) and room.low.on(other) < self.along[1]

    @property
    def left(self) -> Fraction:
        """Return how much wood is left between the cut and the nearer edge; nothing of a notch."""
        return min(self.up[0] - self.joist.box.low.z, self.joist.box.high.z - self.up[1])


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each pipe, duct or cable that goes through joists, at the joist that suffers most."""
    joists = tuple(part for part in sight.parts if part.part.role == "joist" and isinstance(part.part.solid, Prism))
    row = crowd(joist.box for joist in joists)
    for seen in sight.things:
        if seen.record.body is None and seen.thing.system != "structure" and seen.record.post is None:
            cuts = _cuts(seen, joists, row)
            if cuts:
                yield from _judged(sight, seen, cuts)


def _cuts(seen: SeenThing, joists: tuple[SeenPart, ...], row: Crowd) -> list[_Cut]:
    """Return what a thing takes out of *joists*; *row* is the boxes round them."""
    found: list[_Cut] = []
    for solid, box in zip(seen.thing.solids, seen.boxes, strict=True):
        for number in row.meeting(box):
            joist, room = joists[number], row.boxes[number]
            thin: Axis = "x" if room.size("x") < room.size("y") else "y"
            outlines = solid.cut(thin, (room.low.on(thin) + room.high.on(thin)) / 2)
            cuts = (_Cut(seen, joist, *_spans(outline, thin)) for outline in outlines)
            found += [cut for cut in cuts if cut.meets(thin)]
    return found


def _spans(outline: Polygon | Circle, thin: Axis) -> tuple[Stretch, Stretch]:
    """Return the stretches of a cut's outline up and along the joist."""
    (u1, v1), (u2, v2) = outline.bounds()
    return ((v1, v2), (u1, u2)) if ACROSS[thin][1] == "z" else ((u1, u2), (v1, v2))


def _judged(sight: Sight, seen: SeenThing, cuts: list[_Cut]) -> Iterator[Finding]:
    joists = sight.project.record.level.joists
    count = len({cut.joist.part.name for cut in cuts})
    where = sight.say("{count} joists", count=count) if count > 1 else sight.say("1 joist")
    if joists.kind != "sawn":
        rule = sight.held("engineered-wood-uncut")
        said = _said(
            sight,
            seen,
            sight.say("it goes through {where}, and they are {kind}", where=where, kind=light(sight, joists.kind)),
            where,
        )
        yield (
            unheld(said, sight.codes.building, sight.codes.authority)
            if rule is None
            else judged(said, rule, kept=False)
        )
        return
    worst = max(cuts, key=lambda cut: (cut.left <= 0, cut.taken / cut.depth, -cut.left))
    yield from (_notch if worst.left <= 0 else _hole)(sight, worst, where)


def _hole(sight: Sight, cut: _Cut, where: str) -> Iterator[Finding]:
    size, edge = sight.governing("joist-hole"), sight.governing("joist-hole-from-edge")
    if size is None or edge is None or size.value is None:
        yield _unheld(sight, cut, where)
        return
    most = Length(size.value * cut.depth)
    wide, left = sight.tape.short(cut.taken), sight.tape.short(cut.left)
    deep = sight.tape.short(cut.depth)
    says = sight.say(
        "it goes through {where}, {deep} deep: a hole of at least {wide}, {left} from the nearer edge",
        where=where,
        deep=deep,
        wide=wide,
        left=left,
    )
    if cut.taken > most.inches:
        said = _said(
            sight, cut.thing, sight.say("{says}; {most} is the largest", says=says, most=sight.tape.short(most)), wide
        )
        yield judged(said, size, kept=False, missed=_softer(cut))
    else:
        yield judged(_said(sight, cut.thing, says, left), edge, keeps(edge, Length(cut.left)), _softer(cut))


def _notch(sight: Sight, cut: _Cut, where: str) -> Iterator[Finding]:
    ends, rest = sight.governing("joist-end-notch-depth"), sight.governing("joist-notch-depth")
    if ends is None or rest is None or ends.value is None or rest.value is None:
        yield _unheld(sight, cut, where)
        return
    from_support, third = _place(sight, cut)
    at_end = from_support <= END
    limit: Limit = ends if at_end else rest
    most = (limit.value or Fraction(0)) * cut.depth
    deep, taken = sight.tape.short(cut.depth), sight.tape.short(cut.taken)
    says = sight.say(
        "it cuts {taken} out of an edge of {where}, {deep} deep; {most} is the most",
        taken=taken,
        where=where,
        deep=deep,
        most=sight.tape.short(most),
    )
    if third and not at_end:
        says = sight.say("{says}, and nothing in the middle third of the span", says=says)
    yield judged(_said(sight, cut.thing, says, taken), limit, cut.taken <= most and (at_end or not third), _softer(cut))


def _place(sight: Sight, cut: _Cut) -> tuple[Fraction, bool]:
    """Return how far a cut is from the nearest support of its joist, and whether it is in a span's middle third."""
    row, middle = _supports(sight, cut.joist.box), sum(cut.along, Fraction(0)) / 2
    left = max((at for at in row if at <= middle), default=row[0])
    right = min((at for at in row if at > middle), default=row[-1])
    share = (middle - left) / (right - left) if right > left else Fraction(0)
    return min(abs(middle - at) for at in row), Fraction(1, 3) < share < Fraction(2, 3)


def _supports(sight: Sight, joist: Box) -> list[Fraction]:
    """Return where a joist is held up: its ends, and the middle of each beam right under it."""
    run: Axis = "y" if joist.size("y") >= joist.size("x") else "x"
    across: Axis = "x" if run == "y" else "y"
    low, high = joist.low.on(run), joist.high.on(run)
    found = {low, high}
    for beam in structure(sight):
        box = beam.box
        under = box.low.on(across) < joist.high.on(across) and joist.low.on(across) < box.high.on(across)
        if under and low < box.low.on(run) and box.high.on(run) < high and abs(box.high.z - joist.low.z) <= UNDER:
            found.add((box.low.on(run) + box.high.on(run)) / 2)
    return sorted(found)


def _softer(cut: _Cut) -> Severity | None:
    return None if cut.thing.thing.known.how == "measured" else Severity.ASK


def _unheld(sight: Sight, cut: _Cut, where: str) -> Finding:
    said = _said(sight, cut.thing, sight.say("it goes through {where}", where=where), sight.tape.short(cut.taken))
    return unheld(said, sight.codes.building, sight.codes.authority)


def _said(sight: Sight, seen: SeenThing, says: str, measured: str) -> Said:
    return sight.said(CODE, seen.thing.place, seen.thing.what, says, measured, sight.say(HINT))

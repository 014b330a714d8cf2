"""top-plate-cut: the top plate of a wall is cut away for what goes through it, so the wall's two parts are not tied.

    PASS   a top plate that runs through from end to end
    FAIL   bears: yes, and a duct through the top plate

In a wall that bears, a steel strap bridges the cut. Whether it bears is for somebody to say who may: write `bears:`.
Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from bookgen.model.assembly import Assembly
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import Said, severity, sourced, unheld
from bookgen.solve.checks.sight import SeenPart, Sight
from bookgen.solve.framing import Stretch

CODE = "top-plate-cut"
LIMIT = "top-plate-strap-thickness"
GAP = Fraction(1)  # inches: a joint of two sticks is no gap
DEEP = Fraction(6)  # inches under the joists that the top plate of a wall can be in


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each partition."""
    for assembly, parts in sight.by_assembly():
        if assembly.key.startswith("partition-"):
            yield _one(sight, assembly, parts)


def _one(sight: Sight, assembly: Assembly, parts: tuple[SeenPart, ...]) -> Finding:
    limit = sight.held(LIMIT)
    wall = sight.project.record.partitions[assembly.key.removeprefix("partition-")]
    gaps = _gaps(sight, assembly, parts)
    if not gaps:
        said = _said(
            sight, assembly, sight.say("its top plate runs through, as far as the wall goes up"), sight.say("no gap")
        )
    else:
        words = ", ".join(
            sight.say("{low} to {high}", low=sight.tape.long(low), high=sight.tape.long(high)) for low, high in gaps
        )
        doubt = "" if wall.bears is not None else sight.say("; no record says whether it bears")
        wide = sight.tape.long(max(high - low for low, high in gaps))
        said = _said(
            sight,
            assembly,
            sight.say("its top plate is cut away from {words}{doubt}", words=words, doubt=doubt),
            sight.say("{wide} at most", wide=wide),
        )
    if limit is None:
        return unheld(said, sight.codes.building, sight.codes.authority)
    grave = Severity.WITHIN if not gaps or wall.bears is False else severity(limit) if wall.bears else Severity.NOTE
    return sourced(said, grave, sight.say(limit.applies), limit.cited, limit.sure)


def _gaps(sight: Sight, assembly: Assembly, parts: tuple[SeenPart, ...]) -> list[Stretch]:
    """Return the stretches between the plates under the joists."""
    axis = assembly.frame.along
    top = [seen.box for seen in parts if seen.part.role == "top plate" and seen.box.high.z > sight.level.joists - DEEP]
    if not top:
        return []
    highest = max(box.high.z for box in top)
    row = sorted((box.low.on(axis), box.high.on(axis)) for box in top if box.high.z == highest)
    return [(first[1], second[0]) for first, second in pairwise(row) if second[0] - first[1] > GAP]


def _said(sight: Sight, assembly: Assembly, says: str, measured: str) -> Said:
    hint = sight.say("ask whether the wall bears; if it does, bridge the cut with a steel strap on both sides of it")
    return sight.said(CODE, assembly.place, sight.tongue.name(assembly.title), says, measured, hint)

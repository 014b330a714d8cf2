"""door-swing-blocked: a door of a closet or a utility room can't open to a right angle.

    PASS   leaf: 30 x 76 in, swings: out      (nothing within 30 in of its hinge up to 76 in)
    FAIL   leaf: 30 x 80 in, swings: out      (a soffit comes down to 78 in before it)

Measured with the leaf as it sweeps, against all work and all hidden things of the records; furniture is in none.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.meeting import meet
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import practice
from bookgen.solve.checks.sight import Sight

CODE = "door-swing-blocked"
OPENS = frozenset({"door", "jamb", "cover", "slab"})


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each leaf of each door that a treatment builds."""
    for obstacle in sight.obstacles:
        if obstacle.assembly is None:
            continue
        frame = obstacle.assembly.frame
        for space in obstacle.assembly.spaces:
            if not space.name.startswith("swing"):
                continue
            solid = frame.solid_to_level(space.solid)
            room = solid.bounds()
            parts = (
                sight.work(seen.assembly, seen.part)
                for seen in sight.parts
                if seen.part.role not in OPENS
                and seen.box.overlaps(room)
                and meet(
                    seen.assembly.frame.solid_to_level(seen.part.solid) if seen.assembly else seen.part.solid, solid
                )
            )
            things = (
                seen.thing.what
                for seen in sight.things
                if seen.box.overlaps(room) and any(meet(one, solid) for one in seen.thing.solids)
            )
            met = sorted({*parts, *things})
            says = (
                sight.say("in its way: {met}", met=", ".join(met))
                if met
                else sight.say("nothing of the records is in its way")
            )
            hint = sight.say("take a lower or a narrower leaf, hinge it on its other side, or move what is there")
            where = f"{sight.tongue.name(obstacle.assembly.title)}, {sight.tongue.name(space.name)}"
            said = sight.said(
                CODE, obstacle.assembly.place, where, says, sight.say("{count} in the way", count=len(met)), hint
            )
            grave = Severity.ASK if met else Severity.WITHIN
            yield practice(
                said, grave, sight.say("opens to a right angle"), sight.say("measured on the plan of this level")
            )

"""untreated-on-concrete: wood that is not treated stands on the slab, where damp comes up into it.

    PASS   a bottom plate of 2x4 treated on the slab
    FAIL   a bottom plate of plain 2x4 on the slab

A post of a rail is a note: set it off the slab or take a treated one. A barrier to moisture under the wood will serve
too; no record has one. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import Assembly, Material
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import judged, unheld
from bookgen.solve.checks.sight import SeenPart, Sight

CODE = "untreated-on-concrete"
PLAIN = frozenset({Material.LUMBER, Material.BLOCKING})
POST = "post"
SLAB = Fraction(0)  # its top is where heights are measured from


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each treatment and wall with wood on the slab."""
    for assembly, parts in _standing(sight):
        posts = tuple(seen for seen in parts if seen.part.role == POST)
        for limit, group in (("wood-on-concrete", _others(parts)), ("wood-post-above-floor", posts)):
            if group:
                yield _judged(sight, assembly, limit, group)


def _others(parts: tuple[SeenPart, ...]) -> tuple[SeenPart, ...]:
    return tuple(seen for seen in parts if seen.part.role != POST)


def _judged(sight: Sight, assembly: Assembly, name: str, parts: tuple[SeenPart, ...]) -> Finding:
    codes, limit = sight.project.record.codes, sight.governing(name)
    plain = tuple(sight.tongue.name(seen.part.name) for seen in parts if seen.part.material in PLAIN)
    says = (
        sight.say("untreated on the slab: {plain}", plain=", ".join(plain))
        if plain
        else sight.say("what stands on the slab is treated")
    )
    measured = sight.say("{count} of {all} pieces untreated", count=len(plain), all=len(parts))
    hint = sight.say("use treated stock, or lay a barrier to moisture under it")
    said = sight.said(CODE, assembly.place, sight.tongue.name(assembly.title), says, measured, hint)
    if limit is None:
        return unheld(said, codes.building, codes.authority)
    return judged(said, limit, not plain, Severity.NOTE if parts[0].part.role == POST else None)


def _standing(sight: Sight) -> Iterator[tuple[Assembly, tuple[SeenPart, ...]]]:
    wood = PLAIN | {Material.TREATED}
    for assembly, own in sight.by_assembly():
        parts = tuple(s for s in own if s.part.material in wood and s.box.low.z <= SLAB < s.box.high.z)
        if parts:
            yield assembly, parts

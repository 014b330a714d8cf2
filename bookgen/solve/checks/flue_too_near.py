"""flue-too-near: a pipe for burnt gas runs nearer to wood or board than what it is made as allows; both burn.

    PASS   vent: type B          (4 1/4 in from the joists beside it; 1 in is asked where its listing says no more)
    FAIL   vent: single wall     (4 1/4 in from the joists beside it; 6 in is asked)

The listing on the pipe and the papers of the appliance govern: a `clearance:` on record is asked where it is more, or
where no record says what the pipe is made as. Without either the larger figure is asked. Board counts: its paper burns.
Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import Material
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box
from bookgen.model.length import Length
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import Said, finding, judged, keeps, length_of, practice, unheld
from bookgen.solve.checks.nearness import apart
from bookgen.solve.checks.sight import SeenPart, SeenThing, Sight
from bookgen.solve.flues import is_flue
from bookgen.trade.limits import Limit

CODE = "flue-too-near"
WOOD = frozenset({Material.LUMBER, Material.TREATED, Material.BLOCKING, Material.FINISH, Material.PANEL})
BURNS = {**dict.fromkeys(WOOD, "wood"), Material.BOARD: "board"}
LOOK = Fraction(12)  # inches round a flue that are looked at
# Which figure is asked of a pipe made so?
LIMITS = {
    "type B": "flue-clearance-type-b",
    "single wall": "flue-clearance-single-wall",
    "chimney": "flue-clearance-chimney",
}
UNKNOWN = "flue-clearance-single-wall"  # the larger one
LABEL = "the label on the pipe, as its record has it"
HINT = "read the listing on the pipe, shield or move the wood, and ask the heating contractor"


@dataclass(frozen=True, slots=True)
class _Near:
    """The nearest wood or board: how far, which of the two, and what it is called."""

    gap: Fraction
    sort: str
    what: str


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding on the nearest wood and one on the nearest board of each flue, and on what it passes through."""
    for seen in sight.things:
        if is_flue(seen.record, seen.thing):
            yield from _one(sight, seen)


def _one(sight: Sight, seen: SeenThing) -> Iterator[Finding]:
    kind = seen.record.vent
    if kind == "plastic":
        rule = sight.held("flue-clearance-plastic")
        says = sight.say("it is plastic; the maker of the appliance says how near wood may come")
        said = _said(sight, seen, says, sight.say("not measured"), sight.say("read the papers of the appliance"))
        yield (
            unheld(said, sight.codes.building, sight.codes.authority)
            if rule is None
            else finding(said, rule, Severity.NOTE)
        )
        return
    limit = sight.held(LIMITS.get(kind or "", UNKNOWN))
    nearest = _nearest(sight, seen)
    for near in nearest:
        yield _measured(sight, seen, near, limit)
    if limit is not None and not nearest:
        says = sight.say("no wood and no board of the plan is within {reach} of it", reach=sight.tape.short(LOOK))
        yield judged(
            _said(sight, seen, says, sight.say("over {figure}", figure=sight.tape.short(LOOK)), sight.say(HINT)),
            limit,
            kept=True,
        )
    yield from _passing(sight, seen)


def _measured(sight: Sight, seen: SeenThing, near: _Near, limit: Limit | None) -> Finding:
    """Return the Finding on the nearest wood or board, against the table's figure or the one of the label."""
    kind, label = seen.record.vent, seen.thing.clearance
    gap = sight.tape.short(near.gap)
    says = sight.say("{what} is {gap} from it", what=near.what, gap=gap)
    if label and (kind is None or limit is None or label > length_of(limit).inches):
        said = _said(sight, seen, says, gap, _hint(sight, kind))
        grave = Severity.WITHIN if near.gap >= label else Severity.ASK
        return practice(said, grave, sight.say("at least {figure}", figure=sight.tape.short(label)), sight.say(LABEL))
    doubt = "" if kind is not None else sight.say("; no record says what it is made as, so the larger figure is asked")
    said = _said(sight, seen, f"{says}{doubt}", gap, _hint(sight, kind))
    if limit is None:
        return unheld(said, sight.codes.building, sight.codes.authority)
    return judged(said, limit, keeps(limit, Length(near.gap)), None if kind else Severity.ASK)


def _nearest(sight: Sight, seen: SeenThing) -> list[_Near]:
    """Return the nearest wood and the nearest board, where there is any within what is looked at."""
    found: dict[str, _Near] = {}
    for solid, own in zip(seen.thing.solids, seen.boxes, strict=True):
        for number in sight.standing.near(own.grown(LOOK)):
            other, box = sight.standers[number]
            sort = BURNS.get(other.part.material) if isinstance(other, SeenPart) else None
            if sort is None or not isinstance(other, SeenPart):
                continue
            gap = apart(solid, box)
            if gap <= LOOK and (sort not in found or gap < found[sort].gap):
                found[sort] = _Near(gap, sort, sight.work(other.assembly, other.part))
    return list(found.values())


def _passing(sight: Sight, seen: SeenThing) -> Iterator[Finding]:
    """Yield a Finding where a single-walled pipe goes up through the joists."""
    rule = sight.held("flue-single-wall-through")
    through = any(_through(box, sight.level.joists) for box in seen.boxes)
    if rule is not None and through and seen.record.vent == "single wall":
        high = sight.tape.long(seen.box.high.z - sight.level.floor)
        said = _said(
            sight,
            seen,
            sight.say("it goes up through the floor above"),
            sight.say("up to {high} over the floor", high=high),
            sight.say(HINT),
        )
        yield judged(said, rule, kept=False)


def _through(box: Box, joists: Fraction) -> bool:
    return box.low.z < joists < box.high.z


def _hint(sight: Sight, kind: str | None) -> str:
    if kind:
        return sight.say(HINT)
    return sight.say("look what it is and write vent: and clearance: with it; {hint}", hint=sight.say(HINT))


def _said(sight: Sight, seen: SeenThing, says: str, measured: str, hint: str) -> Said:
    return sight.said(CODE, seen.thing.place, seen.thing.what, says, measured, hint)

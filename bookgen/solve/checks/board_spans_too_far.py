"""board-spans-too-far: the wood behind a board stands further apart than a board of that thickness may span.

    PASS   1/2 in board on strips 16 in apart
    FAIL   3/8 in board on strips 24 in apart

Some figures hold only for boards laid across the wood; then it is a note to lay them so. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from bookgen.model.assembly import Assembly
from bookgen.model.geometry import ACROSS, Axis, Box, Prism
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import PROVEN, Said, sourced
from bookgen.solve.checks.sight import SeenPart, Sight
from bookgen.solve.crowd import Crowd, crowd
from bookgen.trade.board import Board, Direction, Span, Surface, board, spans

CODE = "board-spans-too-far"
NO_WOOD = frozenset({"board", "door", "cover", "jamb", "fireblock"})  # what carries no board
TOUCHING = Fraction(1, 8)  # inches: wood this near behind a board carries it


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each thickness of board on the walls and on the undersides of each treatment and wall."""
    for assembly, own in sight.by_assembly():
        wood = crowd(seen.box for seen in own if seen.part.role not in NO_WOOD)
        worst: dict[tuple[str, Surface], Fraction] = {}
        for seen in own:
            gap = _widest(seen, wood) if seen.part.role == "board" and isinstance(seen.part.solid, Prism) else None
            if gap is not None:
                key = (seen.part.stock, _surface(seen))
                worst[key] = max(worst.get(key, Fraction(0)), gap)
        for (stock, surface), gap in worst.items():
            kind = board(stock)
            if kind is not None:
                yield _judged(sight, assembly, (kind, surface), gap)


def _carries(seen: SeenPart, assembly: Assembly) -> bool:
    """Tell whether a part of the house carries the board of an assembly that has no wood of its own."""
    return assembly.treatment == "plain ceiling" and seen.assembly is None and seen.part.role == "joist"


def _surface(seen: SeenPart) -> Surface:
    return Surface.CEILING if _thin(seen.box) == "z" else Surface.WALL


def _thin(box: Box) -> Axis:
    axes: tuple[Axis, Axis, Axis] = ("x", "y", "z")
    return min(axes, key=box.size)


def _widest(seen: SeenPart, wood: Crowd) -> Fraction | None:
    """Return the widest bay behind a board, centre to centre, for the way its wood runs; None for less than a bay.

    Wood that runs both ways carries the board both ways, so the closer of the two rows counts.
    """
    axis = _thin(seen.box)
    first, second = ACROSS[axis]
    twice: tuple[set[Fraction], set[Fraction]] = (set(), set())  # the middles on the two axes, doubled
    for box in (wood.boxes[number] for number in wood.meeting(seen.box.grown(TOUCHING))):
        one, other = box.size(first), box.size(second)
        if other > one:
            twice[0].add(box.low.on(first) + box.high.on(first))
        elif one > other:
            twice[1].add(box.low.on(second) + box.high.on(second))
    rows = [max(high - low for low, high in pairwise(sorted(row))) for row in twice if len(row) > 1]
    return min(rows) / 2 if rows else None


def _judged(sight: Sight, assembly: Assembly, laid: tuple[Board, Surface], gap: Fraction) -> Finding:
    kind, surface = laid
    held = spans(kind, surface)
    width = sight.tape.short(gap)
    named = {"board": sight.tongue.name(sight.tape.stock(kind.name)), "width": width}
    says = (
        sight.say("the wood behind its {board} stands {width} apart at most, on its underside", **named)
        if surface is Surface.CEILING
        else sight.say("the wood behind its {board} stands {width} apart at most, on its walls", **named)
    )
    said = sight.said(
        CODE,
        assembly.place,
        sight.tongue.name(assembly.title),
        says,
        width,
        sight.say("set the wood closer, or use a thicker board"),
    )
    either = [span for span in held if span.direction is Direction.EITHER and gap <= span.spacing.inches]
    across = [span for span in held if span.direction is Direction.ACROSS and gap <= span.spacing.inches]
    if either:
        return _of(said, Severity.WITHIN, either[0])
    if across:
        hint = (
            sight.say("lay the boards' long edges across the wood")
            if across[0].water_texture
            else sight.say("lay the boards' long edges across the wood, and with no water-based texture on them")
        )
        return _of(replace(said, hint=hint), Severity.NOTE, across[0])
    if not held:
        return sourced(
            said,
            Severity.ASK,
            sight.say("not known"),
            sight.say("no figure of {board} is held here", board=named["board"]),
            kind.sure,
        )
    most = max(held, key=lambda span: span.spacing)
    return _of(said, Severity.STOP if most.sure in PROVEN else Severity.ASK, most)


def _of(said: Said, grave: Severity, span: Span) -> Finding:
    say, most = said.tongue.say, said.tape.short(span.spacing)
    across = span.direction is Direction.ACROSS
    wanted = say("at most {figure}, boards across", figure=most) if across else say("at most {figure}", figure=most)
    return sourced(said, grave, wanted, span.source, span.sure)

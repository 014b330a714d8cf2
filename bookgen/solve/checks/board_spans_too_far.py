"""board-spans-too-far: the wood behind a board stands further apart than a board of that thickness may span.

    PASS   1/2 in board on strips 16 in apart
    FAIL   3/8 in board on strips 24 in apart

Some figures hold only for boards laid across the wood; then it is a note to lay them so. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from bookgen.model.assembly import Assembly
from bookgen.model.geometry import ACROSS, Axis, Box, Prism
from bookgen.model.length import Length, show_inches
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.judge import PROVEN, Said, sourced
from bookgen.solve.checks.sight import SeenPart, Sight
from bookgen.trade.board import Board, Direction, Span, Surface, board, spans

CODE = "board-spans-too-far"
TOUCHING = Fraction(1, 8)  # inches: wood this near behind a board carries it


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each thickness of board on the walls and on the undersides of each treatment and wall."""
    for assembly in _assemblies(sight):
        own = [seen for seen in sight.parts if seen.assembly is assembly]
        worst: dict[tuple[str, Surface], Fraction] = {}
        for seen in own:
            gap = _widest(seen, own) if seen.part.role == "board" and isinstance(seen.part.solid, Prism) else None
            if gap is not None:
                key = (seen.part.stock, _surface(seen))
                worst[key] = max(worst.get(key, Fraction(0)), gap)
        for (stock, surface), gap in worst.items():
            kind = board(stock)
            if kind is not None:
                yield _judged(assembly, kind, surface, gap)


def _assemblies(sight: Sight) -> Iterator[Assembly]:
    yield from (one.assembly for one in sight.obstacles if one.assembly is not None)
    yield from sight.level.linings


def _surface(seen: SeenPart) -> Surface:
    return Surface.CEILING if _thin(seen.box) == "z" else Surface.WALL


def _thin(box: Box) -> Axis:
    axes: tuple[Axis, Axis, Axis] = ("x", "y", "z")
    return min(axes, key=box.size)


def _widest(seen: SeenPart, own: list[SeenPart]) -> Fraction | None:
    """Return the widest bay behind a board, centre to centre, for the way its wood runs; None for less than a bay.

    Wood that runs both ways carries the board both ways, so the closer of the two rows counts.
    """
    axis = _thin(seen.box)
    grown = seen.box.grown(TOUCHING)
    behind = [p.box for p in own if p.part.role not in {"board", "door", "cover", "jamb"} and grown.overlaps(p.box)]
    rows = []
    for across in ACROSS[axis]:
        other = next(one for one in ACROSS[axis] if one != across)
        centres = sorted({(b.low.on(across) + b.high.on(across)) / 2 for b in behind if b.size(other) > b.size(across)})
        if len(centres) > 1:
            rows.append(max(high - low for low, high in pairwise(centres)))
    return min(rows) if rows else None


def _judged(assembly: Assembly, kind: Board, surface: Surface, gap: Fraction) -> Finding:
    held = spans(kind, surface)
    width = show_inches(Length(gap))
    where = "underside" if surface is Surface.CEILING else "walls"
    says = f"the wood behind its {kind.name} stands {width} apart at most, on its {where}"
    said = Said(CODE, assembly.place, assembly.title, says, width, "set the wood closer, or use a thicker board")
    either = [span for span in held if span.direction is Direction.EITHER and gap <= span.spacing.inches]
    across = [span for span in held if span.direction is Direction.ACROSS and gap <= span.spacing.inches]
    if either:
        return _of(said, Severity.WITHIN, either[0])
    if across:
        texture = "" if across[0].water_texture else ", and with no water-based texture on them"
        hint = f"lay the boards' long edges across the wood{texture}"
        return _of(Said(CODE, said.place, said.where, says, width, hint), Severity.NOTE, across[0])
    if not held:
        return sourced(said, Severity.ASK, "not known", f"no figure of {kind.name} is held here", kind.sure)
    most = max(held, key=lambda span: span.spacing)
    return _of(said, Severity.STOP if most.sure in PROVEN else Severity.ASK, most)


def _of(said: Said, grave: Severity, span: Span) -> Finding:
    wanted = f"at most {show_inches(span.spacing)}"
    if span.direction is Direction.ACROSS:
        wanted += ", boards across"
    return sourced(said, grave, wanted, span.source, span.sure)

"""The pieces and cutting plans of a takeoff in, the cut list and how to cut each stick in finished words out."""

from __future__ import annotations

from collections.abc import Iterable

from bookgen.compose.show import Show
from bookgen.compose.stations import stations
from bookgen.model.buying import Sticks
from bookgen.model.cutting import BoughtStick, Cut, Impossible, Proof
from bookgen.model.joinery import HALF_DEGREES, EndCut, Joinery
from bookgen.model.length import HAIR, SLASH
from bookgen.model.listing import Column, Table
from bookgen.model.solved import PieceCount

ROUGH_PERCENT = 1000  # a gap is told to a tenth of a percent


def cut_table(pieces: Iterable[PieceCount], show: Show) -> Table:
    """Return the pieces of one stock, the longest first: how many, how long, where they go, how they are cut."""
    terms = show.terms
    listed = sorted(pieces, key=lambda p: (-p.length.inches, p.obstacle, p.role))
    wide = any(piece.wide for piece in listed)
    joined = any(not piece.joinery.plain() for piece in listed)
    columns = [Column(terms["pieces"], figures=True), Column(terms["length"], figures=True)]
    columns += [Column(terms["width"], figures=True)] * wide
    columns += [Column(terms["record"]), Column(terms["part"]), Column(terms["where"])]
    columns += [Column(terms["cut so"])] * joined
    rows = []
    for piece in listed:
        row = [str(piece.count), show.length(piece.length)]
        row += [show.length(piece.wide) if piece.wide else ""] * wide
        row += [
            show.record(piece.obstacle),
            show.name(piece.role),
            stations(piece.stations, show, lengthwise=piece.lengthwise),
        ]
        row += [joinery(piece.joinery, show)] * joined
        rows.append(tuple(row))
    return Table(tuple(columns), tuple(rows))


def joinery(how: Joinery, show: Show) -> str:
    """Return in words how a piece is cut beside its length; nothing where it is cut square."""
    terms, words = show.terms, []
    if how.ripped:
        thick, wide = how.ripped
        words.append(terms["ripped"].format(size=f"{show.length(thick)} × {show.length(wide)}"))
    if len(how.ends) == 2 and len({(end.kind, end.half_degrees) for end in how.ends}) == 1:
        lie = "parallel" if how.ends[0].leans == how.ends[1].leans else "mirrored"
        words.append(terms[f"both ends {how.ends[0].kind} {lie}"].format(angle=_angle(how.ends[0])))
    else:
        words += [terms[f"{end.end} end {end.kind}"].format(angle=_angle(end)) for end in how.ends]
    for notch in how.notches:
        words.append(terms["notch"].format(long=show.length(notch.long), deep=show.length(notch.deep)))
    return "; ".join(words)


def _angle(end: EndCut) -> str:
    whole, half = divmod(end.half_degrees, HALF_DEGREES)
    return f"{whole}{HAIR}1{SLASH}2°" if half else f"{whole}°"


def stick_table(sticks: Sticks, show: Show) -> Table:
    """Return every way to cut a stick: how many alike, of which length, what comes off it and for what."""
    terms = show.terms
    columns = (
        Column(terms["diagram"], figures=True),
        Column(terms["sticks"], figures=True),
        Column(terms["of length"], figures=True),
        Column(terms["cut from it"]),
        Column(terms["left"], figures=True),
    )
    rows = tuple(
        (
            str(number),
            str(row.count),
            show.length(row.stick.length),
            "; ".join(_cut(length_cuts, show) for length_cuts in _alike(row)),
            show.length(row.left) if row.left.inches else terms["nothing left"],
        )
        for number, row in enumerate(sticks.plan.sticks, 1)
    )
    return Table(columns, rows)


def _alike(row: BoughtStick) -> list[list[Cut]]:
    """Return the cuts of a stick, those of one length together."""
    found: list[list[Cut]] = []
    for cut in row.cuts:
        if found and found[-1][0].length == cut.length:
            found[-1].append(cut)
        else:
            found.append([cut])
    return found


def _cut(cuts: list[Cut], show: Show) -> str:
    """Return one length and its number on a stick, and where these pieces go over all sticks cut alike."""
    goes: dict[str, int] = {}
    for cut in cuts:
        for share in cut.shares:
            goes[share.label] = goes.get(share.label, 0) + share.count
    goes = {show.part(label): count for label, count in goes.items()}
    where = ", ".join(label if len(goes) == 1 else f"{label} {count}" for label, count in goes.items())
    times = f"{len(cuts)} × " if len(cuts) > 1 else ""
    return f"{times}{show.length(cuts[0].length)} ({where})"


def plan_words(sticks: Sticks, show: Show) -> tuple[str, ...]:
    """Return what is known of a plan: whether less would do, what is left over, what can't be cut."""
    plan, terms = sticks.plan, show.terms
    words = []
    if plan.sticks:
        if plan.proof is Proof.OPEN:
            tenths = -(-plan.gap().numerator * ROUGH_PERCENT // plan.gap().denominator)
            words.append(terms["plan gap"].format(percent=f"{tenths / 10:g}"))
        else:
            words.append(terms[f"plan least {plan.aim.value}"])
    kept = plan.offcuts()
    if kept:
        listed = ", ".join(f"{one.count} × {show.length(one.length)}" for one in kept)
        words.append(terms["offcuts"].format(offcuts=listed, least=show.length(plan.rules.keep)))
    return (*words, *(_lost(lost, show) for lost in plan.impossible))


def _lost(lost: Impossible, show: Show) -> str:
    return show.terms["cannot cut"].format(
        count=lost.piece.count,
        length=show.length(lost.piece.length),
        where=show.part(lost.piece.label),
        says=show.name(lost.says) if lost.longest is None else f"{show.name(lost.says)} ({show.length(lost.longest)})",
        repair=show.name(lost.repair),
    )

"""cleanout-cover: a cleanout lies too deep behind the finished wall, or its cover is too small to take the plug out.

    PASS   the plug 1/4 in behind the face, a cover 12 x 14 in round it
    FAIL   the plug 4 in behind the face, a cover 4 x 4 in

A wrench and a rod need room round the plug: 2 in on each side of the pipe is what the trade leaves. Check against your
local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.geometry import ACROSS
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.cleanouts import Cleanout, cleanouts
from bookgen.solve.checks.judge import Said, finding, length_of, practice, severity
from bookgen.solve.checks.sight import Sight
from bookgen.trade.limits import Limit

CODE = "cleanout-cover"
ROUND = Fraction(2)  # inches left round a pipe for wrench and rod: common practice
SHUT = Fraction(2)  # inches: a cleanout no deeper than this behind a face is at the face


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding on the depth, one on the opening, and one where nothing opens onto a cleanout."""
    for one in cleanouts(sight):
        if one.reached.barred:
            hint = sight.say("frame an opening onto it before the board goes up")
            said = _said(sight, one, one.reached.barred, sight.say("shut in"), hint)
            yield practice(
                said,
                Severity.ASK,
                sight.say("what has a tag can be reached"),
                sight.say("measured on the plan of this level"),
            )
        if one.face is None:
            continue
        yield from _depth(sight, one)
        yield from _opening(sight, one)


def _depth(sight: Sight, one: Cleanout) -> Iterator[Finding]:
    limit = sight.governing("cleanout-face-from-finish")
    rows = sight.book.editions("cleanout-face-from-finish")
    asked = limit or (rows[0] if rows else None)
    if asked is None:
        return
    kept = one.depth <= length_of(asked).inches
    depth = sight.tape.short(one.depth)
    says = sight.say("its face lies {depth} behind the finished face", depth=depth)
    said = _said(
        sight,
        one,
        says + _other(sight, limit, asked),
        depth,
        sight.say("bring it forward with a longer tee, or ask the plumber"),
    )
    missed = severity(asked) if limit is not None else Severity.ASK
    yield finding(said, asked, Severity.WITHIN if kept else missed)


def _other(sight: Sight, limit: Limit | None, asked: Limit) -> str:
    """Return a word on a figure that comes from a code which is not the one adopted here."""
    if limit is not None:
        return ""
    codes = sight.project.record.codes
    return sight.say(
        "; no figure of {code} is held here, so that of the {other} stands for it",
        code=codes.plumbing or codes.building,
        other=asked.code,
    )


def _opening(sight: Sight, one: Cleanout) -> Iterator[Finding]:
    if one.opening is None or one.face is None:
        return
    middle = [one.reached.at.on(axis) for axis in ACROSS[one.face.axis]]
    left = min(min(at - low, high - at) for at, (low, high) in zip(middle, one.opening, strict=True))
    room = left - one.across / 2
    (u1, u2), (v1, v2) = one.opening
    sizes = f"{sight.tape.short(u2 - u1)} x {sight.tape.short(v2 - v1)}"
    says = sight.say(
        "its cover opens {sizes} and leaves {room} at the pipe's tightest side",
        sizes=sizes,
        room=sight.tape.short(room),
    )
    said = _said(sight, one, says, sight.tape.short(room), sight.say("write a larger cover, or center it on the plug"))
    wanted = sight.say("{room} round the pipe, for wrench and rod", room=sight.tape.short(ROUND))
    yield practice(
        said, Severity.WITHIN if room >= ROUND else Severity.ASK, wanted, sight.say("common practice of the trade")
    )


def _said(sight: Sight, one: Cleanout, says: str, measured: str, hint: str) -> Said:
    return sight.said(CODE, one.reached.place, one.reached.where(sight.say), says, measured, hint)

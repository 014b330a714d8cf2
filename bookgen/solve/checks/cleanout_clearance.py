"""cleanout-clearance: something fixed stands so near in front of a cleanout that no rod can be worked into it.

    PASS   open floor before the cover
    FAIL   a post or a wall 12 in before the plug of a 3 in pipe

It is measured from the cleanout's own face, as wide as its cover, to the nearest framing, board or hidden thing;
furniture is in no record. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.geometry import ACROSS, AXES, Axis, Box, Point
from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks.cleanouts import LARGE, Cleanout, cleanouts
from bookgen.solve.checks.clear import FAR, Standing
from bookgen.solve.checks.judge import judged, length_of, practice, unheld
from bookgen.solve.checks.sight import SeenFace, Sight

CODE = "cleanout-clearance"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each cleanout behind a face; what stands open has no face to measure from."""
    codes = sight.project.record.codes
    for one in cleanouts(sight):
        hint = sight.say("move what stands there, or turn the cleanout; ask the plumber")
        where, place = one.reached.where(sight.say), one.reached.place
        if one.face is None or one.opening is None:
            says = sight.say("no finished face with a cover is in front of it, so the space before it was not measured")
            said = sight.said(
                CODE, place, where, says, sight.say("not measured"), sight.say("measure it, and keep it free")
            )
            yield practice(said, Severity.NOTE, sight.say("room for a rod"), sight.say("what a cleanout is for"))
            continue
        clear, what = _ahead(one, one.face, Standing(sight, but=one.face.assembly))
        depth = sight.tape.long(clear)
        said = sight.said(
            CODE,
            place,
            where,
            sight.say("before it there is {depth}, up to {what}", depth=depth, what=what),
            depth,
            hint,
        )
        name = "cleanout-clearance-large-pipe" if one.across >= LARGE else "cleanout-clearance-small-pipe"
        limit = sight.governing(name)
        if limit is None:
            yield unheld(said, codes.plumbing or codes.building, codes.authority)
        else:
            yield judged(said, limit, clear >= length_of(limit).inches)


def _ahead(one: Cleanout, face: SeenFace, standing: Standing) -> tuple[Fraction, str]:
    """Return how far it is from the cleanout's face to the nearest thing in front of the finished face."""
    assert one.opening is not None  # noqa: S101  (the caller has looked)
    low, high = sorted((face.at, face.at + face.toward * FAR))
    first, second = ACROSS[face.axis]
    spans: dict[Axis, tuple[Fraction, Fraction]] = {
        face.axis: (low, high),
        first: one.opening[0],
        second: one.opening[1],
    }
    space = Box(Point(*(spans[axis][0] for axis in AXES)), Point(*(spans[axis][1] for axis in AXES)))
    found = [(_gap(face, block.box), block.what) for block in standing.meeting(space)]
    gap, what = min(found) if found else (FAR, standing.sight.say("nothing of the records"))
    return gap + one.depth, what


def _gap(face: SeenFace, box: Box) -> Fraction:
    near = box.low.on(face.axis) if face.toward > 0 else box.high.on(face.axis)
    return max((near - face.at) * face.toward, Fraction(0))

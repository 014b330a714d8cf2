"""box-shut-in: an electrical box is behind board, and no cover opens onto it.

    PASS   cover: {kind: cover plate, ...}    (flush in the ceiling, right at the box)
    FAIL   cover: {kind: none, ...}           (the ceiling is between the box and the room)

Boxes are known by their names: junction box, outlet box, switch box, splices. A box stays reachable even when there
are no splices in it. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.problem import Finding
from bookgen.solve.checks.judge import Said, judged, unheld
from bookgen.solve.checks.reach import BOX, access_to, middle, shut_in_by, way_to
from bookgen.solve.checks.sight import Sight, is_fitting
from bookgen.trade.called import called
from bookgen.trade.fitting import Shape

CODE = "box-shut-in"
HINT = "bring the box out to the face of the board with a cover plate, or ask the electrician"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each box that has an access point, and for each hidden one without."""
    points = sight.access
    for one in points:
        if one.point.system == "power" and one.named(BOX):
            height = sight.tape.long(one.at.z - sight.level.floor)
            says = way_to(sight, one)
            yield _judged(
                sight,
                sight.said(
                    CODE,
                    one.place,
                    one.where(sight.say),
                    says,
                    sight.say("{height} over the floor", height=height),
                    sight.say(HINT),
                ),
                not one.barred,
            )
    for seen in sight.things:
        named = seen.thing.system == "power" and (
            is_fitting(seen, Shape.BOX) or (seen.record.body and called(BOX).search(seen.thing.what))
        )
        by = shut_in_by(sight, middle(seen)) if named and access_to(seen, points) is None else ""
        if by:
            height = sight.tape.long(middle(seen).z - sight.level.floor)
            says = sight.say("it is behind {by}, and no access point leads to it", by=by)
            said = sight.said(
                CODE,
                seen.thing.place,
                seen.thing.what,
                says,
                sight.say("{height} over the floor", height=height),
                sight.say(HINT),
            )
            yield _judged(sight, said, kept=False)


def _judged(sight: Sight, said: Said, kept: bool) -> Finding:
    limit, codes = sight.governing("box-reachable"), sight.project.record.codes
    return unheld(said, codes.electrical, codes.authority) if limit is None else judged(said, limit, kept)

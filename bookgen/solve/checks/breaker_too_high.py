"""breaker-too-high: an electrical panel hangs so high that its highest breaker may be out of reach.

    PASS   above slab: 45 in to 75 in    (no handle is higher than 74 7/10 in over the floor; 79 in is the most)
    FAIL   above slab: 60 in to 90 in

The handle itself is in no record, so the top of the panel stands for it. Check against your local code.
"""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.length import Length
from bookgen.model.problem import Finding
from bookgen.solve.checks.judge import judged, length_of, unheld
from bookgen.solve.checks.panels import panels
from bookgen.solve.checks.sight import Sight

CODE = "breaker-too-high"


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each panel."""
    codes = sight.project.record.codes
    limit = sight.governing("breaker-handle-height")
    for panel in panels(sight):
        top = Length(panel.seen.box.high.z - sight.level.floor)
        said = sight.said(
            CODE,
            panel.seen.thing.place,
            panel.seen.thing.what,
            sight.say("its top is {top} over the floor", top=sight.tape.long(top)),
            sight.tape.long(top),
            sight.say("measure the middle of the highest handle, or hang the panel lower"),
        )
        yield (
            unheld(said, codes.electrical, codes.authority)
            if limit is None
            else judged(said, limit, top <= length_of(limit))
        )

"""One file a check: a solved level in, findings out; here the tuple that names them all."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from bookgen.model.problem import Finding, Severity
from bookgen.solve.checks import headroom_low, obstacle_goes_on, tie_disagrees, tie_through_wall
from bookgen.solve.checks.sight import Sight, sight

CHECKS: tuple[tuple[str, Callable[[Sight], Iterator[Finding]]], ...] = (
    (headroom_low.CODE, headroom_low.check),
    (obstacle_goes_on.CODE, obstacle_goes_on.check),
    (tie_disagrees.CODE, tie_disagrees.check),
    (tie_through_wall.CODE, tie_through_wall.check),
)
GRAVEST_FIRST = (Severity.STOP, Severity.ASK, Severity.NOTE, Severity.WITHIN)


def findings(seen: Sight) -> tuple[Finding, ...]:
    """Return what every check found, the gravest first, else in the order of the checks."""
    found = [finding for _, check in CHECKS for finding in check(seen)]
    return tuple(sorted(found, key=lambda finding: GRAVEST_FIRST.index(finding.severity)))


__all__ = ["CHECKS", "Sight", "findings", "sight"]

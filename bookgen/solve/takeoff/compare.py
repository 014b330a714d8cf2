"""A cutting plan in, and what it saves beside the plain way of buying out.

The plain way with sticks: one length throughout, each piece from the first stick with room, the longest piece first
(first fit decreasing). The length is the one that comes out best, so that nothing is won against a poor choice. The
plain way with sheets: the area and a tenth more, in whole sheets of one size.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import ceil

from bookgen.model.cutting import CuttingPlan, Piece, Saving, SawRules, Stick
from bookgen.solve.takeoff.fill import cost_of, plain
from bookgen.solve.takeoff.ticks import job_of

PLAIN_WASTE = Fraction(1, 10)  # added to an area; common practice of the trade
STICKS_WAY = "one length throughout, each piece from the first stick with room, the longest piece first"
SHEETS_WAY = "the area and a tenth more, in whole sheets of one size"


def saved_on_sticks(pieces: Iterable[Piece], sticks: Iterable[Stick], rules: SawRules, plan: CuttingPlan) -> Saving:
    """Return what *plan*, made of the same pieces, sticks and rules, saves; nothing where it has no sticks."""
    job, _ = job_of(tuple(pieces), sticks, rules)
    value = Fraction(0) if job is None else min(cost_of(job, one) for one in plain(job)) * job.unit
    return Saving(STICKS_WAY, value, plan.value)


def sheets_by_area(area: Fraction, sheet: Fraction, waste: Fraction = PLAIN_WASTE) -> int:
    """Return how many sheets the plain way buys for *area* with *waste* added; both areas in the same measure."""
    return ceil(area * (1 + waste) / sheet)

"""Pieces of one stock and the lengths a yard sells in, what to buy and how to cut it out, with proof or the gap.

Pieces from all obstacles of a project go in together, for the leftover of one soffit is the blocking of the next.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from bookgen.model.cutting import Aim, BoughtStick, Cut, CuttingPlan, Piece, Proof, SawRules, Share, Stick
from bookgen.model.length import Length
from bookgen.solve.takeoff.fill import Plan, cost_of, fill, least_cost, plain, tidy
from bookgen.solve.takeoff.ticks import Job, Pattern, job_of


def plan_cuts(pieces: Iterable[Piece], sticks: Iterable[Stick], rules: SawRules) -> CuttingPlan:
    """Return the plan that costs least, or buys the least length where not every stick has a price.

    Of equal plans always the same one is given. Pieces that no stick holds stand under `impossible`.
    """
    wanted = tuple(pieces)
    job, impossible = job_of(wanted, sticks, rules)
    if job is None:
        return CuttingPlan((), rules, Aim.LENGTH, Fraction(0), Fraction(0), Proof.BOUND, None, impossible)
    plan, bound, proof = _plan(job)
    lost = {row.piece for row in impossible}
    return CuttingPlan(
        sticks=bought(job, plan, [piece for piece in wanted if piece not in lost], rules),
        rules=rules,
        aim=job.aim,
        value=cost_of(job, plan) * job.unit,
        bound=bound * job.unit,
        proof=proof,
        rounded_up=job.rounded_up,
        impossible=impossible,
    )


def _plan(job: Job) -> tuple[dict[Pattern, int], Fraction, Proof]:
    starts = (tidy(job, plan) for plan in (fill(job, job.demands), *plain(job)))
    first, bound = min(starts, key=lambda plan: cost_of(job, plan)), least_cost(job)
    if cost_of(job, first) <= bound:
        return first, Fraction(bound), Proof.BOUND
    # The solver loads only for a job that needs it.
    from bookgen.solve.takeoff.columns import least_cost_plan

    plan, solved, proof = least_cost_plan(job, first)
    plan, bound = tidy(job, plan), max(bound, int(solved))
    return plan, Fraction(bound), Proof.BOUND if proof is Proof.OPEN and cost_of(job, plan) <= bound else proof


def bought(job: Job, plan: Plan, pieces: Iterable[Piece], rules: SawRules) -> tuple[BoughtStick, ...]:
    """Return the cutting diagrams of a plan that makes each piece just as often as asked, long sticks first.

    Pieces are told where they go in the order of the diagrams and of their labels.
    """
    places = _places(pieces)
    order = sorted(plan, key=lambda p: (-p.stick, p.counts, plan[p]))
    return tuple(_diagram(job, pattern, plan[pattern], places, rules) for pattern in order)


def _places(pieces: Iterable[Piece]) -> dict[Length, list[Share]]:
    places: dict[Length, list[Share]] = {}
    for piece in sorted(pieces, key=lambda p: (p.label, p.count)):
        places.setdefault(piece.length, []).append(Share(piece.label, piece.count))
    return places


def _diagram(
    job: Job, pattern: Pattern, times: int, places: Mapping[Length, list[Share]], rules: SawRules
) -> BoughtStick:
    lengths = [job.lengths[item] for item, count in pattern.counts for _ in range(count)]
    cuts = tuple(Cut(length, _take(places[length], times)) for length in lengths)
    stick, kerf = job.sticks[pattern.stick], rules.kerf.inches
    room = rules.usable(stick.length).inches - sum((length.inches for length in lengths), Fraction(0))
    left = room - kerf * len(lengths)  # one cut behind each piece …
    sawn = kerf * len(lengths) if left > 0 else room  # … but the last cut may run off the end of the stick
    return BoughtStick(stick, times, cuts, rules.trimmed(), Length(sawn), Length(max(left, Fraction(0))))


def _take(shares: list[Share], count: int) -> tuple[Share, ...]:
    """Take *count* pieces from the front of *shares*, which are left shorter."""
    taken = []
    while count:
        share = shares[0]
        part = min(count, share.count)
        taken.append(Share(share.label, part))
        shares[:1] = [Share(share.label, share.count - part)] if part < share.count else []
        count -= part
    return tuple(taken)

"""A level with its buying list in, the same without a price, a sum or anything worked out from one, out.

What to buy and how to cut it stay as they were planned, for the yard has to hear the same list from everybody.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from bookgen.model.buying import Buying, Sheets, Sticks
from bookgen.model.cutting import Aim, Saving
from bookgen.model.solved import Solved


def without_prices(solved: Solved) -> Solved:
    """Return the level without the price list, and its buying list without what came from it."""
    buying = solved.takeoff.buying
    told = _unpriced(buying) if buying is not None else None
    project = replace(solved.project, prices=None)
    return replace(solved, project=project, takeoff=replace(solved.takeoff, buying=told))


def without_buying(solved: Solved) -> Solved:
    """Return the level without the price list and without a buying list."""
    project = replace(solved.project, prices=None)
    return replace(solved, project=project, takeoff=replace(solved.takeoff, buying=None))


def _unpriced(buying: Buying) -> Buying:
    sticks, sheets = tuple(map(_unpriced_sticks, buying.sticks)), tuple(map(_unpriced_sheets, buying.sheets))
    return replace(buying, sticks=sticks, sheets=sheets, costs=None)


def _unpriced_sticks(one: Sticks) -> Sticks:
    plan = one.plan
    rows = tuple(replace(row, stick=replace(row.stick, price=None)) for row in plan.sticks)
    if plan.aim is Aim.COST:
        plan = replace(plan, value=Fraction(1), bound=plan.bound / plan.value if plan.value else Fraction(1))
    return replace(one, plan=replace(plan, sticks=rows), saving=_as_shares(one.saving, plan.aim))


def _unpriced_sheets(one: Sheets) -> Sheets:
    plan = one.plan
    rows = tuple(replace(row, size=replace(row.size, price=None)) for row in plan.sheets)
    if plan.aim is Aim.COST:
        plan = replace(plan, value=Fraction(1), bound=plan.bound / plan.value if plan.value else Fraction(1))
    return replace(one, plan=replace(plan, sheets=rows), saving=_as_shares(one.saving, plan.aim))


def _as_shares(saving: Saving, aim: Aim) -> Saving:
    """Return a saving in parts of the plain way, where it was a sum of money."""
    if aim is not Aim.COST or not saving.plain:
        return saving
    return replace(saving, plain=Fraction(1), planned=saving.planned / saving.plain)

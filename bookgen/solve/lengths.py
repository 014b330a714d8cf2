"""A long member and the spots where it may be joined in, the lengths that are sold to cut it in out."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.solve.framing import TREATED, Stretch
from bookgen.solve.site import Site
from bookgen.trade.lumber import lumber

LEAST = Fraction(32)  # inches; a shorter piece of a long member holds on fewer than two joists 16 in apart


def longest(stock: str) -> Fraction:
    """Return the longest stick of that stock that is sold, in inches; 0 for stock that is not made."""
    row = lumber(stock.removesuffix(TREATED))
    return max((length.inches for length in row.lengths), default=Fraction(0)) if row else Fraction(0)


def cut(whole: Stretch, spots: Iterable[Fraction], stock: str, *, early: bool = False) -> tuple[Stretch, ...]:
    """Return a member in lengths that are sold, joined on *spots*: the middles of what it is fixed to.

    With *early* the first joint comes after half a stick, so that two members side by side are not joined together.
    Where no spot is within reach of a stick the joint falls at its end.
    """
    most, (low, high) = longest(stock), whole
    held = sorted(set(spots))
    reach = most / 2 if early else most
    pieces = []
    while high - low > most:
        near = [spot for spot in held if low < spot <= low + reach and spot < high]
        good = [spot for spot in near if low + LEAST <= spot <= high - LEAST]
        joint = max(good or near, default=low + reach)
        pieces.append((low, joint))
        low, reach = joint, most
    return (*pieces, (low, high))


def too_long(site: Site, stock: str, length: Fraction, what: str, path: tuple[Step, ...]) -> tuple[Problem, ...]:
    """Return a `stick-too-long` Problem where a member that can't be joined is longer than what is sold."""
    most = longest(stock)
    if length <= most:
        return ()
    rule = (
        f"its {what} are {site.tape.short(length)} long in one piece, and {stock} is sold up to {site.tape.short(most)}"
    )
    return (site.problem("stick-too-long", path, stock, rule, "take a stock that is sold longer, such as 2x4"),)

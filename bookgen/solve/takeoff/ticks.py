"""Pieces, sticks and saw rules in, the same cutting job in whole numbers out, with what can't be cut at all.

The saw cuts n pieces apart with n - 1 cuts where the last one ends the stick. So pieces fit a stick when
sum(length + kerf) <= usable + kerf: each piece and each stick is counted one kerf longer, and nothing else is needed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import ceil, floor, gcd, lcm

from bookgen.model.cutting import Aim, Impossible, Piece, SawRules, Stick
from bookgen.model.frozen import dataclass
from bookgen.model.length import MILLIMETRES_PER_INCH, Length

MOST_TICKS = 1 << 15  # a stick of more ticks would make the tables slow; its pieces are rounded up to a mark instead
MARKS = (Fraction(1, 64), 1 / MILLIMETRES_PER_INCH / 2)  # finer than anybody marks a board: 1/64 in, 1/2 mm


@dataclass(frozen=True, slots=True)
class Pattern:
    """One way to cut a stick: which stick, and how many of which pieces, as (index, count) with no count of 0."""

    stick: int
    counts: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Job:
    """Whole numbers for the solver.

    *weights* are the different lengths, longest first, each with its kerf; *demands* how many of each. *capacities*
    and *costs* belong to *sticks*, the shortest first. A cost counts *unit* (money or inches). *usable* is what each
    capacity can really be filled to with these weights, at most.
    """

    lengths: tuple[Length, ...]
    weights: tuple[int, ...]
    demands: tuple[int, ...]
    sticks: tuple[Stick, ...]
    capacities: tuple[int, ...]
    costs: tuple[int, ...]
    unit: Fraction
    aim: Aim
    rounded_up: Length | None

    def most(self, item: int) -> int:
        """Return how many of one piece the longest stick can hold, within what is asked."""
        return min(self.demands[item], self.capacities[-1] // self.weights[item])

    def best_buy(self) -> int:
        """Return the stick that costs least for what it holds."""
        return min(range(len(self.sticks)), key=lambda stick: Fraction(self.costs[stick], self.capacities[stick]))


def job_of(
    pieces: Sequence[Piece], sticks: Iterable[Stick], rules: SawRules
) -> tuple[Job | None, tuple[Impossible, ...]]:
    """Return the job, or None where nothing can be cut, and the pieces that no stick holds."""
    sold = _sold(sticks, rules)
    longest = rules.usable(sold[-1].length) if sold else None
    rounding = _mark(pieces, sold, rules)
    possible, impossible = [], []
    for piece in sorted(pieces, key=lambda p: (-p.length.inches, p.label, p.count)):
        if longest is None or _up(piece.length.inches, rounding) > _down(longest.inches, rounding):
            impossible.append(_impossible(piece, longest))
        else:
            possible.append(piece)
    if not possible:
        return None, tuple(impossible)
    return _job(possible, sold, rules, rounding), tuple(impossible)


def _sold(sticks: Iterable[Stick], rules: SawRules) -> tuple[Stick, ...]:
    """Return each usable length once, at its lowest price, the shortest first."""
    found: dict[Length, Stick] = {}
    for stick in sticks:
        known = found.get(stick.length)
        cheaper = known is None or known.price is None or (stick.price is not None and stick.price < known.price)
        if rules.usable(stick.length).inches > 0 and cheaper:
            found[stick.length] = stick
    return tuple(found[length] for length in sorted(found))


def _mark(pieces: Sequence[Piece], sold: Sequence[Stick], rules: SawRules) -> Fraction | None:
    """Return the mark that lengths are rounded up to, or None where they can be packed as they are."""
    if not pieces or not sold:
        return None
    kerf, usable = rules.kerf.inches, [rules.usable(stick.length).inches for stick in sold]
    if (usable[-1] + kerf) / common(piece.length.inches + kerf for piece in pieces) <= MOST_TICKS:
        return None
    return next((mark for mark in MARKS if all(not length % mark for length in usable)), MARKS[0])


def _job(pieces: Sequence[Piece], sold: tuple[Stick, ...], rules: SawRules, rounding: Fraction | None) -> Job:
    demands: dict[Length, int] = {}
    for piece in pieces:
        demands[piece.length] = demands.get(piece.length, 0) + piece.count
    lengths = sorted(demands, reverse=True)
    kerf = _up(rules.kerf.inches, rounding)
    weights = [_up(length.inches, rounding) + kerf for length in lengths]
    room = tuple(_down(rules.usable(stick.length).inches, rounding) + kerf for stick in sold)
    priced = all(stick.price is not None for stick in sold)
    sold, room = _long_enough(sold, room, weights[-1])
    costs = [stick.price if priced and stick.price is not None else stick.length.inches for stick in sold]
    tick, unit = common(weights), common(costs)
    return Job(
        lengths=tuple(lengths),
        weights=tuple(int(weight / tick) for weight in weights),
        demands=tuple(demands[length] for length in lengths),
        sticks=sold,
        capacities=tuple(floor(inches / tick) for inches in room),
        costs=tuple(int(cost / unit) for cost in costs),
        unit=unit,
        aim=Aim.COST if priced else Aim.LENGTH,
        rounded_up=None if rounding is None else Length(rounding),
    )


def _long_enough(
    sold: Sequence[Stick], room: Sequence[Fraction], shortest: Fraction
) -> tuple[tuple[Stick, ...], tuple[Fraction, ...]]:
    """Return the sticks, and their room, that hold any piece at all."""
    kept = [(stick, inches) for stick, inches in zip(sold, room, strict=True) if inches >= shortest]
    return tuple(stick for stick, _ in kept), tuple(inches for _, inches in kept)


def _impossible(piece: Piece, longest: Length | None) -> Impossible:
    if longest is None:
        return Impossible(piece, None, "no stick is on sale", "say what lengths the yard sells")
    return Impossible(
        piece,
        longest,
        "longer than the longest stick on sale gives",
        "splice it where framing carries the joint, or ask the yard for a longer stick",
    )


def common(values: Iterable[Fraction]) -> Fraction:
    """Return the largest value that goes into each of some positive *values* a whole number of times."""
    every = list(values)
    bottom = lcm(*(value.denominator for value in every))
    return Fraction(gcd(*(int(value * bottom) for value in every)), bottom)


def _up(inches: Fraction, mark: Fraction | None) -> Fraction:
    return inches if mark is None else ceil(inches / mark) * mark


def _down(inches: Fraction, mark: Fraction | None) -> Fraction:
    return inches if mark is None else floor(inches / mark) * mark

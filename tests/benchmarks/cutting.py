"""Prints how long cutting plans take, beside a plain loop timed in the same run, and how near their bound they come.

Run it as `python -m tests.benchmarks.cutting`. Seconds differ between machines; the ratio to the loop much less so.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from random import Random
from time import perf_counter

import click

from bookgen.model.cutting import Piece, SawRules, Stick
from bookgen.model.length import Length
from bookgen.model.records import Prices
from bookgen.model.sheets import BoardFace, SheetSize
from bookgen.read import read
from bookgen.solve import solve
from bookgen.solve.takeoff.boards import plan_boards
from bookgen.solve.takeoff.buy import buy
from bookgen.solve.takeoff.compare import saved_on_sticks
from bookgen.solve.takeoff.cutting import plan_cuts
from tests.benchmarks.yardstick import yardstick

PROJECTS = Path(__file__).parents[2] / "projects"
PRICES = Prices.model_validate(
    {
        "yard": "a yard of this benchmark's own",
        "on": "2026-03-02",
        "stock": {
            "2x4": tuple(
                {"length": f"{feet} ft", "price": f"{feet * (40 + feet % 5) / 100:.2f}"} for feet in (8, 10, 12, 14, 16)
            ),
            "2x2": ({"length": "8 ft", "price": "2.75"},),
        },
    }
)
FEET = (8, 9, 10, 12, 14, 16, 18, 20)
PIECES = 600
CASES = ((12, False), (12, True), (40, False), (40, True), (100, False), (100, True), (PIECES, False), (PIECES, True))


def timed(work: Callable[[], object]) -> float:
    """Return the seconds that *work* took."""
    start = perf_counter()
    work()
    return perf_counter() - start


def job(different: int, priced: bool, seed: int) -> tuple[list[Piece], list[Stick]]:
    """Return 600 pieces of so many different lengths, 8 in to 15 ft 10 in, and eight lengths of stick."""
    random = Random(seed)
    lengths = random.sample(range(8 * 16, 190 * 16), different)
    chosen = lengths if different == PIECES else [random.choice(lengths) for _ in range(PIECES)]
    sticks = [
        Stick(Length(Fraction(12 * feet)), Fraction(round(feet * (45 + 15 * random.random())), 100) if priced else None)
        for feet in FEET
    ]
    return [Piece(Length(Fraction(one, 16)), 1, "piece") for one in chosen], sticks


def faces(seed: int) -> list[BoardFace]:
    """Return the faces of a house: 20 walls and 60 faces of soffits."""
    random = Random(seed)
    found = []
    for number in range(80):
        wide = Fraction(random.randrange(40 * 16, 220 * 16), 16)
        high = Fraction(365, 4) if number < 20 else Fraction(random.randrange(8 * 16, 30 * 16), 16)
        members = tuple(Length(Fraction(at)) for at in range(8, int(wide), 16))
        found.append(BoardFace(f"face {number}", Length(wide), Length(high), members))
    return found


def main() -> None:
    """Print one line a case: seconds, how often the loop, sticks over the bound, and what the plain way would cost."""
    plan_cuts(*job(40, False, 99), SawRules())  # loads the solver
    loop = min(timed(yardstick) for _ in range(3))
    click.echo(f"loop: {loop:.3f} s")
    for different, priced in CASES:
        for seed in range(3):
            pieces, sticks = job(different, priced, seed)
            start = perf_counter()
            plan = plan_cuts(pieces, sticks, SawRules())
            took = perf_counter() - start
            one = max(stick.price if priced and stick.price else stick.length.inches for stick in sticks)
            saving = saved_on_sticks(pieces, sticks, SawRules(), plan)
            click.echo(
                f"{different:4} lengths by {plan.aim.value:6}: {took:6.2f} s = {took / loop:6.1f} loops, "
                f"{float((plan.value - plan.bound) / one):5.2f} sticks over the bound ({plan.proof.value}), "
                f"saves {float(saving.share()):.1%} of the plain way"
            )
    _houses(loop)
    sheets = [SheetSize(Length(Fraction(48)), Length(Fraction(12 * feet))) for feet in (8, 9, 10, 12, 14, 16)]
    start = perf_counter()
    board = plan_boards(faces(0), sheets)
    took = perf_counter() - start
    click.echo(f"80 faces: {took:6.2f} s = {took / loop:6.1f} loops, waste {float(board.wasted()):.1%}")


def _houses(loop: float) -> None:
    """Print how long everything to buy takes for three whole houses, solved beforehand."""
    whole = 0.0
    for name, prices in (("tamarack", None), ("tamarack", PRICES), ("smallest", None)):
        project, _ = read(PROJECTS / name)
        if project is None:
            raise SystemExit(f"{name} has problems: run bookgen check {PROJECTS / name}")
        level, _ = solve(replace(project, prices=prices))
        if level is None:
            raise SystemExit(f"{name} can't be solved: run bookgen check {PROJECTS / name}")
        start = perf_counter()
        buying = buy(level).takeoff.buying
        took = perf_counter() - start
        whole += took
        gap = max((float(one.plan.gap()) for one in buying.sticks), default=0.0) if buying else 0.0
        click.echo(
            f"{name}{' by cost' if prices else ''}: {took:6.2f} s = {took / loop:6.1f} loops, largest gap {gap:.2%}"
        )
    click.echo(f"three houses: {whole:6.2f} s = {whole / loop:6.1f} loops")


if __name__ == "__main__":
    main()

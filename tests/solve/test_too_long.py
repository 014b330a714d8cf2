"""A piece that no stick holds: told by the check and by the plan, with what to do, and never a crash."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace

import pytest

from bookgen.compose import material_list
from bookgen.model.problem import Severity
from bookgen.model.records import Prices
from bookgen.model.solved import Solved
from bookgen.render.takeoff import as_text
from bookgen.solve import solve
from bookgen.solve.takeoff.buy import buy
from tests.solve.house import project

SHORT = {
    "yard": "A small yard",
    "on": "2026-03-02",
    "stock": {"2x4": ({"length": "8 ft", "price": "3.98"},), "2x4 treated": ({"length": "8 ft", "price": "5.10"},)},
}


@pytest.fixture(scope="module")
def short() -> Solved:
    """Return a level whose plates are longer than the only stick that its yard sells."""
    found, problems = solve(replace(project(), prices=Prices.model_validate(SHORT)))
    assert found is not None, problems
    return found


def test_the_check_says_which_piece_and_what_to_do(short: Solved) -> None:
    """The plates of the linings are longer than 8 ft; each wall that has one is named, with the repair."""
    found = [one for one in short.findings if one.code == "piece-too-long" and one.severity is Severity.ASK]

    assert found
    assert all("plate of 2x4" in one.says and "longer than any that is sold" in one.says for one in found)
    assert all("splice it" in one.hint for one in found)
    assert all(one.asked == "at most 8\u2032\u00a00\u2033" for one in found)


def test_without_a_price_list_every_piece_can_be_bought() -> None:
    """Linings are framed in lengths that are commonly sold, so the check has nothing to say but that it looked."""
    found, problems = solve(project())
    assert found is not None, problems

    rows = [one for one in found.findings if one.code == "piece-too-long"]
    assert {one.severity for one in rows} == {Severity.WITHIN}


def test_the_takeoff_plans_the_rest(short: Solved) -> None:
    """What can't be cut stands under its stock in words; all other pieces are bought and cut."""
    bought = buy(short)
    buying = bought.takeoff.buying
    assert buying is not None
    plan = next(one.plan for one in buying.sticks if one.stock == "2x4")
    pieces = sum(piece.count for piece in short.takeoff.pieces if piece.stock == "2x4")

    assert plan.impossible
    assert sum(row.count * len(row.cuts) for row in plan.sticks) == pieces - sum(p.piece.count for p in plan.impossible)
    assert "Can't be cut:" in as_text(material_list(bought))


def test_checking_and_binding_do_not_load_the_solver() -> None:
    """The integer programs and the workbook's library load for the takeoff alone."""
    asks = "import sys, bookgen.bind, bookgen.cli; print([m for m in ('highspy', 'openpyxl') if m in sys.modules])"
    told = subprocess.run([sys.executable, "-c", asks], capture_output=True, text=True, check=True)  # noqa: S603 (ours)

    assert told.stdout.strip() == "[]"

"""A project folder in, its takeoff in finished words or the problems out: the hall's way for the takeoff command."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from bookgen.check import Checked, check
from bookgen.compose import material_list
from bookgen.model.listing import Listing
from bookgen.model.solved import Solved
from bookgen.solve.takeoff.buy import buy


@dataclass(frozen=True, slots=True)
class TakenOff:
    """What the takeoff found: the level with its buying list and the same in words, or the problems."""

    solved: Solved | None
    listings: tuple[Listing, ...]
    checked: Checked


def take_off(folder: Path) -> TakenOff:
    """Read, solve and work out what to buy; raises OSError only where the machine is in the way."""
    checked = check(folder)
    if checked.solved is None:
        return TakenOff(None, (), checked)
    solved = buy(checked.solved)
    return TakenOff(solved, material_list(solved), checked)

"""What might hide each undecided obstacle in, lines for a person at a terminal and plain data for programs out."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.proposal import Choice, Cost, Proposal
from bookgen.model.tape import Tape

SQUARE_FOOT = 144  # square inches
SQUARE_METRE = Fraction(1_000_000) / Fraction(254, 10) ** 2  # square inches; exact
INDENT = "    "
WIDTH = 100


def lines(choice: Choice, tape: Tape) -> Iterator[str]:
    """Yield what a person reads to choose: what serves with its cost and the lines to write, then what does not."""
    yield f"{choice.place}: treatment: propose: {choice.obstacle}"
    number = 0
    for proposal in choice.proposals:
        if proposal.cost is not None:
            number += 1
            yield f"{INDENT}{number}. {_name(proposal)}"
            for words in (*_costs(proposal.cost, tape), *proposal.access):
                yield from _wrapped(words, f"{INDENT}   ")
            yield f"{INDENT}   To choose it, write in place of propose:"
            yield f"{INDENT}     treatment:"
            yield from (f"{INDENT}       {line}" for line in proposal.lines)
    if not number:
        yield f"{INDENT}Nothing that was tried serves as it stands; see why below."
    for proposal in choice.proposals:
        if proposal.cost is None:
            comma = "," if proposal.form else ""
            yield from _wrapped(f"{_name(proposal)}{comma} does not serve: {' '.join(proposal.why)}", INDENT)


def _wrapped(words: str, indent: str) -> list[str]:
    return textwrap.wrap(words, WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ")


def plain(choice: Choice) -> dict[str, object]:
    """Return a Choice for programs: lengths in inches, areas in square inches, as decimal numbers."""
    return {
        "obstacle": choice.key,
        "name": choice.obstacle,
        "place": {"file": choice.place.file, "line": choice.place.line, "column": choice.place.column},
        "proposals": [
            {
                "treatment": one.treatment,
                "form": one.form,
                "serves": one.serves,
                "record": list(one.lines),
                "cost": None if one.cost is None else _numbers(one.cost),
                "access": list(one.access),
                "why": list(one.why),
            }
            for one in choice.proposals
        ],
    }


def _name(proposal: Proposal) -> str:
    name = proposal.treatment.capitalize()
    return f"{name}, {proposal.form}" if proposal.form else name


def _costs(cost: Cost, tape: Tape) -> Iterator[str]:
    if cost.headroom is not None:
        yield f"headroom {tape.long(cost.headroom)} over the finished floor, under {_area(cost.under, tape)} of it"
    floor = f"takes {_area(cost.floor, tape)} of floor" if cost.floor else "takes no floor"
    yield f"{floor}; {_area(cost.board, tape)} of board; {cost.pieces} sticks, {tape.long(cost.sticks)} in all"


def _area(square_inches: Fraction, tape: Tape) -> str:
    feet, metres = (f"{float(square_inches / each):.1f}" for each in (SQUARE_FOOT, SQUARE_METRE))
    return tape.either(f"{feet} sq ft", f"{metres} m²")


def _numbers(cost: Cost) -> dict[str, float | int | None]:
    return {
        "headroom_in": None if cost.headroom is None else float(cost.headroom.inches),
        "floor_sq_in": float(cost.floor),
        "underside_sq_in": float(cost.under),
        "board_sq_in": float(cost.board),
        "sticks_in": float(cost.sticks.inches),
        "sticks": cost.pieces,
    }

"""What might hide an undecided obstacle, and what lines might be followed, in; words for a person, plain data out."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from pathlib import Path

from bookgen.model.assembly import Assembly
from bookgen.model.place import Place
from bookgen.model.project import Project
from bookgen.model.proposal import Choice, Cost, Proposal
from bookgen.model.solved import Solved
from bookgen.model.tape import Tape
from bookgen.trade.tongue import Tongue, tongue

INDENT = "    "
WIDTH = 100


def lines(choice: Choice, project: Project, folder: Path) -> Iterator[str]:
    """Yield what a person reads to choose: what serves with its cost and the lines to write, then what does not."""
    yield f"{folder / str(choice.place)}: treatment: propose: {choice.obstacle}"
    number, language = 0, tongue(project.record.language)
    say = language.say
    for proposal in choice.proposals:
        if proposal.cost is not None:
            number += 1
            yield f"{INDENT}{number}. {_name(proposal, language)}"
            for words in (*_costs(proposal.cost, project.tape, language), *proposal.access):
                yield from _wrapped(words, f"{INDENT}   ")
            yield f"{INDENT}   {say('To choose it, write in place of propose:')}"
            yield f"{INDENT}     treatment:"
            yield from (f"{INDENT}       {line}" for line in proposal.lines)
    if not number:
        yield f"{INDENT}{say('Nothing that was tried serves as it stands; see why below.')}"
    for proposal in choice.proposals:
        if proposal.cost is None:
            name, why = _name(proposal, language), " ".join(proposal.why)
            no = (
                say("{treatment}, does not serve: {why}", treatment=name, why=why)
                if proposal.form
                else say("{treatment} does not serve: {why}", treatment=name, why=why)
            )
            yield from _wrapped(no, INDENT)


def lines_compared(solved: Solved) -> Iterator[tuple[str, Assembly]]:
    """Yield each obstacle's name and treatment where another line than that as written would take something else."""
    for file in solved.project.obstacles:
        assembly = solved.obstacle(file.key).assembly
        if assembly is not None and assembly.lines():
            yield file.record.obstacle, assembly


def line_words(solved: Solved, folder: Path) -> Iterator[str]:
    """Yield what a person reads to choose between one straight line and steps."""
    tape, language = solved.project.tape, tongue(solved.project.record.language)
    say = language.say
    for name, assembly in lines_compared(solved):
        yield f"{folder / str(assembly.place)}: {say('the line of {name}', name=name)}"
        for number, one in enumerate(assembly.lines()):
            corners = say("{count} corners", count=one.corners) if one.corners else say("no corner")
            takes = say(
                "{floor} of floor under it, {board} of board, {corners}",
                floor=language.name(tape.area(one.floor)),
                board=language.name(tape.area(one.board)),
                corners=corners,
            )
            line = language.name(one.name).capitalize()
            yield f"{INDENT}{line if number else say('{line}, as written', line=line)}: {takes}"


def plain_lines(solved: Solved) -> list[dict[str, object]]:
    """Return the lines compared for programs: areas in square inches, as decimal numbers; that as written first."""
    return [
        {
            "obstacle": assembly.key,
            "name": name,
            "place": _place(assembly.place),
            "lines": [
                {
                    "line": one.name,
                    "floor_sq_in": float(one.floor),
                    "board_sq_in": float(one.board),
                    "corners": one.corners,
                }
                for one in assembly.lines()
            ],
        }
        for name, assembly in lines_compared(solved)
    ]


def _place(place: Place) -> dict[str, object]:
    return {"file": place.file, "line": place.line, "column": place.column}


def _wrapped(words: str, indent: str) -> list[str]:
    return textwrap.wrap(words, WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ")


def plain(choice: Choice) -> dict[str, object]:
    """Return a Choice for programs: lengths in inches, areas in square inches, as decimal numbers."""
    return {
        "obstacle": choice.key,
        "name": choice.obstacle,
        "place": _place(choice.place),
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


def _name(proposal: Proposal, language: Tongue) -> str:
    name = language.name(proposal.treatment).capitalize()
    return f"{name}, {proposal.form}" if proposal.form else name


def _costs(cost: Cost, tape: Tape, language: Tongue) -> Iterator[str]:
    say = language.say
    under, floor, board = (language.name(tape.area(area)) for area in (cost.under, cost.floor, cost.board))
    if cost.headroom is not None:
        height = tape.long(cost.headroom)
        yield say("headroom {height} over the finished floor, under {area} of it", height=height, area=under)
    takes = say("takes {area} of floor", area=floor) if cost.floor else say("takes no floor")
    length = tape.long(cost.sticks)
    yield say(
        "{takes}; {board} of board; {count} sticks, {length} in all",
        takes=takes,
        board=board,
        count=cost.pieces,
        length=length,
    )


def _numbers(cost: Cost) -> dict[str, float | int | None]:
    return {
        "headroom_in": None if cost.headroom is None else float(cost.headroom.inches),
        "floor_sq_in": float(cost.floor),
        "underside_sq_in": float(cost.under),
        "board_sq_in": float(cost.board),
        "sticks_in": float(cost.sticks.inches),
        "sticks": cost.pieces,
    }

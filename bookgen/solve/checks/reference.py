"""The checks and the tables of limits in, what every check asks out: its docstring, its examples, its figures.

A check's figures are the limits whose keys stand in its file, in every edition held, side by side; a check that no code
asks for has the source that it gives itself.
"""

from __future__ import annotations

import ast
import inspect
import re
from collections.abc import Iterator
from types import ModuleType

from bookgen.model.check_reference import CheckReference, Figure
from bookgen.model.tape import Tape
from bookgen.solve.checks import CHECKS, answers, board_spans_too_far
from bookgen.solve.checks.judge import asked
from bookgen.trade.board import Direction, all_spans
from bookgen.trade.limits import Sense, limits
from bookgen.trade.tables import Sure
from bookgen.trade.tongue import Tongue

_EXAMPLE = re.compile(r" {4}(PASS|FAIL) +(\S.*)")
_MORE = re.compile(r" {5,}(\S.*)")


def references(tape: Tape, tongue: Tongue) -> tuple[CheckReference, ...]:
    """Return what every check asks, in the order of the checks; lengths as *tape* writes them, in words of *tongue*."""
    modules = [module for _, check in CHECKS if (module := inspect.getmodule(check)) is not None]
    return tuple(_reference(module, tape, tongue) for module in (*modules, answers))


def _reference(module: ModuleType, tape: Tape, tongue: Tongue) -> CheckReference:
    own = docstring(module)
    quiet, found = (tuple(tape.told(tongue.whole(line)) for line in lines) for lines in (own.quiet, own.found))
    figures = tuple(_figures(module, tape, tongue))
    says, notes = (tape.told(tongue.whole(text)) for text in (own.says, own.notes))
    return CheckReference(own.check, says, quiet, found, notes, figures)


def docstring(module: ModuleType) -> CheckReference:
    """Return what the docstring of a check says, in English; without its figures."""
    head, examples, notes = _parts(inspect.getdoc(module) or "")
    name, _, says = head.partition(": ")
    return CheckReference(name, says.rstrip("."), examples["PASS"], examples["FAIL"], notes, ())


def _parts(text: str) -> tuple[str, dict[str, tuple[str, ...]], str]:
    """Return a docstring's first sentence, its examples by their word, and the rest as one paragraph."""
    head, _, rest = text.partition("\n\n")
    examples: dict[str, list[str]] = {"PASS": [], "FAIL": []}
    prose: list[str] = []
    last: list[str] | None = None
    for line in rest.splitlines():
        started, more = _EXAMPLE.fullmatch(line), _MORE.fullmatch(line)
        if started:
            last = examples[started[1]]
            last.append(re.sub(r" {2,}", "  ", started[2]))
        elif more and last:
            last[-1] += f" {more[1]}"
        elif line:
            prose.append(line)
    kept = {word: tuple(lines) for word, lines in examples.items()}
    return " ".join(head.split()), kept, " ".join(prose)


def _figures(module: ModuleType, tape: Tape, tongue: Tongue) -> Iterator[Figure]:
    say = tongue.say
    if module is board_spans_too_far:
        for span in all_spans():
            board = {
                "thick": tape.short(span.thickness),
                "kind": tongue.name(span.kind),
                "surface": tongue.name(span.surface),
            }
            of = (
                say("framing behind {thick} {kind} board, {surface}, long edges across the wood", **board)
                if span.direction is Direction.ACROSS
                else say("framing behind {thick} {kind} board, {surface}, long edges either way", **board)
            )
            most = say("at most {figure}", figure=tape.short(span.spacing))
            source = tongue.source(span.source)
            yield Figure(source, of, most, source, span.sure.value)
    book = limits()
    for key in _keys(module, frozenset(row.id for row in book.rows)):
        for row in book.editions(key):
            asks = "" if row.sense is Sense.RULE or row.value is None else asked(row, tape, tongue)
            cited, source = tongue.source(row.citation), tongue.source(row.source)
            yield Figure(cited, tape.told(say(row.applies)), asks, source, row.sure.value)
    own = getattr(module, "SOURCE", None)
    if own is not None:
        of = say("what this check asks of its own accord")
        yield Figure(say("no code"), of, "", tongue.whole(own), Sure.COMMON_PRACTICE.value)


def _keys(module: ModuleType, known: frozenset[str]) -> tuple[str, ...]:
    """Return the keys of limits that stand in a check's file, in their order."""
    nodes = ast.walk(ast.parse(inspect.getsource(module)))
    found = (node.value for node in nodes if isinstance(node, ast.Constant) and isinstance(node.value, str))
    return tuple(dict.fromkeys(key for key in found if key in known))

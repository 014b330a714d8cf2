"""What the program says: every English sentence of the code and the tables that a language has to have words for."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import bookgen
from bookgen.trade.cautions import cautions
from bookgen.trade.later import later
from bookgen.trade.passes import passings

SOURCE = Path(bookgen.__file__).parent
# Which fields of the tables reach a book? Whoever says them passes the field itself, never a text put together.
TABLED = {"hazard", "consequence", "avoidance", "call", "add", "words"}


def sentences() -> frozenset[str]:
    """Return every sentence that `say` is given, in the code or by a table."""
    rows = [text for row in cautions() for text in (row.hazard, row.consequence, row.avoidance, row.call)]
    rows += [row.add for row in later() if row.add]
    rows += [row.words for row in passings()]
    return frozenset((*rows, *(text for call in calls() for text in literals(call.args[0]))))


def calls() -> Iterator[ast.Call]:
    """Yield every call of `say` in the program but for the methods that hand it on."""
    for file in sorted(SOURCE.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.Call) and node.args and _is_say(node.func) and not _handed_on(node):
                yield node


def literals(node: ast.expr) -> tuple[str, ...]:
    """Return the texts that an argument may be; none where it is a field of a table."""
    if isinstance(node, ast.IfExp):
        return literals(node.body) + literals(node.orelse)
    return (node.value,) if isinstance(node, ast.Constant) and isinstance(node.value, str) else ()


def told(node: ast.expr) -> bool:
    """Tell whether what is said can be read off the code: literals, or a field of a table."""
    if isinstance(node, ast.IfExp):
        return told(node.body) and told(node.orelse)
    return isinstance(node, ast.Constant) or (isinstance(node, ast.Attribute) and node.attr in TABLED)


def _is_say(function: ast.expr) -> bool:
    name = function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")
    if isinstance(function, ast.Call):
        name = getattr(function.func, "id", "")
        return name == "say_of"
    return name == "say"


def _handed_on(call: ast.Call) -> bool:
    return isinstance(call.args[0], ast.Name) and call.args[0].id == "english"

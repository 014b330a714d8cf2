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
ROOMS = ("solve", "draw", "compose")  # `say` of the templates takes keys instead
# Which fields of the tables reach a book? Whoever says them passes the field itself, never a text put together.
SHORT = 12  # signs; a shorter text is no sentence
TABLED = {"hazard", "consequence", "avoidance", "call", "add", "words"}


def sentences() -> frozenset[str]:
    """Return every sentence that `say` is given, in the code or by a table."""
    rows = [text for row in cautions() for text in (row.hazard, row.consequence, row.avoidance, row.call)]
    rows += [row.add for row in later() if row.add]
    rows += [row.words for row in passings()]
    return frozenset((*rows, *(text for call in calls() for text in literals(call.args[0]))))


def calls() -> Iterator[ast.Call]:
    """Yield every call of `say` in the program but for the methods that hand it on."""
    for file in sorted(file for room in ROOMS for file in (SOURCE / room).rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.Call) and len(node.args) == 1 and _is_say(node.func) and not _handed_on(node):
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


def unsaid() -> Iterator[str]:
    """Yield every whole sentence of solve outside `say`: a remark that would stay English in every book."""
    for file in sorted((SOURCE / "solve").rglob("*.py")):
        if file.parent.name in ("checks", "propose"):  # findings and proposals are still English
            continue
        tree = ast.parse(file.read_text("utf-8"))
        inside = {id(node) for call in ast.walk(tree) if isinstance(call, ast.Call) for node in _parts(call)}
        documented = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
        for node in ast.walk(tree):
            text = ast.unparse(node) if isinstance(node, ast.JoinedStr) else getattr(node, "value", None)
            if isinstance(text, str) and id(node) not in inside | documented and _is_sentence(text):
                yield f"{file.name}: {text}"


def _parts(call: ast.Call) -> Iterator[ast.AST]:
    """Yield what stands in a call that says something, or in the parts of a text."""
    if _is_say(call.func):
        yield from ast.walk(call)


def _is_sentence(text: str) -> bool:
    plain = text.strip("f'\"")
    return len(plain) > SHORT and plain.endswith(".") and " " in plain

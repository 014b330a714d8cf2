"""What the program says: every English sentence of the code and the tables that a language has to have words for."""

from __future__ import annotations

import ast
import inspect
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import ModuleType

import bookgen
from bookgen.explain import record_in
from bookgen.model.problem_kinds import PROBLEM_KINDS
from bookgen.model.records import Obstacle, Prices, Project, Record
from bookgen.model.records.base import described
from bookgen.solve.checks import CHECKS, answers, headroom_low
from bookgen.solve.checks.reference import docstring
from bookgen.trade.cautions import cautions
from bookgen.trade.later import later
from bookgen.trade.limits import limits
from bookgen.trade.passes import passings
from tests.sources import module, nodes

SOURCE = Path(bookgen.__file__).parent
ROOMS = ("solve", "draw", "compose")  # `say` of the templates takes keys instead
NOTED = {limit for pair in headroom_low.LIMITS.values() for limit in pair}  # whose notes a finding repeats
# Which fields of the tables reach a book? Whoever says them passes the field itself, never a text put together.
TERMINAL = ("choosing.py", "explain.py", "report.py", "telling.py", "desk/start.py")  # what `check` and `explain` tell
SHORT = 12  # signs; a shorter text is no sentence
TABLED = {"means", "hazard", "consequence", "avoidance", "call", "add", "words", "applies", "note"}


@dataclass(frozen=True, slots=True)
class Call:
    """What one call of `say` in a file says, and the texts that have names there."""

    file: str
    said: ast.expr
    constants: Mapping[str, str]


@cache
def sentences() -> frozenset[str]:
    """Return every sentence that `say` is given, in the code or by a table."""
    rows = [text for row in cautions() for text in (row.hazard, row.consequence, row.avoidance, row.call)]
    rows += [row.add for row in later() if row.add]
    rows += [row.words for row in passings()]
    rows += [kind.means for kind in PROBLEM_KINDS]
    asked = [row for reference in _asked() for row in limits().editions(reference)]
    rows += [row.applies for row in asked] + [row.note for row in asked if row.note and row.id in NOTED]
    return frozenset((*rows, *whole(), *(text for call in calls() for text in literals(call))))


@cache
def whole() -> frozenset[str]:
    """Return every text without gaps that a book takes over as it stands: what the checks say of themselves."""
    found: set[str] = set()
    for check in _checks():
        told = docstring(check)
        found |= {told.says, told.notes, *told.quiet, *told.found, getattr(check, "SOURCE", "")}
    return frozenset((found | described_texts()) - {""})


def described_texts() -> set[str]:
    """Return what `explain` says of every record and field."""
    found: set[str] = set()
    seen: set[type[Record]] = set()
    left: list[type[Record]] = [Project, Obstacle, Prices]
    while left:
        record = left.pop()
        if record not in seen:
            seen.add(record)
            found |= {inspect.cleandoc(record.__doc__ or ""), *described(record).values()}
            left += [inner for field in record.model_fields.values() if (inner := record_in(field.annotation))]
    return found


def _checks() -> Iterator[ModuleType]:
    for _, check in CHECKS:
        yield sys.modules[check.__module__]
    yield answers


def _asked() -> frozenset[str]:
    """Return the keys of the limits that checks ask."""
    known = {row.id for row in limits().rows}
    return frozenset(
        node.value
        for check in _checks()
        for node in nodes(Path(str(check.__file__)))
        if isinstance(node, ast.Constant) and node.value in known
    )


@cache
def calls() -> tuple[Call, ...]:
    """Return every call of `say` in the program but for the methods that hand it on."""
    return tuple(_calls())


def _calls() -> Iterator[Call]:
    rooms = (file for room in ROOMS for file in (SOURCE / room).rglob("*.py"))
    for file in sorted((*rooms, *(SOURCE / name for name in TERMINAL))):
        constants = dict(_constants(module(file)))
        for node in nodes(file):
            if isinstance(node, ast.Call) and len(node.args) == 1 and _is_say(node.func) and not _handed_on(node):
                yield Call(file.name, node.args[0], constants)


def _constants(tree: ast.Module) -> Iterator[tuple[str, str]]:
    """Yield the names of a module's texts with what they hold."""
    for node in tree.body:
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Constant) and isinstance(node.value.value, str):
            yield from ((name.id, node.value.value) for name in node.targets if isinstance(name, ast.Name))


def literals(call: Call) -> tuple[str, ...]:
    """Return the texts that a call may say; none where it says a field of a table."""
    return tuple(_texts(call.said, call.constants))


def _texts(node: ast.expr, constants: Mapping[str, str]) -> Iterator[str]:
    if isinstance(node, ast.IfExp):
        yield from (*_texts(node.body, constants), *_texts(node.orelse, constants))
    elif isinstance(node, ast.Name) and node.id in constants:
        yield constants[node.id]
    elif isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value


def told(call: Call) -> bool:
    """Tell whether what is said can be read off the code: texts, also by a name, or a field of a table."""
    return _told(call.said, call.constants)


def _told(node: ast.expr, constants: Mapping[str, str]) -> bool:
    if isinstance(node, ast.IfExp):
        return _told(node.body, constants) and _told(node.orelse, constants)
    if isinstance(node, ast.Name):
        return node.id in constants
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
        inside = {id(node) for call in nodes(file) if isinstance(call, ast.Call) for node in _parts(call)}
        documented = {id(node.value) for node in nodes(file) if isinstance(node, ast.Expr)}
        for node in nodes(file):
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

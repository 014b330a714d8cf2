"""What problems say: every rule, repair and value that the code hands to one, read off the code, a gap as one sign.

A text is followed through names, choices, sums, parameters and the functions that return it, to the words that are
written there; a length, a number or the name of something in a record stays a gap.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from string import Formatter

import bookgen
from tests.sources import module, nodes

SOURCE = Path(bookgen.__file__).parent
# Who finds problems?
ROOMS = ("read/", "solve/", "model/", "trade/limits.py", "desk/", "bind.py", "look.py", *(
    f"render/{name}" for name in ("pictures.py", "pixels.py", "warp.py", "themes.py", "template_blocks.py")
))  # fmt: skip
# Findings are said in the language of the job where they are made; refused ties answer a question, no record's line.
ELSEWHERE = ("solve/checks/judge.py", "solve/checks/sight.py", "model/problem_kinds", "solve/locate/tie")
RAISED = {"LengthError", "BareNumberError", "BrokenPictureError", "ThemeError"}  # what they say becomes a rule
LENGTHS = {"LengthError", "BareNumberError"}  # these say a rule and a repair in one
# What these return is no word of ours.
MEASURED = {"short", "long", "plain", "either", "area", "stock", "str", "shown", "listed", "said", "say"}
NAMED = {"name", "theme"}  # what somebody has called something
GAP = "\ufffc"
DEEPEST = 12

Function = ast.FunctionDef | ast.Lambda


@dataclass(frozen=True, slots=True)
class Scope:
    """A function of a module, or a module itself, in which names stand for something."""

    file: str
    inside: ast.AST


@cache
def modules() -> dict[str, ast.Module]:
    """Return every module that may raise a problem, by its file."""
    files = {path.relative_to(SOURCE).as_posix(): path for path in sorted(SOURCE.rglob("*.py"))}
    return {
        file: module(path) for file, path in files.items() if file.startswith(ROOMS) and not file.startswith(ELSEWHERE)
    }


def walked(file: str) -> tuple[ast.AST, ...]:
    """Return every node of a module."""
    return nodes(SOURCE / file)


@cache
def functions() -> dict[str, list[tuple[str, ast.FunctionDef]]]:
    """Return every function and method by its name, with its file."""
    found: dict[str, list[tuple[str, ast.FunctionDef]]] = {}
    for file in modules():
        for node in walked(file):
            if isinstance(node, ast.FunctionDef):
                found.setdefault(node.name, []).append((file, node))
    return found


@cache
def calls() -> dict[str, list[tuple[Scope, ast.Call]]]:
    """Return every call by the name of what is called, each with the innermost function around it."""
    found: dict[str, list[tuple[Scope, ast.Call]]] = {}

    def walk(node: ast.AST, scope: Scope) -> None:
        for inner in ast.iter_child_nodes(node):
            if isinstance(inner, ast.Call):
                found.setdefault(_name(inner.func), []).append((scope, inner))
            walk(inner, Scope(scope.file, inner) if isinstance(inner, ast.FunctionDef) else scope)

    for file, tree in modules().items():
        walk(tree, Scope(file, tree))
    return found


@cache
def said_by_problems() -> dict[str, set[str]]:
    """Return every text that a problem may say, with the places in the code that hand it over."""
    found: dict[str, set[str]] = {}
    for name, taken in {*_takers(), *((name, ("rule",)) for name in RAISED)}:
        words = {"value", "rule", "repair"} if "rule" in taken else {"says", "repair"}
        for scope, call in calls().get(name, ()):
            if len(taken) not in (len(call.args) + len(call.keywords), 1):
                continue
            for part in _handed(call, taken, words):
                for text in () if _handed_on(part, scope) else _texts(part, scope, 0):
                    for said in text.split("; ", 1) if name in LENGTHS else [text]:
                        found.setdefault(said, set()).add(f"{scope.file}:{call.lineno}")
    return found


def _handed_on(part: ast.expr, scope: Scope) -> bool:
    """Tell whether a function hands on what it is given by those who raise the problem, who are asked themselves."""
    if not (isinstance(part, ast.Name) and isinstance(scope.inside, ast.FunctionDef)):
        return False
    taken = _parameters(scope.inside)
    return part.id in taken and any(_taker("", taken)) and not _given(part.id, scope.inside)


def _takers() -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield every function or class that takes a rule or a repair, with the names of what it takes."""
    for file in modules():
        for node in walked(file):
            if isinstance(node, ast.FunctionDef) and node.name != "__init__":
                yield from _taker(node.name, _parameters(node))
            elif isinstance(node, ast.ClassDef):
                fields = [one.target for one in node.body if isinstance(one, ast.AnnAssign)]
                begun = [one for one in node.body if isinstance(one, ast.FunctionDef) and one.name == "__init__"]
                names = tuple(one.id for one in fields if isinstance(one, ast.Name))
                yield from _taker(node.name, _parameters(begun[0]) if begun else names)


def _taker(name: str, taken: tuple[str, ...]) -> Iterator[tuple[str, tuple[str, ...]]]:
    if {"rule", "repair"} & set(taken):
        yield name, taken


def _parameters(function: Function) -> tuple[str, ...]:
    every = (*function.args.args, *function.args.kwonlyargs)
    return tuple(one.arg for one in every if one.arg not in {"self", "cls"})


def _handed(call: ast.Call, taken: tuple[str, ...], words: set[str]) -> Iterator[ast.expr]:
    yield from (one for one, name in zip(call.args, taken, strict=False) if name in words)
    yield from (one.value for one in call.keywords if one.arg in words)


def _name(function: ast.expr) -> str:
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


def _texts(words: ast.expr, scope: Scope, deep: int) -> Iterator[str]:
    """Yield every text that an expression may be; what nobody has written is a gap."""
    if deep > DEEPEST:
        return
    for inner in _choices(words):
        yield from _texts(inner, scope, deep + 1)
    match words:
        case ast.Constant(value=str(text)):
            yield text
        case ast.JoinedStr(values=values):
            yield from _joined(values, scope, deep)
        case ast.Name(id=name):
            for where, one in _meant(name, scope):
                yield from _texts(one, where, deep + 1)
        case ast.Call():
            yield from _returned(words, scope, deep)


def _choices(words: ast.expr) -> Iterator[ast.expr]:
    """Yield the expressions, one of which an expression is."""
    match words:
        case ast.IfExp(body=one, orelse=other):
            yield from (one, other)
        case ast.BoolOp(values=values) | ast.Tuple(elts=values) | ast.List(elts=values) | ast.Dict(values=values):
            yield from values
        case ast.Subscript(value=ast.Dict() | ast.Call() as inner) | ast.Starred(value=inner) | ast.Lambda(body=inner):
            yield inner
        case ast.ListComp(elt=inner) | ast.GeneratorExp(elt=inner):
            yield inner


def _joined(values: list[ast.expr], scope: Scope, deep: int) -> Iterator[str]:
    """Yield the text of an f-string; of its gaps, those that hold words of ours with each of the words in turn."""
    found = [""]
    for one in values:
        ours = [one.value] if isinstance(one, ast.Constant) else _filled(one, scope, deep)
        found = [f"{start}{end}" for start in found for end in ours]
    yield from found


def _filled(gap: ast.expr, scope: Scope, deep: int) -> list[str]:
    words = gap.value if isinstance(gap, ast.FormattedValue) else gap
    ours = [text for text in _texts(words, scope, deep + 1) if " " in text.strip() or text.strip().isalpha()]
    return list(dict.fromkeys(ours)) or [GAP]


def _returned(call: ast.Call, scope: Scope, deep: int) -> Iterator[str]:
    name = _name(call.func)
    if name in {"join", "rstrip", "format"} and isinstance(call.func, ast.Attribute):
        for text in _texts(call.args[0] if name == "join" else call.func.value, scope, deep + 1):
            yield _gaps(text) if name == "format" else text
        return
    if name in MEASURED:
        return
    handed = [one for one in _meant(name, scope) if isinstance(call.func, ast.Name)]
    for where, one in handed:  # a function that was handed over, to be asked later
        yield from _texts(ast.Call(one, [], []) if isinstance(one, ast.Name) else one, where, deep + 1)
    for file, function in () if handed else _called(call.func, scope.file):
        for value in _results(function):
            yield from _texts(value, Scope(file, function), deep + 1)


def _called(function: ast.expr, file: str) -> Iterator[tuple[str, ast.FunctionDef]]:
    """Yield the function or method that a call in a file means; none of another module that it goes through."""
    known, through = _imported(file), getattr(function, "value", None)
    if not (isinstance(through, ast.Name) and through.id in known):
        name = _name(function)
        yield from (one for one in functions().get(name, ()) if one[0] in {file, known.get(name)})


@cache
def _imported(file: str) -> dict[str, str]:
    """Return the files that the names which a module has imported come from."""
    found = (node for node in modules()[file].body if isinstance(node, ast.ImportFrom) and node.module)
    return {
        name.asname or name.name: f"{str(node.module).removeprefix('bookgen.').replace('.', '/')}.py"
        for node in found
        for name in node.names
    }


@cache
def _results(function: ast.FunctionDef) -> tuple[ast.expr, ...]:
    """Return what a function of texts returns, each way."""
    if function.returns is None or "str" not in ast.unparse(function.returns):
        return ()
    nodes = (node for node in ast.walk(function) if isinstance(node, ast.Return | ast.Yield))
    return tuple(node.value for node in nodes if node.value is not None)


def _gaps(form: str) -> str:
    return "".join(text + (GAP if gap is not None else "") for text, gap, _, _ in Formatter().parse(form))


def _meant(name: str, scope: Scope) -> Iterator[tuple[Scope, ast.expr]]:
    """Yield what a name is given in its function, by the callers of that where it is a parameter, or in its module."""
    found = [(scope, one) for one in _given(name, scope.inside)]
    if not found and isinstance(scope.inside, ast.FunctionDef) and name in set(_parameters(scope.inside)) - NAMED:
        place = _parameters(scope.inside).index(name)
        for where, call in calls().get(scope.inside.name, ()):
            found += [(where, one) for one in call.args[place : place + 1]]
            found += [(where, one.value) for one in call.keywords if one.arg == name]
    module = Scope(scope.file, modules()[scope.file])
    yield from found or ((module, one) for one in _given(name, module.inside))


def _given(name: str, inside: ast.AST) -> tuple[ast.expr, ...]:
    return tuple(_named(inside).get(name, ()))


@cache
def _named(inside: ast.AST) -> dict[str, list[ast.expr]]:
    """Return what every name of a function is given, or of a module outside its functions."""
    found: dict[str, list[ast.expr]] = {}
    nodes = ast.iter_child_nodes(inside) if isinstance(inside, ast.Module) else ast.walk(inside)
    loops: list[ast.For] = []
    for node in nodes:
        match node:
            case ast.Assign() | ast.AnnAssign() | ast.NamedExpr() if node.value is not None:
                for target in node.targets if isinstance(node, ast.Assign) else [node.target]:
                    for name, value in _parts(target, node.value):
                        found.setdefault(name, []).append(value)
            case ast.For():
                loops.append(node)
    for loop in loops:
        tables = found.get(loop.iter.id, ()) if isinstance(loop.iter, ast.Name) else [loop.iter]
        for row in [row for table in tables for row in getattr(table, "elts", ())]:
            for name, value in _parts(loop.target, row):
                found.setdefault(name, []).append(value)
    return found


def _parts(target: ast.expr, value: ast.expr) -> Iterator[tuple[str, ast.expr]]:
    """Yield each name with what it is given, also where several are given at once."""
    if isinstance(target, ast.Name):
        yield target.id, value
    elif isinstance(target, ast.Tuple):
        for whole in [value.body, value.orelse] if isinstance(value, ast.IfExp) else [value]:
            given = whole.elts if isinstance(whole, ast.Tuple) else [whole] * len(target.elts)
            yield from (pair for name, one in zip(target.elts, given, strict=False) for pair in _parts(name, one))

"""The program's own modules, each parsed and walked once for all tests of a process that read them."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path


@cache
def nodes(path: Path) -> tuple[ast.AST, ...]:
    """Return every node of a module, the module itself first; none is ever changed, so that all may share them."""
    return tuple(ast.walk(ast.parse(path.read_text("utf-8"))))


def module(path: Path) -> ast.Module:
    """Return a module as it is parsed."""
    first = nodes(path)[0]
    assert isinstance(first, ast.Module)
    return first

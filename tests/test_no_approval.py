"""Nothing that the program says, in any edition, says or implies that work is approved, allowed or without danger.

What a code asks is for talking with the building department; a finding that keeps to a figure keeps to that figure, and
says no more. So every fixed word, every string of the program and every table is read here; what the checks find on the
test levels is read where those are solved.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import bookgen
from bookgen.explain import topics
from tests.approval import wrong
from tests.sources import nodes

PACKAGE = Path(bookgen.__file__).parent
ROOT = PACKAGE.parent


def strings(path: Path) -> Iterator[str]:
    """Yield every string of a module, but for the docstrings of what nobody is shown."""
    hidden = {
        id(node.body[0].value)
        for node in nodes(path)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    for node in nodes(path):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in hidden:
            yield node.value


def test_the_test_itself_knows_approval() -> None:
    """It finds the words it is there for, and lets pass those that leave the judging to others."""
    for said in (
        "This complies with IRC 2021.",
        "The wiring is approved.",
        "It is safe to drill here.",
        "All in order.",
    ):
        assert wrong(said), said
    for said in ("check against your local code", "within the figure held", "No safe depth is known."):
        assert not wrong(said), said


def test_no_string_of_the_program_approves() -> None:
    """Messages, problems, findings and remarks are all made of the program's own strings."""
    read = [(path, said) for path in sorted(PACKAGE.rglob("*.py")) for said in strings(path)]
    assert not [(path.name, said, found) for path, said in read if (found := wrong(said))]


def test_no_table_and_no_template_approves() -> None:
    """Fixed words, cautions, limits, upkeep and templates, line by line; what people type to find it is their own."""
    paths = [*PACKAGE.rglob("*.toml"), *(ROOT / "themes").rglob("*.html"), *(ROOT / "themes").rglob("*.typ")]
    read = [(path, line) for path in sorted(paths) for line in path.read_text("utf-8").splitlines()]
    assert not [
        (path.name, line, found)
        for path, line in read
        if (found := wrong(line)) and not (path.name.startswith("search-") and line.startswith("say = "))
    ]


def test_nothing_that_is_explained_approves() -> None:
    """Docstrings of checks, records and treatments are printed by `bookgen explain` and bound as an appendix."""
    assert not [(topic.name, found) for topic in topics() if (found := wrong(topic.text))]

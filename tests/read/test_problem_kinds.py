"""The list of problem kinds and the codes that the program raises are the same, and the examples are of use."""

from __future__ import annotations

import ast
import json
import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, get_args

import pytest

import bookgen
from bookgen.model.photo import FaultCode
from bookgen.model.problem_kinds import PROBLEM_KINDS, ProblemKind
from bookgen.model.records.schema import schemas
from bookgen.read.tree import source_of
from tests.sources import nodes

SOURCE = Path(bookgen.__file__).parent
KINDS = SOURCE / "model" / "problem_kinds"
# Their refusals answer a question; no record leads to them, so they are no problems.
ANSWERS = frozenset(SOURCE / "solve" / "locate" / name for name in ("ties.py", "tie_choice.py"))
CASES = Path(__file__).parents[1] / "cases" / "read"
CODE = re.compile(r"[a-z]+(?:-[a-z0-9]+)+")
LEFT_OUT = re.compile(r"\.\.\., |(?:, )?\.\.\.")  # three points stand for keys that do not matter to an example
CODES = {kind.code for kind in PROBLEM_KINDS}
FINDINGS = frozenset({"Finding"})  # the codes of checks are listed by the checks themselves


@cache
def raised() -> dict[str, set[str]]:
    """Return the codes that are handed to anything with a parameter `code` in the whole program, with their files."""
    files = [path for path in SOURCE.rglob("*.py") if KINDS not in path.parents and path not in ANSWERS]
    takers: dict[str, int] = {}
    for path in files:
        takers.update(code_takers(path))
    found: dict[str, set[str]] = {}
    for path in files:
        for code in codes_handed_over(path, takers):
            found.setdefault(code, set()).add(path.relative_to(SOURCE).as_posix())
    return found


def code_takers(path: Path) -> Iterator[tuple[str, int]]:
    """Yield the name of every function or class with a parameter or field `code`, and which one it is."""
    for node in nodes(path):
        if isinstance(node, ast.FunctionDef):
            names = [argument.arg for argument in node.args.args if argument.arg not in {"self", "cls"}]
            names += [argument.arg for argument in node.args.kwonlyargs]
        elif isinstance(node, ast.ClassDef) and node.name not in FINDINGS:
            names = [
                part.target.id
                for part in node.body
                if isinstance(part, ast.AnnAssign) and isinstance(part.target, ast.Name)
            ]
        else:
            continue
        if "code" in names:
            yield node.name, names.index("code")


def codes_handed_over(path: Path, takers: dict[str, int]) -> Iterator[str]:
    """Yield every text that looks like a code among those that are handed over as one."""
    for node in nodes(path):
        if not isinstance(node, ast.Call):
            continue
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if name not in takers:
            continue
        places = [argument.value for argument in node.keywords if argument.arg == "code"]
        places += node.args[takers[name] : takers[name] + 1]
        for place in places:
            for part in ast.walk(place):
                if isinstance(part, ast.Constant) and isinstance(part.value, str) and CODE.fullmatch(part.value):
                    yield part.value


def test_every_code_that_is_raised_is_listed() -> None:
    """A code without an entry could not be explained to anybody."""
    unlisted = {code: sorted(files) for code, files in raised().items() if code not in CODES}

    assert unlisted == {}


def test_every_listed_code_is_raised() -> None:
    """An entry for a code that nothing raises would be a promise without a keeper."""
    texts = [path.read_text("utf-8") for path in sorted(SOURCE.rglob("*.py")) if KINDS not in path.parents]

    assert [code for code in sorted(CODES) if not any(f'"{code}"' in text for text in texts)] == []


def test_codes_are_unique_and_kebab_case() -> None:
    """Codes are permanent names: small letters with hyphens, each once."""
    assert [code for code, count in Counter(kind.code for kind in PROBLEM_KINDS).items() if count > 1] == []
    assert [code for code in CODES if not CODE.fullmatch(code)] == []


def test_every_photo_fault_is_listed() -> None:
    """The faults of a photo are problems of the record that names it."""
    assert set(get_args(FaultCode)) <= CODES


def test_every_code_of_the_read_room_has_a_case() -> None:
    """Each code that a YAML text alone can show has a line in tests/cases/read; the others have tests in Python."""
    in_cases = set(re.findall(CODE, "\n".join(path.read_text("utf-8") for path in CASES.glob("*.yaml"))))
    in_tests = "\n".join(path.read_text("utf-8") for path in Path(__file__).parent.glob("test_*.py"))
    of_read = {code for code, files in raised().items() if any(file.startswith(("read/", "model/")) for file in files)}

    assert [code for code in sorted(of_read) if code not in in_cases and f'"{code}"' not in in_tests] == []


@pytest.mark.parametrize("kind", PROBLEM_KINDS, ids=lambda kind: kind.code)
def test_examples_tell_wrong_from_right(kind: ProblemKind) -> None:
    """Both examples are there and differ; what is right is YAML of keys that records have, or a listing of files."""
    assert kind.means.endswith(".")
    assert kind.wrong.strip()
    assert kind.wrong != kind.right
    if "/" in kind.right.split(" ")[0]:
        return
    source, problems = source_of(LEFT_OUT.sub("", kind.right), "example.yaml")
    assert problems == ()
    assert source is not None
    assert set(keys_in(source.plain)) <= known_keys()


def keys_in(value: object) -> Iterator[str]:
    """Yield every key of a value and of what is inside it."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield key
            yield from keys_in(inner)
    if isinstance(value, tuple):
        for inner in value:
            yield from keys_in(inner)


@cache
def known_keys() -> frozenset[str]:
    """Return every key that stands in any record."""

    def walk(node: Any) -> Iterator[str]:
        if isinstance(node, dict):
            yield from node.get("properties", {})
            for inner in node.values():
                yield from walk(inner)
        if isinstance(node, list):
            for inner in node:
                yield from walk(inner)

    return frozenset(key for text in schemas().values() for key in walk(json.loads(text)))

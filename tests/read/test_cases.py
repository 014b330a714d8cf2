"""Every YAML file of tests/cases/read is laid over a good project; its comments say what is to be found where."""

from __future__ import annotations

import re
import shutil
from collections import Counter
from pathlib import Path

import pytest

from bookgen.read import read
from bookgen.trade.tongue import tongue

CASES = sorted((Path(__file__).parents[1] / "cases" / "read").glob("*.yaml"))
REPLACES = re.compile(r"\A# replaces: (\S+)")
EXPECTED = re.compile(r"# problem: ([a-z, -]+)$")
IN_FILE = re.compile(r"\A# problem in file: ([a-z-]+)$", re.MULTILINE)


def expected(text: str) -> Counter[tuple[int, str]]:
    """Return (line, code) of every problem that the comments announce; line 0 is the file as a whole."""
    found = [
        (number, code.strip())
        for number, line in enumerate(text.splitlines(), 1)
        if (comment := EXPECTED.search(line))
        for code in comment[1].split(",")
    ]
    return Counter(found + [(0, code) for code in IN_FILE.findall(text)])


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_problems_stand_where_the_comments_say(case: Path, good_project: Path) -> None:
    """A case has exactly the problems of its comments, each on its line, and none in any other file."""
    text = case.read_text("utf-8")
    target = REPLACES.match(text)
    file = target[1] if target else "obstacles/spoilt.yaml"
    shutil.copy(case, good_project / file)

    project, problems = read(good_project)

    assert project is None
    assert {problem.place.file for problem in problems} == {file}
    assert Counter((problem.place.line, problem.code) for problem in problems) == expected(text)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_every_message_says_rule_and_repair(case: Path, good_project: Path) -> None:
    """No message is left half empty or speaks of the program's own types, and each is told in Spanish too."""
    shutil.copy(case, good_project / "obstacles" / "spoilt.yaml")

    _, problems = read(good_project)

    told = tongue("es").told
    for problem in problems:
        assert problem.field
        assert problem.rule
        assert problem.repair
        assert told(problem.rule) != problem.rule
        assert told(problem.repair) != problem.repair
        assert not re.search(r"\b(tuple|dict|None|str|Literal|pydantic|mapping|scalar|node)\b", str(problem)), problem

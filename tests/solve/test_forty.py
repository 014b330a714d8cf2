"""A level with everything wrong at once: each deliberate violation is found, at its line, and nothing else is."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from bookgen.model.problem import Severity
from bookgen.read import read
from bookgen.solve import solve
from tests.solve.test_cases import expected

FORTY = Path(__file__).parents[1] / "cases" / "forty"
CALLED_FOR = 40


def test_forty_deliberate_violations_are_all_found() -> None:
    """The comments of its records list them, by the line at fault; no other stop and no other question comes up."""
    listed = Counter(
        (path.relative_to(FORTY).as_posix(), line, code)
        for path in sorted(FORTY.rglob("*.yaml"))
        for (line, code), count in expected(path.read_text("utf-8"), "finding").items()
        for _ in range(count)
    )
    project, problems = read(FORTY)
    assert project is not None, [str(problem) for problem in problems]

    solved, problems = solve(project)

    assert solved is not None, [str(problem) for problem in problems]
    grave = [one for one in solved.findings if one.severity in {Severity.STOP, Severity.ASK}]
    assert Counter((one.place.file, one.place.line, one.code) for one in grave) == listed
    assert sum(listed.values()) >= CALLED_FOR
    for one in grave:
        assert one.measured
        assert one.asked
        assert one.source
        assert one.hint
        assert one.spot or one.place.file == "project.yaml"

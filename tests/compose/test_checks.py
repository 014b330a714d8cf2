"""The checks of the trade edition: every finding is printed, grouped so that a person can read them."""

from __future__ import annotations

import datetime
from dataclasses import replace

from bookgen.compose.checks import chapter_rows, check_groups
from bookgen.compose.show import Show
from bookgen.compose.terms import terms
from bookgen.model.place import Place
from bookgen.model.problem import Finding, Settled, Severity

SHOW = Show("imperial", terms("en"))
STOP = Finding(
    "plate-needed", Severity.STOP, Place("obstacles/a.yaml", 3, 1), "Cable", "it runs near", "1 in", "at least 2 in",
    "NEC 300.4", "quoted", "move it",
)  # fmt: skip
FINDINGS = (
    STOP,
    replace(STOP, where="Pipe", asked="at least 3 in"),
    replace(STOP, code="headroom-low", severity=Severity.WITHIN, where="Hall"),
)


def test_every_finding_is_printed_under_its_severity_and_check() -> None:
    """Four groups, the gravest first, each counted in its title; passes are there too."""
    groups = check_groups(FINDINGS, SHOW)

    assert [group.title.rpartition(": ")[2] for group in groups] == ["2", "0", "0", "1"]
    assert [(one.check, [row.where for row in one.rows]) for group in groups for one in group.sets] == [
        ("plate-needed", ["Cable", "Pipe"]),
        ("headroom-low", ["Hall"]),
    ]


def test_what_findings_share_is_said_once_and_what_differs_in_each() -> None:
    """One source for both stands at their head; two figures asked stand each in its line."""
    (one,) = check_groups(FINDINGS, SHOW)[0].sets

    assert "NEC 300.4" in one.source
    assert {row.source for row in one.rows} == {""}
    assert (one.asked, [row.asked for row in one.rows]) == ("", ["at least 2 in", "at least 3 in"])


def test_lines_that_say_the_same_are_one_that_names_each_thing() -> None:
    """A chapter with twenty posts says once that nothing hangs from them, and of which."""
    pipe = replace(FINDINGS[1], spot="Hall, 4 ft east")
    elsewhere = replace(STOP, place=Place("obstacles/b.yaml", 3, 1))
    rows = chapter_rows((STOP, pipe, replace(STOP, where="Tank"), elsewhere), {"obstacles/a.yaml"}, SHOW)

    assert [(row.where, row.asked) for row in rows] == [
        ("Cable; Tank", "at least 2 in"),
        ("Pipe (Hall, 4 ft east)", "at least 3 in"),
    ]


def test_an_answer_is_printed_with_its_finding() -> None:
    """By whom, when and on which paper."""
    settled = Settled("Tern Electric (demo)", datetime.date(2026, 4, 2), "report")

    (row,) = check_groups((replace(STOP, answered=settled),), SHOW)[0].sets[0].rows

    assert row.answered == "Answered by Tern Electric (demo) on April\u00a02, 2026: report"

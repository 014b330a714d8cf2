"""The year's round: what is due in which month after the hand-over, what comes more seldom, which papers end."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from bookgen.compose.show import Show
from bookgen.compose.terms import terms
from bookgen.compose.year import month_rows, paper_ends
from bookgen.model.book import UpkeepRow
from bookgen.model.due import due_days
from bookgen.model.project import Project
from bookgen.model.records.project import Paper
from tests.sample_house import sample_house

SHOW = Show("imperial", terms("en"))
HANDED_OVER = date(2026, 6, 15)


def job(do: str, months: int, month: int = 0) -> UpkeepRow:
    """Return something due every so many months, in a month of its own where one is given."""
    when = SHOW.month(month) if month else ""
    return UpkeepRow(do, "", when, "", "", "owner", "", "", months, month or 6, do)


def rows(*jobs: UpkeepRow) -> dict[str, tuple[str, ...]]:
    """Return the year's round by its headings."""
    return {row.when: row.jobs for row in month_rows(jobs, HANDED_OVER, SHOW)}


def test_a_year_is_told_from_the_hand_over_on() -> None:
    """Counted on the fingers: a filter each quarter, the tap in October, alarms in ten years, a button each month."""
    told = rows(job("filter", 3), job("tap", 12, 10), job("alarms", 120, 6), job("button", 1))
    assert list(told) == [
        "Every month", "September 2026", "October 2026", "December 2026", "March 2027", "June 2027", "June 2036",
    ]  # fmt: skip
    assert told["Every month"] == ("button",)
    assert told["October 2026"] == ("tap",)
    assert told["June 2027"] == ("filter",)
    assert told["June 2036"] == ("alarms",)


@pytest.mark.parametrize("months", range(2, 13))
def test_every_turn_of_the_year_is_there(months: int) -> None:
    """Whatever the interval, the twelve months after the hand-over hold each day that it is due, and no other."""
    end = date(2027, 6, 1)
    due = due_days(months, None, HANDED_OVER, end)
    assert len(due) == 12 // months
    assert list(rows(job("it", months))) == [f"{SHOW.month(day.month)} {day.year}" for day in due]


def test_papers_that_end_are_told_in_their_order() -> None:
    """Two warranties with their last day, the sooner first; a permit without one is left out."""
    project = sample_house().project
    papers = [
        {"what": "Furnace warranty", "kind": "warranty", "ends": "2036-06-12", "number": "FW-1"},
        {"what": "Board and trim", "kind": "warranty", "ends": "2027-06-12"},
        {"what": "Building permit", "kind": "permit"},
    ]
    found = paper_ends(_with_papers(project, papers), SHOW)
    assert [(row.what, row.iso_date) for row in found] == [
        ("Ends: Board and trim", "2027-06-12"), ("Ends: Furnace warranty", "2036-06-12"),
    ]  # fmt: skip
    assert found == paper_ends(_with_papers(project, papers[::-1]), SHOW)
    assert len({row.uid for row in found}) == 2


def _with_papers(project: Project, papers: list[dict[str, str]]) -> Project:
    made = tuple(Paper.model_validate(paper) for paper in papers)
    return replace(project, record=project.record.model_copy(update={"papers": made}))

"""The upkeep table in, what is due month by month, then what comes more seldom, out; and the ends of warranties."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from datetime import date

from bookgen.compose.show import Show
from bookgen.model.book import DatedRow, MonthRow, UpkeepRow
from bookgen.model.due import MONTHS_A_YEAR, due_days, first_due
from bookgen.model.project import Project

UID_LENGTH = 16


def month_rows(upkeep: tuple[UpkeepRow, ...], bound: date, show: Show) -> tuple[MonthRow, ...]:
    """Return what is due every month, in each of the twelve months after *bound*, and what comes more seldom."""
    monthly = [row.do for row in upkeep if row.months == 1]
    rows = [MonthRow(show.terms["each month"], tuple(monthly))] if monthly else []
    often = [row for row in upkeep if 1 < row.months <= MONTHS_A_YEAR]
    end = date(bound.year + 1, bound.month, 1)
    due = {day: [] for day in _firsts(bound)}  # type: dict[date, list[str]]
    for row in often:
        for day in due_days(row.months, _month(row), bound, end):
            due[day].append(row.do)
    rows += [MonthRow(show.month_of(day), tuple(jobs)) for day, jobs in due.items() if jobs]
    seldom = [(first_due(row.months, _month(row), bound), row.do) for row in upkeep if row.months > MONTHS_A_YEAR]
    for day, do in sorted(seldom):
        rows.append(MonthRow(show.month_of(day), (do,)))
    return tuple(rows)


def _month(row: UpkeepRow) -> int | None:
    return row.first_month if row.when else None


def _firsts(bound: date) -> Iterable[date]:
    """Return the first days of the twelve months after a day."""
    counts = range(bound.year * MONTHS_A_YEAR + bound.month, bound.year * MONTHS_A_YEAR + bound.month + MONTHS_A_YEAR)
    return [date(count // MONTHS_A_YEAR, count % MONTHS_A_YEAR + 1, 1) for count in counts]


def paper_ends(project: Project, show: Show) -> tuple[DatedRow, ...]:
    """Return the end of each paper that says so, as warranties do, the next one first."""
    rows = [
        DatedRow(
            what=show.terms["ends"].format(what=paper.what),
            day=show.day(paper.ends),
            iso_date=paper.ends.isoformat(),
            where=", ".join(filter(None, (paper.number, paper.where))),
            uid=_uid(project, paper.what),
        )
        for paper in project.record.papers
        if paper.ends is not None
    ]
    return tuple(sorted(rows, key=lambda row: (row.iso_date, row.what)))


def _uid(project: Project, what: str) -> str:
    """Return an identity that stays the same as long as the paper keeps its name."""
    seed = f"{project.key}\n{project.record.work.started}\npaper\n{what}"
    return hashlib.sha256(seed.encode()).hexdigest()[:UID_LENGTH]

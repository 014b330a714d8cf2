"""Upkeep records in, the upkeep table out, in the order of the year and with what the calendar needs."""

from __future__ import annotations

import hashlib

from bookgen.compose.show import Show
from bookgen.model.book import UpkeepRow
from bookgen.model.project import Project
from bookgen.model.records.obstacle import Upkeep

UID_LENGTH = 16


def upkeep_rows(
    upkeep: tuple[Upkeep, ...], chapter: str, project: Project, show: Show, key: str = ""
) -> tuple[UpkeepRow, ...]:
    """Return a line for each thing to do; *chapter* is the slug it belongs to and *key* its record, or ""."""
    finished = project.record.work.finished or project.record.book.date
    rows = []
    for one in upkeep:
        every = show.every(one.every)
        if one.at_most:
            every = show.terms["at most"].format(every=every, most=show.every(one.at_most))
        month = one.month or finished.month
        rows.append(
            UpkeepRow(
                do=one.do,
                every=every,
                when=show.month(month) if one.month else "",
                how=one.how,
                part=one.part or "",
                by=one.by,
                tag=one.tag or "",
                chapter=chapter,
                months=one.every.months,
                first_month=month,
                uid=_uid(project, key, one),
            )
        )
    return tuple(rows)


def _uid(project: Project, key: str, one: Upkeep) -> str:
    """Return an identity that stays the same as long as the thing to do keeps its name."""
    seed = f"{project.key}\n{project.record.work.started}\n{key}\n{one.do}"
    return hashlib.sha256(seed.encode()).hexdigest()[:UID_LENGTH]

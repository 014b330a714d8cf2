"""The chapters and the days of their photos in, the work on a time line out."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Mapping, Sequence

from bookgen.compose.show import MONTHS_A_YEAR, Show
from bookgen.model.chart import Chart, Tick, TimeLine, WorkRow

PHASES = ("before", "framed", "finished")
MOST_MONTHS = 7  # with more of them only some have a tick

Days = Mapping[str, Iterable[datetime.date]]


def time_line(chapters: Sequence[tuple[str, Days]], show: Show) -> Chart | None:
    """Return the chart of what was photographed when; None where all was on one day or no photo has a day.

    *chapters* are titles with the days of their photos by phase.
    """
    rows = tuple(
        WorkRow(title, tuple(tuple(sorted({day.toordinal() for day in days.get(phase, ())})) for phase in PHASES))
        for title, days in chapters
    )
    rows = tuple(row for row in rows if any(row.days))
    found = sorted(day for row in rows for phase in row.days for day in phase)
    if len(set(found)) < 2:
        return None
    phases = tuple(show.terms[f"phase {phase}"] for phase in PHASES)
    figure = TimeLine(phases, tuple(_months(found[0], found[-1], show)), rows)
    desc = " ".join(_said(row, phases, show) for row in rows)
    return Chart("work", show.terms["work"], desc, show.terms["work says"], figure)


def _months(first: int, last: int, show: Show) -> Iterator[Tick]:
    """Yield the first days of the months from that of the first photo to the one after the last."""
    start, end = datetime.date.fromordinal(first), datetime.date.fromordinal(last)
    low, high = (day.year * MONTHS_A_YEAR + day.month - 1 for day in (start, end))
    step = -(-(high + 1 - low) // MOST_MONTHS)
    for number in range(low, high + 1 + step, step):
        year, month = divmod(number, MONTHS_A_YEAR)
        words = show.month(month + 1)
        named = f"{words} {year}" if number == low or month < step else words
        yield Tick(float(datetime.date(year, month + 1, 1).toordinal()), named)


def _said(row: WorkRow, phases: Sequence[str], show: Show) -> str:
    told = [
        f"{phase.lower()} {', '.join(show.day(datetime.date.fromordinal(day)) for day in days)}"
        for phase, days in zip(phases, row.days, strict=True)
        if days
    ]
    return f"{row.name}: {'; '.join(told)}."

"""How often something is due, in which month, and the day of the hand-over in; the days on which it is due out."""

from __future__ import annotations

from datetime import date

MONTHS_A_YEAR = 12
DAY_OF_MONTH = 1


def first_due(months: int, month: int | None, bound: date) -> date:
    """Return the first day something is due after *bound*, the day of the hand-over; it recurs every *months*.

    Without a *month* of its own it is due one interval later. With one, and due every year or oftener, it is due in
    that month or a whole number of intervals from it, whichever comes next; due more seldom, in the last such month
    that one interval still reaches, so that it never waits longer.
    """
    now = bound.year * MONTHS_A_YEAR + bound.month - 1
    due = now + months
    if month and months <= MONTHS_A_YEAR:
        start = (now // MONTHS_A_YEAR - 1) * MONTHS_A_YEAR + month - 1
        due = now + months - (now - start) % months
    elif month:
        due -= (due - (month - 1)) % MONTHS_A_YEAR
    return _day(due)


def due_days(months: int, month: int | None, bound: date, until: date) -> tuple[date, ...]:
    """Return every day up to *until* on which it is due."""
    found, day = [], first_due(months, month, bound)
    while day <= until:
        found.append(day)
        day = _day(day.year * MONTHS_A_YEAR + day.month - 1 + months)
    return tuple(found)


def _day(count: int) -> date:
    """Return the first day of a month counted from year 0."""
    return date(count // MONTHS_A_YEAR, count % MONTHS_A_YEAR + 1, DAY_OF_MONTH)

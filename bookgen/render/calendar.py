"""A Book's upkeep in, `upkeep.ics` out: recurring all-day events with fixed identities."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from icalendar import Calendar, Event, vRecur

from bookgen.model.book import Book, UpkeepRow
from bookgen.model.length import HAIR, SLASH

MONTHS_A_YEAR = 12
DAY_OF_MONTH = 1
PLAIN = str.maketrans({HAIR: " ", "\u00a0": " ", SLASH: "/"})  # a calendar sets no fractions


def write_calendar(book: Book, target: Path) -> None:
    """Write the calendar of *book*; the same book gives the same bytes (RFC 5545, dates float with the reader)."""
    calendar = Calendar()
    calendar.add("prodid", "-//bookgen//upkeep//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("x-wr-calname", book.terms["calendar name"].format(title=book.cover.title))
    bound = date.fromisoformat(book.iso_date)
    for row in book.upkeep:
        calendar.add_component(_event(row, bound, book.terms))
    target.write_bytes(calendar.to_ical())


def _event(row: UpkeepRow, bound: date, terms: Mapping[str, str]) -> Event:
    event = Event()
    start = _first_day(row, bound)
    event.add("uid", f"{row.uid}@bookgen.invalid")  # .invalid: RFC 2606; an identity, not an address
    event.add("dtstamp", datetime(bound.year, bound.month, bound.day, tzinfo=UTC))
    event.add("dtstart", start)
    event.add("dtend", start + timedelta(days=1))
    event.add("summary", row.do.translate(PLAIN))
    event.add("description", _description(row, terms))
    event.add("rrule", _rule(row.months))
    event.add("transp", "TRANSPARENT")
    return event


def _description(row: UpkeepRow, terms: Mapping[str, str]) -> str:
    """Return how, what to buy, who does it and the tag, a line each."""
    facts = ((terms["buy"], row.part), (terms["who"], row.by), (terms["tag"], row.tag))
    return "\n".join([row.how, *(f"{term}: {words}" for term, words in facts if words)]).translate(PLAIN)


def _first_day(row: UpkeepRow, bound: date) -> date:
    """Return the first time it is due after the book's date, which is the day of the hand-over.

    Without a month of its own it is due one interval later. With one, and due every year or oftener, it is due in
    that month or a whole number of intervals from it, whichever comes next; due more seldom, in the last such month
    that one interval still reaches, so that it never waits longer.
    """
    now = bound.year * MONTHS_A_YEAR + bound.month - 1
    due = now + row.months
    if row.when and row.months <= MONTHS_A_YEAR:
        due = _next(now, row.first_month, row.months)
    elif row.when:
        due -= (due - (row.first_month - 1)) % MONTHS_A_YEAR
    return date(due // MONTHS_A_YEAR, due % MONTHS_A_YEAR + 1, DAY_OF_MONTH)


def _next(now: int, month: int, interval: int) -> int:
    """Return the first month after *now*, both counted from year 0, that is whole intervals after *month* last year."""
    start = (now // MONTHS_A_YEAR - 1) * MONTHS_A_YEAR + month - 1
    return now + interval - (now - start) % interval


def _rule(months: int) -> vRecur:
    years, rest = divmod(months, MONTHS_A_YEAR)
    if rest == 0:
        return vRecur(freq="yearly", interval=years)
    return vRecur(freq="monthly", interval=months)

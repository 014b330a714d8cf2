"""A Book's upkeep in, `upkeep.ics` out: recurring all-day events with fixed identities."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from icalendar import Calendar, Event, vRecur

from bookgen.model.book import Book, DatedRow, UpkeepRow
from bookgen.model.due import MONTHS_A_YEAR, first_due
from bookgen.model.length import HAIR, SLASH

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
    for dated in book.dates:
        calendar.add_component(_once(dated, bound))
    target.write_bytes(calendar.to_ical())


def _once(row: DatedRow, bound: date) -> Event:
    """Return an event of one day, such as the end of a warranty."""
    event = _all_day(row.uid, date.fromisoformat(row.iso_date), bound)
    event.add("summary", row.what.translate(PLAIN))
    if row.where:
        event.add("description", row.where.translate(PLAIN))
    return event


def _all_day(uid: str, start: date, bound: date) -> Event:
    """Return an event of a whole day that floats with the reader and leaves the day free."""
    event = Event()
    event.add("uid", f"{uid}@bookgen.invalid")  # .invalid: RFC 2606; an identity, not an address
    event.add("dtstamp", datetime(bound.year, bound.month, bound.day, tzinfo=UTC))
    event.add("dtstart", start)
    event.add("dtend", start + timedelta(days=1))
    event.add("transp", "TRANSPARENT")
    return event


def _event(row: UpkeepRow, bound: date, terms: Mapping[str, str]) -> Event:
    start = first_due(row.months, row.first_month if row.when else None, bound)
    event = _all_day(row.uid, start, bound)
    event.add("summary", row.do.translate(PLAIN))
    event.add("description", _description(row, terms))
    event.add("rrule", _rule(row.months))
    return event


def _description(row: UpkeepRow, terms: Mapping[str, str]) -> str:
    """Return how, what to buy, who does it and the tag, a line each."""
    facts = ((terms["buy"], row.part), (terms["who"], row.by), (terms["tag"], row.tag))
    return "\n".join([row.how, *(f"{term}: {words}" for term, words in facts if words)]).translate(PLAIN)


def _rule(months: int) -> vRecur:
    years, rest = divmod(months, MONTHS_A_YEAR)
    if rest == 0:
        return vRecur(freq="yearly", interval=years)
    return vRecur(freq="monthly", interval=months)

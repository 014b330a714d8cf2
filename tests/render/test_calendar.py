"""The upkeep calendar, read back by the rules of RFC 5545 and by another library's recurrences."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import pytest
from dateutil.rrule import rrulestr

from bookgen.model.book import Book, DatedRow, Edition, UpkeepRow
from bookgen.render.calendar import write_calendar
from tests.render.book_fixture import BOOK, TERMS
from tests.sample_books import sample_project_book

CALENDAR_TERMS = {**TERMS, "calendar name": "{title}: upkeep"}
CONTENT_LINE = re.compile(r"(?P<name>[A-Z0-9-]+)(?P<parameters>(?:;[A-Z-]+=[^;:]+)*):(?P<value>.*)")
Event = dict[str, tuple[str, str]]


def job(**changes: object) -> UpkeepRow:
    """Return a job due every 3 months, with no month of its own."""
    row = UpkeepRow("Change the filter", "every 3 months", "", "Arrow to the blower.", "", "You", "", "", 3, 6, "u-1")
    return replace(row, **changes)  # type: ignore[arg-type]


def book(*rows: UpkeepRow, on: str = "2026-06-15") -> Book:
    """Return the fixture's book of a given date with these jobs."""
    return replace(BOOK, upkeep=rows, dates=(), iso_date=on, terms=CALENDAR_TERMS)


def written(of: Book, folder: Path) -> bytes:
    """Return the bytes of the calendar."""
    write_calendar(of, folder / "upkeep.ics")
    return (folder / "upkeep.ics").read_bytes()


def parsed(data: bytes) -> tuple[dict[str, str], list[Event]]:
    """Return the calendar's own properties and its events, unfolded and unescaped by the rules of RFC 5545, 3.1."""
    head: dict[str, str] = {}
    events: list[Event] = []
    inside: list[str] = []
    for line in data.decode().replace("\r\n ", "").split("\r\n")[:-1]:
        match = CONTENT_LINE.fullmatch(line)
        assert match, line
        name, value = match["name"], match["value"]
        if name == "BEGIN":
            inside.append(value)
            if value == "VEVENT":
                events.append({})
        elif name == "END":
            assert inside.pop() == value
        elif inside == ["VCALENDAR"]:
            head[name] = value
        else:
            assert inside == ["VCALENDAR", "VEVENT"]
            assert name not in events[-1], f"{name} twice"
            events[-1][name] = (match["parameters"], value)
    assert not inside
    return head, events


def text(event: Event, name: str) -> str:
    """Return an unescaped text value (RFC 5545, 3.3.11)."""
    return re.sub(r"\\(.)", lambda match: "\n" if match[1] in "nN" else match[1], event[name][1])


def due(row: UpkeepRow, folder: Path, count: int, on: str = "2026-06-15") -> list[str]:
    """Return the first days on which a job is due, worked out by dateutil."""
    _, (event,) = parsed(written(book(row, on=on), folder))
    start = datetime.strptime(event["DTSTART"][1], "%Y%m%d")
    rule = rrulestr(event["RRULE"][1], dtstart=start)
    return [when.date().isoformat() for when, _ in zip(rule, range(count), strict=False)]


def test_every_line_is_folded_and_ends_as_it_must(tmp_path: Path) -> None:
    """Lines end in CR LF, none is longer than 75 octets, and no character is cut in two (RFC 5545, 3.1)."""
    how = "Größe prüfen: 12\u200a1\u20442\u2033 \u00d7 24\u2033, dann Ä\u00e9\u4e2d " * 12
    data = written(book(job(how=how)), tmp_path)
    lines = data.split(b"\r\n")
    assert lines[-1] == b""
    assert all(len(line) <= 75 and b"\n" not in line and b"\r" not in line for line in lines)
    assert len(lines) > 15
    for line in lines:
        line.decode()


def test_calendar_says_what_it_must(tmp_path: Path) -> None:
    """VERSION and PRODID stand once (RFC 5545, 3.6), with the calendar's name; each event has UID, stamp and start."""
    head, events = parsed(written(replace(BOOK, terms=CALENDAR_TERMS), tmp_path))
    assert head["VERSION"] == "2.0"
    assert head["PRODID"]
    assert head["CALSCALE"] == "GREGORIAN"
    assert head["X-WR-CALNAME"] == "Tamarack Lane: upkeep"
    assert len(events) == len(BOOK.upkeep) + len(BOOK.dates) == 3
    assert all({"UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY"} <= set(event) for event in events)
    assert ["RRULE" in event for event in events] == [True, True, False]


def test_days_float_and_take_no_time(tmp_path: Path) -> None:
    """All-day dates without a zone, one day long, that leave the day free."""
    _, (event,) = parsed(written(book(job()), tmp_path))
    assert event["DTSTART"] == (";VALUE=DATE", "20260901")
    assert event["DTEND"] == (";VALUE=DATE", "20260902")
    assert event["TRANSP"][1] == "TRANSPARENT"


def test_identity_stays_and_stamp_is_the_books_date(tmp_path: Path) -> None:
    """A later revision gives the same UIDs, so that a program moves the old event; DTSTAMP is no clock's."""
    _, (first,) = parsed(written(book(job()), tmp_path))
    _, (second,) = parsed(written(book(job(how="Otherwise."), on="2027-02-01"), tmp_path))
    assert first["UID"] == second["UID"] == ("", "u-1@bookgen.invalid")
    assert first["DTSTAMP"] == ("", "20260615T000000Z")
    assert second["DTSTAMP"] == ("", "20270201T000000Z")


def test_same_book_same_bytes(tmp_path: Path) -> None:
    """Nothing of the clock or the machine gets in."""
    assert written(replace(BOOK, terms=CALENDAR_TERMS), tmp_path) == written(
        replace(BOOK, terms=CALENDAR_TERMS), tmp_path
    )


def test_words_come_back_as_they_were(tmp_path: Path) -> None:
    """Commas, semicolons, backslashes and line ends survive; fractions are plain; part, who and tag stand below."""
    row = job(
        do="Filter, 25\u200a1\u20442; C:\\old",
        how="Open it.\nShut it.",
        part="16\u00a0× 25\u200a1\u20442\u2033",
        by="You",
        tag="07",
    )
    _, (event,) = parsed(written(book(row), tmp_path))
    assert text(event, "SUMMARY") == "Filter, 25 1/2; C:\\old"
    assert text(event, "DESCRIPTION") == "Open it.\nShut it.\nBuy: 16 × 25 1/2\u2033\nWho: You\nTag: 07"


@pytest.mark.parametrize(
    ("months", "days"),
    [
        (1, ["2026-07-01", "2026-08-01", "2026-09-01"]),
        (3, ["2026-09-01", "2026-12-01", "2027-03-01"]),
        (7, ["2027-01-01", "2027-08-01", "2028-03-01"]),
        (12, ["2027-06-01", "2028-06-01", "2029-06-01"]),
        (18, ["2027-12-01", "2029-06-01", "2030-12-01"]),
        (120, ["2036-06-01", "2046-06-01", "2056-06-01"]),
    ],
)
def test_without_a_month_it_is_due_one_interval_after_the_book(months: int, days: list[str], tmp_path: Path) -> None:
    """A book of 15 June 2026: counted on the fingers."""
    assert due(job(months=months), tmp_path, 3) == days


@pytest.mark.parametrize(
    ("months", "month", "on", "days"),
    [
        (12, 10, "2026-06-15", ["2026-10-01", "2027-10-01"]),  # later this year
        (12, 4, "2026-06-15", ["2027-04-01", "2028-04-01"]),  # it was in April
        (12, 6, "2026-06-15", ["2027-06-01", "2028-06-01"]),  # the month of the book itself is over for this year
        (6, 4, "2026-06-15", ["2026-10-01", "2027-04-01"]),  # April and October: the next is October
        (6, 10, "2026-06-15", ["2026-10-01", "2027-04-01"]),  # the same, named by its other month
        (6, 4, "2026-12-31", ["2027-04-01", "2027-10-01"]),
        (3, 9, "2026-06-15", ["2026-09-01", "2026-12-01"]),
        (3, 1, "2026-06-15", ["2026-07-01", "2026-10-01"]),
        (1, 3, "2026-12-15", ["2027-01-01", "2027-02-01"]),
        (120, 6, "2026-06-15", ["2036-06-01", "2046-06-01"]),  # alarms put up in 2026 are due in 2036
        (120, 4, "2026-06-15", ["2036-04-01", "2046-04-01"]),  # in April: rather two months early
        (120, 9, "2026-06-15", ["2035-09-01", "2045-09-01"]),  # never later than the interval
        (24, 1, "2026-01-10", ["2028-01-01", "2030-01-01"]),
    ],
)
def test_a_month_of_its_own_is_kept(months: int, month: int, on: str, days: list[str], tmp_path: Path) -> None:
    """It is next due in its month, or whole intervals from it; no later than one interval after the hand-over."""
    row = job(months=months, first_month=month, when="in its month")
    assert due(row, tmp_path, 2, on) == days


@pytest.mark.parametrize("on", ["2026-01-31", "2026-06-15", "2026-12-01"])
def test_first_day_is_always_after_the_book_and_within_the_interval(on: str, tmp_path: Path) -> None:
    """For every interval up to a year and every month: later than the book, at most one interval on."""
    rows = [
        job(months=months, first_month=month, when="then", uid=f"{months}-{month}")
        for months in range(1, 13)
        for month in range(1, 13)
    ]
    bound = date.fromisoformat(on)
    _, events = parsed(written(book(*rows, on=on), tmp_path))
    for row, event in zip(rows, events, strict=True):
        first = date.fromisoformat(event["DTSTART"][1])
        away = (first.year - bound.year) * 12 + first.month - bound.month
        assert 1 <= away <= row.months
        assert row.months < 12 or first.month == row.first_month


def test_a_warranty_ends_once(tmp_path: Path) -> None:
    """One day, a fixed identity, no rule that would bring it back; read back by another library."""
    end = DatedRow("Ends: Furnace warranty", "12 June 2036", "2036-06-12", "FW-1, in the folder", "p-1")
    _, (event,) = parsed(written(replace(book(), dates=(end,)), tmp_path))
    assert event["DTSTART"] == (";VALUE=DATE", "20360612")
    assert event["DTEND"] == (";VALUE=DATE", "20360613")
    assert event["UID"] == ("", "p-1@bookgen.invalid")
    assert text(event, "SUMMARY") == "Ends: Furnace warranty"
    assert "RRULE" not in event


def test_the_sample_house_is_told_when_its_alarms_are_due(tmp_path: Path) -> None:
    """The site notes: smoke and carbon monoxide alarms are replaced in 2036, the outdoor tap is drained in October."""
    house = sample_project_book(Edition.OWNER)
    _, events = parsed(written(house, tmp_path))
    starts = {text(event, "SUMMARY"): event["DTSTART"][1] for event in events}
    assert starts["Replace the smoke and carbon monoxide alarms"] == "20360601"
    rows = {row.when: row.jobs for row in house.months}
    assert rows["June 2036"] == ("Replace the smoke and carbon monoxide alarms",)
    assert any("outdoor tap" in job.lower() for job in rows["October 2026"])
    assert any("alarms" in job for job in rows["Every month"])

"""A book, its records and the parcel before it in, the texts of the owner's parcel out."""

from __future__ import annotations

import datetime
import difflib
import textwrap
from collections.abc import Iterator, Mapping

from bookgen.compose.papers import PAPERS
from bookgen.compose.show import Show, show_of
from bookgen.model.book import Book
from bookgen.model.parcel import Label, Parcel
from bookgen.model.project import PROJECT_FILE, Project

WIDTH = 119  # columns, as the other paragraphs are broken


# What goes along, by its path: the texts of records, and the digests of papers.
Held = tuple[Mapping[str, str], Mapping[str, str]]


def parcel_label(book: Book, project: Project, held: Held, before: Parcel | None, *, photos: bool) -> Label:
    """Return what goes on the parcel of *book*; *photos* is true where the originals go along."""
    show = show_of(project.record)
    words = {
        "disclaimer": textwrap.fill(book.disclaimer, WIDTH),
        "edition": book.edition_words,
        "revision": book.revision,
        "date": book.date,
    }
    words |= {"title": book.cover.title, "subtitle": book.cover.subtitle}
    old = {"revision": str(before.revision), "date": _day(before.date, show)} if before else {}
    parts = (
        show.terms["parcel head"].format(**words),
        "\n" + show.terms["parcel files"],
        show.terms["parcel photos"] if photos else "",
        show.terms["parcel changes"].format(**old) if before else "",
        "\n" + show.terms["parcel foot"].format(**words),
    )
    changes = _changes(project, held, before, show) if before else ""
    return Label(book.cover.title, book.key, project.record.book.revision, book.iso_date, "".join(parts), changes)


def _changes(project: Project, held: Held, before: Parcel, show: Show) -> str:
    """Return what differs between two parcels: first in a line a file, then the records line by line."""
    records, papers = held
    head = show.terms["changes head"].format(
        revision=project.record.book.revision,
        date=show.day(project.record.book.date),
        old=before.revision,
        old_date=_day(before.date, show),
    )
    titles = {file.file: file.record.obstacle for file in project.obstacles} | {PROJECT_FILE: project.record.project}
    titles |= {f"{PAPERS}/{paper.file}": paper.what for paper in project.record.papers if paper.file}
    names = _other(before.records, records)
    told = [_told(name, before.records, records, titles, show) for name in names]
    told += [_told(name, before.papers, papers, titles, show) for name in _other(before.papers, papers)]
    told = told or [show.terms["changes none"]]
    compared = [line for name in names for line in _line_by_line(name, before.records, records)]
    return "\n".join((head, "", *told, "", *compared)).rstrip() + "\n"


def _other(before: Mapping[str, str], after: Mapping[str, str]) -> list[str]:
    return sorted(name for name in {*before, *after} if before.get(name) != after.get(name))


def _told(name: str, before: Mapping[str, str], after: Mapping[str, str], titles: Mapping[str, str], show: Show) -> str:
    what = "change new" if name not in before else "change gone" if name not in after else "change other"
    return show.terms[what].format(title=titles.get(name, name.rpartition("/")[2]), name=name)


def _line_by_line(name: str, before: Mapping[str, str], after: Mapping[str, str]) -> Iterator[str]:
    old, new = before.get(name, "").splitlines(), after.get(name, "").splitlines()
    return difflib.unified_diff(old, new, f"before/{name}", f"now/{name}", n=1, lineterm="")


def _day(iso_date: str, show: Show) -> str:
    """Return the date of an earlier parcel in words; as it stands there where it is no date."""
    try:
        return show.day(datetime.date.fromisoformat(iso_date))
    except ValueError:
        return iso_date

"""The owner's parcel as data: what is written on it, and what an earlier one held."""

from __future__ import annotations

from collections.abc import Mapping

from bookgen.model.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Label:
    """What goes on a parcel: *read_me*, *changes* ("" in a first parcel) are finished texts, *date* is an ISO date."""

    title: str
    project: str
    revision: int
    date: str
    read_me: str
    changes: str


@dataclass(frozen=True, slots=True)
class Parcel:
    """A parcel that was handed over earlier: its revision, its ISO date, its records by their paths.

    *papers* are the SHA-256 of the PDF files beside them, by their paths.
    """

    revision: int
    date: str
    records: Mapping[str, str]
    papers: Mapping[str, str]

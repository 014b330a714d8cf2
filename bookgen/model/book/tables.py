"""Tables of the book as data: what is inside, material, cuts, upkeep, papers and people."""

from __future__ import annotations

from bookgen.model.frozen import dataclass


@dataclass(frozen=True, slots=True)
class HiddenRow:
    """One line of `what is inside`: the owner's word, the trade size, where, how known.

    *key* tells it from all others, so that the register can lead to it.
    """

    what: str
    trade: str
    where: str
    known: str
    sure: str  # measured, photo, assumed, planned
    key: str = ""


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """One line of materials: what, what to buy, where it is used."""

    what: str
    buy: str
    where: str


@dataclass(frozen=True, slots=True)
class CutRow:
    """One line of a cut list."""

    role: str
    stock: str
    length: str
    count: str


@dataclass(frozen=True, slots=True)
class LineRow:
    """One way of laying out a treatment: its name, the floor under it, the board on it, its corners."""

    name: str
    floor: str
    board: str
    corners: str


@dataclass(frozen=True, slots=True)
class UpkeepRow:
    """One line of the upkeep table."""

    do: str
    every: str
    when: str
    how: str
    part: str
    by: str
    tag: str
    chapter: str  # slug of the chapter, or ""
    months: int
    first_month: int
    uid: str


@dataclass(frozen=True, slots=True)
class MonthRow:
    """What is due in one month, or in one year: its name, and what there is to do then."""

    when: str
    jobs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DatedRow:
    """Something that comes once, such as the end of a warranty: what, the day in words and as 2026-06-15, the paper."""

    what: str
    day: str
    iso_date: str
    where: str
    uid: str


@dataclass(frozen=True, slots=True)
class PaperRow:
    """One paper: what, number, date, where it is, who answers for it; *file* is its PDF in the book's folder, or ""."""

    what: str
    number: str
    date: str
    where: str
    contact: str = ""
    file: str = ""


@dataclass(frozen=True, slots=True)
class PaperGroup:
    """Papers of one kind."""

    title: str
    rows: tuple[PaperRow, ...]


@dataclass(frozen=True, slots=True)
class WalkGroup:
    """What is walked through together when the house is handed over: a title, and what is ticked off under it."""

    title: str
    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PersonRow:
    """A trade on the job."""

    role: str
    name: str
    phone: str
    licence: str

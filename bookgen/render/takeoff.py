"""The takeoff in, a table for a terminal or the text of a .csv file out."""

from __future__ import annotations

import csv
import io
import textwrap
from collections.abc import Iterable, Iterator
from fractions import Fraction
from unicodedata import east_asian_width

from bookgen.model.buying import Buying
from bookgen.model.length import Length
from bookgen.model.listing import Listing, Table
from bookgen.model.solved import Solved
from bookgen.render.words import plain_text

WIDTH = 80  # columns of a terminal that every line keeps to
GAP = "  "
LEAST = 12  # columns that a wrapped cell gets at the least
HEAD = ("list", "record", "part", "stock", "length in inches", "width in inches", "least", "most", "where and how")


def as_text(listings: Iterable[Listing], width: int = WIDTH) -> str:
    """Return every part with its table in columns, no line wider than *width*."""
    return "\n\n".join("\n".join(_part(part, width)) for part in listings)


def _part(part: Listing, width: int) -> Iterator[str]:
    title = plain_text(part.title)
    yield title
    yield ("=" if part.level == 2 else "-") * min(_columns(title), width)
    for sentence in part.says:
        yield from (line.replace("\u00a0", " ") for line in _wrapped(plain_text(sentence), width))
    if part.table is not None:
        if part.says:
            yield ""
        yield from table_lines(part.table, width)


def table_lines(table: Table, width: int = WIDTH) -> Iterator[str]:
    """Yield a table in columns; the widest cells are wrapped until it fits."""
    rows = [tuple(column.head for column in table.columns), *table.rows]
    cells = [[plain_text(cell) for cell in row] for row in rows]
    widths = _widths(cells, width)
    for number, row in enumerate(cells):
        wrapped = [_wrapped(cell, size) for cell, size in zip(row, widths, strict=True)]
        for line in range(max(map(len, wrapped))):
            parts = []
            for lines, size, column in zip(wrapped, widths, table.columns, strict=True):
                text = lines[line] if line < len(lines) else ""
                blank = " " * (size - _columns(text))
                parts.append(blank + text if column.figures else text + blank)
            yield GAP.join(parts).rstrip().replace("\u00a0", " ")
        if number == 0:
            yield GAP.join("-" * size for size in widths)


def _widths(cells: list[list[str]], width: int) -> list[int]:
    """Return how wide each column is: as wide as its widest cell, the widest ones narrowed until all fit.

    No word is broken as long as another column can still be narrowed.
    """
    columns = range(len(cells[0]))
    widths = [max(_columns(row[column]) for row in cells) for column in columns]
    words = [max(_columns(word) for row in cells for word in (row[column].split(" "))) for column in columns]
    room = width - len(GAP) * (len(widths) - 1)
    for least in (words, [LEAST] * len(widths)):
        while sum(widths) > room and any(widths[column] > least[column] for column in columns):
            widest = max(columns, key=lambda column: (widths[column] > least[column], widths[column]))
            widths[widest] -= 1
    return widths


def _wrapped(cell: str, width: int) -> list[str]:
    return textwrap.wrap(cell, max(width, 1), break_on_hyphens=False) or [""]


def _columns(text: str) -> int:
    """Return how many columns of a terminal a text takes."""
    return sum(2 if east_asian_width(sign) in "WF" else 1 for sign in text)


def as_csv(solved: Solved) -> str:
    """Return one flat table with a heading: rows to cut, to buy, to finish with, and hardware; lengths in inches.

    A line for each kind of piece and each thing; *least* and *most* are equal where the number is known.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(HEAD)
    for piece in solved.takeoff.pieces:
        where = " ".join(decimal(station) for station in piece.stations)
        row = ("cut", piece.obstacle, piece.role, piece.stock, decimal(piece.length), decimal(piece.wide))
        writer.writerow((*row, piece.count, piece.count, where))
    if solved.takeoff.buying is not None:
        writer.writerows(_bought(solved.takeoff.buying))
    return out.getvalue()


def _bought(buying: Buying) -> Iterator[tuple[object, ...]]:
    for sticks in buying.sticks:
        for stick, count in sticks.plan.buying():
            yield "buy", "", "", sticks.stock, decimal(stick.length), "", count, count, ""
    for sheets in buying.sheets:
        for size, count in sheets.plan.buying():
            yield "buy", "", "", sheets.stock, decimal(size.long), decimal(size.wide), count, count, ""
    for packs in buying.finishing:
        if packs.most:
            yield "buy", "", _plain(packs.amount.what), packs.stock, "", "", packs.least, packs.most, packs.holds
    for one in buying.hardware:
        yield (
            "hardware",
            one.obstacle,
            plain_text(one.what).replace("\u00a0", " "),
            "",
            "",
            "",
            one.least,
            one.most,
            one.source,
        )


def _plain(text: str) -> str:
    return plain_text(text).replace("\u00a0", " ")


def decimal(length: Length | None) -> str:
    """Return a length as a plain number of inches, to the nearest 1/64; nothing for none."""
    if length is None:
        return ""
    exact: Fraction = length.to_tape(64).inches
    # A part of 64 ends within six decimals, whatever the whole number before it.
    return f"{float(exact):.6f}".rstrip("0").rstrip(".")

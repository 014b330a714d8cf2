"""The takeoff in, an .xlsx workbook out whose waste, prices and units a person can change: its sums are formulas.

Every length stands as a number of inches on its sheet; what is read is a formula that follows the units of the first
sheet. The same takeoff gives the same bytes.
"""

from __future__ import annotations

import zipfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from fractions import Fraction
from io import BytesIO
from pathlib import Path

from openpyxl import Workbook
from openpyxl.styles import Font, PatternFill, Side
from openpyxl.styles.borders import Border
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet
from openpyxl.xml.functions import tostring

from bookgen.model.buying import Buying
from bookgen.model.length import MILLIMETRES_PER_INCH, Length
from bookgen.model.listing import Listing
from bookgen.model.solved import Solved
from bookgen.render.words import plain_text
from bookgen.trade.tongue import Tongue, tongue

CORE = "docProps/core.xml"
EPOCH = (1980, 1, 1, 0, 0, 0)  # the earliest time that a zip can hold: nobody's clock gets in
BOLD = Font(bold=True)
INPUT = PatternFill("solid", start_color="FFF3C4", end_color="FFF3C4")  # a cell that waits for a person
RULE = Border(bottom=Side(style="thin"))
SQUARE_INCHES = 144  # in a square foot
WIDEST = 60  # characters of a column
NAMED = ("Stock", "Part", "What", "Unit", "Pack", "For")  # columns of what the program names itself
FORMULA_SIGNS = ("=", "+", "-", "@")  # a text that begins so would be taken for a formula
Cell = str | int | float


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its name, heads, rows, and which columns a person is to fill in or change."""

    name: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    inputs: frozenset[int] = frozenset()
    foot: tuple[Cell, ...] = ()


def write_workbook(solved: Solved, listings: Iterable[Listing], target: Path) -> None:
    """Write the workbook to *target*; raises ValueError for a level without a buying list: that is our own bug."""
    buying = solved.takeoff.buying
    if buying is None:
        raise ValueError("nobody has worked out what to buy")
    book = Workbook()
    del book[book.active.title]  # the empty sheet that it is born with
    moment = datetime.combine(solved.project.record.book.date, datetime.min.time(), UTC).replace(tzinfo=None)
    book.properties.created = book.properties.modified = moment
    book.properties.creator = ""
    words = tongue(solved.project.record.language)
    _settings(book, solved, words)
    for sheet in (_to_buy(buying), _finishing(buying), _cuts(solved), *_ways(buying, words), _hardware(buying)):
        _write(book.create_sheet(words.name(sheet.name)), sheet, words)
    for listing in listings:
        if listing.key == "cost-by-record" and listing.table is not None:
            heads = tuple(column.head for column in listing.table.columns)
            by_record = Sheet("Cost by record", heads, listing.table.rows)
            _write(book.create_sheet(words.name(by_record.name)), by_record, words)
    target.write_bytes(_still(book, moment))


def _settings(book: Workbook, solved: Solved, words: Tongue) -> None:
    """Fill the first sheet: units, waste and money, each with a name that the other sheets' formulas use."""
    sheet, costs = book.create_sheet(words.name("Settings")), solved.takeoff.buying and solved.takeoff.buying.costs
    rows: tuple[tuple[str, Cell, str, str], ...] = (
        ("Units", "mm" if solved.project.tape.metric else "in", "units", "in or mm: every length of the other sheets"),
        ("Spare lumber and trim", 0.0, "spare_lumber", "part of each count to buy on top, such as 10 %"),
        ("Spare board", 0.0, "spare_board", "part of each count to buy on top"),
        ("Waste of finishing", 0.0, "spare_finishing", "part of each amount on top, before whole packs are counted"),
        ("Sales tax", 0.0, "tax", "part of the sum"),
        ("Money", costs.money if costs else "$", "money", "sign of the money"),
    )
    sheet.append(tuple(map(words.name, ("Setting", "Value", "What it does"))))
    for number, (what, value, name, says) in enumerate(rows, 2):
        sheet.append((words.name(what), value, words.name(says)))
        sheet.cell(number, 2).fill = INPUT
        if isinstance(value, float):
            sheet.cell(number, 2).number_format = "0%"
        book.defined_names[name] = DefinedName(name, attr_text=f"'{sheet.title}'!$B${number}")
    units = DataValidation(type="list", formula1='"in,mm"', allow_blank=False)
    units.add("B2")
    sheet.add_data_validation(units)
    note = "Change the shaded cells; every sum follows. A count of a cutting plan is exact: spare comes on top of it."
    sheet.append(())
    sheet.append((words.name(note),))
    for cell in sheet[1]:
        cell.font, cell.border = BOLD, RULE
    for column, width in (("A", 26), ("B", 10), ("C", 64)):
        sheet.column_dimensions[column].width = width


def _to_buy(buying: Buying) -> Sheet:
    """Return the buying list: count, size, price; count to buy, sum and total are formulas."""
    prices = {(row.stock, row.length, row.wide): row.each for row in buying.costs.rows} if buying.costs else {}
    bought: list[tuple[str, Length, Length | None, int, str]] = [
        (one.stock, stick.length, None, count, "spare_lumber")
        for one in buying.sticks
        for stick, count in one.plan.buying()
    ]
    bought += [
        (one.stock, size.long, size.wide, count, "spare_board")
        for one in buying.sheets
        for size, count in one.plan.buying()
    ]
    rows = []
    for number, (stock, long, wide, count, spare) in enumerate(bought, 2):
        price = prices.get((stock, long, wide))
        rows.append(
            (
                stock,
                _inches(long),
                _inches(wide) if wide else "",
                _shown(f"B{number}"),
                _shown(f"C{number}") if wide else "",
                count,
                f"=ROUNDUP(F{number}*(1+{spare}),0)",
                float(price) if price is not None else "",
                f'=IF(H{number}="","",G{number}*H{number})',
            )
        )
    last = len(rows) + 1
    heads = ("Stock", "Length, in", "Width, in", "Length", "Width", "In the plan", "To buy", "Price each", "Sum")
    foot = (
        "In all, with tax",
        "",
        "",
        "",
        "",
        f"=SUM(F2:F{last})",
        f"=SUM(G2:G{last})",
        "",
        f"=SUM(I2:I{last})*(1+tax)",
    )
    return Sheet("To buy", heads, tuple(rows), frozenset({7}), foot)


def _finishing(buying: Buying) -> Sheet:
    """Return the finishing: amounts, what a pack goes for, and packs as formulas; a person picks the amount."""
    prices = {row.stock: row.each for row in buying.costs.rows if row.length is None} if buying.costs else {}
    rows = []
    for number, one in enumerate(buying.finishing, 2):
        price = prices.get(one.stock)
        goes = float(one.goes) if one.goes is not None else ""
        rows.append(
            (
                one.amount.what.replace("-", " "),
                one.amount.unit,
                _rounded(one.amount.least),
                _rounded(one.amount.usual),
                _rounded(one.amount.most),
                _rounded(one.amount.most),
                goes,
                f'=IF(G{number}="","",ROUNDUP(F{number}*(1+spare_finishing)/G{number},0))',
                one.unit,
                float(price) if price is not None else "",
                f'=IF(OR(H{number}="",J{number}=""),"",H{number}*J{number})',
                one.amount.source,
            )
        )
    last = len(rows) + 1
    heads = (
        "What",
        "Unit",
        "Least",
        "Usual",
        "Most",
        "Take",
        "In a pack",
        "Packs",
        "Pack",
        "Price each",
        "Sum",
        "Source",
    )
    foot = ("In all, with tax", "", "", "", "", "", "", "", "", "", f"=SUM(K2:K{last})*(1+tax)", "")
    return Sheet("Finishing", heads, tuple(rows), frozenset({5, 6, 9}), foot)


def _cuts(solved: Solved) -> Sheet:
    """Return the cut list: one line for each kind of piece, lengths exact to 1/64 in."""
    pieces = sorted(solved.takeoff.pieces, key=lambda p: (p.stock, -p.length.inches, p.obstacle, p.role))
    rows = tuple(
        (
            piece.stock,
            piece.count,
            _inches(piece.length),
            _inches(piece.wide) if piece.wide else "",
            _shown(f"C{number}"),
            _shown(f"D{number}") if piece.wide else "",
            f"=B{number}*C{number}/12" if not piece.wide else f"=B{number}*C{number}*D{number}/{SQUARE_INCHES}",
            "ft" if not piece.wide else "sq ft",
            piece.obstacle,
            piece.role,
            ", ".join(str(_inches(station)) for station in piece.stations),
        )
        for number, piece in enumerate(pieces, 2)
    )
    heads = (
        "Stock",
        "Pieces",
        "Length, in",
        "Width, in",
        "Length",
        "Width",
        "In all",
        "Unit",
        "Record",
        "Part",
        "Stations, in",
    )
    foot = ("In all", f"=SUM(B2:B{len(rows) + 1})", *("",) * 9)
    return Sheet("Cut list", heads, rows, foot=foot)


def _ways(buying: Buying, words: Tongue) -> Iterator[Sheet]:
    """Yield how to cut sticks and sheets: one line for each piece of each way, and what is left as a formula."""
    rows: list[tuple[Cell, ...]] = []
    for one in buying.sticks:
        for way, row in enumerate(one.plan.sticks, 1):
            for cut in row.cuts:
                goes = ", ".join(f"{words.part(share.label)} ({share.count})" for share in cut.shares)
                number = len(rows) + 2
                rows.append(
                    (
                        one.stock,
                        way,
                        row.count,
                        _inches(row.stick.length),
                        _inches(cut.length),
                        _shown(f"E{number}"),
                        goes,
                    )
                )
    heads = ("Stock", "Way", "Sticks", "Stick, in", "Piece, in", "Piece", "Goes to")
    yield Sheet("How to cut sticks", heads, tuple(rows))
    lines: list[tuple[Cell, ...]] = []
    for board in buying.sheets:
        for way, sheet in enumerate(board.plan.sheets, 1):
            for piece in sheet.cuts:
                number = len(lines) + 2
                size = (_inches(sheet.size.wide), _inches(sheet.size.long))
                patch = (_inches(piece.patch.wide()), _inches(piece.patch.high()))
                shown = (_shown(f"F{number}"), _shown(f"G{number}"))
                goes = ", ".join(dict.fromkeys(map(words.part, piece.goes_to)))
                lines.append((board.stock, way, sheet.count, *size, *patch, *shown, goes))
    sides = ("Width, in", "Length, in", "Along, in", "Across, in", "Along", "Across")
    yield Sheet("How to cut sheets", ("Stock", "Way", "Sheets", *sides, "Goes to"), tuple(lines))


def _hardware(buying: Buying) -> Sheet:
    rows = tuple(
        (
            one.trade.value,
            one.what,
            one.least,
            one.most,
            one.most,
            "",
            f'=IF(F{number}="","",E{number}*F{number})',
            one.obstacle,
            one.source,
        )
        for number, one in enumerate(buying.hardware, 2)
    )
    heads = ("For", "What", "Least", "Most", "Take", "Price each", "Sum", "Record", "Source")
    foot = ("In all, with tax", "", "", "", "", "", f"=SUM(G2:G{len(rows) + 1})*(1+tax)", "", "")
    return Sheet("Hardware", heads, rows, frozenset({4, 5}), foot)


def _write(sheet: Worksheet, content: Sheet, words: Tongue) -> None:
    plain = (*content.rows, *((content.foot,) if content.foot else ()))
    rows: Sequence[tuple[Cell, ...]] = [_told(row, content.heads, words) for row in plain]
    heads = tuple(map(words.name, content.heads))
    sheet.append(heads)
    for row in rows:
        sheet.append([_safe(cell) for cell in row])
    for cell in sheet[1]:
        cell.font, cell.border = BOLD, RULE
    if content.foot:
        for cell in sheet[sheet.max_row]:
            cell.font = BOLD
    for number in range(2, len(content.rows) + 2):
        for column in content.inputs:
            sheet.cell(number, column + 1).fill = INPUT
    for column, head in enumerate(content.heads):
        longest = max([len(heads[column]), *(len(_text(row[column])) for row in rows)])
        sheet.column_dimensions[get_column_letter(column + 1)].width = min(longest, WIDEST) + 2
        if head in ("Price each", "Sum"):
            for number in range(2, len(rows) + 2):
                sheet.cell(number, column + 1).number_format = "#,##0.00"
    sheet.freeze_panes = "A2"


def _told(row: tuple[Cell, ...], heads: tuple[str, ...], words: Tongue) -> tuple[Cell, ...]:
    """Return a row with what the program names in the language of the project; records' own words stay."""
    says = {"Source": words.source, "Record": words.record} | dict.fromkeys(NAMED, words.name)
    pairs = zip(heads, row, strict=True)
    return tuple(says[head](cell) if isinstance(cell, str) and head in says else cell for head, cell in pairs)


def _text(cell: Cell) -> str:
    """Return what a cell is as wide as: a formula shows a number."""
    return "0,000.00" if isinstance(cell, str) and cell.startswith("=") else str(cell)


def _safe(cell: Cell) -> Cell:
    """Return a cell's content; a text of a record that looks like a formula is kept a text."""
    if isinstance(cell, str) and cell.startswith(FORMULA_SIGNS) and not _ours(cell):
        return f"\u200b{cell}"  # a sign without width before it
    return plain_text(cell) if isinstance(cell, str) else cell


def _ours(cell: str) -> bool:
    return cell.startswith(("=IF(", "=ROUND", "=SUM(", "=B"))


def _inches(length: Length) -> float:
    """Return inches as a number, to the nearest 1/64."""
    return float(length.to_tape(64).inches)


def _rounded(value: Fraction) -> float:
    return round(float(value), 2)


def _shown(cell: str) -> str:
    """Return the formula that shows a length in the units of the first sheet: to 1/16 in, or whole millimetres."""
    per_inch = float(MILLIMETRES_PER_INCH)
    return f'=IF(units="mm",ROUND({cell}*{per_inch},0),ROUND({cell}*16,0)/16)'


def _still(book: Workbook, moment: datetime) -> bytes:
    """Return the bytes of a workbook with every date set to one day: those in its container, and when it was saved."""
    raw, out = BytesIO(), BytesIO()
    book.save(raw)
    book.properties.modified = moment  # saving has put the clock's there
    core = tostring(book.properties.to_tree())
    with zipfile.ZipFile(raw) as found, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as written:
        for info in found.infolist():
            still = zipfile.ZipInfo(info.filename, EPOCH)
            still.compress_type = zipfile.ZIP_DEFLATED
            written.writestr(still, core if info.filename == CORE else found.read(info))
    return out.getvalue()

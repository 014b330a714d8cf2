"""The solved level in, the same with everything to buy worked out: sticks, sheets, finishing, hardware and costs.

The exact cutting plans cost seconds, so only those who ask for them pay: the takeoff command and the trade edition.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import Assembly
from bookgen.model.buying import Buying, Packs, Sheets, Sticks
from bookgen.model.cutting import NOTHING, Piece, Saving, SawRules
from bookgen.model.length import Length
from bookgen.model.sheets import FaceLayout, Quantity
from bookgen.model.solved import Solved
from bookgen.solve.takeoff.boards import plan_boards
from bookgen.solve.takeoff.compare import SHEETS_WAY, saved_on_sticks, sheets_by_area
from bookgen.solve.takeoff.costs import costs
from bookgen.solve.takeoff.cutting import plan_cuts
from bookgen.solve.takeoff.faces import Covered, covered
from bookgen.solve.takeoff.filling import filling
from bookgen.solve.takeoff.finishing import bead, by_factor, coats, packs, screws, sealant, seams
from bookgen.solve.takeoff.hardware import hardware
from bookgen.solve.takeoff.joinery import SHEETS
from bookgen.solve.takeoff.trim import BASE, BEAD, CASING, base_pieces, bead_pieces, casing_pieces
from bookgen.solve.takeoff.yard import Yard
from bookgen.trade.board import board
from bookgen.trade.fasteners import board_screw
from bookgen.trade.stock import StockItem, stock

CLOSEST, WIDEST = Length(Fraction(16)), Length(Fraction(24))  # framing: the spacings that the screw table has rows for
SNIPS = SawRules(kerf=NOTHING)  # bead is cut with snips


def buy(solved: Solved) -> Solved:
    """Return the level with its buying list; a piece that no stick or sheet holds stands in its plan as impossible."""
    yard = Yard(solved.project.prices)
    assemblies = (*(one.assembly for one in solved.obstacles if one.assembly is not None), *solved.level.linings)
    faces = covered(assemblies, solved.level.shell)
    sticks = (*_lumber(assemblies, yard), *_trim(solved, assemblies, yard))
    sheets = tuple(_sheets(name, faces, yard) for name in sorted({face.stock for face in faces}))
    filled = (_packed(amount, stock(amount.what)) for amount in filling(assemblies))
    finishing = (*filled, *_finishing(solved, faces, sheets, sticks))
    buying = Buying(sticks, sheets, finishing, hardware(solved))
    buying = replace(buying, costs=costs(buying, faces, yard))
    return replace(solved, takeoff=replace(solved.takeoff, buying=buying))


def _lumber(assemblies: Iterable[Assembly], yard: Yard) -> tuple[Sticks, ...]:
    wanted: dict[str, dict[tuple[str, Length], int]] = {}
    for assembly in assemblies:
        for part in assembly.parts:
            if part.stock and part.material not in SHEETS:
                counts = wanted.setdefault(part.stock, {})
                key = (f"{assembly.key} {part.role}", part.length())
                counts[key] = counts.get(key, 0) + 1
    return tuple(
        _planned(stock, [Piece(length, count, label) for (label, length), count in wanted[stock].items()], yard)
        for stock in sorted(wanted)
    )


def _trim(solved: Solved, assemblies: Sequence[Assembly], yard: Yard) -> tuple[Sticks, ...]:
    longest = {
        name: max((stick.length for stick in yard.sticks(name)), default=NOTHING) for name in (BEAD, BASE, CASING)
    }
    pieces = {
        BEAD: bead_pieces(assemblies, longest[BEAD]),
        BASE: base_pieces(solved, assemblies, longest[BASE]),
        CASING: casing_pieces(assemblies, longest[CASING]),
    }
    return tuple(_planned(name, found, yard) for name, found in pieces.items() if found)


def _planned(stock: str, pieces: Sequence[Piece], yard: Yard) -> Sticks:
    sold, rules = yard.sticks(stock), SNIPS if stock == BEAD else yard.rules()
    plan = plan_cuts(pieces, sold, rules)
    return Sticks(stock, plan, saved_on_sticks(pieces, sold, rules, plan))


def _sheets(stock: str, faces: Iterable[Covered], yard: Yard) -> Sheets:
    own = [face for face in faces if face.stock == stock]
    sold, area = yard.sheets(stock), sum((face.area for face in own), Fraction(0))
    plan = plan_boards([face.face for face in own], sold)
    each = {size: size.price if plan.by_cost() and size.price else size.area() for size in sold}
    plain = min((sheets_by_area(area, size.area()) * value for size, value in each.items()), default=Fraction(0))
    return Sheets(stock, plan, area, Saving(SHEETS_WAY, plain, plan.value))


def _finishing(
    solved: Solved, faces: Sequence[Covered], sheets: Sequence[Sheets], sticks: Iterable[Sticks]
) -> Iterable[Packs]:
    area = sum((face.area for face in faces if face.gypsum), Fraction(0))
    if not area:
        return
    factors = {row.what: row for row in by_factor(area)}
    yield _packed(factors["joint-tape"], stock("joint tape"))
    layouts = [layout for one in sheets for layout in one.plan.layouts]
    yield _packed(seams(layouts), None)
    yield _packed(factors["joint-compound"], stock("joint compound"))
    bought = [row for one in sticks if one.stock == BEAD for row in one.plan.sticks]
    beads = [cut.length for row in bought for cut in row.cuts * row.count]
    if beads:
        yield _packed(bead(beads), None)
    yield from _screws(solved, faces, sheets, factors["board-screws"])
    for row in coats(area):
        yield _packed(row, stock(row.what.replace("-", " ")))
    seal = sealant(solved)
    if seal is not None:
        yield _packed(seal, stock(seal.what))


def _screws(solved: Solved, faces: Iterable[Covered], sheets: Sequence[Sheets], factor: Quantity) -> Iterable[Packs]:
    """Yield the screws of each board, counted on its framing: from the count to what the published factor gives."""
    by_name = {face.face.name: face for face in faces}
    whole = sum((one.area for one in sheets if board(one.stock)), Fraction(0))
    for one in sheets:
        kind = board(one.stock)
        screw = board_screw(kind.thickness) if kind else None
        if screw is None:
            continue
        rows = [row for layout in one.plan.layouts if (row := _counted(layout, by_name[layout.face.name])) is not None]
        count, most = sum((row.usual for row in rows), Fraction(0)), one.area / whole * factor.most
        source = "; ".join(dict.fromkeys((*(f"counted on the framing, {row.source}" for row in rows), factor.source)))
        what = f"board screws, {solved.project.tape.short(screw.length)}"
        amount = Quantity(what, "each", min(count, most), count, max(count, most), source, factor.sure)
        yield _packed(amount, _screw_box(screw.length))


def _counted(layout: FaceLayout, face: Covered) -> Quantity | None:
    """Return the screws of one face; framing further apart than the table has rows for is screwed as its widest row."""
    return screws(layout, face.surface, min(max(face.apart or CLOSEST, CLOSEST), WIDEST))


def _screw_box(length: Length) -> StockItem | None:
    """Return the box of board screws of one length, as the stock table calls it: board screws 1-1/4."""
    whole, rest = divmod(length.inches, 1)
    return stock(f"board screws {whole}" + (f"-{rest}" if rest else ""))


def _packed(amount: Quantity, item: StockItem | None) -> Packs:
    if item is None or item.yield_least is None or item.yield_most is None:
        return Packs(amount, "", "", "", None, 0, 0)
    least = packs(amount.least, Fraction(0), item.yield_most)
    most = packs(amount.most, Fraction(0), item.yield_least)
    return Packs(amount, item.key, item.unit.value, item.holds or "", item.yield_least, least, most)

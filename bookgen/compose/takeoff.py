"""The takeoff of a level in, everything to buy and to cut in finished words out: for terminal, site and print alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from math import ceil, floor
from types import MappingProxyType

from bookgen.compose.boarding import board_words, layout_table, sheet_table
from bookgen.compose.cutting import cut_table, plan_words, stick_table
from bookgen.compose.material import running, surface
from bookgen.compose.show import Show, sentence_case
from bookgen.model.buying import Buying, Costs, Hardware, Packs
from bookgen.model.cutting import Aim, Saving
from bookgen.model.length import MILLIMETRES_PER_INCH, Length
from bookgen.model.listing import Column, Listing, Table
from bookgen.model.sheets import Quantity
from bookgen.model.sketch import Sketch
from bookgen.model.solved import Solved

INCHES_PER_FOOT = 12
METRES_PER_FOOT = INCHES_PER_FOOT * MILLIMETRES_PER_INCH / 1000
# Which metric unit is bought instead of each, and how many of it are one?
METRIC: Mapping[str, tuple[str, Fraction]] = MappingProxyType(
    {
        "ft": ("m", METRES_PER_FOOT),
        "sq ft": ("m²", METRES_PER_FOOT**2),
        "gal": ("l", Fraction("3.785411784")),  # exact: 231 cubic inches
    }
)
CENTS = 100
Drawings = Mapping[str, tuple[Sketch, ...]]


def takeoff(solved: Solved, drawings: Drawings, show: Show) -> tuple[Listing, ...]:
    """Return the parts of the takeoff in the order a person needs them: buy, cut, lay, finish; nothing without a plan.

    *drawings* are by key: `sticks 2x4`, `sheets` and `faces` of a board.
    """
    buying = solved.takeoff.buying
    if buying is None:
        return ()
    return (
        Listing("buy", show.terms["to buy"], says=(show.terms["to buy says"],), table=_to_buy(buying, show)),
        *_bill(buying.costs, show),
        *_lumber(solved, buying, drawings, show),
        *_boards(solved, buying, drawings, show),
        *_finishing(buying.finishing, show),
        *_hardware(buying.hardware, show),
        *_saved(buying, show),
    )


def _to_buy(buying: Buying, show: Show) -> Table:
    terms = show.terms
    columns = (Column(terms["count"], figures=True), Column(terms["what"]), Column(terms["size"], figures=True))
    rows = [
        (str(count), show.stock(sticks.stock), show.length(stick.length))
        for sticks in buying.sticks
        for stick, count in sticks.plan.buying()
    ]
    rows += [
        (str(count), show.stock(sheets.stock), f"{show.length(size.wide)} × {show.length(size.long)}")
        for sheets in buying.sheets
        for size, count in sheets.plan.buying()
    ]
    rows += [
        (
            _range(Fraction(one.least), Fraction(one.most), show),
            show.stock(one.stock),
            f"{_unit(one, show)}, {show.name(show.tape.pack(one.holds))}",
        )
        for one in buying.finishing
        if one.most
    ]
    return Table(columns, tuple(rows))


def _bill(costs: Costs | None, show: Show) -> Iterator[Listing]:
    if costs is None:
        return
    terms = show.terms
    rows = [
        (
            str(row.count),
            show.stock(row.stock),
            " × ".join(show.length(side) for side in (row.wide, row.length) if side is not None),
            money(row.each, costs),
            money(row.amount(), costs),
        )
        for row in costs.rows
    ]
    heads = ("count", "what", "size", "price each", "amount")
    columns = tuple(Column(terms[head], figures=head != "what") for head in heads)
    says = [terms["bill says"].format(yard=costs.yard, date=show.day(costs.on), total=money(costs.total(), costs))]
    if costs.unpriced:
        says.append(terms["bill leaves out"].format(stocks=", ".join(map(show.stock, costs.unpriced))))
    yield Listing("cost", terms["cost"], says=tuple(says), table=Table(columns, tuple(rows)))
    shares = tuple((show.record(key), money(amount, costs)) for key, amount in whole_cents(costs.by_obstacle))
    heading = (Column(terms["record"]), Column(terms["amount"], figures=True))
    says = [terms["cost by record says"]]
    yield Listing("cost-by-record", terms["cost by record"], 3, tuple(says), table=Table(heading, shares))


def money(amount: Fraction, costs: Costs) -> str:
    """Return a sum with its sign, to the cent, a half going up."""
    cents = floor(amount * CENTS + Fraction(1, 2))
    return f"{costs.money}{cents // CENTS:,}.{cents % CENTS:02d}"


def whole_cents(shares: Iterable[tuple[str, Fraction]]) -> tuple[tuple[str, Fraction], ...]:
    """Return shares in whole cents that still make their sum, itself to the cent: the largest rests are rounded up."""
    listed = tuple(shares)
    cents = {key: floor(amount * CENTS) for key, amount in listed}
    total = floor(sum((amount for _, amount in listed), Fraction(0)) * CENTS + Fraction(1, 2))
    order = sorted(listed, key=lambda row: (cents[row[0]] - row[1] * CENTS, row[0]))
    for key, _ in order[: total - sum(cents.values())]:
        cents[key] += 1
    return tuple((key, Fraction(cents[key], CENTS)) for key, _ in listed)


def _lumber(solved: Solved, buying: Buying, drawings: Drawings, show: Show) -> Iterator[Listing]:
    terms = show.terms
    for sticks in buying.sticks:
        pieces = [piece for piece in solved.takeoff.pieces if piece.stock == sticks.stock]
        name = sentence_case(show.stock(sticks.stock))
        says = plan_words(sticks, show)
        key = sticks.stock.replace(" ", "-").replace("/", "-")
        if pieces:
            title = terms["cut list of"].format(stock=name)
            yield Listing(f"cut-{key}", title, says=says, table=cut_table(pieces, show))
            says = ()
        if sticks.plan.sticks:
            title = terms["how to cut"].format(stock=name)
            shown = drawings.get(f"sticks {sticks.stock}", ())
            yield Listing(f"sticks-{key}", title, 3 if pieces else 2, says, shown, stick_table(sticks, show))


def _boards(solved: Solved, buying: Buying, drawings: Drawings, show: Show) -> Iterator[Listing]:
    terms = show.terms
    for sheets in buying.sheets:
        pieces = [piece for piece in solved.takeoff.pieces if piece.stock == sheets.stock]
        key = sheets.stock.replace(" ", "-").replace("/", "-")
        title = terms["boards of"].format(stock=show.stock(sheets.stock))
        yield Listing(f"cut-{key}", title, says=board_words(sheets, show), table=cut_table(pieces, show))
        laid = layout_table(sheets, show)
        if laid.rows:
            shown = drawings.get(f"faces {sheets.stock}", ())
            yield Listing(f"faces-{key}", terms["how it is laid"], 3, (terms["laid says"],), shown, laid)
        if sheets.plan.sheets:
            shown = drawings.get(f"sheets {sheets.stock}", ())
            yield Listing(f"sheets-{key}", terms["how sheets are cut"], 3, (), shown, sheet_table(sheets, show))


def _finishing(finishing: Iterable[Packs], show: Show) -> Iterator[Listing]:
    terms = show.terms
    rows = [
        (
            terms.words.get(f"finish {one.amount.what}", sentence_case(show.name(one.amount.what))),
            _amounts(one.amount, show),
            _packed(one, show),
            f"{show.source(one.amount.source)} ({terms[f'sure {one.amount.sure}']})",
        )
        for one in finishing
    ]
    if rows:
        columns = (Column(terms["what"]), Column(terms["how much"]), Column(terms["packs"]), Column(terms["source"]))
        yield Listing(
            "finishing", terms["finishing"], says=(terms["finishing says"],), table=Table(columns, tuple(rows))
        )


def _packed(one: Packs, show: Show) -> str:
    if not one.most:
        return ""
    holds = show.name(show.tape.pack(one.holds))
    return f"{_range(Fraction(one.least), Fraction(one.most), show)} {_unit(one, show)}, {holds}"


def _unit(one: Packs, show: Show) -> str:
    return show.terms[f"pack {one.unit}" if one.most == 1 else f"packs {one.unit}"]


def _amounts(amount: Quantity, show: Show) -> str:
    """Return an amount with its unit: a single figure where it is known, else from the least to the most."""
    told = _range(amount.least, amount.most, show)
    if amount.unit == "each":
        return told
    imperial = show.name(f"{told} {amount.unit}")
    if amount.unit not in METRIC:
        return imperial
    unit, factor = METRIC[amount.unit]
    return show.tape.either(imperial, f"{_range(amount.least * factor, amount.most * factor, show)} {unit}")


def _range(least: Fraction, most: Fraction, show: Show) -> str:
    """Return whole numbers, rounded up, from the least to the most."""
    low, high = ceil(least), ceil(most)
    return (
        show.number(high) if low == high else show.terms["from to"].format(low=show.number(low), high=show.number(high))
    )


def _hardware(hardware: Iterable[Hardware], show: Show) -> Iterator[Listing]:
    """Yield what is bought by the piece, equal things of several records together."""
    terms = show.terms
    rows: dict[tuple[str, str, str], list[Hardware]] = {}
    for one in hardware:
        rows.setdefault((one.trade.value, one.what, one.source), []).append(one)
    table = tuple(
        (
            _range(Fraction(sum(one.least for one in found)), Fraction(sum(one.most for one in found)), show),
            sentence_case(show.name(what)),
            ", ".join(dict.fromkeys(show.record(one.obstacle) for one in found)),
            show.tape.told(show.source(source)),
        )
        for (_, what, source), found in rows.items()
    )
    if table:
        columns = (
            Column(terms["count"], figures=True),
            Column(terms["what"]),
            Column(terms["record"]),
            Column(terms["source"]),
        )
        yield Listing("hardware", terms["hardware"], says=(terms["hardware says"],), table=Table(columns, table))


def _saved(buying: Buying, show: Show) -> Iterator[Listing]:
    """Yield what the plan saves beside the plain way of buying."""
    terms = show.terms
    rows = [(one.stock, one.saving, one.plan.aim) for one in buying.sticks if one.plan.sticks]
    rows += [(one.stock, one.saving, one.plan.aim) for one in buying.sheets if one.plan.sheets]
    sign = buying.costs
    table = tuple(
        (
            show.stock(stock),
            _measure(saving.plain, aim, sign, show),
            _measure(saving.planned, aim, sign, show),
            _percent(saving),
        )
        for stock, saving, aim in rows
    )
    ways = dict.fromkeys(saving.way for _, saving, _ in rows)
    heads = ("what", "plain way", "this plan", "saved")
    columns = tuple(Column(terms[head], figures=head != "what") for head in heads)
    if table:
        says = (terms["saved says"].format(ways="; ".join(map(show.name, ways))),)
        yield Listing("saved", terms["saved title"], says=says, table=Table(columns, table))


def _measure(value: Fraction, aim: Aim, costs: Costs | None, show: Show) -> str:
    if aim is Aim.COST:
        return money(value, costs) if costs is not None else ""
    return running(Length(value), show) if aim is Aim.LENGTH else surface(value, show)


def _percent(saving: Saving) -> str:
    return f"{float(saving.share() * 100):.1f} %".replace("-", "−")

"""Everything to buy for a whole project, against the model it was worked out from."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest

from bookgen.model.assembly import Assembly
from bookgen.model.buying import Buying, Costs
from bookgen.model.geometry import Prism
from bookgen.model.length import Length, inches
from bookgen.model.project import Project
from bookgen.model.records import Prices
from bookgen.model.solved import Solved
from bookgen.solve.takeoff.buy import buy
from bookgen.solve.takeoff.joinery import SHEETS
from bookgen.solve.takeoff.trim import BASE, BEAD, CASING
from bookgen.trade.stock import sold_as
from tests.sample_house import sample_house

SIXTY_FOURTH = Fraction(1, 64)
LIST = {
    "yard": "The yard on Mill Street",
    "on": "2026-03-02",
    "stock": {
        "2x4": ({"length": "8 ft", "price": "3.98"}, {"length": "16 ft", "price": "9.10"}),
        "precut stud 92-5/8": ({"price": "3.55"},),
        "2x2": ({"length": "8 ft", "price": "2.75"},),
        "1/2 in gypsum board": ({"sheet": "48 x 96 in", "price": "14.20"}, {"sheet": "48 x 144 in", "price": "20.90"}),
        "joint compound": ({"price": "17.50"},),
    },
}


@pytest.fixture(scope="module")
def level() -> Solved:
    """Return the sample house, solved."""
    house = sample_house()
    return replace(house, project=replace(house.project, prices=None))


@pytest.fixture(scope="module")
def buying(level: Solved) -> Buying:
    """Return what it takes, without prices."""
    return bought(level)


@pytest.fixture(scope="module")
def priced(level: Solved) -> Buying:
    """Return what it takes from a yard with a price list."""
    project: Project = replace(level.project, prices=Prices.model_validate(LIST))
    return bought(replace(level, project=project))


def bought(level: Solved) -> Buying:
    """Return the buying list of a level."""
    found = buy(level).takeoff.buying
    assert found is not None
    return found


def assemblies(level: Solved) -> list[Assembly]:
    """Return every treatment and wall."""
    return [one.assembly for one in level.obstacles if one.assembly] + list(level.level.linings)


def test_lengths_cut_are_the_lengths_of_the_model(level: Solved, buying: Buying) -> None:
    """Stock by stock, every piece of the model is on a stick exactly once, to the last 1/64 in."""
    model: dict[str, Counter[Length]] = {}
    for assembly in assemblies(level):
        for part in assembly.parts:
            if part.stock and part.material not in SHEETS:
                model.setdefault(part.stock, Counter())[part.length()] += 1

    cut: dict[str, Counter[Length]] = {}
    for sticks in buying.sticks:
        assert sticks.plan.impossible == ()
        for row in sticks.plan.sticks:
            for one in row.cuts:
                cut.setdefault(sticks.stock, Counter())[one.length] += row.count

    assert {stock: cut[stock] for stock in model} == model
    for stock, counts in model.items():
        total = next(row.length for row in level.takeoff.totals if row.stock == stock)
        assert total is not None
        listed = sum(piece.length.inches * piece.count for piece in level.takeoff.pieces if piece.stock == stock)
        assert abs(sum(n * length.inches for length, n in counts.items()) - total.inches) < SIXTY_FOURTH
        assert abs(listed - total.inches) < SIXTY_FOURTH


def test_areas_laid_are_the_areas_of_the_model(level: Solved, buying: Buying) -> None:
    """Board by board, the faces have the area of the model's board, and each face is laid whole and cut whole."""
    for sheets in buying.sheets:
        boards = [
            part.solid
            for assembly in assemblies(level)
            for part in assembly.parts
            if part.stock == sheets.stock and isinstance(part.solid, Prism)
        ]
        assert abs(sheets.area - sum(solid.profile.area() for solid in boards)) < SIXTY_FOURTH
        assert len(sheets.plan.layouts) == len(boards)
        for layout in sheets.plan.layouts:
            laid = sum(piece.area() for piece in layout.pieces)
            assert laid == layout.face.wide.inches * layout.face.high.inches
        cut = sum(one.patch.area() * row.count for row in sheets.plan.sheets for one in row.cuts)
        assert cut == sheets.plan.used()


def test_no_piece_exceeds_its_stick_and_all_is_sold(buying: Buying) -> None:
    """Every stick and sheet is of a length that the stock table sells, and holds what is cut from it."""
    for sticks in buying.sticks:
        lengths = {length for item in sold_as(sticks.stock) for length in item.lengths}
        for row in sticks.plan.sticks:
            assert row.stick.length in lengths
            assert row.trimmed + row.used() + row.sawn + row.left == row.stick.length
    for sheets in buying.sheets:
        sizes = {(item.width, length) for item in sold_as(sheets.stock) for length in item.lengths}
        assert {(row.size.wide, row.size.long) for row in sheets.plan.sheets} <= sizes


def test_butt_joints_land_on_framing(buying: Buying) -> None:
    """No layout of the sample has a butt joint without wood behind it, but for the strips over the low partition."""
    unbacked = {layout.face.name for one in buying.sheets for layout in one.plan.layouts if layout.unbacked}

    assert all("board over the wall" in name for name in unbacked)


def test_bead_runs_down_every_outside_corner(buying: Buying) -> None:
    """The two wrapped posts have four corners of 79 in, the panel closet two of 88-1/2 in: from the records."""
    sticks = next(one for one in buying.sticks if one.stock == BEAD)
    corners = Counter(
        (share.label, cut.length.inches)
        for row in sticks.plan.sticks
        for cut in row.cuts
        for share in cut.shares
        for _ in range(share.count)
    )

    assert corners["06a-post-a corner", Fraction(79)] == 4
    assert corners["06b-post-b corner", Fraction(79)] == 4
    assert corners["01-panel corner", Fraction("88.5")] == 2


def test_hardware_is_what_the_records_name(buying: Buying) -> None:
    """Three leaves in the records have hinges for their height, four down lights and a register are in the soffit."""
    rows = {(row.obstacle, row.what): row for row in buying.hardware}

    assert rows["01-panel", "hinges"].least == 3  # one leaf 76 in high, one for every 30 in
    assert rows["07-mechanical", "hinges"].least == 6  # two leaves 75 in high
    assert rows["04-ducts", "4 in thin down light"].least == 4
    assert rows["04-ducts", "12 x 6 register"].least == 1


def test_without_a_price_list_there_is_no_bill(buying: Buying, priced: Buying) -> None:
    """Costs come from prices.yaml and from nowhere else."""
    assert buying.costs is None
    assert priced.costs is not None


def test_the_bill_is_what_is_bought_at_the_prices_listed(priced: Buying) -> None:
    """Each line is a number of the list times a count of the plan; the shares of the obstacles make the sum exactly."""
    bill = costs(priced)
    asked = {sold.price for rows in Prices.model_validate(LIST).stock.values() for sold in rows}
    counts = {(s.length, n) for one in priced.sticks if one.stock == "2x4" for s, n in one.plan.buying()}

    assert {(row.length, row.count) for row in bill.rows if row.stock == "2x4"} == counts
    assert {row.each for row in bill.rows} <= asked
    assert sum(amount for _, amount in bill.by_obstacle) == bill.total() > 0
    assert {"2x6", BASE, CASING, BEAD} <= set(bill.unpriced)
    assert not {row.stock for row in bill.rows} & set(bill.unpriced)


def test_a_price_list_is_the_whole_choice_of_its_stock(priced: Buying) -> None:
    """Of 2x4 only 8 ft, 16 ft and the precut stud are bought, for the list has no other, and the plan goes by cost."""
    plan = next(one.plan for one in priced.sticks if one.stock == "2x4")

    assert {row.stick.length for row in plan.sticks} <= {inches(96), inches(192), inches("92.625")}
    assert plan.value == plan.cost()


def costs(buying: Buying) -> Costs:
    """Return the bill of a buying list that has one."""
    assert buying.costs is not None
    return buying.costs


def test_the_same_level_is_bought_the_same_way(level: Solved, buying: Buying) -> None:
    """Nothing of the plan hangs on chance or on the order of a set."""
    assert bought(level) == buying

from __future__ import annotations

from fractions import Fraction

from bookgen.model.assembly import Material
from bookgen.model.geometry import Prism
from bookgen.solve.takeoff.count import count
from tests.solve.level_fixture import BEAM, DRAIN, P1, record, solved_one

WALL = {"outside": "12 in off the block", "framing bottom": "77 in above slab", "along": "4.1 in to 204 in"}


def test_pieces_of_a_wall_soffit_are_those_of_the_model() -> None:
    """Two rails and a cleat of 199.9 in, in lengths that are sold, a rung of 9-1/2 in and a crosser of 4.9 in each."""
    found, _ = solved_one(record([DRAIN], {"wall soffit": WALL}), partitions=P1)

    rows = {(row.role, row.length.inches): row.count for row in count([found]).pieces}

    for long in ("top rail", "bottom rail", "cleat"):
        lengths = [length for (role, length), count in rows.items() for _ in range(count) if role == long]
        assert sum(lengths) == Fraction("199.9")
        assert max(lengths) <= 96
    assert rows["rung", Fraction("9.5")] == sum(part.role == "rung" for part in found.parts)
    assert rows["crosser", Fraction("4.9")] == sum(part.role == "crosser" for part in found.parts)


def test_totals_are_the_sum_of_the_model() -> None:
    """Lengths cut are the lengths of the parts, and the board's area is that of its pieces."""
    box = {"framing bottom": "80 in above slab", "finished width": "11 in"}
    run = {"along": "east", "from": "20 in", "to": "180 in"}
    found, _ = solved_one(record([BEAM], {"beam soffit": box}, run=run, kind="beam"))
    takeoff = count([found])

    totals = {total.stock: total for total in takeoff.totals}
    sticks = [part for part in found.parts if part.stock == "2x2"]
    boards = [part.solid for part in found.parts if part.material is Material.BOARD]
    length, area = totals["2x2"].length, totals["1/2 in gypsum board"].area
    assert length is not None
    assert length.inches == sum(part.length().inches for part in sticks)
    assert area == sum(solid.profile.area() for solid in boards if isinstance(solid, Prism))
    assert sum(row.count for row in takeoff.pieces) == sum(total.pieces for total in takeoff.totals)


def test_the_order_is_always_the_same() -> None:
    """By obstacle, stock and role, the longest first."""
    found, _ = solved_one(record([DRAIN], {"wall soffit": WALL}), partitions=P1)
    rows = count([found]).pieces

    assert list(rows) == sorted(rows, key=lambda row: (row.obstacle, row.stock, row.role, -row.length.inches))

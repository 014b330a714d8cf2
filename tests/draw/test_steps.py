"""The steps of a stair that is opened: as lines in every view, and the sizes that stand on the line of the nosings."""

from __future__ import annotations

import itertools
from fractions import Fraction

from bookgen.draw.steps import flight
from bookgen.model.sketch import Label, LineKind, Sketch, Stroke, View
from tests.draw.drawn import drawn_by_key, house

STAIR = "10-stair"


def view(kind: View) -> Sketch:
    """Return a view of the sample's stair."""
    return next(sketch for sketch in drawn_by_key("sample")[STAIR] if sketch.view is kind)


def texts(sketch: Sketch) -> set[str]:
    """Return all words of a sketch."""
    return {shape.text for shape in sketch.shapes if isinstance(shape, Label)}


def test_the_flight_has_as_many_risers_as_the_record() -> None:
    """100 in over 13 risers, 10 in treads: read from the anchors alone."""
    assembly = house("sample").obstacle(STAIR).assembly
    assert assembly is not None
    steps = flight(assembly)
    assert steps is not None
    assert (steps.count, steps.tread, steps.first.z) == (13, 10, Fraction(100, 13))


def test_from_the_side_the_flight_climbs_by_the_unit_rise() -> None:
    """Each tread of the dashed line is 10 in long, each riser 7 9/13 in high."""
    lines = [s for s in view(View.ELEVATION).shapes if isinstance(s, Stroke) and s.line is LineKind.HIDDEN]
    flights = max(lines, key=lambda line: len(line.points)).points
    steps = list(itertools.pairwise(flights))
    assert len(steps) > 6
    assert min(y for _, y in flights) == 0  # it stands on the slab
    for (x1, y1), (x2, y2) in steps:
        size = (round(abs(x2 - x1), 6), round(abs(y2 - y1), 6))
        assert size in {(10.0, 0.0), (0.0, round(100 / 13, 6))}


def test_the_section_is_cut_at_a_nosing_and_gives_rail_and_cap_there() -> None:
    """The plane lies on a nosing, whose tread it cuts, so that both heights can be measured from a line one sees."""
    assembly = house("sample").obstacle(STAIR).assembly
    assert assembly is not None
    assert (assembly.section_at - 84) % 10 == 0
    section = view(View.SECTION)
    assert {"3′\u00a00″", "3″", "Steps"} <= texts(section)
    tread = (assembly.section_at - 84) / 10 + 1
    level = {s.points[0][1] for s in section.shapes if isinstance(s, Stroke) and s.line is LineKind.BEYOND}
    assert float(tread * Fraction(100, 13)) in level


def test_the_elevation_gives_rise_run_total_rise_opening_rail_and_gap() -> None:
    """By hand from the record: 100/13 and 10 in, 8 ft 4 in, 49 1/2 in clear, 36 in, and gaps of 3.36 in."""
    wanted = {"7\u200a11\u204416″", "10″", "8′\u00a04″", "4′\u00a01\u200a1\u20442″", "3′\u00a00″", "3\u200a3\u20448″"}
    assert wanted <= texts(view(View.ELEVATION))

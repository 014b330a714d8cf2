"""Plain ceilings: board straight on the joists wherever a boarded room has no other ceiling."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
import shapely.geometry as planar
from hypothesis import given, settings
from hypothesis import strategies as st

from bookgen.model.assembly import Assembly
from bookgen.model.geometry import Point, Prism, Rod
from bookgen.solve.locate.behind import behind_faces, standing
from bookgen.solve.treatments.plain_ceiling import plain_ceilings
from tests.solve.house import LEVEL, clashes, inches_between, level, measures_hold, project, text, thing
from tests.solve.level_fixture import MEASURED, SUPPLY, record, solved

HALL = [["208 in", "4.6 in"], ["299.5 in", "4.6 in"], ["299.5 in", "141.75 in"], ["208 in", "141.75 in"]]
ROOM = {"name": "Hall", "use": "hall", "outline": HALL, "ceiling": "89 in above slab"}
DUCTS = {"hung soffit": {"between": "81.5 in to 122.5 in", "framing bottom": "79 in above slab"}}


def ceilings(outline: Any = HALL, **more: Any) -> tuple[Assembly, ...]:
    """Return the plain ceilings of one room with that outline."""
    whole = project(rooms={"hall": ROOM | {"outline": outline} | more})
    return plain_ceilings(whole, level(whole))


def area(found: Assembly) -> Fraction:
    """Return the area of its board, in square inches."""
    return sum((part.solid.profile.area() for part in found.parts if isinstance(part.solid, Prism)), start=Fraction(0))


def test_a_hall_gets_board_from_stud_to_stud_under_the_joists() -> None:
    """92.5 by 138.15 in between the studs, 1/2 in thick, its face 89 in up as the site notes of Tamarack have it."""
    (found,) = ceilings()

    assert area(found) == Fraction("92.5") * Fraction("138.15")
    assert [face.at for face in found.faces] == [89]
    assert found.measure("headroom").inches == Fraction("88.7")


def test_a_room_with_a_corner_cut_out_is_covered_to_the_last_inch() -> None:
    """An L of 100 by 80 in less 40 by 30, and half an inch of its wall's board at each side that leads outward."""
    shape = [(10, 10), (110, 10), (110, 60), (70, 60), (70, 90), (10, 90)]
    (found,) = ceilings([[f"{x} in", f"{y} in"] for x, y in shape])
    assert len(found.faces) == 2
    inside = planar.Polygon(shape)
    covered = planar.MultiPolygon([planar.Polygon(face.outline.corners) for face in found.faces])
    assert inside.difference(covered.buffer(0)).area == pytest.approx(0)


def test_bays_are_filled_between_the_joists_and_a_sheet_lies_over_the_board() -> None:
    """Over 92.5 by 138.15 in stand 6 joists of 1-1/2 in, at 216 in and on: batts take 83.5 of 92.5 in, the sheet all.

    A 4 in pipe up through a bay, 4-1/2 in across (ASTM D2665), takes the square round it out of one.
    """
    filled = LEVEL | {"joists": LEVEL["joists"] | {"insulation": "R-19 batt", "vapour layer": "Kraft paper"}}
    whole = project(rooms={"hall": ROOM}, level=filled)
    foot, top = (Point(Fraction(240), Fraction(60), Fraction(z)) for z in (0, 110))
    pipe = thing("pipe", Rod(foot, top, Fraction("2.25")))
    for things, less in (((), Fraction(0)), ((pipe,), Fraction("4.5") ** 2)):
        (found,) = plain_ceilings(whole, level(whole), things)
        batts = [p.solid for p in found.parts if p.role == "batt"]
        laid = sum(s.profile.area() for s in batts if isinstance(s, Prism))
        assert laid == Fraction("83.5") * Fraction("138.15") - less
        assert not clashes(found)
        (sheet,) = found.layers
        boards = [p.solid for p in found.parts if p.role == "board"]
        assert sheet.area() == sum(s.profile.area() for s in boards if isinstance(s, Prism))
        assert (sheet.axis, sheet.at) == ("z", level(whole).joists)
        assert any("R-19 batt" in says for says in found.remarks)


def test_joists_are_what_is_behind_it_and_as_sure_as_their_record() -> None:
    """From 8 in at 16 in, the joists over 207.5 to 300 in stand at 216, 232 and so on; measured ones may be trusted."""
    measured = LEVEL | {"joists": LEVEL["joists"] | {"known": MEASURED}}
    for of, how in ((LEVEL, "planned"), (measured, "measured")):
        whole = project(rooms={"hall": ROOM}, level=of)
        solved_level = level(whole)
        (found,) = plain_ceilings(whole, solved_level)
        (face,) = behind_faces(found, "", standing((), solved_level.shell), Fraction(1, 4))
        assert [one.middle for one in face.framing] == [216, 232, 248, 264, 280, 296]
        assert face.framing_known.how == how
        assert all(one.upright for one in face.framing)


def test_joists_that_run_east_are_counted_up_the_ceiling() -> None:
    """Along such a ceiling a joist has no middle that would tell where the wood is; northward it has."""
    turned = LEVEL | {"joists": LEVEL["joists"] | {"run": "east"}}
    whole = project(rooms={"hall": ROOM}, level=turned)
    solved_level = level(whole)
    (found,) = plain_ceilings(whole, solved_level)
    (face,) = behind_faces(found, "", standing((), solved_level.shell), Fraction(1, 4))
    assert [one.middle for one in face.framing][:3] == [8, 24, 40]
    assert not any(one.upright for one in face.framing)


def test_a_soffit_has_the_ceiling_over_it_as_its_own() -> None:
    """The ducts' soffit takes 81 to 123 in north over its board; the ceiling is what is left at both sides of it."""
    run = {"along": "east", "from": "212 in", "to": "290 in"}
    file = record([SUPPLY], DUCTS, room="hall", run=run, kind="duct")
    found = solved(file, rooms={"hall": ROOM})
    (own,) = (one for one in found.level.linings if one.treatment == "plain ceiling")
    for part in own.parts:
        room = part.solid.bounds()
        beside = room.high.y <= 81 or room.low.y >= 123 or room.high.x <= Fraction("211.5") or room.low.x >= 290
        assert beside, part.name


def test_a_ceiling_that_hangs_lower_says_that_nobody_knows_what_carries_it() -> None:
    """80 in is 9 in under the board of a plain ceiling, and no record has strips or a soffit there."""
    (found,) = ceilings(ceiling="80 in above slab")
    assert found.known.how == "planned"
    assert found.remarks == ("The board hangs 9″ under the joists, and what carries it is in no record.",)


def outlines() -> st.SearchStrategy[list[tuple[Fraction, Fraction]]]:
    """Draw a rectangle, or an L, of a room on the level."""
    ends = st.tuples(inches_between(5, 200), inches_between(210, 427), inches_between(5, 130), inches_between(140, 283))

    def shape(of: tuple[Fraction, ...], cut: bool) -> list[tuple[Fraction, Fraction]]:
        x1, x2, y1, y2 = of
        if not cut:
            return [(x1, y1), (x2, y1), (x2, y2), (x1, y2)]
        xm, ym = (x1 + x2) / 2, (y1 + y2) / 2
        return [(x1, y1), (x2, y1), (x2, ym), (xm, ym), (xm, y2), (x1, y2)]

    return st.builds(shape, ends, st.booleans())


def hold_together(corners: list[tuple[Fraction, Fraction]]) -> None:
    """Check one ceiling: no two boards meet, all of the outline is covered, sizes are distances of the model."""
    (found,) = ceilings([[text(x), text(y)] for x, y in corners])
    assert clashes(found) == []
    assert measures_hold(found)
    assert area(found) == sum((face.outline.area() for face in found.faces), start=Fraction(0))
    covered = planar.MultiPolygon([planar.Polygon(face.outline.corners) for face in found.faces]).buffer(0)
    assert planar.Polygon(corners).difference(covered).area == pytest.approx(0, abs=1e-6)


@settings(max_examples=15)
@given(outlines())
def test_every_ceiling_holds_together(corners: list[tuple[Fraction, Fraction]]) -> None:
    """The invariants of every treatment, and nothing of the joists to be seen; areas by an independent library."""
    hold_together(corners)


@pytest.mark.long
@settings(max_examples=2000)
@given(outlines())
def test_thousands_of_ceilings_hold_together(corners: list[tuple[Fraction, Fraction]]) -> None:
    """The same, many times."""
    hold_together(corners)

"""The sample project, solved once: its numbers are those of its site notes, and nothing in it meets anything."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from bookgen.model.assembly import Assembly, Part
from bookgen.model.length import inches
from bookgen.model.problem import Severity
from bookgen.model.solved import Solved
from bookgen.solve.clash import clashes, parts_that_meet
from tests.sample_house import sample_house


@pytest.fixture(scope="module")
def sample() -> Solved:
    """Return the solved sample."""
    return sample_house()


def assembly(sample: Solved, treatment: str) -> Assembly:
    """Return the only treatment of that name."""
    found = [one.assembly for one in sample.obstacles if one.assembly and one.assembly.treatment == treatment]
    assert len(found) == 1
    return found[0]


def whole(sample: Solved) -> list[Part]:
    """Return every part of every treatment and wall on the level's axes."""
    built = [one.assembly for one in sample.obstacles if one.assembly is not None]
    return [
        replace(part, name=f"{one.key}: {part.name}", solid=one.frame.solid_to_level(part.solid))
        for one in (*built, *sample.level.linings)
        for part in one.parts
    ]


def test_the_three_soffits_have_the_sizes_of_the_site_notes(sample: Solved) -> None:
    """Wall soffit 12-1/2 off and 76.2 clear; ducts 81 to 123 and 78.2; beam 11 wide and 79.2."""
    wall, hung, beam = (assembly(sample, f"{kind} soffit") for kind in ("wall", "hung", "beam"))

    assert wall.measure("finished off the block") == inches("12.5")
    assert wall.measure("headroom") == inches("76.2")
    sides = {face.name.partition(",")[0]: face.at for face in hung.faces}
    assert (sides["south side"], sides["north side"]) == (81, 123)
    assert hung.measure("headroom") == inches("78.2")
    assert beam.measure("finished width") == inches(11)
    assert beam.measure("headroom") == inches("79.2")


def test_the_soffit_along_the_wall_stops_at_both_sides_of_the_boxed_column(sample: Solved) -> None:
    """The chase is 16 in wide over its board, 32 to 48 in from the corner; no rail goes through it."""
    rails = [part.solid.bounds() for part in assembly(sample, "wall soffit").parts if part.role == "bottom rail"]

    assert min(room.low.x for room in rails) == Fraction("4.1")
    assert max(room.high.x for room in rails) == 204
    assert not [room for room in rails if room.low.x < 48 and room.high.x > 32]


def test_no_part_meets_another_on_the_whole_level(sample: Solved) -> None:
    """Treatments and walls fit round one another."""
    assert not [(one.name, other.name) for one, other in parts_that_meet(whole(sample))]


def test_no_part_meets_a_hidden_thing_on_the_whole_level(sample: Solved) -> None:
    """Every pipe, duct, post and tank keeps its room."""
    things = [thing for one in sample.obstacles for thing in one.hidden]

    assert not [(clash.part.name, clash.thing.what) for clash in clashes(whole(sample), things)]


def test_the_joist_over_the_stack_is_headed_off(sample: Solved) -> None:
    """It stops at the header 273-3/4 in north, and nothing of it is left beyond; its neighbours are whole."""
    joists = {
        (part.solid.bounds().low.x + part.solid.bounds().high.x) / 2: part.solid.bounds().high.y
        for part in sample.level.shell
        if part.role == "joist"
    }

    assert joists[Fraction(40)] == Fraction("273.75")
    assert joists[Fraction(24)] == joists[Fraction(56)] == 292


def test_the_two_bad_ties_of_the_site_notes_are_found(sample: Solved) -> None:
    """One was taped in a hurry, one through a wall; all others lead where they say."""
    asked = {(found.code, found.where) for found in sample.findings if found.severity in {Severity.STOP, Severity.ASK}}

    assert ("tie-disagrees", "tag 01, Main water valve") in asked
    assert ("tie-through-wall", "tag 12, Ejector pit") in asked
    assert len([code for code, _ in asked if code.startswith("tie-")]) == 2


def test_pieces_counted_are_the_pieces_of_the_model(sample: Solved) -> None:
    """Every part that is cut from stock is on the list once."""
    assert sum(row.count for row in sample.takeoff.pieces) == sum(1 for part in whole(sample) if part.stock)

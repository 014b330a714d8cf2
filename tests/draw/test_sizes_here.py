"""Sizes where they are looked for: in each stretch of a soffit in steps, free in a room, and planned as planned."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bookgen.draw import sketches
from bookgen.draw.made_here import made_here
from bookgen.draw.words import size
from bookgen.model.length import Length
from bookgen.model.records.inside import Known
from bookgen.model.sketch import KeyEntry, Label, LineKind, Sketch, Stroke
from tests.draw.drawn import drawn_by_key, house

PLANNED = KeyEntry("size planned, not yet confirmed", line=LineKind.PLANNED)


def texts(sketch: Sketch) -> list[str]:
    """Return all words of a sketch."""
    return [shape.text for shape in sketch.shapes if isinstance(shape, Label)]


def test_the_shallow_stretch_of_a_soffit_in_steps_has_its_own_sizes() -> None:
    """Headroom, drop and reach are those of the face over that stretch, not of the one that governs."""
    solved = house("imperial")
    assembly = solved.obstacle("steps").assembly
    assert assembly is not None
    shallow = next(face for face in assembly.faces if face.name == "bottom, west part")
    outside = max(y for _, y in shallow.outline.corners)
    wanted = {
        f"{size(Length(shallow.at - solved.level.floor), units='imperial', tall=True)} headroom",
        size(Length(outside), units="imperial"),
        size(Length(assembly.anchors["ceiling"].z - shallow.at), units="imperial"),
    }
    section = next(one for one in drawn_by_key("imperial")["steps"] if one.key == "steps-section-a")
    assert wanted <= set(texts(section))
    assert f"{size(assembly.measure('headroom'), units='imperial', tall=True)} headroom" not in texts(section)


def test_where_a_soffit_governs_its_sizes_are_those_it_was_solved_with() -> None:
    """At the station of the governing section nothing is measured anew."""
    assembly = house("imperial").obstacle("steps").assembly
    assert assembly is not None
    here = made_here(assembly, assembly.section_at)
    for one in here.measures:
        assert one.value == assembly.measure(one.name)


@pytest.mark.parametrize(("name", "key"), [("imperial", "free"), ("both", "free"), ("sample", "06a-post-a")])
def test_what_stands_free_says_how_far_it_is_off_the_block_walls(name: str, key: str) -> None:
    """The finished faces to the west and south, from the walls that the sheet does not reach."""
    solved = house(name)
    assembly = solved.obstacle(key).assembly
    assert assembly is not None
    boxes = assembly.boxes()
    units = solved.project.record.units
    west, south = (
        size(Length(min(getattr(box.low, axis) for box in boxes)), units=units, tall=True) for axis in ("x", "y")
    )
    plan = next(one for one in drawn_by_key(name)[key] if one.key == f"{key}-plan")
    words = " ".join(texts(plan))
    assert f"{west} from the west block" in words
    assert f"{south} from the south block" in words


def test_what_stands_at_a_wall_has_its_sizes_from_there() -> None:
    """A chase in a corner needs no distances in words."""
    plan = next(one for one in drawn_by_key("imperial")["corner"] if one.key == "corner-plan")
    assert not any("from the west" in words for words in texts(plan))


def test_planned_work_is_called_planned_on_its_sheets() -> None:
    """In the strip of each sketch, to who can't see it, and by the lines of its sizes; measured work is not."""
    solved = house("imperial")
    corner = solved.obstacle("corner")
    assert corner.assembly is not None
    planned = replace(corner, assembly=replace(corner.assembly, known=Known(how="planned")))
    drawn, _ = sketches(replace(solved, obstacles=(planned,)))
    for sketch in drawn["corner"]:
        assert "Planned, not yet confirmed." in " ".join(texts(sketch)), sketch.key
        assert sketch.desc.endswith("Planned, not yet confirmed."), sketch.key
        ticks = any(isinstance(one, Stroke) and one.line is LineKind.TICK for one in sketch.shapes)
        assert (PLANNED in sketch.entries) == ticks, sketch.key
    for sketch in drawn_by_key("imperial")["corner"]:
        assert "Planned" not in " ".join(texts(sketch))
        assert PLANNED not in sketch.entries

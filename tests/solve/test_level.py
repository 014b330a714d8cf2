from __future__ import annotations

from fractions import Fraction
from typing import Any

from bookgen.model.geometry import Prism
from bookgen.model.length import inches
from bookgen.solve.level import joist_centres, solve_level, solve_rooms
from tests.solve.house import LEVEL, ROOMS
from tests.solve.level_fixture import project


def level(**more: Any) -> Any:
    """Return the solved level; problems fail the test."""
    found, problems = solve_level(project(**more))
    assert found is not None, problems
    return found


def test_the_finished_face_is_worked_out_from_stud_and_board() -> None:
    """Studs from 0.6 off the block, 3-1/2 deep, 1/2 in board: 4.6, as the site notes of Tamarack say."""
    found = level()

    assert found.wall_face == Fraction("4.6")
    assert (found.joists, found.floor, found.joist_depth) == (Fraction("89.5"), Fraction("0.3"), Fraction("9.25"))


def test_the_underside_of_joists_may_be_taken_from_the_floor() -> None:
    """89.2 above a floor that is 0.3 thick is 89-1/2 above the slab."""
    joists = LEVEL["joists"] | {"underside": "89.2 in above floor"}

    assert level(level=LEVEL | {"joists": joists}).joists == Fraction("89.5")


def test_joists_stand_on_whole_spacings_from_the_first() -> None:
    """From 8 in at 16 in there is one at 40 in, over the stack, and one at 216 in, over the radon riser."""
    centres = joist_centres(project().record.level)

    assert {8, 40, 216} <= set(centres)
    assert len(centres) == 27
    assert (
        joist_centres(project(level=LEVEL | {"joists": LEVEL["joists"] | {"first": "40 in"}}).record.level) == centres
    )


def test_block_walls_are_cut_at_their_windows() -> None:
    """A window leaves four pieces of its wall: two beside it over the whole height, one under and one over it."""
    window = {
        "what": "window", "wall": "east wall", "along": "214 in to 250 in", "sill": "40 in above slab",
        "head": "82 in above slab",
    }  # fmt: skip
    plain = [part for part in level().shell if part.name.startswith("east wall")]
    cut = [part for part in level(windows={"w": window}).shell if part.name.startswith("east wall")]

    assert len(plain) == 1
    assert len(cut) == 4
    volume = sum(part.solid.volume() for part in cut if isinstance(part.solid, Prism))
    assert isinstance(plain[0].solid, Prism)
    assert plain[0].solid.volume() - volume == 36 * 42 * Fraction("7.625")


def test_a_room_has_the_headroom_of_its_ceiling() -> None:
    """87-1/2 over the slab is 87.2 over the floor; an open ceiling has none."""
    whole = project()
    found, _ = solve_level(whole)
    assert found is not None
    rooms, problems = solve_rooms(whole, found)

    assert not problems
    assert {room.key: room.ceiling for room in rooms} == {"family": None, "guest": inches("87.2"), "mechanical": None}


def test_a_room_without_area_is_a_problem() -> None:
    """Corners that go there and back enclose nothing."""
    flat = [["4 in", "4 in"], ["90 in", "4 in"], ["90 in", "4 in"], ["4 in", "4 in"]]
    whole = project(rooms=ROOMS | {"family": ROOMS["family"] | {"outline": flat}})
    found, _ = solve_level(whole)
    assert found is not None

    assert [problem.code for problem in solve_rooms(whole, found)[1]] == ["room-flat"]


def test_a_ceiling_above_its_joists_is_a_problem() -> None:
    """Board can't hang above the joists that it is screwed to."""
    whole = project(rooms=ROOMS | {"guest": ROOMS["guest"] | {"ceiling": "92 in above slab"}})
    found, _ = solve_level(whole)
    assert found is not None

    assert [problem.code for problem in solve_rooms(whole, found)[1]] == ["ceiling-above-joists"]

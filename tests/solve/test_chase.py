"""Chases: uprights, ties and board round an upright pipe, and the framed opening of a cover."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings

from bookgen.model.assembly import HiddenThing
from bookgen.model.geometry import Point, Rod
from bookgen.model.records.treatments import Chase
from bookgen.solve.site import Worked
from bookgen.solve.treatments.chase import solve
from tests.solve.house import (
    clashes,
    codes,
    held,
    inches_between,
    loose_boards,
    measures_hold,
    off_size,
    record,
    roles,
    site,
    text,
    thing,
)

RUN = {"along": "north wall", "from": "32.5 in", "to": "47.5 in"}
STACK = {"form": "wall", "along": "32.5 in to 47.5 in", "front": "12 in off the block"}
RADON = {"form": "corner", "along": "207.5 in to 221.5 in", "front": "18.1 in off the block", "finished": "14 x 14 in"}


def pipe(x: str | Fraction = "40", y: str | Fraction = "7", radius: str = "1.75") -> HiddenThing:
    """Return an upright pipe, slab to joists, in the run's frame."""
    x, y = Fraction(x), Fraction(y)
    return thing("Pipe", Rod(Point(x, y, Fraction(0)), Point(x, y, Fraction("89.5")), Fraction(radius)))


def plug(reach: str = "12.25") -> HiddenThing:
    """Return the cleanout's plug, 17 in up, reaching *reach* off the block."""
    start, end = Point(Fraction(40), Fraction(7), Fraction(17)), Point(Fraction(40), Fraction(reach), Fraction(17))
    return thing("Plug", Rod(start, end, Fraction("1.75")))


def cover(
    along: str = "34 in to 46 in", up: str = "10 in to 24 in", off: str = "12.5 in", size: str | None = "12 x 14 in"
) -> dict[str, Any]:
    """Return an access point with a cover in the chase's front."""
    at = {"along": along, "off the block": off, "above slab": up}
    middle = {"along": "40 in", "off the block": "12 in", "above slab": "17 in"}
    return {
        "tag": "03", "what": "Plug", "where": "low cover", "system": "waste", "at": middle, "known": {"how": "assumed"},
        "cover": {"kind": "lift-out panel", "size": size, "at": at, "opens": "pull"},
    }  # fmt: skip


def worked(choices: dict[str, Any], *things: HiddenThing, run: dict[str, str] | None = None, **more: Any) -> Worked:
    """Return a chase worked out."""
    file = record(run or RUN, {"chase": choices}, **more)
    assert file.record.treatment is not None
    chase = file.record.treatment.chase
    assert isinstance(chase, Chase)
    return solve(site(file, *things), chase)


def test_the_stack_of_the_sample_house() -> None:
    """Framing 15 in wide and 12 off the block is 16 wide and 12-1/2 off over the board, as taped (32 to 48)."""
    found, problems = worked(STACK, pipe(), plug(), access=[cover()])
    assert found is not None, problems
    assert found.measure("finished width").inches == 16
    assert found.measure("finished off the block").inches == Fraction("12.5")
    assert found.measure("framed width").inches == 15
    assert {face.name: face.at for face in found.faces} == {"front": Fraction("12.5"), "west side": 32, "east side": 48}


def test_a_plug_that_reaches_into_the_front_is_framed_round_and_said() -> None:
    """It reaches 12-1/4 in, past the framing at 12: no part meets it, and it clears the cover by 1/4 in."""
    stack, nut = pipe(), plug()
    found, _ = worked(STACK, stack, nut, access=[cover()])
    assert found is not None
    assert held(found, (stack, nut)) == []
    assert any("clears it by 1⁄4″" in remark for remark in found.remarks)


def test_a_cover_has_a_tie_over_and_under_it() -> None:
    """The sample's cover goes from 10 to 24 in: ties lie on both of its edges, and none behind it."""
    found, _ = worked(STACK, pipe(), access=[cover()])
    assert found is not None
    ties = [part.solid.bounds() for part in found.parts if part.name.startswith("front tie")]
    assert any(tie.high.z == 10 for tie in ties)
    assert any(tie.low.z == 24 for tie in ties)
    assert not any(tie.low.z < 24 and tie.high.z > 10 for tie in ties)


def test_a_corner_chase_is_measured_from_the_wall_that_closes_it() -> None:
    """The sample's riser: 14 x 14 in over the board, from the guest room's west wall at 208 to 222."""
    run = {"along": "north wall", "from": "207.5 in", "to": "221.5 in"}
    found, problems = worked(RADON, pipe("214", "10", "2.25"), run=run, room="guest")
    assert found is not None, problems
    assert found.measure("finished width").inches == 14
    assert found.measure("finished depth").inches == 14
    assert [face.name for face in found.faces] == ["front", "east side"]


def test_a_free_chase_has_four_sides() -> None:
    """Its back lies as far behind the pipe as its front is before it."""
    run = {"along": "east", "from": "90 in", "to": "110 in"}
    choices = {"form": "free", "along": "94 in to 106 in", "front": "106 in off the block"}
    found, problems = worked(choices, pipe("100", "100"), run=run)
    assert found is not None, problems
    assert len(found.faces) == 4
    assert found.measure("finished depth").inches == 13
    assert roles(found)["sole"] == 4


def test_a_pipe_that_leaves_sideways_has_ties_over_and_under_it() -> None:
    """The drain leaves through the side: neither ties nor board meet it."""
    drain = thing(
        "Drain",
        Rod(
            Point(Fraction(40), Fraction(7), Fraction(70)), Point(Fraction(90), Fraction(7), Fraction(70)), Fraction(2)
        ),
    )
    found, problems = worked(STACK, pipe(), drain)
    assert found is not None, problems
    assert held(found, (drain,)) == []


def side_cover(kind: str = "lift-out panel", off: str = "6 in to 11 in", **at: str) -> dict[str, Any]:
    """Return an access point with a cover 5 in wide in a side of the chase."""
    spot = {"off the block": off, "above slab": "10 in to 24 in"} | at
    return cover() | {"cover": {"kind": kind, "size": "5 x 14 in", "at": spot, "opens": "pull"}}


@pytest.mark.parametrize(("along", "name", "face"), [("32 in", "low side", 32), ("48 in", "high side", 48)])
def test_a_cover_may_be_in_any_side(along: str, name: str, face: int) -> None:
    """A stack may be reached from beside: the ties of that side go round the cover, and its board has the hole."""
    stack = pipe(radius="1.75")
    found, problems = worked(STACK | {"front": "14 in off the block"}, stack, access=[side_cover(along=along)])
    assert found is not None, problems
    (closed,) = (part.solid.bounds() for part in found.parts if part.role == "cover")
    assert face in (closed.low.x, closed.high.x)
    ties = [part.solid.bounds() for part in found.parts if part.name.startswith(f"{name} tie")]
    assert {10, 24} <= {edge for tie in ties for edge in (tie.low.z, tie.high.z)}
    assert not any(tie.low.z < 24 and tie.high.z > 10 for tie in ties)
    holes = [part for part in found.parts if part.name.startswith(f"{name} board")]
    assert len(holes) > 1
    assert found.measure("width of the cover").inches == 5
    assert clashes(found) == []


def test_a_free_chase_may_be_opened_from_behind() -> None:
    """Its back has a face of its own, and a cover in it is framed like one in front."""
    run = {"along": "east", "from": "90 in", "to": "110 in"}
    choices = {"form": "free", "along": "94 in to 106 in", "front": "106 in off the block"}
    door = side_cover()
    door["cover"]["at"] = {"east": "97 in to 103 in", "north": "93.5 in", "above slab": "10 in to 24 in"}
    door["cover"]["size"] = "6 x 14 in"
    found, problems = worked(choices, pipe("100", "100"), run=run, access=[door])
    assert found is not None, problems
    (closed,) = (part.solid.bounds() for part in found.parts if part.role == "cover")
    assert closed.high.y == Fraction("93.5")


def test_a_front_that_is_left_out_is_set_by_the_fittings() -> None:
    """The stack reaches 8-3/4 off and its sticks are 1-1/2; the nut, 12-1/4 off, sets it: 11-3/4 under 1/2 in board."""
    choices = {"form": "wall", "along": "32.5 in to 47.5 in"}
    found, problems = worked(choices, pipe())
    assert found is not None, problems
    assert found.measure("framed off the block").inches == Fraction("10.25")
    found, problems = worked(choices, pipe(), plug(), access=[cover(off="12.25 in")])
    assert found is not None, problems
    assert found.measure("framed off the block").inches == Fraction("11.75")


def test_a_panel_of_board_lies_flush_and_lands_on_stops() -> None:
    """A magnetic panel is as thick as the board, 1/8 in smaller all round, on 1x2 stops (3/4 x 1-1/2, PS 20)."""
    door = cover()
    door["cover"]["kind"] = "magnetic panel"
    found, problems = worked(STACK, pipe(), access=[door])
    assert found is not None, problems
    (closed,) = (part.solid.bounds() for part in found.parts if part.role == "cover")
    assert (closed.low.y, closed.high.y) == (12, Fraction("12.5"))
    assert closed.size("x") == Fraction("11.75")
    stops = [part.solid.bounds() for part in found.parts if part.role == "stop"]
    assert [(stop.high.y, stop.size("y"), stop.size("z")) for stop in stops] == [
        (12, Fraction(3, 4), Fraction(3, 2))
    ] * 2
    assert clashes(found) == []


def test_a_vent_keeps_its_clearance_in_the_chase() -> None:
    """A 6 in double-wall vent with 1 in round it, as its listing asks, needs 11 in between faces of 1-1/2 in sticks.

    6 + 2 x 1 + 2 x 1-1/2 = 11: at 11 in it fits, at 10-3/4 it does not.
    """
    foot, head = Point(Fraction(40), Fraction(10), Fraction(0)), Point(Fraction(40), Fraction(10), Fraction("89.5"))
    hot = thing("Vent", Rod(foot, head, Fraction(3)), clearance="1")
    fits = {"along": "34.5 in to 45.5 in", "front": "16 in off the block"}
    found, problems = worked(fits, hot)
    assert found is not None, problems
    assert held(found, (hot,)) == []
    _, problems = worked(fits | {"along": "34.75 in to 45.5 in"}, hot)
    assert codes(problems) == ["part-meets-obstacle"]


@pytest.mark.parametrize(
    ("choices", "things", "more", "code"),
    [
        (STACK | {"framing": "2x5"}, (pipe(),), {}, "unknown-stock"),
        (STACK | {"along": "38.5 in to 41.5 in"}, (pipe(),), {}, "chase-too-narrow"),
        (STACK | {"front": "6 in off the block"}, (pipe(),), {}, "chase-too-shallow"),
        (STACK | {"front": "11.5 in off the block"}, (pipe(), plug()), {}, "chase-too-shallow"),
        (STACK, (pipe("35"),), {}, "part-meets-obstacle"),
        (STACK, (pipe(),), {"access": [cover("33 in to 47 in", size="14 x 14 in")]}, "cover-past-chase"),
        (STACK, (pipe(),), {"access": [cover(up="1 in to 15 in")]}, "cover-past-chase"),
        (STACK | {"finished": "12 x 14 in"}, (pipe(),), {}, "finished-size-disagrees"),
        (STACK, (pipe(),), {"run": {"along": "east", "from": "32 in", "to": "48 in"}}, "chase-needs-wall"),
        (STACK, (pipe(),), {"section at": "90 in"}, "section-outside"),
        (STACK, (), {}, "chase-around-nothing"),
        (STACK, (pipe("240"),), {}, "chase-around-nothing"),
        (STACK | {"front": "400 in off the block"}, (pipe(),), {}, "outside-the-level"),
        (STACK | {"front": "-5 in off the block"}, (pipe(),), {}, "chase-too-shallow"),
        (STACK, (pipe(),), {"access": [cover(off="16 in")]}, "cover-in-no-face"),
        (STACK, (pipe(),), {"access": [cover("36 in to 44 in")]}, "cover-size-disagrees"),
    ],
)
def test_what_can_not_be_built_is_a_problem(
    choices: dict[str, Any], things: tuple[HiddenThing, ...], more: dict[str, Any], code: str
) -> None:
    """One Problem with its own code, and no Assembly."""
    found, problems = worked(choices, *things, **more)
    assert found is None
    assert set(codes(problems)) == {code}


DRAWN = given(
    inches_between(10, 36),
    inches_between(8, 30),
    inches_between(9, 24),
    inches_between(4, 40),
    inches_between(2, 12),
)


def hold_together(low: Fraction, wide: Fraction, front: Fraction, foot: Fraction, tall: Fraction) -> None:
    """Check one drawn case: what holds for every one of them."""
    choices = {"along": f"{text(low)} to {text(low + wide)}", "front": f"{text(front)} off the block"}
    centre = low + wide / 2
    door = cover(
        f"{text(centre - 2)} to {text(centre + 2)}",
        f"{text(foot)} to {text(foot + tall)}",
        text(front + Fraction(1, 2)),
        size=f"4 x {text(tall)}",
    )
    stack = pipe(centre, (front + Fraction("4.1")) / 2, "1")
    found, problems = worked(choices, stack, access=[door])
    if found is None:
        assert set(codes(problems)) <= {"part-meets-obstacle", "chase-too-shallow", "cover-past-chase"}
        return
    assert clashes(found) == []
    assert held(found, (stack,)) == []
    assert off_size(found) == []
    assert measures_hold(found)
    assert loose_boards(found, wide) == []


@settings(max_examples=30)
@DRAWN
def test_every_chase_holds_together(
    low: Fraction, wide: Fraction, front: Fraction, foot: Fraction, tall: Fraction
) -> None:
    """Parts only touch, nothing meets the pipe, sticks are true sizes, board is held, measures are distances."""
    hold_together(low, wide, front, foot, tall)


@pytest.mark.long
@settings(max_examples=3000)
@DRAWN
def test_thousands_of_chases_hold_together(
    low: Fraction, wide: Fraction, front: Fraction, foot: Fraction, tall: Fraction
) -> None:
    """The same, many times over."""
    hold_together(low, wide, front, foot, tall)

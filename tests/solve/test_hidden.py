from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from bookgen.model.assembly import HiddenThing, Material
from bookgen.model.geometry import Box, Point, Prism, Rod
from bookgen.solve.hidden import hidden_things
from tests.solve.level_fixture import BEAM, DRAIN, MEASURED, SUPPLY, hidden, on_ground, record


def only(*inside: dict[str, Any], **more: Any) -> HiddenThing:
    """Return the one hidden thing of a record."""
    (thing,), problems = hidden(*inside, **more)
    assert not problems, [str(problem) for problem in problems]
    return thing


def thing(**more: Any) -> dict[str, Any]:
    """Return a hidden thing with keys added."""
    return {"what": "Thing", "system": "waste", "known": MEASURED} | more


def room(one: HiddenThing) -> Box:
    """Return the box round a thing's solids."""
    whole = one.solids[0].bounds()
    for solid in one.solids[1:]:
        whole = whole.joined(solid.bounds())
    return whole


def test_the_height_of_a_rising_pipe_is_that_of_its_low_end() -> None:
    """Over the 152 in from stack to turn, 1/4 in per ft makes 3-1/6 in: 82 in becomes 85-1/6, taped as 85.2."""
    pipe = only(DRAIN).solids[0]

    assert isinstance(pipe, Rod)
    assert pipe.start == Point(Fraction(40), Fraction(281), Fraction(82))
    assert pipe.end == Point(Fraction(192), Fraction(281), 82 + Fraction(152, 48))


def test_a_pipe_that_rises_to_the_west_is_lowest_in_the_east() -> None:
    """The height given is at the low end, whichever that is."""
    at = DRAIN["at"] | {"rises": "1/4 in per ft to the west"}
    pipe = only(DRAIN | {"at": at}).solids[0]

    assert isinstance(pipe, Rod)
    assert (pipe.start.z, pipe.end.z) == (82 + Fraction(152, 48), 82)


def test_a_pipe_has_its_true_outside_and_its_coupling_is_thicker() -> None:
    """3 in PVC is 3-1/2 in outside (ASTM D2665), about 4 in over a coupling; the coupling is centred at its station."""
    pipe, coupling = only(DRAIN).solids

    assert isinstance(pipe, Rod)
    assert isinstance(coupling, Rod)
    assert pipe.radius == Fraction("1.75")
    assert coupling.radius == 2
    assert (coupling.start.x + coupling.end.x) / 2 == 128
    assert 2 < coupling.end.x - coupling.start.x < 4


def test_a_coupling_of_an_upright_pipe_is_a_height() -> None:
    """A pipe that only goes up has its couplings at heights above the slab."""
    at = {"east": "40 in", "north": "281 in", "above slab": "0 in to 89 in"}
    _, coupling = only(thing(pipe="3 in PVC", at=at, couplings=["30 in"])).solids

    assert (coupling.bounds().low.z + coupling.bounds().high.z) / 2 == 30


def test_a_path_has_a_leg_between_each_two_points() -> None:
    """The main drain goes along the wall and turns up; both legs keep their ends."""
    path = [
        {"along": "40 in", "off the block": "7 in", "above slab": "82 in"},
        {"along": "192 in", "off the block": "7 in", "above slab": "85.2 in"},
        {"along": "192 in", "off the block": "7 in", "above slab": "98 in"},
    ]
    first, second = only(thing(pipe="3 in PVC", path=path)).solids

    assert isinstance(first, Rod)
    assert isinstance(second, Rod)
    assert first.end == second.start == Point(Fraction(192), Fraction(281), Fraction("85.2"))


@pytest.mark.parametrize(
    ("at", "up"),
    [
        ({"above slab": "80.5 in to 88.5 in"}, (Fraction("80.5"), Fraction("88.5"))),
        ({"above slab": "84.5 in"}, (Fraction("80.5"), Fraction("88.5"))),
        ({"below joists": "1 in to 9 in"}, (Fraction("80.5"), Fraction("88.5"))),
        ({"above floor": "84.2 in"}, (Fraction("80.5"), Fraction("88.5"))),
    ],
)
def test_a_duct_stands_where_its_height_says_from_whichever_datum(
    at: dict[str, str], up: tuple[Fraction, Fraction]
) -> None:
    """A stretch is from underside to top, a length is the middle; joists are 89-1/2 up, the floor 0.3."""
    place = {"east": "60 in to 316 in", "north": "84 in to 104 in"} | at
    box = room(only(SUPPLY | {"at": place}))

    assert (box.low.z, box.high.z) == up
    assert (box.low.x, box.high.x, box.low.y, box.high.y) == (60, 316, 84, 104)


def test_a_duct_may_be_written_by_its_middle() -> None:
    """Across its run, the middle is as good as both sides: 94 in is the middle of 84 to 104."""
    place = {"east": "60 in to 316 in", "north": "94 in", "above slab": "84.5 in"}

    assert room(only(SUPPLY | {"at": place})) == room(only(SUPPLY))


def test_a_sloping_duct_is_a_sloping_prism() -> None:
    """A duct that rises 1/8 in per ft over 240 in ends 2-1/2 in higher; its sides stay upright."""
    place = {
        "east": "60 in to 300 in",
        "north": "94 in",
        "above slab": "80.5 in to 88.5 in",
        "rises": "1/8 in per ft to the east",
    }
    (duct,) = only(SUPPLY | {"at": place}).solids

    assert isinstance(duct, Prism)
    assert duct.axis == "y"
    assert duct.bounds().low.z == Fraction("80.5")
    assert duct.bounds().high.z == Fraction("91")
    assert duct.length() == 20


def test_a_turning_duct_has_closed_corners() -> None:
    """A duct that turns fills the corner: its two legs share the square of its width."""
    path = [
        {"east": "60 in", "north": "94 in", "above slab": "84 in"},
        {"east": "100 in", "north": "94 in", "above slab": "84 in"},
        {"east": "100 in", "north": "150 in", "above slab": "84 in"},
    ]
    first, second = only(thing(duct="20 x 8", path=path, system="air")).solids

    assert first.bounds().high.x == second.bounds().high.x == 110
    assert second.bounds().low.y == first.bounds().low.y == 84


def test_a_duct_without_a_unit_takes_the_unit_of_the_project() -> None:
    """500 x 200 is half a metre by a fifth in a metric project; 25.4 mm are an inch by the agreement of 1959."""
    duct = {"what": "Duct", "duct": "500 x 200", "system": "air", "known": MEASURED,
            "at": {"east": "1 m to 3 m", "north": "2 m", "above slab": "2 m"}}  # fmt: skip
    things, problems = hidden_things(on_ground(record([duct], None), units="metric"))
    assert problems == ()
    room = things[0].solids[0].bounds()
    assert (room.size("y"), room.size("z")) == (Fraction(5000, 254), Fraction(2000, 254))


def test_a_round_duct_is_a_rod() -> None:
    """A 6 in round duct has a radius of 3 in."""
    at = {"east": "96 in", "north": "60 in to 94 in", "above slab": "94 in"}
    (duct,) = only(thing(duct="6 in round", at=at, system="air")).solids

    assert isinstance(duct, Rod)
    assert duct.radius == 3


def test_a_cable_is_as_thick_as_it_is_wide() -> None:
    """12-2 NM is about 0.43 in wide; which way it lies nobody writes down."""
    at = {"east": "96 in", "north": "60 in to 94 in", "above slab": "94 in"}
    cable = only(thing(cable="12-2 NM", at=at, system="power"))

    assert isinstance(cable.solids[0], Rod)
    assert cable.solids[0].radius == Fraction("0.215")
    assert cable.material is Material.CABLE


def test_a_post_is_an_upright_rod() -> None:
    """A 3-1/2 in steel post is 3-1/2 in outside."""
    at = {"east": "68 in", "north": "144 in", "above slab": "0 in to 81.5 in"}
    (post,) = only(thing(post="3-1/2 in steel post", at=at, system="structure")).solids

    assert isinstance(post, Rod)
    assert post.radius == Fraction("1.75")
    assert (post.start.z, post.end.z) == (0, Fraction("81.5"))


def test_a_body_is_wide_along_its_wall() -> None:
    """On the west wall, wide goes north and deep goes east: the panel is 14-1/2 along the wall and 3.9 off it."""
    at = {"wall": "west wall", "along": "60 in to 74.5 in", "off the block": "0 in to 3.9 in",
          "above slab": "45 in to 75 in"}  # fmt: skip
    body = {"wide": "14-1/2 in", "deep": "3.9 in", "high": "30 in"}
    box = room(only(thing(body=body, at=at, system="power")))

    assert (box.low.x, box.high.x) == (0, Fraction("3.9"))
    assert (box.low.y, box.high.y) == (60, Fraction("74.5"))


def test_a_round_body_is_an_upright_cylinder() -> None:
    """The water heater, 20 in across, is centred where the record says."""
    at = {"east": "336 in", "north": "70 in", "above slab": "0 in to 60 in"}
    (tank,) = only(thing(body={"diameter": "20 in", "high": "60 in"}, at=at, system="gas")).solids

    assert isinstance(tank, Rod)
    assert tank.radius == 10
    assert tank.bounds().low == Point(Fraction(326), Fraction(60), Fraction(0))


def test_a_steel_beam_is_flanges_and_web() -> None:
    """The box round the three solids is the beam's; its web stands in the middle."""
    beam = only(BEAM, kind="beam")

    assert len(beam.solids) == 3
    box = room(beam)
    assert (box.size("y"), box.size("z")) == (4, 8)
    assert beam.solids[1].bounds().size("y") < 1


def test_stations_take_the_worse_end() -> None:
    """Between two stations the box is as far out and as low as the worse of them, hung from the joists."""
    stations = [
        {"along": "40 in", "reach": "9 in", "hang": "9-1/4 in"},
        {"along": "120 in", "reach": "8 in", "hang": "8 in"},
        {"along": "192 in", "reach": "10 in", "hang": "6 in"},
    ]
    first, second = only(thing(stations=stations)).solids

    assert first.bounds().low.z == Fraction("89.5") - Fraction("9.25")
    assert first.bounds().low.y == 288 - 9
    assert second.bounds().low.y == 288 - 10
    assert (second.bounds().low.x, second.bounds().high.x) == (120, 192)


def test_offsets_from_the_finished_wall_start_at_its_face() -> None:
    """The finished face is 4.6 in off the block, so 2.4 in off it is 7 in off the block."""
    at = {"along": "40 in to 192 in", "off the finished wall": "2.4 in", "above slab": "82 in"}
    pipe = only(thing(pipe="3 in PVC", at=at)).solids[0]

    assert isinstance(pipe, Rod)
    assert pipe.start.y == 281


def test_what_cannot_be_placed_is_named_and_the_rest_stays() -> None:
    """One thing without a length gives one problem, and the next thing is still there."""
    lost = thing(pipe="3 in PVC", at={"east": "40 in", "north": "40 in", "above slab": "9 in"})
    things, problems = hidden(lost, DRAIN)

    assert [one.what for one in things] == ["Main drain"]
    assert [problem.code for problem in problems] == ["no-length"]

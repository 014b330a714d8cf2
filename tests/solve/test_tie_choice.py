"""Marks worth taping from: best angles, walls in the way, things in a face, printed steps, refusals."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import cos, hypot, radians, sin, sqrt
from typing import Any

import numpy as np
import pytest

from bookgen.model.assembly import Assembly, Material, Part
from bookgen.model.frame import LEVEL, Frame
from bookgen.model.geometry import Point, Polygon, Prism, box
from bookgen.model.length import MILLIMETRES_PER_INCH, inches
from bookgen.model.place import Place
from bookgen.model.records.inside import Known
from bookgen.model.solved import AccessSpot, Solved, SolvedObstacle, Takeoff
from bookgen.model.ties import PlanDot, Side, TapedTie, TieChoice, TiedPosition, TieRefusal
from bookgen.solve.level import solve_rooms
from bookgen.solve.locate.tape_lines import face_in
from bookgen.solve.locate.tie_choice import Seen, best_ties, choose, printed, seen_from
from bookgen.solve.locate.ties import position_from_ties, taping_sigma
from tests.sample_house import sample_house
from tests.solve.house import KNOWN, level, project, record

QUARTER = Fraction(1, 4)
CORNERS = {
    "nw": {"what": "north-west corner of the family room", "at": ["4.6 in", "283.4 in"]},
    "ne": {"what": "north-east corner of the family room", "at": ["203.5 in", "283.4 in"]},
    "sw": {"what": "south-west corner of the family room", "at": ["4.6 in", "4.6 in"]},
    "se": {"what": "south-east corner of the family room", "at": ["203.5 in", "4.6 in"]},
    "guest": {"what": "north-west corner of the guest room", "at": ["208 in", "283.4 in"]},
}


def marks_at(at: PlanDot, *ways: tuple[float, float], step: Fraction = QUARTER) -> list[Seen]:
    """Return marks a, b, c… seen from *at*: each by bearing in degrees from east, and distance in inches."""
    found = []
    for key, (bearing, far) in zip("abcdef", ways, strict=False):
        mark = (at[0] + Fraction(far * cos(radians(bearing))), at[1] + Fraction(far * sin(radians(bearing))))
        one = seen_from(key, f"mark {key}", mark, at, step)
        assert one is not None
        found.append(one)
    return found


def chosen(ways: list[tuple[float, float]], face: Side | None = None) -> TieChoice:
    """Return the choice among marks round a thing at (100, 100), which must be one."""
    at = (Fraction(100), Fraction(100))
    choice = choose(marks_at(at, *ways), at, face, QUARTER)
    assert isinstance(choice, TieChoice), choice
    return choice


def keys(choice: TieChoice) -> str:
    """Return the keys of the marks in order."""
    return "".join(tie.key for tie in choice.ties)


def solved(at: PlanDot, *parts: Part, marks: dict[str, Any] = CORNERS, frame: Frame = LEVEL, **more: Any) -> Solved:
    """Return a level whose family room holds one access point at *at*, 20 in over the slab, and *parts* in the way."""
    cover = {"kind": "cover plate", "opens": "unscrew it"}
    where = {"east": f"{at[0]} in", "north": f"{at[1]} in", "above slab": "20 in"}
    point = {"tag": "01", "what": "Valve", "where": "there", "system": "water", "at": where, "cover": cover}
    run = {"along": "north wall", "from": "20 in", "to": "60 in"}
    file = record(run, {"wall soffit": {"framing bottom": "77 in above slab"}}, access=[point | {"known": KNOWN}])
    whole = project(file, marks=marks, **more)
    solved_level = level(whole)
    rooms, problems = solve_rooms(whole, solved_level)
    assert not problems
    place, known = Place("one.yaml", 1, 1), Known.model_validate(KNOWN)
    spot = AccessSpot("01", "one", Point(at[0], at[1], Fraction(20)), inches(20))
    assembly = Assembly(
        "one", "chase", "Chase", frame, (Fraction(0), Fraction(1)), Fraction(0), parts, (), {}, (), known, place
    )
    obstacle = SolvedObstacle("one", (), assembly if parts else None, None, (spot,), place)
    return Solved(whole, solved_level, rooms, (obstacle,), (), Takeoff((), ()))


def board(x: tuple[int, int], y: tuple[int, int], z: tuple[int, int] = (0, 80), role: str = "board") -> Part:
    """Return an upright piece on the level."""
    spans = [(Fraction(low), Fraction(high)) for low, high in (x, y, z)]
    return Part("one", role, box(spans[0], spans[1], spans[2], "z"), Material.BOARD, "")


def choice_in(of: Solved) -> TieChoice | TieRefusal:
    """Return the ties of the one access point."""
    return best_ties(of, of.obstacles[0].access[0])


def dot(east: int | str, north: int | str) -> PlanDot:
    """Return a place in exact inches."""
    return Fraction(east), Fraction(north)


def test_square_crossing_wins_over_nearer_marks_in_line() -> None:
    """A pair that crosses at 90 degrees is taken before nearer ones at 20 and 160."""
    choice = chosen([(0, 60), (20, 30), (90, 60), (180, 40)])
    assert keys(choice)[:2] in ("ac", "ca", "dc", "cd")
    assert 60 <= choice.angle <= 120


def test_error_to_expect_follows_the_law_of_two_tapes() -> None:
    """Two tapes of equal sigma at 60 degrees: sigma times the root of 2 over the sine, 1.633.

    Rounding to a step adds the variance of an even spread: its square over 12.
    """
    choice = chosen([(0, 100), (60, 100)])
    sigma = sqrt(float(taping_sigma(inches(100)).inches) ** 2 + 0.25**2 / 12)
    assert choice.angle == pytest.approx(60)
    assert float(choice.error.inches) == pytest.approx(1.63299 * sigma, abs=2e-3)


@pytest.mark.parametrize(
    ("angle", "found"), [(20, False), (29, False), (30, True), (59, True), (150, True), (151, False), (175, False)]
)
def test_flat_crossings_are_refused(angle: float, found: bool) -> None:
    """Between 30 and 150 degrees a crossing is good enough, from memory; flatter ones are refused, naming the marks."""
    at = (Fraction(100), Fraction(100))
    choice = choose(marks_at(at, (0, 60), (angle, 60)), at, None, QUARTER)
    assert isinstance(choice, TieChoice) == found
    if isinstance(choice, TieRefusal):
        assert choice.code == "marks-flat"
        assert "mark a, mark b" in choice.says


def test_best_crossings_come_before_nearer_fair_ones() -> None:
    """A crossing of 61 degrees with long tapes is taken before one of 59 with short ones; 60 to 120 are best."""
    assert sorted(keys(chosen([(0, 40), (59, 40), (-61, 150)]))[:2]) == ["a", "c"]


def test_third_tie_is_the_nearest_that_tells_the_mirror() -> None:
    """The nearest mark off the line of the first two checks them; one on that line reads the same at the mirror."""
    at = (Fraction(100), Fraction(100))
    one, two, far = marks_at(at, (0, 60), (90, 60), (225, 150))
    middle = seen_from("m", "middle", ((one.at[0] + two.at[0]) / 2, (one.at[1] + two.at[1]) / 2), at, QUARTER)
    assert middle is not None
    first = choose([one, two, middle], at, None, QUARTER)
    assert isinstance(first, TieChoice)
    assert keys(first) == "ab"
    second = choose([one, two, middle, far], at, None, QUARTER)
    assert isinstance(second, TieChoice)
    assert keys(second) == "abc"
    assert second.error < first.error


@pytest.mark.parametrize(("bearing", "side"), [(0, "west"), (90, "south"), (180, "east"), (270, "north")])
def test_side_is_where_the_thing_lies_off_the_marks(bearing: float, side: Side) -> None:
    """Marks to the east, and the thing lies west of the line through them; so all round."""
    assert chosen([(bearing - 45, 60), (bearing + 45, 60)]).side == side


@pytest.mark.parametrize("seed", range(20))
def test_printed_ties_lead_back_within_the_error(seed: int) -> None:
    """Ties printed to 1/4 in, with the side, lead back to the thing: by rounding alone within a part of the error."""
    chance = np.random.default_rng(seed)
    at = (Fraction(100), Fraction(100))
    ways = [(float(chance.uniform(0, 360)), float(chance.uniform(20, 290))) for _ in range(5)]
    seen = marks_at(at, *ways)
    choice = choose(seen, at, None, QUARTER)
    if isinstance(choice, TieRefusal):
        assert choice.code == "marks-flat"
        return
    by_key = {one.key: one for one in seen}
    ties = [TapedTie(t.key, by_key[t.key].at, t.printed, taping_sigma(t.printed)) for t in choice.ties]
    position = position_from_ties(ties[:2], choice.side)
    assert isinstance(position, TiedPosition)
    assert hypot(float(position.east.inches) - 100, float(position.north.inches) - 100) < 0.6
    whole = position_from_ties(ties, choice.side)
    assert isinstance(whole, TiedPosition)
    assert float(whole.rms.inches) == pytest.approx(float(choice.error.inches), rel=0.1)


def test_no_pair_has_a_smaller_error() -> None:
    """Among the pairs at 60 to 120 degrees, the one chosen has the least error of all, tried one by one."""
    chance = np.random.default_rng(2)
    at = (Fraction(100), Fraction(100))
    for _ in range(30):
        seen = marks_at(at, *[(float(chance.uniform(0, 360)), float(chance.uniform(20, 290))) for _ in range(5)])
        choice = choose(seen, at, None, QUARTER)
        good = []
        for index, one in enumerate(seen):
            for two in seen[index + 1 :]:
                sine = abs(one.way[0] * two.way[1] - one.way[1] * two.way[0])
                cosine = abs(one.way[0] * two.way[0] + one.way[1] * two.way[1])
                if cosine <= 0.5:
                    good.append((sqrt(one.sigma**2 + two.sigma**2) / sine, {one.key, two.key}))
        if good:
            assert isinstance(choice, TieChoice)
            least = min(error for error, _ in good)
            assert {tie.key for tie in choice.ties[:2]} in [pair for error, pair in good if error < least + 2e-3]


def test_thing_in_a_face_is_taped_along_it() -> None:
    """Two corners of one wall, with the thing between them in that wall: each tape tells where along it, as a check."""
    choice = chosen([(178, 90), (2, 30)], face="north")
    assert keys(choice) == "ba"
    assert choice.face == choice.side == "north"
    assert choice.angle == pytest.approx(88)
    assert choice.error.inches < Fraction(3, 8)


def test_one_corner_is_enough_along_a_face() -> None:
    """In a face one tape along it will do; without the face one tape tells nothing."""
    assert keys(chosen([(180, 90)], face="south")) == "a"
    at = (Fraction(100), Fraction(100))
    refusal = choose(marks_at(at, (180, 90)), at, None, QUARTER)
    assert isinstance(refusal, TieRefusal)
    assert refusal.code == "marks-out-of-sight"
    assert refusal.says.startswith("1 of the marks")


@pytest.mark.parametrize(
    ("length", "step", "shown"),
    [
        ("36.1", "1/4", "36"), ("36.125", "1/4", "36.25"), ("36.37", "1/4", "36.25"), ("129.77", "1/4", "129.75"),
    ],
)  # fmt: skip
def test_printed_to_the_quarter_inch_a_half_up(length: str, step: str, shown: str) -> None:
    """The nearest quarter, and the larger one of two that are equally near."""
    assert printed(inches(length), Fraction(step)) == inches(shown)


def test_metric_books_print_to_five_millimetres() -> None:
    """In a metric project every printed tie is a whole number of 5 mm, and lengths stay exact beside it."""
    choice = choice_in(solved(dot(100, 150), units="metric"))
    assert isinstance(choice, TieChoice)
    for tie in choice.ties:
        millimetres = tie.printed.inches * MILLIMETRES_PER_INCH
        assert millimetres % 5 == 0
        assert abs(millimetres - tie.length.inches * MILLIMETRES_PER_INCH) <= Fraction(5, 2)


def test_marks_of_the_same_room_within_a_tape() -> None:
    """A thing is taped from the corners of its own room, not from behind the wall; 25 ft away at most."""
    marks = {key: CORNERS[key] for key in ("nw", "ne", "sw", "guest")}
    choice = choice_in(solved(dot(150, 200), marks=marks))
    assert isinstance(choice, TieChoice)
    assert {tie.key for tie in choice.ties} == {"nw", "ne", "sw"}
    behind = choice_in(solved(dot(150, 200), marks={key: CORNERS[key] for key in ("nw", "guest")}))
    assert isinstance(behind, TieRefusal)
    assert behind.says.startswith("1 of the marks")
    far = choice_in(solved(dot(190, 250), marks=marks))
    assert isinstance(far, TieChoice)
    assert keys(far) == "nenw"  # the south-west corner is 25 ft 8 in away


def test_a_board_in_the_way_hides_a_mark() -> None:
    """The line from the north-west corner runs through a closet's side; the mark is left out. A door opens."""
    side = board((40, 41), (180, 260))
    hidden = choice_in(solved(dot(100, 200), side))
    assert isinstance(hidden, TieChoice)
    assert "nw" not in {tie.key for tie in hidden.ties}
    opened = choice_in(solved(dot(100, 200), replace(side, role="door")))
    assert isinstance(opened, TieChoice)
    assert "nw" in {tie.key for tie in opened.ties}


@pytest.mark.parametrize(("z", "hidden"), [((0, 80), True), ((60, 80), False), ((0, 5), False), ((0, 21), True)])
def test_only_what_stands_at_the_height_of_the_tape_hides(z: tuple[int, int], hidden: bool) -> None:
    """A soffit overhead or a low step does not stop a tape held 20 in over the slab."""
    choice = choice_in(solved(dot(100, 200), board((40, 41), (180, 260), z)))
    assert isinstance(choice, TieChoice)
    assert ("nw" not in {tie.key for tie in choice.ties}) == hidden


def test_a_tape_may_run_along_a_board_and_end_behind_one() -> None:
    """Along a face is not through it, and the last 16 in before the thing are the cover's."""
    along = board((0, 190), (283, 290))  # its face lies at 283, the thing and the mark in front
    hook = ((0, 283), (190, 283), (190, 250), (195, 250), (195, 290), (0, 290))
    shape = Polygon(tuple((Fraction(x), Fraction(y)) for x, y in hook))
    bent = Part("bent", "board", Prism(shape, "z", Fraction(0), Fraction(80)), Material.BOARD, "")
    cover = board((90, 110), (270, 272))
    marks = {**CORNERS, "nw": {"what": "corner", "at": ["4.6 in", "283 in"]}}
    choice = choice_in(solved(dot(100, 283), along, bent, cover, marks=marks))
    assert isinstance(choice, TieChoice)
    assert choice.face == "north"
    assert choice.ties[0].key == "nw"


def test_the_ends_of_the_tape_are_free() -> None:
    """A cover 13 in before the thing opens, and the hook of the tape holds on to the corner itself."""
    cover, corner = board((90, 91), (190, 215)), board((4, 5), (283, 284))
    choice = choice_in(solved(dot(100, 200), cover, corner))
    assert isinstance(choice, TieChoice)
    assert "nw" in {tie.key for tie in choice.ties}
    before = choice_in(solved(dot(100, 200), board((80, 81), (190, 230))))
    assert isinstance(before, TieChoice)
    assert "nw" not in {tie.key for tie in before.ties}


def test_thing_behind_the_board_is_in_its_face() -> None:
    """A valve 3 in behind the finished face of the north wall is taped along it, 100 less 4.6 in, from both corners."""
    choice = choice_in(solved(dot(100, 286)))
    assert isinstance(choice, TieChoice)
    assert (choice.face, keys(choice)) == ("north", "nwne")
    assert choice.ties[0].length == inches("95.4")
    assert choice.ties[0].printed == inches("95.5")


@pytest.mark.parametrize(
    ("at", "face"),
    [
        (("100", "286"), "north"), (("100", "299"), "north"), (("100", "300"), None), (("100", "281"), "north"),
        (("100", "280"), None), (("3", "100"), "west"), (("204", "100"), "east"), (("100", "4"), "south"),
        (("3.6", "284.4"), None), (("100", "150"), None),
    ],
)  # fmt: skip
def test_which_face_a_thing_is_in(at: tuple[str, str], face: Side | None) -> None:
    """Up to 16 in behind the board or 3 in before it, from 283.4, 4.6 and 203.5; in a corner it is in neither."""
    room = solved(dot(100, 100)).rooms[0]
    assert face_in(dot(*at), room) == face


def test_thing_far_behind_the_wall_can_not_be_taped() -> None:
    """More than 16 in behind every face of the room it is reached from, no mark counts."""
    refusal = choice_in(solved(dot(230, 200)))
    assert isinstance(refusal, TieRefusal)
    assert refusal.code == "marks-out-of-sight"
    assert refusal.says.startswith("none of the marks")


def test_frames_turn_what_is_in_the_way() -> None:
    """A piece given in a frame that runs north stands where that frame puts it."""
    turned = Frame("y", Fraction(0), 1, "west wall")
    of = solved(dot(100, 200), board((180, 260), (40, 41)), frame=turned)
    choice = choice_in(of)
    assert isinstance(choice, TieChoice)
    assert "nw" not in {tie.key for tie in choice.ties}


def test_a_mark_at_the_thing_itself_is_no_tie() -> None:
    """A tape of no length tells nothing; such a mark is not seen at all."""
    assert seen_from("a", "here", dot(100, 100), dot(100, 100), QUARTER) is None


def test_ties_are_printed_only_for_what_somebody_saw() -> None:
    """Of the sample house: every measured place that marks can be taped to has its ties, no assumed or outside one."""
    house = sample_house()
    known = {point.tag: point for file in house.project.obstacles for point in file.record.access}
    tied = {one.key: one for one in house.ties}
    assert {"01", "03", "12", "16"} <= set(tied)
    for tag, point in known.items():
        assert tag not in tied or (point.known.how in ("measured", "photo") and not point.outside), tag
    # The site notes taped the pit's lid from two corners: 8' 11" and 13' 5-1/2".
    assert {str(tie.printed.inches) for tie in tied["12"].choice.ties} == {"107", "323/2"}

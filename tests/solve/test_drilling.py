"""What lies behind faces, where nothing may be driven in, and that no screw length comes from what nobody confirmed."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookgen.model.assembly import Assembly, Face, HiddenThing, Material, Part
from bookgen.model.behind import SURE, Barred, FaceBehind
from bookgen.model.frame import LEVEL
from bookgen.model.geometry import Point, Polygon, Rod, box
from bookgen.model.length import MILLIMETRES_PER_INCH, Length
from bookgen.model.place import Place
from bookgen.model.records.inside import Known
from bookgen.solve.locate.behind import behind_faces, standing
from bookgen.solve.locate.drilling import NEAR, ROUND, STEPS
from bookgen.trade.cable import SETBACK
from tests.sample_house import sample_house

PLACE = Place("one.yaml", 1, 1)
WIDE, HIGH, BOARD = 96, 80, Fraction(1, 2)
WAYS = ("measured", "photo", "assumed", "planned")
STEP = STEPS["imperial"]


def known(how: str) -> Known:
    """Return how something is known."""
    return Known.model_validate({"how": how, "on": "2026-03-10"} if how in SURE else {"how": how})


def wall(how: str = "measured", board: Fraction = BOARD) -> Assembly:
    """Return a wall 96 by 80 in that looks south at y = 0, with studs 16 in apart behind its board."""
    outline = Polygon(tuple((Fraction(x), Fraction(z)) for x, z in ((0, 0), (WIDE, 0), (WIDE, HIGH), (0, HIGH))))
    face = Face("front", "y", Fraction(0), -1, outline, "family")
    spans = {x: (Fraction(x), x + Fraction(3, 2)) for x in range(0, WIDE, 16)}
    studs = tuple(
        Part(f"stud {x}", "stud", box(span, (board, board + Fraction(7, 2)), (Fraction(0), Fraction(HIGH)), "z"),
             Material.LUMBER, "2x4")
        for x, span in spans.items()
    )  # fmt: skip
    sheet = box((Fraction(0), Fraction(WIDE)), (Fraction(0), board), (Fraction(0), Fraction(HIGH)), "y")
    parts = (*studs, *((Part("board", "board", sheet, Material.BOARD, "1/2"),) if board else ()))
    ends = (Fraction(0), Fraction(WIDE))
    return Assembly("one", "stud wall", "Wall", LEVEL, ends, ends[0], parts, (face,), {}, (), known(how), PLACE)


def pipe(how: str, x: Fraction, depth: Fraction, name: str = "Pipe") -> HiddenThing:
    """Return a one-inch pipe that goes up behind the wall, its middle at *x* and its near side *depth* behind."""
    ends = (Point(x, depth + Fraction(1, 2), Fraction(z)) for z in (0, HIGH))
    rod = Rod(*ends, radius=Fraction(1, 2))
    return HiddenThing(name, name, "", "water", (rod,), Material.COPPER, Fraction(0), known(how), PLACE, False)


def face_of(assembly: Assembly, *things: HiddenThing, step: Fraction = STEP) -> FaceBehind:
    """Return what is behind the one face."""
    (face,) = behind_faces(assembly, "one", standing(things, ()), step)
    return face


def bars(zones: tuple[Barred, ...], along: Fraction, up: Fraction) -> bool:
    """Tell whether nothing may be driven in there."""
    return any(z.along[0] <= along <= z.along[1] and z.up[0] <= up <= z.up[1] for z in zones)


def test_longest_screw_stops_at_the_setback_of_cables() -> None:
    """Half-inch board and the 1-1/4 in of NEC 300.4(A)(1) make 1-3/4 in; 5/8 in board 1-7/8, told as 1-3/4."""
    assert face_of(wall()).screw is not None
    assert face_of(wall()).screw.inches == Fraction(7, 4)  # type: ignore[union-attr]
    assert face_of(wall(board=Fraction(5, 8))).screw.inches == Fraction(7, 4)  # type: ignore[union-attr]


@pytest.mark.parametrize("how", ["assumed", "planned"])
def test_what_nobody_confirmed_is_barred_however_deep_it_is_said_to_be(how: str) -> None:
    """Deeper than any screw goes, a pipe that was measured bars nothing; a guess at its depth is no depth."""
    deep = NEAR + 1

    assert face_of(wall(), pipe("measured", Fraction(40), deep)).barred == ()
    assert bars(face_of(wall(), pipe(how, Fraction(40), deep)).barred, Fraction(40), Fraction(30))


def test_metric_screws_are_told_in_whole_steps_below() -> None:
    """1-3/4 in is 44.45 mm: 40 mm in steps of 5."""
    screw = face_of(wall(), step=STEPS["metric"]).screw
    assert screw is not None
    assert screw.inches * MILLIMETRES_PER_INCH == 40


@pytest.mark.parametrize(("wall_known", "pipe_known"), list(product(WAYS, WAYS)))
def test_no_screw_and_no_safe_place_from_what_nobody_confirmed(wall_known: str, pipe_known: str) -> None:
    """A length is told only where the face and what is behind it were both measured or seen on a photo.

    Behind a face that is planned or assumed no place is safe at all; round a pipe that is, none within a stud bay.
    """
    face = face_of(wall(wall_known), pipe(pipe_known, Fraction(40), Fraction(1)))
    assert (face.screw is not None) == (wall_known in SURE and pipe_known in SURE)
    middle = Fraction(HIGH, 2)
    if wall_known not in SURE:
        assert all(bars(face.barred, Fraction(x), middle) for x in range(WIDE + 1))
        assert face.no_screw == "framing"
    elif pipe_known not in SURE:
        assert all(bars(face.barred, Fraction(x), middle) for x in range(24, 57))
        assert face.no_screw == "things"
        assert face.unsure == ("Pipe",)
    assert bars(face.barred, Fraction(40), middle)


@pytest.mark.parametrize("how", ["assumed", "planned"])
@pytest.mark.parametrize("depth", [Fraction(-3), Fraction(1), Fraction(10), Fraction(15)])
@pytest.mark.parametrize("east", [Fraction(-10), Fraction(40), Fraction(105)])
def test_what_is_assumed_beside_or_before_a_face_counts(how: str, depth: Fraction, east: Fraction) -> None:
    """It may turn out to be behind the face: beside its ends, deeper, or as if in front of it."""
    face = face_of(wall(), pipe(how, east, depth))
    assert face.screw is None
    assert face.unsure == ("Pipe",)


def test_one_assumed_thing_among_measured_ones_takes_the_length_away() -> None:
    """Nine pipes that were taped don't make up for one that was not."""
    sure = [pipe("measured", Fraction(8 * n), Fraction(2), f"Pipe {n}") for n in range(1, 10)]
    assert face_of(wall(), *sure).screw is not None
    assert face_of(wall(), *sure, pipe("assumed", Fraction(90), Fraction(12))).screw is None


def test_a_face_without_board_gets_no_screw() -> None:
    """A cover, or bare studs: there is nothing to fix to."""
    face = face_of(wall(board=Fraction(0)))
    assert (face.screw, face.no_screw) == (None, "board")


@given(
    st.lists(
        st.tuples(
            st.sampled_from(("measured", "photo")),
            st.integers(0, WIDE * 4).map(lambda n: Fraction(n, 4)),
            st.integers(0, 60).map(lambda n: Fraction(n, 4)),
        ),
        max_size=5,
    )
)
def test_no_screw_reaches_a_known_thing_outside_the_barred_parts(pipes: list[tuple[str, Fraction, Fraction]]) -> None:
    """Wherever the zones leave a place open, the longest screw ends before every pipe within its margin of it."""
    things = [pipe(how, x, depth, f"Pipe {n}") for n, (how, x, depth) in enumerate(pipes)]
    face = face_of(wall(), *things)
    assert face.screw is not None
    for spot in (Fraction(n, 2) for n in range(2 * WIDE + 1)):
        if bars(face.barred, spot, Fraction(40)):
            continue
        for how, x, depth in pipes:
            beside = abs(spot - x) <= Fraction(1, 2) + ROUND[how]
            assert not beside or depth > NEAR
            assert not beside or face.screw.inches < depth


def test_the_setback_is_that_of_the_code() -> None:
    """NEC 300.4(A)(1) and (D) keep cables 1-1/4 in (32 mm) back; what is hatched reaches deeper than any screw told."""
    assert Length(Fraction(5, 4)) == SETBACK
    assert Fraction(5, 8) * 2 + SETBACK.inches < NEAR


def test_framing_is_told_the_way_it_runs() -> None:
    """Studs have their middles along the face; a plate across it has its middle up the face."""
    assembly = wall()
    plate = box((Fraction(0), Fraction(WIDE)), (BOARD, Fraction(4)), (Fraction(0), Fraction(3, 2)), "x")
    parts = (*assembly.parts, Part("plate", "bottom plate", plate, Material.TREATED, "2x4"))
    face = face_of(replace(assembly, parts=parts))
    assert [one.middle for one in face.framing if one.upright] == [
        Fraction(x) + Fraction(3, 4) for x in range(0, 96, 16)
    ]
    assert [one.middle for one in face.framing if not one.upright] == [Fraction(3, 4)]


def test_the_sample_house_keeps_the_rule() -> None:
    """Of all its faces none has a screw length that hangs on anything planned or assumed; some have one."""
    solved = sample_house()
    told = [face for face in solved.faces if face.screw is not None]
    assert told
    for face in told:
        assert face.framing_known.how in SURE, face.name
        assert all(thing.known.how in SURE for thing in face.things), face.name
    for face in solved.faces:
        if face.framing_known.how not in SURE:
            assert face.barred == (Barred(face.along, face.up),), face.name

"""Where two treatments meet: trimmed to each other, and where they are not, told of; over houses made for it."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bookgen.model.assembly import Material
from bookgen.model.geometry import Prism
from bookgen.model.problem import Severity
from bookgen.model.project import ObstacleFile, Project
from bookgen.model.solved import Solved
from bookgen.solve import solve, whole
from tests.generated import beam, drain, ducts, post, stack
from tests.invariants import (
    adrift,
    built,
    crowded,
    doubled,
    hidden,
    miscounted,
    mismeasured,
    pieces,
    seen,
    structure,
    unclad,
    unheld,
)
from tests.meeting_houses import along_wall, closet, ducts_north, flat, opening
from tests.meeting_houses import house as records
from tests.whole_levels import Drawn, levels
from tests.whole_levels import whole as whole_level

FEW = settings(max_examples=3, derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
MANY = settings(max_examples=2000, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def house(*files: ObstacleFile) -> Solved | None:
    """Return a level of some obstacles worked out; None where their records have problems."""
    solved, _ = solve(records(*files))
    return solved


def told(solved: Solved) -> list[str]:
    """Return what the check says of work that cuts into work."""
    found = [one for one in solved.findings if one.code == "work-meets-work"]
    assert all(one.severity is Severity.STOP for one in found)
    return [f"{one.where}: {one.says}" for one in found]


def in_a_wall(solved: Solved) -> bool:
    """Tell whether a check says of a soffit or a closet that it stands in a wall, so that a person has to move it."""
    return any(one.code in {"closet-slot", "side-in-wall"} for one in solved.findings)


TRIMMED = {
    "a soffit along the wall and a chase in its way": (drain("a", 40, 200), stack("b", 120)),
    "a wrap under a beam soffit": (beam("a", 20, 400), post("b", 100)),
    "two soffits side by side": (ducts("a", 40, 200, 84), ducts("b", 40, 200, 112)),
    "two soffits end to end": (ducts("a", 40, 200), ducts("b", 202, 380)),
}


@pytest.mark.parametrize("files", TRIMMED.values(), ids=TRIMMED)
def test_where_two_treatments_meet_nothing_is_doubled(files: tuple[ObstacleFile, ...]) -> None:
    """The pieces of one stop at the other, and the check finds nothing."""
    solved = house(*files)

    assert solved is not None
    assert not list(doubled(pieces(solved)))
    assert not told(solved)


def test_work_that_cuts_into_other_work_is_told() -> None:
    """Two soffits whose corners meet, so that neither can end at the other's side: a stop, with how deep it goes."""
    solved = house(ducts("a", 40, 200, 84), ducts_north("b", 20, 95, 197, 79))

    assert solved is not None
    assert list(doubled(pieces(solved)))
    (said,) = told(solved)
    assert "goes" in said
    assert "Hung soffit (b)" in said


@st.composite
def obstacles(draw: st.DrawFn) -> tuple[ObstacleFile, ...]:
    """Draw treatments of every kind that meet one another, at places of their own; the wrap goes with its beam."""
    quarter = st.integers(0, 200).map(lambda number: number / 4)
    start, beside = 20 + draw(quarter), 230 + 2 * draw(quarter)
    bottoms = st.sampled_from([76, 79])
    drained = drain("a", start, start + 120 + draw(quarter), off=6 + draw(st.integers(0, 8)) / 4)
    made = (
        (drained,),
        (stack("b", 40 + 3 * draw(quarter)),),
        (ducts("c", 20 + draw(quarter), 180 + draw(quarter), 60 + draw(quarter) / 2),),
        (ducts("d", 20 + draw(quarter), 180 + draw(quarter), 180 + draw(quarter) / 2, draw(st.sampled_from([9, 11]))),),
        (beam("e", 12, 400 - draw(quarter)), post("f", 40 + 4 * draw(quarter))),
        (
            ducts_north(
                "g", 10 + draw(quarter), 150 + draw(quarter), 100 + 3 * draw(quarter),
                bottom=draw(st.sampled_from([77, 78.25, 79, 79.5])),
            ),
        ),
        (along_wall("h", "west wall", 20 + draw(quarter), 284 - draw(quarter), bottom=draw(bottoms)),),
        (closet("i", beside, beside + 60, deep=draw(st.sampled_from([36, 42, 60]))),),
        (flat("j", (4.6, 427.4), (4.6, 283.4)),),
    )  # fmt: skip
    kept = draw(st.lists(st.sampled_from(range(len(made))), min_size=1, max_size=5, unique=True))
    return tuple(file for number in sorted(kept) for file in made[number])


def board_of(solved: Solved) -> Fraction:
    """Return the cubic inches of board that are hung on treatments."""
    found = Fraction(0)
    for one in solved.obstacles:
        for part in one.assembly.parts if one.assembly is not None else ():
            if part.material is Material.BOARD and isinstance(part.solid, Prism):
                found += part.solid.volume()
    return found


def keeps_its_word(level_of: Project) -> None:
    """Ask a level what every level is asked; what is doubled is told of, and nothing is told that is not.

    Only where two corners meet, or a soffit goes past a wrap, is anything doubled; the rest must be whole.
    """
    solved, _ = solve(level_of)
    if solved is None:
        return
    every = pieces(solved)
    cut = told(solved)
    assert bool(cut) == bool(list(doubled(every)))
    assert not [*crowded(every, hidden(solved)), *miscounted(solved)]
    assert not [said for one in built(solved) for said in (*mismeasured(one), *adrift(one, solved))]
    assert (
        cut
        or in_a_wall(solved)
        or not [*seen(solved, every), *unclad(solved, every), *unheld(every, carried=structure(solved))]
    )
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(whole, "gives_way", lambda _: {})
        untrimmed, _ = solve(level_of)
    assert untrimmed is None or board_of(solved) <= board_of(untrimmed)


@FEW
@given(obstacles())
def test_generated_houses_keep_their_word(files: tuple[ObstacleFile, ...]) -> None:
    """A few houses in the daily run."""
    keeps_its_word(records(*files))


@pytest.mark.long
@MANY
@given(obstacles())
def test_thousands_of_generated_houses_keep_their_word(files: tuple[ObstacleFile, ...]) -> None:
    """The same for thousands."""
    keeps_its_word(records(*files))


@FEW
@given(levels())
def test_whole_levels_keep_their_word(drawn: Drawn) -> None:
    """A few levels of many treatments, on every wall and under every ceiling, in the daily run."""
    keeps_its_word(whole_level(*drawn))


@pytest.mark.long
@MANY
@given(levels())
def test_thousands_of_whole_levels_keep_their_word(drawn: Drawn) -> None:
    """The same for thousands."""
    keeps_its_word(whole_level(*drawn))


# Levels drawn so that once broke a rule, as small as they could be made: each with what was wrong.
SHRUNK: dict[str, Drawn] = {
    "a record written twice crashed": ("bare", (("wall soffit", "east wall", 4, 60, 6, 1, 74),) * 2),
    "a sliver of ceiling was left out": (
        "ceiling", (("closet", "south wall", 31, 54, 39), ("beam soffit", 31, 191, 120, 0.5)),
    ),
    "a side of a soffit went up through the strips of another room": (
        "two rooms", (("furring",), ("hung soffit east", 100, 318, 191, 9)),
    ),
    "a side of a soffit stopped short of the joists in another room": (
        "two rooms", (("furring",), ("hung soffit east", 50, 200, 191, 9)),
    ),
    "a side of a soffit went up over the edge of strips at a wall": (
        "bare", (("furring",), ("wall soffit", "west wall", 149, 399, 8, 9, 77)),
    ),
    "two strips were laid in the room for one between two soffits": (
        "bare", (("furring",), ("wall soffit", "south wall", 97, 90, 8.5, 3, 75.5),
                 ("roomy soffit", 4, 119, 21, 76.5, 0, 1.5)),
    ),
    "a soffit was parted by a chase that stood behind its line": (
        "bare", (("wall soffit", "north wall", 40, 160, 7, 8, 78), ("stack", 120, 7, 12)),
    ),
    "a side of a soffit that comes down in the wall of a closet was not told": (
        "bare", (("hung soffit east", 121, 394, 172, 12.0), ("closet", "east wall", 167, 40, 36)),
    ),
    "an end of a soffit that comes down in the wall of a closet was not told": (
        "bare", (("wall soffit", "west wall", 53, 68, 9.0, 11.0, 74.0), ("closet", "west wall", 77, 48, 34)),
    ),
    "a ceiling lost the strip along which it had been cut": (
        "ceiling", (("wall soffit", "east wall", 122, 337, 6.0, 4.5, 79.0),
                    ("hung soffit north", 37, 252, 390, 76.0, 20)),
    ),
    "two hung soffits in one bay laid their nailers into each other": (
        "bare", (("hung soffit north", 4, 235, 101, 74.5, 20), ("hung soffit north", 43, 75, 65, 79.5, 24)),
    ),
    "a whole side went with the hole for a duct that reached the strips in one room": (
        "two rooms", (("furring",), ("hung soffit east", 75, 184, 109, 9.0),
                      ("hung soffit north", 7, 197, 161, 79.0, 12)),
    ),
    "board over a closet had no studs behind it, since the soffit over that goes from wall to wall": (
        "bare", (("wall soffit", "west wall", 4, 373, 6.5, 3.0, 74.5), ("closet", "west wall", 212, 64, 33)),
    ),
    "board over a duct in an end hung loose, since too little was left of the upright over it": (
        "ceiling", (("hung soffit east", 104, 270, 56, 12.0), ("hung soffit east", 40, 270, 56, 12.0)),
    ),
    "an end was left open beside a chase that stands in a part of its width": (
        "bare", (("stack", 40, 7.0, 13.5), ("hung soffit north", 114, 163, 21, 74.0, 24)),
    ),
    "board over a closet had no studs behind it, beside another soffit": (
        "bare", (("wall soffit", "west wall", 45, 373, 6.5, 3.0, 74.5), ("closet", "west wall", 212, 64, 33),
                 ("wall soffit", "west wall", 4, 204, 8.5, 9.0, 74.5)),
    ),
    "a side went past the beam beside it, where the strips of one room came down": (
        "two rooms", (("furring",), ("roomy soffit", 92, 374, 97, 79.0, 5.5, 7.5), ("beam soffit", 9, 162, 121, 0.5),
                      ("wall soffit", "west wall", 103, 204, 7.5, 8.0, 74.5)),
    ),
}  # fmt: skip


@pytest.mark.parametrize("drawn", SHRUNK.values(), ids=SHRUNK)
def test_what_once_broke_a_rule_keeps_it(drawn: Drawn) -> None:
    """Each level that was found so is asked again."""
    keeps_its_word(whole_level(*drawn))


def test_a_duct_that_goes_on_under_the_soffit_it_stops_at_is_told() -> None:
    """The duct of b, 76-1/2 in up, ends 5 in inside the soffit of a, whose framing goes down to 77-1/2 in."""
    rows = ("roomy soffit", 73, 150, 198, 74.5, 8.0, 12.0)
    solved, problems = solve(whole_level("bare", (("hung soffit north", 81, 232, 214, 77.5, 8), rows)))
    lower, _ = solve(whole_level("bare", (("hung soffit north", 81, 232, 214, 76.5, 8), rows)))

    assert solved is None
    assert [(one.code, one.place.file) for one in problems] == [("obstacle-shows", "obstacles/b.yaml")]
    assert lower is not None
    assert not [*seen(lower, pieces(lower)), *unclad(lower, pieces(lower))]


OUT_OF_BOTH: dict[str, tuple[Drawn, str, str]] = {
    "a duct that is wider than the other soffit is long": (
        ("bare", (("hung soffit east", 96, 42, 32, 8.0), ("roomy soffit", 104, 124, 20, 76.0, 4.5, 0.0))),
        "a", "Duct lies outside it, since that side has moved over for the hung soffit of b",
    ),
    "a duct that begins before the other soffit": (
        ("ceiling", (("hung soffit east", 50, 61, 20, 10.0), ("hung soffit east", 39, 40, 34, 8.0))),
        "b", "Duct lies outside it, since that side has moved over for the hung soffit of a",
    ),
    "a duct that goes on beside a chase": (
        ("bare", (("stack", 40, 7.0, 13.5), ("hung soffit north", 114, 204, 21, 74.0, 24))),
        "b", "Branch goes on beside the chase of a, where this one stops, and nothing hides it there",
    ),
    "a drain that goes on behind a chase in the corner": (
        ("ceiling", (("wall soffit", "west wall", 119, 224, 6.0, 8.5, 77.0), ("stack", 20, 8.5, 24.0))),
        "a", "Drain goes on beside the chase of b, where this one stops, and nothing hides it there",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("drawn", "key", "rule"), OUT_OF_BOTH.values(), ids=OUT_OF_BOTH)
def test_what_two_treatments_leave_out_between_them_is_told(drawn: Drawn, key: str, rule: str) -> None:
    """Neither of the two has board round it: the record that hides it names the other one."""
    solved, problems = solve(whole_level(*drawn))

    assert solved is None
    assert [(one.code, one.place.file, one.rule) for one in problems] == [
        ("obstacle-shows", f"obstacles/{key}.yaml", rule)
    ]


def test_a_duct_that_lies_in_the_soffit_beside_it_is_not_told() -> None:
    """The soffit of b begins at 96 in and so hides the duct of a, from 100 in on, past whose side it lies."""
    rows = ("hung soffit east", 96, 42, 32, 8.0), ("roomy soffit", 96, 124, 20, 76.0, 4.5, 0.0)
    solved, _ = solve(whole_level("bare", rows))

    assert solved is not None
    assert not [*seen(solved, pieces(solved)), *unclad(solved, pieces(solved))]


@pytest.mark.parametrize(("off", "refused"), [("41 in", True), ("4.6 in", False)], ids=["front", "lining behind it"])
def test_no_opening_is_framed_in_the_front_of_a_closet(off: str, refused: bool) -> None:
    """Whoever asks for one is told where it may go; one in the lining that the closet stands before is framed."""
    at = {"along": "150 in", "off the block": off, "above slab": "40 in"}
    asked = opening("b", {"along": "north wall", "from": "140 in", "to": "160 in"}, at, "10 x 12 in")
    solved, problems = solve(records(closet("a", 100, 164, deep=37), asked))

    assert (solved is None) is refused
    assert [one.code for one in problems] == ["no-wall-there"] * refused
    assert not refused or "closet of a" in problems[0].rule

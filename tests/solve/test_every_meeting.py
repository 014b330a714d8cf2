"""Any two treatments put where they meet: one is trimmed, and nothing of them is doubled."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations

import pytest

from bookgen.model.project import ObstacleFile
from bookgen.solve.whole import judge
from tests.generated import beam, ducts, post, stack
from tests.invariants import doubled, pieces
from tests.meeting_houses import along_wall, closet, ducts_north, flat, house, opening, stair, tall_post

# Each treatment at a place where it lies across most of the others.
ONE: dict[str, Callable[[str], ObstacleFile]] = {
    "wall soffit": lambda key: along_wall(key, "north wall", 40, 360),
    "wall soffit on another wall": lambda key: along_wall(key, "east wall", 60, 280, bottom=79),
    "hung soffit": lambda key: ducts(key, 100, 420, 180),
    "hung soffit along the joists": lambda key: ducts_north(key, 60, 279, 190, 79),
    "beam soffit": lambda key: beam(key, 20, 400, 144),
    "post wrap under a beam": lambda key: post(key, 200, 144),
    "post wrap": lambda key: tall_post(key, 205, 194),
    "chase": lambda key: stack(key, 205),
    "closet": lambda key: closet(key, 180, 244, deep=60),
    "furring": lambda key: flat(key, (4.6, 427.4), (4.6, 283.4)),
    "stair opening": stair,
    "access opening": lambda key: opening(
        key, {"along": "north wall", "from": "100 in", "to": "114 in"},
        {"along": "107 in", "off the block": "4.6 in", "above slab": "40 in"},
    ),
}  # fmt: skip


@pytest.mark.parametrize(("first", "second"), tuple(combinations(ONE, 2)))
def test_nothing_is_doubled_where_two_treatments_meet(first: str, second: str) -> None:
    """Every pair is asked; the level is worked out, no two pieces share volume, and the check has nothing to tell."""
    solved, problems = judge(house(ONE[first]("a"), ONE[second]("b")))

    assert solved is not None, problems
    assert not list(doubled(pieces(solved)))
    assert "work-meets-work" not in {one.code for one in solved.findings}


TWICE = frozenset(ONE) - {name for name in ONE if "soffit" in name}


@pytest.mark.parametrize("name", sorted(TWICE))
def test_a_treatment_written_twice_is_told(name: str) -> None:
    """The same work in two records stands in itself: the test above can fail, and a person is told."""
    solved, _ = judge(house(ONE[name]("a"), ONE[name]("b")))

    assert solved is not None
    assert list(doubled(pieces(solved)))
    assert "work-meets-work" in {one.code for one in solved.findings}


BESIDE = {
    "two beams": ((beam("a", 20, 400, 120), beam("b", 20, 400, 128)), "both beams in one record"),
    "two corners": (
        (ducts("a", 40, 200, 84), ducts_north("b", 20, 95, 197, 79)),
        "the other lies from 16′\u00a04\u200a1⁄2″ to 18′\u00a06\u200a1⁄2″ along its run",
    ),
    "a wrap in the line of a wall soffit": (
        (along_wall("a", "north wall", 40, 300, outside=14), tall_post("b", 120, 270)), "set its sides clear of it",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", BESIDE)
def test_where_a_person_has_to_choose_what_to_do_is_said(name: str) -> None:
    """Neither can be trimmed to the other: the stop says where that lies, or that one record may hold both."""
    files, says = BESIDE[name]
    solved, _ = judge(house(*files))

    assert solved is not None
    assert says in next(one.hint for one in solved.findings if one.code == "work-meets-work")

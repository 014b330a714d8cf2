"""The rules every level keeps: the sample house keeps them, and each is told of when it is broken on purpose."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from bookgen.model.assembly import Assembly, Material, Part
from bookgen.model.geometry import Point, Prism, Rod, Solid
from bookgen.model.length import Length
from bookgen.model.project import Project
from bookgen.model.solved import Solved
from bookgen.solve import solve
from tests.invariants import (
    adrift,
    built,
    crowded,
    doubled,
    fingerprint,
    hidden,
    miscounted,
    mismeasured,
    pieces,
    seen,
    structure,
    unclad,
    unheld,
)
from tests.sample_house import sample_house

Change = Callable[[Part], tuple[Part, ...]]


@pytest.fixture(scope="module")
def project() -> Project:
    """Return the sample's records."""
    return sample_house().project


@pytest.fixture(scope="module")
def sample() -> Solved:
    """Return the sample worked out."""
    return sample_house()


def broken(solved: Solved, treatment: str, change: Change, **more: object) -> Solved:
    """Return the level with every part of each treatment of that name put through *change*."""

    def spoilt(assembly: Assembly | None) -> Assembly | None:
        if assembly is None or assembly.treatment != treatment:
            return assembly
        return replace(assembly, parts=tuple(p for part in assembly.parts for p in change(part)), **more)  # type: ignore[arg-type]

    return replace(solved, obstacles=tuple(replace(one, assembly=spoilt(one.assembly)) for one in solved.obstacles))


def shifted(solid: Solid, by: Fraction) -> Solid:
    """Return a solid moved along its own axis."""
    if isinstance(solid, Rod):
        return replace(solid, start=Point(solid.start.x, solid.start.y, solid.start.z + by))
    return replace(solid, start=solid.start + by, end=solid.end + by)


def test_the_sample_keeps_every_rule(sample: Solved) -> None:
    """Of the edges of board those count as held that lie on a beam, a header or at the well of the stair."""
    every = pieces(sample)

    assert not [*doubled(every), *crowded(every, hidden(sample)), *seen(sample, every), *unclad(sample, every)]
    assert not list(miscounted(sample))
    assert not [said for one in built(sample) for said in (*mismeasured(one), *adrift(one, sample))]
    assert not list(unheld(every, carried=structure(sample)))
    assert any("partition-P2" in said for said in unheld(every))


def test_the_same_records_give_the_same_level(project: Project, sample: Solved) -> None:
    """Solved again it says the same, down to the last word; with one part moved it does not."""
    again, _ = solve(project)

    assert again is not None
    assert fingerprint(again) == fingerprint(sample)
    moved = broken(sample, "chase", lambda part: (replace(part, solid=shifted(part.solid, Fraction(1, 16))),))
    assert fingerprint(moved) != fingerprint(sample)


def test_a_doubled_part_is_told(sample: Solved) -> None:
    """A rung that stands twice in the same place, and a crosser pushed 1/16 in into the ladder."""
    twice = broken(sample, "hung soffit", lambda part: (part, part) if part.role == "rung" else (part,))
    pushed = broken(
        sample,
        "hung soffit",
        lambda part: (
            (replace(part, solid=shifted(part.solid, Fraction(1, 16))),) if part.role == "crosser" else (part,)
        ),
    )

    assert any("rung" in said for said in doubled(pieces(twice)))
    assert any("crosser" in said for said in doubled(pieces(pushed)))


def test_a_part_in_a_clearance_is_told(sample: Solved) -> None:
    """Framing that comes up by 2 in goes into the ducts; so does a duct that asks for more room."""

    def raised(part: Part) -> tuple[Part, ...]:
        solid = part.solid
        if part.role != "crosser" or not isinstance(solid, Prism):
            return (part,)
        corners = tuple((u, v + 2) for u, v in solid.profile.corners)
        return (replace(part, solid=replace(solid, profile=replace(solid.profile, corners=corners))),)

    things = tuple(replace(thing, clearance=Fraction(1)) for thing in hidden(sample) if thing.system == "air")

    assert any("Supply duct" in said for said in crowded(pieces(broken(sample, "hung soffit", raised)), hidden(sample)))
    assert list(crowded(pieces(sample), things))


@pytest.mark.parametrize(
    ("treatment", "board", "side"),
    [
        ("hung soffit", "bottom board 8", "below"),
        ("hung soffit", "south side board", "the south"),
        ("post wrap", "Steel post A, west face", "the west"),
        ("chase", "front board 3", "the south"),
        ("chase", "cover 03", "the south"),
    ],
)
def test_what_a_missing_board_lays_bare_is_told(sample: Solved, treatment: str, board: str, side: str) -> None:
    """Without one board, or without the cover, what is behind it can be seen from that side, and only then."""
    every = [part.name for one in built(sample) if one.treatment == treatment for part in one.parts]
    bare = broken(sample, treatment, lambda part: () if part.name == board else (part,))

    assert board in every
    assert any(said.endswith(f"can be seen from {side}") for said in seen(bare, pieces(bare)))


def test_a_board_edge_without_wood_is_told(sample: Solved) -> None:
    """Without its rails the long edges of a soffit's board hang free; without its uprights those of a chase do."""
    railless = broken(sample, "hung soffit", lambda part: () if part.role == "bottom rail" else (part,))
    uprightless = broken(sample, "chase", lambda part: () if part.role == "upright" else (part,))

    assert any("04-ducts" in said for said in unheld(pieces(railless)))
    assert any("03-stack" in said for said in unheld(pieces(uprightless)))


def test_a_piece_cut_that_is_no_part_is_told(sample: Solved) -> None:
    """A stick that the takeoff has and the model has not, and one that is cut longer than it is."""
    takeoff = sample.takeoff
    more = replace(takeoff.pieces[0], count=takeoff.pieces[0].count + 1)
    longer = replace(takeoff.pieces[0], length=takeoff.pieces[0].length + Length(Fraction(1, 16)))

    for spoilt in (more, longer):
        assert list(miscounted(replace(sample, takeoff=replace(takeoff, pieces=(spoilt, *takeoff.pieces[1:])))))


def test_a_size_that_the_model_does_not_have_is_told(sample: Solved) -> None:
    """A printed size that is off by 1/16 in, and one between two spots where nothing stands."""
    soffit = next(one for one in built(sample) if one.treatment == "hung soffit")
    first = soffit.measures[0]
    off = replace(soffit, measures=(replace(first, value=first.value + Length(Fraction(1, 16))), *soffit.measures[1:]))
    shift = Fraction(7, 64)
    anchors = {name: Point(at.x + shift, at.y + shift, at.z + shift) for name, at in soffit.anchors.items()}

    assert list(mismeasured(off))
    assert list(adrift(replace(soffit, anchors=anchors), sample))
    assert not list(mismeasured(replace(soffit, anchors=anchors)))


def test_cables_and_what_leads_away_are_left_alone(sample: Solved) -> None:
    """A cable is moved aside by hand; ducts that go on out of the end of a soffit are not bare there."""
    assert any(thing.material is Material.CABLE for thing in hidden(sample))
    assert not list(crowded(pieces(sample), [t for t in hidden(sample) if t.material is Material.CABLE]))

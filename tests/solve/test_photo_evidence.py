"""Photos in records: measured marks and overlays of the sample, and every refusal at the line it belongs to."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from functools import cache
from math import dist
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from bookgen.model.evidence import Dot
from bookgen.model.problem_kinds import PROBLEM_KINDS
from bookgen.model.solved import Solved
from bookgen.read import read
from bookgen.solve import solve
from tests.sample_house import sample_house

ROOT = Path(__file__).parents[2]
GOOD = ROOT / "tests" / "cases" / "solve" / "good"
# The cameras that the sample's computer-rendered stand-ins were made with.
SCENES = json.loads((Path(__file__).parent / "data" / "sample-pictures.json").read_text("utf-8"))["scenes"]
ONE_INCH = 1.0
FOUR_PIXELS = 4.0  # at 1600 wide


@cache
def sample() -> Solved:
    """Return the sample project, solved."""
    return sample_house()


@pytest.mark.parametrize(
    ("photo", "what", "along", "up"),
    [
        ("corner-framed.jpg", "Plug of the cleanout", 40, 17),
        ("radon-framed.jpg", "Gauge behind the cover", 215, 60),
        ("stair-framed.jpg", "Upper end of the sloped plate", 136.25, None),
        ("beam-framed.jpg", "Lower edge of the ladder", None, 80),
    ],
)
def test_sample_measures_are_within_an_inch_of_the_notes(
    photo: str, what: str, along: float | None, up: float | None
) -> None:
    """Site notes: plug at x 40, 17 up; cover at x 215 at the gauge, 60 up; rail to x 136.25; beam framing at 80."""
    found = next(one.sighting for one in sample().photos.marks if (one.file, one.sighting.name) == (photo, what))
    for told, noted in ((found.along, along), (found.up, up)):
        if noted is not None:
            assert abs(float(told.inches) - noted) <= ONE_INCH


def seen(scene: str, phase: str, place: tuple[float, float, float]) -> Dot:
    """Return where the camera of a rendered picture shows a place of the plan."""
    camera = SCENES[scene]["pictures"][phase]["camera"]
    x, y, z = np.array(camera["rotation"]) @ (np.array(place) - camera["position"])
    return camera["middle"][0] + camera["focal"] * x / z, camera["middle"][1] + camera["focal"] * y / z


@pytest.mark.parametrize(
    ("scene", "axis", "plane", "along", "up"),
    [
        ("corner", 1, 276, (6, 120), (77, 87)),
        ("radon", 1, 269.9, (209, 221), (6, 87)),
        ("stair", 1, 46.5, (88, 160), (6, 86)),
        ("mechanical", 0, 300, (20, 135), (6, 77)),
        ("beam", 1, 149, (84, 200), (80, 88)),
        ("furring", 2, 88, (310, 420), (190, 280)),
    ],
)
def test_sample_overlays_are_within_four_pixels(
    scene: str, axis: int, plane: float, along: tuple[float, float], up: tuple[float, float]
) -> None:
    """All over the face, what the framed picture shows comes to stand where it is in the finished picture's view.

    The truth is that of the cameras; the board's own half inch is left to it, since points of both faces are clicked.
    """
    overlay = next(one for one in sample().photos.overlays if one.framed == f"{scene}-framed.jpg")
    board = plane - 0.5 if scene not in {"stair", "beam"} else plane + (1.0 if scene == "stair" else 0.5)
    width = SCENES[scene]["pictures"]["finished"]["size"][0]
    for first in np.linspace(*along, 5):
        for second in np.linspace(*up, 5):
            moved = overlay.panes[0].onto.at(seen(scene, "framed", placed(axis, plane, first, second)))
            assert moved is not None
            true = seen(scene, "finished", placed(axis, board, first, second))
            assert dist(moved, true) <= FOUR_PIXELS * width / 1600, (first, second)


def placed(axis: int, plane: float, along: float, up: float) -> tuple[float, float, float]:
    """Return a place of the plan on a plane square to *axis*; *along* and *up* are the other two, in their order."""
    place = [along, up]
    place.insert(axis, plane)
    return place[0], place[1], place[2]


@pytest.mark.parametrize(
    ("framed", "finished", "scene"),
    [
        ((332, 907), (305, 910), "panel"),
        ((851, 933), (831, 954), "panel"),
        ((805, 459), (794, 461), "panel"),
        ((807, 590), (793, 598), "panel"),
    ],
)
def test_boxes_that_were_not_clicked_meet_their_plates(
    framed: tuple[int, int], finished: tuple[int, int], scene: str
) -> None:
    """Outlets, thermostat and switch of the closet front, read off both pictures by eye, lie on one another."""
    overlay = next(one for one in sample().photos.overlays if one.framed == f"{scene}-framed.jpg")
    moved = overlay.panes[0].onto.at(framed)
    assert moved is not None
    assert dist(moved, finished) <= FOUR_PIXELS


def test_every_framed_and_finished_picture_of_the_sample_is_laid_over() -> None:
    """Nine records have both; each has its see-through, and where it is tied, the shift of what lies deeper is told."""
    both = {
        file.key for file in sample().project.obstacles if file.record.photos.framed and file.record.photos.finished
    }
    assert {one.obstacle for one in sample().photos.overlays} == both
    assert len(both) == 9
    shifts = {one.framed: one.shift for one in sample().photos.overlays}
    assert {name for name, shift in shifts.items() if shift is None} == {
        "duct-framed.jpg",
        "furring-framed.jpg",
        "water-framed.jpg",
    }


# A wall seen straight on: 10 pixels to the inch, the slab at the lower edge of a picture of 1000 by 800.
RECORD = """obstacle: A wall
kind: hidden work
room: family
sentence: Something is behind it.
known: {{how: planned}}
photos:
  framed:
    - file: framed.png
      shows: A framed wall.
      tied:
        to: {framed_to}
        plane: the studs
        points:
{points}
      marks:
        - {{what: Box, at: [500, {mark}], measure: yes}}
  finished:
    - file: finished.png
      shows: A finished wall.
      tied:
        to: north wall
        plane: the board
        points:
          - {{what: a, along: 0 in, above slab: 80 in, at: [0, 0]}}
          - {{what: b, along: 100 in, above slab: 80 in, at: [1000, 0]}}
          - {{what: c, along: 0 in, above slab: 0 in, at: [0, 800]}}
          - {{what: d, along: 100 in, above slab: 0 in, at: [1000, 800]}}
  see through:
    - framed: framed.png
      finished: finished.png
{pairs}"""
CORNERS = (("a", 0, 80, 0, 0), ("b", 100, 80, 1000, 0), ("c", 0, 0, 0, 800), ("d", 100, 0, 1000, 800))
SPARE = (("e", 50, 40, 500, 400), ("f", 20, 60, 200, 200), ("g", 80, 20, 800, 600))
Points = tuple[tuple[str, int, int, int, int], ...]


@pytest.fixture
def solved_wall(tmp_path: Path) -> Callable[..., tuple[Solved | None, list[tuple[str, str]]]]:
    """Return a function that solves the small wall with other points; it gives (code, the line's text) of Problems."""

    def solve_it(
        points: Points = CORNERS,
        framed_to: str = "north wall",
        mark: int = 400,
        pairs: str = "",
        names: tuple[str, str] = ("along", "above slab"),
    ) -> tuple[Solved | None, list[tuple[str, str]]]:
        folder = tmp_path / "level"
        shutil.copytree(GOOD, folder)
        (folder / "obstacles").mkdir()
        (folder / "photos").mkdir()
        for shade, name in enumerate(("framed.png", "finished.png")):
            Image.new("RGB", (1000, 800), (shade, shade, shade)).save(folder / "photos" / name)
        lines = "\n".join(
            f"          - {{what: {w}, {names[0]}: {a} in, {names[1]}: {u} in, at: [{x}, {y}]}}"
            for w, a, u, x, y in points
        )
        text = RECORD.format(points=lines, framed_to=framed_to, mark=mark, pairs=pairs)
        (folder / "obstacles" / "wall.yaml").write_text(text, "utf-8")
        project, problems = read(folder)
        assert project is not None, [str(problem) for problem in problems]
        solved, problems = solve(project)
        known = {kind.code for kind in PROBLEM_KINDS}
        assert all(problem.code in known and problem.repair for problem in problems)
        rows = text.splitlines()
        return solved, [(problem.code, rows[problem.place.line - 1].strip()) for problem in problems]

    return solve_it


def test_a_wall_seen_straight_on_is_measured(solved_wall: Callable[..., tuple[Solved | None, list[object]]]) -> None:
    """Pixel [500, 400] of ten to the inch is 50 in along and 40 in up; the overlay moves nothing."""
    solved, problems = solved_wall()
    assert problems == []
    assert solved is not None
    found = solved.photos.marks[0].sighting
    assert float(found.along.inches) == pytest.approx(50)
    assert float(found.up.inches) == pytest.approx(40)
    assert solved.photos.overlays[0].panes[0].onto.at((123, 456)) == pytest.approx((123, 456))


def test_a_light_in_a_ceiling_is_measured_from_below(
    solved_wall: Callable[..., tuple[Solved | None, list[object]]],
) -> None:
    """Straight up at a ceiling, north upward, east is to the left; ten pixels to the inch, so [500, 200] is known."""
    corners = (("a", 100, 80, 0, 0), ("b", 0, 80, 1000, 0), ("c", 100, 0, 0, 800), ("d", 0, 0, 1000, 800))
    pairs = as_pairs(WHOLE)
    solved, problems = solved_wall(points=corners, framed_to="ceiling", mark=200, pairs=pairs, names=("east", "north"))
    assert problems == []
    assert solved is not None
    (mark,) = solved.photos.marks
    assert mark.way == "level"
    assert (float(mark.sighting.along.inches), float(mark.sighting.up.inches)) == pytest.approx((50, 60))


WHOLE = ((0, 0), (1000, 0), (0, 800), (1000, 800))


def as_pairs(framed: tuple[tuple[int, int], ...], finished: tuple[tuple[int, int], ...] = WHOLE) -> str:
    """Return the pairs of a see-through as YAML."""
    rows = [
        f"        - {{what: p{i}, framed: [{a}, {b}], finished: [{c}, {d}]}}"
        for i, ((a, b), (c, d)) in enumerate(zip(framed, finished, strict=True))
    ]
    return "\n".join(("      pairs:", *rows))


@pytest.mark.parametrize(
    ("change", "code", "line"),
    [
        ({"points": CORNERS[:3]}, "pairs-too-few", "points:"),
        ({"points": (*CORNERS, ("twin", 0, 80, 0, 0))}, "pairs-doubled", "points:"),
        ({"points": tuple((w, a, 0, x, 800) for w, a, _, x, _ in (*CORNERS, *SPARE)[1:5])}, "pairs-doubled", "points:"),
        ({"points": tuple((f"p{x}", x, 0, 10 * x, 800) for x in (0, 30, 60, 90))}, "pairs-in-line", "points:"),
        ({"points": (*CORNERS[:2], ("c", 0, 0, 1000, 800), ("d", 100, 0, 0, 800))}, "pairs-crossed", "points:"),
        ({"points": (*CORNERS, ("e", 50, 40, 700, 600))}, "pairs-disagree", "points:"),
        (
            {"points": (*CORNERS, *SPARE, ("h", 40, 40, 600, 400))},
            "pair-off",
            "- {what: h, along: 40 in, above slab: 40 in, at: [600, 400]}",
        ),
        ({"framed_to": "south wall"}, "ties-differ", "- framed: framed.png"),
        ({"pairs": as_pairs(((1000, 0), (0, 0), (1000, 800), (0, 800)))}, "pairs-mirrored", "pairs:"),
        ({"pairs": as_pairs(((0, 0), (1000, 0), (500, 7), (510, 790)))}, "pairs-in-line", "pairs:"),
    ],
)
def test_points_that_cannot_be_used_are_problems_at_their_line(
    change: dict[str, object],
    code: str,
    line: str,
    solved_wall: Callable[..., tuple[Solved | None, list[tuple[str, str]]]],
) -> None:
    """A person sees the record's own line and a code that `bookgen explain` knows."""
    solved, problems = solved_wall(**change)
    assert solved is None
    assert problems == [(code, line)]


def test_a_mark_past_the_horizon_is_a_problem(
    solved_wall: Callable[..., tuple[Solved | None, list[tuple[str, str]]]],
) -> None:
    """A wall that narrows upward to a vanishing line at pixel row 100: a mark above it is no point of the wall."""
    narrowing = (("a", 0, 80, 400, 200), ("b", 100, 80, 600, 200), ("c", 0, 0, 0, 600), ("d", 100, 0, 1000, 600))
    solved, problems = solved_wall(points=narrowing, mark=50)
    assert solved is None
    assert problems == [("point-beyond", "- {what: Box, at: [500, 50], measure: yes}")]

"""A small solved house for the draw room's tests: one north wall, a drain along it, and the soffit that hides it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from bookgen.model.assembly import Assembly, HiddenThing, Material, Measure, Part
from bookgen.model.frame import Frame
from bookgen.model.geometry import Point, Polygon, Rod, box
from bookgen.model.length import Length
from bookgen.model.place import Place
from bookgen.model.project import ObstacleFile, Places, Project
from bookgen.model.records import Obstacle
from bookgen.model.records import Project as ProjectRecord
from bookgen.model.records.inside import Known
from bookgen.model.solved import AccessSpot, Solved, SolvedLevel, SolvedObstacle, SolvedRoom, Takeoff

EAST, NORTH = Fraction(240), Fraction(288)
JOISTS, DEPTH, FLOOR = Fraction("89.5"), Fraction("9.25"), Fraction("0.3")
BOARD, TWO, AT = Fraction(1, 2), Fraction(3, 2), Fraction(100)  # AT: station of the section
FRAME = Frame("x", NORTH, -1, "north wall")
PLACE = Place("obstacles/drain.yaml", 1, 1)
KNOWN = Known.model_validate({"how": "planned"})


@dataclass(frozen=True, slots=True)
class SoffitSizes:
    """Choices of the soffit: outside of its framing off the block, its underside, the pipe's middle."""

    outside: Fraction = Fraction(12)
    bottom: Fraction = Fraction(77)
    pipe_off: Fraction = Fraction(7)
    pipe_up: Fraction = Fraction(82)


def solved_house(sizes: SoffitSizes | None = None, *, units: str = "imperial", tag: bool = False) -> Solved:
    """Return a level with one wall soffit."""
    chosen = sizes or SoffitSizes()
    project = _project(units)
    drain = HiddenThing(
        "drain-1",
        "Main drain",
        "3 in PVC, all waste from upstairs",
        "waste",
        (
            Rod(
                FRAME.to_level(Point(Fraction(40), chosen.pipe_off, chosen.pipe_up)),
                FRAME.to_level(Point(Fraction(190), chosen.pipe_off, chosen.pipe_up)),
                Fraction(7, 4),
                Fraction("0.216"),
            ),
        ),
        Material.PLASTIC,
        Fraction(1, 2),
        KNOWN,
        PLACE,
        False,
    )
    spot = AccessSpot(
        "03", "drain", FRAME.to_level(Point(Fraction(100), chosen.pipe_off, chosen.pipe_up)), Length(Fraction(80))
    )
    obstacle = SolvedObstacle(
        "drain", (drain,), soffit(chosen), Length(chosen.bottom - BOARD - FLOOR), (spot,) if tag else (), PLACE
    )
    outline = Polygon(tuple((Fraction(a), Fraction(b)) for a, b in ((5, 5), (235, 5), (235, 283), (5, 283))))
    room = SolvedRoom("family", "Family room", "living", outline, Length(JOISTS - BOARD - FLOOR))
    return Solved(project, _level(), (room,), (obstacle,), (), Takeoff((), ()))


def soffit(sizes: SoffitSizes) -> Assembly:
    """Return a wall soffit from station 5 to 235: a ladder, a cleat, crossers and two boards."""
    low, high, out, under = Fraction(5), Fraction(235), sizes.outside, sizes.bottom
    run = (low, high)
    parts = [
        _stick("rail 1", "rail", run, (out - TWO, out), (JOISTS - TWO, JOISTS)),
        _stick("rail 2", "rail", run, (out - TWO, out), (under, under + TWO)),
        _stick("cleat", "cleat", run, (Fraction("4.1"), Fraction("5.6")), (under, under + TWO)),
    ]
    for number in range(15):
        x = low + 16 * number
        span = (x, x + TWO)
        rung = box(span, (out - TWO, out), (under + TWO, JOISTS - TWO), "z")
        parts.append(Part(f"rung {number + 1}", "rung", rung, Material.LUMBER, "2x2"))
        crosser = box(span, (Fraction("5.6"), out - TWO), (under, under + TWO), "y")
        parts.append(Part(f"crosser {number + 1}", "crosser", crosser, Material.LUMBER, "2x2"))
    face, bottom = out + BOARD, under - BOARD
    parts.append(_board("bottom board", run, (Fraction("4.6"), face), (bottom, under)))
    parts.append(_board("front board", run, (out, face), (under, JOISTS)))
    anchors = {
        "block": Point(AT, Fraction(0), under),
        "framed front": Point(AT, out, under),
        "front": Point(AT, face, bottom),
        "wall": Point(AT, Fraction("4.6"), bottom),
        "ceiling": Point(AT, face, JOISTS - BOARD),
        "floor": Point(AT, face, FLOOR),
    }
    measures = [
        _measure(anchors, "Reach off the block", "finished", "block", "front"),
        _measure(anchors, "Width of the underside", "finished", "wall", "front"),
        _measure(anchors, "Framing off the block", "framed", "block", "framed front"),
        _measure(anchors, "Drop below the ceiling", "finished", "front", "ceiling", "z"),
        _measure(anchors, "Headroom", "headroom", "floor", "front", "z"),
        _measure(anchors, "Ceiling", "headroom", "floor", "ceiling", "z"),
    ]
    return Assembly(
        "drain", "wall soffit", "Drain soffit", FRAME, run, AT, tuple(parts), (), anchors, tuple(measures), KNOWN, PLACE
    )


def _measure(anchors: dict[str, Point], name: str, kind: str, start: str, end: str, axis: str = "y") -> Measure:
    value = abs(anchors[end].on(axis) - anchors[start].on(axis))  # type: ignore[arg-type]
    return Measure(name, kind, start, end, axis, Length(value))  # type: ignore[arg-type]


def _stick(
    name: str, role: str, x: tuple[Fraction, Fraction], y: tuple[Fraction, Fraction], z: tuple[Fraction, Fraction]
) -> Part:
    return Part(name, role, box(x, y, z, "x"), Material.LUMBER, "2x2")


def _board(name: str, x: tuple[Fraction, Fraction], y: tuple[Fraction, Fraction], z: tuple[Fraction, Fraction]) -> Part:
    axis = "z" if y[1] - y[0] > z[1] - z[0] else "y"
    return Part(name, "board", box(x, y, z, axis), Material.BOARD, "1/2 in gypsum board")  # type: ignore[arg-type]


def _level() -> SolvedLevel:
    wide = (Fraction("-7.625"), EAST + Fraction("7.625"))
    top = JOISTS - TWO
    shell = [
        Part(
            "slab",
            "slab",
            box((Fraction(0), EAST), (Fraction(0), NORTH), (Fraction(-4), Fraction(0)), "z"),
            Material.CONCRETE,
            "",
        ),
        Part(
            "north wall 1",
            "block wall",
            box(wide, (NORTH, NORTH + Fraction("7.625")), (Fraction(-4), top), "y"),
            Material.BLOCK,
            "",
        ),
        Part(
            "south wall 1",
            "block wall",
            box(wide, (Fraction("-7.625"), Fraction(0)), (Fraction(-4), top), "y"),
            Material.BLOCK,
            "",
        ),
        Part(
            "north sill plate",
            "sill plate",
            box(wide, (NORTH, NORTH + Fraction("5.5")), (top, JOISTS), "x"),
            Material.TREATED,
            "2x6",
        ),
        Part(
            "subfloor",
            "subfloor",
            box(wide, (Fraction(-6), NORTH + 6), (JOISTS + DEPTH, JOISTS + DEPTH + Fraction(3, 4)), "z"),
            Material.PANEL,
            "",
        ),
    ]
    for number in range(15):
        x = Fraction(8 + 16 * number)
        joist = box((x - TWO / 2, x + TWO / 2), (Fraction(-4), NORTH + 4), (JOISTS, JOISTS + DEPTH), "y")
        shell.append(Part(f"joist {number + 1}", "joist", joist, Material.LUMBER, "2x10"))
    return SolvedLevel(
        EAST, NORTH, FLOOR, JOISTS, DEPTH, Fraction("4.6"), BOARD, BOARD, tuple(shell), (_lining(), _ceiling())
    )


def _lining() -> Assembly:
    run = (Fraction(0), EAST)
    off = (Fraction("0.6"), Fraction("4.1"))
    parts = [
        Part("bottom plate 1", "bottom plate", box(run, off, (Fraction(0), TWO), "x"), Material.TREATED, "2x4"),
        Part("top plate 1", "top plate", box(run, off, (JOISTS - TWO, JOISTS), "x"), Material.LUMBER, "2x4"),
        Part(
            "board 1",
            "board",
            box(run, (off[1], Fraction("4.6")), (Fraction(0), Fraction("76.5")), "y"),
            Material.BOARD,
            "1/2 in gypsum board",
        ),
    ]
    for number in range(15):
        x = Fraction(16 * number)
        stud = box((x, x + TWO), off, (TWO, JOISTS - TWO), "z")
        parts.append(Part(f"stud {number + 1}", "stud", stud, Material.LUMBER, "2x4"))
    return _plain("north lining", "stud wall", FRAME, run, tuple(parts))


def _ceiling() -> Assembly:
    run = (Fraction(0), EAST)
    board = box(run, (Fraction("12.5"), Fraction(283)), (JOISTS - BOARD, JOISTS), "z")
    return _plain(
        "ceiling", "ceiling", FRAME, run, (Part("board 1", "board", board, Material.BOARD, "1/2 in gypsum board"),)
    )


def _plain(key: str, treatment: str, frame: Frame, run: tuple[Fraction, Fraction], parts: tuple[Part, ...]) -> Assembly:
    return Assembly(key, treatment, key, frame, run, run[0], parts, (), {}, (), KNOWN, PLACE)


def _project(units: str) -> Project:
    corners = (("5 in", "5 in"), ("235 in", "5 in"), ("235 in", "283 in"), ("5 in", "283 in"))
    record = ProjectRecord.model_validate(
        {
            "project": "Small",
            "units": units,
            "book": {"title": "Small", "subtitle": "Level", "date": "2026-01-02"},
            "house": {"kind": "row house", "built": "1984"},
            "private": {"owner": "Nobody", "address": "Nowhere"},
            "codes": {"authority": "City", "building": "IRC 2021", "electrical": "NEC 2023"},
            "work": {"started": "2026-01-01"},
            "level": {
                "name": "Lower level",
                "inside of block": {"east west": "240 in", "north south": "288 in"},
                "joists": {
                    "size": "2x10",
                    "spacing": "16 in",
                    "run": "north",
                    "underside": "89.5 in above slab",
                    "first": "8 in",
                },
                "wall lining": {"stud": "2x4", "back": "0.6 in off the block", "spacing": "16 in", "board": "1/2 in"},
                "finishes": {
                    "floor": "plank",
                    "floor thick": "0.3 in",
                    "ceiling board": "1/2 in",
                    "wall board": "1/2 in",
                },
            },
            "rooms": {"family": {"name": "Family room", "use": "living", "outline": corners}},
        }
    )
    drain = Obstacle.model_validate(
        {
            "obstacle": "Main drain along the north wall",
            "kind": "drain",
            "room": "family",
            "sentence": "Everything passes here.",
            "known": {"how": "planned"},
            "access": (
                {
                    "tag": "3",
                    "what": "Cleanout",
                    "where": "in the soffit",
                    "system": "waste",
                    "at": {"along": "100 in", "off the block": "7 in", "above slab": "82 in"},
                    "cover": {"kind": "none", "opens": "by hand"},
                    "known": {"how": "planned"},
                },
            ),
        }
    )
    file = ObstacleFile("drain", "obstacles/drain.yaml", drain)
    return Project(Path("small"), "small", record, (file,), {}, {}, Places({}))

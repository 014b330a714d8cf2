"""The level and rooms of the project record in, heights above the slab and the shell as solids out."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Literal

from bookgen.model.assembly import Material, Part
from bookgen.model.geometry import Axis, Polygon, box
from bookgen.model.length import Length
from bookgen.model.place import Place
from bookgen.model.problem import Problem
from bookgen.model.project import PROJECT_FILE, Project, Step
from bookgen.model.records.project import Level, Room
from bookgen.model.records.values import Height
from bookgen.model.solved import SolvedLevel, SolvedRoom
from bookgen.solve.board import board_stock
from bookgen.solve.cutout import Rectangle, cut_out
from bookgen.solve.framing import Stretch, stick, true_size
from bookgen.solve.level_sense import level_nonsense, room_nonsense
from bookgen.solve.site import height_above_slab
from bookgen.solve.wells import well_parts, well_problems
from bookgen.trade import lumber

BLOCK = Fraction("7.625")  # true thickness of nominal 8 in block: 8 in less one 3/8 in joint; ASTM C90, from memory
SLAB = Fraction(4)  # common practice; IRC R506.1 asks 3-1/2 in at least, from memory
PLATE = "2x6"  # sill plate on the block; common practice
USUAL_BOARDS = (Fraction(1, 2), Fraction(5, 8))  # inches
SUBFLOOR = Fraction(3, 4)  # common practice for joists 16 in apart
BEARING = Fraction(4)  # inches of joist on the plate: the rim joist takes the other 1-1/2 of 5-1/2


def solve_level(project: Project) -> tuple[SolvedLevel | None, tuple[Problem, ...]]:
    """Return the level without its linings, or the Problems of its record.

    They are `unknown-stock`, `unknown-board`, for a height that hangs on itself `datum-circular`, and those of
    `level_nonsense` and `well_problems`.
    """
    record = project.record.level
    problems = (*_stock_problems(project), *_datum_problems(project))
    if problems:
        return None, problems
    depth = _width(record.joists.size)
    joists = record.joists.underside.length.inches
    if record.joists.underside.datum == "floor":
        joists += record.finishes.floor_thick.inches
    stud_face = record.wall_lining.back.length.inches + _width(record.wall_lining.stud)
    level = _worked(project, (joists, depth), stud_face)
    problems = (*level_nonsense(project, level), *well_problems(project, level))
    if problems:
        return None, problems
    return replace(level, shell=(*level.shell, *well_parts(project, level, BLOCK))), ()


def _worked(project: Project, joists: tuple[Fraction, Fraction], stud_face: Fraction) -> SolvedLevel:
    """Return the level; *joists* are their underside and their depth."""
    record = project.record.level
    return SolvedLevel(
        east_west=record.inside_of_block.east_west.inches,
        north_south=record.inside_of_block.north_south.inches,
        floor=record.finishes.floor_thick.inches,
        joists=joists[0],
        joist_depth=joists[1],
        wall_face=stud_face + record.wall_lining.board.inches,
        wall_board=record.finishes.wall_board.inches,
        ceiling_board=record.finishes.ceiling_board.inches,
        shell=_shell(project, *joists),
        linings=(),
    )


def solve_rooms(project: Project, level: SolvedLevel) -> tuple[tuple[SolvedRoom, ...], tuple[Problem, ...]]:
    """Return the rooms in the order of the record, and the Problems of `room_nonsense`."""
    rooms = tuple(
        SolvedRoom(key, room.name, room.use, _outline(room), _ceiling(room, level))
        for key, room in project.record.rooms.items()
    )
    return rooms, tuple(room_nonsense(project, level))


def _outline(room: Room) -> Polygon:
    return Polygon(tuple((east.inches, north.inches) for east, north in room.outline))


def _ceiling(room: Room, level: SolvedLevel) -> Length | None:
    return None if room.ceiling is None else Length(height_above_slab(room.ceiling, level) - level.floor)


def joist_centres(level: Level) -> tuple[Fraction, ...]:
    """Return the middles of the joists across their run, from the west or south block face."""
    across = level.inside_of_block.east_west if level.joists.run == "north" else level.inside_of_block.north_south
    spacing, first = level.joists.spacing.inches, level.joists.first.inches
    centre = first % spacing  # one is at *first*, and the others follow it both ways
    found = []
    while centre < across.inches:
        if centre > 0:
            found.append(centre)
        centre += spacing
    return tuple(found)


def _shell(project: Project, joists: Fraction, depth: Fraction) -> tuple[Part, ...]:
    record = project.record.level
    east, north = record.inside_of_block.east_west.inches, record.inside_of_block.north_south.inches
    plate = _width(PLATE)
    slab = Part("slab", "slab", box((Fraction(0), east), (Fraction(0), north), (-SLAB, Fraction(0)), "z"), *_CONCRETE)
    deck = joists + depth
    subfloor = box((-plate, east + plate), (-plate, north + plate), (deck, deck + SUBFLOOR), "z")
    return (
        slab,
        *_block_walls(project, (east, north), joists - _thickness(PLATE)),
        *_plates((east, north), joists - _thickness(PLATE)),
        *_joists(record, (east, north), joists),
        Part("subfloor", "subfloor", subfloor, Material.PANEL, ""),
    )


_CONCRETE = (Material.CONCRETE, "")


def _block_walls(project: Project, size: tuple[Fraction, Fraction], top: Fraction) -> tuple[Part, ...]:
    """Return the four walls, each in as many prisms as its windows ask for; the east and west ones run past."""
    east, north = size
    sides: tuple[tuple[str, Axis, Stretch, Stretch], ...] = (
        ("south wall", "y", (Fraction(0), east), (-BLOCK, Fraction(0))),
        ("north wall", "y", (Fraction(0), east), (north, north + BLOCK)),
        ("west wall", "x", (-BLOCK, north + BLOCK), (-BLOCK, Fraction(0))),
        ("east wall", "x", (-BLOCK, north + BLOCK), (east, east + BLOCK)),
    )
    parts = []
    for wall, axis, along, through in sides:
        holes = [
            Rectangle((w.along.low.inches, w.along.high.inches), (_up(w.sill, project), _up(w.head, project)))
            for w in project.record.windows.values()
            if w.wall == wall
        ]
        for number, piece in enumerate(cut_out(Rectangle(along, (-SLAB, top)), holes), 1):
            spans = (piece.u, through) if axis == "y" else (through, piece.u)
            solid = box(*spans, piece.v, axis)
            parts.append(Part(f"{wall} {number}", "block wall", solid, Material.BLOCK, ""))
    return tuple(parts)


def _up(height: Height, project: Project) -> Fraction:
    """Return a window's height above the slab; only slab and floor are allowed, as `_datum_problems` sees to."""
    floor = project.record.level.finishes.floor_thick.inches
    return height.length.inches + (floor if height.datum == "floor" else 0)


def _plates(size: tuple[Fraction, Fraction], bottom: Fraction) -> tuple[Part, ...]:
    east, north = size
    wide = _width(PLATE)
    rows: tuple[tuple[str, Axis, Stretch, Fraction, Axis], ...] = (
        ("south", "x", (-wide, east + wide), -wide, "y"),
        ("north", "x", (-wide, east + wide), north, "y"),
        ("west", "y", (Fraction(0), north), -wide, "x"),
        ("east", "y", (Fraction(0), north), east, "x"),
    )
    return tuple(
        stick(f"{side} sill plate", "sill plate", PLATE, axis, along, (across, bottom), wide_on, Material.TREATED)
        for side, axis, along, across, wide_on in rows
    )


def _joists(level: Level, size: tuple[Fraction, Fraction], bottom: Fraction) -> tuple[Part, ...]:
    run: Literal["x", "y"] = "y" if level.joists.run == "north" else "x"
    along, across = (size[1], size[0]) if run == "y" else size
    half = _thickness(level.joists.size) / 2
    parts = []
    for number, centre in enumerate(joist_centres(level), 1):
        reach = (-BEARING, along + BEARING)
        parts.append(stick(f"joist {number}", "joist", level.joists.size, run, reach, (centre - half, bottom), "z"))
    rim = (-_width(PLATE), across + _width(PLATE))
    for number, corner in enumerate((-BEARING - 2 * half, along + BEARING), 1):
        other: Axis = "x" if run == "y" else "y"
        parts.append(stick(f"rim joist {number}", "rim joist", level.joists.size, other, rim, (corner, bottom), "z"))
    return tuple(parts)


def _stock_problems(project: Project) -> tuple[Problem, ...]:
    level = project.record.level
    stocks: list[tuple[tuple[Step, ...], str]] = [
        (("level", "joists", "size"), level.joists.size),
        (("level", "wall lining", "stud"), level.wall_lining.stud),
        *((("partitions", key, "stud"), wall.stud) for key, wall in project.record.partitions.items()),
    ]
    boards: list[tuple[tuple[Step, ...], Length]] = [
        (("level", "wall lining", "board"), level.wall_lining.board),
        (("level", "finishes", "ceiling board"), level.finishes.ceiling_board),
        (("level", "finishes", "wall board"), level.finishes.wall_board),
    ]
    usual = " or ".join(project.tape.short(thick) for thick in USUAL_BOARDS)
    found = []
    for path, stock in stocks:
        if true_size(stock) is None:
            found.append(_problem(project, "unknown-stock", path, stock, "no lumber of that size is sold", near(stock)))
    for path, thickness in boards:
        if not board_stock(thickness.inches):
            rule, repair = "no gypsum board of that thickness is made", f"write {usual}"
            found.append(_problem(project, "unknown-board", path, project.tape.short(thickness), rule, repair))
    return tuple(found)


def near(stock: str) -> str:
    """Return the repair for stock that is not sold: the names that look most like it."""
    names = lumber.near(stock) or ("2x2", "2x4", "2x6")
    return f"write one of {', '.join(names)}"


def _datum_problems(project: Project) -> tuple[Problem, ...]:
    """Return a Problem for each height or offset of the level that hangs on what it is meant to fix."""
    level, record = project.record.level, project.record
    heights: list[tuple[tuple[Step, ...], Height, frozenset[str]]] = [
        (("level", "joists", "underside"), level.joists.underside, frozenset({"slab", "floor"})),
        *(
            (("rooms", key, "ceiling"), room.ceiling, frozenset({"slab", "floor", "joists"}))
            for key, room in record.rooms.items()
            if room.ceiling is not None
        ),
        *(
            (("windows", key, end), height, frozenset({"slab", "floor"}))
            for key, window in record.windows.items()
            for end, height in (("sill", window.sill), ("head", window.head))
        ),
    ]
    found = [
        _problem(
            project,
            "datum-circular",
            path,
            project.tape.short(height.length),
            f"it is measured from the {height.datum}, which hangs on it",
            "measure it above slab or above floor",
        )
        for path, height, allowed in heights
        if height.datum not in allowed
    ]
    back = level.wall_lining.back
    if back.datum != "block":
        path = ("level", "wall lining", "back")
        rule = "it is measured from the finished wall, which hangs on it"
        found.append(
            _problem(project, "datum-circular", path, project.tape.short(back.length), rule, "measure it off the block")
        )
    return tuple(found)


def _problem(project: Project, code: str, path: tuple[Step, ...], value: str, rule: str, repair: str) -> Problem:
    place: Place = project.places.of(PROJECT_FILE, *path)
    return Problem(place, code, " > ".join(str(step) for step in path), value, rule, repair)


def _width(stock: str) -> Fraction:
    return _size(stock)[1]


def _thickness(stock: str) -> Fraction:
    return _size(stock)[0]


def _size(stock: str) -> tuple[Fraction, Fraction]:
    size = true_size(stock)
    if size is None:
        raise ValueError(f"{stock} should have been refused before")
    return size

"""A wall soffit's choices and its site in, the ladder, cleat, crossers and board along the wall out.

A ladder hangs from the joists at the outer line, a cleat is fixed to the lining's studs at the same height as the
ladder's bottom rail, crossers lie between; board goes under, in front, and over an end that meets no wall.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from bookgen.model.assembly import Assembly, Face, HiddenThing, Part
from bookgen.model.geometry import Point, Rod
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.treatments import WallSoffit
from bookgen.solve import compass
from bookgen.solve.board import rectangle
from bookgen.solve.choices import chosen
from bookgen.solve.clash import Clash
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch
from bookgen.solve.lengths import too_long
from bookgen.solve.neighbours import ceiling_over, chases
from bookgen.solve.site import Site, Worked, height_above_slab, off_the_block
from bookgen.solve.soffit_ends import OpenEnd, end_board, end_frame
from bookgen.solve.soffit_words import (
    clash_problems,
    height_problems,
    overhead,
    run_problems,
    sizes,
    spacing_problems,
    station_for_section,
)
from bookgen.solve.soffits import (
    SPACING,
    Shape,
    Timber,
    crossers,
    ladder,
    nailers,
    plate,
    rows,
    sheets,
    through,
    timber,
)
from bookgen.solve.walls_met import Ends, ends, stud_face

TITLE = "Wall soffit"
MARGIN = Fraction(
    1, 2
)  # inches left free between the furthest thing and the framing, where the record leaves the size out
STEP = 4  # a size worked out goes to the next mark of so many to the inch
FRONT_ROLES = frozenset({"top rail", "bottom rail", "rung", "nailer"})
SIZES = (
    ("framed off the block", "framed", "block", "framing outside", "y"),
    ("finished off the block", "finished", "block", "finished outside", "y"),
    ("framed width", "framed", "stud face", "framing outside", "y"),
    ("finished width", "finished", "finished wall", "finished outside", "y"),
    ("framed drop", "framed", "joists", "framing bottom", "z"),
    ("finished drop", "finished", "ceiling", "finished bottom", "z"),
    ("headroom", "headroom", "finished floor", "finished bottom", "z"),
)


@dataclass(frozen=True, slots=True)
class _Plan:
    """The soffit before it is framed: outer face of the framing off the block, its shape, its ends, its pieces."""

    outside: Fraction
    shape: Shape
    ends: Ends
    pieces: tuple[Ends, ...]
    path: tuple[Step, ...]


def solve(site: Site, choices: WallSoffit) -> Worked:
    """Return the soffit, or the Problems that stand in its way.

    They are `unknown-stock`, `stick-too-long`, `soffit-needs-wall`, `soffit-size-missing`, `soffit-too-shallow`,
    `soffit-below-floor`, `soffit-too-narrow`, `soffit-too-short`, `outside-the-level`, `spacing-too-small`,
    `section-outside`, `obstacle-shows` and `part-meets-obstacle`.
    """
    plan = _planned(site, choices)
    if not isinstance(plan, _Plan):
        return None, plan
    parts, faces = _framing(site, plan), _faces(site, plan)
    wrong = clash_problems(site, parts, lambda clash: _place_of(clash, plan), lambda clash: _repair(site, clash, plan))
    wrong = wrong or _showing(site, plan)
    if wrong:
        return None, wrong
    governing = _furthest(site, plan.ends.run())
    target = sum(governing[1]) / Fraction(2) if governing else sum(plan.ends.run()) / Fraction(2)
    section = station_for_section(site, target, plan.ends.run(), parts)
    if isinstance(section, Problem):
        return None, (section,)
    anchors = _anchors(site, plan, section)
    pick = chosen(site.file.record)
    assembly = Assembly(
        key=site.file.key,
        treatment="wall soffit",
        title=TITLE,
        frame=site.frame,
        run=plan.ends.run(),
        section_at=section,
        parts=parts,
        faces=faces,
        anchors=anchors,
        measures=sizes(anchors, SIZES),
        known=pick.known if pick is not None else site.file.record.known,
        place=site.place(*plan.path),
        remarks=tuple(_remarks(site, plan)),
    )
    return assembly, ()


def _planned(site: Site, choices: WallSoffit) -> _Plan | tuple[Problem, ...]:
    pick = chosen(site.file.record)
    path: tuple[Step, ...] = pick.path if pick is not None else ()
    if site.frame.name in {"east", "north"}:
        rule, repair = "its run goes along no wall", "write run: {along: north wall, ...}, or use a hung soffit"
        return (site.problem("soffit-needs-wall", path, "", rule, repair),)
    stock = timber(site, choices.ladder, (*path, "ladder"))
    if isinstance(stock, Problem):
        return (stock,)
    run = (choices.along.low.inches, choices.along.high.inches) if choices.along is not None else site.run
    outside, bottom = _outside(site, choices, stock, run), _bottom(site, choices, stock, run)
    if outside is None or bottom is None:
        rule = "nothing that is hidden here says how far out and how low it has to come"
        repair = "write outside and framing bottom, or what is inside"
        return (site.problem("soffit-size-missing", path, "", rule, repair),)
    spacing = choices.rungs.inches if choices.rungs is not None else SPACING
    shape = Shape(stock, spacing, bottom, site.level.joists)
    face = stud_face(site)
    met = ends(site, run, (face, outside))
    wrong = (
        *height_problems(site, shape, site.level.ceiling_board, (*path, "framing bottom")),
        *_width_problems(site, shape, outside, (*path, "outside")),
        *spacing_problems(site, shape, (*path, "rungs")),
        *run_problems(site, run, met.run(), (*path, "along") if choices.along is not None else ("run",)),
    )
    wrong = wrong or too_long(site, stock.stock, outside - face - 2 * stock.thick, "crossers", (*path, "ladder"))
    return wrong or _Plan(outside, shape, met, _pieces(site, met, (face, outside)), path)


def _outside(site: Site, choices: WallSoffit, stock: Timber, run: Stretch) -> Fraction | None:
    """Return the outer face of the framing off the block; left out, the furthest thing sets it."""
    if choices.outside is not None:
        return off_the_block(choices.outside, site.level)
    reach = [high.y for _, _, _, high in overhead(site.hidden, run)]
    return Fraction(ceil((max(reach) + MARGIN + stock.thick) * STEP), STEP) if reach else None


def _bottom(site: Site, choices: WallSoffit, stock: Timber, run: Stretch) -> Fraction | None:
    """Return the underside of the framing above the slab; left out, the lowest thing sets it."""
    if choices.framing_bottom is not None:
        return height_above_slab(choices.framing_bottom, site.level)
    lowest = [low.z for _, _, low, _ in overhead(site.hidden, run)]
    return Fraction(floor((min(lowest) - MARGIN - stock.wide) * STEP), STEP) if lowest else None


def _width_problems(site: Site, shape: Shape, outside: Fraction, path: tuple[Step, ...]) -> tuple[Problem, ...]:
    least = stud_face(site) + 2 * shape.timber.thick
    if outside > least:
        return ()
    rule = f"cleat and ladder need {site.tape.short(least)} off the block, and something has to fit between"
    written = site.tape.short(outside)
    return (site.problem("soffit-too-narrow", path, written, rule, f"write more than {site.tape.short(least)}"),)


def _pieces(site: Site, met: Ends, across: Stretch) -> tuple[Ends, ...]:
    """Return the soffit's pieces: a chase that comes down through it parts it, and closes both ends it makes."""
    taken = sorted(c.u for c in chases(site) if c.v[0] < across[1] and across[0] < c.v[1])
    start, meets = met.low, met.low_meets
    pieces = []
    for low, high in taken:
        if low > start:
            pieces.append(Ends(start, min(low, met.high), meets, low <= met.high or met.high_meets))
        if high > start:
            start, meets = high, True
    if start < met.high:
        pieces.append(Ends(start, met.high, meets, met.high_meets))
    return tuple(piece for piece in pieces if piece.high - piece.low > 0)


def _framing(site: Site, plan: _Plan) -> tuple[Part, ...]:
    parts: list[Part] = []
    for piece, name in zip(plan.pieces, compass.stretches(site.frame, len(plan.pieces)), strict=True):
        parts += _piece(site, plan, piece, f"{name} " if name else "")
    return tuple(parts)


def _piece(site: Site, plan: _Plan, piece: Ends, label: str) -> list[Part]:
    """Return framing and board of one straight piece."""
    shape, run, size = plan.shape, piece.run(), plan.shape.timber
    face, front = stud_face(site), compass.side(site.frame, 1)
    across = (plan.outside - size.thick, plan.outside)
    inside = (face + size.thick, across[0])
    centres = rows(site, shape, run, inside, (shape.bottom, shape.bottom + size.thick))
    parts = [
        *ladder(f"{label}{front}", site, shape, run, across),
        *plate(f"{label}cleat", "cleat", site, shape, run, face),
        *crossers(label, shape, centres, inside),
        *nailers(f"{label}{front}", site, shape, run, across),
        *_boards(site, plan, piece, label),
    ]
    for end in _open_ends(site, plan, piece, label):
        parts += end_frame(site, shape, end)
        parts += end_board(
            site, end, (site.level.wall_face, _finished_outside(site, plan)), _side_up(site, plan, end.at)
        )
    return parts


def _open_ends(site: Site, plan: _Plan, piece: Ends, label: str) -> list[OpenEnd]:
    face = stud_face(site)
    across, inside = (face, plan.outside), (face, plan.outside - plan.shape.timber.thick)
    return [
        OpenEnd(at, way, f"{label}{compass.end(site.frame, way)}", across, inside)
        for at, way, meets in ((piece.low, -1, piece.low_meets), (piece.high, 1, piece.high_meets))
        if not meets
    ]


def _boards(site: Site, plan: _Plan, piece: Ends, label: str) -> list[Part]:
    shape, level, things = plan.shape, site.level, (*site.hidden, *site.others)
    side = compass.side(site.frame, 1)
    under = Rectangle(piece.run(), (stud_face(site), plan.outside))
    under_holes = through(things, "z", (shape.bottom - level.ceiling_board, shape.bottom))
    front = Rectangle(piece.run(), _side_up(site, plan, sum(piece.run()) / Fraction(2)))
    front_holes = through(things, "y", (plan.outside, plan.outside + level.wall_board))
    return [
        *sheets(f"{label}bottom board", "z", shape.bottom, -1, under, under_holes, level.ceiling_board),
        *sheets(f"{label}{side} board", "y", plan.outside, 1, front, front_holes, level.wall_board),
    ]


def _finished_outside(site: Site, plan: _Plan) -> Fraction:
    return plan.outside + site.level.wall_board


def _finished_bottom(site: Site, plan: _Plan) -> Fraction:
    return plan.shape.bottom - site.level.ceiling_board


def _side_up(site: Site, plan: _Plan, station: Fraction) -> Stretch:
    """Return from the finished bottom to the ceiling in front of the soffit, or to the joists where there is none."""
    spot = Point(station, plan.outside + site.level.wall_board + 1, site.level.joists)
    ceiling = ceiling_over(site, spot)
    return _finished_bottom(site, plan), site.level.joists if ceiling is None else ceiling


def _faces(site: Site, plan: _Plan) -> tuple[Face, ...]:
    """Return what a person sees: bottom, front and open ends, each as one surface a piece."""
    room, out = site.file.record.room, _finished_outside(site, plan)
    low_z, high_z = _side_up(site, plan, sum(plan.ends.run()) / Fraction(2))
    faces = []
    for piece, name in zip(plan.pieces, compass.stretches(site.frame, len(plan.pieces)), strict=True):
        label = f", {name}" if name else ""
        thick = site.level.wall_board
        run = (piece.low - (0 if piece.low_meets else thick), piece.high + (0 if piece.high_meets else thick))
        under = rectangle("z", x=run, y=(site.level.wall_face, out))
        faces.append(Face(f"bottom{label}", "z", low_z, -1, under, room))
        faces.append(
            Face(f"{compass.side(site.frame, 1)}{label}", "y", out, 1, rectangle("y", x=run, z=(low_z, high_z)), room)
        )
        end = rectangle("x", y=(site.level.wall_face, out), z=(low_z, high_z))
        for opening in _open_ends(site, plan, piece, ""):
            name = f"{opening.name}{label}"
            faces.append(Face(name, "x", run[0] if opening.way < 0 else run[1], opening.way, end, room))
    return tuple(faces)


def _anchors(site: Site, plan: _Plan, section: Fraction) -> dict[str, Point]:
    level, shape = site.level, plan.shape
    low_z, ceiling = _side_up(site, plan, section)
    out = _finished_outside(site, plan)
    return {
        "block": Point(section, Fraction(0), shape.bottom),
        "stud face": Point(section, stud_face(site), shape.bottom),
        "finished wall": Point(section, level.wall_face, low_z),
        "framing outside": Point(section, plan.outside, shape.bottom),
        "framing bottom": Point(section, plan.outside, shape.bottom),
        "finished outside": Point(section, out, low_z),
        "finished bottom": Point(section, out, low_z),
        "joists": Point(section, plan.outside, shape.top),
        "ceiling": Point(section, out, ceiling),
        "finished floor": Point(section, out, level.floor),
    }


def _furthest(site: Site, run: Stretch) -> tuple[HiddenThing, Stretch, Point, Point] | None:
    """Return what stands furthest off the block; of two, the lower."""
    found = overhead(site.hidden, run)
    return max(found, key=lambda row: (row[3].y, -row[2].z, -row[1][0]), default=None)


def _lowest(site: Site, run: Stretch) -> tuple[HiddenThing, Stretch, Point, Point] | None:
    found = overhead(site.hidden, run)
    return min(found, key=lambda row: (row[2].z, row[1][0]), default=None)


def _place_of(clash: Clash, plan: _Plan) -> tuple[Step, ...]:
    return (*plan.path, "outside" if clash.part.role in FRONT_ROLES else "framing bottom")


def _repair(site: Site, clash: Clash, plan: _Plan) -> str:
    """Say what to choose instead, from the thing that is in the way."""
    rooms = [solid.bounds().grown(clash.thing.clearance) for solid in clash.thing.solids]
    size = plan.shape.timber
    out = max(room.high.y for room in rooms) + size.thick
    down = min(room.low.z for room in rooms) - size.wide
    if clash.part.role in FRONT_ROLES:
        return f"write at least {site.tape.short(out)} off the block, or move it"
    if clash.part.role in {"end rail", "end upright", "board"}:
        return "start or stop the soffit clear of it, or move it"
    return f"write at most {site.tape.short(down)} above slab, or move it"


def _showing(site: Site, plan: _Plan) -> tuple[Problem, ...]:
    """Return an `obstacle-shows` Problem for each own thing that the framing meets nowhere because it is outside it."""
    found: dict[str, Problem] = {}
    for thing, _, low, high in overhead(site.hidden, plan.ends.run()):
        if low.z < plan.shape.bottom and high.y > stud_face(site):
            rule = f"{thing.what} hangs {site.tape.short(plan.shape.bottom - low.z)} below it"
            repair = f"write at most {site.tape.short(low.z - plan.shape.timber.wide)} above slab"
            problem = site.problem("obstacle-shows", (*plan.path, "framing bottom"), "", rule, repair)
            found.setdefault(thing.key, problem)
        elif high.y > plan.outside:
            rule = f"{thing.what} stands {site.tape.short(high.y - plan.outside)} further out"
            repair = f"write at least {site.tape.short(high.y + plan.shape.timber.thick)} off the block"
            found.setdefault(thing.key, site.problem("obstacle-shows", (*plan.path, "outside"), "", rule, repair))
    return tuple(found.values())


def _remarks(site: Site, plan: _Plan) -> Iterator[str]:
    """Yield what was decided and what it costs."""
    run, size = plan.ends.run(), plan.shape.timber
    far, low = _furthest(site, run), _lowest(site, run)
    if far is None or low is None:
        return
    yield (
        f"One straight line for the whole run: {far[0].what} reaches furthest, {site.tape.short(far[3].y)} off the "
        f"block at {site.tape.long(sum(far[1]) / Fraction(2))}, and leaves "
        f"{site.tape.short(plan.outside - size.thick - far[3].y)} to the ladder."
    )
    yield (
        f"{low[0].what} hangs lowest, {site.tape.short(low[2].z)} above the slab, and leaves "
        f"{site.tape.short(low[2].z - plan.shape.bottom - size.thick)} over the crossers."
    )
    rise = max((abs(solid.end.z - solid.start.z) for solid in low[0].solids if isinstance(solid, Rod)), default=0)
    if rise:
        yield (
            f"It rises {site.tape.short(Fraction(rise))} from end to end; the level bottom gives that up and keeps "
            "one line and one height."
        )
    if len(plan.pieces) > 1:
        yield "A boxed chase comes down through the soffit and parts it; both faces stay in one line."

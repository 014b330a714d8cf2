"""An upright pipe and the choices of a chase in; uprights, ties, soles and board round it, floor to joists, out.

The chase starts at the face of the lining's studs, since the wall's own board gives way to it; in a corner one of its
sides is the wall that is there already, and a free one has a back.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from bookgen.model.assembly import Face, Material, Part
from bookgen.model.geometry import Axis, Point, box
from bookgen.model.problem import Problem
from bookgen.model.records.treatments import Chase
from bookgen.solve.board import rectangle
from bookgen.solve.clash import Clash
from bookgen.solve.compass import looks
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import TREATED, Stretch, around, layout, stick, true_size
from bookgen.solve.level import near
from bookgen.solve.neighbours import ceiling_over
from bookgen.solve.sheathing import BOARD_OFF_SLAB
from bookgen.solve.site import Site, Worked, off_the_block
from bookgen.solve.soffit_words import clash_problems, sizes
from bookgen.solve.soffits import sheets, through
from bookgen.solve.studwork import left_of, overlap
from bookgen.solve.treatments.assembled import Work, assembled, ends, middle, path_to
from bookgen.solve.treatments.cover_in_face import CoverInFace, cover_part, covers_in
from bookgen.solve.walls_met import stud_face

NAME = "chase"
SPACING = Fraction(16)  # inches between ties, centre to centre; common practice under 1/2 in board
SOLE = "2x4" + TREATED  # what lies on the slab is ripped from it: a 2x2 is not sold treated
SLACK = Fraction(1, 8)  # a taped size may miss the worked one by so much
SIZES = (
    ("finished width", "finished", "finished low side", "finished high side", "x"),
    ("finished depth", "finished", "finished wall", "finished front", "y"),
    ("framed width", "framed", "framing low side", "framing high side", "x"),
    ("framed off the block", "framed", "block", "framing front", "y"),
    ("finished off the block", "finished", "block", "finished front", "y"),
    ("bottom of the cover over the floor", "finished", "finished floor", "bottom of the cover", "z"),
    ("width of the cover", "finished", "low edge of the cover", "high edge of the cover", "x"),
)


@dataclass(frozen=True, slots=True)
class _Plan:
    """The chase before it is framed: faces of its framing, thickness of its sticks, closed sides, covers, heights."""

    x: Stretch
    y: Stretch
    stock: str
    thick: Fraction
    open_sides: tuple[Literal["low", "high", "back"], ...]
    finished: tuple[Stretch, Stretch]  # along, and off the wall
    covers: tuple[CoverInFace, ...]
    top: Fraction
    board_top: Fraction


def solve(site: Site, choices: Chase) -> Worked:
    """Return the chase, or the Problems that stand in its way.

    They are `unknown-stock`, `chase-needs-wall`, `chase-too-shallow`, `chase-too-narrow`, `finished-size-disagrees`,
    `cover-past-chase`, `part-meets-obstacle`, `section-outside` and those of a cover's place.
    """
    plan, problems = _planned(site, choices)
    if plan is None or problems:
        return None, problems
    parts = tuple(_framing(site, plan)) + tuple(_boards(site, plan))
    front = site.level.wall_board + plan.y[1]
    parts += tuple(cover_part(cover, "y", front, 1, Fraction(0)) for cover in plan.covers)
    problems = _reaching_out(site, plan) or clash_problems(
        site, parts, lambda clash: path_to(site, _field(clash)), lambda clash: _repair(site, clash, plan)
    )
    if problems:
        return None, problems
    anchors = _anchors(site, plan)
    section = middle(plan.covers[0].patch.u) if plan.covers else _through(site, plan)
    work = Work(parts, tuple(_faces(site, plan)), anchors, sizes(anchors, SIZES), section, tuple(_remarks(site, plan)))
    return assembled(site, NAME, work)


def _planned(site: Site, choices: Chase) -> tuple[_Plan | None, tuple[Problem, ...]]:
    size = true_size(choices.framing)
    if size is None:
        path, rule = path_to(site, "framing"), "no lumber of that size is sold"
        return None, (site.problem("unknown-stock", path, choices.framing, rule, near(choices.framing)),)
    if site.frame.name in {"east", "north"} and choices.form != "free":
        rule, repair = "its run goes along no wall", "write run: {along: north wall, ...}, or form: free"
        return None, (site.problem("chase-needs-wall", path_to(site, "form"), choices.form, rule, repair),)
    x, front, thick = ends(choices.along), off_the_block(choices.front, site.level), size[0]
    back = stud_face(site) if choices.form != "free" else _back(site, front)
    problems = tuple(_small(site, choices, (x, (back, front)), thick))
    if problems:
        return None, problems
    open_sides = _open(site, choices, x)
    finished = _finished(site, choices, x, (back, front), open_sides)
    covers, problems = covers_in(site, "y", front + site.level.wall_board)
    problems += tuple(_misplaced(site, covers, x, thick))
    problems += tuple(_disagrees(site, choices, finished))
    ceiling = ceiling_over(site, Point(middle(x), front + 1, site.level.joists))
    top = site.level.joists
    plan = _Plan(x, (back, front), choices.framing, thick, open_sides, finished, covers, top, ceiling or top)
    return plan, problems


def _back(site: Site, front: Fraction) -> Fraction:
    """Return the back of a free chase: as far behind what it hides as its front is before it."""
    whole = site.bounds()
    return front if whole is None else whole.low.y + whole.high.y - front


def _small(site: Site, choices: Chase, plan: tuple[Stretch, Stretch], thick: Fraction) -> Iterator[Problem]:
    for field, code, (low, high), says in (
        ("along", "chase-too-narrow", plan[0], site.tape.short(choices.along.size())),
        ("front", "chase-too-shallow", plan[1], site.tape.short(choices.front.length)),
    ):
        if high - low <= 2 * thick:
            rule = f"its uprights take {site.tape.short(2 * thick)} and something has to fit between them"
            yield site.problem(code, path_to(site, field), says, rule, "write a larger one")


def _open(site: Site, choices: Chase, x: Stretch) -> tuple[Literal["low", "high", "back"], ...]:
    """Return the sides that get board of their own: in a corner not the one that a wall closes."""
    if choices.form == "wall":
        return "low", "high"
    if choices.form == "free":
        return "low", "high", "back"
    room = _room(site)
    return ("high",) if abs(x[0] - room[0]) <= abs(x[1] - room[1]) else ("low",)


def _room(site: Site) -> Stretch:
    """Return the room's finished faces along the run; the level's block faces where the room is not known."""
    room = site.project.record.rooms.get(site.file.record.room)
    if room is None:
        return Fraction(0), site.level.east_west if site.frame.along == "x" else site.level.north_south
    along = [(east if site.frame.along == "x" else north).inches for east, north in room.outline]
    return min(along), max(along)


def _finished(
    site: Site, choices: Chase, x: Stretch, y: Stretch, open_sides: tuple[str, ...]
) -> tuple[Stretch, Stretch]:
    thick, room = site.level.wall_board, _room(site)
    low = x[0] - thick if "low" in open_sides else room[0]
    high = x[1] + thick if "high" in open_sides else room[1]
    back = y[0] - thick if choices.form == "free" else site.level.wall_face
    return (low, high), (back, y[1] + thick)


def _misplaced(site: Site, covers: Iterable[CoverInFace], x: Stretch, thick: Fraction) -> Iterator[Problem]:
    clear = x[0] + thick, x[1] - thick
    top = site.level.joists - 2 * thick
    for cover in covers:
        (low, high), (foot, head) = cover.patch.u, cover.patch.v
        if low < clear[0] or high > clear[1] or foot < 2 * thick or head > top:
            yield site.problem(
                "cover-past-chase",
                cover.path,
                "",
                f"the uprights leave {' to '.join(site.tape.short(c) for c in clear)} along, and its ties go over "
                f"and under it, from {site.tape.short(2 * thick)} to {site.tape.short(top)} up",
                "write a smaller cover, or a wider chase",
            )


def _disagrees(site: Site, choices: Chase, finished: tuple[Stretch, Stretch]) -> Iterator[Problem]:
    if choices.finished is None:
        return
    wide, deep = (side[1] - side[0] for side in finished)
    if abs(choices.finished.wide.inches - wide) > SLACK or abs(choices.finished.high.inches - deep) > SLACK:
        made = f"{site.tape.short(wide)} × {site.tape.short(deep)}"
        written = f"{site.tape.short(choices.finished.wide)} × {site.tape.short(choices.finished.high)}"
        rule = f"along and front make it {made} over the board"
        yield site.problem(
            "finished-size-disagrees", path_to(site, "finished"), written, rule, "tape it again, or mend along or front"
        )


def _reaching_out(site: Site, plan: _Plan) -> tuple[Problem, ...]:
    """Return a `chase-too-shallow` Problem for each thing that would stick out through the finished front."""
    face = plan.y[1] + site.level.wall_board
    found: dict[str, Problem] = {}
    for thing in site.hidden:
        for solid in thing.solids:
            room = solid.bounds().grown(thing.clearance)
            if overlap((room.low.x, room.high.x), plan.x) and room.low.z < plan.top and room.high.y > face:
                rule = f"{thing.what} reaches {site.tape.short(room.high.y)} off the block, the finished front "
                rule += f"{site.tape.short(face)}"
                repair = f"write a front of at least {site.tape.short(room.high.y - site.level.wall_board)}"
                problem = site.problem("chase-too-shallow", path_to(site, "front"), "", rule, repair)
                found.setdefault(thing.key, problem)
    return tuple(found.values())


def _field(clash: Clash) -> str:
    return "along" if clash.part.role == "upright" or " side" in clash.part.name else "front"


def _repair(site: Site, clash: Clash, plan: _Plan) -> str:
    rooms = [solid.bounds().grown(clash.thing.clearance) for solid in clash.thing.solids]
    if _field(clash) == "along":
        low, high = min(room.low.x for room in rooms) - plan.thick, max(room.high.x for room in rooms) + plan.thick
        return f"write along from {site.tape.short(low)} or less to {site.tape.short(high)} or more"
    out = max(room.high.y for room in rooms) + plan.thick
    return f"write a front of at least {site.tape.short(out)} off the block"


def _framing(site: Site, plan: _Plan) -> Iterator[Part]:
    thick, (x0, x1), (y0, y1) = plan.thick, plan.x, plan.y
    left, right, back, front = x0, x1 - thick, y0, y1 - thick
    for name, x, y in (
        ("back low", left, back),
        ("back high", right, back),
        ("front low", left, front),
        ("front high", right, front),
    ):
        taken = _passing(site, (x, x + thick), (y, y + thick))
        for number, up in enumerate(left_of((thick, plan.top), taken), 1):
            title = f"{name} upright" + (f", piece {number}" if taken else "")
            yield stick(title, "upright", plan.stock, "z", up, (x, y), "x")
    yield _sole("front sole", "x", plan.x, front, thick)
    for name, x in (("low side sole", left), ("high side sole", right)):
        yield _sole(name, "y", (y0, front), x, thick)
    if "back" in plan.open_sides:
        yield _sole("back sole", "x", (x0 + thick, x1 - thick), y0, thick)
    yield from _ties(site, plan)
    yield from _trimmers(plan)


def _passing(site: Site, x: Stretch, y: Stretch) -> list[Stretch]:
    """Return the heights at which something goes through a column of the chase sideways."""
    found = []
    for thing in (*site.hidden, *site.others):
        if thing.material is Material.CABLE:
            continue
        for solid in thing.solids:
            room = solid.bounds().grown(thing.clearance)
            inside = overlap((room.low.x, room.high.x), x) and overlap((room.low.y, room.high.y), y)
            if inside and room.size("z") < SPACING:
                found.append((room.low.z, room.high.z))
    return found


def _sole(name: str, axis: Axis, along: Stretch, across: Fraction, thick: Fraction) -> Part:
    spans: dict[Axis, Stretch] = {
        axis: along,
        "y" if axis == "x" else "x": (across, across + thick),
        "z": (Fraction(0), thick),
    }
    return Part(name, "sole", box(spans["x"], spans["y"], spans["z"], axis), Material.TREATED, SOLE)


def _ties(site: Site, plan: _Plan) -> Iterator[Part]:
    """Yield the ties, ladder-like, on every side; in front they leave the covers free, elsewhere what passes."""
    thick, (x0, x1), (y0, y1) = plan.thick, plan.x, plan.y
    across, deep = (x0 + thick, x1 - thick), (y0 + thick, y1 - thick)
    for number, z in enumerate(_round_covers(plan, _heights(site, plan, across, (y1 - thick, y1))), 1):
        yield stick(f"front tie {number}", "tie", plan.stock, "x", across, (y1 - thick, z), "y")
    for name, x in (("low side", x0), ("high side", x1 - thick)):
        for number, z in enumerate(_heights(site, plan, (x, x + thick), deep), 1):
            yield stick(f"{name} tie {number}", "tie", plan.stock, "y", deep, (x, z), "x")
    if "back" in plan.open_sides:
        for number, z in enumerate(_heights(site, plan, across, (y0, y0 + thick)), 1):
            yield stick(f"back tie {number}", "tie", plan.stock, "x", across, (y0, z), "y")


def _heights(site: Site, plan: _Plan, x: Stretch, y: Stretch) -> tuple[Fraction, ...]:
    """Return the undersides of the ties of one side: at the spacing, one over and one under what passes through."""
    centres = layout(plan.thick, plan.top, SPACING, plan.thick)[1:]
    return tuple(c - plan.thick / 2 for c in around(centres, _passing(site, x, y), plan.thick))


def _round_covers(plan: _Plan, heights: Iterable[Fraction]) -> tuple[Fraction, ...]:
    """Return the front ties' undersides: the spacing's own, and one over and one under each cover."""
    thick = plan.thick
    framed: list[Fraction] = []
    for cover in plan.covers:
        foot, head = cover.patch.v
        framed += [foot - thick, head]
    taken = [c.patch.v for c in plan.covers] + [(z, z + thick) for z in framed]
    rest = [z for z in heights if not any(overlap((z, z + thick), span) for span in taken)]
    return tuple(sorted({*framed, *rest}))


def _trimmers(plan: _Plan) -> Iterator[Part]:
    """Yield uprights beside a cover that is narrower than the chase, where there is room for one."""
    for cover in plan.covers:
        low, high = cover.patch.u
        for name, x in (("low", low - plan.thick), ("high", high)):
            if plan.x[0] + plan.thick <= x and x + plan.thick <= plan.x[1] - plan.thick:
                title = f"{cover.name} {name} trimmer"
                yield stick(title, "trimmer", plan.stock, "z", cover.patch.v, (x, plan.y[1] - plan.thick), "x")


def _boards(site: Site, plan: _Plan) -> Iterator[Part]:
    thick, up = site.level.wall_board, (BOARD_OFF_SLAB, plan.board_top)
    along = (
        plan.x[0] - (thick if "low" in plan.open_sides else 0),
        plan.x[1] + (thick if "high" in plan.open_sides else 0),
    )
    covers = [cover.patch for cover in plan.covers]
    yield from _sheet(site, "front board", "y", (plan.y[1], 1), Rectangle(along, up), covers)
    if "back" in plan.open_sides:
        yield from _sheet(site, "back board", "y", (plan.y[0], -1), Rectangle(along, up), ())
    if "low" in plan.open_sides:
        yield from _sheet(site, "low side board", "x", (plan.x[0], -1), Rectangle(plan.y, up), ())
    if "high" in plan.open_sides:
        yield from _sheet(site, "high side board", "x", (plan.x[1], 1), Rectangle(plan.y, up), ())


def _sheet(
    site: Site, name: str, axis: Axis, side: tuple[Fraction, int], whole: Rectangle, holes: Iterable[Rectangle]
) -> Iterator[Part]:
    """Yield the board of one side, cut round *holes* and what passes through it; *side* is the framing's face."""
    at, toward = side
    plane = min(at, at + toward * site.level.wall_board), max(at, at + toward * site.level.wall_board)
    cut = (*holes, *through((*site.hidden, *site.others), axis, plane))
    yield from sheets(name, axis, at, toward, whole, cut, site.level.wall_board)


def _faces(site: Site, plan: _Plan) -> Iterator[Face]:
    room, up = site.file.record.room, (BOARD_OFF_SLAB, plan.board_top)
    along, off = plan.finished
    yield Face("front", "y", off[1], 1, rectangle("y", x=along, z=up), room)
    for side in plan.open_sides:
        if side == "back":
            yield Face("back", "y", off[0], -1, rectangle("y", x=along, z=up), room)
        else:
            at, toward = (along[0], -1) if side == "low" else (along[1], 1)
            title = f"{looks(site.frame, 'x', toward)} side"
            yield Face(title, "x", at, toward, rectangle("x", y=off, z=up), room)


def _anchors(site: Site, plan: _Plan) -> dict[str, Point]:
    (low, high), (back, front) = plan.finished
    x, z = middle(plan.x), plan.board_top / 2
    found = {
        "block": Point(x, Fraction(0), z),
        "finished wall": Point(x, back, z),
        "framing front": Point(x, plan.y[1], z),
        "finished front": Point(x, front, z),
        "framing low side": Point(plan.x[0], plan.y[1], z),
        "framing high side": Point(plan.x[1], plan.y[1], z),
        "finished low side": Point(low, front, z),
        "finished high side": Point(high, front, z),
        "finished floor": Point(x, front, site.level.floor),
        "top of the board": Point(x, front, plan.board_top),
    }
    for cover in plan.covers[:1]:
        u, v = cover.patch.u, cover.patch.v
        found["bottom of the cover"] = Point(middle(u), front, v[0])
        found["top of the cover"] = Point(middle(u), front, v[1])
        found["low edge of the cover"] = Point(u[0], front, middle(v))
        found["high edge of the cover"] = Point(u[1], front, middle(v))
    return found


def _through(site: Site, plan: _Plan) -> Fraction:
    """Return a station through the first upright thing, else the middle."""
    for thing in site.hidden:
        for solid in thing.solids:
            room = solid.bounds()
            centre = (room.low.x + room.high.x) / 2
            if plan.x[0] < centre < plan.x[1]:
                return centre
    return middle(plan.x)


def _remarks(site: Site, plan: _Plan) -> Iterator[str]:
    yield "The soles on the slab are ripped from treated 2x4."
    face = plan.y[1] + site.level.wall_board
    for thing in site.hidden:
        for solid in thing.solids:
            room = solid.bounds()
            inside = overlap((room.low.x, room.high.x), plan.x) and room.low.z < plan.top
            if inside and room.high.y > plan.y[1]:
                yield (
                    f"{thing.what} reaches {site.tape.short(room.high.y)} off the block, past the front of the "
                    f"framing at {site.tape.short(plan.y[1])}, inside its framed opening: the cover at "
                    f"{site.tape.short(face)} clears it by {site.tape.short(face - room.high.y)}."
                )
    for cover in plan.covers:
        gaps = list(left_of((plan.x[0] + plan.thick, plan.x[1] - plan.thick), [cover.patch.u], Fraction(0)))
        if any(gap[1] - gap[0] < plan.thick for gap in gaps):
            yield f"Beside {cover.name} there is no room for a trimmer: the board ends on its own frame there."

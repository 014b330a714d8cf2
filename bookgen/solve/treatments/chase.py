"""An upright pipe and the choices of a chase in; uprights, ties, soles and board round it, floor to joists, out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from bookgen.model.assembly import Face, Part
from bookgen.model.geometry import Axis, Box, Point
from bookgen.model.problem import Problem
from bookgen.model.records.treatments import Chase
from bookgen.solve.board import rectangle
from bookgen.solve.clash import Clash
from bookgen.solve.compass import looks
from bookgen.solve.cutout import Rectangle
from bookgen.solve.sheathing import BOARD_OFF_SLAB
from bookgen.solve.site import Envelope, Site, Worked
from bookgen.solve.soffit_words import clash_problems, sizes
from bookgen.solve.soffits import sheets, through
from bookgen.solve.studwork import left_of
from bookgen.solve.treatments.assembled import Work, assembled, middle, path_to
from bookgen.solve.treatments.chase_frame import chase_framing
from bookgen.solve.treatments.chase_plan import ChasePlan, inside, planned
from bookgen.solve.treatments.cover_in_face import cover_parts

NAME = "chase"
SIZES = (
    ("finished width", "finished", "finished low side", "finished high side", "x"),
    ("finished depth", "finished", "finished wall", "finished front", "y"),
    ("framed width", "framed", "framing low side", "framing high side", "x"),
    ("framed off the block", "framed", "block", "framing front", "y"),
    ("finished off the block", "finished", "block", "finished front", "y"),
    ("bottom of the cover over the floor", "finished", "finished floor", "bottom of the cover", "z"),
)


def solve(site: Site, choices: Chase) -> Worked:
    """Return the chase, or the Problems that stand in its way.

    They are `unknown-stock`, `chase-needs-wall`, `chase-around-nothing`, `chase-too-shallow`, `chase-too-narrow`,
    `outside-the-level`, `finished-size-disagrees`, `cover-past-chase`, `cover-in-no-face`, `part-meets-obstacle`,
    `section-outside` and those of a cover's place.
    """
    plan, problems = planned(site, choices)
    if plan is None or problems:
        return None, problems
    parts = tuple(chase_framing(site, plan.frame)) + tuple(_boards(site, plan))
    board = site.level.wall_board
    for side, cover in plan.covers:
        parts += cover_parts(cover, side.axis, plan.face(side), side.toward, board)
    problems = _reaching_out(site, plan) or clash_problems(
        site, parts, lambda clash: path_to(site, _field(clash)), lambda clash: _repair(site, clash, plan)
    )
    if problems:
        return None, problems
    anchors = _anchors(site, plan)
    in_front = [cover for side, cover in plan.covers if side.name == "front"]
    section = middle(in_front[0].patch.u) if in_front else _through(site, plan)
    faces, remarks = tuple(_faces(site, plan)), tuple(_remarks(site, plan))
    work = Work(parts, faces, anchors, sizes(anchors, _sizes(plan)), section, remarks)
    return assembled(site, NAME, work)


def envelopes(site: Site, choices: Chase) -> tuple[Envelope, ...]:
    """Return the room of the chase from the slab to the joists and back to the block; none where it can't be built."""
    plan, _ = planned(site, choices)
    if plan is None:
        return ()
    foot, free = Fraction(0), choices.form == "free"
    framed, finished = (
        Box(Point(low, back if free else foot, foot), Point(high, front, site.level.joists))
        for (low, high), (back, front) in ((plan.frame.x, plan.frame.y), plan.finished)
    )
    return (Envelope(framed, framed.joined(finished)),)


def _reaching_out(site: Site, plan: ChasePlan) -> tuple[Problem, ...]:
    """Return a `chase-too-shallow` Problem for each thing that would stick out through the finished front."""
    face = plan.finished[1][1]
    found: dict[str, Problem] = {}
    for thing, room in inside(site, plan.frame.x):
        if room.high.y > face:
            reach, front = site.tape.short(room.high.y), site.tape.short(face)
            rule = f"{thing.what} reaches {reach} off the block, the finished front {front}"
            repair = f"write a front of at least {site.tape.short(room.high.y - site.level.wall_board)}"
            problem = site.problem("chase-too-shallow", path_to(site, "front"), "", rule, repair)
            found.setdefault(thing.key, problem)
    return tuple(found.values())


def _field(clash: Clash) -> str:
    return "along" if clash.part.role == "upright" or " side" in clash.part.name else "front"


def _repair(site: Site, clash: Clash, plan: ChasePlan) -> str:
    rooms = [solid.bounds().grown(clash.thing.clearance) for solid in clash.thing.solids]
    if _field(clash) == "along":
        thick = plan.frame.thick
        low, high = min(room.low.x for room in rooms) - thick, max(room.high.x for room in rooms) + thick
        return f"write along from {site.tape.short(low)} or less to {site.tape.short(high)} or more"
    out = max(room.high.y for room in rooms) + plan.frame.thick
    return f"write a front of at least {site.tape.short(out)} off the block"


def _boards(site: Site, plan: ChasePlan) -> Iterator[Part]:
    thick, up = site.level.wall_board, (BOARD_OFF_SLAB, plan.board_top)
    boarded, (x, y) = {side.name for side in plan.frame.sides if side.boarded}, (plan.frame.x, plan.frame.y)
    lapped = x[0] - (thick if "low" in boarded else 0), x[1] + (thick if "high" in boarded else 0)
    for side in plan.frame.sides:
        if side.boarded:
            whole = Rectangle(lapped if side.axis == "y" else y, up)
            covers = [cover.patch for cover in side.covers]
            yield from _sheet(site, f"{side.title} board", side.axis, (side.outside, side.toward), whole, covers)


def _sheet(
    site: Site, name: str, axis: Axis, side: tuple[Fraction, int], whole: Rectangle, holes: Iterable[Rectangle]
) -> Iterator[Part]:
    """Yield the board of one side, cut round *holes* and what passes through it; *side* is the framing's face."""
    at, toward = side
    plane = min(at, at + toward * site.level.wall_board), max(at, at + toward * site.level.wall_board)
    cut = (*holes, *through((*site.hidden, *site.others), axis, plane))
    yield from sheets(name, axis, at, toward, whole, cut, site.level.wall_board)


def _faces(site: Site, plan: ChasePlan) -> Iterator[Face]:
    room, up = site.file.record.room, (BOARD_OFF_SLAB, plan.board_top)
    along, off = plan.finished
    for side in plan.frame.sides:
        if side.boarded:
            title = side.name if side.axis == "y" else f"{looks(site.frame, 'x', side.toward)} side"
            outline = rectangle("y", x=along, z=up) if side.axis == "y" else rectangle("x", y=off, z=up)
            yield Face(title, side.axis, plan.face(side), side.toward, outline, room)


def _anchors(site: Site, plan: ChasePlan) -> dict[str, Point]:
    (low, high), (back, front) = plan.finished
    x, z = middle(plan.frame.x), plan.board_top / 2
    found = {
        "block": Point(x, Fraction(0), z),
        "finished wall": Point(x, back, z),
        "framing front": Point(x, plan.frame.y[1], z),
        "finished front": Point(x, front, z),
        "framing low side": Point(plan.frame.x[0], plan.frame.y[1], z),
        "framing high side": Point(plan.frame.x[1], plan.frame.y[1], z),
        "finished low side": Point(low, front, z),
        "finished high side": Point(high, front, z),
        "finished floor": Point(x, front, site.level.floor),
        "top of the board": Point(x, front, plan.board_top),
    }
    for side, cover in plan.covers[:1]:
        (low, high), (foot, head) = cover.patch.u, cover.patch.v
        face, level = plan.face(side), (foot + head) / 2

        def on(u: Fraction, z: Fraction, face: Fraction = face, across: bool = side.axis == "y") -> Point:
            return Point(u, face, z) if across else Point(face, u, z)

        found["bottom of the cover"], found["top of the cover"] = (
            on(middle((low, high)), foot),
            on(middle((low, high)), head),
        )
        found["low edge of the cover"], found["high edge of the cover"] = on(low, level), on(high, level)
    return found


def _sizes(plan: ChasePlan) -> tuple[tuple[str, str, str, str, str], ...]:
    """Return the rows of the printed sizes; the cover is measured along its own side."""
    side = next((side for side, _ in plan.covers), None)
    along = "x" if side is None else side.along
    return (*SIZES, ("width of the cover", "finished", "low edge of the cover", "high edge of the cover", along))


def _through(site: Site, plan: ChasePlan) -> Fraction:
    """Return a station through the first upright thing, else the middle."""
    for thing in site.hidden:
        for solid in thing.solids:
            room = solid.bounds()
            centre = (room.low.x + room.high.x) / 2
            if plan.frame.x[0] < centre < plan.frame.x[1]:
                return centre
    return middle(plan.frame.x)


def _remarks(site: Site, plan: ChasePlan) -> Iterator[str]:
    yield site.say("The soles on the slab are ripped from treated 2x4.")
    front, face = plan.frame.y[1], plan.finished[1][1]
    for thing, room in inside(site, plan.frame.x):
        if room.high.y > front:
            yield site.say(
                "{what} reaches {reach} off the block, past the front of the framing at {front}, inside its "
                "framed opening: the cover at {face} clears it by {gap}.",
                what=thing.what,
                reach=site.tape.short(room.high.y),
                front=site.tape.short(front),
                face=site.tape.short(face),
                gap=site.tape.short(face - room.high.y),
            )
    for side, cover in plan.covers:
        if any(gap[1] - gap[0] < plan.frame.thick for gap in left_of(side.clear, [cover.patch.u], Fraction(0))):
            yield site.say(
                "Beside {name} there is no room for a trimmer: the board ends on its own frame there.",
                name=site.tongue.name(cover.name),
            )

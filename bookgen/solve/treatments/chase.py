"""An upright pipe and the choices of a chase in; uprights, ties, soles and board round it, floor to joists, out.

The chase starts at the face of the lining's studs, since the wall's own board gives way to it; in a corner one of its
sides is the wall that is there already, and a free one has a back.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from bookgen.model.assembly import Face, HiddenThing, Part
from bookgen.model.geometry import Axis, Box, Point
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.treatments import Chase
from bookgen.solve.board import rectangle
from bookgen.solve.clash import Clash
from bookgen.solve.compass import looks
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.level import near
from bookgen.solve.neighbours import ceiling_over
from bookgen.solve.sheathing import BOARD_OFF_SLAB
from bookgen.solve.site import Envelope, Site, Worked, off_the_block
from bookgen.solve.soffit_words import clash_problems, sizes
from bookgen.solve.soffits import sheets, through
from bookgen.solve.studwork import left_of, overlap
from bookgen.solve.treatments.assembled import Work, assembled, ends, middle, path_to
from bookgen.solve.treatments.chase_frame import ChaseFrame, ChaseSide, chase_framing, chase_sides
from bookgen.solve.treatments.cover_in_face import FLAT, CoverInFace, cover_parts, covers_across, covers_in
from bookgen.solve.walls_met import stud_face

NAME = "chase"
SLACK = Fraction(1, 8)  # a taped size may miss the worked one by so much
SIZES = (
    ("finished width", "finished", "finished low side", "finished high side", "x"),
    ("finished depth", "finished", "finished wall", "finished front", "y"),
    ("framed width", "framed", "framing low side", "framing high side", "x"),
    ("framed off the block", "framed", "block", "framing front", "y"),
    ("finished off the block", "finished", "block", "finished front", "y"),
    ("bottom of the cover over the floor", "finished", "finished floor", "bottom of the cover", "z"),
)


@dataclass(frozen=True, slots=True)
class _Plan:
    """The chase before it is framed: its framing with its sides, its finished faces, and how high its board goes."""

    frame: ChaseFrame
    finished: tuple[Stretch, Stretch]  # along, and off the wall
    board_top: Fraction

    @property
    def covers(self) -> tuple[tuple[ChaseSide, CoverInFace], ...]:
        """Return its covers with the side that each is in, those in front first."""
        return tuple((side, cover) for side in self.frame.sides for cover in side.covers)

    def face(self, side: ChaseSide) -> Fraction:
        """Return where the finished face of a side is."""
        along, off = self.finished
        return {"front": off[1], "back": off[0], "low": along[0], "high": along[1]}[side.name]


def solve(site: Site, choices: Chase) -> Worked:
    """Return the chase, or the Problems that stand in its way.

    They are `unknown-stock`, `chase-needs-wall`, `chase-around-nothing`, `chase-too-shallow`, `chase-too-narrow`,
    `outside-the-level`, `finished-size-disagrees`, `cover-past-chase`, `cover-in-no-face`, `part-meets-obstacle`,
    `section-outside` and those of a cover's place.
    """
    plan, problems = _planned(site, choices)
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
    plan, _ = _planned(site, choices)
    if plan is None:
        return ()
    foot, free = Fraction(0), choices.form == "free"
    framed, finished = (
        Box(Point(low, back if free else foot, foot), Point(high, front, site.level.joists))
        for (low, high), (back, front) in ((plan.frame.x, plan.frame.y), plan.finished)
    )
    return (Envelope(framed, framed.joined(finished)),)


def _planned(site: Site, choices: Chase) -> tuple[_Plan | None, tuple[Problem, ...]]:
    size = true_size(choices.framing)
    if size is None:
        path, rule = path_to(site, "framing"), "no lumber of that size is sold"
        return None, (site.problem("unknown-stock", path, choices.framing, rule, near(choices.framing)),)
    if site.frame.name in {"east", "north"} and choices.form != "free":
        rule, repair = "its run goes along no wall", "write run: {along: north wall, ...}, or form: free"
        return None, (site.problem("chase-needs-wall", path_to(site, "form"), choices.form, rule, repair),)
    x, thick = ends(choices.along), size[0]
    if not _inside(site, x):
        rule, repair = "nothing that the record lists inside stands there", "list the pipe under inside, or mend along"
        return None, (site.problem("chase-around-nothing", path_to(site, "along"), "", rule, repair),)
    front = _front(site, choices, x, thick)
    back = stud_face(site) if choices.form != "free" else _back(site, front)
    problems = (*_small(site, choices, (x, (back, front)), thick), *_past_level(site, x, front))
    if problems:
        return None, problems
    open_sides = _open(site, choices, x)
    finished = _finished(site, choices, x, (back, front), open_sides)
    bare = _Plan(
        ChaseFrame(
            x, (back, front), choices.framing, thick, site.level.joists,
            chase_sides(x, (back, front), thick, open_sides),
        ),
        finished,
        ceiling_over(site, Point(middle(x), front + 1, site.level.joists)) or site.level.joists,
    )  # fmt: skip
    plan, problems = _covered(site, bare)
    return plan, (*problems, *_disagrees(site, choices, finished))


def _front(site: Site, choices: Chase, x: Stretch, thick: Fraction) -> Fraction:
    """Return the front of the framing: as written, else as near the wall as what is inside allows.

    Sticks in front clear everything; only what ends behind a cover may reach through the framing, up to the cover.
    """
    if choices.front is not None:
        return off_the_block(choices.front, site.level)
    covers = [cover.patch for cover in covers_across(site, "y")]
    reach = []
    for _, room in _inside(site, x):
        patch = Rectangle((room.low.x, room.high.x), (room.low.z, room.high.z))
        behind = any(_holds(cover, patch) for cover in covers)
        reach.append(room.high.y - site.level.wall_board if behind else room.high.y + thick)
    return max(reach)


def _holds(cover: Rectangle, patch: Rectangle) -> bool:
    """Tell whether a patch lies behind a cover."""
    return (
        cover.u[0] <= patch.u[0] and patch.u[1] <= cover.u[1] and cover.v[0] <= patch.v[0] and patch.v[1] <= cover.v[1]
    )


def _inside(site: Site, x: Stretch) -> tuple[tuple[HiddenThing, Box], ...]:
    """Return what a chase is built for: each solid of the record under the joists, with its clearance."""
    rooms = ((t, solid.bounds().grown(t.clearance)) for t in site.hidden for solid in t.solids)
    return tuple((t, b) for t, b in rooms if overlap((b.low.x, b.high.x), x) and b.low.z < site.level.joists)


def _covered(site: Site, plan: _Plan) -> tuple[_Plan, tuple[Problem, ...]]:
    """Return the plan with each cover in its side; a cover of the record that lies in no side is a Problem."""
    sides: list[ChaseSide] = []
    problems: list[Problem] = []
    met: set[tuple[Step, ...]] = set()
    for side in plan.frame.sides:
        if not side.boarded:
            sides.append(side)
            continue
        covers, wrong = covers_in(site, side.axis, plan.face(side))
        sides.append(replace(side, covers=covers))
        problems += (*wrong, *_misplaced(site, plan, side, covers))
        met |= {path for cover in covers for path in cover.paths}
    problems += _in_no_face(site, plan, met)
    return replace(plan, frame=replace(plan.frame, sides=tuple(sides))), tuple(dict.fromkeys(problems))


def _in_no_face(site: Site, plan: _Plan, met: set[tuple[Step, ...]]) -> Iterator[Problem]:
    for index, point in enumerate(site.file.record.access):
        path: tuple[Step, ...] = ("access", index, "cover", "at")
        if point.cover.kind in FLAT and point.cover.at is not None and path not in met:
            faces = ", ".join(
                f"{site.tape.short(plan.face(side))} {'off the wall' if side.axis == 'y' else 'along'}"
                for side in plan.frame.sides
                if side.boarded
            )
            rule, repair = f"the faces of the chase lie at {faces}", "write where its face is, and its stretch in it"
            yield site.problem("cover-in-no-face", path, f"cover {point.tag}", rule, repair)


def _past_level(site: Site, x: Stretch, front: Fraction) -> Iterator[Problem]:
    sizes_ = site.level.east_west, site.level.north_south
    along, across = sizes_ if site.frame.along == "x" else sizes_[::-1]
    for field, ok, size in (("along", x[0] >= 0 and x[1] <= along, along), ("front", front < across, across)):
        if not ok:
            rule, repair = f"the level is {site.tape.long(size)} that way", "look for a slip in the length or its unit"
            yield site.problem("outside-the-level", path_to(site, field), "", rule, repair)


def _back(site: Site, front: Fraction) -> Fraction:
    """Return the back of a free chase: as far behind what it hides as its front is before it."""
    whole = site.bounds()
    return front if whole is None else whole.low.y + whole.high.y - front


def _small(site: Site, choices: Chase, plan: tuple[Stretch, Stretch], thick: Fraction) -> Iterator[Problem]:
    for field, code, (low, high), says in (
        ("along", "chase-too-narrow", plan[0], site.tape.short(choices.along.size())),
        ("front", "chase-too-shallow", plan[1], site.tape.short(plan[1][1])),
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


def _misplaced(site: Site, plan: _Plan, side: ChaseSide, covers: Iterable[CoverInFace]) -> Iterator[Problem]:
    thick = plan.frame.thick
    top = site.level.joists - 2 * thick
    for cover in covers:
        (low, high), (foot, head) = cover.patch.u, cover.patch.v
        if low < side.clear[0] or high > side.clear[1] or foot < 2 * thick or head > top:
            yield site.problem(
                "cover-past-chase",
                cover.paths[0],
                "",
                f"the uprights leave {' to '.join(site.tape.short(c) for c in side.clear)} along, and its ties go over "
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
    face = plan.finished[1][1]
    found: dict[str, Problem] = {}
    for thing, room in _inside(site, plan.frame.x):
        if room.high.y > face:
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
        thick = plan.frame.thick
        low, high = min(room.low.x for room in rooms) - thick, max(room.high.x for room in rooms) + thick
        return f"write along from {site.tape.short(low)} or less to {site.tape.short(high)} or more"
    out = max(room.high.y for room in rooms) + plan.frame.thick
    return f"write a front of at least {site.tape.short(out)} off the block"


def _boards(site: Site, plan: _Plan) -> Iterator[Part]:
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


def _faces(site: Site, plan: _Plan) -> Iterator[Face]:
    room, up = site.file.record.room, (BOARD_OFF_SLAB, plan.board_top)
    along, off = plan.finished
    for side in plan.frame.sides:
        if side.boarded:
            title = side.name if side.axis == "y" else f"{looks(site.frame, 'x', side.toward)} side"
            outline = rectangle("y", x=along, z=up) if side.axis == "y" else rectangle("x", y=off, z=up)
            yield Face(title, side.axis, plan.face(side), side.toward, outline, room)


def _anchors(site: Site, plan: _Plan) -> dict[str, Point]:
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


def _sizes(plan: _Plan) -> tuple[tuple[str, str, str, str, str], ...]:
    """Return the rows of the printed sizes; the cover is measured along its own side."""
    side = next((side for side, _ in plan.covers), None)
    along = "x" if side is None else side.along
    return (*SIZES, ("width of the cover", "finished", "low edge of the cover", "high edge of the cover", along))


def _through(site: Site, plan: _Plan) -> Fraction:
    """Return a station through the first upright thing, else the middle."""
    for thing in site.hidden:
        for solid in thing.solids:
            room = solid.bounds()
            centre = (room.low.x + room.high.x) / 2
            if plan.frame.x[0] < centre < plan.frame.x[1]:
                return centre
    return middle(plan.frame.x)


def _remarks(site: Site, plan: _Plan) -> Iterator[str]:
    yield site.say("The soles on the slab are ripped from treated 2x4.")
    front, face = plan.frame.y[1], plan.finished[1][1]
    for thing, room in _inside(site, plan.frame.x):
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

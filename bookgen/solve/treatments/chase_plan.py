"""A record and the choices of a chase in, where its framing, finished faces and covers are to be out, or Problems.

The chase starts at the face of the lining's studs, since the wall's own board gives way to it; in a corner one of its
sides is the wall that is there already, and a free one has a back.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Literal

from bookgen.model.assembly import HiddenThing
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box, Point
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.treatments import Chase
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.level import near
from bookgen.solve.neighbours import ceiling_over
from bookgen.solve.site import Site, off_the_block
from bookgen.solve.studwork import overlap
from bookgen.solve.treatments.assembled import ends, middle, path_to
from bookgen.solve.treatments.chase_frame import ChaseFrame, ChaseSide, chase_sides
from bookgen.solve.treatments.cover_in_face import FLAT, CoverInFace, covers_across, covers_in
from bookgen.solve.walls_met import stud_face

SLACK = Fraction(1, 8)  # a taped size may miss the worked one by so much


@dataclass(frozen=True, slots=True)
class ChasePlan:
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


def planned(site: Site, choices: Chase) -> tuple[ChasePlan | None, tuple[Problem, ...]]:
    """Return the chase before it is framed, with the Problems met; None where it can't be laid out at all."""
    size = true_size(choices.framing)
    if size is None:
        path, rule = path_to(site, "framing"), "no lumber of that size is sold"
        return None, (site.problem("unknown-stock", path, choices.framing, rule, near(choices.framing)),)
    if site.frame.name in {"east", "north"} and choices.form != "free":
        rule, repair = "its run goes along no wall", "write run: {along: north wall, ...}, or form: free"
        return None, (site.problem("chase-needs-wall", path_to(site, "form"), choices.form, rule, repair),)
    x, thick = ends(choices.along), size[0]
    if not inside(site, x):
        rule, repair = "nothing that the record lists inside stands there", "list the pipe under inside, or mend along"
        return None, (site.problem("chase-around-nothing", path_to(site, "along"), "", rule, repair),)
    front = _front(site, choices, x, thick)
    back = stud_face(site) if choices.form != "free" else _back(site, front)
    problems = (*_small(site, choices, (x, (back, front)), thick), *_past_level(site, x, front))
    if problems:
        return None, problems
    open_sides = _open(site, choices, x)
    finished = _finished(site, choices, x, (back, front), open_sides)
    bare = ChasePlan(
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
    for _, room in inside(site, x):
        patch = Rectangle((room.low.x, room.high.x), (room.low.z, room.high.z))
        behind = any(_holds(cover, patch) for cover in covers)
        reach.append(room.high.y - site.level.wall_board if behind else room.high.y + thick)
    return max(reach)


def _holds(cover: Rectangle, patch: Rectangle) -> bool:
    """Tell whether a patch lies behind a cover."""
    return (
        cover.u[0] <= patch.u[0] and patch.u[1] <= cover.u[1] and cover.v[0] <= patch.v[0] and patch.v[1] <= cover.v[1]
    )


def inside(site: Site, x: Stretch) -> tuple[tuple[HiddenThing, Box], ...]:
    """Return what a chase is built for: each solid of the record under the joists, with its clearance."""
    rooms = ((t, solid.bounds().grown(t.clearance)) for t in site.hidden for solid in t.solids)
    return tuple((t, b) for t, b in rooms if overlap((b.low.x, b.high.x), x) and b.low.z < site.level.joists)


def _covered(site: Site, plan: ChasePlan) -> tuple[ChasePlan, tuple[Problem, ...]]:
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


def _in_no_face(site: Site, plan: ChasePlan, met: set[tuple[Step, ...]]) -> Iterator[Problem]:
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


def _misplaced(site: Site, plan: ChasePlan, side: ChaseSide, covers: Iterable[CoverInFace]) -> Iterator[Problem]:
    thick = plan.frame.thick
    top = site.level.joists - 2 * thick
    for cover in covers:
        (low, high), (foot, head) = cover.patch.u, cover.patch.v
        if low < side.clear[0] or high > side.clear[1] or foot < 2 * thick or head > top:
            yield cover.problem(
                site,
                "cover-past-chase",
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

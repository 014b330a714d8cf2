"""A closet's choices and its site in; two side walls, a front wall with its door, and board, out.

The lining of the block gives way to the closet: its side walls start behind the lining's studs, and bare inside means
that nothing stands before the block there.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import Face, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box, Point
from bookgen.model.problem import Problem
from bookgen.model.records.treatments import Closet
from bookgen.solve.compass import looks
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.level import near
from bookgen.solve.neighbours import ceiling_over
from bookgen.solve.sheathing import BOARD_OFF_SLAB, Sheet, sheathe
from bookgen.solve.site import Envelope, Site, Worked, off_the_block
from bookgen.solve.soffit_words import clash_problems, sizes
from bookgen.solve.studwork import StudWall, frame
from bookgen.solve.treatments.assembled import Work, assembled, ends, middle, path_to
from bookgen.solve.treatments.doorway import Doorway, crossed, door_anchors, door_parts, doorway, given_way
from bookgen.solve.treatments.kept_free import door_swings, working_spaces
from bookgen.solve.walls_met import stud_face

NAME = "closet"
SIZES = (
    ("inside width", "finished", "low side inside", "high side inside", "x"),
    ("inside depth, from the block", "framed", "block", "front wall inside", "y"),
    ("width over the board", "finished", "low side outside", "high side outside", "x"),
    ("depth over the board, off the block", "finished", "block", "front wall outside", "y"),
    ("width of the rough opening", "framed", "low side of the rough opening", "high side of the rough opening", "x"),
    (
        "head of the rough opening above the slab",
        "framed",
        "foot of the rough opening",
        "head of the rough opening",
        "z",
    ),
    ("top of the door over the floor", "finished", "finished floor", "top of the door", "z"),
    ("clear opening", "finished", "low edge of the clear opening", "high edge of the clear opening", "x"),
)


@dataclass(frozen=True, slots=True)
class _Plan:
    """The three walls as planes, the door, the finished outside, and the height of its board."""

    low: StudWall
    high: StudWall
    front: StudWall
    way: Doorway
    outside: Stretch
    inside: Stretch
    lined: bool
    board_top: Fraction


def solve(site: Site, choices: Closet) -> Worked:
    """Return the closet, or the Problems that stand in its way.

    They are `unknown-stock`, `closet-needs-wall`, `closet-walls-disagree`, `closet-too-shallow`,
    `outside-the-level`, `part-meets-obstacle`, `section-outside` and those of a `doorway`.
    """
    plan = _planned(site, choices)
    if not isinstance(plan, _Plan):
        return None, plan
    problems = tuple(crossed(site, plan.way, plan.front))
    if problems:
        return None, problems
    parts, faces = _built(site, plan)
    problems = clash_problems(
        site,
        parts,
        lambda clash: path_to(site, "deep" if clash.part.name.startswith("front") else "inside"),
        lambda _: "give it more room, or move it",
    )
    if problems:
        return None, problems
    anchors = _anchors(site, plan)
    spaces = (*working_spaces(site, plan.inside), *door_swings(plan.way))
    remarks = tuple(_remarks(site, plan))
    work = Work(parts, faces, anchors, sizes(anchors, SIZES), _section(site, plan), remarks, spaces)
    return assembled(site, NAME, work)


def _planned(site: Site, choices: Closet) -> _Plan | tuple[Problem, ...]:
    size = true_size(choices.framing)
    if size is None:
        path, rule = path_to(site, "framing"), "no lumber of that size is sold"
        return (site.problem("unknown-stock", path, choices.framing, rule, near(choices.framing)),)
    if site.frame.name in {"east", "north"}:
        rule, repair = "its run goes along no wall", "write run: {along: west wall, ...}"
        return (site.problem("closet-needs-wall", path_to(site), "", rule, repair),)
    problems = tuple(_misfits(site, choices, size[1]))
    if problems:
        return problems
    board, deep = site.level.wall_board, off_the_block(choices.deep, site.level)
    outside, lined = ends(choices.along), choices.lined == "boarded"
    spacing = site.project.record.level.wall_lining.spacing.inches
    back = stud_face(site) - _lining(site)
    up, framed = (Fraction(0), site.level.joists), (outside[0] + board, outside[1] - board)
    low = StudWall("y", (back, deep), (framed[0], framed[0] + size[1]), up, choices.framing, spacing, Fraction(0))
    high = replace(low, across=(framed[1] - size[1], framed[1]))
    front = StudWall("x", framed, (deep, deep + size[1]), up, choices.framing, spacing, Fraction(0))
    way = doorway(site, choices.door, front, 1 if choices.door.swings == "out" else -1)
    if not isinstance(way, Doorway):
        return way
    inside = ends(choices.inside)
    if way.opening.along[0] < inside[0] or way.opening.along[1] > inside[1]:
        words = " to ".join(site.tape.short(end) for end in way.opening.along)
        start, end = (site.tape.short(one) for one in inside)
        rule = f"it opens into the closet, which goes from {start} to {end} inside"
        repair = "move it off the side wall, or write a narrower one"
        return (site.problem("opening-past-wall", path_to(site, "door", "rough opening"), words, rule, repair),)
    if not lined:
        way = replace(way, across=(deep, way.across[1]))
    top = ceiling_over(site, Point(middle(outside), deep + size[1] + 1, site.level.joists)) or site.level.joists
    return _Plan(low, high, front, way, outside, inside, lined, top)


def _lining(site: Site) -> Fraction:
    """Return how thick the studs of the lining are, off the block."""
    size = true_size(site.project.record.level.wall_lining.stud)
    return size[1] if size else Fraction(0)


def _misfits(site: Site, choices: Closet, stud: Fraction) -> Iterator[Problem]:
    boards = 2 if choices.lined == "boarded" else 1
    wall = stud + boards * site.level.wall_board
    outside, inside = ends(choices.along), ends(choices.inside)
    for side, found in (("low", inside[0] - outside[0]), ("high", outside[1] - inside[1])):
        if found != wall:
            yield site.problem(
                "closet-walls-disagree",
                path_to(site, "inside"),
                f"{site.tape.short(inside[0])} to {site.tape.short(inside[1])}",
                f"its {side} wall is {site.tape.short(wall)} thick with board on {boards} side(s), and along and "
                f"inside leave it {site.tape.short(found)}",
                "tape the inside again, between what is seen there, and the outside over the board",
            )
    deep = off_the_block(choices.deep, site.level)
    least = site.level.wall_face
    if deep <= least:
        rule = f"the wall itself stands {site.tape.short(least)} off the block"
        value = site.tape.short(choices.deep.length)
        yield site.problem("closet-too-shallow", path_to(site, "deep"), value, rule, "write a larger depth")
    across = site.level.north_south if site.frame.along == "x" else site.level.east_west
    if deep + stud + site.level.wall_board > across - site.level.wall_face:
        rule = f"the wall across from it is {site.tape.long(across - site.level.wall_face)} off the block"
        value = site.tape.long(deep)
        yield site.problem("outside-the-level", path_to(site, "deep"), value, rule, "look for a slip in the depth")


def _built(site: Site, plan: _Plan) -> tuple[tuple[Part, ...], tuple[Face, ...]]:
    parts: list[Part] = []
    faces: list[Face] = []
    room, board = site.file.record.room, site.level.wall_board
    up = (BOARD_OFF_SLAB, plan.board_top)
    hole = Rectangle(plan.way.opening.along, plan.way.opening.up)
    low_name, high_name = (f"{looks(site.frame, 'x', toward)} side wall" for toward in (-1, 1))
    walls = ((low_name, plan.low, -1), (high_name, plan.high, 1), ("front wall", plan.front, 1))
    for name, wall, toward in walls:
        openings = (plan.way.opening,) if wall is plan.front else ()
        plane = Rectangle(wall.run, wall.up)
        over = tuple(patch for patch in given_way(site, wall, wall.across) if patch.meets(plane))
        parts += [replace(p, name=f"{name}, {p.name}") for p in frame(wall, openings, over)]
        start = stud_face(site)
        run = plan.outside if wall is plan.front else (start, plan.front.across[1])
        layer = wall.across[1] if toward > 0 else wall.across[0]
        cut = tuple(given_way(site, wall, (min(layer, layer + toward * board), max(layer, layer + toward * board))))
        holes = (*((hole,) if wall is plan.front else ()), *cut)
        laid, face = sheathe(wall, Sheet(f"{name}, outside", toward, Rectangle(run, up), board, room), holes)
        parts += laid
        faces.append(face)
        if plan.lined:
            inner = plan.inside if wall is plan.front else (start, plan.front.across[0] - board)
            sheet = Sheet(f"{name}, inside", -toward, Rectangle(inner, (up[0], site.level.joists)), board, "")
            laid, face = sheathe(wall, sheet, holes)
            parts += laid
            faces.append(face)
    return (*parts, *door_parts(plan.way, "x")), tuple(faces)


def envelopes(site: Site, choices: Closet) -> tuple[Envelope, ...]:
    """Return the room of the closet from the slab to the joists, its walls and what they shut in."""
    plan = _planned(site, choices)
    if not isinstance(plan, _Plan):
        return ()
    back, deep, top = stud_face(site), plan.front.across[1], site.level.joists
    framed = Box(Point(plan.low.across[0], back, Fraction(0)), Point(plan.high.across[1], deep, top))
    outside = Point(plan.outside[1], deep + site.level.wall_board, top)
    return (Envelope(framed, Box(Point(plan.outside[0], back, Fraction(0)), outside)),)


def _anchors(site: Site, plan: _Plan) -> dict[str, Point]:
    centre, half = middle(plan.outside), plan.board_top / 2
    inner = plan.front.across[0]
    outer = plan.front.across[1] + site.level.wall_board
    found = {
        "block": Point(centre, Fraction(0), half),
        "front wall inside": Point(centre, inner, half),
        "front wall outside": Point(centre, outer, half),
        "low side inside": Point(plan.inside[0], inner, half),
        "high side inside": Point(plan.inside[1], inner, half),
        "low side outside": Point(plan.outside[0], outer, half),
        "high side outside": Point(plan.outside[1], outer, half),
        "finished floor": Point(middle(plan.way.opening.along), outer, site.level.floor),
    }
    return found | door_anchors(plan.way, "x")


def _section(site: Site, plan: _Plan) -> Fraction:
    """Return a station that cuts the door and, where there is one, something of what the closet hides."""
    low, high = plan.way.opening.along
    for thing in site.hidden:
        for solid in thing.solids:
            room = solid.bounds()
            first, last = max(low, room.low.x), min(high, room.high.x)
            if first < last:
                return (first + last) / 2
    return middle(plan.way.opening.along)


def _remarks(site: Site, plan: _Plan) -> Iterator[str]:
    clear = plan.way.clear()
    side = looks(site.frame, "x", -1 if plan.way.hinges[0] == "low" else 1)
    yield site.say(
        "The door is hinged on its {side} side and leaves {clear} clear when it stands open at a right angle.",
        side=site.tongue.name(side),
        clear=site.tape.short(clear[1] - clear[0]),
    )
    for taken in site.taken:
        yield site.say("Its walls are framed up to {what}, which goes through over it.", what=taken.what)
    if not plan.lined:
        yield site.say("Inside, the studs and the block stay bare.")
    names = [thing.what for thing in site.hidden]
    if len(names) > 1:
        yield site.say(
            "{names} share the closet: nothing else may be stored in it.",
            names=site.say("{others} and {last}", others=", ".join(names[:-1]), last=names[-1]),
        )

"""The lines under the joists and the choices of furring in; strips across the joists and a flat ceiling out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from bookgen.model.assembly import Face, Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, Box, Point, box
from bookgen.model.problem import Problem
from bookgen.model.records.overhead import Furring
from bookgen.solve.cutout import Rectangle, cut_out, within
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.lengths import cut
from bookgen.solve.level import joist_centres, near
from bookgen.solve.neighbours import out_to_walls
from bookgen.solve.sheathing import outlined
from bookgen.solve.site import Envelope, Site, Worked
from bookgen.solve.soffit_words import sizes
from bookgen.solve.soffits import counted, sheets, through
from bookgen.solve.treatments.assembled import Work, assembled, ends, middle, path_to
from bookgen.solve.treatments.cover_in_face import CoverInFace, cover_parts, covers_in, flush_boxes
from bookgen.solve.treatments.furring_instead import instead
from bookgen.solve.treatments.furring_rows import (
    Ceiling,
    Strip,
    beside,
    ceiling,
    hanging,
    in_frame,
    lines_in,
    pieces,
)
from bookgen.solve.treatments.soffit_covers import unmet

NAME = "furring"
MARGIN = Fraction(1, 4)  # inches that a strip is thicker than the lines hang, where the record leaves it out
SIZES = (
    ("headroom", "headroom", "finished floor", "finished ceiling", "z"),
    ("framed drop", "framed", "joists", "underside of the strips", "z"),
    ("finished drop", "finished", "joists", "finished ceiling", "z"),
)


@dataclass(frozen=True, slots=True)
class _Plan:
    """The strips' stock, the ceilings with their rows, and the covers in them."""

    strip: Strip
    ceilings: tuple[Ceiling, ...]
    covers: tuple[CoverInFace, ...]
    finished: Fraction


def solve(site: Site, choices: Furring) -> Worked:
    """Return strips and ceilings, or the Problems that stand in their way.

    They are `unknown-stock`, `strips-along-joists`, `margin-too-large`, `line-below-strips`, `cover-on-strip`,
    `cover-size-missing`, `cover-in-no-face`, `strip-piece-short`,
    `section-outside`, those of a `ceiling` and those of a cover's place.
    """
    plan, problems = _planned(site, choices)
    if plan is None or problems:
        return None, problems
    strips, problems = _strips(site, plan)
    if problems:
        return None, problems
    boards = tuple(part for found in plan.ceilings for part in _boards(site, plan, found))
    board = site.level.ceiling_board
    covers = tuple(p for cover in plan.covers for p in cover_parts(cover, "z", plan.finished, -1, board))
    section = _section(site, plan)
    anchors = _anchors(site, plan, section)
    faces = tuple(face for found in plan.ceilings for face in _faces(site, plan, found))
    remarks = tuple(_remarks(site, plan))
    work = Work((*strips, *boards, *covers), faces, anchors, sizes(anchors, SIZES), section, remarks)
    return assembled(site, NAME, work)


def _planned(site: Site, choices: Furring) -> tuple[_Plan | None, tuple[Problem, ...]]:
    size = true_size(choices.strip)
    if size is None:
        path, rule = path_to(site, "strip"), "no lumber of that size is sold"
        return None, (site.problem("unknown-stock", path, choices.strip, rule, near(choices.strip)),)
    if choices.runs == site.project.record.level.joists.run:
        rule = f"the joists run {choices.runs} too, and a strip hangs on the joists that it crosses"
        repair = f"write {'north' if choices.runs == 'east' else 'east'}"
        return None, (site.problem("strips-along-joists", path_to(site, "runs"), choices.runs, rule, repair),)
    strip = Strip(choices.strip, *size, (site.level.joists - size[0], site.level.joists))
    problems: list[Problem] = []
    ceilings: list[Ceiling] = []
    for index in range(len(choices.areas)):
        found, wrong = ceiling(site, choices, index, strip)
        problems += wrong
        if found is not None:
            ceilings.append(found)
    finished = strip.up[0] - site.level.ceiling_board
    covers, wrong = covers_in(site, "z", finished)
    plan = _Plan(strip, tuple(ceilings), covers, finished)
    problems = [*_too_low(site, choices, plan), *problems, *wrong, *_margin_problems(site, choices, strip)]
    problems += (*_covers_on_strips(site, plan), *(() if problems else _unmet(site, plan)))
    return plan, tuple(problems)


def _margin_problems(site: Site, choices: Furring, strip: Strip) -> Iterator[Problem]:
    if choices.margin is not None and choices.margin.inches >= strip.thick:
        rule = f"strips of {strip.stock} are {site.tape.short(strip.thick)} thick, and would hide nothing"
        value, repair = site.tape.short(choices.margin), "write less, such as 1/4 in"
        yield site.problem("margin-too-large", path_to(site, "margin"), value, rule, repair)


def _unmet(site: Site, plan: _Plan) -> tuple[Problem, ...]:
    """Return a Problem for each access point over a ceiling whose cover the record does not place in it."""
    met = {path for cover in plan.covers for path in cover.paths}
    top = site.level.joists + site.level.joist_depth
    problems: list[Problem] = []
    for found in plan.ceilings:
        area = found.plan()
        room = Box(Point(area.u[0], area.v[0], plan.finished), Point(area.u[1], area.v[1], top))
        problems += unmet(site, met, room)
    return tuple(dict.fromkeys(problems))


def _too_low(site: Site, choices: Furring, plan: _Plan) -> Iterator[Problem]:
    """Yield a Problem, at the line itself, for each that hangs lower than the strips hide."""
    margin = MARGIN if choices.margin is None else choices.margin.inches
    told = set(flush_boxes(site))
    for found in plan.ceilings:
        for thing, room in hanging(site.hidden, found, plan.strip):
            hang = site.level.joists - room.low.z
            if hang > plan.strip.thick - margin and thing.key not in told:
                told.add(thing.key)
                yield Problem(
                    thing.place,
                    "line-below-strips",
                    thing.what,
                    f"hangs {site.tape.short(hang)}",
                    f"strips of {plan.strip.stock} are {site.tape.short(plan.strip.thick)} thick and hide what "
                    f"hangs {site.tape.short(plan.strip.thick - margin)} at most",
                    instead(site, thing, room, plan.strip, margin),
                )


def _covers_on_strips(site: Site, plan: _Plan) -> Iterator[Problem]:
    half = plan.strip.wide / 2
    for cover in plan.covers:
        for found in plan.ceilings:
            along, across = (cover.patch.u, cover.patch.v) if found.axis == "x" else (cover.patch.v, cover.patch.u)
            for row in found.rows:
                if across[0] < row + half and row - half < across[1] and _shares(along, found.along):
                    rule = f"the strip at {site.tape.short(row)} crosses it"
                    yield cover.problem(site, "cover-on-strip", "", rule, "move the cover or the row")


def _shares(one: Stretch, other: Stretch) -> bool:
    return one[0] < other[1] and other[0] < one[1]


def _strips(site: Site, plan: _Plan) -> tuple[tuple[Part, ...], tuple[Problem, ...]]:
    parts: list[Part] = []
    problems: list[Problem] = []
    taken = tuple(_taken(site))
    joists = _joists(site)
    for found in plan.ceilings:
        for number, row in enumerate(found.rows, 1):
            whole = [piece for piece in pieces(site, found, plan.strip, row, taken) if piece[1] > piece[0]]
            for piece in whole:
                if not _held(piece, joists) and not (found.laid and _against(piece, found, taken)):
                    words = " to ".join(site.tape.short(end) for end in piece)
                    rule = f"the piece {words} that is left of row {number} crosses fewer than two joists"
                    repair = "move the row, or end the strips at the line"
                    problems.append(site.problem("strip-piece-short", (*found.path, "rows"), "", rule, repair))
            spans = [one for piece in whole for one in cut(piece, joists, plan.strip.stock, early=number % 2 == 0)]
            parts += [
                _strip(plan.strip, found, row, one, f"{found.room} strip {number}", i) for i, one in enumerate(spans, 1)
            ]
        extra = [
            (at, one)
            for at, stretch in beside(found, plan.strip, taken)
            for piece in pieces(site, replace(found, along=stretch), plan.strip, at, taken)
            if _held(piece, joists)
            for one in cut(piece, joists, plan.strip.stock)
        ]
        parts += [
            _strip(plan.strip, found, at, one, f"{found.room} strip beside", number)
            for number, (at, one) in enumerate(extra, 1)
        ]
    return tuple(parts), tuple(problems)


def _against(piece: Stretch, found: Ceiling, taken: Iterable[Rectangle]) -> bool:
    """Tell whether a piece ends at the side of other work, where it is fixed to that."""
    sides = {side for plan in taken for side in (plan.u if found.axis == "x" else plan.v)}
    return not sides.isdisjoint(piece)


def _held(piece: Stretch, joists: tuple[Fraction, ...]) -> bool:
    """Tell whether a piece of a strip crosses two joists at least."""
    return sum(1 for joist in joists if piece[0] <= joist <= piece[1]) >= 2


def _joists(site: Site) -> tuple[Fraction, ...]:
    """Return the middles of the joists on the axis that the strips run on, in the run's frame."""
    level: Axis = "x" if site.project.record.level.joists.run == "north" else "y"
    centres = joist_centres(site.project.record.level)
    return tuple(sorted(in_frame(site.frame, level, (centre, centre))[0] for centre in centres))


def _strip(strip: Strip, found: Ceiling, row: Fraction, along: Stretch, name: str, number: int) -> Part:
    width = row - strip.wide / 2, row + strip.wide / 2
    spans = (along, width) if found.axis == "x" else (width, along)
    return Part(f"{name}.{number}", "strip", box(*spans, strip.up, found.axis), Material.LUMBER, strip.stock)


def _boards(site: Site, plan: _Plan, found: Ceiling) -> tuple[Part, ...]:
    """Return the ceiling board of one room, out to its walls, round other work, covers and what passes through."""
    layer = plan.finished, plan.strip.up[0]
    holes = (*(cover.patch for cover in plan.covers), *through((*site.hidden, *site.others), "z", layer))
    whole = _out_to_walls(site, found, site.level.wall_board)
    name = f"{found.room} ceiling board"
    parts = [
        part
        for patch in cut_out(whole, _taken(site))
        for part in sheets(name, "z", layer[1], -1, patch, holes, site.level.ceiling_board)
    ]
    return tuple(replace(part, name=f"{name}{number}") for number, part in counted(tuple(parts)))


def _out_to_walls(site: Site, found: Ceiling, past: Fraction) -> Rectangle:
    """Return the plan of a ceiling, x by y, out to a wall that its strips stop short of; *past* its finished face."""
    outline = site.project.record.rooms[found.room].outline
    plan = found.plan()
    spots = [site.frame.from_level(Point(east.inches, north.inches, Fraction(0))) for east, north in outline]
    return Rectangle(
        out_to_walls(plan.u, (spot.x for spot in spots), past), out_to_walls(plan.v, (spot.y for spot in spots), past)
    )


def _faces(site: Site, plan: _Plan, found: Ceiling) -> Iterator[Face]:
    """Yield what is seen of a ceiling: on both sides of what goes across it from wall to wall, round all else."""
    whole = _out_to_walls(site, found, Fraction(0))
    taken = tuple(within(patch, whole) for patch in _taken(site, finished=True) if patch.meets(whole))
    across = [patch for patch in taken if whole.u == patch.u or whole.v == patch.v]
    name = f"ceiling of the {site.project.record.rooms[found.room].name}"
    pieces_ = cut_out(whole, across)
    for number, patch in counted(pieces_):
        title = f"{name}, part{number}" if number else name
        outline = outlined(patch, [within(hole, patch) for hole in taken if hole.meets(patch)])
        yield Face(title, "z", plan.finished, -1, outline, found.room)


def _taken(site: Site, *, finished: bool = False) -> Iterator[Rectangle]:
    """Yield the plan of all that the ceilings go up to: chases, closets and wraps over their board, soffits.

    The board of a soffit's sides ends under the ceiling, which goes over it up to the ladders; *finished* leaves out of
    sight what lies there.
    """
    for taken in site.taken:
        lapped = taken.treatment.endswith("soffit") and not finished
        box = taken.room.framed if lapped else taken.room.finished
        yield Rectangle((box.low.x, box.high.x), (box.low.y, box.high.y))


def envelopes(site: Site, choices: Furring) -> tuple[Envelope, ...]:
    """Return the layer that strips and board of each ceiling fill under the joists; none for stock that is not sold."""
    size = true_size(choices.strip)
    if size is None:
        return ()
    level, top = site.level, site.level.joists
    found = []
    for area in choices.areas:
        spans = (ends(area.along), ends(area.across))
        (x1, x2), (y1, y2) = spans if choices.runs == "east" else spans[::-1]
        low, high = (site.frame.from_level(Point(x, y, top)) for x, y in ((x1, y1), (x2, y2)))
        west, east, near, far = min(low.x, high.x), max(low.x, high.x), min(low.y, high.y), max(low.y, high.y)
        foot = top - size[0]
        feet = foot, foot - level.ceiling_board
        found.append(Envelope(*(Box(Point(west, near, z), Point(east, far, top)) for z in feet)))
    return tuple(found)


def _section(site: Site, plan: _Plan) -> Fraction:
    """Return a station under a cover, else in the middle of the first ceiling, half way between two joists."""
    if plan.covers:
        return middle(plan.covers[0].patch.u)
    centre = middle(plan.ceilings[0].plan().u)
    joists = _joists(site) if plan.ceilings[0].axis == "x" else ()
    bays = [(low + high) / 2 for low, high in pairwise(joists)]
    return min(bays, key=lambda bay: (abs(bay - centre), bay), default=centre)


def _anchors(site: Site, plan: _Plan, section: Fraction) -> dict[str, Point]:
    y = middle(plan.ceilings[0].plan().v)
    return {
        "finished floor": Point(section, y, site.level.floor),
        "finished ceiling": Point(section, y, plan.finished),
        "underside of the strips": Point(section, y, plan.strip.up[0]),
        "joists": Point(section, y, plan.strip.up[1]),
    }


def _remarks(site: Site, plan: _Plan) -> Iterator[str]:
    hangs = {
        thing.what: site.level.joists - room.low.z
        for found in plan.ceilings
        for thing, room in lines_in(site.hidden, found, plan.strip)
    }
    if hangs:
        name = max(hangs, key=lambda what: (hangs[what], what))
        yield site.say(
            "{name} hangs lowest, {hangs} below the joists; the strips are {thick} thick.",
            name=name,
            hangs=site.tape.short(hangs[name]),
            thick=site.tape.short(plan.strip.thick),
        )
    if site.taken:
        *first, last = (taken.what for taken in site.taken)
        names = site.say("{others} and {last}", others=", ".join(first), last=last) if first else last
        yield site.say("Strips and board go up to these: {names}.", names=names)
    for found in plan.ceilings:
        room = site.project.record.rooms[found.room].name
        gaps = [high - low for low, high in pairwise(found.rows)]
        if gaps:
            yield site.say(
                "{room}: {rows} rows, {gaps} apart at most, center to center.",
                room=room,
                rows=len(found.rows),
                gaps=site.tape.short(max(gaps)),
            )

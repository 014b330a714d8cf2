"""A wall soffit's choices and its site in, the ladder, cleat, crossers and board along the wall out.

A ladder hangs from the joists at the outer line, a cleat is fixed to the lining's studs at the same height as the
ladder's bottom rail, crossers lie between; board goes under, in front, and over an end that meets no wall. Where the
line steps, each step is a soffit of its own that closes what it shows beside the next.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import reduce
from itertools import islice

from bookgen.model.assembly import Assembly, Face, HiddenThing, LineCost, Part
from bookgen.model.geometry import Box, Point, Rod
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.overhead import WallSoffit
from bookgen.solve.choices import chosen
from bookgen.solve.clash import Clash
from bookgen.solve.cropped import cropped
from bookgen.solve.framing import Stretch
from bookgen.solve.parted import chases_in, goes_on_beside, goes_on_under, stop_words
from bookgen.solve.site import Site, Worked
from bookgen.solve.soffit_holes import leaving
from bookgen.solve.soffit_words import clash_problems, leaving_words, overhead, sizes, station_for_section
from bookgen.solve.studwork import overlap
from bookgen.solve.treatments.cover_in_face import flush_boxes
from bookgen.solve.treatments.soffit_covers import Covered, covered, in_ends
from bookgen.solve.treatments.wall_pieces import (
    Cuts,
    Piece,
    closed,
    faces,
    finished_outside,
    framing,
    inside_room,
    side_up,
)
from bookgen.solve.treatments.wall_plan import Plan, planned
from bookgen.solve.walls_met import stud_face

TITLE = "Wall soffit"
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


def solve(site: Site, choices: WallSoffit) -> Worked:
    """Return the soffit, or the Problems that stand in its way.

    They are `unknown-stock`, `stick-too-long`, `soffit-needs-wall`, `soffit-size-missing`, `soffit-too-shallow`,
    `soffit-below-floor`, `soffit-too-narrow`, `soffit-too-short`, `outside-the-level`, `spacing-too-small`,
    `steps-not-joined`, those of `covered`, `section-outside`, `obstacle-shows` and `part-meets-obstacle`.
    """
    plan = planned(site, choices)
    if not isinstance(plan, Plan):
        return None, plan
    covers, misplaced = _covers(site, plan)
    rows = [(piece, _cuts(site, piece, found)) for piece, found in zip(plan.pieces, covers, strict=True)]
    parts = (
        *(part for row in rows for part in framing(site, *row)),
        *(part for found in covers for one in found for part in one.parts()),
    )
    wrong = misplaced or clash_problems(
        site, parts, lambda clash: _place_of(clash, plan), lambda clash: _repair(site, clash, plan)
    )
    across = stud_face(site), plan.outside()
    wrong = wrong or (
        *_showing(site, plan),
        *goes_on_under(site, across, plan.path),
        *goes_on_beside(site, across, plan.shape, plan.path),
    )
    if wrong:
        return None, wrong
    section = _section(site, plan, parts)
    if isinstance(section, Problem):
        return None, (section,)
    anchors = _anchors(site, _piece_at(plan, section), section)
    pick = chosen(site.file.record)
    assembly = Assembly(
        key=site.file.key,
        treatment="wall soffit",
        title=TITLE,
        frame=site.frame,
        run=plan.ends.run(),
        section_at=section,
        parts=parts,
        faces=tuple(face for row in rows for face in faces(site, *row)),
        anchors=anchors,
        measures=sizes(anchors, SIZES),
        known=pick.known if pick is not None else site.file.record.known,
        place=site.place(*plan.path),
        remarks=tuple(_remarks(site, plan)),
        costs=_costs(site, plan),
    )
    return assembly, ()


def _covers(site: Site, plan: Plan) -> tuple[list[tuple[Covered, ...]], tuple[Problem, ...]]:
    """Return the covers in the bottom, the side and the closed ends of each piece, in the order of the pieces."""
    rooms = [inside_room(site, piece) for piece in plan.pieces]
    surfaces = [closed(site, piece) for piece in plan.pieces]
    found, problems = covered(site, [face for row in surfaces for face in row], reduce(Box.joined, rooms))
    rows = iter(found)
    return [tuple(islice(rows, len(row))) for row in surfaces], problems


def _cuts(site: Site, piece: Piece, found: tuple[Covered, ...]) -> Cuts:
    """Return what is cut in a piece: for covers, and for the chases that stand in its bottom."""
    under, side, *ends = found
    chases = chases_in(site, (stud_face(site), piece.outside), piece.shape)
    through = (hole for hole in chases if overlap(hole.u, piece.run()))
    return Cuts((*under.holes(), *through), side.holes(), in_ends(ends))


def _section(site: Site, plan: Plan, parts: tuple[Part, ...]) -> Fraction | Problem:
    """Return where to cut: in the piece that comes lowest, of two in that which reaches furthest."""
    piece = min(plan.pieces, key=lambda one: (one.shape.bottom, -one.outside, one.ends.low))
    run = plan.ends.run() if len({(one.shape.bottom, one.outside) for one in plan.pieces}) == 1 else piece.run()
    governing = _furthest(site, run)
    target = sum(governing[1]) / Fraction(2) if governing else sum(run) / Fraction(2)
    if site.file.record.section_at is not None:
        run = plan.ends.run()
    return station_for_section(site, target, run, parts)


def _piece_at(plan: Plan, station: Fraction) -> Piece:
    """Return the piece that a station lies in, else the nearest."""

    def off(piece: Piece) -> Fraction:
        return max(piece.ends.low - station, station - piece.ends.high, Fraction(0))

    return min(plan.pieces, key=lambda piece: (off(piece), piece.ends.low))


def _anchors(site: Site, piece: Piece, section: Fraction) -> dict[str, Point]:
    level, shape = site.level, piece.shape
    low_z, ceiling = side_up(site, piece, section)
    out = finished_outside(site, piece)
    return {
        "block": Point(section, Fraction(0), shape.bottom),
        "stud face": Point(section, stud_face(site), shape.bottom),
        "finished wall": Point(section, level.wall_face, low_z),
        "framing outside": Point(section, piece.outside, shape.bottom),
        "framing bottom": Point(section, piece.outside, shape.bottom),
        "finished outside": Point(section, out, low_z),
        "finished bottom": Point(section, out, low_z),
        "joists": Point(section, piece.outside, shape.top),
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


def _place_of(clash: Clash, plan: Plan) -> tuple[Step, ...]:
    return (*plan.path, "outside" if clash.part.role in FRONT_ROLES else "framing bottom")


def _repair(site: Site, clash: Clash, plan: Plan) -> str:
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


def _showing(site: Site, plan: Plan) -> tuple[Problem, ...]:
    """Return an `obstacle-shows` Problem for each own thing that the framing meets nowhere because it is outside it."""
    found: dict[str, Problem] = {}
    flush = flush_boxes(site)
    for piece in plan.pieces:
        left = leaving(site.hidden, (stud_face(site), piece.outside), piece.shape)
        for thing, _, low, high in overhead(site.hidden, piece.run()):
            if thing.key in left or thing.key in flush:
                continue
            if low.z < piece.shape.bottom and high.y > stud_face(site):
                rule = f"{thing.what} hangs {site.tape.short(piece.shape.bottom - low.z)} below it"
                repair = f"write at most {site.tape.short(low.z - piece.shape.timber.wide)} above slab"
                problem = site.problem("obstacle-shows", (*plan.path, "framing bottom"), "", rule, repair)
                found.setdefault(thing.key, problem)
            elif high.y > piece.outside:
                rule = f"{thing.what} stands {site.tape.short(high.y - piece.outside)} further out"
                repair = f"write at least {site.tape.short(high.y + piece.shape.timber.thick)} off the block"
                found.setdefault(thing.key, site.problem("obstacle-shows", (*plan.path, "outside"), "", rule, repair))
    return tuple(found.values())


def _costs(site: Site, plan: Plan) -> tuple[LineCost, ...]:
    """Return what the line as built takes, then the other one."""
    names = ("straight line", "steps") if plan.straight else ("steps", "straight line")
    rows = ([face for piece in row for face in faces(site, piece)] for row in (plan.pieces, plan.other))
    return tuple(_cost(name, found) for name, found in zip(names, rows, strict=True))


def _cost(name: str, found: list[Face]) -> LineCost:
    """Return what some faces take; a corner stands at both ends of each face that closes a step."""
    floor = sum((face.outline.area() for face in found if face.axis == "z"), Fraction(0))
    board = sum((face.outline.area() for face in found), Fraction(0))
    return LineCost(name, floor, board, 2 * sum(1 for face in found if "step" in face.name))


def _remarks(site: Site, plan: Plan) -> Iterator[str]:
    """Yield what was decided and what it costs."""
    tape, run = site.tape, plan.ends.run()
    far, low = _furthest(site, run), _lowest(site, run)
    if far is None or low is None:
        return
    at = sum(far[1]) / Fraction(2)
    left = _piece_at(plan, at).outside - plan.shape.timber.thick - far[3].y
    line = site.say("One straight line for the whole run" if plan.straight else "The line steps")
    yield site.say(
        "{line}: {what} reaches furthest, {reach} off the block at {at}, and leaves {left} to the ladder.",
        line=line,
        what=far[0].what,
        reach=tape.short(far[3].y),
        at=tape.long(at),
        left=tape.short(left),
    )
    over = low[2].z - _piece_at(plan, sum(low[1]) / Fraction(2)).shape.bottom - plan.shape.timber.thick
    yield site.say(
        "{what} hangs lowest, {height} above the slab, and leaves {gap} over the crossers.",
        what=low[0].what,
        height=tape.short(low[2].z),
        gap=tape.short(over),
    )
    rise = max((abs(solid.end.z - solid.start.z) for solid in low[0].solids if isinstance(solid, Rod)), default=0)
    if rise and len({piece.shape.bottom for piece in plan.pieces}) == 1:
        yield site.say(
            "It rises {rise} from end to end; the level bottom gives that up and keeps one line and one height.",
            rise=tape.short(Fraction(rise)),
        )
    for piece in plan.pieces:
        inside = cropped(site.hidden, piece.run())
        yield from leaving_words(site, leaving(inside, (stud_face(site), piece.outside), piece.shape))
    if not plan.straight:
        yield from (_piece_words(site, piece) for piece in plan.pieces)
    yield _cost_words(site, plan)
    yield from stop_words(site, (stud_face(site), plan.outside()), plan.shape.bottom)
    if plan.straight and len(plan.pieces) > 1 and any(taken.treatment == "chase" for taken in site.taken):
        yield site.say("A boxed chase comes down through the soffit and parts it; both faces stay in one line.")


def _piece_words(site: Site, piece: Piece) -> str:
    tape, (low, high) = site.tape, piece.run()
    name = site.tongue.name(piece.name).capitalize() if piece.name else site.say("The whole run")
    return site.say(
        "{name}, {low} to {high}: framed {outside} off the block, underside {bottom} above the slab.",
        name=name,
        low=tape.long(low),
        high=tape.long(high),
        outside=tape.short(piece.outside),
        bottom=tape.short(piece.shape.bottom),
    )


def _cost_words(site: Site, plan: Plan) -> str:
    """Say what the straight line takes more than steps; the difference may go either way."""
    built, other = _costs(site, plan)
    line, stepped = (built, other) if plan.straight else (other, built)
    if not stepped.corners:
        return site.say("Steps that follow what it hides would not save enough to be worth their corners.")
    floor, board = line.floor - stepped.floor, line.board - stepped.board
    return site.say(
        "The straight line covers {floor} {more} of the floor and takes {board} {more2} board than steps would, "
        "and saves {corners} corners.",
        floor=site.tongue.name(site.tape.area(abs(floor))),
        more=_more(floor, site),
        board=site.tongue.name(site.tape.area(abs(board))),
        more2=_more(board, site),
        corners=stepped.corners,
    )


def _more(difference: Fraction, site: Site) -> str:
    return site.say("less" if difference < 0 else "more")

"""A hung soffit's choices and its site in, two ladders, crossers, board, lights and registers out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import Assembly, Face, Part
from bookgen.model.geometry import Box
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.overhead import HungSoffit
from bookgen.solve.choices import chosen
from bookgen.solve.clash import Clash
from bookgen.solve.fittings import Fitting, fitting_parts, fitting_problems, fittings, openings
from bookgen.solve.framing import Stretch
from bookgen.solve.lengths import too_long
from bookgen.solve.parted import chases_in, goes_on_beside, goes_on_under, stop_words, too_little
from bookgen.solve.sideways import beside, shared, sideways_words
from bookgen.solve.site import Envelope, Site, Worked, height_above_slab
from bookgen.solve.soffit_holes import leaving
from bookgen.solve.soffit_words import (
    clash_problems,
    height_problems,
    leaving_words,
    overhead,
    run_problems,
    spacing_problems,
    station_for_section,
)
from bookgen.solve.soffits import SPACING, Shape, timber
from bookgen.solve.studwork import left_of, overlap
from bookgen.solve.treatments.cover_in_face import flush_boxes
from bookgen.solve.treatments.soffit_covers import covered, opened
from bookgen.solve.two_sided import (
    TwoSided,
    anchors,
    closed,
    faces,
    framing,
    inside_room,
    measures,
    piece_at,
    pieces,
    room,
)
from bookgen.solve.walls_met import ends

TITLE = "Hung soffit"
FITTINGS = frozenset({"light", "register"})  # what is over them is judged by `fitting_problems`


def solve(site: Site, choices: HungSoffit) -> Worked:
    """Return the soffit, or the Problems that stand in its way.

    They are `unknown-stock`, `stick-too-long`, `soffit-too-shallow`, `soffit-below-floor`, `soffit-too-narrow`,
    `soffit-too-short`, `outside-the-level`, `spacing-too-small`, `fitting-outside`, `fittings-meet`,
    `light-too-deep`, those of `covered`, `section-outside`, `obstacle-shows` and `part-meets-obstacle`.
    """
    planned = _planned(site, choices)
    if isinstance(planned, tuple):
        return None, planned
    gone = too_little(site, (piece.ends for piece in pieces(site, planned)), planned.run, _path(site))
    if gone:
        return None, gone
    path = _path(site)
    lights = fittings(site, choices, path)
    covers, misplaced = covered(site, closed(site, planned), inside_room(site, planned))
    cut = opened(openings(lights), covers)
    cut = replace(cut, bottom=(*cut.bottom, *chases_in(site, planned.across, planned.shape)))
    closing = tuple(part for one in covers for part in one.parts())
    parts = (*framing(site, planned, cut), *fitting_parts(site, planned, lights), *closing)
    wrong = (
        *misplaced,
        *fitting_problems(site, planned, lights),
        *clash_problems(
            site,
            [part for part in parts if part.role not in FITTINGS],
            lambda clash: _place_of(clash, path),
            lambda clash: _repair(site, clash, planned),
        ),
    )
    wrong = wrong or (
        *_showing(site, planned, path),
        *_left_beside(site, planned, _written(site, choices), path),
        *goes_on_under(site, planned.across, path),
        *goes_on_beside(site, planned.across, planned.shape, path),
    )
    if wrong:
        return None, wrong
    return _assembly(site, planned, (parts, faces(site, planned, cut)), lights)


def envelopes(site: Site, choices: HungSoffit) -> tuple[Envelope, ...]:
    """Return the room that the soffit fills, whatever interrupts it; none where it can't be built."""
    plan = _planned(site, choices)
    return () if isinstance(plan, tuple) else (room(site, plan),)


def _assembly(
    site: Site, plan: TwoSided, built: tuple[tuple[Part, ...], tuple[Face, ...]], lights: tuple[Fitting, ...]
) -> Worked:
    parts, surfaces = built
    found = overhead(site.hidden, plan.run)
    lowest = min(found, key=lambda row: (row[2].z, row[1][0]), default=None)
    target = sum(lowest[1]) / Fraction(2) if lowest is not None else sum(plan.run) / Fraction(2)
    run = piece_at(pieces(site, plan), target).run if site.file.record.section_at is None else plan.run
    section = station_for_section(site, target, run, parts)
    if isinstance(section, Problem):
        return None, (section,)
    points = anchors(site, plan, section)
    pick = chosen(site.file.record)
    assembly = Assembly(
        key=site.file.key,
        treatment="hung soffit",
        title=TITLE,
        frame=site.frame,
        run=plan.run,
        section_at=section,
        parts=parts,
        faces=surfaces,
        anchors=points,
        measures=measures(points),
        known=pick.known if pick is not None else site.file.record.known,
        place=site.place(*_path(site)),
        remarks=tuple(_remarks(site, plan, lights)),
    )
    return assembly, ()


def _path(site: Site) -> tuple[Step, ...]:
    pick = chosen(site.file.record)
    return pick.path if pick is not None else ()


def _planned(site: Site, choices: HungSoffit) -> TwoSided | tuple[Problem, ...]:
    path = _path(site)
    stock = timber(site, choices.ladder, (*path, "ladder"))
    if isinstance(stock, Problem):
        return (stock,)
    spacing = choices.rungs.inches if choices.rungs is not None else SPACING
    shape = Shape(stock, spacing, height_above_slab(choices.framing_bottom, site.level), site.level.joists)
    sides = _written(site, choices)
    others = [taken.room.finished for taken in shared(site, sides)]
    across = beside(sides, others)
    run = (choices.along.low.inches, choices.along.high.inches) if choices.along is not None else site.run
    met = ends(site, run, across)
    wrong = (
        *height_problems(site, shape, site.level.ceiling_board, (*path, "framing bottom")),
        *_width_problems(site, shape, across, (*path, "between")),
        *spacing_problems(site, shape, (*path, "rungs")),
        *run_problems(site, run, met.run(), (*path, "along") if choices.along is not None else ("run",)),
    )
    wide = across[1] - across[0] - 2 * stock.thick
    wrong = wrong or too_long(site, stock.stock, wide, "crossers", (*path, "ladder"))
    return wrong or TwoSided(shape, met, across, beside=tuple(others))


def _written(site: Site, choices: HungSoffit) -> Stretch:
    """Return the sides of the framing across the run as its record writes them."""
    frame, between = site.frame, choices.between
    low, high = sorted(frame.off * (edge.inches - frame.zero) for edge in (between.low, between.high))
    return low, high


def _width_problems(site: Site, shape: Shape, across: Stretch, path: tuple[Step, ...]) -> tuple[Problem, ...]:
    least = 2 * shape.timber.thick
    wide = across[1] - across[0]
    if wide > least:
        return ()
    rule = f"its two ladders alone take {site.tape.short(least)}"
    return (site.problem("soffit-too-narrow", path, site.tape.short(wide), rule, "write the sides further apart"),)


def _place_of(clash: Clash, path: tuple[Step, ...]) -> tuple[Step, ...]:
    if clash.part.role in {"top rail", "bottom rail", "rung", "nailer"}:
        return (*path, "between")
    if clash.part.role in {"end rail", "end upright"}:
        return (*path, "along")
    return (*path, "framing bottom")


def _room(clash: Clash) -> Box:
    room = clash.thing.solids[0].bounds()
    for solid in clash.thing.solids[1:]:
        room = room.joined(solid.bounds())
    return room.grown(clash.thing.clearance)


def _repair(site: Site, clash: Clash, plan: TwoSided) -> str:
    """Say what to choose instead, from the thing that is in the way."""
    room, size = _room(clash), plan.shape.timber
    if plan.beside and clash.part.role in {"top rail", "bottom rail", "rung", "nailer"}:
        return "it has moved over for what stands in its side: set the two further apart, or move it"
    if clash.part.role in {"top rail", "bottom rail", "rung", "nailer"}:
        near_low = clash.part.solid.bounds().low.y < (plan.across[0] + plan.across[1]) / 2
        edge = room.low.y - size.thick if near_low else room.high.y + size.thick
        words = "at most" if near_low else "at least"
        return f"write {words} {site.tape.short(edge)} for that side, or move it"
    if clash.part.role in {"end rail", "end upright"}:
        return "start or stop the soffit clear of it, or move it"
    return f"write at most {site.tape.short(room.low.z - size.thick)} above slab, or move it"


def _showing(site: Site, plan: TwoSided, path: tuple[Step, ...]) -> tuple[Problem, ...]:
    """Return an `obstacle-shows` Problem for each own thing that hangs below the framing or stands beside it."""
    found: dict[str, Problem] = {}
    seen = {*leaving(site.hidden, plan.across, plan.shape), *flush_boxes(site)}
    for thing, _, low, high in overhead(site.hidden, plan.run):
        if thing.key in seen:
            continue
        if low.z < plan.shape.bottom:
            rule = f"{thing.what} hangs {site.tape.short(plan.shape.bottom - low.z)} below it"
            repair = f"write at most {site.tape.short(low.z - plan.shape.timber.thick)} above slab"
            found.setdefault(thing.key, site.problem("obstacle-shows", (*path, "framing bottom"), "", rule, repair))
        elif low.z < plan.shape.top and (low.y < plan.across[0] or high.y > plan.across[1]):
            rule, repair = f"{thing.what} lies outside it", "write the sides further apart"
            found.setdefault(thing.key, site.problem("obstacle-shows", (*path, "between"), "", rule, repair))
    return tuple(found.values())


def _left_beside(site: Site, plan: TwoSided, written: Stretch, path: tuple[Step, ...]) -> tuple[Problem, ...]:
    """Return an `obstacle-shows` Problem for each own thing that a side has moved over past, and nothing else hides.

    It lay between the sides as *written*. Beside the other, and over its bottom, it lies in that.
    """
    found: dict[str, Problem] = {}
    for thing, stretch, low, high in overhead(site.hidden, plan.run):
        for way, bare in ((-1, (written[0], plan.across[0])), (1, (plan.across[1], written[1]))):
            if not overlap(bare, (low.y, high.y)) or low.y < written[0] or written[1] < high.y:
                continue
            top = min(high.z, plan.shape.top)
            hidden = [(box.low.x, box.high.x) for box in plan.against(way) if box.low.z <= low.z and top <= box.high.z]
            if any(left_of(stretch, hidden, Fraction(0))):
                others = [taken.what for taken in site.taken if taken.room.finished in plan.against(way)]
                rule = f"{thing.what} lies outside it, since that side has moved over for {' and '.join(others)}"
                repair = "write the two in one record, inside one soffit, or set their sides clear of each other"
                found.setdefault(thing.key, site.problem("obstacle-shows", (*path, "between"), "", rule, repair))
    return tuple(found.values())


def _remarks(site: Site, plan: TwoSided, lights: tuple[Fitting, ...]) -> Iterator[str]:
    found = overhead(site.hidden, plan.run)
    if found:
        lowest = min(found, key=lambda row: (row[2].z, row[1][0]))
        over = lowest[2].z - plan.shape.bottom - plan.shape.timber.thick
        what, height = lowest[0].what, site.tape.short(lowest[2].z)
        if over:
            yield site.say(
                "{what} hangs lowest, {height} above the slab, and leaves {gap} over the crossers.",
                what=what,
                height=height,
                gap=site.tape.short(over),
            )
        else:
            yield site.say(
                "{what} hangs lowest, {height} above the slab, and just touches the crossers.", what=what, height=height
            )
    yield from leaving_words(site, leaving(site.hidden, plan.across, plan.shape))
    yield from stop_words(site, plan.across, plan.shape.bottom)
    yield from sideways_words(site, plan.beside)
    for one in lights:
        if one.cavity is not None and one.deep is not None:
            at, deep = site.tape.long(sum(one.along) / Fraction(2)), site.tape.short(one.deep)
            yield site.say(
                "{what} at {at}: {deep} deep, with {cavity} from the face of the board up to what hangs over it.",
                what=one.what,
                at=at,
                deep=deep,
                cavity=site.tape.short(one.cavity),
            )

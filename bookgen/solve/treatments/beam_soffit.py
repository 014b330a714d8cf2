"""A beam soffit's choices and its site in, a ladder on each side of the beam, blocks, crossers and board out."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import Assembly, Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box, Prism
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.overhead import BeamSoffit
from bookgen.solve.choices import chosen
from bookgen.solve.clash import Clash
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch, stick
from bookgen.solve.neighbours import wrapped_posts
from bookgen.solve.parted import goes_on_under, stop_words, too_little
from bookgen.solve.site import Envelope, Site, Worked, height_above_slab
from bookgen.solve.soffit_holes import Hole
from bookgen.solve.soffit_words import (
    clash_problems,
    height_problems,
    run_problems,
    spacing_problems,
    station_for_section,
)
from bookgen.solve.soffits import SPACING, Shape, timber
from bookgen.solve.treatments.soffit_covers import covered, opened
from bookgen.solve.two_sided import (
    Openings,
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
    sides,
)
from bookgen.solve.walls_met import ends

TITLE = "Beam soffit"
BLOCK_EVERY = 3  # a block to the beam at every third rung: 48 in where rungs stand 16 in apart; common practice


@dataclass(frozen=True, slots=True)
class _Plan:
    """The two-sided soffit, the box round the beam, and the holes that wrapped posts make in the bottom."""

    soffit: TwoSided
    beam: Box
    posts: tuple[Rectangle, ...]
    path: tuple[Step, ...]


def solve(site: Site, choices: BeamSoffit) -> Worked:
    """Return the soffit, or the Problems that stand in its way.

    They are `beam-missing`, `unknown-stock`, `soffit-too-shallow`, `soffit-below-floor`, `soffit-too-narrow`,
    `soffit-too-short`, `outside-the-level`, `spacing-too-small`, those of `covered`, `section-outside`,
    `obstacle-shows` and `part-meets-obstacle`.
    """
    plan = _planned(site, choices)
    if isinstance(plan, tuple):
        return None, plan
    gone = too_little(site, (piece.ends for piece in pieces(site, plan.soffit)), plan.soffit.run, plan.path)
    if gone:
        return None, gone
    covers, misplaced = covered(site, closed(site, plan.soffit), inside_room(site, plan.soffit))
    cut = opened(Openings(bottom=tuple(Hole(post.u, post.v) for post in plan.posts)), covers)
    framed = framing(site, plan.soffit, cut)
    parts = (*framed, *_blocks(site, plan, framed), *(part for one in covers for part in one.parts()))
    wrong = misplaced or clash_problems(
        site, parts, lambda clash: _place_of(clash, plan), lambda clash: _repair(site, clash, plan)
    )
    wrong = wrong or (*_showing(site, plan), *goes_on_under(site, plan.soffit.across, plan.path))
    if wrong:
        return None, wrong
    run = plan.soffit.run
    piece = piece_at(pieces(site, plan.soffit), sum(run) / Fraction(2)).run
    target = sum(piece) / Fraction(2)
    section = station_for_section(site, target, run if site.file.record.section_at is not None else piece, parts)
    if isinstance(section, Problem):
        return None, (section,)
    points = anchors(site, plan.soffit, section)
    pick = chosen(site.file.record)
    assembly = Assembly(
        key=site.file.key,
        treatment="beam soffit",
        title=TITLE,
        frame=site.frame,
        run=run,
        section_at=section,
        parts=parts,
        faces=faces(site, plan.soffit, cut),
        anchors=points,
        measures=measures(points),
        known=pick.known if pick is not None else site.file.record.known,
        place=site.place(*plan.path),
        remarks=tuple(_remarks(site, plan)),
    )
    return assembly, ()


def envelopes(site: Site, choices: BeamSoffit) -> tuple[Envelope, ...]:
    """Return the room that the soffit fills, whatever interrupts it; none where it can't be built."""
    plan = _planned(site, choices)
    return () if isinstance(plan, tuple) else (room(site, plan.soffit),)


def _planned(site: Site, choices: BeamSoffit) -> _Plan | tuple[Problem, ...]:
    pick = chosen(site.file.record)
    path: tuple[Step, ...] = pick.path if pick is not None else ()
    stock = timber(site, choices.ladder, (*path, "ladder"))
    if isinstance(stock, Problem):
        return (stock,)
    run = (choices.along.low.inches, choices.along.high.inches) if choices.along is not None else site.run
    beam = _beam(site, run)
    if beam is None:
        rule, repair = "nothing inside runs along it from end to end", "write the beam inside, with its body and place"
        return (site.problem("beam-missing", path, "", rule, repair),)
    spacing = choices.rungs.inches if choices.rungs is not None else SPACING
    shape = Shape(stock, spacing, height_above_slab(choices.framing_bottom, site.level), site.level.joists)
    middle = (beam.low.y + beam.high.y) / 2
    half = choices.finished_width.inches / 2 - site.level.wall_board
    across = (middle - half, middle + half)
    met = ends(site, run, across)
    wrong = (
        *height_problems(site, shape, site.level.ceiling_board, (*path, "framing bottom")),
        *_width_problems(site, shape, half, beam, (*path, "finished width")),
        *spacing_problems(site, shape, (*path, "rungs")),
        *run_problems(site, run, met.run(), (*path, "along") if choices.along is not None else ("run",)),
    )
    if wrong:
        return wrong
    soffit = TwoSided(shape, met, across)
    posts = tuple(post for post in wrapped_posts(site) if post.meets(Rectangle(met.run(), across)))
    return _Plan(soffit, beam, posts, path)


def _beam(site: Site, run: Stretch) -> Box | None:
    """Return the box round what is inside and follows the run for more than half of it."""
    found: Box | None = None
    for thing in site.hidden:
        for solid in thing.solids:
            room = solid.bounds()
            covered = min(room.high.x, run[1]) - max(room.low.x, run[0])
            if isinstance(solid, Prism) and covered * 2 > run[1] - run[0]:
                found = room if found is None else found.joined(room)
    return found


def _width_problems(site: Site, shape: Shape, half: Fraction, beam: Box, path: tuple[Step, ...]) -> tuple[Problem, ...]:
    inside = beam.size("y") + 2 * shape.timber.thick
    least = inside + 2 * site.level.wall_board
    wide = 2 * half + 2 * site.level.wall_board
    if 2 * half >= inside:
        return ()
    rule = f"beam, two ladders and the board on them are {site.tape.short(least)} wide"
    repair = f"write at least {site.tape.short(least)}"
    return (site.problem("soffit-too-narrow", path, site.tape.short(wide), rule, repair),)


def _blocks(site: Site, plan: _Plan, framed: tuple[Part, ...]) -> tuple[Part, ...]:
    """Return the blocks that tie both ladders to the beam, at every third rung and at the last.

    A block reaches from the ladder to whatever of the beam stands level with it: the web of a steel one.
    """
    shape, inside = plan.soffit.shape, plan.soffit.inside()
    low, high = shape.rungs()
    half = shape.timber.wide / 2
    up = ((low + high) / 2 - half, (low + high) / 2 + half)
    level_with = [
        room
        for thing in site.hidden
        for solid in thing.solids
        if (room := solid.bounds()).low.z < up[1] and up[0] < room.high.z
    ]
    parts: list[Part] = []
    for name, way in zip(sides(site), (-1, 1), strict=True):
        rungs = [part.solid.bounds() for part in framed if part.role == "rung" and f"{name} rung" in part.name]
        for number, rung in enumerate(_every(rungs), 1):
            beside = [r for r in level_with if r.low.x <= rung.low.x and rung.high.x <= r.high.x]
            if not beside:
                continue
            reach = (inside[0], min(r.low.y for r in beside)) if way < 0 else (max(r.high.y for r in beside), inside[1])
            if reach[0] < reach[1]:
                label, corner = f"{name} block {number}", (rung.low.x, up[0])
                parts.append(stick(label, "block", shape.timber.stock, "y", reach, corner, "x", Material.BLOCKING))
    return tuple(parts)


def _every(rungs: list[Box]) -> list[Box]:
    """Return every third rung, and the last."""
    picked = rungs[::BLOCK_EVERY]
    return picked if not rungs or picked[-1] is rungs[-1] else [*picked, rungs[-1]]


def _place_of(clash: Clash, plan: _Plan) -> tuple[Step, ...]:
    if clash.part.role in {"top rail", "bottom rail", "rung", "nailer", "block"}:
        return (*plan.path, "finished width")
    return (*plan.path, "framing bottom")


def _repair(site: Site, clash: Clash, plan: _Plan) -> str:
    """Say what to choose instead, from the thing that is in the way."""
    rooms = [solid.bounds().grown(clash.thing.clearance) for solid in clash.thing.solids]
    size, middle = plan.soffit.shape.timber, (plan.beam.low.y + plan.beam.high.y) / 2
    if clash.part.role in {"top rail", "bottom rail", "rung", "nailer", "block"}:
        reach = max(max(abs(room.low.y - middle), abs(room.high.y - middle)) for room in rooms)
        return f"write at least {site.tape.short(2 * (reach + size.thick))} and two boards, or move it"
    return f"write at most {site.tape.short(min(room.low.z for room in rooms) - size.thick)} above slab"


def _showing(site: Site, plan: _Plan) -> tuple[Problem, ...]:
    """Return an `obstacle-shows` Problem where the beam hangs below the framing."""
    under, bottom = plan.beam.low.z, plan.soffit.shape.bottom
    if under >= bottom:
        return ()
    rule = f"the beam hangs {site.tape.short(bottom - under)} below it"
    repair = f"write at most {site.tape.short(under - plan.soffit.shape.timber.thick)} above slab"
    return (site.problem("obstacle-shows", (*plan.path, "framing bottom"), "", rule, repair),)


def _remarks(site: Site, plan: _Plan) -> Iterator[str]:
    shape, inside = plan.soffit.shape, plan.soffit.inside()
    yield site.say(
        "The framing's underside is {gap} below the beam, so that the board passes under it.",
        gap=site.tape.short(plan.beam.low.z - shape.bottom),
    )
    yield site.say(
        "Each ladder stands {gap} clear of the beam; blocks reach from it to the beam and hold it straight. "
        "The beam itself, steel or wood, is not cut, notched, drilled or welded.",
        gap=site.tape.short(plan.beam.low.y - inside[0]),
    )
    yield from stop_words(site, plan.soffit.across, shape.bottom)
    if plan.posts:
        yield site.say("The bottom board is cut round the wrapped posts, with a crosser at both sides of each.")

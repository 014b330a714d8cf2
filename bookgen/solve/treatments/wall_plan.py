"""A wall soffit's choices and its site in, its line, heights, ends and pieces out, or what can't be built of them."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import ceil, floor

from bookgen.model.frozen import dataclass
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.overhead import WallSoffit, WallStep
from bookgen.solve.choices import chosen
from bookgen.solve.framing import Stretch
from bookgen.solve.lengths import too_long
from bookgen.solve.parted import soffit_room, too_little
from bookgen.solve.site import Envelope, Site, height_above_slab, off_the_block
from bookgen.solve.soffit_words import height_problems, overhead, run_problems, spacing_problems
from bookgen.solve.soffits import SPACING, Shape, Timber, timber
from bookgen.solve.treatments.wall_line import MARGIN, MARKS, Bay, Least, needs, steps
from bookgen.solve.treatments.wall_pieces import Piece, pieces
from bookgen.solve.walls_met import Ends, ends, stud_face


@dataclass(frozen=True, slots=True)
class Plan:
    """The soffit before it is framed: its pieces, its ends, the shape of its lowest piece; *path* leads to its choices.

    *other* are the pieces that the other line would have: steps instead of straight, straight instead of steps.
    """

    pieces: tuple[Piece, ...]
    ends: Ends
    shape: Shape
    path: tuple[Step, ...]
    straight: bool
    other: tuple[Piece, ...]

    def outside(self) -> Fraction:
        """Return the furthest outer face of the framing off the block."""
        return max(piece.outside for piece in self.pieces)


def planned(site: Site, choices: WallSoffit) -> Plan | tuple[Problem, ...]:
    """Return the plan, or the Problems of its choices."""
    pick = chosen(site.file.record)
    path: tuple[Step, ...] = pick.path if pick is not None else ()
    if site.frame.name in {"east", "north"}:
        rule, repair = "its run goes along no wall", "write run: {along: north wall, ...}, or use a hung soffit"
        return (site.problem("soffit-needs-wall", path, "", rule, repair),)
    stock = timber(site, choices.ladder, (*path, "ladder"))
    if isinstance(stock, Problem):
        return (stock,)
    run = _run(site, choices)
    outside, bottom = _outside(site, choices, stock, run), _bottom(site, choices, stock, run)
    if outside is None or bottom is None:
        rule = "nothing that is hidden here says how far out and how low it has to come"
        repair = "write outside and framing bottom, or what is inside"
        return (site.problem("soffit-size-missing", path, "", rule, repair),)
    spacing = choices.rungs.inches if choices.rungs is not None else SPACING
    shape = Shape(stock, spacing, bottom, site.level.joists)
    return _built(site, choices, shape, outside, path)


def envelopes(site: Site, choices: WallSoffit) -> tuple[Envelope, ...]:
    """Return the room of each straight stretch, whatever interrupts it; none where it can't be built."""
    stock, run = timber(site, choices.ladder, ()), _run(site, choices)
    if isinstance(stock, Problem) or not site.on_wall():
        return ()
    outside, bottom = _outside(site, choices, stock, run), _bottom(site, choices, stock, run)
    if outside is None or bottom is None:
        return ()
    face, shape = stud_face(site), Shape(stock, SPACING, bottom, site.level.joists)
    met = ends(site, run, (face, outside))
    bays: tuple[Bay, ...] = (Bay(*met.run(), outside, bottom),)
    if choices.line != "straight" and met.low < met.high:
        bays = _stepped(site, choices, shape, outside, met.run())
    found = []
    for bay in bays:
        first, last = bay is bays[0], bay is bays[-1]
        own = Ends(
            met.low if first else bay.low,
            met.high if last else bay.high,
            met.low_meets if first else True,
            met.high_meets if last else True,
        )
        found.append(
            soffit_room(site, own, (face, bay.outside), (face, bay.outside + site.level.wall_board), bay.bottom)
        )
    return tuple(found)


def _built(
    site: Site, choices: WallSoffit, shape: Shape, outside: Fraction, path: tuple[Step, ...]
) -> Plan | tuple[Problem, ...]:
    run, face, size = _run(site, choices), stud_face(site), shape.timber
    met = ends(site, run, (face, outside))
    where = (*path, "along") if choices.along is not None else ("run",)
    wrong = (
        *height_problems(site, shape, site.level.ceiling_board, (*path, "framing bottom")),
        *_width_problems(site, shape, outside, (*path, "outside")),
        *spacing_problems(site, shape, (*path, "rungs")),
        *run_problems(site, run, met.run(), where),
        *_step_problems(site, choices, shape, path),
    )
    wrong = wrong or too_long(site, size.stock, outside - face - 2 * size.thick, "crossers", (*path, "ladder"))
    if wrong:
        return wrong
    whole = (Bay(*run, outside, shape.bottom),)
    stepped = _stepped(site, choices, shape, outside, met.run())
    chosen_bays, others = (whole, stepped) if choices.line == "straight" else (stepped, whole)
    lowest = Shape(size, shape.spacing, min(bay.bottom for bay in chosen_bays), shape.top)
    built, other = (pieces(site, met, bays, shape) for bays in (chosen_bays, others))
    wrong = too_little(site, (piece.ends for piece in built), met.run(), where)
    if wrong:
        return wrong
    return Plan(built, met, lowest, path, choices.line == "straight", other)


def _run(site: Site, choices: WallSoffit) -> Stretch:
    if choices.along is not None:
        return choices.along.low.inches, choices.along.high.inches
    if choices.steps:
        return choices.steps[0].along.low.inches, choices.steps[-1].along.high.inches
    return site.run


def _outside(site: Site, choices: WallSoffit, stock: Timber, run: Stretch) -> Fraction | None:
    """Return the outer face of the framing off the block; left out, the furthest step or thing sets it."""
    if choices.outside is not None:
        return off_the_block(choices.outside, site.level)
    if choices.steps:
        return max(off_the_block(step.outside, site.level) for step in choices.steps)
    reach = [high.y for _, _, _, high in overhead(site.hidden, run)]
    return Fraction(ceil((max(reach) + MARGIN + stock.thick) * MARKS), MARKS) if reach else None


def _bottom(site: Site, choices: WallSoffit, stock: Timber, run: Stretch) -> Fraction | None:
    """Return the underside of the framing above the slab; left out, the lowest step or thing sets it."""
    if choices.framing_bottom is not None:
        return height_above_slab(choices.framing_bottom, site.level)
    said = [height_above_slab(step.framing_bottom, site.level) for step in choices.steps if step.framing_bottom]
    if said:
        return min(said)
    lowest = [low.z for _, _, low, _ in overhead(site.hidden, run)]
    return Fraction(floor((min(lowest) - MARGIN - stock.wide) * MARKS), MARKS) if lowest else None


def _stepped(site: Site, choices: WallSoffit, shape: Shape, outside: Fraction, run: Stretch) -> tuple[Bay, ...]:
    """Return the steps: those of the record, else those worked out; the furthest and the lowest as the record says."""
    if choices.steps:
        return tuple(_recorded(site, step, shape) for step in choices.steps)
    size = shape.timber
    least = Least(stud_face(site) + 4 * size.thick, shape.top - 3 * size.wide)
    bays = needs(site.hidden, run, size, least)
    deep = choices.line == "straight" or choices.bottom == "steps"
    found = steps(bays, shape.top, bottom=deep)
    furthest, lowest = max(bay.outside for bay in found), min(bay.bottom for bay in found)
    return tuple(
        Bay(
            bay.low,
            bay.high,
            outside if bay.outside == furthest else min(bay.outside, outside),
            shape.bottom if bay.bottom == lowest else max(bay.bottom, shape.bottom),
        )
        for bay in found
    )


def _recorded(site: Site, step: WallStep, shape: Shape) -> Bay:
    bottom = shape.bottom if step.framing_bottom is None else height_above_slab(step.framing_bottom, site.level)
    return Bay(step.along.low.inches, step.along.high.inches, off_the_block(step.outside, site.level), bottom)


def _step_problems(site: Site, choices: WallSoffit, shape: Shape, path: tuple[Step, ...]) -> tuple[Problem, ...]:
    """Return Problems of the steps that a record says: `steps-not-joined`, and those of each step's sizes."""
    problems: list[Problem] = []
    tape = site.tape
    for number, (one, after) in enumerate(pairwise(choices.steps), 1):
        if one.along.high != after.along.low:
            rule = f"the step before it ends at {tape.long(one.along.high)}"
            value, repair = tape.long(after.along.low), f"start it at {tape.long(one.along.high)}"
            problems.append(site.problem("steps-not-joined", (*path, "steps", number, "along"), value, rule, repair))
    run = _run(site, choices)
    if choices.steps and run != (choices.steps[0].along.low.inches, choices.steps[-1].along.high.inches):
        rule = f"its steps go from {tape.long(choices.steps[0].along.low)} to {tape.long(choices.steps[-1].along.high)}"
        value = f"{tape.long(run[0])} to {tape.long(run[1])}"
        problems.append(site.problem("steps-not-joined", (*path, "along"), value, rule, "leave it out"))
    for number, step in enumerate(choices.steps):
        bay, where = _recorded(site, step, shape), (*path, "steps", number)
        own = Shape(shape.timber, shape.spacing, bay.bottom, shape.top)
        problems += _width_problems(site, own, bay.outside, (*where, "outside"))
        problems += height_problems(site, own, site.level.ceiling_board, (*where, "framing bottom"))
    return tuple(problems)


def _width_problems(site: Site, shape: Shape, outside: Fraction, path: tuple[Step, ...]) -> tuple[Problem, ...]:
    least = stud_face(site) + 2 * shape.timber.thick
    if outside > least:
        return ()
    rule = f"cleat and ladder need {site.tape.short(least)} off the block, and something has to fit between"
    repair = f"write more than {site.tape.short(least)}"
    return (site.problem("soffit-too-narrow", path, site.tape.short(outside), rule, repair),)

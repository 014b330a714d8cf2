"""An access opening in a ceiling in; its frame between the joists, or flat beside strips, its cover and sizes out."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import Face, Material, Part
from bookgen.model.geometry import Axis, Box, Point, box
from bookgen.model.problem import Problem
from bookgen.model.records.treatments import AccessOpening
from bookgen.solve.board import rectangle
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.neighbours import ceiling_over
from bookgen.solve.site import Site, Worked
from bookgen.solve.soffit_words import clash_problems, sizes
from bookgen.solve.studwork import overlap
from bookgen.solve.treatments.assembled import Work, assembled, middle, path_to
from bookgen.solve.treatments.cover_in_face import cover_parts
from bookgen.solve.treatments.opening_size import NAME, SIZES, cover_of, opening_stretches, size_remarks

BLOCK = "2x4"  # laid flat; common practice


def in_ceiling(site: Site, choices: AccessOpening, spans: dict[Axis, Stretch]) -> Worked:
    """Return an opening in a ceiling: in one of board on the joists its blocks go from joist to joist.

    *spans* are its place in the run's frame. Problems are those of `opening_stretches`, `opening-cuts-joist`,
    `part-meets-obstacle` and `section-outside`.
    """
    patch = opening_stretches(site, choices, (spans["x"], spans["y"]))
    if not isinstance(patch, Rectangle):
        return None, patch
    top, board = site.level.joists, site.level.ceiling_board
    face = ceiling_over(site, Point(middle(patch.u), middle(patch.v), top)) or top - board
    back = face + board
    blocks = _between_joists(site, patch) if back >= top else _ring(patch, back)
    if isinstance(blocks, Problem):
        return None, (blocks,)
    parts = (*blocks, *cover_parts(cover_of(site, patch), "z", face, -1, board, fills=True))
    problems = clash_problems(
        site, parts, lambda _: path_to(site, "at"), lambda _: "move the opening, or what is in its way"
    )
    if problems:
        return None, problems
    x, y = patch.u, patch.v
    anchors = {
        "low edge of the opening": Point(x[0], middle(y), face),
        "high edge of the opening": Point(x[1], middle(y), face),
        "near edge of the opening": Point(middle(x), y[0], face),
        "far edge of the opening": Point(middle(x), y[1], face),
        "finished floor": Point(middle(x), middle(y), site.level.floor),
        "finished ceiling": Point(middle(x), middle(y), face),
    }
    seen = Face("cover in the ceiling", "z", face, -1, rectangle("z", x=x, y=y), site.file.record.room)
    work = Work(parts, (seen,), anchors, sizes(anchors, SIZES), middle(x), size_remarks(site, choices))
    return assembled(site, NAME, work)


def _ring(patch: Rectangle, back: Fraction) -> tuple[Part, ...]:
    """Return four flat blocks round an opening, at the height of the strips beside it."""
    thick, wide = _block_size()
    x, y, up = patch.u, patch.v, (back, back + thick)
    rows: tuple[tuple[str, Stretch, Stretch, Axis], ...] = (
        ("low", (x[0] - wide, x[0]), (y[0] - wide, y[1] + wide), "y"),
        ("high", (x[1], x[1] + wide), (y[0] - wide, y[1] + wide), "y"),
        ("near", x, (y[0] - wide, y[0]), "x"),
        ("far", x, (y[1], y[1] + wide), "x"),
    )
    return tuple(_block(f"{name} block", u, v, up, grain) for name, u, v, grain in rows)


def _between_joists(site: Site, patch: Rectangle) -> tuple[Part, ...] | Problem:
    """Return blocks from joist to joist at both ends of an opening, and one along each side that has room for it."""
    joists = [site.frame.solid_from_level(p.solid).bounds() for p in site.level.shell if p.role == "joist"]
    along: Axis = "y" if joists and joists[0].size("y") > joists[0].size("x") else "x"
    across: Axis = "x" if along == "y" else "y"
    hole: dict[Axis, Stretch] = {"x": patch.u, "y": patch.v}
    cut = next((j for j in joists if overlap((j.low.on(across), j.high.on(across)), hole[across])), None)
    if cut is not None:
        at = site.tape.short((cut.low.on(across) + cut.high.on(across)) / 2)
        rule, repair = f"it would cut the joist at {at}", "move it between two joists; never cut one for a cover"
        return site.problem("opening-cuts-joist", path_to(site, "at"), "", rule, repair)
    bay = _bay(joists, across, hole[across])
    return tuple(_in_bay(site, (along, across), bay, hole))


def _bay(joists: list[Box], across: Axis, hole: Stretch) -> Stretch:
    """Return the faces of the joists at both sides of an opening; of one that has none, the opening's own edge."""
    before = [j.high.on(across) for j in joists if j.high.on(across) <= hole[0]]
    after = [j.low.on(across) for j in joists if j.low.on(across) >= hole[1]]
    return max(before, default=hole[0]), min(after, default=hole[1])


def _in_bay(site: Site, axes: tuple[Axis, Axis], bay: Stretch, hole: dict[Axis, Stretch]) -> Iterator[Part]:
    (along, across), (thick, wide) = axes, _block_size()
    up = site.level.joists, site.level.joists + thick
    low, high = hole[along]
    for name, span in (("near", (low - wide, low)), ("far", (high, high + wide))):
        yield _turned(f"{name} block", {across: bay, along: span}, up, across)
    for name, span in (
        ("low", (hole[across][0] - wide, hole[across][0])),
        ("high", (hole[across][1], hole[across][1] + wide)),
    ):
        if bay[0] <= span[0] and span[1] <= bay[1]:
            yield _turned(f"{name} block", {across: span, along: (low, high)}, up, along)


def _turned(name: str, spans: dict[Axis, Stretch], up: Stretch, grain: Axis) -> Part:
    return _block(name, spans["x"], spans["y"], up, grain)


def _block(name: str, x: Stretch, y: Stretch, z: Stretch, grain: Axis) -> Part:
    return Part(name, "block", box(x, y, z, grain), Material.BLOCKING, BLOCK)


def _block_size() -> tuple[Fraction, Fraction]:
    return true_size(BLOCK) or (Fraction(0), Fraction(0))

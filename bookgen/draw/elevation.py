"""One treatment in; its framing elevation as a Sketch out: without its board, with what it hides dashed."""

from __future__ import annotations

from bookgen.draw.dimensions import chosen_sizes, in_rows
from bookgen.draw.eye import Eye, ceiling_eye, elevation_eye
from bookgen.draw.outlines import Rect, rect_round
from bookgen.draw.paper import Paper, largest_scale
from bookgen.draw.pieces import Band
from bookgen.draw.scene import Origin, Thing, box_to_level, in_frame_of, own_box
from bookgen.draw.sheet import Layout, Scenery, dimensioned, drawn_sheet, fits
from bookgen.draw.stations import Cut
from bookgen.draw.titles import Topic, elevation_words
from bookgen.model.assembly import Assembly, Material
from bookgen.model.exact import Fraction
from bookgen.model.geometry import Box, Point, box
from bookgen.model.sketch import Sketch, View
from bookgen.model.solved import Solved, SolvedObstacle

ROUND = Fraction(5)  # inches shown round the work
LONG = Fraction(120)  # inches of a run that a sheet shows: of a longer one the stretch round its governing station
_OVERHEAD = frozenset({"furring"})


def elevation(topic: Topic, cuts: tuple[Cut, ...], scene: tuple[Thing, ...]) -> Sketch:
    """Return the framing of a treatment as somebody in the room sees it; that of a ceiling as seen from below."""
    obstacle, assembly = topic.obstacle, topic.assembly
    own = own_box(obstacle, assembly)
    wanted = [thing for thing in scene if _belongs(thing, obstacle)]
    if assembly.treatment in _OVERHEAD:
        own = box_to_level(own, assembly)
        eye, things = ceiling_eye(own.low.z - 1), tuple(wanted)
    else:
        eye = elevation_eye(assembly.frame, own.high.y + 1)
        things = in_frame_of(wanted, box_to_level(own.grown(ROUND), assembly), assembly)
    work = rect_round(eye.seen(box((own.low.x, own.high.x), (own.low.y, own.high.y), (own.low.z, own.high.z), "x")))
    window, sizes = _shown(topic, eye, own, work), chosen_sizes(topic, eye)

    def at_scale(paper: Paper) -> Layout:
        bands = (Band(window),)
        edge = {"u": float(window.bottom), "v": float(min(work.right, window.right))}
        shown = (one for one in dimensioned(sizes, bands, paper) if one.lies_in(window))
        return Layout(paper, bands, edge, in_rows(shown, paper))

    paper = largest_scale(topic.units(), lambda p: fits(at_scale(p)), topic.tongue())
    drawn = drawn_sheet(
        Scenery(topic, eye, things, work, cuts),
        at_scale(paper),
        lambda seen, p: elevation_words(topic, eye, seen, p),
    )
    return drawn.sketch(f"{obstacle.key}-elevation", View.ELEVATION, paper, further=True)


def _shown(topic: Topic, eye: Eye, own: Box, work: Rect) -> Rect:
    """Return the window: of a long run the stretch round its governing station."""
    assembly = topic.assembly
    window = _window(topic.solved, topic.obstacle, assembly, work)
    if assembly.treatment in _OVERHEAD or work.right - work.left <= LONG:
        return window
    middle = eye.spot(Point(assembly.section_at, own.low.y, own.low.z))[0]
    left = min(max(work.left, middle - LONG / 2), work.right - LONG)
    ends = (window.left if left == work.left else left, window.right if left + LONG == work.right else left + LONG)
    return window._replace(left=ends[0], right=ends[1])


def _window(solved: Solved, obstacle: SolvedObstacle, assembly: Assembly, work: Rect) -> Rect:
    """Return the work with a margin; down to the floor and up past what it hides where that is near."""
    window = Rect(work.left - ROUND, work.bottom - ROUND, work.right + ROUND, work.top + ROUND)
    if assembly.treatment in _OVERHEAD:
        return window
    overhead = [solid.bounds().high.z for thing in obstacle.hidden for solid in thing.solids]
    if overhead and max(overhead) <= solved.level.joists + solved.level.joist_depth:
        window = window._replace(top=max(window.top, max(overhead) + 2))
    if work.bottom <= ROUND + solved.level.floor:
        window = window._replace(bottom=min(work.bottom, Fraction(0)) - 2)
    return window


def _belongs(thing: Thing, obstacle: SolvedObstacle) -> bool:
    """Tell whether a thing is shown: the treatment's own framing, what it hides, the floor that it stands on."""
    if thing.origin is Origin.SHELL:
        return thing.role in ("slab", "finished floor")
    return thing.owner == obstacle.key and thing.material is not Material.BOARD

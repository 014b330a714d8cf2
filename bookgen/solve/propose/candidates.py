"""The site of an obstacle in, the choices to try of each treatment out, or the reason why there is nothing to try.

The choices are written as a person would write them in the record: rounded to half an inch on the safe side, each
height and offset with its datum. Where a treatment can work a size out by itself it is left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import reduce
from math import ceil, floor

from bookgen.model.geometry import Box
from bookgen.model.records.overhead import BeamSoffit
from bookgen.solve.choices import chosen
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.site import Site, height_above_slab

Value = str | Mapping[str, "Value"] | tuple["Value", ...]
STEP = Fraction(1, 2)  # inches that sizes are rounded to; a tape shows it at a glance
THICK = Fraction(3, 2)  # inches of a 2x2, 2x4 or 2x6 the thin way: true size
BOARD = Fraction(1, 2)  # inches
FREE = Fraction(1, 2)  # inches left free between framing and what it hides
OVERHEAD = Fraction(60)  # inches above the slab: what hangs wholly over this is overhead
UPRIGHT = Fraction(48)  # inches: what stands this high is treated as something upright
AGAINST = Fraction(14)  # inches off the block: further out a chase stands free
STAND = Fraction(36)  # inches of depth before a panel: NEC 110.26(A), from memory; the checks look at it again
WALL = Fraction(7, 2)  # inches of a 2x4 the wide way
LEAF = Fraction(32)  # inches: width of a closet's door
DOORWAY = LEAF + 2  # inches of rough opening for that leaf, common practice
HEAD = Fraction(82)  # inches: rough opening of a leaf 80 in high, common practice
FLATS = ("2x4", "2x6", "2x8")
SPACINGS = ("16 in", "24 in")


@dataclass(frozen=True, slots=True)
class Candidate:
    """One treatment with the choices to try; *why* says why there is nothing to try, and is "" where there is."""

    treatment: str
    form: str
    choices: Mapping[str, Value]
    why: str = ""


def candidates(site: Site) -> tuple[Candidate, ...]:
    """Return what to try, treatment by treatment in the order of the records' own list."""
    whole = _hanging(site)
    if whole is None:
        return (Candidate("any treatment", "", {}, "nothing is written under inside:, so there is nothing to hide"),)
    makers = (_wall_soffits, _hung_soffit, _beam_soffit, _furring, _post_wraps, _chases, _closet)
    return (*(one for make in makers for one in make(site, whole)), *_others(site))


def _hanging(site: Site) -> Box | None:
    """Return the box round all that is to be hidden, with its clearance; what lies between the joists is left out."""
    boxes = [
        box.grown(thing.clearance)
        for thing in site.hidden
        for box in (solid.bounds() for solid in thing.solids)
        if box.low.z < site.level.joists
    ]
    return reduce(Box.joined, boxes) if boxes else None


def _in_room(site: Site) -> Mapping[str, Value]:
    """Return where a soffit starts and ends where its run goes past its own room; nothing where it does not."""
    room = site.project.record.rooms.get(site.file.record.room)
    if room is None:
        return {}
    row = [corner[0 if site.frame.along == "x" else 1].inches for corner in room.outline]
    low, high = min(row) - site.level.wall_board, max(row) + site.level.wall_board
    if low <= site.run[0] and site.run[1] <= high:
        return {}
    return {"along": _span((max(low, site.run[0]), min(high, site.run[1])))}


def _wall_soffits(site: Site, whole: Box) -> Iterator[Candidate]:
    why = _not_overhead(whole)
    if not site.on_wall():
        why = "its run goes along no wall"
    yield Candidate("wall soffit", "" if why else "in one straight line", {"line": "straight", **_in_room(site)}, why)
    if not why:
        yield Candidate("wall soffit", "in steps", {"line": "steps", **_in_room(site)})


def _hung_soffit(site: Site, whole: Box) -> Iterator[Candidate]:
    why = _not_overhead(whole)
    across = (_down(whole.low.y - THICK - FREE), _up(whole.high.y + THICK + FREE))
    if site.on_wall() and across[0] < site.level.wall_face + BOARD:
        why = why or "it hangs so near the wall that no ladder fits on that side"
    bottom = _above(_down(whole.low.z - THICK))
    choices = {"between": _span(_level(site, across)), "framing bottom": bottom, **_in_room(site)}
    yield Candidate("hung soffit", "", choices, why)


def _beam_soffit(site: Site, whole: Box) -> Iterator[Candidate]:
    why = _not_overhead(whole) if site.file.record.kind == "beam" else "it is no beam"
    wide = whole.size("y") + 2 * (THICK + BOARD + 3 * FREE)
    bottom = _above(_down(whole.low.z - THICK))
    choices = {"framing bottom": bottom, "finished width": _inches(_up(wide)), **_in_room(site)}
    yield Candidate("beam soffit", "", choices, why)


def _furring(site: Site, whole: Box) -> Iterator[Candidate]:
    why = _not_overhead(whole)
    room = site.project.record.rooms.get(site.file.record.room)
    if room is None or len(room.outline) != 4:
        why = why or "the room is not four-cornered: write an area for each rectangle of it"
    if why or room is None:
        yield Candidate("furring", "", {}, why)
        return
    board = site.level.wall_board
    rows = ([corner[axis].inches for corner in room.outline] for axis in (0, 1))
    east, north = (_span((min(row) - board, max(row) + board)) for row in rows)
    runs, along, across = ("east", east, north)
    if site.project.record.level.joists.run == "east":
        runs, along, across = ("north", north, east)
    area = {"room": site.file.record.room, "along": along, "across": across}
    for spacing in SPACINGS:
        choices: Mapping[str, Value] = {"runs": runs, "spacing": spacing, "areas": (area,)}
        yield Candidate("furring", f"strips {spacing} apart", choices)


def _post_wraps(site: Site, whole: Box) -> Iterator[Candidate]:
    why = _not_upright(whole)
    if not any(thing.system == "structure" for thing in site.hidden):
        why = why or "there is no post in it"
    top = _above(min(_beam_bottom(site, whole), whole.high.z))
    for stock in FLATS if not why else FLATS[:1]:
        wide = (true_size(stock) or (THICK, THICK))[1] + THICK + 2 * BOARD  # each flat covers the edge of the next
        choices = {"form": "flats", "flats": stock, "finished": _inches(wide), "top": top}
        yield Candidate("post wrap", f"flats of {stock}" if not why else "", choices, why)
    if not why:
        framed = _inches(_up(max(whole.size("x"), whole.size("y")) + 2 * (THICK + BOARD + FREE)))
        yield Candidate("post wrap", "four-sided", {"form": "four-sided", "finished": framed, "top": top})


def _chases(site: Site, whole: Box) -> Iterator[Candidate]:
    why = _not_upright(whole)
    middle = (whole.low.x + whole.high.x) / 2
    covers = [p.cover.size.wide.inches for p in site.file.record.access if p.cover.size is not None]
    half = max([whole.size("x") / 2 + FREE, *(wide / 2 for wide in covers)]) + THICK
    low, high = _down(middle - half), _up(middle + half)
    length = site.level.east_west if site.frame.along == "x" else site.level.north_south
    if not site.on_wall():
        why = why or "its run goes along no wall: let it run along the wall that it stands at"
    yield Candidate("chase", "on the wall" if not why else "", {"form": "wall", "along": _span((low, high))}, why)
    if why:
        return
    if low < AGAINST or length - high < AGAINST:
        yield Candidate("chase", "in the corner", {"form": "corner", "along": _span((low, high))})
    if whole.low.y >= AGAINST:
        yield Candidate("chase", "standing free", {"form": "free", "along": _span((low, high))})


def _closet(site: Site, whole: Box) -> Iterator[Candidate]:
    why = "" if site.on_wall() else "its run goes along no wall"
    if whole.low.z > OVERHEAD:
        why = why or "it hangs overhead; nobody builds a closet for that"
    middle = (whole.low.x + whole.high.x) / 2
    half = max(whole.size("x") / 2 + 3, DOORWAY / 2 + 3)
    inside = (_down(middle - half), _up(middle + half))
    head = min(HEAD, _down(site.level.joists - 2 * THICK - Fraction(6)))
    doorway = _down(middle - DOORWAY / 2)
    door: Mapping[str, Value] = {
        "leaf": f"{LEAF} x {_number(head - 2)} in",
        "rough opening": _span((doorway, doorway + DOORWAY)),
        "head": _above(head),
        "hinges": "west" if site.frame.along == "x" else "south",
        "swings": "out",
    }
    choices: Mapping[str, Value] = {
        "along": _span((inside[0] - WALL - 2 * BOARD, inside[1] + WALL + 2 * BOARD)),
        "inside": _span(inside),
        "deep": f"{_number(_up(whole.high.y + STAND))} in off the block",
        "framing": "2x4",
        "door": door,
    }
    yield Candidate("closet", "", choices, why)


def _others(site: Site) -> Iterator[Candidate]:
    """Say of the treatments that need something only a person can name why they are not tried."""
    kind = site.file.record.kind
    room = "its doors stand in a partition: write utility room: with the wall's key and the largest thing in it"
    yield Candidate("utility room", "", {}, room if kind == "appliance" else "it is for appliances")
    stair = "measure the stair and write its sizes" if kind == "stair" else "it is for a closed stair"
    yield Candidate("stair opening", "", {}, stair)
    opening = "it closes one place, not a run: write it for the place that somebody has to reach into"
    yield Candidate("access opening", "", {}, opening)


def _not_overhead(whole: Box) -> str:
    return "" if whole.low.z >= OVERHEAD else "it does not hang overhead: it comes down to the floor"


def _not_upright(whole: Box) -> str:
    return "" if whole.size("z") >= UPRIGHT else "it does not stand upright from floor to ceiling"


def _beam_bottom(site: Site, whole: Box) -> Fraction:
    """Return the underside of a beam soffit's framing over the obstacle, else the joists."""
    for file in site.project.obstacles:
        pick = chosen(file.record)
        if pick is None or not isinstance(pick.choices, BeamSoffit):
            continue
        own = (thing for thing in site.others if thing.key.rpartition("-")[0] == file.key)
        over = (solid.bounds() for thing in own for solid in thing.solids)
        if any(box.low.x < whole.high.x and whole.low.x < box.high.x for box in over):
            return height_above_slab(pick.choices.framing_bottom, site.level)
    return site.level.joists


def _level(site: Site, across: Stretch) -> Stretch:
    """Return a stretch off the run as plan positions on the level."""
    ends = sorted(site.frame.zero + site.frame.off * value for value in across)
    return ends[0], ends[1]


def _down(value: Fraction) -> Fraction:
    return floor(value / STEP) * STEP


def _up(value: Fraction) -> Fraction:
    return ceil(value / STEP) * STEP


def _number(value: Fraction) -> str:
    """Return a number as records write it: 7, 7.5; one that no short decimal holds as a fraction: 7 1/3."""
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    if not (rest * 10_000) % 1:
        return f"{whole}{float(rest):.4f}".replace(f"{whole}0.", f"{whole}.").rstrip("0")
    return f"{whole} {rest}" if whole else str(rest)


def _inches(value: Fraction) -> str:
    return f"{_number(value)} in"


def _span(stretch: Stretch) -> str:
    return f"{_number(stretch[0])} in to {_number(stretch[1])} in"


def _above(height: Fraction) -> str:
    return f"{_number(height)} in above slab"

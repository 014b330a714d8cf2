"""The site of an obstacle in, the choices to try of each treatment out, or the reason why there is nothing to try.

The choices are written as a person would write them in the record: rounded to half an inch or ten millimeters on the
safe side, each height and offset with its datum. Where a treatment can work a size out by itself it is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from functools import partial, reduce

from bookgen.model.assembly import Assembly
from bookgen.model.geometry import Axis, Box
from bookgen.model.records.overhead import BeamSoffit
from bookgen.solve.choices import chosen
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.propose.openings import access_openings, room_bounds, utility_rooms
from bookgen.solve.propose.written import Candidate, Pen, Value
from bookgen.solve.site import Site, height_above_slab

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
SHORT = Fraction(16)  # inches from a wall within which strips stop short of a line that follows it: a joist's bay
PLAN: tuple[tuple[int, Axis], ...] = ((0, "x"), (1, "y"))
FLATS = ("2x4", "2x6", "2x8")
SPACINGS = (Fraction(16), Fraction(24))  # inches


def candidates(site: Site, built: Iterable[Assembly] = ()) -> tuple[Candidate, ...]:
    """Return what to try, treatment by treatment in the order of the records' own list; *built* is what else is."""
    whole = _hanging(site)
    if whole is None and site.file.record.kind == "stair":
        return tuple(_stair(site))
    if whole is None:
        return (
            Candidate(
                "any treatment", "", {}, site.say("nothing is written under inside:, so there is nothing to hide")
            ),
        )
    soffits = tuple(reduce(Box.joined, one.boxes()) for one in built if one.treatment.endswith("soffit"))
    furring = partial(_furring, soffits)
    makers = (_wall_soffits, _hung_soffit, _beam_soffit, furring, _post_wraps, _chases, _closet)
    found = (one for make in makers for one in make(site, whole))
    return (*found, *utility_rooms(site), *_stair(site), *access_openings(site, whole))


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
    pen = Pen(site.tape.metric)
    room = site.project.record.rooms.get(site.file.record.room)
    if room is None:
        return {}
    row = [corner[0 if site.frame.along == "x" else 1].inches for corner in room.outline]
    low, high = min(row) - site.level.wall_board, max(row) + site.level.wall_board
    if low <= site.run[0] and site.run[1] <= high:
        return {}
    return {"along": pen.span((max(low, site.run[0]), min(high, site.run[1])))}


def _wall_soffits(site: Site, whole: Box) -> Iterator[Candidate]:
    why = _not_overhead(site, whole)
    if not site.on_wall():
        why = site.say("its run goes along no wall")
    yield Candidate(
        "wall soffit", "" if why else site.say("in one straight line"), {"line": "straight", **_in_room(site)}, why
    )
    if not why:
        yield Candidate("wall soffit", site.say("in steps"), {"line": "steps", **_in_room(site)})


def _hung_soffit(site: Site, whole: Box) -> Iterator[Candidate]:
    pen = Pen(site.tape.metric)
    why = _not_overhead(site, whole)
    across = (pen.down(whole.low.y - THICK - FREE), pen.up(whole.high.y + THICK + FREE))
    if site.on_wall() and across[0] < site.level.wall_face + BOARD:
        why = why or site.say("it hangs so near the wall that no ladder fits on that side")
    bottom = pen.above(pen.down(whole.low.z - THICK))
    choices = {"between": pen.span(_level(site, across)), "framing bottom": bottom, **_in_room(site)}
    yield Candidate("hung soffit", "", choices, why)


def _beam_soffit(site: Site, whole: Box) -> Iterator[Candidate]:
    pen = Pen(site.tape.metric)
    why = _not_overhead(site, whole) if site.file.record.kind == "beam" else site.say("it is no beam")
    wide = whole.size("y") + 2 * (THICK + BOARD + 3 * FREE)
    bottom = pen.above(pen.down(whole.low.z - THICK))
    choices = {"framing bottom": bottom, "finished width": pen.length(pen.up(wide)), **_in_room(site)}
    yield Candidate("beam soffit", "", choices, why)


def _furring(soffits: tuple[Box, ...], site: Site, whole: Box) -> Iterator[Candidate]:
    pen = Pen(site.tape.metric)
    why = _not_overhead(site, whole)
    rooms = [key for key in site.project.record.rooms if _under(site, key)]
    if not rooms or any(len(site.project.record.rooms[key].outline) != 4 for key in rooms):
        why = why or site.say("a room under it is not four-cornered: write an area for each rectangle of it")
    if why:
        yield Candidate("furring", "", {}, why)
        return
    runs = "north" if site.project.record.level.joists.run == "east" else "east"
    for spacing in SPACINGS:
        areas = tuple(_area(site, key, runs, soffits) for key in rooms)
        yield Candidate(
            "furring",
            site.say("strips {spacing} apart", spacing=pen.length(spacing)),
            {"runs": runs, "spacing": pen.length(spacing), "areas": areas},
        )


def _under(site: Site, key: str) -> bool:
    """Tell whether something of the obstacle that hangs below the joists lies over a room, its own room always."""
    low, high = room_bounds(site.project.record.rooms[key])
    over = (box for box in _low(site) if all(low[n] < box.high.on(a) and box.low.on(a) < high[n] for n, a in PLAN))
    return key == site.file.record.room or any(True for _ in over)


def _low(site: Site) -> Iterator[Box]:
    """Yield the boxes on the level round what hangs below the joists."""
    for thing in site.hidden:
        for box in (site.frame.box_to_level(solid.bounds()) for solid in thing.solids):
            if box.low.z < site.level.joists:
                yield box


def _area(site: Site, key: str, runs: str, soffits: tuple[Box, ...]) -> Mapping[str, Value]:
    """Return the ceiling of a room from wall to wall, but for what stands in the strips' way.

    They stop short of a line that follows the wall which they run to, and go no further to the side than to a soffit.
    """
    pen = Pen(site.tape.metric)
    board, (low, high) = site.level.wall_board, room_bounds(site.project.record.rooms[key])
    own = [box for box in _low(site) if all(low[n] < box.high.on(a) and box.low.on(a) < high[n] for n, a in PLAN)]
    (n, axis), (m, off) = PLAN if runs == "east" else PLAN[::-1]
    along = _short_of_lines((low[n] - board, high[n] + board), own, axis, off, pen)
    across = low[m] - board, high[m] + board
    crossed = (box for box in soffits if box.low.on(axis) < along[1] and along[0] < box.high.on(axis))
    sides = ((box.low.on(off), box.high.on(off)) for box in crossed)
    return {"room": key, "along": pen.span(along), "across": pen.span(_between(across, sides, own, off))}


def _between(across: Stretch, soffits: Iterable[Stretch], lines: list[Box], off: Axis) -> Stretch:
    """Return how far a ceiling goes to the side: to the nearest soffit on each side of its lines."""
    if not lines:
        return across
    (low, high), first, last = across, min(box.low.on(off) for box in lines), max(box.high.on(off) for box in lines)
    for near, far in soffits:
        low, high = (max(low, far) if far <= first else low), (min(high, near) if near >= last else high)
    return low, high


def _short_of_lines(whole: Stretch, lines: Iterable[Box], axis: Axis, off: Axis, pen: Pen) -> Stretch:
    """Return where strips on *axis* start and end: short of each line that follows the wall at their end."""
    low, high = whole
    for box in (box for box in lines if box.size(axis) < min(box.size(off), SHORT)):
        if low < box.low.on(axis) and high - box.low.on(axis) <= SHORT:
            high = pen.down(box.low.on(axis) - FREE)
        elif box.high.on(axis) < high and box.high.on(axis) - low <= SHORT:
            low = pen.up(box.high.on(axis) + FREE)
    return low, high


def _post_wraps(site: Site, whole: Box) -> Iterator[Candidate]:
    pen = Pen(site.tape.metric)
    why = _not_upright(site, whole)
    if not any(thing.system == "structure" for thing in site.hidden):
        why = why or site.say("there is no post in it")
    top = pen.above(min(_beam_bottom(site, whole), whole.high.z))
    for stock in FLATS if not why else FLATS[:1]:
        wide = (true_size(stock) or (THICK, THICK))[1] + THICK + 2 * BOARD  # each flat covers the edge of the next
        choices = {"form": "flats", "flats": stock, "finished": pen.length(wide), "top": top}
        yield Candidate("post wrap", site.say("flats of {stock}", stock=stock) if not why else "", choices, why)
    if not why:
        framed = pen.length(pen.up(max(whole.size("x"), whole.size("y")) + 2 * (THICK + BOARD + FREE)))
        yield Candidate("post wrap", site.say("four-sided"), {"form": "four-sided", "finished": framed, "top": top})


def _chases(site: Site, whole: Box) -> Iterator[Candidate]:
    pen = Pen(site.tape.metric)
    why = _not_upright(site, whole)
    middle = (whole.low.x + whole.high.x) / 2
    covers = [p.cover.size.wide.inches for p in site.file.record.access if p.cover.size is not None]
    half = max([whole.size("x") / 2 + FREE, *(wide / 2 for wide in covers)]) + THICK
    low, high = pen.down(middle - half), pen.up(middle + half)
    length = site.level.east_west if site.frame.along == "x" else site.level.north_south
    if not site.on_wall():
        why = why or site.say("its run goes along no wall: let it run along the wall that it stands at")
    yield Candidate(
        "chase", site.say("on the wall") if not why else "", {"form": "wall", "along": pen.span((low, high))}, why
    )
    if why:
        return
    if low < AGAINST or length - high < AGAINST:
        yield Candidate("chase", site.say("in the corner"), {"form": "corner", "along": pen.span((low, high))})
    if whole.low.y >= AGAINST:
        yield Candidate("chase", site.say("standing free"), {"form": "free", "along": pen.span((low, high))})


def _closet(site: Site, whole: Box) -> Iterator[Candidate]:
    pen = Pen(site.tape.metric)
    why = "" if site.on_wall() else site.say("its run goes along no wall")
    if whole.low.z > OVERHEAD:
        why = why or site.say("it hangs overhead; nobody builds a closet for that")
    middle = (whole.low.x + whole.high.x) / 2
    half = max(whole.size("x") / 2 + 3, DOORWAY / 2 + 3)
    inside = (pen.down(middle - half), pen.up(middle + half))
    head = min(HEAD, pen.down(site.level.joists - 2 * THICK - Fraction(6)))
    doorway = pen.down(middle - DOORWAY / 2)
    door: Mapping[str, Value] = {
        "leaf": pen.size(LEAF, head - 2),
        "rough opening": pen.span((doorway, doorway + DOORWAY)),
        "head": pen.above(head),
        "hinges": "west" if site.frame.along == "x" else "south",
        "swings": "out",
    }
    choices: Mapping[str, Value] = {
        "along": pen.span((inside[0] - WALL - 2 * BOARD, inside[1] + WALL + 2 * BOARD)),
        "inside": pen.span(inside),
        "deep": f"{pen.length(pen.up(whole.high.y + STAND))} off the block",
        "framing": "2x4",
        "door": door,
    }
    yield Candidate("closet", "", choices, why)


def _stair(site: Site) -> Iterator[Candidate]:
    """Say why a stair's opening is not tried: what it needs can only be measured."""
    why = site.say("it is for a closed stair")
    if site.file.record.kind == "stair":
        why = site.say(
            "it needs the stair as measured: its total rise, its risers and treads, and where its bottom nosing is"
        )
    yield Candidate("stair opening", "", {}, why)


def _not_overhead(site: Site, whole: Box) -> str:
    return "" if whole.low.z >= OVERHEAD else site.say("it does not hang overhead: it comes down to the floor")


def _not_upright(site: Site, whole: Box) -> str:
    return "" if whole.size("z") >= UPRIGHT else site.say("it does not stand upright from floor to ceiling")


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

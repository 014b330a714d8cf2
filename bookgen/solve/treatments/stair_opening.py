"""A closed stair's choices and its site in; the opened side, with its sloped plate, posts, rail and balusters, out.

Heights count from the slab, on which the stair stands: unit rise, nosing line and all that follows it are exact.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import floor

from bookgen.model.assembly import Face, Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box, Point, Polygon, Prism
from bookgen.model.problem import Problem
from bookgen.model.records.treatments import StairOpening
from bookgen.solve.board import board
from bookgen.solve.framing import TREATED, Stretch, layout, stick, true_size
from bookgen.solve.sheathing import BOARD_OFF_SLAB
from bookgen.solve.site import Envelope, Site, Worked
from bookgen.solve.soffit_words import clash_problems, sizes
from bookgen.solve.treatments.assembled import Work, assembled, ends, middle, path_to
from bookgen.solve.treatments.stair_geometry import (
    SPHERE,
    Slope,
    balusters_needed,
    gap_between,
    mirrored,
    nosing_line,
    per_tread_needed,
    places,
    places_on_treads,
    widest_gap,
)
from bookgen.solve.treatments.stair_posts import ended_under, envelope_of, post_rooms, post_sticks, post_words

NAME = "stair opening"
STUD = "2x4"  # where no partition of the record stands beside the stair
RAIL = Fraction(3, 2)  # thickness of the rail, square to the slope; common practice
RAIL_WIDE = Fraction(9, 4)  # and its width
OVERHANG = Fraction(5, 8)  # cap past the board on both sides; common practice
OVER_RAIL = Fraction(7, 2)  # bottom post over the top of the rail; common practice
OVER_NOSINGS = "headroom over the nosings under the edge of the floor above"
SIZES = (
    ("unit rise", "finished", "first nosing", "second nosing", "z"),
    ("tread", "finished", "first nosing", "second nosing", "x"),
    ("total rise", "finished", "slab", "upper floor", "z"),
    ("lowest riser over the finished floor", "finished", "finished floor", "first nosing", "z"),
    ("plate above the nosing line", "framed", "nosing line at the bottom post", "plate at the bottom post", "z"),
    ("cap above the nosing line", "finished", "nosing line at the bottom post", "cap at the bottom post", "z"),
    ("rail above the nosing line", "finished", "nosing line at the bottom post", "rail at the bottom post", "z"),
    ("rail at the post at the wall, over the floor", "finished", "finished floor", "rail at the post at the wall", "z"),
    ("opening between the posts", "finished", "bottom post", "post at the wall", "x"),
    (OVER_NOSINGS, "headroom", "nosings under the edge of the floor above", "edge of the floor above", "z"),
    ("gap between balusters", "finished", "low side of the widest gap", "high side of the widest gap", "x"),
)


@dataclass(frozen=True, slots=True)
class _Plan:
    """The stair's line, the wall beside it, the opening, the balusters and the heights over the nosing line."""

    line: Slope
    forward: int
    tread: Fraction
    rise: Fraction
    across: Stretch
    opening: Stretch
    balusters: tuple[Stretch, ...]
    plate: Fraction
    cap: Fraction
    rail: Fraction

    def low_end(self) -> Fraction:
        """Return the station of the opening's lower end."""
        return self.opening[0] if self.forward > 0 else self.opening[1]

    def high_end(self) -> Fraction:
        """Return the station of the opening's upper end."""
        return self.opening[1] if self.forward > 0 else self.opening[0]

    def nosing(self) -> Fraction:
        """Return the station of the nosing nearest to the middle of the opening: there the line of them can be seen."""
        steps = floor((middle(self.opening) - self.line.station) / (self.forward * self.tread) + Fraction(1, 2))
        return self.line.station + steps * self.forward * self.tread

    def underside(self) -> Fraction:
        """Return how far the underside of the sloped plate lies over the nosing line."""
        thickness, _ = true_size(STUD) or (Fraction(0), Fraction(0))
        return self.plate - self.line.upright(thickness)


def solve(site: Site, choices: StairOpening) -> Worked:
    """Return the opened side of the stair, or the Problems that stand in its way.

    They are `outside-the-level`, `stair-across-run`, `riser-count-low`, `opening-past-stair`, `balusters-too-few`,
    `balusters-too-many`, `cap-below-plate`, `rail-below-cap`, `plate-below-floor`, `rail-above-joists`,
    `part-meets-obstacle` and `section-outside`.
    """
    problems = tuple(_impossible(site, choices))
    if problems:
        return None, problems
    plan = _planned(site, choices)
    problems = tuple(_too_high_or_low(site, plan))
    if problems:
        return None, problems
    parts = (*_framing(site, plan), *_finish(site, plan), *_boards(site, plan))
    problems = clash_problems(
        site, parts, lambda _: path_to(site, "opening"), lambda _: "move the opening, or what is in its way"
    )
    if problems:
        return None, problems
    anchors = _anchors(site, plan) | _well_edge(site, choices, plan)
    faces = tuple(_faces(site, plan))
    work = Work(parts, faces, anchors, sizes(anchors, SIZES), plan.nosing(), tuple(_remarks(site, plan)))
    return assembled(site, NAME, work)


def _impossible(site: Site, choices: StairOpening) -> Iterator[Problem]:
    ways = ("east", "west") if site.frame.along == "x" else ("north", "south")
    if choices.goes_up not in ways:
        rule = f"the run goes along the stair, {ways[1]} to {ways[0]}"
        repair = f"write {ways[0]} or {ways[1]}, or mend the run"
        yield site.problem("stair-across-run", path_to(site, "goes up"), choices.goes_up, rule, repair)
    if choices.risers < 2:
        rule, repair = "a stair has two risers at least", "count them from floor to floor"
        yield site.problem("riser-count-low", path_to(site, "risers"), str(choices.risers), rule, repair)
        return
    yield from _off_level(site, choices)
    (low, high), bottom = _opening(choices), choices.bottom_nosing.inches
    top = bottom + _forward(choices) * (choices.risers - 1) * choices.tread.inches
    if choices.opened_to is not None and not 2 <= choices.opened_to <= choices.risers:
        rule = f"the stair has {choices.risers} nosings, and it is opened from the lowest on"
        value, repair = str(choices.opened_to), f"write 2 to {choices.risers}"
        yield site.problem("opening-past-stair", path_to(site, "opened to"), value, rule, repair)
        return
    if low < min(bottom, top) or high > max(bottom, top):
        words = " to ".join(site.tape.short(end) for end in sorted((bottom, top)))
        value = " to ".join(site.tape.short(end) for end in (low, high))
        rule, repair = f"the nosings go from {words}", "look for a slip in the opening, the bottom nosing or the tread"
        yield site.problem("opening-past-stair", path_to(site, "opening"), value, rule, repair)
    yield from _baluster_problems(site, choices, (low, high))
    if choices.cap.inches <= choices.plate_above_nosings.inches:
        plate = site.tape.short(choices.plate_above_nosings)
        rule = f"it lies on the plate, whose top is {plate} above the nosing line"
        yield site.problem(
            "cap-below-plate", path_to(site, "cap"), site.tape.short(choices.cap), rule, "write a higher cap"
        )
    if choices.rail.inches <= choices.cap.inches + 2 * RAIL:
        rule = f"balusters stand between it and the cap, {site.tape.short(choices.cap)} above the nosing line"
        yield site.problem(
            "rail-below-cap", path_to(site, "rail"), site.tape.short(choices.rail), rule, "write a higher rail"
        )


def _off_level(site: Site, choices: StairOpening) -> Iterator[Problem]:
    """Yield an `outside-the-level` Problem for a stair, or the wall beside it, that is not between the block walls."""
    sizes_ = site.level.east_west, site.level.north_south
    along, across = sizes_ if site.frame.along == "x" else sizes_[::-1]
    top = choices.bottom_nosing.inches + _forward(choices) * (choices.risers - 1) * choices.tread.inches
    if not (0 <= choices.bottom_nosing.inches <= along and 0 <= top <= along):
        rule = f"the nosings would go to {site.tape.long(top)}, and the level to {site.tape.long(along)}"
        repair = "look for a slip in the bottom nosing, the treads or the way it goes up"
        yield site.problem("outside-the-level", path_to(site, "tread"), site.tape.short(choices.tread), rule, repair)
    if choices.stair.low.inches < 0 or _wall(site, choices)[1] > across:
        rule = f"with the wall beside it, it lies between the block walls, {site.tape.long(across)} apart"
        value = " to ".join(site.tape.short(end) for end in ends(choices.stair))
        repair = "write its two sides, off the wall of its run"
        yield site.problem("outside-the-level", path_to(site, "stair"), value, rule, repair)


def _forward(choices: StairOpening) -> int:
    """Return +1 for a stair that goes up with the stations of its run, else -1."""
    return 1 if choices.goes_up in {"east", "north"} else -1


def _opening(choices: StairOpening) -> Stretch:
    """Return the opening between the posts: as written, or from the lowest nosing to the one it is opened to."""
    if choices.opening is not None:
        return ends(choices.opening)
    bottom = choices.bottom_nosing.inches
    top = bottom + _forward(choices) * ((choices.opened_to or 1) - 1) * choices.tread.inches
    return min(bottom, top), max(bottom, top)


def _balusters(choices: StairOpening, opening: Stretch) -> tuple[Stretch, ...]:
    """Return where the balusters stand: so many as written, or the fewest that a sphere can't pass between."""
    width, wide = choices.baluster.inches, opening[1] - opening[0]
    if choices.spaced == "along the rake":
        count = balusters_needed(wide, width) if choices.balusters is None else choices.balusters
        return places(opening, count, width)
    tread, nosing = choices.tread.inches, choices.bottom_nosing.inches
    per_tread = (choices.balusters or per_tread_needed(tread, width), width)
    if _forward(choices) > 0:
        return places_on_treads(opening, nosing, tread, per_tread)
    return mirrored(places_on_treads(mirrored((opening,))[0], -nosing, tread, per_tread))


def _baluster_problems(site: Site, choices: StairOpening, opening: Stretch) -> Iterator[Problem]:
    path, width, wide = path_to(site, "balusters"), choices.baluster.inches, opening[1] - opening[0]
    rake = choices.spaced == "along the rake"
    needed = balusters_needed(wide, width) if rake else per_tread_needed(choices.tread.inches, width)
    count = needed if choices.balusters is None else choices.balusters
    room = wide if rake else choices.tread.inches
    if (gap_between(room, count, width) if rake else room - count * width) <= 0:
        rule = f"{count} of them fill more than the {'opening' if rake else 'tread'} of {site.tape.short(room)}"
        yield site.problem("balusters-too-many", path, str(count), rule, f"write {needed}")
        return
    gap = gap_between(wide, count, width) if rake or not count else room / count - width
    if gap >= SPHERE:
        made = gap_between(wide, needed, width) if rake else room / needed - width
        rule = (
            f"they leave gaps of {site.tape.short(gap)}, and a sphere of {site.tape.short(SPHERE)} must not "
            "pass (IRC R312.1.3; check against your local code)"
        )
        repair = f"write {needed}, which leaves {site.tape.short(made)}"
        yield site.problem("balusters-too-few", path, str(count), rule, repair)


def _planned(site: Site, choices: StairOpening) -> _Plan:
    forward, opening = _forward(choices), _opening(choices)
    bottom, tread = choices.bottom_nosing.inches, choices.tread.inches
    return _Plan(
        line=nosing_line(choices.rise.inches, choices.risers, tread, bottom, forward),
        forward=forward,
        tread=tread,
        rise=choices.rise.inches,
        across=_wall(site, choices),
        opening=opening,
        balusters=_balusters(choices, opening),
        plate=choices.plate_above_nosings.inches,
        cap=choices.cap.inches,
        rail=choices.rail.inches,
    )


def _wall(site: Site, choices: StairOpening) -> Stretch:
    """Return the faces of the studs of the wall beside the stair, on its side away from the wall of the run.

    The stair's own side of it is boarded, and the stair is as wide as what is left.
    """
    low = choices.stair.high.inches + site.level.wall_board
    return low, low + (true_size(STUD) or (Fraction(0), Fraction(0)))[1]


def _too_high_or_low(site: Site, plan: _Plan) -> Iterator[Problem]:
    plate = (true_size(STUD) or (Fraction(0), Fraction(0)))[0]
    low = plan.line.at(plan.low_end()) + plan.underside()
    if low <= plate:
        rule = (
            f"the sloped plate's underside would be {site.tape.short(low)} above the slab at its lower end, where the "
            f"bottom plate is {site.tape.short(plate)} thick"
        )
        repair = "start the opening further up the stair, or write a higher plate"
        yield site.problem("plate-below-floor", path_to(site, "plate above nosings"), "", rule, repair)
    top = plan.line.at(plan.high_end()) + plan.rail
    if top > site.level.joists:
        high, joists = site.tape.short(top), site.tape.short(site.level.joists)
        rule = f"at the post at the wall it would be {high} above the slab, the joists are at {joists}"
        repair = "end the opening further down the stair"
        yield site.problem("rail-above-joists", path_to(site, "opening"), "", rule, repair)
    for taken in ended_under(site, _posts(site, plan)[1]):
        if top > (low := taken.room.finished.low.z):
            rule = (
                f"at the post at the wall it would be {site.tape.short(top)} above the slab, {taken.what} comes down "
                f"to {site.tape.short(low)}"
            )
            repair = "end the opening further down the stair"
            yield site.problem("rail-above-joists", path_to(site, "opening"), "", rule, repair)


def _framing(site: Site, plan: _Plan) -> Iterator[Part]:
    thickness, _ = true_size(STUD) or (Fraction(0), Fraction(0))
    low, _ = plan.across
    yield stick("new bottom plate", "bottom plate", STUD + TREATED, "x", plan.opening, (low, Fraction(0)), "y")
    slope = plan.line.band(plan.opening, plan.underside(), plan.plate)
    yield Part("sloped plate", "sloped plate", Prism(slope, "y", *plan.across), Material.LUMBER, STUD)
    spacing = site.project.record.level.wall_lining.spacing.inches
    for number, centre in enumerate(layout(*plan.opening, spacing, thickness), 1):
        stretch = centre - thickness / 2, centre + thickness / 2
        outline = plan.line.under(stretch, thickness, plan.underside())
        yield Part(f"short stud {number}", "stud", Prism(outline, "y", *plan.across), Material.LUMBER, STUD)
    yield from post_sticks(site, _posts(site, plan))


def _posts(site: Site, plan: _Plan) -> tuple[Box, Box]:
    """Return the room of both posts, that of the one at the wall up to the joists."""
    joists, low = site.level.joists, plan.low_end()
    top = min(plan.line.at(low) + plan.rail + OVER_RAIL, joists)
    return post_rooms(plan.opening, plan.across, ((low, top), (plan.high_end(), joists)))


def envelopes(site: Site, choices: StairOpening) -> tuple[Envelope, ...]:
    """Return the room of both posts, which go up where soffits may be; none where the stair can't be built."""
    if any(_impossible(site, choices)):
        return ()
    return envelope_of(_posts(site, _planned(site, choices)))


def _finish(site: Site, plan: _Plan) -> Iterator[Part]:
    """Yield cap, rail and balusters: finish wood, cut to the slope."""
    past = site.level.wall_board + OVERHANG
    cap = Prism(plan.line.band(plan.opening, plan.plate, plan.cap), "y", plan.across[0] - past, plan.across[1] + past)
    yield Part("cap", "cap", cap, Material.FINISH, "")
    centre, under = middle(plan.across), plan.rail - plan.line.upright(RAIL)
    rail = Prism(plan.line.band(plan.opening, under, plan.rail), "y", centre - RAIL_WIDE / 2, centre + RAIL_WIDE / 2)
    yield Part("rail", "rail", rail, Material.FINISH, "")
    for number, stretch in enumerate(plan.balusters, 1):
        half = (stretch[1] - stretch[0]) / 2
        solid = Prism(plan.line.band(stretch, plan.cap, under), "y", centre - half, centre + half)
        yield Part(f"baluster {number}", "baluster", solid, Material.FINISH, "")


def _outline(plan: _Plan) -> Polygon:
    return plan.line.under(plan.opening, BOARD_OFF_SLAB, plan.plate)


def _boards(site: Site, plan: _Plan) -> Iterator[Part]:
    thick = site.level.wall_board
    for name, at, toward in (("room side board", plan.across[1], 1), ("stair side board", plan.across[0], -1)):
        yield board(name, "y", at, toward, _outline(plan), thick, "")[0]


def _faces(site: Site, plan: _Plan) -> Iterator[Face]:
    thick, room = site.level.wall_board, site.file.record.room
    yield Face("wall under the stair rail", "y", plan.across[1] + thick, 1, _outline(plan), room)


def _anchors(site: Site, plan: _Plan) -> dict[str, Point]:
    y = plan.across[1] + site.level.wall_board
    low, high, line = plan.low_end(), plan.high_end(), plan.line
    gap = widest_gap(plan.opening, plan.balusters)
    top = line.station + plan.forward * plan.tread
    gap_level = line.at(plan.opening[0]) + (plan.cap + plan.rail) / 2
    return {
        "slab": Point(low, y, Fraction(0)),
        "finished floor": Point(line.station, y, site.level.floor),
        "upper floor": Point(high, y, plan.rise),
        "first nosing": Point(line.station, y, line.at(line.station)),
        "second nosing": Point(top, y, line.at(top)),
        "nosing line at the bottom post": Point(low, y, line.at(low)),
        "nosing line at the post at the wall": Point(high, y, line.at(high)),
        "plate at the bottom post": Point(low, y, line.at(low) + plan.plate),
        "cap at the bottom post": Point(low, y, line.at(low) + plan.cap),
        "rail at the bottom post": Point(low, y, line.at(low) + plan.rail),
        "rail at the post at the wall": Point(high, y, line.at(high) + plan.rail),
        "bottom post": Point(low, y, line.at(low) + plan.rail),
        "post at the wall": Point(high, y, line.at(low) + plan.rail),
        "low side of the widest gap": Point(gap[0], y, gap_level),
        "high side of the widest gap": Point(gap[1], y, gap_level),
    }


def _well_edge(site: Site, choices: StairOpening, plan: _Plan) -> dict[str, Point]:
    """Return the edge of the floor above and the line of the nosings under it, where the record says where that is."""
    if choices.well is None:
        return {}
    edge, y = ends(choices.well)[0 if plan.forward > 0 else 1], plan.across[1] + site.level.wall_board
    nosings = plan.line.at(edge)
    if not plan.line.height < nosings < plan.rise:
        return {}  # open as far as the stair goes
    return {
        "nosings under the edge of the floor above": Point(edge, y, nosings),
        "edge of the floor above": Point(edge, y, site.level.joists - site.level.ceiling_board),
    }


def _remarks(site: Site, plan: _Plan) -> Iterator[str]:
    unit = plan.line.at(plan.line.station)
    yield site.say(
        "The unit rise is {unit} rounded; marks are laid out from the total, never by adding a rounded riser.",
        unit=site.tape.short(unit),
    )
    low, high = (plan.line.at(end) + plan.rail - site.level.floor for end in (plan.low_end(), plan.high_end()))
    yield site.say(
        "The rail lands on the bottom post {low} over the floor, and on the post at the wall {high} over it; "
        "both posts stand on the slab, and the one at the wall goes up to what is overhead.",
        low=site.tape.long(low),
        high=site.tape.long(high),
    )
    yield from post_words(site, _posts(site, plan))
    if site.level.floor:
        yield site.say(
            "Heights count from the slab: the finished floor takes {floor} off the lowest riser. Ask whether "
            "the risers are still even enough; check against your local code.",
            floor=site.tape.short(site.level.floor),
        )
    yield site.say("Ask whether the wall bears before it is cut; what is overhead is no part of this opening.")

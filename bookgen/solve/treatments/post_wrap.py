"""Posts and the choice of flats in; four flats in a pinwheel round each post, boarded square, out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from bookgen.model.assembly import Face, HiddenThing, Measure, Part
from bookgen.model.geometry import Axis, Box, Point
from bookgen.model.problem import Problem
from bookgen.model.records.treatments import PostWrap
from bookgen.solve.board import board, rectangle
from bookgen.solve.compass import looks
from bookgen.solve.framing import Stretch, measured, stick, true_size
from bookgen.solve.level import near
from bookgen.solve.sheathing import BOARD_OFF_SLAB
from bookgen.solve.site import Site, Worked, height_above_slab
from bookgen.solve.soffit_words import clash_problems
from bookgen.solve.treatments.assembled import Work, assembled, path_to

NAME = "post wrap"
SIDES: tuple[tuple[Axis, int], ...] = (("y", -1), ("y", 1), ("x", -1), ("x", 1))


@dataclass(frozen=True, slots=True)
class _Post:
    """One post: its middle on the plan, its shaft, and the heights that its flats and board may take."""

    name: str
    x: Fraction
    y: Fraction
    flats: Stretch
    boards: Stretch
    remark: str


def solve(site: Site, choices: PostWrap) -> Worked:
    """Return the wrap of every post of the record that stands within its run.

    Four flats stand in a pinwheel, each lapping the edge of the next, so that they make a square of one width and one
    thickness. Problems: `no-post`, `unknown-stock`, `finished-not-flats`, `post-too-thick`, `plate-shows`,
    `wrap-too-low`, `wrap-above-joists`, `part-meets-obstacle`, `section-outside`.
    """
    size = true_size(choices.flats)
    if size is None:
        path, rule = path_to(site, "flats"), "no lumber of that size is sold"
        return None, (site.problem("unknown-stock", path, choices.flats, rule, near(choices.flats)),)
    thickness, width = size
    things = tuple(_posts(site))
    problems = (*_misfits(site, choices, thickness, width), *_too_thick(site, things, width - thickness))
    if not things:
        rule = "no post of this record stands within its run"
        problems += (site.problem("no-post", ("run",), "", rule, "list the post under inside, or mend the run"),)
    if problems:
        return None, problems
    outer = (width + thickness) / 2
    top = height_above_slab(choices.top, site.level)
    if top > site.level.joists:
        rule = f"the joists are {site.tape.short(site.level.joists)} above the slab"
        value, repair = site.tape.short(top), "write the underside of what it meets"
        return None, (site.problem("wrap-above-joists", path_to(site, "top"), value, rule, repair),)
    found = [_placed(site, thing, outer, outer - thickness, top) for thing in things]
    problems = tuple(post for post in found if isinstance(post, Problem))
    if problems:
        return None, problems
    posts = tuple(post for post in found if isinstance(post, _Post))
    work = _work(site, choices, posts, outer)
    problems = clash_problems(
        site, work.parts, lambda _: path_to(site, "flats"), lambda _: "move it, or end the wrap clear of it"
    )
    return (None, problems) if problems else assembled(site, NAME, work)


def _posts(site: Site) -> Iterator[HiddenThing]:
    """Yield the posts whose middle stands within the run; others of the record stand in walls or stay bare."""
    names = {hidden.what for hidden in site.file.record.inside if hidden.post}
    for thing in site.hidden:
        box = _shaft(thing)
        if thing.what in names and site.run[0] <= (box.low.x + box.high.x) / 2 <= site.run[1]:
            yield thing


def _shaft(thing: HiddenThing) -> Box:
    return max((solid.bounds() for solid in thing.solids), key=lambda box: box.size("z"))


def _misfits(site: Site, choices: PostWrap, thickness: Fraction, width: Fraction) -> Iterator[Problem]:
    made = width + thickness + 2 * site.level.wall_board
    if choices.finished.inches != made:
        yield site.problem(
            "finished-not-flats",
            path_to(site, "finished"),
            site.tape.short(choices.finished),
            f"four flats of {choices.flats} make {site.tape.short(width + thickness)}, and "
            f"{site.tape.short(made)} over the board",
            f"write {site.tape.short(made)}, or other flats",
        )


def _too_thick(site: Site, things: tuple[HiddenThing, ...], hollow: Fraction) -> Iterator[Problem]:
    for thing in things:
        box = _shaft(thing).grown(thing.clearance)
        thick = max(box.size("x"), box.size("y"))
        if thick > hollow:
            yield site.problem(
                "post-too-thick",
                path_to(site, "flats"),
                thing.what,
                f"it takes {site.tape.short(thick)} and the flats leave {site.tape.short(hollow)} between them",
                "write wider flats, and the finished size that they make",
            )


def _placed(site: Site, thing: HiddenThing, outer: Fraction, inner: Fraction, top: Fraction) -> _Post | Problem:
    """Return where the flats and the board of one post begin and end: they clear its base and cap plates."""
    shaft = _shaft(thing)
    x, y = (shaft.low.x + shaft.high.x) / 2, (shaft.low.y + shaft.high.y) / 2
    edge = outer + site.level.wall_board
    flats, boards, remarks = (Fraction(0), top), (BOARD_OFF_SLAB, top - site.level.ceiling_board), []
    for plate in _plates(site, shaft, top):
        wide = max(plate.high.x - x, x - plate.low.x, plate.high.y - y, y - plate.low.y)
        if wide <= inner:
            continue
        if wide > edge:
            return site.problem(
                "plate-shows",
                path_to(site, "finished"),
                thing.what,
                f"its plate reaches {site.tape.short(wide)} from the middle, the board {site.tape.short(edge)}",
                "write wider flats, and the finished size that they make",
            )
        low = plate.high.z <= (shaft.low.z + shaft.high.z) / 2
        flats = (max(flats[0], plate.high.z), flats[1]) if low else (flats[0], min(flats[1], plate.low.z))
        if wide > outer:
            boards = (max(boards[0], plate.high.z), boards[1]) if low else (boards[0], min(boards[1], plate.low.z))
        remarks.append(_says(site, thing, (plate, low), inside=wide <= outer))
    if flats[0] >= flats[1] or boards[0] >= boards[1]:
        rule, repair = "nothing is left of the wrap between the plates of the post", "write a higher top"
        value = site.tape.short(top)
        return site.problem("wrap-too-low", path_to(site, "top"), value, rule, repair)
    return _Post(thing.what, x, y, flats, boards, " ".join(remarks))


def _plates(site: Site, shaft: Box, top: Fraction) -> Iterator[Box]:
    """Yield what stands round a post under the top of its wrap: its plates, listed with it or on their own."""
    for thing in site.hidden:
        for solid in thing.solids:
            plate = solid.bounds().grown(thing.clearance)
            over = plate.low.x < shaft.high.x and shaft.low.x < plate.high.x
            beside = plate.low.y < shaft.high.y and shaft.low.y < plate.high.y
            if over and beside and plate.low.z < top and plate.size("z") < shaft.size("z"):
                yield plate


def _says(site: Site, thing: HiddenThing, at: tuple[Box, bool], *, inside: bool) -> str:
    """Return what a plate of a post makes of the wrap: at its foot or its head; *inside*: no wider than the flats."""
    plate, low = at
    size = " × ".join(site.tape.short(plate.size(axis)) for axis in ("x", "y", "z"))
    if low:
        flats = f"the flats stand on it, {site.tape.short(plate.high.z)} above the slab"
        rest = "the board runs down past it" if inside else "the board ends above it, and the base covers it"
        return f"{thing.what}: the base plate is {size} and as wide as the framing: {flats}; {rest}."
    return f"{thing.what}: the cap plate is {size}: the flats end under it."


def _work(site: Site, choices: PostWrap, posts: tuple[_Post, ...], outer: Fraction) -> Work:
    parts: list[Part] = []
    faces: list[Face] = []
    anchors: dict[str, Point] = {}
    for post in posts:
        parts += _flats(choices.flats, post, outer)
        for part, face in _sheets(site, post, outer):
            parts.append(part)
            faces.append(face)
        anchors |= _anchors(site, post, outer)
    remarks = [post.remark for post in posts if post.remark]
    remarks.append("The flats are fixed to one another and to what they meet, not to the post.")
    return Work(tuple(parts), tuple(faces), anchors, _measures(posts[0], anchors), posts[0].x, tuple(remarks))


def _flats(stock: str, post: _Post, outer: Fraction) -> Iterator[Part]:
    thickness, width = true_size(stock) or (Fraction(0), Fraction(0))
    inner = outer - thickness
    corners: tuple[tuple[Fraction, Fraction, Axis], ...] = (
        (-outer, -outer, "x"),
        (inner, -outer, "y"),
        (outer - width, inner, "x"),
        (-outer, outer - width, "y"),
    )
    for number, (x, y, wide) in enumerate(corners, 1):
        name = f"{post.name}, flat {number}"
        yield stick(name, "flat", stock, "z", post.flats, (post.x + x, post.y + y), wide)


def _sheets(site: Site, post: _Post, outer: Fraction) -> Iterator[tuple[Part, Face]]:
    thick = site.level.wall_board
    for axis, toward in SIDES:
        half = outer + thick if axis == "y" else outer  # two boards lap the edges of the other two
        middle = post.x if axis == "y" else post.y
        spans = {"x" if axis == "y" else "y": (middle - half, middle + half), "z": post.boards}
        at = (post.y if axis == "y" else post.x) + toward * outer
        name = f"{post.name}, {looks(site.frame, axis, toward)} face"
        yield board(name, axis, at, toward, rectangle(axis, **spans), thick, site.file.record.room)


def _anchors(site: Site, post: _Post, outer: Fraction) -> dict[str, Point]:
    edge, (foot, top) = outer + site.level.wall_board, post.boards
    level = (foot + top) / 2
    return {
        f"{post.name}: middle": Point(post.x, post.y, level),
        f"{post.name}: near face": Point(post.x, post.y - edge, level),
        f"{post.name}: far face": Point(post.x, post.y + edge, level),
        f"{post.name}: low face": Point(post.x - edge, post.y, level),
        f"{post.name}: high face": Point(post.x + edge, post.y, level),
        f"{post.name}: near flat": Point(post.x, post.y - outer, level),
        f"{post.name}: far flat": Point(post.x, post.y + outer, level),
        f"{post.name}: finished floor": Point(post.x, post.y, site.level.floor),
        f"{post.name}: top of the flats": Point(post.x, post.y, post.flats[1]),
        f"{post.name}: top of the board": Point(post.x, post.y, top),
    }


def _measures(post: _Post, anchors: dict[str, Point]) -> tuple[Measure, ...]:
    rows: tuple[tuple[str, str, str, str, Axis], ...] = (
        ("width over the board", "finished", "low face", "high face", "x"),
        ("depth over the board", "finished", "near face", "far face", "y"),
        ("depth of the framing", "framed", "near flat", "far flat", "y"),
        ("height over the floor", "finished", "finished floor", "top of the board", "z"),
    )
    name = post.name
    return tuple(measured(what, kind, anchors, f"{name}: {a}", f"{name}: {b}", axis) for what, kind, a, b, axis in rows)

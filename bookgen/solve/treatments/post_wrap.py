"""Posts and the choices of a wrap in; flats in a pinwheel or a frame on four sides round each, boarded, out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import Face, HiddenThing, Measure, Part
from bookgen.model.geometry import Axis, Box, Point
from bookgen.model.problem import Problem
from bookgen.model.records.treatments import PostWrap
from bookgen.solve.board import rectangle
from bookgen.solve.compass import looks
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import measured, stick, true_size
from bookgen.solve.level import near
from bookgen.solve.sheathing import BOARD_OFF_SLAB
from bookgen.solve.site import Envelope, Site, Worked, height_above_slab
from bookgen.solve.soffit_words import clash_problems
from bookgen.solve.soffits import sheets
from bookgen.solve.treatments.assembled import Work, assembled, path_to
from bookgen.solve.treatments.chase_frame import ChaseFrame, chase_framing, chase_sides
from bookgen.solve.treatments.post_landings import (
    Wrapped,
    block_zones,
    landing_blocks,
    landing_holes,
    landing_problems,
    landing_words,
)

NAME = "post wrap"
SIDES: tuple[tuple[Axis, int], ...] = (("y", -1), ("y", 1), ("x", -1), ("x", 1))
SLACK = Fraction(1, 4)  # inches by which a size as taped may miss what the sticks make; more is a slip of the pen


def solve(site: Site, choices: PostWrap) -> Worked:
    """Return the wrap of every post of the record that stands within its run.

    Four flats stand in a pinwheel, each lapping the edge of the next, so that they make a square of one width and one
    thickness. A four-sided frame stands free of the post, round its plates, and is as large as is written. Problems:
    `no-post`, `unknown-stock`, `finished-not-flats`, `post-too-thick`, `plate-shows`, `wrap-too-low`,
    `wrap-above-joists`, `landing-past-wrap`, `part-meets-obstacle`, `section-outside`.
    """
    field = "flats" if choices.form == "flats" else "framing"
    stock = choices.flats if choices.form == "flats" else choices.framing
    size = true_size(stock)
    if size is None:
        path, rule = path_to(site, field), "no lumber of that size is sold"
        return None, (site.problem("unknown-stock", path, stock, rule, near(stock)),)
    half = _half(site, choices, size)
    inner = half[0] - size[0], half[1] - size[0]
    things = tuple(_posts(site))
    problems = (*_misfits(site, choices, size), *_too_thick(site, things, inner, field))
    if not things:
        rule = "no post of this record stands within its run"
        problems += (site.problem("no-post", ("run",), "", rule, "list the post under inside, or mend the run"),)
    top = height_above_slab(choices.top, site.level)
    if top > site.level.joists:
        rule = f"the joists are {site.tape.short(site.level.joists)} above the slab"
        value, repair = site.tape.short(top), "write the underside of what it meets"
        problems += (site.problem("wrap-above-joists", path_to(site, "top"), value, rule, repair),)
    if problems:
        return None, problems
    found = [_placed(site, choices, thing, (half, inner), top) for thing in things]
    problems = tuple(post for post in found if isinstance(post, Problem))
    posts = tuple(_under(site, post) for post in found if isinstance(post, Wrapped))
    problems += tuple(_too_low(site, top) for post in posts if post.boards[0] >= post.boards[1])
    problems += tuple(problem for post in posts[:1] for problem in landing_problems(site, choices, post))
    if problems:
        return None, problems
    work = _work(site, choices, posts)
    problems = clash_problems(
        site, work.parts, lambda _: path_to(site, field), lambda _: "move it, or end the wrap clear of it"
    )
    return (None, problems) if problems else assembled(site, NAME, work)


def _half(site: Site, choices: PostWrap, size: tuple[Fraction, Fraction]) -> tuple[Fraction, Fraction]:
    """Return half the framing's outside along and across the run: flats make it, a frame is made to what is written."""
    if choices.form == "flats":
        half = (size[0] + size[1]) / 2
        return half, half
    deep = choices.finished_deep or choices.finished
    board = site.level.wall_board
    return choices.finished.inches / 2 - board, deep.inches / 2 - board


def _posts(site: Site) -> Iterator[HiddenThing]:
    """Yield the posts whose middle stands within the run; others of the record stand in walls or stay bare."""
    names = {hidden.what for hidden in site.file.record.inside if hidden.post}
    for thing in site.hidden:
        box = _shaft(thing)
        if thing.what in names and site.run[0] <= (box.low.x + box.high.x) / 2 <= site.run[1]:
            yield thing


def _shaft(thing: HiddenThing) -> Box:
    return max((solid.bounds() for solid in thing.solids), key=lambda box: box.size("z"))


def _misfits(site: Site, choices: PostWrap, size: tuple[Fraction, Fraction]) -> Iterator[Problem]:
    """Yield a Problem where flats do not make the size; a size that misses by less than SLACK is left to a check."""
    if choices.form != "flats":
        return
    made = size[0] + size[1] + 2 * site.level.wall_board
    for field, written in (("finished", choices.finished), ("finished deep", choices.finished_deep)):
        if written is not None and abs(written.inches - made) > SLACK:
            yield site.problem(
                "finished-not-flats",
                path_to(site, field),
                site.tape.short(written),
                f"four flats of {choices.flats} make {site.tape.short(size[0] + size[1])}, and "
                f"{site.tape.short(made)} over the board",
                f"write {site.tape.short(made)}, other flats, or form: four-sided",
            )


def _too_thick(
    site: Site, things: tuple[HiddenThing, ...], inner: tuple[Fraction, Fraction], field: str
) -> Iterator[Problem]:
    hollow = tuple(max(2 * side, Fraction(0)) for side in inner)
    for thing in things:
        box = _shaft(thing).grown(thing.clearance)
        if box.size("x") > hollow[0] or box.size("y") > hollow[1]:
            yield site.problem(
                "post-too-thick",
                path_to(site, field),
                thing.what,
                f"it takes {site.tape.short(max(box.size('x'), box.size('y')))} and the {field} leave "
                f"{site.tape.short(min(hollow))} between them",
                "write wider flats, and the finished size that they make"
                if field == "flats"
                else "write a larger finished size",
            )


def _placed(
    site: Site,
    choices: PostWrap,
    thing: HiddenThing,
    halves: tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]],
    top: Fraction,
) -> Wrapped | Problem:
    """Return where the framing and the board of one post begin and end: they clear its base and cap plates."""
    (half, inner), shaft = halves, _shaft(thing)
    x, y = (shaft.low.x + shaft.high.x) / 2, (shaft.low.y + shaft.high.y) / 2
    framing, boards, remarks = (Fraction(0), top), (BOARD_OFF_SLAB, top - site.level.ceiling_board), []
    for plate in _plates(site, shaft, top):
        wide = max(plate.high.x - x, x - plate.low.x), max(plate.high.y - y, y - plate.low.y)
        if all(side <= room for side, room in zip(wide, inner, strict=True)):
            continue
        edge = tuple(side + site.level.wall_board for side in half)
        if choices.form != "flats" or any(side > room for side, room in zip(wide, edge, strict=True)):
            return _shows(site, choices, thing, (wide, edge, inner))
        low = plate.high.z <= (shaft.low.z + shaft.high.z) / 2
        inside = all(side <= room for side, room in zip(wide, half, strict=True))
        framing = (max(framing[0], plate.high.z), framing[1]) if low else (framing[0], min(framing[1], plate.low.z))
        if not inside:
            boards = (max(boards[0], plate.high.z), boards[1]) if low else (boards[0], min(boards[1], plate.low.z))
        remarks.append(_says(site, thing, (plate, low), inside=inside))
    if framing[0] >= framing[1] or boards[0] >= boards[1]:
        return _too_low(site, top)
    return Wrapped(thing.what, x, y, half, framing, boards, " ".join(remarks))


def _too_low(site: Site, top: Fraction) -> Problem:
    rule, repair = "nothing is left of the wrap between the plates of the post", "write a higher top"
    return site.problem("wrap-too-low", path_to(site, "top"), site.tape.short(top), rule, repair)


def _under(site: Site, post: Wrapped) -> Wrapped:
    """Return a wrap that ends under each soffit over all of it; that of a beam has its board cut round the wrap."""
    for taken in site.taken:
        framed, finished = taken.room.framed, taken.room.finished
        (x, y), foot = post.half, framed.low.z if taken.treatment == "beam soffit" else finished.low.z
        inside = finished.low.x <= post.x - x and post.x + x <= finished.high.x
        if inside and finished.low.y <= post.y - y and post.y + y <= finished.high.y and foot < post.framing[1]:
            ends = site.say("{post}: its wrap ends under {what}.", post=post.name, what=taken.what)
            post = replace(
                post,
                framing=(post.framing[0], foot),
                boards=(post.boards[0], min(post.boards[1], finished.low.z)),
                remark=f"{post.remark} {ends}".strip(),
            )
    return post


def envelopes(site: Site, choices: PostWrap) -> tuple[Envelope, ...]:
    """Return the room of the wrap of each post; none for stock that is not sold."""
    size = true_size(choices.flats if choices.form == "flats" else choices.framing)
    if size is None:
        return ()
    half, board, top = _half(site, choices, size), site.level.wall_board, height_above_slab(choices.top, site.level)
    found = []
    for thing in _posts(site):
        shaft = _shaft(thing)
        middle = Point((shaft.low.x + shaft.high.x) / 2, (shaft.low.y + shaft.high.y) / 2, Fraction(0))
        framed, finished = (
            Box(
                Point(middle.x - half[0] - over, middle.y - half[1] - over, Fraction(0)),
                Point(middle.x + half[0] + over, middle.y + half[1] + over, top),
            )
            for over in (Fraction(0), board)
        )
        found.append(Envelope(framed, finished))
    return tuple(found)


def _shows(site: Site, choices: PostWrap, thing: HiddenThing, sizes: tuple[tuple[Fraction, ...], ...]) -> Problem:
    """Return the Problem of a plate that is wider than the wrap, or does not fit into its frame."""
    wide, edge, inner = sizes
    room, what = (edge, "the board") if choices.form == "flats" else (inner, "the inside of the frame")
    side = 0 if wide[0] - room[0] >= wide[1] - room[1] else 1
    rule = f"its plate reaches {site.tape.short(wide[side])} from the middle, {what} {site.tape.short(room[side])}"
    least = 2 * (wide[side] + (edge[side] - inner[side]))
    repair = "write wider flats, and the finished size that they make"
    if choices.form != "flats":
        repair = f"write a finished size of at least {site.tape.short(least)}"
    return site.problem("plate-shows", path_to(site, "finished"), thing.what, rule, repair)


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
        rest = site.say("the board runs down past it" if inside else "the board ends above it, and the base covers it")
        return site.say(
            "{what}: the base plate is {size} and as wide as the framing: the flats stand on it, {height} above the "
            "slab; {rest}.",
            what=thing.what,
            size=size,
            height=site.tape.short(plate.high.z),
            rest=rest,
        )
    return site.say("{what}: the cap plate is {size}: the flats end under it.", what=thing.what, size=size)


def _work(site: Site, choices: PostWrap, posts: tuple[Wrapped, ...]) -> Work:
    parts: list[Part] = []
    faces: list[Face] = []
    anchors: dict[str, Point] = {}
    for post in posts:
        parts += _flats(choices.flats, post) if choices.form == "flats" else _frame(site, choices, post)
        for axis, toward in SIDES:
            laid, face = _side(site, choices, post, (axis, toward))
            parts += laid
            faces.append(face)
        anchors |= _anchors(site, post)
    remarks = [post.remark for post in posts if post.remark]
    if choices.form == "flats":
        remarks.append(site.say("The flats are fixed to one another and to what they meet, not to the post."))
    else:
        remarks.append(site.say("The frame is fixed to slab and ceiling, not to the post."))
    remarks += landing_words(site, choices)
    return Work(tuple(parts), tuple(faces), anchors, _measures(posts[0], anchors), posts[0].x, tuple(remarks))


def _flats(stock: str, post: Wrapped) -> Iterator[Part]:
    thickness, width = true_size(stock) or (Fraction(0), Fraction(0))
    outer = post.half[0]
    inner = outer - thickness
    corners: tuple[tuple[Fraction, Fraction, Axis], ...] = (
        (-outer, -outer, "x"),
        (inner, -outer, "y"),
        (outer - width, inner, "x"),
        (-outer, outer - width, "y"),
    )
    for number, (x, y, wide) in enumerate(corners, 1):
        name = f"{post.name}, flat {number}"
        yield stick(name, "flat", stock, "z", post.framing, (post.x + x, post.y + y), wide)


def _frame(site: Site, choices: PostWrap, post: Wrapped) -> Iterator[Part]:
    """Yield uprights at the four corners, soles on the slab and ties between them, free of the post."""
    thick = (true_size(choices.framing) or (Fraction(0), Fraction(0)))[0]
    x, y = (post.x - post.half[0], post.x + post.half[0]), (post.y - post.half[1], post.y + post.half[1])
    bare = chase_sides(x, y, thick, ("low", "high", "back"))
    sides = tuple(replace(side, free=block_zones(site, choices, post, side)) for side in bare)
    for part in chase_framing(site, ChaseFrame(x, y, choices.framing, thick, post.framing[1], sides)):
        yield replace(part, name=f"{post.name}, {part.name}")
    yield from landing_blocks(site, choices, post, sides)


def _side(site: Site, choices: PostWrap, post: Wrapped, side: tuple[Axis, int]) -> tuple[tuple[Part, ...], Face]:
    """Return the board of one side, open where a half wall stands against it, and its finished face."""
    (axis, toward), thick = side, site.level.wall_board
    own, other = (post.half[1], post.half[0]) if axis == "y" else (post.half[0], post.half[1])
    half = other + thick if axis == "y" else other  # two boards lap the edges of the other two
    middle, at = (post.x, post.y + toward * own) if axis == "y" else (post.y, post.x + toward * own)
    way = looks(site.frame, axis, toward)
    name = f"{post.name}, {way} face"
    whole = Rectangle((middle - half, middle + half), post.boards)
    laid = sheets(name, axis, at, toward, whole, landing_holes(site, choices, post, way), thick)
    outline = rectangle(axis, **{"x" if axis == "y" else "y": whole.u, "z": whole.v})
    return laid, Face(name, axis, at + toward * thick, toward, outline, site.file.record.room)


def _anchors(site: Site, post: Wrapped) -> dict[str, Point]:
    board, (foot, top) = site.level.wall_board, post.boards
    level, (x, y) = (foot + top) / 2, post.half
    return {
        f"{post.name}: middle": Point(post.x, post.y, level),
        f"{post.name}: near face": Point(post.x, post.y - y - board, level),
        f"{post.name}: far face": Point(post.x, post.y + y + board, level),
        f"{post.name}: low face": Point(post.x - x - board, post.y, level),
        f"{post.name}: high face": Point(post.x + x + board, post.y, level),
        f"{post.name}: near flat": Point(post.x, post.y - y, level),
        f"{post.name}: far flat": Point(post.x, post.y + y, level),
        f"{post.name}: finished floor": Point(post.x, post.y, site.level.floor),
        f"{post.name}: top of the flats": Point(post.x, post.y, post.framing[1]),
        f"{post.name}: top of the board": Point(post.x, post.y, top),
    }


def _measures(post: Wrapped, anchors: dict[str, Point]) -> tuple[Measure, ...]:
    rows: tuple[tuple[str, str, str, str, Axis], ...] = (
        ("width over the board", "finished", "low face", "high face", "x"),
        ("depth over the board", "finished", "near face", "far face", "y"),
        ("depth of the framing", "framed", "near flat", "far flat", "y"),
        ("height over the floor", "finished", "finished floor", "top of the board", "z"),
    )
    name = post.name
    return tuple(measured(what, kind, anchors, f"{name}: {a}", f"{name}: {b}", axis) for what, kind, a, b, axis in rows)

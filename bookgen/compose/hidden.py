"""Hidden things and access points in, the words for where they are and how they are reached out."""

from __future__ import annotations

from fractions import Fraction

from bookgen.compose.caution import panels
from bookgen.compose.show import Show, sentence_case
from bookgen.model.assembly import HiddenThing
from bookgen.model.book import Fact, HiddenRow, Reach, RegisterRow, SignalPanel
from bookgen.model.geometry import AXES, Axis, Box, Rod
from bookgen.model.place import Place
from bookgen.model.problem import Severity
from bookgen.model.project import ObstacleFile, Project
from bookgen.model.records.obstacle import AccessPoint, Tie
from bookgen.model.solved import AccessSpot, Solved, SolvedLevel
from bookgen.trade.cautions import caution

TIE_CHECKS = frozenset({"tie-disagrees", "tie-through-wall"})


def whole_box(thing: HiddenThing) -> Box:
    """Return the box round all solids of a thing, on the level's axes."""
    boxes = [solid.bounds() for solid in thing.solids]
    whole = boxes[0]
    for box in boxes[1:]:
        whole = whole.joined(box)
    return whole


def hidden_rows(things: tuple[HiddenThing, ...], level: SolvedLevel, show: Show) -> tuple[HiddenRow, ...]:
    """Return a line for each hidden thing that may be named."""
    rows = []
    for thing in things:
        if not thing.what:
            continue
        rows.append(
            HiddenRow(thing.what, thing.trade, where(thing, level, show), show.known(thing.known), thing.known.how)
        )
    return tuple(rows)


def where(thing: HiddenThing, level: SolvedLevel, show: Show) -> str:
    """Return where a thing runs: its stretch east and north of the block faces and its height over the floor."""
    box = whole_box(thing)
    longest = max(AXES, key=box.size)
    low, high = box.low, box.high
    floor = level.floor
    middles: dict[Axis, Fraction] = {axis: (low.on(axis) + high.on(axis)) / 2 for axis in AXES}
    if longest == "z":
        return show.terms["where upright"].format(
            east=show.about(middles["x"]),
            north=show.about(middles["y"]),
            low=show.over_floor(low.z - floor),
            high=show.over_floor(high.z - floor),
        )
    side: Axis = "y" if longest == "x" else "x"
    key = "where along east" if longest == "x" else "where along north"
    return show.terms[key].format(
        stretch=show.stretch(low.on(longest), high.on(longest)),
        side=show.about(middles[side]),
        bottom=_bottom(thing, longest, floor, show),
    )


def _bottom(thing: HiddenThing, along: Axis, floor: Fraction, show: Show) -> str:
    """Return the height of the underside over the floor; of a pipe on a slope at both its ends, in their order."""
    ends = [(point.on(along), point.z - solid.radius) for solid in thing.solids if isinstance(solid, Rod)
            for point in (solid.start, solid.end)]  # fmt: skip
    first, last = (min(ends)[1], max(ends)[1]) if ends else (whole_box(thing).low.z,) * 2
    low, high = show.over_floor(first - floor), show.over_floor(last - floor)
    return low if low == high else show.terms["sloping bottom"].format(low=low, high=high)


def reach(point: AccessPoint, spot: AccessSpot, file: ObstacleFile, solved: Solved, show: Show) -> Reach:
    """Return how one access point is reached."""
    terms = show.terms
    ties = ties_words(good_ties(point, file, solved), solved.project, show)
    facts = [Fact(terms["from marks"], ties)] if ties else []
    facts.append(Fact(terms["height"], height_words(point, spot, show)))
    facts.append(Fact(terms["cover"], cover_words(point, show)))
    if point.cover.tool != "none":
        facts.append(Fact(terms["tool"], point.cover.tool))
    if point.keep_clear:
        facts.append(Fact(terms["keep clear"], point.keep_clear))
    facts.append(Fact(terms["known"], show.known(point.known)))
    return Reach(point.tag, point.what, point.trade_word or "", sentence_case(point.where), tuple(facts), point.steps)


def height_words(point: AccessPoint, spot: AccessSpot, show: Show) -> str:
    """Return how high a thing is over the floor; nothing precise where nobody has measured it."""
    if point.outside or point.known.how == "assumed":
        return show.terms["not measured"]
    return show.terms["above floor"].format(length=show.over_floor(spot.above_floor.inches))


def good_ties(point: AccessPoint, file: ObstacleFile, solved: Solved) -> tuple[Tie, ...]:
    """Return the ties that no check speaks against; a reader in a hurry must not follow a wrong one."""
    doubted = {place for place, _ in doubted_ties(file, solved)}
    number = file.record.access.index(point)
    places = solved.project.places
    return tuple(
        tie for index, tie in enumerate(point.ties)
        if places.of(file.file, "access", number, "ties", index) not in doubted
    )  # fmt: skip


def doubted_ties(file: ObstacleFile, solved: Solved) -> tuple[tuple[Place, str], ...]:
    """Return the place of each tie of a record that a check speaks against, and what it says."""
    return tuple(
        (finding.place, finding.says) for finding in solved.findings
        if finding.code in TIE_CHECKS and finding.severity is not Severity.WITHIN and finding.place.file == file.file
    )  # fmt: skip


def ties_words(ties: tuple[Tie, ...], project: Project, show: Show) -> str:
    """Return tape distances from marks in one line, with their notes."""
    parts = []
    for tie in ties:
        mark = project.record.marks[tie.from_]
        text = show.terms["tie"].format(length=show.length(tie.is_), mark=mark.what)
        parts.append(f"{text} ({tie.note})" if tie.note else text)
    return "; ".join(parts)


def cover_words(point: AccessPoint, show: Show) -> str:
    """Return a cover in one line: kind, size, how it opens."""
    kind = show.terms[f"cover {point.cover.kind}"]
    size = f"{show.size(point.cover.size)} " if point.cover.size else ""
    return f"{size}{kind}: {point.cover.opens}"


def register_rows(file: ObstacleFile, chapter: tuple[int, str], solved: Solved, show: Show) -> tuple[RegisterRow, ...]:
    """Return the register's lines for the access points of one record."""
    number, slug = chapter
    spots = {spot.tag: spot for spot in solved.obstacle(file.key).access}
    return tuple(
        RegisterRow(
            tag=point.tag,
            what=point.what,
            trade_word=point.trade_word or "",
            room=room_words(point, file, solved.project, show),
            where=point.where,
            height=height_words(point, spots[point.tag], show),
            ties=ties_words(good_ties(point, file, solved), solved.project, show),
            cover=cover_words(point, show),
            known=show.known(point.known),
            sure=point.known.how,
            chapter=slug,
            number=number,
            turn=point.shutoff.turn if point.shutoff else "",
            caution=_caution(point, file, show),
        )
        for point in file.record.access
    )


def room_words(point: AccessPoint, file: ObstacleFile, project: Project, show: Show) -> str:
    """Return the room that a thing is reached from, or that it is outside."""
    return show.terms["outside"] if point.outside else project.record.rooms[point.room or file.record.room].name


def _caution(point: AccessPoint, file: ObstacleFile, show: Show) -> SignalPanel | None:
    """Return the gravest caution of the record that is about this thing's own system; a notice is not for a tag."""
    about = []
    for one in file.record.cautions:
        row = caution(one.hazard)
        if row is not None and point.system in row.hidden:
            about.append(one)
    return next((panel for panel in panels(tuple(about), show) if panel.word != "NOTICE"), None)


def untagged_rows(
    things: tuple[HiddenThing, ...], chapter: tuple[int, str], room: str, level: SolvedLevel, show: Show
) -> tuple[RegisterRow, ...]:
    """Return the register's lines for hidden things that carry no tag."""
    number, slug = chapter
    return tuple(
        RegisterRow(
            tag="",
            what=thing.what,
            trade_word=thing.trade,
            room=room,
            where=where(thing, level, show),
            height="",
            ties="",
            cover="",
            known=show.known(thing.known),
            sure=thing.known.how,
            chapter=slug,
            number=number,
        )
        for thing in things
    )

"""Hidden things and access points in, the words for where they are and how they are reached out."""

from __future__ import annotations

from fractions import Fraction

from bookgen.compose.show import Show, sentence_case
from bookgen.model.assembly import HiddenThing
from bookgen.model.book import Fact, HiddenRow, Reach, RegisterRow
from bookgen.model.geometry import AXES, Axis, Box
from bookgen.model.project import Project
from bookgen.model.records.obstacle import AccessPoint, Tie
from bookgen.model.solved import AccessSpot, SolvedLevel, SolvedObstacle


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
            low=show.about(max(low.z - floor, 0 * floor)),
            high=show.about(high.z - floor),
        )
    side: Axis = "y" if longest == "x" else "x"
    key = "where along east" if longest == "x" else "where along north"
    return show.terms[key].format(
        stretch=show.stretch(low.on(longest), high.on(longest)),
        side=show.about(middles[side]),
        bottom=show.about(low.z - floor),
    )


def reach(point: AccessPoint, spot: AccessSpot, project: Project, show: Show) -> Reach:
    """Return how one access point is reached."""
    terms = show.terms
    facts = [Fact(terms["from marks"], ties_words(point.ties, project, show))] if point.ties else []
    facts.append(Fact(terms["height"], terms["above floor"].format(length=show.length(spot.above_floor))))
    facts.append(Fact(terms["cover"], cover_words(point, show)))
    if point.cover.tool != "none":
        facts.append(Fact(terms["tool"], point.cover.tool))
    if point.keep_clear:
        facts.append(Fact(terms["keep clear"], point.keep_clear))
    facts.append(Fact(terms["known"], show.known(point.known)))
    return Reach(point.tag, point.what, point.trade_word or "", sentence_case(point.where), tuple(facts), point.steps)


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


def register_rows(
    solved: SolvedObstacle,
    points: tuple[AccessPoint, ...],
    chapter: tuple[int, str],
    home: str,
    project: Project,
    show: Show,
) -> tuple[RegisterRow, ...]:
    """Return the register's lines for one obstacle: its access points, then its hidden things without a tag."""
    number, slug = chapter
    rooms = project.record.rooms
    spots = {spot.tag: spot for spot in solved.access}
    rows = []
    for point in points:
        room = rooms[point.room or home].name
        height = show.terms["above floor"].format(length=show.length(spots[point.tag].above_floor))
        ties = ties_words(point.ties, project, show)
        rows.append(
            RegisterRow(
                tag=point.tag,
                what=point.what,
                trade_word=point.trade_word or "",
                room=room,
                where=point.where,
                height=height,
                ties=ties,
                cover=cover_words(point, show),
                known=show.known(point.known),
                sure=point.known.how,
                chapter=slug,
                number=number,
            )
        )
    return tuple(rows)


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

"""Hidden things and access points in, the words for where they are and how they are reached out."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from bookgen.compose.caution import panels
from bookgen.compose.show import AT_THE_FLOOR, Show, sentence_case
from bookgen.compose.sighted import tied_by_photo
from bookgen.model.assembly import HiddenThing
from bookgen.model.book import Fact, HiddenRow, Reach, RegisterRow, SignalPanel
from bookgen.model.geometry import AXES, Axis, Box, Rod, distance_squared
from bookgen.model.length import MILLIMETRES_PER_INCH, Length
from bookgen.model.place import Place
from bookgen.model.problem import Severity
from bookgen.model.project import ObstacleFile, Project
from bookgen.model.records.obstacle import AccessPoint, Caution, Tie
from bookgen.model.solved import AccessSpot, Solved, SolvedLevel, SolvedRoom
from bookgen.trade.cautions import Doing, caution, cautions_for

TIE_CHECKS = frozenset({"tie-disagrees", "tie-through-wall"})
BESIDE = Fraction(6)  # inches beside a ceiling, in or on a chase that goes up through it, that still belong to it


def whole_box(thing: HiddenThing) -> Box:
    """Return the box round all solids of a thing, on the level's axes."""
    boxes = [solid.bounds() for solid in thing.solids]
    whole = boxes[0]
    for box in boxes[1:]:
        whole = whole.joined(box)
    return whole


def hidden_rows(things: tuple[HiddenThing, ...], room: SolvedRoom, solved: Solved, show: Show) -> tuple[HiddenRow, ...]:
    """Return a line for each hidden thing of a record of *room* that may be named."""
    return tuple(
        HiddenRow(
            what=thing.what,
            trade=thing.trade,
            where=_told(thing, room, solved, show),
            known=show.known(thing.known),
            sure=thing.known.how,
            key=thing.key,
        )
        for thing in things
        if thing.what
    )


def _told(thing: HiddenThing, room: SolvedRoom, solved: Solved, show: Show) -> str:
    """Return where a thing is and, after it, the best tapes to it."""
    tied = tied_words(thing.key, solved, show)
    return ". ".join(filter(None, (sentence_case(where(thing, room, solved.level, show)), tied)))


def where(thing: HiddenThing, room: SolvedRoom, level: SolvedLevel, show: Show) -> str:
    """Return where a thing runs, as somebody in the finished room tapes it: from its walls, and up from its floor."""
    show = show.of(thing.known)
    box = whole_box(thing)
    longest = max(AXES, key=box.size)
    low, high, floor = box.low, box.high, level.floor
    if longest == "z":
        return show.terms["where upright"].format(
            one=_off_wall("x", box, room, show),
            other=_off_wall("y", box, room, show),
            low=show.over_floor(low.z - floor),
            high=show.over_floor(high.z - floor),
        )
    side: Axis = "y" if longest == "x" else "x"
    start = room.outline.bounds()[0][0 if longest == "x" else 1]
    ends = (low.on(longest) - start, high.on(longest) - start)
    wall = show.terms["west" if longest == "x" else "south"]
    stretch = show.terms["stretch beyond" if ends[0] < 0 else "stretch from"].format(
        low=show.about(ends[0]), high=show.about(ends[1]), back=show.about(-ends[0]), wall=wall
    )
    return show.terms["where along"].format(
        stretch=stretch, side=_off_wall(side, box, room, show), bottom=_bottom(thing, longest, floor, show)
    )


def _off_wall(axis: Axis, box: Box, room: SolvedRoom, show: Show) -> str:
    """Return how far off the nearer wall of the room the middle of a box is; behind its face, where it lies there."""
    middle = (box.low.on(axis) + box.high.on(axis)) / 2
    first, last = (corner[0 if axis == "x" else 1] for corner in room.outline.bounds())
    names = ("west", "east") if axis == "x" else ("south", "north")
    off, name = min((middle - first, names[0]), (last - middle, names[1]), key=lambda one: abs(one[0]))
    key = "off the wall" if off >= 0 else "behind the wall"
    return show.terms[key].format(length=show.about(abs(off)), wall=show.terms[name])


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
    ties, tied = ties_words(good_ties(point, file, solved), solved.project, show), _tied(point, solved, show)
    facts = [Fact(terms[key], words) for key, words in (("from marks", ties), ("from the plan", tied)) if words]
    facts.append(Fact(terms["height"], height_words(point, spot, solved, show)))
    facts.append(Fact(terms["cover"], cover_words(point, show)))
    if point.cover.tool != "none":
        facts.append(Fact(terms["tool"], point.cover.tool))
    if point.keep_clear:
        facts.append(Fact(terms["keep clear"], point.keep_clear))
    facts.append(Fact(terms["known"], show.known(point.known)))
    return Reach(point.tag, point.what, point.trade_word or "", sentence_case(point.where), tuple(facts), point.steps)


def height_words(point: AccessPoint, spot: AccessSpot, solved: Solved, show: Show) -> str:
    """Return how high a thing is over the floor, and of a high one how far from the ceiling; nothing where unknown."""
    if point.outside or point.known.how == "assumed":
        return show.terms["not measured"]
    length = show.of(point.known).over_floor(spot.above_floor.inches)
    height = length if length == show.terms["at the floor"] else show.terms["above floor"].format(length=length)
    return "; ".join(filter(None, (height, _from_ceiling(spot, solved, show))))


def _from_ceiling(spot: AccessSpot, solved: Solved, show: Show) -> str:
    """Return how far below or above the finished face overhead a thing is that is nearer to it than to the floor."""
    over = [
        (distance_squared(face.outline, (spot.at.x, spot.at.y)), face.at)
        for face in solved.faces
        if face.overhead and face.sure
    ]
    away, ceiling = min(over, default=(BESIDE**2 + 1, spot.at.z))
    if away > BESIDE**2:
        return ""
    off = ceiling - spot.at.z
    if abs(off) >= spot.above_floor.inches:
        return ""
    if abs(off) < AT_THE_FLOOR:
        return show.terms["in ceiling"]
    return show.terms["below ceiling" if off >= 0 else "above ceiling"].format(length=show.about(abs(off)))


def tied_words(key: str, solved: Solved, show: Show) -> str:
    """Return the best tapes to a thing, worked out from its measured place, with how near they lead; "" for none."""
    found = next((one for one in solved.ties if one.key == key), None)
    if found is None:
        return ""
    choice = found.choice
    tapes = "; ".join(show.terms["tie"].format(length=show.length(tie.printed), mark=tie.what) for tie in choice.ties)
    how = show.terms["taped along"].format(wall=show.terms[choice.face]) if choice.face else ""
    side = "" if choice.face or len(choice.ties) > 2 else show.terms["tie side"].format(side=show.terms[choice.side])
    error = show.terms["tie error"].format(error=show.length(_up_to_step(choice.error, show)))
    return f"{', '.join(filter(None, (tapes, how, side)))}. {error}"


def _tied(point: AccessPoint, solved: Solved, show: Show) -> str:
    """Return the best tapes to an access point, and where a photo shows it."""
    return " ".join(filter(None, (tied_words(point.tag, solved, show), tied_by_photo(point.tag, solved, show))))


def _up_to_step(error: Length, show: Show) -> Length:
    """Return an error to expect in whole quarters of an inch or 5 mm, rounded up."""
    step = 5 / MILLIMETRES_PER_INCH if show.units == "metric" else Fraction(1, 4)
    return Length(ceil(error.inches / step) * step)


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
    """Return a cover in one line: kind, the size of one that is there, how it opens."""
    kind = show.terms[f"cover {point.cover.kind}"]
    size = f"{show.size(point.cover.size)} " if point.cover.size and point.cover.kind != "none" else ""
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
            height=height_words(point, spots[point.tag], solved, show),
            ties=ties_words(good_ties(point, file, solved), solved.project, show),
            cover=cover_words(point, show),
            known=show.known(point.known),
            sure=point.known.how,
            chapter=slug,
            number=number,
            turn=point.shutoff.turn if point.shutoff else "",
            caution=_caution(point, file, show),
            tied=_tied(point, solved, show),
            tool=point.cover.tool if point.cover.tool != "none" else "",
        )
        for point in file.record.access
    )


def room_words(point: AccessPoint, file: ObstacleFile, project: Project, show: Show) -> str:
    """Return the room that a thing is reached from, or that it is outside."""
    return show.terms["outside"] if point.outside else project.record.rooms[point.room or file.record.room].name


def _caution(point: AccessPoint, file: ObstacleFile, show: Show) -> SignalPanel | None:
    """Return the gravest caution about this thing's own system that the record names; a notice is not for a tag.

    Of a record that names no caution at all it is the gravest for whoever opens something of its kind and system.
    """
    about = []
    for one in file.record.cautions:
        row = caution(one.hazard)
        if row is not None and point.system in row.hidden:
            about.append(one)
    if not file.record.cautions:
        rows = (row for row in cautions_for(file.record.kind, Doing.OPEN) if Doing.OPEN in row.doing)
        about = [Caution(hazard=row.id) for row in rows if point.system in row.hidden]
    return next((panel for panel in panels(tuple(about), show) if panel.word != "NOTICE"), None)


def untagged_rows(
    things: tuple[HiddenThing, ...], chapter: tuple[int, str], room: SolvedRoom, solved: Solved, show: Show
) -> tuple[RegisterRow, ...]:
    """Return the register's lines for hidden things of a record of *room* that carry no tag."""
    number, slug = chapter
    return tuple(
        RegisterRow(
            tag="",
            what=thing.what,
            trade_word=thing.trade,
            room=room.name,
            where=where(thing, room, solved.level, show),
            height="",
            ties="",
            cover="",
            known=show.known(thing.known),
            sure=thing.known.how,
            chapter=slug,
            number=number,
            tied=tied_words(thing.key, solved, show),
            key=thing.key,
        )
        for thing in things
    )

"""What lies behind each face in, pages for `before you hang or drill` out; no depth from what nobody has confirmed."""

from __future__ import annotations

from fractions import Fraction

from bookgen.compose.show import Show
from bookgen.model.book import FacePage, FaceRow
from bookgen.model.length import Length
from bookgen.model.solved import Behind, FaceBehind, Solved, SolvedRoom

SURE = frozenset({"measured", "photo"})


def face_pages(solved: Solved, slugs: dict[str, str], show: Show) -> tuple[FacePage, ...]:
    """Return a page for each face that looks into a room; *slugs* leads from an obstacle's key to its chapter.

    Faces behind which nothing is recorded and whose framing nobody has confirmed stand together, one page a room.
    """
    order = list(slugs)
    pages: list[FacePage] = []
    for room in solved.rooms:
        faces = [face for face in solved.faces if face.room == room.key]
        faces.sort(key=lambda face: (order.index(face.obstacle) if face.obstacle in order else len(order), face.name))
        pages += [_page(face, room, slugs.get(face.obstacle, ""), solved, show) for face in faces if _tells(face)]
        silent = [face.name for face in faces if not _tells(face)]
        if silent:
            summary = show.terms["nothing behind"].format(faces="; ".join(silent))
            pages.append(FacePage(show.terms["other faces"], room.name, summary, (), ""))
    return tuple(pages)


def _tells(face: FaceBehind) -> bool:
    return bool(face.things) or bool(face.members and face.members_known.how in SURE)


def _page(face: FaceBehind, room: SolvedRoom, chapter: str, solved: Solved, show: Show) -> FacePage:
    edges = _edges(face, room, solved)
    rows = tuple(_row(thing, edges, show) for thing in face.things)
    ends = show.terms[f"from {'west' if face.along_way == 'east' else 'south'} end"]
    up = show.terms["from south end"] if face.overhead else show.terms["up"]
    return FacePage(_title(face, show), room.name, _members(face, edges, (ends, up), show), rows, chapter, ends, up)


def _edges(face: FaceBehind, room: SolvedRoom, solved: Solved) -> tuple[Fraction, Fraction]:
    """Return where a tape starts, along and up: the edge of the face, or the finished corner that ends it sooner."""
    (west, south), _ = room.outline.bounds()
    along = max(face.along[0], west if face.along_way == "east" else south)
    return along, max(face.up[0], south) if face.overhead else solved.level.floor


def _title(face: FaceBehind, show: Show) -> str:
    long = show.about(face.along[1] - face.along[0])
    return show.terms["face title"].format(name=face.name, long=long)


def _row(thing: Behind, edges: tuple[Fraction, Fraction], show: Show) -> FaceRow:
    sure = thing.known.how in SURE
    along, up = (
        (max(low - edge, 0 * edge), high - edge)
        for (low, high), edge in zip((thing.along, thing.up), edges, strict=True)
    )
    return FaceRow(
        what=f"{thing.what} ({thing.trade})" if thing.trade else thing.what,
        along=show.stretch(*along),
        up=show.stretch(*up),
        depth=show.length(Length(thing.depth)) if sure else show.terms["depth unknown"],
        known=show.known(thing.known),
        sure=thing.known.how,
    )


def _members(face: FaceBehind, edges: tuple[Fraction, Fraction], ends: tuple[str, str], show: Show) -> str:
    """Return where the studs, rungs or strips are; nothing that a screw may trust where nobody has confirmed it.

    Edges and ends are those along the face and up it; members that lie along it are taped up it.
    """
    edge, end = (edges[1], ends[1]) if face.members_lie else (edges[0], ends[0])
    if not face.members:
        return show.terms["no members"]
    if face.members_known.how not in SURE:
        return show.terms["members planned"]
    places = ", ".join(show.about(member - edge) for member in face.members if member >= edge)
    return show.terms["members"].format(places=places, ends=end.lower())

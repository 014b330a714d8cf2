"""What lies behind each face in, pages for `before you hang or drill` out; no depth from what nobody has confirmed."""

from __future__ import annotations

from bookgen.compose.show import Show
from bookgen.model.book import FacePage, FaceRow
from bookgen.model.length import Length
from bookgen.model.solved import Behind, FaceBehind, Solved

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
        pages += [_page(face, room.name, slugs.get(face.obstacle, ""), solved, show) for face in faces if _tells(face)]
        silent = [face.name for face in faces if not _tells(face)]
        if silent:
            summary = show.terms["nothing behind"].format(faces="; ".join(silent))
            pages.append(FacePage(show.terms["other faces"], room.name, summary, (), ""))
    return tuple(pages)


def _tells(face: FaceBehind) -> bool:
    return bool(face.things) or bool(face.members and face.members_known.how in SURE)


def _page(face: FaceBehind, room: str, chapter: str, solved: Solved, show: Show) -> FacePage:
    rows = tuple(_row(thing, face, solved, show) for thing in face.things)
    return FacePage(face.name, room, _members(face, show), rows, chapter)


def _row(thing: Behind, face: FaceBehind, solved: Solved, show: Show) -> FaceRow:
    sure = thing.known.how in SURE
    floor = 0 * solved.level.floor if face.overhead else solved.level.floor
    what = f"{thing.what} ({thing.trade})" if thing.trade else thing.what
    return FaceRow(
        what=what,
        along=show.stretch(*thing.along),
        up=show.stretch(max(thing.up[0] - floor, 0 * floor), thing.up[1] - floor),
        depth=show.length(Length(thing.depth)) if sure else show.terms["depth unknown"],
        known=show.known(thing.known),
        sure=thing.known.how,
    )


def _members(face: FaceBehind, show: Show) -> str:
    """Return where the studs, rungs or strips are; nothing that a screw may trust where nobody has confirmed it."""
    if not face.members:
        return show.terms["no members"]
    if face.members_known.how not in SURE:
        return show.terms["members planned"]
    places = ", ".join(show.about(member) for member in face.members)
    return show.terms["members"].format(places=places)

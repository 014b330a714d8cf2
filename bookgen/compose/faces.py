"""What lies behind each face in, pages for `before you hang or drill` out; no depth from what nobody has confirmed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from bookgen.compose.chapters import Source
from bookgen.compose.decided import otherwise
from bookgen.compose.show import Show
from bookgen.model.behind import Behind, FaceBehind, is_sure, letter, told_depth
from bookgen.model.book import Chapter, FacePage, FaceRow, Picture
from bookgen.model.sketch import Sketch
from bookgen.model.solved import SolvedLevel, SolvedRoom


def face_pages(
    source: Source, slugs: dict[str, str], chapters: tuple[Chapter, ...], sketches: tuple[Sketch | None, ...]
) -> tuple[FacePage, ...]:
    """Return a page for each face that looks into a room; *slugs* leads from an obstacle's key to its chapter.

    *sketches* are those of the faces of the solved level, in their order, or none. Faces behind which nothing is
    recorded and whose framing nobody has confirmed stand together, one page a room.
    """
    order, solved, show = list(slugs), source.solved, source.album.show
    drawn = sketches or (None,) * len(solved.faces)
    walls = {face.name: one for one in solved.level.linings for face in one.faces}
    told_of = {one.title: (*one.remarks, *otherwise(one, show)) for one in solved.level.linings}
    pages: list[FacePage] = []
    for room in solved.rooms:
        faces = [(face, sketch) for face, sketch in zip(solved.faces, drawn, strict=True) if face.room == room.key]
        faces.sort(key=lambda one: (_place(one[0].obstacle, order), one[0].name))
        told = [
            replace(
                _page(face, room, slugs.get(face.obstacle, ""), solved.level, show),
                sketch=sketch,
                told=() if face.obstacle else told_of[walls[face.name].title],
            )
            for face, sketch in faces
            if _tells(face)
        ]
        pages += _pictured(told, chapters)
        silent = [face.name for face, _ in faces if not _tells(face)]
        if silent:
            summary = show.terms["nothing behind"].format(faces="; ".join(map(show.name, silent)))
            titles = dict.fromkeys(walls[name].title for name in silent if name in walls)
            told_too = tuple(f"{show.name(title)}: {words}" for title in titles for words in told_of[title])
            pages.append(FacePage(show.terms["other faces"], room.name, summary, (), "", told=told_too))
    return tuple(pages)


def _place(obstacle: str, order: list[str]) -> int:
    return order.index(obstacle) if obstacle in order else len(order)


def _pictured(pages: Iterable[FacePage], chapters: tuple[Chapter, ...]) -> list[FacePage]:
    """Return the pages of a room, the first of each chapter with the photo of what is behind its faces."""
    pictures: dict[str, Picture | None] = {chapter.slug: chapter.framed_hero or chapter.hero for chapter in chapters}
    return [replace(page, picture=pictures.pop(page.chapter, None)) for page in pages]


def _tells(face: FaceBehind) -> bool:
    return bool(face.things) or bool(face.framing and face.sure)


def _page(face: FaceBehind, room: SolvedRoom, chapter: str, level: SolvedLevel, show: Show) -> FacePage:
    edges = _edges(face, room, level)
    rows = tuple(_row(thing, letter(number), face, edges, show) for number, thing in enumerate(face.things))
    ends = show.terms[f"from {'west' if face.along_way == 'east' else 'south'} end"]
    up = show.terms["from south end"] if face.overhead else show.terms["up"]
    return FacePage(
        title=_title(face, show),
        room=room.name,
        summary=_framing(face, edges, (ends, up), show),
        rows=rows,
        chapter=chapter,
        along_head=ends,
        up_head=up,
        screw=_screw(face, show),
    )


def _edges(face: FaceBehind, room: SolvedRoom, level: SolvedLevel) -> tuple[Fraction, Fraction]:
    """Return where a tape starts, along and up: the edge of the face, or the finished corner that ends it sooner."""
    (west, south), _ = room.outline.bounds()
    along = max(face.along[0], west if face.along_way == "east" else south)
    return along, max(face.up[0], south) if face.overhead else level.floor


def _title(face: FaceBehind, show: Show) -> str:
    long = show.about(face.along[1] - face.along[0])
    return show.terms["face title"].format(name=show.name(face.name), long=long)


def _row(thing: Behind, mark: str, face: FaceBehind, edges: tuple[Fraction, Fraction], show: Show) -> FaceRow:
    """Return the line of one thing; its depth only where both it and the face are where they are said to be."""
    along, up = (
        (max(low - edge, 0 * edge), high - edge)
        for (low, high), edge in zip((thing.along, thing.up), edges, strict=True)
    )
    told = is_sure(thing.known) and face.sure
    depth = show.length(told_depth(thing.depth, metric=show.units == "metric"))
    return FaceRow(
        what=f"{thing.what} ({thing.trade})" if thing.trade else thing.what,
        along=show.stretch(*along),
        up=show.stretch(*up),
        depth=depth if told else show.terms["depth unknown"],
        known=show.known(thing.known),
        sure=thing.known.how,
        mark=mark,
    )


def _screw(face: FaceBehind, show: Show) -> str:
    """Return how long a screw may be outside the barred parts, or why that is not told."""
    if face.screw is not None:
        return show.terms["screw" if face.barred else "screw anywhere"].format(length=show.length(face.screw))
    return show.terms[f"no screw {face.no_screw}"].format(things="; ".join(face.unsure))


def _framing(face: FaceBehind, edges: tuple[Fraction, Fraction], heads: tuple[str, str], show: Show) -> str:
    """Return where the wood behind the board is; nothing that a screw may trust where nobody has confirmed it."""
    if not face.framing:
        return show.terms["no members"]
    if not face.sure:
        return show.terms["members planned"]
    told = []
    for upright, edge, head in ((True, edges[0], heads[0]), (False, edges[1], heads[1])):
        middles = sorted({one.middle for one in face.framing if one.upright is upright and one.middle >= edge})
        if middles:
            places = ", ".join(dict.fromkeys(show.about(middle - edge) for middle in middles))
            told.append(show.terms["uprights" if upright else "rows"].format(places=places, ends=head.lower()))
    return " ".join((*told, show.terms["find the framing"]))

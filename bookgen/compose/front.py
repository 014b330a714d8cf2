"""Access points that stop a supply in, the shutoffs page out; with what to do when something is wrong."""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.compose.chapters import Gathered, Source, panel_of
from bookgen.compose.hidden import cover_words, ties_words
from bookgen.model.book import EmergencyNote, Fact, Picture, ShutoffPanel
from bookgen.model.project import ObstacleFile
from bookgen.model.records.obstacle import AccessPoint, Shutoff

SUPPLIES = ("water", "gas", "electric")


def shutoffs(gathered: tuple[Gathered, ...], source: Source) -> tuple[ShutoffPanel, ...]:
    """Return the panels of the first page: water, gas, electric; the one to close first stands first."""
    panels = [panel for one in gathered for panel in _panels(one, source)]
    return tuple(sorted(panels, key=lambda p: (SUPPLIES.index(p.supply), not p.first, p.tag)))


def emergencies(source: Source) -> tuple[EmergencyNote, ...]:
    """Return what to do when something is wrong, from the fixed words of the language."""
    return tuple(
        EmergencyNote(one.title, one.steps, panel_of(one.caution) if one.caution else None)
        for one in source.album.show.terms.emergencies
    )


def _panels(gathered: Gathered, source: Source) -> Iterator[ShutoffPanel]:
    for file in gathered.files:
        for point in file.record.access:
            if point.shutoff:
                yield _panel(point, point.shutoff, file, gathered, source)


def _panel(
    point: AccessPoint, shutoff: Shutoff, file: ObstacleFile, gathered: Gathered, source: Source
) -> ShutoffPanel:
    show, project = source.album.show, source.solved.project
    room = project.record.rooms[point.room or file.record.room].name
    facts = [Fact(show.terms["room"], room), Fact(show.terms["where"], point.where)]
    facts.append(Fact(show.terms["cover"], cover_words(point, show)))
    if point.ties:
        facts.append(Fact(show.terms["from marks"], ties_words(point.ties, project, show)))
    return ShutoffPanel(
        supply=shutoff.of,
        title=show.terms[f"supply {shutoff.of}"],
        tag=point.tag,
        what=point.what,
        stops=shutoff.stops,
        turn=shutoff.turn,
        tool=shutoff.tool if shutoff.tool != "none" else "",
        way=shutoff.get_there,
        never=shutoff.never,
        facts=tuple(facts),
        picture=_picture(file, source),
        chapter=gathered.slug,
        first=shutoff.first,
    )


def _picture(file: ObstacleFile, source: Source) -> Picture | None:
    photos = file.record.photos
    for phase, uses in (("finished", photos.finished[::-1]), ("framed", photos.framed), ("before", photos.before)):
        if uses:
            return source.album.picture(uses[0], phase)
    return None

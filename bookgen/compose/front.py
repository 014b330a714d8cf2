"""Access points that stop a supply in, the shutoffs page out; with what to do when something is wrong."""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.compose.caution import panel_of
from bookgen.compose.chapters import PHASES, Gathered, Source
from bookgen.compose.hidden import cover_words, good_ties, room_words, ties_words
from bookgen.compose.show import sentence_case
from bookgen.model.book import EmergencyNote, Fact, Picture, ShutoffPanel
from bookgen.model.project import ObstacleFile, Project
from bookgen.model.records.obstacle import AccessPoint, Shutoff

SUPPLIES = ("water", "gas", "electric")


def shutoffs(gathered: tuple[Gathered, ...], source: Source) -> tuple[ShutoffPanel, ...]:
    """Return the panels of the first page: water, gas, electric; the one to close first stands first."""
    panels = [panel for one in gathered for panel in _panels(one, source)]
    return tuple(sorted(panels, key=lambda p: (SUPPLIES.index(p.supply), not p.first, p.tag)))


def emergencies(source: Source) -> tuple[EmergencyNote, ...]:
    """Return what to do when something is wrong, from the fixed words of the language, with whom to call."""
    project = source.solved.project
    kinds = {file.record.kind for file in project.obstacles}
    there = kinds | {thing.system for obstacle in source.solved.obstacles for thing in obstacle.hidden}
    return tuple(
        EmergencyNote(
            one.title,
            (*one.steps, *_people(one.roles, project)),
            panel_of(one.caution, source.album.show) if one.caution and one.about in there else None,
        )
        for one in source.album.show.terms.emergencies
    )


def unrecorded(panels: tuple[ShutoffPanel, ...], source: Source) -> tuple[str, ...]:
    """Return a sentence for each supply without a first shutoff; for gas only where the house has gas."""
    there = {thing.system for obstacle in source.solved.obstacles for thing in obstacle.hidden}
    wanted = [supply for supply in SUPPLIES if supply != "gas" or "gas" in there]
    known = {panel.supply for panel in panels if panel.first}
    return tuple(source.album.show.terms[f"unrecorded {supply}"] for supply in wanted if supply not in known)


def _people(roles: tuple[str, ...], project: Project) -> Iterator[str]:
    for person in project.record.people:
        if person.role.casefold() in roles and person.phone:
            yield f"{person.role}: {person.name}, {person.phone}."


def _panels(gathered: Gathered, source: Source) -> Iterator[ShutoffPanel]:
    for file in gathered.files:
        for point in file.record.access:
            if point.shutoff:
                yield _panel(point, point.shutoff, file, gathered, source)


def _panel(
    point: AccessPoint, shutoff: Shutoff, file: ObstacleFile, gathered: Gathered, source: Source
) -> ShutoffPanel:
    show, project = source.album.show, source.solved.project
    facts = [Fact(show.terms["room"], room_words(point, file, project, show)), Fact(show.terms["where"], point.where)]
    facts.append(Fact(show.terms["cover"], cover_words(point, show)))
    ties = ties_words(good_ties(point, file, source.solved), project, show)
    if ties:
        facts.append(Fact(show.terms["from marks"], ties))
    facts.append(Fact(show.terms["known"], show.known(point.known)))
    return ShutoffPanel(
        supply=shutoff.of,
        title=show.terms[f"supply {shutoff.of}"],
        warning=show.terms["gas first"] if shutoff.of == "gas" else "",
        tag=point.tag,
        what=point.what,
        stops=shutoff.stops,
        turn=shutoff.turn,
        tool=shutoff.tool if shutoff.tool != "none" else "",
        way=shutoff.get_there,
        never=shutoff.never,
        facts=tuple(facts),
        picture=_picture(shutoff, file, source),
        chapter=gathered.slug,
        first=shutoff.first,
        place=sentence_case(point.where) if point.outside else f"{facts[0].words}: {point.where}",
    )


def _picture(shutoff: Shutoff, file: ObstacleFile, source: Source) -> Picture | None:
    """Return the photo that shows the shutoff; none where the record names none, since a wrong one misleads."""
    for phase in PHASES:
        for use in getattr(file.record.photos, phase):
            if use.file == shutoff.picture:
                return source.album.picture(use, phase)
    return None

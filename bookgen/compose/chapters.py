"""Obstacle records with what was worked out in, chapters of the book out: one for each obstacle or gathered title."""

from __future__ import annotations

import datetime
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, replace

from bookgen.compose.caution import Warned, blocked, groups, warned_by
from bookgen.compose.charts import run_charts
from bookgen.compose.checks import chapter_rows
from bookgen.compose.decided import line_rows, otherwise
from bookgen.compose.for_later import found_for_later
from bookgen.compose.hidden import doubted_ties, hidden_rows, reach
from bookgen.compose.material import cut_rows, material_rows, summary
from bookgen.compose.notes import blocks
from bookgen.compose.pictures import Album
from bookgen.compose.seeing import before_after, see_throughs
from bookgen.compose.show import sentence_case
from bookgen.compose.upkeep import upkeep_rows
from bookgen.model.book import Chapter, Edition, Fact, Phase, Picture
from bookgen.model.project import ObstacleFile
from bookgen.model.records.obstacle import PhotoUse
from bookgen.model.sketch import Sketch
from bookgen.model.solved import Solved, SolvedObstacle

PHASES = ("before", "framed", "finished")


@dataclass(frozen=True, slots=True)
class Source:
    """What chapters are made from: the solved project as the edition may know it, its sketches, its album.

    *ties* are small plans with the tapes to access points, by tag.
    """

    solved: Solved
    sketches: Mapping[str, tuple[Sketch, ...]]
    album: Album
    edition: Edition
    ties: Mapping[str, Sketch]


@dataclass(frozen=True, slots=True)
class Gathered:
    """The records of one chapter, with its number, slug and title."""

    number: int
    slug: str
    title: str
    files: tuple[ObstacleFile, ...]


def gather(files: tuple[ObstacleFile, ...]) -> tuple[Gathered, ...]:
    """Return chapters in the order of the files; records with the same `chapter:` stand together at the first."""
    groups: dict[str, list[ObstacleFile]] = {}
    for file in files:
        groups.setdefault(file.record.chapter or file.record.obstacle, []).append(file)
    gathered: list[Gathered] = []
    for number, (title, group) in enumerate(groups.items(), start=1):
        taken = {one.slug for one in gathered}
        name = slug(title) if slug(title) not in taken else f"{slug(title)}-{number}"
        gathered.append(Gathered(number, name, title, tuple(group)))
    return tuple(gathered)


def slug(title: str) -> str:
    """Return a title as a short file name of plain letters."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    words = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")
    return words[:40].rstrip("-") or "chapter"


def told_once(phases: tuple[Phase, ...]) -> tuple[Phase, ...]:
    """Return the phases without a finished photo that is all there is: the chapter opens with it, words and all.

    One with marks stays, since they are shown where the whole of it is.
    """
    pictures = [picture for phase in phases for picture in phase.pictures]
    if len(pictures) == 1 and pictures[0].phase == "finished" and not pictures[0].marks:
        return tuple(replace(phase, pictures=()) for phase in phases)
    return phases


def chapter(gathered: Gathered, source: Source) -> Chapter:
    """Return one chapter."""
    solved, show = source.solved, source.album.show
    records = [file.record for file in gathered.files]
    worked = [solved.obstacle(file.key) for file in gathered.files]
    rooms = {room.key: room.name for room in solved.rooms}
    phases = tuple(_phase(name, gathered, source) for name in PHASES)
    several = sum(1 for one in worked if one.assembly) > 1
    shown = tuple(phase for phase in told_once(phases) if phase.pictures or phase.note)
    trade = source.edition is Edition.TRADE
    return Chapter(
        number=gathered.number,
        slug=gathered.slug,
        title=gathered.title,
        sentence=records[0].sentence,
        room=", ".join(dict.fromkeys(rooms[record.room] for record in records)),
        treatment=_treatments(worked, source),
        hero=_first(phases, "finished"),
        framed_hero=_first(phases, "framed"),
        sketches=tuple(sketch for file in gathered.files for sketch in source.sketches.get(file.key, ())),
        reaches=tuple(
            replace(
                reach(point, next(s for s in one.access if s.tag == point.tag), file, solved, show),
                sketch=source.ties.get(point.tag),
            )
            for file, one in zip(gathered.files, worked, strict=True)
            for point in file.record.access
        ),
        hidden=tuple(
            row
            for record, one in zip(records, worked, strict=True)
            for row in hidden_rows(one.hidden, solved.room(record.room), solved, show)
        ),
        cautions=groups(_warned(gathered.files, source), show),
        upkeep=tuple(
            row
            for file in gathered.files
            for row in upkeep_rows(file.record.upkeep, gathered.slug, solved.project, show, file.key)
        ),
        sizes=tuple(dict.fromkeys(fact for one in worked for fact in _sizes(one, source, several=several))),
        facts=(*(record.sentence for record in records[1:]), *(words for record in records for words in record.facts)),
        questions=_questions(gathered.files, source),
        differences=tuple(words for one in worked if one.assembly for words in otherwise(one.assembly, show)),
        phases=shown,
        materials=material_rows(tuple(m for record in records for m in record.materials)),
        summary=summary({file.key for file in gathered.files}, solved, show) if solved.takeoff.pieces else (),
        cut_list=cut_rows({file.key for file in gathered.files}, solved, show) if trade else (),
        checks=chapter_rows(solved.findings, {file.file for file in gathered.files}, show) if trade else (),
        see_throughs=see_throughs({file.key for file in gathered.files}, source.album),
        before_after=before_after(_first(phases, "before"), _first(phases, "finished")),
        reasons=tuple(dict.fromkeys(words for one in worked if one.assembly for words in one.assembly.remarks)),
        lines=line_rows((one.assembly for one in worked if one.assembly), show) if trade else (),
        charts=() if source.edition is Edition.SAMPLE else run_charts(gathered.files, solved, show),
    )


def _warned(files: tuple[ObstacleFile, ...], source: Source) -> tuple[Warned, ...]:
    """Return the cautions of a chapter: its records' own, and in the owner's book what the checks found for later."""
    named = warned_by((file.record for file in files), source.solved.project.record.house.built)
    worked = (source.solved.obstacle(file.key).assembly for file in files)
    named += blocked(one for one in worked if one is not None)
    if source.edition is not Edition.OWNER:
        return named
    return (*named, *found_for_later(source.solved, {file.file for file in files}, source.album.show))


def _questions(files: tuple[ObstacleFile, ...], source: Source) -> tuple[str, ...]:
    """Return what is still open: the records' own questions, and the ties that were left out."""
    form = source.album.show.terms["tie left out"]
    terms = source.album.show.terms
    asked = [terms["undecided"].format(what=file.record.obstacle) for file in files if file.record.undecided]
    asked += [words for file in files for words in file.record.questions]
    return (*asked, *(form.format(says=says) for file in files for _, says in doubted_ties(file, source.solved)))


def _treatments(worked: list[SolvedObstacle], source: Source) -> str:
    terms = source.album.show.terms
    names = [one.assembly.treatment for one in worked if one.assembly]
    return ", ".join(terms[f"treatment {name}"] for name in dict.fromkeys(names))


def days(gathered: Gathered, album: Album) -> dict[str, tuple[datetime.date, ...]]:
    """Return the days of a chapter's photos by phase, as far as they are known."""
    found: dict[str, tuple[datetime.date, ...]] = {}
    for name in PHASES:
        uses = (use for file in gathered.files for use in getattr(file.record.photos, name))
        found[name] = tuple(day for use in uses if (day := album.day(use)))
    return found


def _first(phases: tuple[Phase, ...], name: str) -> Picture | None:
    return next((picture for phase in phases if phase.name == name for picture in phase.pictures), None)


def _phase(name: str, gathered: Gathered, source: Source) -> Phase:
    album, terms = source.album, source.album.show.terms
    pictures: dict[str, Picture] = {}
    notes = []
    days = []
    for file in gathered.files:
        uses: tuple[PhotoUse, ...] = getattr(file.record.photos, name)
        for use in uses:
            picture = album.picture(use, name)
            pictures.setdefault(picture.digest, picture)
            days.append(album.day(use))
        note = getattr(file.record.notes, name, None) if file.record.notes else None
        if note:
            notes += list(blocks(source.solved.project.notes[note]))
    known_days = sorted(day for day in days if day)
    date = album.show.day(known_days[0]) if known_days else ""
    return Phase(name, terms[f"phase {name}"], date, tuple(pictures.values()), tuple(notes))


def _sizes(one: SolvedObstacle, source: Source, *, several: bool) -> list[Fact]:
    if one.assembly is None:
        return []
    show = source.album.show.of(one.assembly.known)
    of = f"{show.terms[f'treatment {one.assembly.treatment}']}, " if several else ""
    facts = [
        Fact(sentence_case(f"{of}{show.name(measure.name)}"), show.size_of(measure.value))
        for measure in one.assembly.measures
        if measure.kind == "finished" or (measure.kind == "framed" and source.edition is Edition.TRADE)
    ]
    if one.headroom is not None:
        clear = show.terms["above floor"].format(length=show.size_of(one.headroom))
        facts.append(Fact(sentence_case(f"{of}{show.terms['headroom'].lower()}"), clear))
    facts.append(Fact(sentence_case(f"{of}{show.terms['framing known'].lower()}"), show.known(one.assembly.known)))
    return facts

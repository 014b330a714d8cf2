"""A project folder in; the whole project out, or every Problem in it, found in one run."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Generic

from bookgen.model.frozen import dataclass
from bookgen.model.memory import NO_MEMORY, Memory
from bookgen.model.place import Place
from bookgen.model.problem import Problem
from bookgen.model.project import ObstacleFile, Places, Plain, Project, Step
from bookgen.model.records import Obstacle, Prices
from bookgen.model.records import Project as ProjectRecord
from bookgen.read.attachments import notes_of, photos_of
from bookgen.read.folder import RecordFile, obstacle_files, prices_file, project_file
from bookgen.read.languages import in_language, language_of
from bookgen.read.paper_files import papers_of
from bookgen.read.photo_points import point_problems
from bookgen.read.prices import price_problems
from bookgen.read.references import reference_problems
from bookgen.read.sense import sense_problems
from bookgen.read.shape import AnyRecord, record_of
from bookgen.read.sizes import size_problems
from bookgen.read.source import Source
from bookgen.read.text import read_text
from bookgen.read.tree import source_of


@dataclass(frozen=True, slots=True)
class _ReadFile(Generic[AnyRecord]):
    """What became of one record file; *source* is None where nothing could be read, *record* where it is wrong.

    *written* is what it says in all its languages, *missed* are the places of texts that the book's language lacks.
    """

    file: RecordFile
    source: Source | None
    record: AnyRecord | None
    problems: tuple[Problem, ...]
    written: Plain = ""
    missed: tuple[Place, ...] = ()


def read(folder: Path, memory: Memory = NO_MEMORY) -> tuple[Project | None, tuple[Problem, ...]]:
    """Return the project of *folder*, or None and every Problem in its files, sorted by place.

    Every file is looked at, whatever is wrong with the others; of a file with a syntax error only that is told, since
    the rest of it can't be known. Raises OSError where a file of the project can't be opened.
    """
    found, problems = project_file(folder)
    files, stray = obstacle_files(folder)
    main = _record_file(found, ProjectRecord, None, memory) if found else None
    language = language_of(main.source if main else None)
    others = tuple(_record_file(file, Obstacle, language, memory) for file in files)
    listed, price_stray = prices_file(folder)
    prices = _record_file(listed, Prices, language, memory) if listed else None
    source = main.source if main else None
    sources = tuple(other.source for other in others if other.source)
    photos, photo_problems = photos_of(folder, source, sources)
    notes, note_problems = notes_of(folder, sources)
    papers, paper_problems = papers_of(folder, source)
    whole = len(sources) == len(others) and not any(one.spoilt for one in sources)
    every = {
        *problems,
        *stray,
        *price_stray,
        *(main.problems if main else ()),
        *(problem for other in others for problem in other.problems),
        *(prices.problems if prices else ()),
        *price_problems(prices.source if prices else None),
        *reference_problems(source, sources, whole=whole),
        *size_problems(source, sources),
        *sense_problems(source, sources),
        *photo_problems,
        *point_problems(sources, photos),
        *note_problems,
        *paper_problems,
    }
    if every or main is None or main.record is None:
        return None, tuple(sorted(every))
    obstacles = tuple(ObstacleFile(one.file.key, one.file.file, one.record) for one in others if one.record)
    written = {**{one.file.file: one.written for one in others}, main.file.file: main.written}
    missed = tuple(place for places_missed in (main.missed, *(one.missed for one in others)) for place in places_missed)
    places = _places(*sources, *((source,) if source else ()))
    asked = prices.record if prices else None
    return Project(
        folder, folder.resolve().name, main.record, obstacles, photos, notes, places, written, asked, papers, missed
    ), ()


def book_language(folder: Path) -> str:
    """Return the language that a project's book is in, whatever else is wrong there; English where it can't be told."""
    found, _ = project_file(folder)
    return language_of(_record_file(found, ProjectRecord, None, NO_MEMORY).source if found else None)


def _record_file(file: RecordFile, kind: type[AnyRecord], language: str | None, memory: Memory) -> _ReadFile[AnyRecord]:
    """Return one file read; without a *language* it is the project record, which says itself in which the book is."""
    text, problems = read_text(file.path, file.file)
    if text is None:
        return _ReadFile(file, None, None, problems)
    said = memory.once(
        "record", (file.file, kind.__name__, language, text), tuple, lambda: _said(text, file.file, kind, language)
    )
    parts, record, form, written, missed = said
    return _ReadFile(file, Source(*parts) if parts else None, record, (*problems, *form), written, missed)


def _said(text: str, file: str, kind: type[AnyRecord], language: str | None) -> tuple[Any, ...]:
    """Return what a text says, in nouns: the parts of its source, its record, what is wrong, `written` and `missed`."""
    source, form = source_of(text, file)
    if source is None:
        return (), None, form, "", ()
    written = source.plain
    source, missed = in_language(source, language or language_of(source))
    record, wrong = record_of(source, kind)
    parts = (source.file, source.plain, source.values, source.keys, source.spoilt)
    return parts, record, (*form, *wrong), written, missed


def _places(*sources: Source) -> Places:
    known: dict[tuple[str, tuple[Step, ...]], Place] = {}
    for source in sources:
        known.update(((source.file, path), place) for path, place in source.values.items())
    return Places(known)

"""A project folder in; the whole project out, or every Problem in it, found in one run."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Generic

from bookgen.model.place import Place
from bookgen.model.problem import Problem
from bookgen.model.project import ObstacleFile, Places, Project, Step
from bookgen.model.records import Obstacle, Prices
from bookgen.model.records import Project as ProjectRecord
from bookgen.read.attachments import notes_of, photos_of
from bookgen.read.folder import RecordFile, obstacle_files, prices_file, project_file
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
    """What became of one record file; *source* is None where nothing could be read, *record* where it is wrong."""

    file: RecordFile
    source: Source | None
    record: AnyRecord | None
    problems: tuple[Problem, ...]


def read(folder: Path) -> tuple[Project | None, tuple[Problem, ...]]:
    """Return the project of *folder*, or None and every Problem in its files, sorted by place.

    Every file is looked at, whatever is wrong with the others; of a file with a syntax error only that is told, since
    the rest of it can't be known. Raises OSError where a file of the project can't be opened.
    """
    found, problems = project_file(folder)
    files, stray = obstacle_files(folder)
    main = _record_file(found, ProjectRecord) if found else None
    others = tuple(_record_file(file, Obstacle) for file in files)
    listed, price_stray = prices_file(folder)
    prices = _record_file(listed, Prices) if listed else None
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
    every_source = (*sources, *((source,) if source else ()))
    written = {one.file: one.plain for one in every_source}
    places = _places(*every_source)
    asked = prices.record if prices else None
    return Project(
        folder, folder.resolve().name, main.record, obstacles, photos, notes, places, written, asked, papers
    ), ()


def _record_file(file: RecordFile, kind: type[AnyRecord]) -> _ReadFile[AnyRecord]:
    text, problems = read_text(file.path, file.file)
    if text is None:
        return _ReadFile(file, None, None, problems)
    source, form = source_of(text, file.file)
    if source is None:
        return _ReadFile(file, None, None, (*problems, *form))
    record, wrong = record_of(source, kind)
    return _ReadFile(file, source, record, (*problems, *form, *wrong))


def _places(*sources: Source) -> Places:
    known: dict[tuple[str, tuple[Step, ...]], Place] = {}
    for source in sources:
        known.update(((source.file, path), place) for path, place in source.values.items())
    return Places(known)

"""A solved project in, the same project with only what one edition may say out; nothing later can leak what is gone.

The sample edition denies by default: only records marked `share: yes` stay, and of those only names, sentences, sizes
and shared photos. The trade edition drops what is the owner's own. Everything after this works on what is left.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType

from bookgen.compose.pricing import without_buying, without_prices
from bookgen.model.book import Edition
from bookgen.model.evidence import Overlay, PhotoEvidence
from bookgen.model.project import PROJECT_FILE, ObstacleFile, Plain, Project
from bookgen.model.records import Obstacle
from bookgen.model.records import Project as ProjectRecord
from bookgen.model.records.book import BookRecord
from bookgen.model.records.obstacle import Photos, PhotoUse
from bookgen.model.records.project import Private
from bookgen.model.solved import Solved, SolvedObstacle

WITHHELD = "—"


def for_edition(solved: Solved, edition: Edition, *, prices: bool = False) -> Solved:
    """Return *solved* as this edition may know it; a price is known to the trade edition alone, and only with *prices*.

    Owner and sample editions lose the whole buying list.
    """
    if edition is not Edition.TRADE:
        solved = without_buying(solved)
    elif not prices:
        solved = without_prices(solved)
    if edition is Edition.OWNER:
        written = MappingProxyType(_handed_out(solved.project.written))
        return replace(solved, project=replace(solved.project, written=written))
    told = _trade(solved) if edition is Edition.TRADE else _sample(solved)
    return replace(told, project=replace(told.project, written=MappingProxyType({})))


def _handed_out(written: Mapping[str, Plain]) -> dict[str, Plain]:
    """Return the record files without keys and codes: a file gets copied where a page does not."""
    return {name: _without_security(plain) if name == PROJECT_FILE else plain for name, plain in written.items()}


def _without_security(plain: Plain) -> Plain:
    if not isinstance(plain, dict) or not isinstance(private := plain.get("private"), dict):
        return plain
    return plain | {"private": {key: value for key, value in private.items() if key != "security"}}


def _trade(solved: Solved) -> Solved:
    record = solved.project.record
    private = Private.model_construct(
        owner=record.private.owner, address=record.private.address, phone=None, security=()
    )
    papers = tuple(one if one.for_trades else one.model_copy(update={"file": None}) for one in record.papers)
    record = record.model_copy(update={"private": private, "papers": papers})
    named = {one.file for one in papers}
    files = {name: file for name, file in solved.project.papers.items() if name in named}
    return replace(solved, project=replace(solved.project, record=record, papers=MappingProxyType(files)))


def _sample(solved: Solved) -> Solved:
    shared = tuple(file for file in solved.project.obstacles if file.record.share)
    keys = {file.key for file in shared}
    files = tuple(replace(file, record=_shared_obstacle(file.record)) for file in shared)
    photos = {use.file for file in files for phase in _phases(file.record.photos) for use in phase}
    record = _shared_project(solved.project.record)
    if record.book.theme_options and record.book.theme_options.logo:
        photos.add(record.book.theme_options.logo)
    if record.book.cover not in photos:
        record = record.model_copy(update={"book": record.book.model_copy(update={"cover": None})})
    project = _shared_files(solved.project, record, files, photos)
    return replace(
        solved,
        project=project,
        obstacles=tuple(_shared_solved(obstacle) for obstacle in solved.obstacles if obstacle.key in keys),
        findings=(),
        faces=(),
        ties=(),
        takeoff=replace(solved.takeoff, pieces=(), totals=()),
        photos=PhotoEvidence(overlays=tuple(_shared_overlays(solved.photos.overlays, files))),
    )


def _shared_files(
    project: Project, record: ProjectRecord, files: tuple[ObstacleFile, ...], photos: set[str]
) -> Project:
    kept = {name: photo for name, photo in project.photos.items() if name in photos}
    return replace(
        project,
        record=record,
        obstacles=files,
        photos=MappingProxyType(kept),
        notes=MappingProxyType({}),
        papers=MappingProxyType({}),
    )


def _shared_project(record: ProjectRecord) -> ProjectRecord:
    private = Private.model_construct(owner=WITHHELD, address=WITHHELD, phone=None, security=())
    title = record.book.sample_title or record.house.kind
    return record.model_copy(
        update={
            "project": title,
            "book": _shared_book(record.book, title),
            "private": private,
            "people": tuple(p.model_copy(update={"licence": None}) for p in record.people if p.share),
            "marks": {},
            "upkeep": (),
            "materials": (),
            "papers": (),
            "hazards_that_remain": (),
            "house": record.house.model_copy(update={"note": None}),
            "codes": record.codes.model_copy(update={"authority": WITHHELD}),
        }
    )


def _shared_book(book: BookRecord, title: str) -> BookRecord:
    """Return how the sample looks: its own theme, the colours, and name and picture only where they are shared."""
    options = book.theme_options
    if options is not None and not options.share:
        options = options.model_copy(update={"name": None, "logo": None, "logo_shows": None})
    return book.model_copy(update={"title": title, "theme": book.sample_theme or book.theme, "theme_options": options})


def _shared_obstacle(record: Obstacle) -> Obstacle:
    before, framed, finished = (
        tuple(_shared_use(use) for use in phase if use.share) for phase in _phases(record.photos)
    )
    photos = Photos.model_construct(before=before, framed=framed, finished=finished, see_through=())
    return record.model_copy(
        update={
            "photos": photos,
            "access": (),
            "upkeep": (),
            "materials": (),
            "facts": (),
            "questions": (),
            "notes": None,
            "answered": (),
            "cautions": (),
        }
    )


def _shared_use(use: PhotoUse) -> PhotoUse:
    """Keep the picture, but no place on a wall and no tag number."""
    return use.model_copy(update={"tied": None, "marks": ()})


def _shared_overlays(overlays: tuple[Overlay, ...], files: tuple[ObstacleFile, ...]) -> Iterator[Overlay]:
    """Yield the overlays of two shared photos, with the shared words for what they show, and no measure."""
    shows = {(file.key, use.file): use.shows for file in files for use in file.record.photos.framed}
    finished = {(file.key, use.file) for file in files for use in file.record.photos.finished}
    for one in overlays:
        if (one.obstacle, one.framed) in shows and (one.obstacle, one.finished) in finished:
            yield replace(one, says=shows[one.obstacle, one.framed], deepest=None, shift=None)


def _phases(photos: Photos) -> tuple[tuple[PhotoUse, ...], ...]:
    return (photos.before, photos.framed, photos.finished)


def _shared_solved(obstacle: SolvedObstacle) -> SolvedObstacle:
    """Keep the treatment with its sizes, but nothing that was said of it: a remark may name what is not shared."""
    assembly = obstacle.assembly and replace(obstacle.assembly, remarks=(), differences=())
    shared = tuple(thing for thing in obstacle.hidden if thing.share)
    return replace(obstacle, access=(), hidden=shared, assembly=assembly)

"""Records, what was solved and sketches in, a Book for one edition out; finished words, no HTML."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import replace

from bookgen.compose.caution import before_drilling, groups
from bookgen.compose.chapters import Gathered, Source, chapter, days, gather
from bookgen.compose.charts import headroom_map, share_charts, time_line
from bookgen.compose.checks import check_groups, check_reference
from bookgen.compose.edition import for_edition
from bookgen.compose.faces import face_pages
from bookgen.compose.for_later import hazards_left
from bookgen.compose.front import emergencies, shutoffs, unrecorded
from bookgen.compose.hidden import register_rows, untagged_rows
from bookgen.compose.layers import plan_layers
from bookgen.compose.material import material_rows
from bookgen.compose.papers import index_rows, paper_groups, people_rows
from bookgen.compose.pictures import Album
from bookgen.compose.search import search_index
from bookgen.compose.show import Show, show_of
from bookgen.compose.takeoff import takeoff
from bookgen.compose.upkeep import upkeep_rows
from bookgen.compose.walk import with_walk
from bookgen.compose.year import month_rows, paper_ends
from bookgen.model.book import Book, Brand, Cover, Edition, RegisterRow, RoomTab, SignalGroup, UpkeepRow
from bookgen.model.check_reference import CheckReference
from bookgen.model.listing import Listing
from bookgen.model.records import Project as ProjectRecord
from bookgen.model.sketch import LevelSketches, Sketch
from bookgen.model.solved import Solved
from bookgen.trade.cable import SETBACK

ID_LENGTH = 10
# How is the material of each edition shared out?
SHARES = {Edition.OWNER: ("weight",), Edition.TRADE: ("cost", "weight", "count"), Edition.SAMPLE: ()}

__all__ = ["compose", "for_edition", "material_list"]


def compose(
    solved: Solved,
    sketches: Mapping[str, tuple[Sketch, ...]],
    whole: LevelSketches | None,
    edition: Edition,
    reference: tuple[CheckReference, ...] = (),
) -> Book:
    """Return the book of *edition*; *solved* has already been through `for_edition`, and the sketches drawn from it.

    *whole* are those of the whole level, none of which goes into a sample; *reference* says what every check asks, and
    only the trade edition prints it.
    *sketches* are by the key of an obstacle; cutting diagrams stand among them by the names that draw gives them.
    """
    show = show_of(solved.project.record)
    album = Album(solved.project, show, solved.level, solved.photos)
    source = Source(solved, sketches, album, edition, whole.ties if whole else {})
    gathered = gather(solved.project.obstacles)
    chapters = tuple(chapter(one, source) for one in gathered)
    record, sample = solved.project.record, edition is Edition.SAMPLE
    panels = shutoffs(gathered, source)
    upkeep = _upkeep(gathered, source)
    slugs = {file.key: one.slug for one in gathered for file in one.files}
    book = Book(
        key=solved.project.key,
        edition=edition,
        edition_words=show.terms[f"edition {edition.value}"],
        language=record.language,
        paper=record.book.paper,
        theme=record.book.theme,
        revision=show.terms["revision"].format(number=record.book.revision),
        date=show.day(record.book.date),
        iso_date=record.book.date.isoformat(),
        book_id=_book_id(solved),
        web="" if sample else record.book.web_address or "",
        cover=_cover(source),
        brand=_brand(source),
        tabs=_tabs(gathered, source) if record.book.tab_strip else (),
        owner_lines=_owner_lines(record, edition),
        security=record.private.security,
        about_pictures=record.book.about_pictures or "",
        disclaimer=show.terms["disclaimer"],
        shutoffs=panels,
        emergencies=() if sample else emergencies(source),
        unrecorded=() if sample else unrecorded(panels, source),
        register=_register(gathered, source),
        plan=whole.plan if whole and not sample else None,
        layers=plan_layers(whole.plan, show) if whole and not sample else (),
        chapters=chapters,
        faces=face_pages(source, slugs, chapters, whole.faces if whole else ()),
        upkeep=upkeep,
        months=month_rows(upkeep, record.book.date, show),
        dates=() if sample else paper_ends(solved.project, show),
        materials=material_rows(record.materials),
        papers=paper_groups(record, show),
        people=people_rows(record),
        hazards=(*record.hazards_that_remain, *(() if sample else hazards_left(solved, show))),
        drill_cautions=() if sample else _drill_cautions(solved, show),
        takeoff=takeoff(solved, sketches, show) if edition is Edition.TRADE else (),
        checks=check_groups(solved.findings, show) if edition is Edition.TRADE else (),
        check_reference=check_reference(reference, show) if edition is Edition.TRADE else (),
        headroom=None if sample else headroom_map(solved, show),
        shares=share_charts(solved, show, *SHARES[edition]),
        work=time_line(tuple((one.title, days(one, album)) for one in gathered), show),
        index=index_rows(chapters, show),
        terms={**show.terms.words, "screws say": show.terms["screws say"].format(wood=show.length(SETBACK))},
    )
    book = with_walk(book, show) if edition is Edition.OWNER else book
    return replace(book, search=search_index(book))


def _drill_cautions(solved: Solved, show: Show) -> tuple[SignalGroup, ...]:
    behind = {thing.what for face in solved.faces for thing in face.things}
    systems = (thing.system for one in solved.obstacles for thing in one.hidden if thing.what in behind)
    windows = ("egress window",) if any(one.egress for one in solved.project.record.windows.values()) else ()
    return groups(before_drilling(systems, solved.project.record.house.built, windows), show)


def material_list(solved: Solved) -> tuple[Listing, ...]:
    """Return everything to buy and to cut in finished words, without drawings."""
    return takeoff(solved, {}, show_of(solved.project.record))


def _book_id(solved: Solved) -> str:
    """Return the book's own id: the same for every revision, and telling nothing about house or owner."""
    seed = f"{solved.project.key}\n{solved.project.record.work.started.isoformat()}"
    return hashlib.sha256(seed.encode()).hexdigest()[:ID_LENGTH].upper()


def _cover(source: Source) -> Cover:
    record, show = source.solved.project.record, source.album.show
    contractor = next(
        (person for person in record.people if person.role.casefold() == show.terms["role contractor"]), None
    )
    lines = [show.terms["house line"].format(kind=record.house.kind, year=record.house.built)]
    if record.work.finished:
        lines.append(show.terms["finished line"].format(date=show.day(record.work.finished)))
    if contractor:
        lines.append(contractor.name)
    return Cover(record.book.title, record.book.subtitle, source.album.cover(), tuple(lines))


def _brand(source: Source) -> Brand:
    project = source.solved.project
    options = project.record.book.theme_options
    if options is None:
        return Brand()
    picture = source.album.plain(options.logo, options.logo_shows or "") if options.logo else None
    return Brand(options.name or "", picture, options.colours())


def _tabs(gathered: tuple[Gathered, ...], source: Source) -> tuple[RoomTab, ...]:
    """Return the rooms in the order of the chapters; a chapter goes to the room of its first record."""
    rooms: dict[str, list[str]] = {}
    for one in gathered:
        rooms.setdefault(source.solved.room(one.files[0].record.room).name, []).append(one.slug)
    return tuple(RoomTab(room, tuple(slugs)) for room, slugs in rooms.items())


def _owner_lines(record: ProjectRecord, edition: Edition) -> tuple[str, ...]:
    """Return owner and address for the cover, and the phone where the edition may know it."""
    if edition is Edition.SAMPLE:
        return ()
    private = record.private
    return tuple(filter(None, (private.owner, private.address, private.phone)))


def _register(gathered: tuple[Gathered, ...], source: Source) -> tuple[RegisterRow, ...]:
    if source.edition is Edition.SAMPLE:
        return ()
    solved, show = source.solved, source.album.show
    tagged: list[RegisterRow] = []
    untagged: list[RegisterRow] = []
    for one in gathered:
        target = (one.number, one.slug)
        for file in one.files:
            worked, home = solved.obstacle(file.key), file.record.room
            tagged += register_rows(file, target, solved, show)
            untagged += untagged_rows(worked.hidden, target, solved.room(home), solved, show)
    return (*sorted(tagged, key=lambda row: int(row.tag)), *untagged)


def _upkeep(gathered: tuple[Gathered, ...], source: Source) -> tuple[UpkeepRow, ...]:
    project, show = source.solved.project, source.album.show
    rows = list(upkeep_rows(project.record.upkeep, "", project, show))
    for one in gathered:
        for file in one.files:
            rows += upkeep_rows(file.record.upkeep, one.slug, project, show, file.key)
    order = ["", *(one.slug for one in gathered)]
    return tuple(sorted(rows, key=lambda row: (order.index(row.chapter), row.months, row.do)))

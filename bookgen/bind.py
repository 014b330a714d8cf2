"""The hall: a project folder in, the rooms called in their order, a bound book or the problems out."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator, Mapping
from contextlib import nullcontext, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from bookgen.cache import working_cache
from bookgen.check import Checked, check
from bookgen.compose import compose, for_edition
from bookgen.draw import cutting_diagrams, level_sketches, sketches
from bookgen.draw.bare import bare
from bookgen.look import look_problems
from bookgen.memory import remembering
from bookgen.model.book import Book, Edition
from bookgen.model.memory import NO_MEMORY
from bookgen.model.photo import Photo, PhotoFault
from bookgen.model.place import Place
from bookgen.model.problem import Problem
from bookgen.model.project import PROJECT_FILE, Project
from bookgen.model.sketch import LevelSketches, Sketch
from bookgen.model.solved import Solved
from bookgen.read import rewritten
from bookgen.render.ahead import Ahead, Through, working_ahead
from bookgen.render.beside import beside
from bookgen.render.kept import Store, keep_bytes, kept_bytes
from bookgen.render.kept_nouns import SpoiltError, bytes_of, digest_of, value_from
from bookgen.render.publish import Contents, refuse_foreign, staged
from bookgen.render.themes import theme_of
from bookgen.solve.checks.reference import references
from bookgen.solve.takeoff.buy import buy
from bookgen.trade.tongue import tongue

if TYPE_CHECKING:
    from bookgen.render.drawings import Figures
    from bookgen.render.pictures import PictureSet
    from bookgen.render.site_pages import Page

PICTURES = "pictures"
SINGLE = "whole-book.html"
Progress = Callable[[str, int, int], None]
Drawings = tuple[Mapping[str, tuple[Sketch, ...]], LevelSketches | None]


@dataclass(frozen=True, slots=True)
class Bound:
    """What `bind` did: the folder of the book, or the problems that kept it from being bound."""

    target: Path | None
    checked: Checked


@dataclass(frozen=True, slots=True)
class Composed:
    """A book ready to be written, the project as this edition may know it, and its pictures that are begun already."""

    book: Book
    project: Project
    ahead: Ahead | None = None


class RefusedError(Exception):
    """Problems that came up while files were being written; they leave the old book alone."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("the book was not bound")
        self.problems = problems


def bind(
    folder: Path,
    edition: Edition,
    target: Path,
    progress: Progress,
    *,
    single_file: bool = False,
    prices: bool = False,
) -> Bound:
    """Bind one edition of a project into *target*; *progress* is told the work, how much is done, of how much.

    With *single_file* the site lies there once more as one file, to send by mail. With *prices* a trade edition tells
    what the material costs; no other edition ever does.

    Nothing of *target* is touched unless the whole new book stands. Raises OSError where the machine is in the way,
    TargetRefusedError for wrong use.
    """
    refuse_foreign(target)
    with working_cache(progress) as store, working_ahead(store.sort("pictures")) as ahead:
        composed, checked = composed_book(folder, edition, store, ahead, prices=prices)
        if composed is None:
            return Bound(None, checked)
        try:
            with staged(target, contents(composed.book, f"{edition.value} edition")) as staging:
                write_book(composed, staging, store, progress, single_file=single_file)
        except RefusedError as refused:
            return Bound(None, Checked(checked.solved, refused.problems))
        return Bound(target, checked)


def contents(book: Book, what: str) -> Contents:
    """Return what a folder holds, for its manifest: *what* is made of the book, such as `owner edition`."""
    words = f"a {what}" if book.edition is Edition.SAMPLE else f"the {what} of {book.key}"  # a sample names no project
    return Contents(f"{book.book_id} {what}", words)


def composed_book(
    folder: Path, edition: Edition, store: Store | None = None, ahead: Ahead | None = None, *, prices: bool = False
) -> tuple[Composed | None, Checked]:
    """Return one edition of a project's book, not yet written; None where a record is wrong; and what was seen.

    Drawings that *store* has are not drawn again; while others are drawn, *ahead* begins the pictures.
    """
    with remembering(store, folder) if store else nullcontext(NO_MEMORY) as memory:
        checked = check(folder, memory)
        if checked.solved is None:
            return None, checked
        said, tape = checked.solved.project.record, checked.solved.project.tape
        asked = memory.once(
            "references", (said.language, said.units), tuple, lambda: references(tape, tongue(said.language))
        )
    # Only the trade edition lists what to buy, so only it pays for the cutting plans.
    solved = buy(checked.solved) if edition is Edition.TRADE else checked.solved
    told = for_edition(solved, edition, prices=prices)
    if not told.project.obstacles:
        return None, Checked(None, (_nothing_shared(checked.solved.project),))
    if ahead:
        ahead.begin(tuple(told.project.photos.values()), tuple(_throughs(told)))
    drawn, problems = drawings(told, edition, store)
    if problems:
        return None, Checked(None, problems)
    book = compose(told, *drawn, edition, asked)
    problems = tuple(look_problems(checked.solved.project, book.theme, book.brand.colours, store))
    return (None, Checked(None, problems)) if problems else (Composed(book, told.project, ahead), checked)


def _throughs(told: Solved) -> Iterator[Through]:
    """Yield what an edition's framed photos laid over finished ones are made of."""
    photos = told.project.photos
    for overlay in told.photos.overlays:
        yield photos[overlay.framed], photos[overlay.finished], overlay.panes


def drawings(told: Solved, edition: Edition, store: Store | None) -> tuple[Drawings, tuple[Problem, ...]]:
    """Return every drawing of an edition: from the store where the same was drawn before, else drawn and kept."""
    plain = bare(told)
    kept = store.sort("drawings") / store.key(edition.value, digest_of(plain)) if store else None
    found = kept_bytes(kept) if kept else None
    if found is not None:
        with suppress(SpoiltError):
            by_obstacle, level = value_from(found, tuple)
            return (by_obstacle, level), ()
    views, problems = sketches(plain)
    level = None if edition is Edition.SAMPLE else level_sketches(plain)
    drawn = ({**views, **cutting_diagrams(plain)}, level)
    if kept and not problems:
        keep_bytes(kept, bytes_of(drawn))
    return drawn, problems


def _nothing_shared(project: Project) -> Problem:
    rule = "no obstacle record of this project is marked share: yes, so that a sample edition would be empty"
    repair = "write share: yes in the records that prospects may see, and at their photos"
    return Problem(project.places.of(PROJECT_FILE), "nothing-shared", "share", "", rule, repair)


def records_of(project: Project) -> dict[str, str]:
    """Return what an edition gives out of the record files, as texts by their paths in the folder."""
    notes = {f"notes/{name}": text for name, text in sorted(project.notes.items())} if project.written else {}
    return rewritten(project.written) | notes


def inside_print(project: Project) -> dict[str, str | Path]:
    """Return what an edition's print book carries inside: its records and papers, in the owner's alone."""
    papers = {f"papers/{name}": file for name, file in sorted(project.papers.items())} if project.written else {}
    return records_of(project) | papers


def write_book(
    composed: Composed, staging: Path, store: Store, progress: Progress, *, single_file: bool = False
) -> Mapping[str, PictureSet]:
    """Write the site, the print book and what goes with them into the folder *staging*; return its pictures.

    *store* keeps what takes long to make.

    Raises RefusedError where a photo turns out to be broken.
    """
    figures = _figures(composed, staging, store, progress)
    progress("pages and print book", 0, 1)
    with beside(lambda: write_print(composed, figures, staging, store)):
        pages = _write_pages(composed, figures, staging, store, extras(composed.book, single_file=single_file))
    if single_file:
        from bookgen.render.single import write_single

        write_single(pages, staging, staging / SINGLE)
    return figures.pictures


def write_print(composed: Composed, figures: Figures, staging: Path, store: Store | None) -> None:
    """Write the print book, and the tags and the calendar that go with all but a sample, where *figures* were written.

    Without a *store* all is set anew: that keeps the engine warm, and what changes every minute out of the store.
    """
    # The heavy libraries load only when a book is really written, and as late as they can.
    from bookgen.render.print import print_book

    book, theme = composed.book, theme_of(composed.book)
    print_book(book, theme, figures, staging, inside_print(composed.project), store)
    if book.edition is not Edition.SAMPLE:
        from bookgen.render.calendar import write_calendar
        from bookgen.render.tags import write_tags

        write_tags(book, theme, staging / "tags.pdf", store)
        write_calendar(book, staging / "upkeep.ics")


def write_site(
    composed: Composed, staging: Path, store: Store, progress: Progress, beside_it: tuple[tuple[str, str], ...] = ()
) -> Figures:
    """Write only the site into the folder *staging*; return its figures. Files *beside it* it offers as `extras` tells.

    Raises RefusedError where a photo turns out to be broken.
    """
    figures = _figures(composed, staging, store, progress)
    progress("pages", 0, 1)
    _write_pages(composed, figures, staging, store, beside_it)
    return figures


def _write_pages(
    composed: Composed, figures: Figures, staging: Path, store: Store, beside_it: tuple[tuple[str, str], ...]
) -> tuple[Page, ...]:
    """Write the pages; *beside it* are files that will lie beside them, as (name, words)."""
    from bookgen.render.html import render_site

    for name, file in composed.project.papers.items():
        (staging / "papers" / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(file, staging / "papers" / name)
    theme = theme_of(composed.book)
    return render_site(composed.book, theme, figures, staging, beside_it, store.sort("fonts"))


def _figures(composed: Composed, staging: Path, store: Store, progress: Progress) -> Figures:
    """Write every drawing and picture of the book; what both are written into comes later."""
    from bookgen.render.drawings import Figures, drawings_of
    from bookgen.render.pictures import make_pictures

    book, project = composed.book, composed.project
    drawn = drawings_of(book, store)  # while photos are still at work on the other cores
    photos = tuple(_photo(project, picture.digest) for picture in book.pictures())
    folders = staging / PICTURES, store.sort("pictures")
    made, faults = make_pictures(photos, *folders, lambda done, of: progress("photos", done, of), composed.ahead)
    if faults:
        raise RefusedError(tuple(_photo_problem(project, photo, fault) for photo, fault in faults))
    return Figures({**made, **_overlays(composed, folders, progress)}, drawn)


def _overlays(composed: Composed, folders: tuple[Path, Path], progress: Progress) -> dict[str, PictureSet]:
    """Write framed photos laid over finished ones into the first of *folders*; return their copies by their keys."""
    from bookgen.render.warp import make_overlay

    project = composed.project
    seen = {see.key: see for chapter in composed.book.chapters for see in chapter.see_throughs}
    made: dict[str, PictureSet] = {}
    for done, see in enumerate(seen.values(), start=1):
        framed, finished = _photo(project, see.framed.digest), _photo(project, see.finished.digest)
        overlay = make_overlay(framed, finished, see.panes, *folders, composed.ahead)
        if isinstance(overlay, tuple):
            raise RefusedError((_photo_problem(project, *overlay),))
        made[see.key] = overlay
        progress("see-through", done, len(seen))
    return made


def extras(book: Book, *, single_file: bool = False) -> tuple[tuple[str, str], ...]:
    """Return the files that the site offers beside its pages, as (name, words)."""
    printed = ("book.pdf", book.terms["print book"])
    single = ((SINGLE, book.terms["single file"]),) if single_file else ()
    if book.edition is Edition.SAMPLE:
        return (printed, *single)
    return printed, *single, ("tags.pdf", book.terms["tags title"]), ("upkeep.ics", book.terms["calendar file"])


def _photo(project: Project, digest: str) -> Photo:
    return next(photo for photo in project.photos.values() if photo.digest == digest)


def _photo_problem(project: Project, photo: Photo, fault: PhotoFault) -> Problem:
    place = next(_uses(project, photo.name), project.places.of("project.yaml"))
    return Problem(place, fault.code, "file", photo.name, fault.says, fault.repair)


def _uses(project: Project, name: str) -> Iterator[Place]:
    for file in project.obstacles:
        for phase in ("before", "framed", "finished"):
            for index, use in enumerate(getattr(file.record.photos, phase)):
                if use.file == name:
                    yield project.places.of(file.file, "photos", phase, index, "file")

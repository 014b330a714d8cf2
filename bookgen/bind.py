"""The hall: a project folder in, the rooms called in their order, a bound book or the problems out."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, nullcontext, suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from bookgen.cache import working_cache
from bookgen.check import Checked, check
from bookgen.compose import compose, for_edition
from bookgen.look import look_problems
from bookgen.memory import remembering
from bookgen.model.bare import bare
from bookgen.model.book import Book, Edition
from bookgen.model.check_reference import CheckReference
from bookgen.model.memory import NO_MEMORY, Memory
from bookgen.model.photo import Photo, PhotoFault
from bookgen.model.place import Place
from bookgen.model.problem import Problem
from bookgen.model.project import PROJECT_FILE, Project
from bookgen.model.sketch import LevelSketches, Sketch
from bookgen.model.solved import Solved, Takeoff
from bookgen.read import rewritten
from bookgen.render.ahead import Ahead, Through, working_ahead
from bookgen.render.beside import beside
from bookgen.render.kept import Store, keep_bytes, kept_bytes
from bookgen.render.kept_nouns import SpoiltError, bytes_of, digest_of, value_from
from bookgen.render.publish import Contents, refuse_foreign, staged
from bookgen.render.themes import theme_of
from bookgen.trade.tongue import tongue

if TYPE_CHECKING:
    from bookgen.render.drawings import Figures
    from bookgen.render.pictures import PictureSet
    from bookgen.render.site_pages import Page
    from bookgen.render.warming import Warming

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
class Early:
    """What is begun on the other cores before its turn: pictures, none where there is but one core, and the engine."""

    pictures: Ahead | None
    engine: Warming | None


@dataclass(frozen=True, slots=True)
class Composed:
    """A book ready to be written, the project as this edition may know it, and what is begun of it already."""

    book: Book
    project: Project
    early: Early | None = None

    @property
    def pictures_ahead(self) -> Ahead | None:
        """Return what has begun its pictures, where something has."""
        return self.early.pictures if self.early else None


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
    engine: Warming | None = None,
) -> Bound:
    """Bind one edition of a project into *target*; *progress* is told the work, how much is done, of how much.

    With *single_file* the site lies there once more as one file, to send by mail. With *prices* a trade edition tells
    what the material costs; no other edition ever does. *engine* is that of the print book, where it is begun already.

    Nothing of *target* is touched unless the whole new book stands. Raises OSError where the machine is in the way,
    TargetRefusedError for wrong use.
    """
    refuse_foreign(target)
    with working_cache(progress) as store, working_ahead(store.sort("pictures")) as ahead:
        early = Early(ahead, engine)
        composed, checked = composed_book(folder, edition, store, early, prices=prices)
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
    folder: Path, edition: Edition, store: Store | None = None, early: Early | None = None, *, prices: bool = False
) -> tuple[Composed | None, Checked]:
    """Return one edition of a project's book, not yet written; None where a record is wrong; and what was seen.

    Drawings that *store* has are not drawn again; while others are drawn, *early* begins the pictures.
    """
    with remembering(store, folder) if store else nullcontext(NO_MEMORY) as memory:
        checked = check(folder, memory)
        if checked.solved is None:
            return None, checked
        project, hangs_on = checked.solved.project, checked.hangs_on
        asked = _references(project, memory)
        # Only the trade edition lists what to buy, so only it pays for the cutting plans.
        solved = _bought(checked.solved, hangs_on, memory) if edition is Edition.TRADE else checked.solved
        told = for_edition(solved, edition, prices=prices)
        if not told.project.obstacles:
            return None, Checked(None, (_nothing_shared(project),))
        if early and early.pictures:
            early.pictures.begin(tuple(told.project.photos.values()), tuple(_throughs(told)))
        shown = memory.once(f"{edition.value} drawings", (hangs_on, prices), str, lambda: _shown(told)) if store else ""
    drawn, problems = drawings(told, edition, store, shown)
    if problems:
        return None, Checked(None, problems)
    book = compose(told, *drawn, edition, asked)
    problems = tuple(look_problems(project, book.theme, book.brand.colours, store))
    return (None, Checked(None, problems)) if problems else (Composed(book, told.project, early), checked)


def _references(project: Project, memory: Memory) -> tuple[CheckReference, ...]:
    language = project.record.language

    def work_out() -> tuple[CheckReference, ...]:
        from bookgen.solve.checks.reference import references  # with all checks

        return references(project.tape, tongue(language))

    return memory.once("references", (language, project.record.units), tuple, work_out)


def _bought(solved: Solved, hangs_on: Project | None, memory: Memory) -> Solved:
    """Return a solved project with how to buy and cut its material; *hangs_on* as `Checked` has it."""

    def work_out() -> Takeoff:
        from bookgen.solve.takeoff.buy import buy  # with what searches for the best cuts

        return buy(solved).takeoff

    return replace(solved, takeoff=memory.once("bought", hangs_on, Takeoff, work_out, places=solved.project.places))


def _throughs(told: Solved) -> Iterator[Through]:
    """Yield what an edition's framed photos laid over finished ones are made of."""
    photos = told.project.photos
    for overlay in told.photos.overlays:
        yield photos[overlay.framed], photos[overlay.finished], overlay.panes


def _shown(told: Solved) -> str:
    return digest_of(bare(told))


def drawings(
    told: Solved, edition: Edition, store: Store | None, shown: str = ""
) -> tuple[Drawings, tuple[Problem, ...]]:
    """Return every drawing of an edition: from the store where the same was drawn before, else drawn and kept.

    *shown* is a digest of all that is drawn, where that is known.
    """
    kept = store.sort("drawings") / store.key(edition.value, shown or _shown(told)) if store else None
    found = kept_bytes(kept) if kept else None
    if found is not None:
        with suppress(SpoiltError):
            by_obstacle, level = value_from(found, tuple)
            return (by_obstacle, level), ()
    drawn, problems = _drawn(bare(told), edition)
    if kept and not problems:
        keep_bytes(kept, bytes_of(drawn))
    return drawn, problems


def _drawn(plain: Solved, edition: Edition) -> tuple[Drawings, tuple[Problem, ...]]:
    # What draws loads its libraries, and only for what is not kept.
    from bookgen.draw import cutting_diagrams, level_sketches, sketches

    views, problems = sketches(plain)
    level = None if edition is Edition.SAMPLE else level_sketches(plain)
    return ({**views, **cutting_diagrams(plain)}, level), problems


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
    figures = write_figures(composed, staging, store, progress)
    progress("pages and print book", 0, 1)
    with laid_out_print(composed, figures, staging, store) as write_print, beside(write_print):
        pages = write_pages(composed, figures, staging, store, extras(composed.book, single_file=single_file))
    if single_file:
        from bookgen.render.single import write_single

        write_single(pages, staging, staging / SINGLE)
    return figures.pictures


@contextmanager
def laid_out_print(
    composed: Composed, figures: Figures, staging: Path, store: Store | None
) -> Iterator[Callable[[], None]]:
    """Lay out what is printed where *figures* were written; give what then writes it there, once, in the block.

    That is the print book, and the tags and the calendar that go with all but a sample. Without a *store* all is set
    anew: that keeps the engine warm, and what changes every minute out of the store.
    """
    # The heavy libraries load only when a book is really written, and as late as they can.
    from bookgen.render.print import laid_out

    book, theme, inside = composed.book, theme_of(composed.book), inside_print(composed.project)
    engine = composed.early.engine if composed.early else None
    with laid_out(book, theme, figures, staging, inside, store, engine) as set_book:

        def write() -> None:
            set_book()
            if book.edition is not Edition.SAMPLE:
                from bookgen.render.calendar import write_calendar
                from bookgen.render.tags import write_tags

                write_tags(book, theme, staging / "tags.pdf", store)
                write_calendar(book, staging / "upkeep.ics")

        yield write


def write_site(composed: Composed, staging: Path, store: Store, progress: Progress) -> None:
    """Write only the site into the folder *staging*; raises RefusedError where a photo turns out to be broken."""
    figures = write_figures(composed, staging, store, progress)
    progress("pages", 0, 1)
    write_pages(composed, figures, staging, store, ())


def write_pages(
    composed: Composed, figures: Figures, staging: Path, store: Store, beside_it: tuple[tuple[str, str], ...]
) -> tuple[Page, ...]:
    """Write the pages; *beside it* are files that will lie beside them, as (name, words)."""
    from bookgen.render.html import render_site

    for name, file in composed.project.papers.items():
        (staging / "papers" / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(file, staging / "papers" / name)
    theme = theme_of(composed.book)
    return render_site(composed.book, theme, figures, staging, beside_it, store.sort("fonts"))


def write_figures(composed: Composed, staging: Path, store: Store, progress: Progress) -> Figures:
    """Write every drawing and picture of the book; what both are written into comes later.

    Raises RefusedError where a photo turns out to be broken.
    """
    from bookgen.render.drawings import Figures, drawings_of
    from bookgen.render.pictures import make_pictures

    book, project, ahead = composed.book, composed.project, composed.pictures_ahead
    drawn = drawings_of(book, store)  # while photos are still at work on the other cores
    photos = tuple(_photo(project, picture.digest) for picture in book.pictures())
    folders = staging / PICTURES, store.sort("pictures")
    made, faults = make_pictures(photos, *folders, lambda done, of: progress("photos", done, of), ahead)
    if faults:
        raise RefusedError(tuple(_photo_problem(project, photo, fault) for photo, fault in faults))
    return Figures({**made, **_overlays(composed, folders, progress)}, drawn)


def _overlays(composed: Composed, folders: tuple[Path, Path], progress: Progress) -> dict[str, PictureSet]:
    """Write framed photos laid over finished ones into the first of *folders*; return their copies by their keys."""
    from bookgen.render.warp import make_overlay

    project, ahead = composed.project, composed.pictures_ahead
    seen = {see.key: see for chapter in composed.book.chapters for see in chapter.see_throughs}
    made: dict[str, PictureSet] = {}
    for done, see in enumerate(seen.values(), start=1):
        framed, finished = _photo(project, see.framed.digest), _photo(project, see.finished.digest)
        overlay = make_overlay(framed, finished, see.panes, *folders, ahead)
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

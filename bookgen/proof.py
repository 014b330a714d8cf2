"""A project folder in, a live copy of its book on this machine out: bound again at every save, until it is stopped."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from threading import Event, Thread
from typing import TYPE_CHECKING

from bookgen.bind import (
    PICTURES,
    Composed,
    RefusedError,
    composed_book,
    extras,
    laid_out_print,
    write_figures,
    write_pages,
)
from bookgen.cache import working_cache
from bookgen.desk.proof_server import PhotoPair, PhotoSide, PointPair, Shown, proof_server
from bookgen.model.book import Edition
from bookgen.model.problem import Problem
from bookgen.model.project import ObstacleFile, Project
from bookgen.model.records.obstacle import PhotoUse
from bookgen.model.records.values import Pixel
from bookgen.render.beside import beside
from bookgen.render.kept import Store

if TYPE_CHECKING:
    from bookgen.render.drawings import Figures
    from bookgen.render.pictures import PictureSet

SETTLED = 300  # milliseconds without a further change, so that one save is one bind


@dataclass(frozen=True, slots=True)
class Told:
    """What became of one round: the address, and the problems that keep the newest book from being shown.

    It is told twice of a good one: when its pages are shown, and when what is printed with them is there too.
    """

    address: str
    problems: tuple[Problem, ...]
    printed: bool = False


@dataclass(slots=True)
class _Table:
    """What lies on the table now; the server reads it, each round puts something newer there and tells of it."""

    home: Path
    told: Callable[[tuple[Problem, ...], bool], None]
    shown: Shown = field(default_factory=lambda: Shown(0, None, (), ()))

    def bind(self, folder: Path) -> None:
        """Bind the owner's book once more; keep the last good one where the records have problems, and tell them."""
        target = self.home / str(self.shown.stamp + 1)
        target.mkdir()
        with working_cache(lambda *_: None) as store:
            composed, checked = composed_book(folder, Edition.OWNER, store)
            problems = checked.problems
            if composed is not None:
                try:
                    figures = write_figures(composed, target, store, lambda *_: None)
                except RefusedError as error:
                    problems = error.problems
                else:
                    self._write(composed, figures, target, store)
                    return
        shutil.rmtree(target)
        words = tuple(str(problem) for problem in problems)
        self.shown = replace(self.shown, stamp=self.shown.stamp + 1, problems=words)
        self.told(problems, False)

    def _write(self, composed: Composed, figures: Figures, target: Path, store: Store) -> None:
        """Write the pages and show them; what is printed with them stays that of the last book until it is set anew.

        The engine sets it beside them, and only what is new to it.
        """
        old, pairs = self.shown.book, tuple(_pairs(composed.project, figures.pictures))
        beside_it = extras(composed.book)
        for name, _ in beside_it if old else ():
            if old and (old / name).exists():
                shutil.copyfile(old / name, target / name)
        with laid_out_print(composed, figures, target, None) as write_print, beside(write_print):
            write_pages(composed, figures, target, store, beside_it)
            self.shown = Shown(self.shown.stamp + 1, target, (), pairs)
            if old:
                shutil.rmtree(old)
            self.told((), False)
        self.told((), True)


def prove(folder: Path, port: int, told: Callable[[Told], None], stop: Event) -> None:
    """Show the owner's book of a project on 127.0.0.1 and bind it again whenever a file of the folder changes.

    The site comes first, then what is printed. *told* hears of each round; *stop* ends it. Nothing of the project
    folder is written, and the copy goes when the proof ends. Raises OSError where the port is taken or the folder can't
    be read.
    """
    # A library of its own: only a proof waits for files to change.
    from watchfiles import watch

    with tempfile.TemporaryDirectory(prefix="bookgen-proof-") as home:
        address = ""
        table = _Table(Path(home), lambda problems, printed: told(Told(address, problems, printed)))
        with proof_server(lambda: table.shown, port) as server:
            Thread(target=server.serve_forever, daemon=True).start()
            address = f"http://127.0.0.1:{server.server_port}/"
            try:
                # The first round is told nothing: changes are waited for before anything is read.
                for changes in watch(
                    folder, stop_event=stop, debounce=SETTLED, rust_timeout=SETTLED, yield_on_timeout=True
                ):
                    if changes or not table.shown.stamp:
                        table.bind(folder)
            finally:
                server.shutdown()


def _pairs(project: Project, pictures: Mapping[str, PictureSet]) -> Iterator[PhotoPair]:
    """Yield every framed photo of a record with every finished one of it; those with points come first in a record."""
    for file in project.obstacles:
        found = [
            _pair(file, project, framed, finished, pictures)
            for framed in file.record.photos.framed
            for finished in file.record.photos.finished
        ]
        yield from sorted(found, key=lambda pair: not pair.pairs)


def _pair(
    file: ObstacleFile, project: Project, framed: PhotoUse, finished: PhotoUse, pictures: Mapping[str, PictureSet]
) -> PhotoPair:
    seen = file.record.photos.see_through
    written = [one for one in seen if (one.framed, one.finished) == (framed.file, finished.file)]
    points = (PointPair(one.what, _pixel(one.framed), _pixel(one.finished)) for see in written for one in see.pairs)
    name = f"{file.record.obstacle}: {framed.file}, {finished.file}"
    sides = [_side(use.file, project, pictures) for use in (framed, finished)]
    return PhotoPair(name, file.file, sides[0], sides[1], tuple(points))


def _pixel(pixel: Pixel) -> tuple[int, int]:
    return (pixel[0], pixel[1])


def _side(name: str, project: Project, pictures: Mapping[str, PictureSet]) -> PhotoSide:
    photo = project.photos[name]
    copies = [copy for copy in pictures[photo.digest].files if (copy.use, copy.kind) == ("screen", "jpeg")]
    widest = max(copies, key=lambda copy: copy.width)
    return PhotoSide(name, f"/{PICTURES}/{widest.name}", photo.width, photo.height)

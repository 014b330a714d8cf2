"""A project folder in, a live copy of its book on this machine out: bound again at every save, until it is stopped."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from threading import Event, Thread
from typing import TYPE_CHECKING

from bookgen.bind import PICTURES, Composed, RefusedError, composed_book, extras, laid_out_print, write_site
from bookgen.cache import working_cache
from bookgen.desk.proof_server import PhotoPair, PhotoSide, PointPair, Shown, proof_server
from bookgen.model.book import Edition
from bookgen.model.problem import Problem
from bookgen.model.project import ObstacleFile, Project
from bookgen.model.records.obstacle import PhotoUse
from bookgen.model.records.values import Pixel

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
    """What lies on the table now; the server reads it, each round puts something newer there."""

    home: Path
    shown: Shown = field(default_factory=lambda: Shown(0, None, (), ()))
    unprinted: tuple[Composed, Figures] | None = None

    def bind(self, folder: Path) -> tuple[Problem, ...]:
        """Bind the owner's site once more; keep the last good one where the records have problems, and return them.

        What is printed with it stays that of the last one until `print` has made it anew.
        """
        stamp = self.shown.stamp + 1
        target = self.home / str(stamp)
        target.mkdir()
        with working_cache(lambda *_: None) as store:
            composed, checked = composed_book(folder, Edition.OWNER, store)
            problems = checked.problems
            if composed is not None:
                try:
                    figures = write_site(composed, target, store, lambda *_: None, extras(composed.book))
                except RefusedError as error:
                    problems = error.problems
                else:
                    old, pairs = self.shown.book, tuple(_pairs(composed.project, figures.pictures))
                    for name, _ in extras(composed.book) if old else ():
                        if old and (old / name).exists():
                            shutil.copyfile(old / name, target / name)
                    self.shown, self.unprinted = Shown(stamp, target, (), pairs), (composed, figures)
                    if old:
                        shutil.rmtree(old)
                    return ()
        shutil.rmtree(target)
        self.shown = replace(self.shown, stamp=stamp, problems=tuple(str(problem) for problem in problems))
        return problems

    def print(self) -> bool:
        """Set in print what is shown, and tell whether that was still to do; the engine sets only what is new to it."""
        if self.unprinted is None or self.shown.book is None:
            return False
        composed, figures = self.unprinted
        with laid_out_print(composed, figures, self.shown.book, None) as write:
            write()
        self.unprinted = None
        return True


def prove(folder: Path, port: int, told: Callable[[Told], None], stop: Event) -> None:
    """Show the owner's book of a project on 127.0.0.1 and bind it again whenever a file of the folder changes.

    The site comes first, then what is printed; while that is made, changes are waited for already. *told* hears of
    each round; *stop* ends it. Nothing of the project folder is written, and the copy goes when the proof ends.
    Raises OSError where the port is taken or the folder can't be read.
    """
    # A library of its own: only a proof waits for files to change.
    from watchfiles import watch

    with tempfile.TemporaryDirectory(prefix="bookgen-proof-") as home:
        table = _Table(Path(home))
        with proof_server(lambda: table.shown, port) as server:
            Thread(target=server.serve_forever, daemon=True).start()
            address = f"http://127.0.0.1:{server.server_port}/"
            try:
                told(Told(address, table.bind(folder)))
                for changes in watch(
                    folder, stop_event=stop, debounce=SETTLED, rust_timeout=SETTLED, yield_on_timeout=True
                ):
                    if changes:
                        told(Told(address, table.bind(folder)))
                    if table.print():
                        told(Told(address, (), printed=True))
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

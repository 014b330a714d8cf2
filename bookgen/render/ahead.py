"""Photos that a book will show in, their copies begun on the other cores out, while the rest of it is worked out.

What is made so goes into the store alone; whoever needs it for a book waits for it and takes it from there.
"""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor, wait
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from bookgen.model.evidence import Pane
from bookgen.model.photo import Photo
from bookgen.render.cores import cores

WORKERS = 4  # at most; each may hold a whole decoded photo
PILLOWS = r"PIL\.|pi_heif|bookgen\.render\.(pixels|colour|pictures|warp)"  # where its warnings come from
Through = tuple[Photo, Photo, Sequence[Pane]]
"""A framed photo, the finished one that it is seen through, and where."""


@dataclass(frozen=True, slots=True)
class Ahead:
    """Pictures that *pool* is making, to be kept in the folder *cache*; by their digests."""

    cache: Path
    pool: ThreadPoolExecutor
    _begun: dict[str, Future[None]] = field(default_factory=dict)

    def begin(self, photos: Sequence[Photo], overlays: Sequence[Through]) -> None:
        """Begin the copies of *photos* and *overlays*; a fault or a full disk is found when they are asked for."""
        from bookgen.render.pictures import keep_pictures  # heavy: a project with problems shows no picture
        from bookgen.render.warp import keep_overlay, planned_overlay

        self.cache.mkdir(parents=True, exist_ok=True)
        for photo in photos:
            self._submit(photo.digest, keep_pictures, photo, self.cache)
        for through in overlays:
            self._submit(planned_overlay(*through).digest, keep_overlay, *through, self.cache)

    def _submit(self, digest: str, work: Callable[..., None], *given: object) -> None:
        if digest not in self._begun:
            self._begun[digest] = self.pool.submit(work, *given)

    def wait(self, digest: str) -> None:
        """Wait until a picture that is under way is done, well or not; any other is left to whoever asks for it."""
        begun = self._begun.get(digest)
        if begun and not begun.cancel():
            wait([begun])


@contextmanager
def unwarned() -> Iterator[None]:
    """Let Pillow be silent of metadata that it can't read, which is dropped, and of sizes that `read` has judged.

    For the main thread alone: what a program warns of is one setting of all of its threads.
    """
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", module=PILLOWS)
        yield


@contextmanager
def working_ahead(cache: Path) -> Iterator[Ahead | None]:
    """Give what makes pictures while the block does something else; at its end only what is under way is finished.

    None on one core: there nothing is begun before its turn.
    """
    if cores() == 1:
        yield None
        return
    with unwarned():
        pool = ThreadPoolExecutor(min(WORKERS, cores() - 1))  # what draws meanwhile has a core of its own
        try:
            yield Ahead(cache, pool)
        finally:
            pool.shutdown(wait=True, cancel_futures=True)

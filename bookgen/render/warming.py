"""What the print engine set for a book the last time in, the engine warm out: the next book differs from that little.

The engine keeps what it has worked out for as long as its process lives. So a command sets the last book once more
while the new one is still being worked out, where there is a second core; the new one then takes it little. It only
saves time: whatever is in the way, the new book is set as well without.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable, Mapping
from concurrent.futures import Future, ThreadPoolExecutor, wait
from contextlib import ExitStack, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bookgen.render.cores import cores
from bookgen.render.engine import lay_out
from bookgen.render.kept import Store, keep_bytes, kept_bytes
from bookgen.render.kept_nouns import SpoiltError, bytes_of, value_from
from bookgen.render.themes import Theme, ThemeError, load_theme

KEPT = "setting"  # in the store
SOURCE, TEMPLATE = "book.typ", ".typ"


@dataclass(frozen=True, slots=True)
class Warming:
    """The engine of one bind, *warm* once that is done: *entry* is where what it set last is kept, *state* what of."""

    entry: Path
    state: str
    warm: Future[None] | None

    def around(self, work: Path, theme: Theme, pictures: Mapping[str, str], make: Callable[[], bytes]) -> bytes:
        """Return what *make* makes the engine set from the folder *work*, once it is warm; keep what it has set.

        *pictures* are those files of *work* that the store has too, by their paths, and where in its pictures they lie.
        """
        if self.warm:
            wait([self.warm])  # two that set the same at once would both do all of it
        made = make()
        files = {path.relative_to(work).as_posix(): path for path in work.rglob("*") if path.is_file()}
        own = {name: path for name, path in files.items() if path.suffix != TEMPLATE and name not in pictures}
        words = {name: path.read_bytes() for name, path in own.items()}
        with suppress(OSError):  # a full disk
            keep_bytes(self.entry, bytes_of((self.state, theme.name, words, dict(pictures))))
        return made


def warming(store: Store, state: str | None, *of: str) -> Warming:
    """Begin to warm the engine for the book that *of* names, which is about to be made from a project's *state*.

    Where the book of that very state was set last, what is to be set now is kept as well, and nothing is begun; nor is
    it on one core. What is begun ends by itself: nobody but who sets a book waits for it.
    """
    entry, warm = store.sort(KEPT) / store.key(*of), None
    if cores() > 1:
        with suppress(OSError, SpoiltError, ThemeError):
            warm = _begun(value_from(kept_bytes(entry) or b"", tuple), state, store.sort("pictures"))
    return Warming(entry, state or "", warm)


def _begun(kept: tuple[Any, ...], state: str | None, pictures: Path) -> Future[None] | None:
    set_of, name, words, shown = kept
    if set_of == state:
        return None
    theme = load_theme(name)
    with ExitStack() as home:
        # Laid out here: a thread would have to wait for the interpreter at each of so many files.
        work = Path(home.enter_context(tempfile.TemporaryDirectory(prefix="bookgen-warm-")))
        _lay_out(work, theme, words, {inside: _within(pictures, place) for inside, place in shown.items()})
        thread = ThreadPoolExecutor(1)
        warm = thread.submit(_set_once_more, work, theme, home.pop_all())
        thread.shutdown(wait=False)
    return warm


def _lay_out(work: Path, theme: Theme, words: Mapping[str, bytes], pictures: Mapping[str, Path]) -> None:
    theme.lay_out_print(work)
    for name in (*words, *pictures):
        _within(work, name).parent.mkdir(exist_ok=True)
    for name, data in words.items():
        (work / name).write_bytes(data)
    for name, picture in pictures.items():
        shutil.copyfile(picture, work / name)


def _set_once_more(work: Path, theme: Theme, home: ExitStack) -> None:
    with home, suppress(RuntimeError):  # a picture of the last book may be no longer what it was
        lay_out(work / SOURCE, theme)


def _within(folder: Path, name: str) -> Path:
    """Return where *name* lies in *folder*; raises SpoiltError where it would lie outside."""
    if not (folder / name).resolve().is_relative_to(folder.resolve()):
        raise SpoiltError(f"{name} leads out of its folder")
    return folder / name

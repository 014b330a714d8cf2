"""What the print engine set for a book the last time in, the engine warm out: the next book differs from that little.

The engine keeps what it has worked out for as long as its process lives. So a command sets the last book once more
while the new one is still being worked out, where there is a second core; the new one then takes it little. It only
saves time: whatever is in the way, the new book is set as well without.
"""

from __future__ import annotations

import json
import shutil
import tempfile
from collections.abc import Callable, Mapping
from concurrent.futures import Future, ThreadPoolExecutor, wait
from contextlib import ExitStack, suppress
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from zipfile import BadZipFile, ZipFile

from bookgen.render.cores import cores
from bookgen.render.engine import lay_out
from bookgen.render.kept import Store, keep_bytes, kept_bytes
from bookgen.render.themes import Theme, ThemeError, load_theme

KEPT = "setting"  # in the store
SOURCE, TEMPLATE = "book.typ", ".typ"
ABOUT = "about.json"  # in what is kept, beside what the engine read
SPOILT = (OSError, ValueError, BadZipFile, ThemeError)  # what tells that something else lies there than was kept


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
        about = {"state": self.state, "theme": theme.name, "pictures": dict(pictures)}
        kept = BytesIO()
        with ZipFile(kept, "w") as archive:
            archive.writestr(ABOUT, json.dumps(about))
            for name, path in files.items():
                if path.suffix != TEMPLATE and name not in pictures:
                    archive.write(path, name)
        with suppress(OSError):  # a full disk
            keep_bytes(self.entry, kept.getvalue())
        return made


def warming(store: Store, state: str | None, *of: str) -> Warming:
    """Begin to warm the engine for the book that *of* names, which is about to be made from a project's *state*.

    Where the book of that very state was set last, what is to be set now is kept as well, and nothing is begun; nor is
    it on one core. What is begun ends by itself: nobody but who sets a book waits for it.
    """
    entry, warm = store.sort(KEPT) / store.key(*of), None
    if cores() > 1:
        with suppress(*SPOILT):
            warm = _begun(kept_bytes(entry) or b"", state, store.sort("pictures"))
    return Warming(entry, state or "", warm)


def _begun(kept: bytes, state: str | None, pictures: Path) -> Future[None] | None:
    with ZipFile(BytesIO(kept)) as archive, ExitStack() as home:
        of_state, name_of_theme, shown = _about(archive)
        if of_state == state:
            return None
        theme = load_theme(name_of_theme)
        # Laid out here: a thread would have to wait for the interpreter at each of so many files.
        work = Path(home.enter_context(tempfile.TemporaryDirectory(prefix="bookgen-warm-")))
        archive.extractall(work, set(archive.namelist()) - {ABOUT})
        theme.lay_out_print(work)
        for name, place in shown.items():
            _within(work, name).parent.mkdir(exist_ok=True)
            shutil.copyfile(_within(pictures, place), work / name)
        thread = ThreadPoolExecutor(1)
        warm = thread.submit(_set_once_more, work, theme, home.pop_all())
        thread.shutdown(wait=False)
    return warm


def _about(archive: ZipFile) -> tuple[str, str, dict[str, str]]:
    """Return of which state the book is that was set, its theme, and where its pictures are kept, by their paths.

    Raises ValueError where the archive does not tell.
    """
    told = json.loads(archive.read(ABOUT)) if ABOUT in archive.namelist() else None
    match told:
        case {"state": str(state), "theme": str(theme), "pictures": dict(pictures)}:
            if all(isinstance(place, str) for place in pictures.values()):
                return state, theme, pictures
    raise ValueError(f"{ABOUT} does not tell of a book")


def _set_once_more(work: Path, theme: Theme, home: ExitStack) -> None:
    with home, suppress(RuntimeError):  # a picture of the last book may be no longer what it was
        lay_out(work / SOURCE, theme)


def _within(folder: Path, name: str) -> Path:
    """Return where *name* lies in *folder*; raises ValueError where it would lie outside."""
    if not (folder / name).resolve().is_relative_to(folder.resolve()):
        raise ValueError(f"{name} leads out of its folder")
    return folder / name

"""A store and a project folder in, what was worked out of that folder the last time out; at the end, what was used now.

It lies in one entry of the store for each folder, so that it stays as small as the work of one project.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from bookgen.model.memory import Memory, Value
from bookgen.render.kept import Store, keep_bytes, kept_bytes
from bookgen.render.kept_nouns import SpoiltError, bytes_of, digest_of, value_from

KEPT = "worked"


class StoredMemory(Memory):
    """Remembers what it has held, by digests of what each thing hangs on."""

    def __init__(self, held: dict[str, bytes]) -> None:
        self._held = held
        self.used: dict[str, bytes] = {}

    @property
    def learned(self) -> bool:
        """Tell whether it holds anything that it did not hold before."""
        return not self.used.keys() <= self._held.keys()

    def once(
        self,
        what: str,
        of: object,
        kind: type[Value],
        make: Callable[[], Value],
        lasting: Callable[[Value], bool] = lambda _: True,
    ) -> Value:
        """Return what *make* returns, or what it returned for an equal *of* before."""
        key = digest_of((what, of))
        held = self.used.get(key, self._held.get(key))
        if held is not None:
            with suppress(SpoiltError):
                found = value_from(held, kind)
                self.used[key] = held
                return found
        made = make()
        if lasting(made):
            self.used[key] = bytes_of(made)
        return made


@contextmanager
def remembering(store: Store, folder: Path) -> Iterator[StoredMemory]:
    """Give the memory of a project folder, and keep it where it has learned something and the disk lets it."""
    entry = store.sort(KEPT) / store.key(str(folder.resolve()))
    held: dict[str, bytes] = {}
    with suppress(OSError, SpoiltError):
        held = value_from(kept_bytes(entry) or bytes_of(held), dict)
    memory = StoredMemory(held)
    yield memory
    if memory.learned:
        with suppress(OSError):
            keep_bytes(entry, bytes_of(memory.used))

"""A store and a project folder in, what was worked out of that folder the last time out; at the end, what was used now.

It lies in one entry of the store for each folder, so that it stays as small as the work of one project.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from bookgen.model.memory import Memory, Value
from bookgen.model.project import Places
from bookgen.render.kept import Store, keep_bytes, kept_bytes
from bookgen.render.kept_nouns import SpoiltError, bytes_of, digest_of, value_from

KEPT = "worked"


class StoredMemory(Memory):
    """Remembers what it has held, by digests of what each thing hangs on."""

    def __init__(self, held: dict[str, dict[str, bytes]]) -> None:
        self._held = held
        self._used: dict[str, dict[str, bytes]] = {}
        self._told: tuple[object, str] = (None, "")  # what was asked of last, which is often asked of again

    @property
    def learned(self) -> bool:
        """Tell whether it holds anything that it did not hold before."""
        return any(not used.keys() <= self._held.get(what, {}).keys() for what, used in self._used.items())

    @property
    def lasting(self) -> dict[str, dict[str, bytes]]:
        """Return what is worth keeping, by what it is: all that was asked for now, and what nobody has asked about."""
        return self._held | self._used

    def once(
        self,
        what: str,
        of: object,
        kind: type[Value],
        make: Callable[[], Value],
        lasting: Callable[[Value], bool] = lambda _: True,
        places: Places | None = None,
    ) -> Value:
        """Return what *make* returns, or what it returned for an equal *of* before."""
        if of is not self._told[0]:
            self._told = (of, digest_of(of))
        key, used = self._told[1], self._used.setdefault(what, {})
        held = used.get(key, self._held.get(what, {}).get(key))
        if held is not None:
            with suppress(SpoiltError):
                found = value_from(held, kind, places)
                used[key] = held
                return found
        made = make()
        if lasting(made) and (places is None or places.values_at() is not None):
            used[key] = bytes_of(made, places)
        return made


@contextmanager
def remembering(store: Store, folder: Path) -> Iterator[StoredMemory]:
    """Give the memory of a project folder, and keep it where it has learned something and the disk lets it."""
    entry = store.sort(KEPT) / store.key(str(folder.resolve()))
    held: dict[str, dict[str, bytes]] = {}
    with suppress(OSError, SpoiltError):
        held = value_from(kept_bytes(entry) or bytes_of(held), dict)
    memory = StoredMemory(held)
    yield memory
    if memory.learned:
        with suppress(OSError):
            keep_bytes(entry, bytes_of(memory.lasting))

"""A record file as read: plain text values and where each stands, and how a Problem at one of them is made."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TypeAlias

from bookgen.model.frozen import dataclass
from bookgen.model.place import Place
from bookgen.model.problem import Problem, said
from bookgen.model.project import Plain, Step

Path: TypeAlias = tuple[Step, ...]
ANY = "*"  # in a pattern: every key or list item there is
LONGEST_SHOWN = 60  # characters of a value that a message repeats


# A treatment is written in two places of an obstacle record: as it was planned, and as it was built.
TREATMENTS: tuple[Path, ...] = (("treatment",), ("as built", "treatment"))


@dataclass(frozen=True, slots=True)
class Source:
    """One record file: its values as text, lists as tuples, mappings as dicts.

    *values* says where a reader should look for a value: at the text itself, or at the key of a block that begins on
    the next line. *keys* says where its key stands. *spoilt* are the paths whose value could not be taken over: they
    have a Problem already.
    """

    file: str
    plain: Plain
    values: Mapping[Path, Place]
    keys: Mapping[Path, Place]
    spoilt: frozenset[Path]

    def place(self, path: Path) -> Place:
        """Return where a value stands; of the nearest thing round it where it is not written."""
        for length in range(len(path), -1, -1):
            place = self.values.get(path[:length])
            if place is not None:
                return place
        return Place(self.file, 1, 1)

    def is_spoilt(self, path: Path) -> bool:
        """Tell whether the value or something round it has been refused already."""
        return any(path[:length] in self.spoilt for length in range(len(path) + 1))

    def at(self, path: Path) -> Plain | None:
        """Return the value at *path*; None where there is none."""
        here: Plain | None = self.plain
        for step in path:
            here = _inside(here, step)
        return here

    def texts(self, pattern: Path) -> Iterator[tuple[Path, str]]:
        """Yield every text that *pattern* leads to, with its path; blanks are joined as the records read them."""
        for path, value in _matching(self.plain, pattern, ()):
            if isinstance(value, str) and value.strip() and not self.is_spoilt(path):
                yield path, one_line(value)

    def problem(self, code: str, path: Path, rule: str, repair: str) -> Problem:
        """Return a Problem at the value of *path*, which is repeated in the message."""
        value = self.at(path)
        return Problem(self.place(path), code, said(path), shown(value) if isinstance(value, str) else "", rule, repair)

    def key_problem(self, code: str, path: Path, rule: str, repair: str) -> Problem:
        """Return a Problem at the key that *path* ends in."""
        return Problem(self.keys.get(path, self.place(path)), code, said(path), "", rule, repair)


def in_treatments(*inner: Step) -> tuple[Path, ...]:
    """Return the patterns of something that is written inside a treatment."""
    return tuple((*under, *inner) for under in TREATMENTS)


def shown(text: str) -> str:
    """Return a text on one line, cut where it is long."""
    flat = one_line(text)
    return flat if len(flat) <= LONGEST_SHOWN else f"{flat[: LONGEST_SHOWN - 1]}…"


def one_line(text: str) -> str:
    """Return a text with every stretch of blanks as one blank."""
    return " ".join(text.split())


def _inside(value: Plain | None, step: Step) -> Plain | None:
    if isinstance(value, dict) and isinstance(step, str):
        return value.get(step)
    if isinstance(value, tuple) and isinstance(step, int) and step < len(value):
        return value[step]
    return None


def _matching(value: Plain, pattern: Path, path: Path) -> Iterator[tuple[Path, Plain]]:
    if not pattern:
        yield path, value
        return
    first, rest = pattern[0], pattern[1:]
    pairs: list[tuple[Step, Plain]] = []
    if isinstance(value, dict):
        pairs.extend(value.items())
    elif isinstance(value, tuple):
        pairs.extend(enumerate(value))
    for step, inner in pairs:
        if first in (ANY, step):
            yield from _matching(inner, rest, (*path, step))

"""The project as read: records, their places, photos and notes, ready for the solver."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from pathlib import Path
from typing import TypeAlias

from bookgen.model.frozen import dataclass
from bookgen.model.photo import Photo
from bookgen.model.place import PROJECT_FILE as PROJECT_FILE
from bookgen.model.place import Place
from bookgen.model.records import Obstacle, Prices
from bookgen.model.records import Project as ProjectRecord
from bookgen.model.tape import Tape

Step = str | int
Plain: TypeAlias = "str | tuple[Plain, ...] | dict[str, Plain]"
"""What a record file says, before anything is made of it: texts, lists of such, keys with such."""
PRICES_FILE = "prices.yaml"


@dataclass(frozen=True, slots=True)
class Places:
    """Where every value stands: (file, path of keys and indexes) -> Place."""

    known: Mapping[tuple[str, tuple[Step, ...]], Place]

    def of(self, file: str, *path: Step) -> Place:
        """Return the place of a value; of the nearest thing round it where it is not written itself."""
        steps = path
        while steps:
            place = self.known.get((file, steps))
            if place is not None:
                return place
            steps = steps[:-1]
        return self.known.get((file, ()), Place(file, 1, 1))

    def values_at(self) -> Mapping[Place, tuple[str, tuple[Step, ...]]] | None:
        """Return which value stands at each place; None where two stand at one, and neither is a part of the other.

        Of a text in several languages and the one that the book takes, it is the former.
        """
        found: dict[Place, tuple[str, tuple[Step, ...]]] = {}
        for file, path in sorted(self.known, key=lambda one: len(one[1])):
            _, outer = found.setdefault(self.known[file, path], (file, path))
            if path[: len(outer)] != outer:
                return None
        return found


@dataclass(frozen=True, slots=True)
class ObstacleFile:
    """One obstacle record and the file it came from; *key* is the file's stem, unique in the project."""

    key: str
    file: str
    record: Obstacle


@dataclass(frozen=True, slots=True)
class Project:
    """A whole project folder, without a mistake of form.

    *photos* by name under photos/, *notes* by name under notes/ (Markdown text), *papers* by name under papers/ (PDF).
    *written* holds what the record files say, by their paths in the folder, as their writers put it. *prices* is the
    price list, where there is one; it is the contractor's own, never among what is written, and goes into no book
    unless somebody asks. *missed* are the places of texts that stand in another language than the book's.
    """

    folder: Path
    key: str
    record: ProjectRecord
    obstacles: tuple[ObstacleFile, ...]
    photos: Mapping[str, Photo]
    notes: Mapping[str, str]
    places: Places
    written: Mapping[str, Plain] = field(default_factory=dict)
    prices: Prices | None = None
    papers: Mapping[str, Path] = field(default_factory=dict)
    missed: tuple[Place, ...] = ()

    @property
    def tape(self) -> Tape:
        """Return the tape that this project is measured with."""
        return Tape(self.record.units)

"""Nouns in, bytes that say all of them out, and back; nothing but the program's own values can come back."""

from __future__ import annotations

import hashlib
import io
import pickle
from collections.abc import Mapping
from functools import partial
from types import MappingProxyType
from typing import Any, TypeVar

from bookgen.model.place import Place
from bookgen.model.project import Places, Step
from bookgen.model.records.base import Record

Value = TypeVar("Value")
# What may stand in kept bytes beside the nouns themselves? Nothing that acts when it is made.
PLAIN = frozenset({("fractions", "Fraction"), ("datetime", "date"), ("datetime", "datetime"), ("pathlib", "PosixPath")})
NOUNS = ("bookgen.model.", "bookgen.render.pictures", __name__)


class SpoiltError(ValueError):
    """The bytes are none that `bytes_of` has made."""


def bytes_of(value: object, places: Places | None = None) -> bytes:
    """Return all of *value*; of equal values mostly the same bytes, of different ones never.

    (Equal texts may be one object or two, which costs a drawing that could have been spared, and no more.) Of those
    *places* that stand in it, it tells what stands there instead of the line.
    """
    made = io.BytesIO()
    writer = _Writer(made, 5)
    if places:
        writer.paths = places.values_at() or {}
    writer.dump(value)
    return made.getvalue()


def digest_of(value: object) -> str:
    """Return a digest that equal values share, whether or not their parts are the same objects.

    Nothing may hold itself: every part is told in full, wherever it stands.
    """
    made = io.BytesIO()
    writer = _Writer(made, 5)
    writer.fast = True  # no part is told by pointing at where it stood before
    writer.dump(value)
    return hashlib.sha256(made.getbuffer()).hexdigest()


def value_from(data: bytes, kind: type[Value], places: Places | None = None) -> Value:
    """Return the value of *data*, which is of the class *kind*; its places are where *places* has what stands there.

    Raises SpoiltError for anything else, and for whatever is no noun of the program: a cache that somebody else can
    write must not be able to run anything.
    """
    try:
        reader = _Reader(io.BytesIO(data))
        reader.places = places
        found = reader.load()
    except (pickle.UnpicklingError, EOFError, AttributeError, ImportError, IndexError, TypeError, ValueError) as wrong:
        raise SpoiltError(str(wrong)) from wrong
    if not isinstance(found, kind):
        raise SpoiltError(f"a {type(found).__name__} is no {kind.__name__}")
    return found


class _Writer(pickle.Pickler):
    paths: Mapping[Place, tuple[str, tuple[Step, ...]]] = MappingProxyType({})

    def reducer_override(self, value: Any) -> Any:
        """Return how to make *value* again, where the library's own way depends on the run."""
        if isinstance(value, MappingProxyType):
            return _locked, (dict(value),)
        if isinstance(value, Record):  # of a record it keeps which fields were written, in a set without an order
            return _record, (type(value), sorted(value.model_fields_set), value.__dict__)
        if isinstance(value, Place) and value in self.paths:
            return _place, self.paths[value]
        return NotImplemented


class _Reader(pickle.Unpickler):
    places: Places | None = None

    def find_class(self, module: str, name: str) -> Any:
        """Return a class that may be made; a function of the standard library, say, is none."""
        if self.places and (module, name) == (__name__, _place.__name__):
            return partial(_place, self.places)
        if (module, name) not in PLAIN and not f"{module}.".startswith(NOUNS):
            raise pickle.UnpicklingError(f"{module}.{name} is no noun")
        found = super().find_class(module, name)
        if not isinstance(found, type) and found not in (_locked, _record):
            raise pickle.UnpicklingError(f"{module}.{name} is no noun")
        return found


def _place(places: Places, file: str, path: tuple[Step, ...]) -> Place:
    return places.of(file, *path)


def _locked(value: dict[Any, Any]) -> Mapping[Any, Any]:
    return MappingProxyType(value)


def _record(kind: type[Record], written: list[str], fields: dict[str, Any]) -> Record:
    return kind.model_construct(set(written), **fields)

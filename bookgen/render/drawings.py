"""A book's sketches and charts in, each as SVG for the site and for print out; what was written before is kept."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, fields, is_dataclass

from bookgen.model.book import Book
from bookgen.model.chart import Chart
from bookgen.model.sketch import Sketch
from bookgen.render.kept import Store, keep_bytes, kept_bytes
from bookgen.render.kept_nouns import SpoiltError, bytes_of, digest_of, value_from
from bookgen.render.pictures import PictureSet
from bookgen.render.svg_palette import PRINT

KEPT = "svg"
Written = tuple[str, str, float, float]


@dataclass(frozen=True, slots=True)
class Drawing:
    """One sketch or chart as SVG, for the *site* and for *print*, where it is *wide* by *high* millimetres."""

    site: str
    print: str
    wide: float
    high: float


@dataclass(frozen=True, slots=True)
class Figures:
    """What a book shows: the copies of its pictures by what they are of, its drawings by their keys."""

    pictures: Mapping[str, PictureSet]
    drawings: Mapping[str, Drawing]


def drawings_of(book: Book, store: Store | None = None) -> dict[str, Drawing]:
    """Return every drawing of a book by its key; with a *store*, only those are written that it has not kept.

    All of a book's lie in one entry, by the digests of what they show: where a text changes, it is read and stays.
    """
    kept = store.sort(KEPT) / store.key(book.book_id, book.edition.value) if store else None
    before: Mapping[str, Written] = {}
    found = kept_bytes(kept) if kept else None
    if found is not None:
        with suppress(SpoiltError):
            before = value_from(found, dict)
    now: dict[str, Written] = {}
    made: dict[str, Drawing] = {}
    for one in _drawn(book):
        digest = digest_of(one)
        now[digest] = before.get(digest) or _written(one)
        made[one.key] = Drawing(*now[digest])
    if kept and now.keys() != before.keys():
        keep_bytes(kept, bytes_of(now))
    return made


def _drawn(value: object) -> Iterator[Sketch | Chart]:
    """Yield each sketch and chart that a noun holds."""
    if isinstance(value, Sketch | Chart):
        yield value
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            yield from _drawn(getattr(value, field.name))
    elif isinstance(value, Mapping):
        for inner in value.values():
            yield from _drawn(inner)
    elif isinstance(value, tuple | list):
        for inner in value:
            yield from _drawn(inner)


def _written(one: Sketch | Chart) -> Written:
    # The libraries that draw load only for what is not kept.
    if isinstance(one, Chart):
        from bookgen.render.charts import drawn_chart

        drawn = drawn_chart(one)
        return drawn.svg(), drawn.svg(PRINT), drawn.wide, drawn.high
    from bookgen.render.svg import write_both

    return *write_both(one, PRINT), *one.paper_size()

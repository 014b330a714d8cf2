"""An access opening's choices and its place in, its two stretches and its cover out; what sets its size, in words."""

from __future__ import annotations

from fractions import Fraction

from bookgen.model.length import Length
from bookgen.model.problem import Problem
from bookgen.model.records.treatments import AccessOpening
from bookgen.model.records.values import Size
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch
from bookgen.solve.site import Site
from bookgen.solve.treatments.assembled import path_to
from bookgen.solve.treatments.cover_in_face import FLAT, CoverInFace
from bookgen.trade.covers import smallest_cover
from bookgen.trade.passes import Passing, near, needed, passing

NAME = "access opening"
SIZES = (
    ("width of the opening", "framed", "low edge of the opening", "high edge of the opening", "x"),
    ("height of the opening", "framed", "bottom of the opening", "top of the opening", "z"),
    ("depth of the opening", "framed", "near edge of the opening", "far edge of the opening", "y"),
    ("bottom of the opening over the floor", "finished", "finished floor", "bottom of the opening", "z"),
)


def opening_stretches(
    site: Site, choices: AccessOpening, place: tuple[Stretch, Stretch]
) -> Rectangle | tuple[Problem, ...]:
    """Return where an opening is: both stretches as written, else its size round the middle.

    A size that is left out follows from what has to pass: the smallest stock cover that lets it through. Problems are
    `unknown-passing`, `opening-unsized` and `opening-size-disagrees`.
    """
    unknown = tuple(_unknown(site, choices))
    if unknown:
        return unknown
    size = size_of(choices)
    whole = all(low < high for low, high in place)
    if size is None and not whole:
        rule, repair = "nothing says how large it is", "write opening:, or passes: with what has to go through"
        return (site.problem("opening-unsized", path_to(site, "opening"), "", rule, repair),)
    sizes = (size.wide.inches, size.high.inches) if size is not None else (Fraction(0), Fraction(0))
    u, v = (_sized(span, length) for span, length in zip(place, sizes, strict=True))
    made = u[1] - u[0], v[1] - v[0]
    if choices.opening is not None and made != sizes:
        words = " × ".join(site.tape.short(side) for side in made)
        value = f"{site.tape.short(choices.opening.wide)} × {site.tape.short(choices.opening.high)}"
        rule = f"its place makes it {words}"
        return (site.problem("opening-size-disagrees", path_to(site, "opening"), value, rule, "measure it again"),)
    return Rectangle(u, v)


def _sized(span: Stretch, length: Fraction) -> Stretch:
    if span[0] < span[1]:
        return span
    return span[0] - length / 2, span[0] + length / 2


def _unknown(site: Site, choices: AccessOpening) -> list[Problem]:
    rule = "no table says how much room that needs"
    return [
        site.problem(
            "unknown-passing", path_to(site, "passes", index), name, rule, f"write one of {', '.join(near(name))}"
        )
        for index, name in enumerate(choices.passes)
        if passing(name) is None
    ]


def passes_of(choices: AccessOpening) -> tuple[Passing, ...]:
    """Return the rows of the table for what has to pass; names that no row has are left to `opening_stretches`."""
    return tuple(row for row in map(passing, choices.passes) if row is not None)


def size_of(choices: AccessOpening) -> Size | None:
    """Return the size of an opening: as written, else what follows from what has to pass, where that is written."""
    return choices.opening or _from_passes(choices)


def _from_passes(choices: AccessOpening) -> Size | None:
    rows = passes_of(choices)
    if not rows:
        return None
    short, long = needed(rows)
    stock = smallest_cover(short, long)
    return Size(short, long) if stock is None else Size(stock.width, stock.height)


def cover_of(site: Site, patch: Rectangle) -> CoverInFace:
    """Return the cover of an opening: the first flat one of the record, else a panel that is lifted out."""
    points = [point for point in site.file.record.access if point.cover.kind in FLAT]
    kind = points[0].cover.kind if points else "lift-out panel"
    return CoverInFace(f"cover {points[0].tag}" if points else "cover", kind, patch, ())


def size_remarks(site: Site, choices: AccessOpening) -> tuple[str, ...]:
    """Return what has to pass, and where that sets the size."""
    rows = passes_of(choices)
    said = site.say("It has to let through {what_passes}.", what_passes=choices.what_passes)
    if choices.opening is not None or not rows:
        return (said,)
    words = "; ".join(site.say(row.words) for row in rows)
    return (
        said,
        site.say(
            "Its size follows from that: {words}. It is the smallest stock cover that is large enough.", words=words
        ),
    )


def least_opening(choices: AccessOpening) -> tuple[Length, Length] | None:
    """Return the short and the long side that what passes needs; None where the record does not say what does."""
    rows = passes_of(choices)
    return needed(rows) if rows else None

"""Spans and stock in, members out: where sticks stand at a spacing, the sticks as Parts, and printed sizes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from bookgen.model.assembly import Material, Measure, Part
from bookgen.model.geometry import ACROSS, Axis, Corner, Point, box
from bookgen.model.length import Length
from bookgen.trade.lumber import lumber

Stretch = tuple[Fraction, Fraction]
TREATED = " treated"  # a stock name that ends so is the same size, treated


def layout(start: Fraction, end: Fraction, spacing: Fraction, width: Fraction) -> tuple[Fraction, ...]:
    """Return the centres of members *width* wide from *start* to *end*, no two further apart than *spacing*.

    The outer members are flush with both ends; the others are centred on whole spacings from *start*, so that a sheet
    that begins there ends on wood; the last bay takes what is left. Empty where not one member fits. Inches.
    """
    if end - start < width:
        return ()
    first, last = start + width / 2, end - width / 2
    if last - first < width:
        return (first,) if last == first else (first + (last - first) / 2,)
    centres = [first]
    step = start + spacing
    while step <= last - width:
        if step >= first + width:
            centres.append(step)
        step += spacing
    if last - centres[-1] > spacing:  # the member on the spacing would overlap the last one: halve the bay instead
        centres.append((centres[-1] + last) / 2)
    return (*centres, last)


def around(
    centres: Iterable[Fraction], zones: Iterable[Stretch], width: Fraction, *, always: bool = False
) -> tuple[Fraction, ...]:
    """Return *centres* with members that would enter a zone replaced by one at either side of it; inches.

    A zone is a stretch that members have to leave free; members may touch it. A neighbour that stands less than a
    member's width from the new one is pushed up against it; the first and the last of the row stay where they are, and
    a new one that would overlap them is left out. Where there is no room to push it, it gives way to the new one, or,
    hard by the zone before, serves for both. With *always* a zone that no member enters gets its two as well, so
    that board cut round it is held at both sides. No two members overlap if no two of *centres* do.
    """
    row, clear = sorted(set(centres)), None
    for low, high in merged(zones, width):
        before = [centre for centre in row if centre <= low - width / 2]
        after = [centre for centre in row if centre >= high + width / 2]
        if always or len(before) + len(after) < len(row):
            left = _trimmed([-centre for centre in reversed(after)], -(high + width / 2), width)
            row = [*_trimmed(before, low - width / 2, width, clear), *(-centre for centre in reversed(left))]
        clear = high + width / 2
    return tuple(row)


def _trimmed(before: list[Fraction], side: Fraction, width: Fraction, clear: Fraction | None = None) -> list[Fraction]:
    """Return the members before a zone with one more at *side*, hard by it; none is pushed lower than *clear*."""
    if not before or side - before[-1] >= width:
        return [*before, side] if before else []
    pushed = side - width
    if len(before) == 1 or (clear is not None and pushed < clear):
        return before
    if pushed - before[-2] < width:
        return [*before[:-1], side]
    return [*before[:-1], pushed, side]


def merged(zones: Iterable[Stretch], gap: Fraction) -> tuple[Stretch, ...]:
    """Return the zones in order, joined where less than *gap* lies between two of them."""
    found: list[Stretch] = []
    for low, high in sorted(zones):
        if found and low - found[-1][1] < gap:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return tuple(found)


def true_size(stock: str) -> tuple[Fraction, Fraction] | None:
    """Return the true thickness and width of a stick, inches; None for stock that is not made."""
    row = lumber(stock.removesuffix(TREATED))
    return None if row is None else (row.thickness.inches, row.width.inches)


def stick(
    name: str,
    role: str,
    stock: str,
    axis: Axis,
    along: Stretch,
    corner: Corner,
    wide: Axis,
    material: Material = Material.LUMBER,
) -> Part:
    """Return one stick of lumber at its true size.

    Its grain runs on *axis* through the stretch *along*; *corner* is its low corner in the two coordinates across that
    axis, and its wide side lies on axis *wide*. Stock that is not made is our own bug: ask `true_size` first.
    """
    size = true_size(stock)
    if size is None or wide == axis:
        raise ValueError(f"no such stick: {stock}, grain on {axis}, wide on {wide}")
    thickness, width = size
    spans: dict[Axis, Stretch] = {axis: along}
    for across, low in zip(ACROSS[axis], corner, strict=True):
        spans[across] = (low, low + (width if across == wide else thickness))
    if stock.endswith(TREATED) and material is Material.LUMBER:
        material = Material.TREATED
    return Part(name, role, box(spans["x"], spans["y"], spans["z"], axis), material, stock)


def measured(name: str, kind: str, anchors: Mapping[str, Point], start: str, end: str, axis: Axis) -> Measure:
    """Return the size called *name* (kind framed, finished or headroom) between two anchors along one axis."""
    value = abs(anchors[end].on(axis) - anchors[start].on(axis))
    return Measure(name, kind, start, end, axis, Length(value))
